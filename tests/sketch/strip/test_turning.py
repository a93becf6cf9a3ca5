"""A knob's gestures in plain Python."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.turning import Turning
from solver.quantities.units import Kind, System, quantity


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    opened = Document()
    opened.open(riser)
    return opened


def knob(document: Document, name: str) -> Turning:
    turning = Turning(document, next(each for each in KNOBS if each.name == name))
    document.changed.connect(lambda: follow(turning, document))
    follow(turning, document)
    return turning


def follow(turning: Turning, document: Document) -> None:
    turning.follow(subject(document.layout, document.ledger, document.pump, document.level))


def height(document: Document) -> float:
    return document.layout.pumps["carriage"].at[1].si


def test_a_step_of_the_slider_is_a_step_of_the_unit_shown(document: Document) -> None:
    port = knob(document, "Port height")
    assert port.turn(port.position + 5)
    assert height(document) == pytest.approx(1.05)
    document.set_system(System.US)
    port.release()
    before = height(document)
    assert port.turn(port.position + 2)
    step = KNOBS[0].step[System.US] * 0.3048
    assert abs(height(document) - before - 2 * step) <= step / 2


def test_turns_up_to_the_release_are_one_undo_step_and_the_slider_keeps_its_ends(document: Document) -> None:
    port = knob(document, "Port height")
    start, last = port.position, port.last_position
    for position in (last, 0, start + 3):
        assert port.turn(position)
        assert (port.active, port.last_position) == (True, last)
    port.release()
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "Port height of carriage to 1.03 m", "what it came to"
    assert port.turn(start + 4)
    assert document.undo_stack.count() == 2


def test_a_turn_back_to_the_saved_figure_leaves_it_as_typed_and_no_step(document: Document) -> None:
    port = knob(document, "Port height")
    before = document.layout
    assert port.saved_position == port.position
    port.turn(port.position + 3)
    assert port.differs
    assert port.turn(port.saved_position or 0, to_saved=True)
    assert document.layout == before
    assert not port.differs
    assert document.undo_stack.count() == 0


def test_another_change_of_the_drawing_ends_the_gesture(document: Document) -> None:
    port = knob(document, "Port height")
    port.turn(port.position + 3)
    document.apply("Raise", edits.set_port_height(document.layout, "carriage", 1.5))
    assert not port.active
    port.turn(port.position + 1)
    assert height(document) == pytest.approx(1.51)
    assert document.undo_stack.count() == 3


@pytest.mark.parametrize("text", ["high", "3 psi", "nan m"])
def test_what_is_no_figure_is_refused_with_its_reason_and_changes_nothing(
    document: Document, text: str
) -> None:
    port = knob(document, "Port height")
    assert not port.enter(text)
    assert port.trouble
    assert document.clean


def test_a_level_above_the_rim_is_refused_and_the_next_figure_clears_the_trouble(document: Document) -> None:
    level = knob(document, "Fluid level")
    assert not level.enter("9 m")
    assert level.trouble
    assert document.clean
    assert level.enter("0.45 m")
    assert level.trouble == ""


def test_restore_goes_back_to_the_saved_text(document: Document) -> None:
    port = knob(document, "Port height")
    before = document.layout
    assert port.enter("1.4 m")
    assert port.restore()
    assert document.layout == before
    assert not port.active


def test_a_knob_without_its_figure_gives_the_reason(qtbot: QtBot) -> None:
    port = knob(Document(), "Port height")
    assert port.reason == "no pump yet"
    assert port.saved is None
    assert port.restore()


def test_a_height_below_zero_has_a_minus_sign_and_is_read_back(document: Document) -> None:
    port = knob(document, "Port height")
    document.set_system(System.SI)
    assert port.enter("-0.2 m")
    assert port.text == "\N{MINUS SIGN}0.200 m"
    assert port.enter(port.text)
    assert height(document) == -0.2


def test_a_typed_flow_says_where_it_stands_in_the_place_of_the_speed(document: Document) -> None:
    pump = document.layout.pumps["carriage"]
    flow = replace(pump, flow=quantity("40 L/min", Kind.FLOW), displacement=None, speed=None)
    document.apply("Type a flow", replace(document.layout, pumps={"carriage": flow}))
    assert knob(document, "Pump speed").reason == "its flow is typed"
