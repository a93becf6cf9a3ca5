"""What can be looked for by its name: a command of the window, a part of the drawing."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QComboBox, QWidget

from sketch.canvas import own_shelf
from sketch.canvas.elevation import Elevation
from sketch.card.card_fields import NO, YES, CardField
from sketch.card.part_card import PartCard
from sketch.editing import reshape, selection
from sketch.editing.building import LINE
from sketch.look.words import with_signs
from sketch.model.document import Document
from sketch.model.shown import toggled
from sketch.window.actions import Actions
from sketch.window.finder import Finder, FinderRow
from sketch.window.workspace import Workspace
from solver.layout.own_parts import OwnPart
from solver.layout.parts import Fitting, Intake, Layout

COMMAND, COMMAND_HINT = "Find a command", "Type a word of its name or of what it does"
FIGURE, FIGURE_HINT = "Find a figure of the card", "Type a word of its name or of what it is"
TURN_HINT = "Type the name of a part or line, or what it is"
MORE = "Add a part to the selection, or take it out"
PART, PART_HINT = "Find a part", "Type its name or what it is"
KINDS = {
    "reservoirs": "reservoir",
    "intakes": "intake",
    "fittings": "fitting",
    "tees": "tee",
    "pumps": "pump",
    "runs": "line",
}
PLAIN_WORDS: Mapping[str, str] = {
    "size up": "bigger larger wider diameter bore pipe",
    "size down": "smaller narrower diameter bore pipe",
    "find figure": "diameter bore size length hose type edit change",
    "card": "diameter bore size edit change values properties",
    f"take {LINE}": "pipe tube draw",
    "take bell-mouth": "suction inlet funnel",
    "take strainer": "sieve filter suction",
    "take return": "tank line back",
    "add bend": "elbow corner",
    "turn end": "join attach move line",
    "remove part": "erase remove",
    "undo": "back",
    "picture": "screenshot image",
    "drawing picture": "image export bitmap vector",
    "copy picture": "image",
    "sheet": "print report PDF export page",
    "ledger file": "export table spreadsheet results",
    "fixes": "improve suggestions proposals solve what to do",
    "findings": "problems warnings errors",
    "reach": "maximum limit how high how far",
    "curves": "graph chart plot",
    "fit": "zoom all whole",
    "site": "altitude elevation oil fluid temperature viscosity",
    "new alternative": "variant copy compare",
    "new case": "cold start winter summer blocked",
    "rename drawing": "title name",
    "light": "theme white", "dark": "theme black",
    "us": "feet inches imperial", "si": "metric",
}  # fmt: skip
"""What people type who do not know the name of a command."""

NATIVE = QKeySequence.SequenceFormat.NativeText


def command_rows(actions: Actions) -> list[FinderRow]:
    """Every command that the menus offer, with its menu and its first key, in the order of the menus."""
    rows = []
    for command in actions.commands:
        action = actions[command.name]
        if command.offered is None or command.offered():
            name, key = action.text().replace("&", ""), action.shortcut().toString(NATIVE)
            columns = command.menu.replace("/", ", "), key
            words = f"{command.tip} {PLAIN_WORDS.get(command.name, '')}"
            rows.append(FinderRow(command.name, name, columns, words, action.isEnabled()))
    return rows


def own_rows(parts: Mapping[str, OwnPart]) -> list[FinderRow]:
    """Parts of one's own that can be taken in hand, by what the shelf calls them."""
    return [
        FinderRow(key, part.name, ("Insert, Own parts", ""), f"own {own_shelf.kind_of(part)} {part.note}")
        for key, part in parts.items()
    ]


def find_command(window: QWidget, actions: Actions, workspace: Workspace) -> Finder:
    """Show all commands and parts of one's own; what is chosen is run, or taken in hand, as from its menu."""
    actions.sync()
    own = workspace.own_parts if actions[f"take {LINE}"].isEnabled() else {}
    rows = [row for row in command_rows(actions) if row.key != "find command"]

    def run(key: str) -> None:
        workspace.pick_part(key) if key in own else actions[key].trigger()

    finder = Finder(window, COMMAND, COMMAND_HINT, [*rows, *own_rows(own)], run)
    finder.open()
    return finder


def part_rows(layout: Layout) -> list[FinderRow]:
    """Every part of a drawing with what it is, in the order of a file."""
    rows = []
    for name in selection.everything(layout):
        part = layout.part(name)
        group = next(kind for table, kind in KINDS.items() if name in getattr(layout, table))
        what = str(part.kind) if isinstance(part, (Fitting, Intake)) else group
        rows.append(FinderRow(name, name, (what,), group))
    return rows


def find_part(elevation: Elevation, document: Document, *, more: bool = False) -> Finder:
    """Show all parts; the one that is chosen is selected, and brought into sight.

    more: it joins those that are selected, or leaves them where it is one of them.
    """

    def show(name: str) -> None:
        document.select_all(toggled(document.selection, name) if more else (name,))
        elevation.setFocus()
        places = [at for glyph in elevation.targets.glyphs if glyph.part == name for at in glyph.points]
        tank = document.layout.reservoirs.get(name)
        if tank is not None:
            places = [elevation.view.device(x.si, y.si) for x, y in tank.outline]
        if places:
            elevation.sight.bring(places)
            elevation.update()

    finder = Finder(elevation.window(), MORE if more else PART, PART_HINT, part_rows(document.layout), show)
    finder.open()
    return finder


def turn_rows(layout: Layout, run: str) -> list[FinderRow]:
    """Every part and line that the start or the end of a run can be turned onto, with which of them."""
    line = layout.runs[run]
    kinds = {row.key: row.columns[0] for row in part_rows(layout)}
    ends = (("start", line.start), ("end", line.end))
    return [
        FinderRow(f"{which}:{name}", name, (kinds[name], f"its {end}, now on {now}"))
        for which, (end, now) in enumerate(ends)
        for name in reshape.ends_for(layout, run, which)
    ]


def find_turn(elevation: Elevation, document: Document, turn: Callable[[int, str], object]) -> Finder | None:
    """Show what an end of the selected line can be turned onto; `turn` is given the end and the part.

    None where it can be turned onto nothing.
    """

    def chosen(key: str) -> None:
        which, _, name = key.partition(":")
        turn(int(which), name)
        elevation.setFocus()

    rows = turn_rows(document.layout, document.selected_part)
    if not rows:
        return None
    finder = Finder(
        elevation.window(), f"Connect an end of {document.selected_part} to", TURN_HINT, rows, chosen
    )
    finder.open()
    return finder


def find_figure(window: QWidget, workspace: Workspace) -> Finder:
    """Show the figures of what is selected, and whose they are; the one that is chosen gets the keyboard."""
    workspace.show_tab("card")
    card = workspace.views["card"]
    assert isinstance(card, PartCard)
    rows = [
        FinderRow(key, field.line.label, (card.owner, _shown(field)), field.line.tip)
        for key, field in card.fields.items()
    ]

    def show(key: str) -> None:
        workspace.show_tab("card")
        if key in card.fields:
            edit = card.fields[key].edit
            edit.setFocus()
            editor = edit.lineEdit() if isinstance(edit, QComboBox) else edit
            if editor is not None:
                editor.selectAll()

    finder = Finder(window, FIGURE, FIGURE_HINT, rows, show)
    finder.open()
    return finder


def _shown(field: CardField) -> str:
    """What a field of the card holds, as it shows it."""
    value = field.value
    if isinstance(value, bool):
        return YES if value else NO
    return value if field.line.kind is None else with_signs(value)
