"""Single keys on the sheet."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketch.canvas import keyboard
from sketch.canvas.elevation import Elevation
from tests.sketch.canvas.mouse import document_of, place


def test_keys_zoom_fit_and_nudge(canvas: Elevation) -> None:
    scale = canvas.view.scale
    QTest.keyClick(canvas, Qt.Key.Key_Plus)
    assert canvas.view.scale == pytest.approx(scale * keyboard.ZOOM)
    QTest.keyClick(canvas, Qt.Key.Key_Home)
    assert canvas.view.scale == pytest.approx(scale)
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    assert place(canvas, "carriage") == (0.6, 1.0), "nothing is selected"
    document_of(canvas).select("carriage")
    x, y = canvas.view.device(0.6, 1.0)
    QTest.keyClick(canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    moved = x - keyboard.PAN * canvas.width(), y + keyboard.PAN * canvas.height()
    assert canvas.view.device(0.6, 1.0) == pytest.approx(moved), "the sheet is looked over by keys too"
    assert place(canvas, "carriage") == (0.6, 1.0)
    QTest.keyClick(canvas, Qt.Key.Key_Home)
    QTest.keyClick(canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert place(canvas, "carriage")[0] == pytest.approx(0.7)
