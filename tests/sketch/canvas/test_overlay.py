"""Handles, guides and the readout as they are painted."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QRectF

from sketch.canvas.elevation import Elevation
from sketch.canvas.overlay import readout_box
from tests.sketch.canvas.mouse import (
    drag,
    spot,
)


def test_drag_paints_handle_and_readout_at_the_pointer(canvas: Elevation) -> None:
    plain = canvas.grab().toImage()
    drag(canvas, (0.6, 1.0), (0.6, 0.9), release=False)
    held = canvas.grab().toImage()
    at = spot(canvas, 0.6, 0.9) + QPoint(22, 22)
    assert held.pixelColor(at) == canvas.theme.box
    assert plain.pixelColor(at) != canvas.theme.box


def test_readout_stays_on_the_sheet() -> None:
    sheet = QRectF(0, 0, 400, 300)
    for x, y in ((0, 0), (399, 0), (0, 299), (399, 299), (200, 150)):
        box = readout_box(QPointF(x, y), 120, 40, sheet, 18)
        assert sheet.contains(box)
        assert not box.contains(QPointF(x, y))
    for x, y in ((900, 150), (200, 900), (-500, -500), (900, 900)):
        assert sheet.contains(readout_box(QPointF(x, y), 120, 40, sheet, 18))
