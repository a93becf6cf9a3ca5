"""What single keys do on the sheet."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from sketch.canvas.hand import Hand
from solver.quantities.units import MINUS

ZOOM = 1.15  # a notch of the wheel, or a key

FIT = (Qt.Key.Key_Home, Qt.Key.Key_F)
ZOOMS = {Qt.Key.Key_Plus: ZOOM, Qt.Key.Key_Equal: ZOOM, Qt.Key.Key_Minus: 1 / ZOOM}

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


def nudge(hand: Hand, event: QKeyEvent) -> bool:
    """Move what is selected by an arrow key, ten steps with Shift; False where nothing is to be moved."""
    arrow = _ARROWS.get(Qt.Key(event.key()))
    if arrow is None or hand.dragging:
        return False
    coarse = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    return hand.nudge(*arrow, coarse=coarse, repeated=event.isAutoRepeat())


def begins_figure(event: QKeyEvent) -> bool:
    """Whether a key types the first letter of a figure."""
    return event.text()[:1] in {*"0123456789.-", MINUS} and bool(event.text())


def free(event: QMouseEvent) -> bool:
    """Whether a key holds off snapping."""
    return bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
