"""Strips to turn."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.strip.whatif import Turner
from solver.quantities import units

LEFT = Qt.MouseButton.LeftButton


def height(document: Document) -> units.Quantity:
    return document.layout.pumps["carriage"].at[1]


def type_in(qtbot: QtBot, turner: Turner, text: str) -> None:
    turner.field.selectAll()
    qtbot.keyClicks(turner.field, text)
    qtbot.keyClick(turner.field, Qt.Key.Key_Return)


def slide(qtbot: QtBot, turner: Turner, *way: int) -> None:
    """Take the slider's handle and move it by so many pixels, one move after another."""
    scale = turner.scale
    x = round(scale.position_on_groove(scale.value()))
    y = scale.height() // 2
    qtbot.mousePress(scale, LEFT, pos=QPoint(x, y))
    for offset in way:
        qtbot.mouseMove(scale, QPoint(x + offset, y))
    qtbot.mouseRelease(scale, LEFT, pos=QPoint(x + (way or (0,))[-1], y))
