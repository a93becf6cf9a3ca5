"""The fields of the part card: a line of text, a choice, a yes or no, each telling what was typed."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sketch.card.card_draft import SIZES, Typed
from sketch.card.card_lines import CardLine
from sketch.card.offering_label import OfferingLabel
from sketch.card.size_list import (
    WordOfName,
    bore_text,
    mesh_text,
    named_sizes,
    part_families,
    show_words,
    wire_text,
)
from sketch.card.typed_flow import EQUALS
from sketch.card.typed_text import converted
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.keys import is_for_the_window
from sketch.look.unit_hint import UnitHint
from sketch.look.words import tooltip, with_signs
from solver.quantities import units
from solver.quantities.spelling import unit_in, with_unit
from solver.quantities.units import System

NO, YES = "no", "yes"
ASSUMED_TIP = "Assumed: no maker has stated it."
BEGUN_TIP = "Assumed: the round figure that a new pump comes with. Type your own."
OWN_BEGUN_TIP = (
    "Not a figure of your own part, which leaves it to the drawing: what a new pump comes with, unless it "
    "was typed. Type at what it runs."
)
PAD = 6  # between the frame of a field and what it holds, in logical pixels


WIDEST = 240  # of what one field asks for
WORD_OF_NAME: dict[str, WordOfName] = {
    **dict.fromkeys(SIZES, bore_text),
    "screen.mesh": mesh_text,
    "screen.wire": wire_text,
}
"""What stands beside the entries of a list."""
LONG_SIZE = "NPS 2-1/2 schedule 40"
ARROW = 26  # logical pixels of the arrow that opens a list, with its edge
LEAST = 90
"""Logical pixels that a field has at the least; what it holds beyond its room is its tip."""


class CardField(QWidget):
    """One figure of the card. `typed` is sent when it is finished.

    `trouble`, what is wrong with it, is put by the card below its name and itself, where there is room.
    """

    typed = Signal(str, object)  # the line's key; text, or yes or no
    given_up = Signal()

    def __init__(self, line: CardLine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.line = line
        self._shown: Typed = ""
        self._assumed = ""
        self._just_clicked = False  # into an assumed figure
        self._wanted: tuple[str | None, int] = (None, 0)  # the width that was last measured, and of what
        self._beside_in: System | None = None  # the system in which its list says what is beside the entries
        self.edit = self._make_edit()
        editor = self.edit.lineEdit() if isinstance(self.edit, QComboBox) else self.edit
        self._unit = UnitHint(editor) if editor is not None and line.kind is not None else None
        self.trouble = OfferingLabel(parent)
        self.trouble.chosen.connect(self._take)
        self.trouble.hide()
        self.edit.setAccessibleName(line.label)
        self.edit.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.edit.setMinimumWidth(self._least_width())
        self._tip()
        self.edit.installEventFilter(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.edit)
        self.setFocusProxy(self.edit)

    def _make_edit(self) -> QLineEdit | QComboBox:
        line = self.line
        if line.flag:
            box = Choice()
            box.addItems([NO, YES])
            box.activated.connect(self._finished)
            return box
        if line.options:
            picker = Choice()
            picker.setEditable(line.open)
            picker.opens_at = line.opens_at
            picker.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
            picker.addItems(list(dict.fromkeys((line.empty, *line.options) if line.empty else line.options)))
            if line.key in SIZES:
                part_families(picker)
            picker.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            picker.setMinimumContentsLength(12)
            picker.activated.connect(self._finished)
            if completer := picker.completer():
                # Offered below, never filled in: "Water" is no "Water-glycol".
                completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
                completer.setFilterMode(Qt.MatchFlag.MatchContains)
            if editor := picker.lineEdit():
                editor.installEventFilter(self)
                editor.editingFinished.connect(self._finished)
            return picker
        field = QLineEdit()
        field.setPlaceholderText(line.empty)
        field.editingFinished.connect(self._finished)
        return field

    def _least_width(self) -> int:
        """Room for the longest usual size, of which a cut name says another; else for a figure."""
        if self.line.key not in SIZES:
            return LEAST
        return max(LEAST, self.edit.fontMetrics().horizontalAdvance(LONG_SIZE) + 2 * PAD + ARROW)

    @property
    def wanted_width(self) -> int:
        """What it would take to show all that it holds, as far as a card has room for one field."""
        held = "" if isinstance(self._shown, bool) else self._shown
        if self._wanted[0] != held:
            arrow = ARROW if isinstance(self.edit, QComboBox) else 0
            empty = self.edit.placeholderText() if isinstance(self.edit, QLineEdit) else self.line.empty
            needed = self.edit.fontMetrics().horizontalAdvance(held or empty) + 3 * PAD + arrow
            self._wanted = held, min(max(needed, self.edit.minimumWidth()), WIDEST)
        return self._wanted[1]

    @property
    def value(self) -> Typed:
        """What the field holds."""
        if self.line.flag and isinstance(self.edit, QComboBox):
            return self.edit.currentText() == YES
        text = self.edit.currentText() if isinstance(self.edit, QComboBox) else self.edit.text()
        if text == self._in_writing(self._shown):
            return self._shown
        return "" if isinstance(self.edit, QComboBox) and text == self.line.empty else text

    def show_value(self, value: Typed) -> None:
        """Hold a value as the drawing has it."""
        self._shown = value
        spelt = not isinstance(self.edit, QLineEdit) or self.edit.text() == self._in_writing(value)
        if value == self.value and spelt:
            self._show_beginning()
            return
        if self.line.flag and isinstance(self.edit, QComboBox):
            self.edit.setCurrentText(YES if value else NO)
        elif isinstance(self.edit, QComboBox):
            text = str(value) or self.line.empty
            self.edit.setCurrentIndex(self.edit.findText(text))
            if editor := self.edit.lineEdit():
                editor.setText(text)
                editor.setCursorPosition(0)
        else:
            self.edit.setText(self._in_writing(value))
            self.edit.setCursorPosition(0)

    def _in_writing(self, value: Typed) -> str:
        """A figure as the field shows it: with signs for degrees and powers, however the drawing has them."""
        return str(value) if self.line.kind is None else with_signs(str(value))

    def _show_beginning(self) -> None:
        """Show a long name from its beginning once nobody types any more, not its end alone."""
        editor = self.edit.lineEdit() if isinstance(self.edit, QComboBox) else self.edit
        if editor is not None and not editor.hasFocus() and not editor.hasSelectedText():
            editor.setCursorPosition(0)

    def show_known(self, text: str) -> None:
        """What stands in its place while nothing is typed; the words of its line for ""."""
        known = text or self.line.empty
        if isinstance(self.edit, QLineEdit) and known != self.edit.placeholderText():
            self.edit.setPlaceholderText(known)
            self._wanted = None, 0

    def _tip(self) -> None:
        """Have the tip begin with what the field holds, where it has no room for all of that."""
        held = "" if isinstance(self._shown, bool) else self._shown
        room = self.edit.width() - 2 * PAD - (ARROW if isinstance(self.edit, QComboBox) else 0)
        cut = self.edit.fontMetrics().horizontalAdvance(held) > room
        also = self._unit.also if self._unit is not None else ""
        shown = self.edit.placeholderText() if isinstance(self.edit, QLineEdit) and not held else ""
        follows = (
            f"Derived: {shown.removeprefix(EQUALS)}, from what is typed." if shown.startswith(EQUALS) else ""
        )
        said = f"That is {also}." if also else ""
        whole = (held if cut else "", follows, said, self._assumed, self.line.tip)
        self.edit.setToolTip(tooltip("\n".join(filter(None, whole))))

    def set_system(self, system: System) -> None:
        """The system of units in which a bare number is read where the field holds no figure with a unit."""
        if self._unit is not None and self.line.kind is not None:
            self._unit.set_unit(unit_in(str(self._shown)) or units.unit(self.line.kind, system))
            self._unit.set_also(converted(str(self._shown), self.line.kind, system))
        also_shown = WORD_OF_NAME.get(self.line.key)
        if also_shown is not None and isinstance(self.edit, QComboBox) and system is not self._beside_in:
            self._beside_in = system
            show_words(self.edit, also_shown, system)

    def set_assumed(self, assumed: str) -> None:
        """Show a figure that nobody has stated in grey, with why in its tip; "" where somebody has."""
        if assumed != self._assumed:
            self._assumed = assumed
            palette = QPalette(self.palette())
            if assumed:
                palette.setColor(QPalette.ColorRole.Text, theme_of(self.palette()).quiet)
            self.edit.setPalette(palette)
            self._tip()

    @property
    def busy(self) -> bool:
        """Whether something is being typed that has not been sent yet."""
        return self.edit.hasFocus() and self.value != self._shown

    def show_trouble(self, trouble: str) -> None:
        """Say what is wrong, or nothing."""
        if trouble != self.trouble.text():
            palette = self.trouble.palette()
            palette.setColor(self.trouble.foregroundRole(), theme_of(self.palette()).stop)
            self.trouble.setPalette(palette)
            self.trouble.show_text(trouble, named_sizes(trouble) if self.line.key in SIZES else ())
            self.edit.setAccessibleDescription(trouble)
        self.trouble.setVisible(bool(trouble))

    def _take(self, name: str) -> None:
        """Type what was offered in the place of what was refused."""
        if isinstance(self.edit, QComboBox):
            self.edit.setCurrentText(name)
            self._finished()

    def _finished(self) -> None:
        if self.value != self._shown:
            self.show_value(self._with_unit(self.value))
            self.typed.emit(self.line.key, self._shown)

    def _with_unit(self, value: Typed) -> Typed:
        """What was typed, a bare number with the unit that stood beside it."""
        if self._unit is None or isinstance(value, bool):
            return value
        return with_unit(value, self._unit.unit)

    def _select_assumed(self, editor: QLineEdit, event: QEvent) -> None:
        """Have a click into an assumed figure, or into words that stand for none, select all of it, for it
        gives way to what is typed."""
        if isinstance(event, QFocusEvent) and event.gotFocus():
            gives_way = bool(self._assumed) or (bool(editor.text()) and not self.value)
            self._just_clicked = event.reason() == Qt.FocusReason.MouseFocusReason and gives_way
        elif event.type() == QEvent.Type.MouseButtonRelease and self._just_clicked:
            self._just_clicked = False
            if not editor.hasSelectedText():
                editor.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip:
            self._tip()
        if is_for_the_window(event, typing=self.value != self._shown):
            event.ignore()
            return True
        editor = watched.lineEdit() if isinstance(watched, QComboBox) else watched
        if isinstance(editor, QLineEdit):
            self._select_assumed(editor, event)
        key = event.key() if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress else None
        if key == Qt.Key.Key_Escape:
            self.given_up.emit()
            return True
        return super().eventFilter(watched, event)
