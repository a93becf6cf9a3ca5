"""Handles, guides and the readout as they are painted."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF
from PySide6.QtGui import QFontMetricsF

from sketch.canvas import overlay
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


def test_the_words_at_the_pointer_are_laid_out_once_a_frame(canvas: Elevation) -> None:
    drag(canvas, (0.6, 1.0), (0.6, 0.9), release=False)
    canvas.grab()
    laid_out = overlay._laid_out.cache_info().misses
    canvas.grab()
    area = overlay.readout_area(canvas.font(), QPointF(50, 50), canvas.readout(), QRectF(canvas.rect()))
    assert overlay._laid_out.cache_info().misses == laid_out
    metrics = QFontMetricsF(canvas.font())
    widest = max(metrics.horizontalAdvance(text) for text, _ in canvas.readout())
    assert area.width() == pytest.approx(widest + 2 * overlay.PAD, abs=1.0)


def test_readout_stays_on_the_sheet() -> None:
    sheet = QRectF(0, 0, 400, 300)
    for x, y in ((0, 0), (399, 0), (0, 299), (399, 299), (200, 150)):
        box = readout_box(QPointF(x, y), 120, 40, sheet, 18)
        assert sheet.contains(box)
        assert not box.contains(QPointF(x, y))
    for x, y in ((900, 150), (200, 900), (-500, -500), (900, 900)):
        assert sheet.contains(readout_box(QPointF(x, y), 120, 40, sheet, 18))
