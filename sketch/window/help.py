"""What the mouse and the keys do on the sheet, and what the words mean, as a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLineEdit, QTextBrowser, QVBoxLayout, QWidget

from sketch.look.buttons import without_icons
from sketch.look.glossary import WORDS
from sketch.window.small_screen import within_screen

SIZE = QSize(640, 560)
NOTHING = "Nothing here has that in it."
HAND = (
    (
        "Drag a pump, a fitting or an intake",
        "It moves; the lines on it stretch and stay square. A pump takes its connector along.",
    ),
    ("Drag a straight", "It moves sideways with all that lies in line with it."),
    ("Drag a bend", "The straights beside it move along."),
    ("Drag a corner of a tank", "Its walls stay square; what is fixed to a wall comes along."),
    ("Drag a level line", "Minimum and normal fluid level move within the tank."),
    ("Alt while dragging", "No grid, no lining up; a pump leaves its connector where it is."),
    ("Esc while dragging", "Puts everything back."),
    (
        "Arrow keys",
        "What you picked last moves by an inch, or by 10 mm. With Shift by ten.",
    ),
    (
        "Double-click a dimension",
        "Type the lift, a level, a size or a slope: 6' 3\", 1900 mm, NPS 3 schedule 40, 1:48.",
    ),
    ("Point at anything", "The element, its slice of air, its row and its stretch of the profile light up."),
    ("Click", "Selects the part; Esc lets go of it."),
    ("Ctrl and click, or Ctrl+Alt+F", "Adds a part to what is selected, or takes it out."),
    ("Drag from an empty place, or Shift and drag", "Selects all that the frame holds."),
    ("Ctrl and double-click", "Selects the whole line of a part. So does Ctrl+L."),
    ("Drag a part of several that are selected", "Moves them all; so do the arrow keys."),
    ("Drag within a tank", "Moves it with what stands in it."),
    (
        "Drag a wall of a selected tank",
        "Moves the wall. A double click puts a corner into it, which is pulled out: a sloped floor.",
    ),
    ("Double-click a corner of a tank", "Takes it away."),
    ("Double-click a line", "Bends it there; on a bend: takes that away. Ctrl+B, Ctrl+Shift+B."),
    (
        "Drag a ring or a diamond on a selected line",
        "The ring draws a bend out of a straight; the diamond connects the end to another part. By keys: "
        "Ctrl+Alt+J, and its name.",
    ),
    (
        "Ctrl+., Ctrl+,",
        "The next size up or down for what is selected, each in its own standard. So do Ctrl+Alt+Up and "
        "Ctrl+Alt+Down, unless the desktop keeps those keys to itself.",
    ),
    ("Double-click another part, or Return", "Shows its figures on the part card, to be edited."),
    (
        "Tab, Shift+Tab with a part selected",
        "Walks the parts as the fluid does; Esc, then Tab leaves the drawing. An arrow key begins the walk.",
    ),
    (
        "N, Shift+N with a part selected",
        "Reaches its bends and straights, its levels, walls and corners; the arrow keys move them.",
    ),
    (
        "Right button, the menu key or Shift+F10",
        "The menu of what is pointed at, or selected: also in column, profile, curves and every table.",
    ),
    ("Wheel", "Zooms at the pointer. So do + and −."),
    ("Middle button, Space and drag, or Ctrl and arrows", "Moves the drawing."),
    ("Home or F", "Shows the whole drawing."),
)
DRAW = (
    ("F5", "Shows or hides the shelf. Click on a part of it, then on the drawing."),
    ("A valve, filter, reducer or tee", "Goes into the line that is clicked on and cuts it in two."),
    ("A pump, intake or tank", "Stands where it is clicked, on a grid as fine as is seen; Alt: off it."),
    ("A baffle, a return or a draw-down", "Goes into the tank that is clicked in, and is dragged there."),
    ("A line", "Click what it begins at, corners, then what it ends on. Backspace takes back a corner."),
    (
        "A text, a dimension",
        "Click where it begins and type it; click two parts, tank corners or places, then where its line is "
        "to stand. Both are dragged and deleted and have a part card; a double click edits a text.",
    ),
    (
        "A figure while you draw",
        "Type a length in the direction of the pointer, or a place: 4 ft; 2 ft 6 in. Return sets it.",
    ),
    (
        "Return with a part picked",
        "Sets it down by keys: on the selected line or part, or where Tab and the arrow keys led it.",
    ),
    ("Esc", "Puts back what is picked."),
    ("Delete", "Deletes the selected parts; a line closes up where one sat in it."),
    ("Ctrl+C, Ctrl+X, Ctrl+V, Ctrl+D", "Copies, cuts, pastes, duplicates; the copy is text of a file."),
    ("F2", "Renames the selected part."),
)
TABLES = (
    ("F3", "Looks for a command by its name or by what it does; Return runs it."),
    ("Ctrl+F", "Looks for a part by its name or by what it is; Return selects it."),
    ("Ctrl+I", "Shows the figures of site and fluid on the part card."),
    ("Ctrl+Shift+F", "Looks for a figure of what is selected, to be typed on the part card; F4 goes back."),
    (
        "Ctrl+Alt+I, Ctrl+Alt+K",
        "Copies the drawing as a picture; the ledger as a table for a spreadsheet.",
    ),
    (
        "Click the title, double-click the notes under it",
        "Edits them where they are: of an alternative, its own notes. Ctrl+F2, Ctrl+Shift+F2; "
        "Return takes a title, Ctrl+Return notes, Esc leaves them.",
    ),
    ("Shift+Esc", "Puts away what is said over the drawing."),
    ("Ctrl+Alt+Z", "Shows all steps in words; the drawing follows the one that is selected."),
    ("F9", "In a wide window: the findings beside the other tables, or among them."),
    ("Left, Right or Space on Inlet budget", "Folds and unfolds how the budget came about."),
    ("Up and Down in the ledger", "Walks along the line."),
    ("Ctrl+C in the findings", "Copies a finding, or all of them."),
    ("Double-click the profile", "Shows all of it."),
    (
        "Double-click a name of the what-if strip",
        "Goes back to the saved value, where the tick is.",
    ),
    (
        "A slanted name in the what-if strip",
        "A figure that the case in view has of its own: slider and field change it in that case alone.",
    ),
)


def page(typed: str = "") -> str:
    """The page as HTML; of it only what has every typed word in it, whatever its case."""
    sections = (
        ("On the drawing", HAND),
        ("To draw", DRAW),
        ("Beside it", TABLES),
        ("Words", tuple(WORDS.items())),
    )
    wanted = typed.casefold().split()
    kept = (
        _section(title, rows)
        for title, every in sections
        if (rows := [row for row in every if all(word in " ".join(row).casefold() for word in wanted)])
    )
    return "".join(kept) or f"<p>{NOTHING}</p>"


def _section(title: str, rows: Sequence[tuple[str, str]]) -> str:
    cells = (
        f'<tr><td style="padding: 3px 20px 3px 0"><b>{escape(what)}</b></td>'
        f'<td style="padding: 3px 0">{escape(does)}</td></tr>'
        for what, does in rows
    )
    return f"<h3>{escape(title)}</h3><table>{''.join(cells)}</table>"


class Help(QDialog):
    """Stays beside the window until it is closed."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Mouse, keys and words")
        self.text = QTextBrowser()
        self.text.setHtml(page())
        self.field = QLineEdit()
        self.field.setPlaceholderText("Type a word of what you look for")
        self.field.setAccessibleName("Look through this page")
        self.field.setClearButtonEnabled(True)
        self.field.textChanged.connect(lambda typed: self.text.setHtml(page(typed)))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.addWidget(self.field)
        column.addWidget(self.text)
        column.addWidget(buttons)
        without_icons(self)
        self.field.setFocus()
        self.resize(within_screen(self, SIZE))
