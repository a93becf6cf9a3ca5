"""Which keys a field keeps to itself."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtGui import QKeyEvent, QKeySequence


def is_for_the_window(event: QEvent, *, typing: bool) -> bool:
    """Whether an undo or redo key is meant for the drawing: it is, unless something is being typed.

    A field claims these keys even when it has nothing to take back; an event that is left ignored goes on to
    the window.
    """
    if typing or event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
        return False
    return event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)
