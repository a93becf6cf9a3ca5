"""Several parts selected by the mouse, and moved together."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest

from sketch.canvas.elevation import Elevation
from sketch.drawing.labels import Box
from tests.sketch.canvas.mouse import LEFT, NONE, document_of, drag, place, send, spot

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def click(canvas: Elevation, at: tuple[float, float], keys: Qt.KeyboardModifier = NONE) -> None:
    QTest.mouseClick(canvas, LEFT, keys, spot(canvas, *at))


def test_ctrl_click_adds_and_takes_out_and_a_drag_moves_them_together(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    click(canvas, (1.6, 1.0))
    click(canvas, (0.6, 0.12), CONTROL)
    assert document.selection == ("carriage", "strainer")
    click(canvas, (0.6, 0.12), CONTROL)
    assert document.selection == ("carriage",)
    click(canvas, (0.6, 0.12), CONTROL)
    before, margin = document.layout, document.ledger.margin
    drag(canvas, (1.6, 1.0), (1.7, 1.1), (1.8, 1.1))
    assert document.selection == ("carriage", "strainer"), "the drag keeps what is selected"
    assert place(canvas, "carriage") == pytest.approx((1.8, 1.1))
    assert place(canvas, "strainer") == pytest.approx((0.8, 0.22))
    (corner,) = document.layout.runs["riser"].via
    assert (corner[0].si, corner[1].si) == pytest.approx((0.8, 1.1)), "the line between them goes along"
    assert document.undo_stack.undoText() == "Move 2 parts, carriage to height 1.10 m, x 1.80 m"
    assert document.ledger.margin != margin
    document.undo_stack.undo()
    assert document.layout == before
    canvas.setFocus()
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    assert place(canvas, "strainer")[0] == pytest.approx(0.61)
    assert place(canvas, "carriage")[0] == pytest.approx(1.61)
    click(canvas, (1.61, 1.0))
    assert document.selection == ("carriage",), "a click without a drag selects that one"


def test_a_rubber_band_selects_what_lies_in_it(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    canvas.zoom(0.7)
    drag(canvas, (0.3, 1.3), (1.0, 0.2), (1.9, 0.05), release=False)
    assert canvas.selector.band is not None
    assert Box(*canvas.selector.band.box(canvas.view)).width > 100
    assert set(document.selection) == {"carriage", "strainer", "riser"}
    drag_end = spot(canvas, 1.9, 0.9)
    send(canvas, QEvent.Type.MouseMove, drag_end)
    assert document.selection == ("carriage",), "the band shrinks again"
    send(canvas, QEvent.Type.MouseButtonRelease, drag_end)
    assert canvas.selector.band is None
    assert document.undo_stack.count() == 0
    drag(canvas, (0.5, 0.3), (0.7, 0.05), modifiers=SHIFT)
    assert document.selection == ("carriage", "strainer"), "with Shift it adds, and begins within a tank too"
    click(canvas, (2.2, 1.3))
    assert document.selection == ()


def test_a_double_click_with_ctrl_selects_the_whole_line(bent_canvas: Elevation) -> None:
    canvas = bent_canvas
    QTest.mouseDClick(canvas, LEFT, CONTROL, spot(canvas, 1.6, 1.0))
    assert set(document_of(canvas).selection) == {"strainer", "riser"}
    QTest.mouseDClick(canvas, LEFT, CONTROL, spot(canvas, 0.2, 0.2))
    assert document_of(canvas).selection == ("tank",)


def test_a_tank_is_dragged_whole_with_what_stands_in_it(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    drag(canvas, (0.2, 0.2), (0.4, 0.3), (0.5, 0.2))
    tank = document.layout.reservoirs["tank"]
    assert [x.text for x, _ in tank.outline] == ["0.3 m", "1.5 m", "1.5 m", "0.3 m"]
    assert place(canvas, "strainer") == pytest.approx((0.9, 0.12))
    assert place(canvas, "carriage") == (1.6, 1.0)
    assert document.undo_stack.undoText().startswith("Move tank to height ")
    canvas.setFocus()
    QTest.keyClick(canvas, Qt.Key.Key_Up)
    assert document.layout.reservoirs["tank"].minimum_level.text == "0.41 m"
