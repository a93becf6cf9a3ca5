"""The order in which keys go through the parts."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketch.canvas import walking
from sketch.canvas.elevation import Elevation
from sketch.editing import selection
from tests.sketch.canvas.mouse import document_of


def test_parts_follow_the_fluid_from_the_tank_to_the_pump(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    order = walking.flow_order(document)
    assert order == ("tank", "strainer", "riser", "carriage")
    assert sorted(order) == sorted(selection.everything(document.layout))
    document.select("tank")
    for name in order[1:]:
        QTest.keyClick(bent_canvas, Qt.Key.Key_Tab)
        assert document.selection == (name,)
    QTest.keyClick(bent_canvas, Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert document.selection == ("riser",)


def test_escape_and_the_last_part_let_the_keyboard_go(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    document.select("carriage")
    assert not walking.walk(document, back=False)
    document.select("riser")
    QTest.keyClick(bent_canvas, Qt.Key.Key_Escape)
    assert not walking.walk(document, back=False)
    assert document.selection == ()


def test_an_arrow_key_begins_the_walk_where_nothing_is_selected(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    QTest.keyClick(bent_canvas, Qt.Key.Key_Right)
    assert document.selection == ("tank",)
    document.select("")
    QTest.keyClick(bent_canvas, Qt.Key.Key_Up)
    assert document.selection == ("carriage",)
    assert document.clean, "nothing was moved"


def test_the_middle_of_a_line_is_that_of_its_longest_straight(bent_canvas: Elevation) -> None:
    layout = document_of(bent_canvas).layout
    assert walking.middle(layout, "riser") == pytest.approx((1.1, 1.0))
    assert walking.middle(layout, "carriage") == (1.6, 1.0)
