"""Every action of the window as a row: where it stands, its name, its keys, its tip and what it does."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from sketch.look.appearance import Choice
from sketch.model.history import State, next_alternative
from sketch.model.outcome import has_cold
from sketch.views.tabs import TABS
from solver.layout.parts import Level
from solver.quantities.units import System

if TYPE_CHECKING:
    from sketch.window.main_window import Window

Keys = str | QKeySequence.StandardKey


@dataclass(frozen=True, slots=True)
class Row:
    """One action. `checked` makes it a switch; rows with one `group` exclude each other."""

    name: str
    menu: str  # "View/Units" stands in the submenu Units
    text: str
    keys: tuple[Keys, ...]
    tip: str
    handler: Callable[[Window], object]
    checked: Callable[[Window], bool] | None = None
    enabled: Callable[[Window], bool] | None = None
    offered: Callable[[Window], bool] | None = None  # whether it stands in the menu at all
    group: str = ""
    rule: bool = False  # a separating line above


def _open(window: Window) -> bool:
    return window.has_drawing


def _calculated(window: Window) -> bool:
    return window.document.solution is not None


def _tabs() -> Iterator[Row]:
    for at, (name, tab) in enumerate(TABS.items()):
        show = partial(_show_tab, name)
        yield Row(name, "View", tab.menu, (f"Ctrl+{at + 1}",), tab.tip, show, rule=at == 0)


def _show_tab(name: str, window: Window) -> None:
    window.workspace.show_tab(name)


def _step_alternative(step: int, window: Window) -> None:
    document = window.document
    document.show_alternative(next_alternative(State(document.drawing, document.alternative), step))


LEVEL_KEYS = {
    Level.MINIMUM: "Ctrl+Alt+M",
    Level.NORMAL: "Ctrl+Alt+N",
    Level.DRAWN_DOWN: "Ctrl+Alt+W",
}


def _levels() -> Iterator[Row]:
    for level in Level:
        yield Row(
            level,
            "View/Fluid level",
            f"&{level.capitalize()}",
            (LEVEL_KEYS[level],),
            f"Reckon with the fluid at its {level} level",
            partial(_choose_level, level),
            checked=partial(_at_level, level),
            offered=partial(_has_level, level),
            group="level",
        )


def _choose_level(level: Level, window: Window) -> None:
    window.document.set_level(level)


def _at_level(level: Level, window: Window) -> bool:
    return window.document.level == level


def _has_level(level: Level, window: Window) -> bool:
    return level in window.document.levels


STANDARD = QKeySequence.StandardKey
ROWS = (
    Row("new", "File", "&New drawing", (STANDARD.New,), "Begin with a pump on the lid of its tank",
        lambda w: w.begin()),
    Row("open", "File", "&Open…", (STANDARD.Open,), "Open a drawing", lambda w: w.files.open_dialog()),
    Row("save", "File", "&Save", (STANDARD.Save,), "Save the drawing", lambda w: w.files.save(),
        enabled=_open, rule=True),
    Row("save as", "File", "Save &as…", ("Ctrl+Shift+S",), "Save the drawing under another name",
        lambda w: w.files.save_as(), enabled=_open),
    Row("sheet", "File", "&Write sheet…", (STANDARD.Print,), "Write the drawing with its ledger as a page",
        lambda w: w.files.write_sheet(), enabled=_calculated, rule=True),
    Row("ledger file", "File", "Write &ledger…", ("Ctrl+Shift+E",),
        "Write the ledger as text, CSV or JSON, as the terminal prints it",
        lambda w: w.files.write_ledger(), enabled=_calculated),
    Row("calculation file", "File", "Write &calculation…", ("Ctrl+Shift+H",),
        "Write every step of the calculation, with its numbers and sources, as a page for a browser",
        lambda w: w.files.write_calculation(), enabled=_calculated),
    Row("picture", "File", "Write &picture of the window…", ("Ctrl+Shift+P",),
        "Write the window as it stands as a PNG", lambda w: w.files.write_picture(), enabled=_open),
    Row("quit", "File", "&Quit", ("Ctrl+Q",), "Close the window", lambda w: w.close(), rule=True),
    Row("undo", "Edit", "&Undo", (STANDARD.Undo,), "Take back the last change",
        lambda w: w.document.undo_stack.undo(), enabled=lambda w: w.document.undo_stack.canUndo()),
    Row("redo", "Edit", "&Redo", ("Ctrl+Shift+Z", "Ctrl+Y"), "Make the change again",
        lambda w: w.document.undo_stack.redo(), enabled=lambda w: w.document.undo_stack.canRedo()),
    Row("copy ledger", "Edit", "&Copy ledger", ("Ctrl+Shift+C",),
        "Copy the ledger with its findings as text", lambda w: w.files.copy_ledger(), enabled=_calculated,
        rule=True),
    Row("remove part", "Edit", "&Delete this part", (STANDARD.Delete,),
        "Take the selected part off the sheet; a line heals where it sat in one",
        lambda w: w.remove_part(), enabled=lambda w: bool(w.document.selected_part), rule=True),
    Row("rename part", "Edit", "Re&name this part…", ("F2",), "Give the selected part another name",
        lambda w: w.rename_part(), enabled=lambda w: bool(w.document.selected_part)),
    Row("new alternative", "Edit", "&New alternative…", ("Ctrl+Shift+N",),
        "Keep the drawing as it is shown as an alternative, and go on in it",
        lambda w: w.new_alternative(), enabled=_open, rule=True),
    Row("remove alternative", "Edit", "&Remove this alternative", ("Ctrl+Shift+Backspace",),
        "Drop the alternative that is shown and go back to the drawing itself",
        lambda w: w.document.remove_alternative(), enabled=lambda w: bool(w.document.alternative)),
    Row("fit", "View", "&Fit the drawing", ("Ctrl+0",), "Show the whole drawing",
        lambda w: w.workspace.elevation.fit(), enabled=_open),
    Row("zoom in", "View", "Zoom &in", (STANDARD.ZoomIn, "Ctrl+="), "Show the drawing larger",
        lambda w: w.workspace.elevation.zoom(1.25), enabled=_open),
    Row("zoom out", "View", "Zoom &out", (STANDARD.ZoomOut,), "Show the drawing smaller",
        lambda w: w.workspace.elevation.zoom(0.8), enabled=_open),
    *_tabs(),
    Row("next alternative", "View", "Ne&xt alternative", ("Ctrl+PgDown",), "Show the next alternative",
        partial(_step_alternative, 1), enabled=lambda w: bool(w.document.alternatives), rule=True),
    Row("previous alternative", "View", "Pre&vious alternative", ("Ctrl+PgUp",),
        "Show the alternative before, or the drawing itself",
        partial(_step_alternative, -1), enabled=lambda w: bool(w.document.alternatives)),
    Row("shelf panel", "View/Panels", "&Shelf", ("F5",), "Show or hide the parts to put on the sheet",
        lambda w: w.workspace.toggle("shelf"), checked=lambda w: w.workspace.shown("shelf"), rule=True),
    Row("column panel", "View/Panels", "&Air column", ("F6",), "Show or hide the air column",
        lambda w: w.workspace.toggle("column"), checked=lambda w: w.workspace.shown("column")),
    Row("what-if panel", "View/Panels", "&What-if strip", ("F7",), "Show or hide the what-if strip",
        lambda w: w.workspace.toggle("whatif"), checked=lambda w: w.workspace.shown("whatif")),
    Row("tables panel", "View/Panels", "&Ledger, profile and findings", ("F8",),
        "Show or hide the ledger, the pressure profile and the findings",
        lambda w: w.workspace.toggle("tables"), checked=lambda w: w.workspace.shown("tables")),
    *_levels(),
    Row("warm", "View/Fluid", "&Running", ("Ctrl+Alt+R",), "Reckon with the fluid as warm as it runs",
        lambda w: w.document.set_cold(False), checked=lambda w: not w.document.cold,
        offered=lambda w: has_cold(w.document.layout), group="start"),
    Row("cold", "View/Fluid", "&Cold start", ("Ctrl+Alt+C",), "Reckon with the fluid at its coldest start",
        lambda w: w.document.set_cold(True), checked=lambda w: w.document.cold,
        offered=lambda w: has_cold(w.document.layout), group="start"),
    Row("us", "View/Units", "&US customary", ("Ctrl+Alt+U",), "Feet, inches of mercury, gallons a minute",
        lambda w: w.document.set_system(System.US),
        checked=lambda w: w.document.system is System.US, group="units"),
    Row("si", "View/Units", "&SI", ("Ctrl+Alt+S",), "Metres, kilopascals, litres a minute",
        lambda w: w.document.set_system(System.SI),
        checked=lambda w: w.document.system is System.SI, group="units"),
    Row("as desktop", "View/Appearance", "&As the desktop", (), "Light or dark as the desktop is",
        lambda w: w.wear(Choice.DESKTOP),
        checked=lambda w: w.appearance.choice is Choice.DESKTOP, group="appearance"),
    Row("light", "View/Appearance", "&Light", ("Ctrl+Alt+L",), "Dark ink on light paper",
        lambda w: w.wear(Choice.LIGHT),
        checked=lambda w: w.appearance.choice is Choice.LIGHT, group="appearance"),
    Row("dark", "View/Appearance", "&Dark", ("Ctrl+Alt+D",), "Light ink on dark paper",
        lambda w: w.wear(Choice.DARK),
        checked=lambda w: w.appearance.choice is Choice.DARK, group="appearance"),
    Row("help", "Help", "&Mouse and keys", (STANDARD.HelpContents,), "What the mouse and the keys do",
        lambda w: w.show_help()),
)  # fmt: skip


class Actions:
    """The window's actions by name, and its menus by path."""

    def __init__(self, window: Window) -> None:
        self._window = window
        self._actions: dict[str, QAction] = {}
        self._menus: dict[str, QMenu] = {}
        self._groups: dict[str, QActionGroup] = {}
        for row in ROWS:
            self._add(row)

    def __getitem__(self, name: str) -> QAction:
        return self._actions[name]

    def menu(self, path: str, before: str = "") -> QMenu:
        """The menu at a path, made when it is missing, in front of the action `before`."""
        if path not in self._menus:
            parent, _, name = path.rpartition("/")
            if not parent:
                self._menus[path] = self._window.menuBar().addMenu(f"&{name}")
            else:
                made = QMenu(name, self.menu(parent))
                self.menu(parent).insertMenu(self._actions[before] if before else None, made)  # type: ignore[arg-type]
                self._menus[path] = made
        return self._menus[path]

    def _add(self, row: Row) -> None:
        action = QAction(row.text, self._window)
        action.setShortcuts([QKeySequence(keys) for keys in row.keys])
        action.setStatusTip(row.tip)
        action.setToolTip(row.tip)
        action.triggered.connect(lambda: self._run(row))
        if row.checked is not None:
            action.setCheckable(True)
        if row.group:
            group = self._groups.setdefault(row.group, QActionGroup(self._window))
            group.addAction(action)
        parent = row.menu.rpartition("/")[0]
        if row.rule:
            self.menu(parent or row.menu).addSeparator()
        self.menu(row.menu).addAction(action)
        self._actions[row.name] = action

    def _run(self, row: Row) -> None:
        row.handler(self._window)
        self.sync()

    def sync(self) -> None:
        """Check and enable every action as the window now stands."""
        for row in ROWS:
            action = self._actions[row.name]
            if row.checked is not None:
                action.setChecked(row.checked(self._window))
            if row.enabled is not None:
                action.setEnabled(row.enabled(self._window))
            if row.offered is not None:
                action.setVisible(row.offered(self._window))
