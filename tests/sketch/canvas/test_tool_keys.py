"""Parts put down, lines drawn, bends and levels moved by keys alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from sketch.canvas import walking
from sketch.canvas.elevation import Elevation
from tests.sketch.canvas.mouse import document_of, place

SHIFT = Qt.KeyboardModifier.ShiftModifier


NONE = Qt.KeyboardModifier.NoModifier


def press(widget: QWidget, *keys: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    for key in keys:
        QTest.keyClick(widget, key, held)


def test_return_puts_a_part_into_the_line_that_is_selected(bent_canvas: Elevation) -> None:
    document, key = document_of(bent_canvas), Qt.Key
    document.select("riser")
    bent_canvas.pick("gate valve")
    assert "Return" in bent_canvas.tool.hint
    press(bent_canvas, key.Key_Return)
    assert document.selection == ("gate valve",)
    assert place(bent_canvas, "gate valve") == (1.1, 1.0), "the middle of the longest straight"
    assert not bent_canvas.tool.picked
    document.undo_stack.undo()
    document.select("riser")
    bent_canvas.pick("ball valve")
    press(bent_canvas, key.Key_Left, held=SHIFT)
    press(bent_canvas, key.Key_Left, key.Key_Up, key.Key_Return)
    assert place(bent_canvas, "ball valve") == pytest.approx((0.99, 1.0)), "led along the line"
    for typed, trouble in (("1.3; 2", "none passes there"), ("1.3; 1", "")):
        bent_canvas.pick("gate valve")
        QTest.keyClick(bent_canvas, typed[0])
        QTest.keyClicks(bent_canvas.field, typed[1:])
        press(bent_canvas.field, key.Key_Return)
        assert trouble in bent_canvas.field.accessibleDescription()
        bent_canvas.field.leave()
    assert place(bent_canvas, "gate valve") == (1.3, 1.0), "typed"


def test_off_a_line_a_valve_stays_in_hand_and_tab_leads_it_to_one(bent_canvas: Elevation) -> None:
    document, key, spoken = document_of(bent_canvas), Qt.Key, []
    bent_canvas.speaker.announced.connect(spoken.append)
    bent_canvas.pick("swing check")
    press(bent_canvas, key.Key_Return)
    assert bent_canvas.tool.picked == "swing check"
    assert "is put into a line" in bent_canvas.tool.trouble == spoken[-1]
    press(bent_canvas, key.Key_Tab, key.Key_Tab, key.Key_Tab)
    assert document.selection == ("riser",)
    press(bent_canvas, key.Key_Return)
    assert document.selection == ("swing check",)


def test_a_line_is_drawn_by_steps_lengths_and_tab(bent_canvas: Elevation) -> None:
    document, key, field = document_of(bent_canvas), Qt.Key, bent_canvas.field
    for what, at in (("pump", "2.2; 1.5"), ("bell-mouth", "0.3; 0.2")):
        bent_canvas.pick(what)
        QTest.keyClick(bent_canvas, at[0])
        QTest.keyClicks(field, at[1:])
        press(field, key.Key_Return)
    bent_canvas.pick("line")
    press(bent_canvas, key.Key_Return)
    assert bent_canvas.tool.start.part == "bell-mouth", "selected, as it was put down last"
    press(bent_canvas, key.Key_Right, key.Key_Up)
    QTest.keyClick(bent_canvas, "1")
    QTest.keyClicks(field, ".1 m")
    press(field, key.Key_Return)
    assert bent_canvas.tool.via == ((0.3, pytest.approx(1.3)),), "upwards, as the last step led"
    press(bent_canvas, key.Key_Right, key.Key_Return, key.Key_Backspace)
    assert len(bent_canvas.tool.via) == 1
    while document.selected_part != "pump":
        press(bent_canvas, key.Key_Tab)
    press(bent_canvas, key.Key_Return)
    assert (document.layout.runs["line"].start, document.layout.runs["line"].end) == ("bell-mouth", "pump")
    assert [corner[0].si for corner in document.layout.runs["line"].via] == pytest.approx([0.3, 2.2])
    assert document.solution is not None


def test_n_reaches_bends_and_levels_and_the_arrows_move_them(bent_canvas: Elevation) -> None:
    document, key, texts = document_of(bent_canvas), Qt.Key, []
    bent_canvas.message.connect(texts.append)
    document.select("riser")
    press(bent_canvas, key.Key_Up)
    assert document.clean, "a line is not moved whole"
    press(bent_canvas, key.Key_N, key.Key_Up)
    assert texts[0] == "Bend 1 of riser, height 1.00 m, x 0.600 m: the arrow keys move it"
    assert document.layout.runs["riser"].via[0][1].si == pytest.approx(1.01)
    document.select("tank")
    press(bent_canvas, key.Key_N, key.Key_Down)
    assert document.layout.reservoirs["tank"].minimum_level.si == pytest.approx(0.39)
    assert bent_canvas.hand.lit.which == "minimum"
    assert any(handle.same(bent_canvas.hand.lit) for handle in bent_canvas.hand.shown())
    press(bent_canvas, key.Key_N, key.Key_Up)
    assert document.layout.reservoirs["tank"].normal_level.si == pytest.approx(0.56)
    press(bent_canvas, key.Key_N, held=SHIFT)
    press(bent_canvas, key.Key_N, held=SHIFT)
    assert texts[-1] == "tank: the arrow keys move it"
    assert bent_canvas.hand.lit is None
    press(bent_canvas, key.Key_Left)
    assert document.layout.reservoirs["tank"].outline[0][0].si == pytest.approx(-0.01), "the tank itself"


def test_tab_stays_among_the_parts_while_a_line_is_drawn(bent_canvas: Elevation) -> None:
    document, key = document_of(bent_canvas), Qt.Key
    order = walking.flow_order(document)
    document.select("riser")
    bent_canvas.pick("line")
    press(bent_canvas, key.Key_Return)
    assert bent_canvas.tool.draws_line
    seen = []
    for _ in order:
        press(bent_canvas, key.Key_Tab)
        assert bent_canvas.tool.hint
        seen.append(document.selected_part)
    assert set(seen) == set(order)
    assert seen[-1] == "riser", "round once"
