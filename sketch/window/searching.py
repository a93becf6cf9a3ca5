"""What can be looked for by its name: a command of the window, a part of the drawing."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QWidget

from sketch.window.actions import Actions
from sketch.window.finder import Finder, Row

COMMAND, COMMAND_HINT = "Find a command", "Type a word of its name or of what it does"
NATIVE = QKeySequence.SequenceFormat.NativeText


def command_rows(actions: Actions) -> list[Row]:
    """Every command that the menus offer, with its menu and its first key, in the order of the menus."""
    rows = []
    for command in actions.commands:
        action = actions[command.name]
        if command.offered is None or command.offered():
            name, key = action.text().replace("&", ""), action.shortcut().toString(NATIVE)
            columns = command.menu.replace("/", ", "), key
            rows.append(Row(command.name, name, columns, command.tip, action.isEnabled()))
    return rows


def find_command(window: QWidget, actions: Actions) -> Finder:
    """Show all commands; the one that is chosen is run as from its menu."""
    actions.sync()
    rows = [row for row in command_rows(actions) if row.key != "find command"]
    finder = Finder(window, COMMAND, COMMAND_HINT, rows, lambda name: actions[name].trigger())
    finder.open()
    return finder
