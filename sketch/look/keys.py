"""Which keys a field or a table keeps to itself."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent
from PySide6.QtGui import QKeyEvent, QKeySequence

from solver.quantities.units import MINUS


def is_for_the_window(event: QEvent, *, typing: bool) -> bool:
    """Whether an undo or redo key is meant for the drawing: it is, unless something is being typed.

    A field claims these keys even when it has nothing to take back; an event that is left ignored goes on to
    the window.
    """
    if typing or event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
        return False
    return event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)


def keep_own_key(event: QEvent, is_own: Callable[[QKeyEvent], object]) -> bool:
    """Keep a key from the window's shortcuts where it is a widget's own, and whether it is; Qt asks first."""
    if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent) or not is_own(event):
        return False
    event.accept()
    return True


def begins_figure(event: QKeyEvent) -> bool:
    """Whether a key types the first letter of a figure."""
    return event.text()[:1] in {*"0123456789.-", MINUS} and bool(event.text())
