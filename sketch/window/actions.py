"""The window's actions by name and its menus by path, made from a table of commands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QWidget

Keys = str | QKeySequence.StandardKey


@dataclass(frozen=True, slots=True)
class Command:
    """One action. `checked` makes it a switch; commands with one `group` exclude each other."""

    name: str
    menu: str  # "View/Units" stands in the submenu Units
    text: str
    keys: tuple[Keys, ...]
    tip: str
    handler: Callable[[], object]
    checked: Callable[[], bool] | None = None
    enabled: Callable[[], bool] | None = None
    offered: Callable[[], bool] | None = None  # whether it stands in the menu at all
    group: str = ""
    rule: bool = False  # a separating line above
    on_sheet: bool = False  # its keys hold while the elevation has the keyboard; elsewhere they mean text


class Actions:
    """The window's actions by name, and its menus by path."""

    def __init__(
        self, window: QMainWindow, commands: Sequence[Command], sheet: QWidget | None = None
    ) -> None:
        self._window, self._sheet = window, sheet
        self.commands = tuple(commands)
        self._actions: dict[str, QAction] = {}
        self._menus: dict[str, QMenu] = {}
        self._groups: dict[str, QActionGroup] = {}
        for command in self.commands:
            self._add(command)

    def __getitem__(self, name: str) -> QAction:
        return self._actions[name]

    def menu(self, path: str, before: str = "") -> QMenu:
        """The menu at a path, made when it is missing, in front of the action `before`."""
        if path not in self._menus:
            parent, _, name = path.rpartition("/")
            if not parent:
                self._menus[path] = self._window.menuBar().addMenu(f"&{name}")
            else:
                submenu = QMenu(name, self.menu(parent))
                self.menu(parent).insertMenu(self._actions[before] if before else None, submenu)  # type: ignore[arg-type]
                self._menus[path] = submenu
        return self._menus[path]

    def _add(self, command: Command) -> None:
        action = QAction(command.text, self._window)
        action.setShortcuts([QKeySequence(keys) for keys in command.keys])
        if command.on_sheet and self._sheet is not None:
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self._sheet.addAction(action)
        action.setStatusTip(command.tip)
        action.setToolTip(command.tip)
        action.triggered.connect(lambda: self._run(command))
        if command.checked is not None:
            action.setCheckable(True)
        if command.group:
            group = self._groups.setdefault(command.group, QActionGroup(self._window))
            group.addAction(action)
        parent = command.menu.rpartition("/")[0]
        if command.rule:
            self.menu(parent or command.menu).addSeparator()
        self.menu(command.menu).addAction(action)
        self._actions[command.name] = action

    def _run(self, command: Command) -> None:
        # Asked anew: an item was enabled by the drawing of a moment ago.
        if command.enabled is None or command.enabled():
            command.handler()
        self.sync()

    def sync(self) -> None:
        """Check and enable every action as the window now stands."""
        for command in self.commands:
            action = self._actions[command.name]
            if command.checked is not None:
                action.setChecked(command.checked())
            if command.enabled is not None:
                action.setEnabled(command.enabled())
            if command.offered is not None:
                action.setVisible(command.offered())
