"""A knob's gestures in plain Python."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.turning import Turning
from sketch.views import case_making
from solver.layout.cases import cases_of
from solver.layout.parts import SHORT_CASE
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED


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
    turning.follow(subject(document.layout, document.ledger, document.pump, document.level, document.case))


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


@pytest.mark.parametrize("system", System)
def test_both_ends_of_a_slider_can_be_reached(document: Document, system: System) -> None:
    document.set_system(system)
    for each in KNOBS:
        turning = knob(document, each.name)
        for position in (0, turning.last_position):
            assert turning.turn(position), f"{each.name}: {turning.trouble}"
        turning.release()
        document.undo_stack.undo()


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
    assert knob(document, "Pump speed").reason == "flow is typed and stays"


TABLES: Mapping[str, tuple[dict[str, Any], tuple[str, ...], str]] = {
    "Fluid temperature": (
        {"fluid": {"temperature": "7 degC"}},
        ("fluid", "temperature"),
        'Fluid temperature in "odd" to 9 °C',
    ),
    "Fluid level": (
        {"levels": {"tank": "0.50 m"}},
        ("levels", "tank"),
        'Fluid level of tank in "odd" to 0.5 m',
    ),
    "Pump speed": (
        {"pumps": {"carriage": {"speed": "1200 rpm"}}},
        ("pumps", "carriage", "speed"),
        'Speed of carriage in "odd" to 1100 rpm',
    ),
    "Site elevation": (
        {"site": {"elevation": "900 m"}}, ("site", "elevation"), 'Site elevation in "odd" to 700 m'
    ),
    "Strainer blocked": (
        {"intakes": {"strainer": {"screen": {"blocked": "60 %"}}}},
        ("intakes", "strainer", "screen", "blocked"),
        'Blocked share of strainer in "odd" to 40 %',
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_every_figure_that_a_case_may_have_is_turned_in_it_alone(document: Document, name: str) -> None:
    table, path, label = TABLES[name]
    case_making.add(document, "odd", table)
    turning, before = knob(document, name), document.layout
    assert (turning.reason, turning.is_of_case) == ("", True)
    typed = cases_of(before)["odd"].figures[path]
    assert turning.value.si == (typed if isinstance(typed, float) else typed.si)
    assert turning.turn(turning.position + 1)
    turning.release()
    turned = document.layout
    assert turned.cases["odd"].figures[path] != typed
    assert replace(turned, cases=before.cases) == before
    assert turning.restore() or turning.saved is None
    assert turning.enter(label.rpartition(" to ")[2])
    assert document.undo_stack.undoText() == label
    for position in (0, turning.last_position):
        assert turning.turn(position), turning.trouble


def test_a_figure_that_a_case_cannot_have_is_refused(document: Document) -> None:
    case_making.add(document, "odd", {"levels": {"tank": "0.50 m"}, "fluid": {"temperature": "7 degC"}})
    before = document.layout
    for name, text in (("Fluid level", "9 m"), ("Fluid temperature", "400 degC")):
        turning = knob(document, name)
        assert not turning.enter(text)
        assert turning.trouble
        assert document.layout is before


@pytest.fixture
def winter(qtbot: QtBot) -> Document:
    (path,) = (each for each in SHIPPED if each.stem == "winter-press")
    opened = Document(keeps=False)
    opened.open(path)
    opened.set_system(System.SI)
    opened.set_case(SHORT_CASE)
    return opened


def starts(document: Document) -> dict[str, str]:
    """The temperature of the coldest start in the drawing and each alternative."""
    layouts = {"": document.drawing.base, **{n: a.layout for n, a in document.drawing.alternatives.items()}}
    return {
        name: cases_of(layout)[SHORT_CASE].figures["fluid", "temperature"].text
        for name, layout in layouts.items()
    }


def test_the_coldest_start_stays_short_and_is_the_same_for_what_has_none_of_its_own(winter: Document) -> None:
    before = starts(winter)
    follows = "High-VI oil, ISO VG 32"
    winter.show_alternative(follows)
    turning = knob(winter, "Fluid temperature")
    assert turning.enter("-4 degC")
    assert starts(winter) == {**before, "": "-4 degC", follows: "-4 degC"}
    assert winter.drawing.base.fluid.coldest_start.text == "-4 degC"
    winter.undo_stack.undo()
    assert starts(winter) == before
    start = turning.position
    for position in (start + 20, start + 40, start + 50):  # 0, 10 and 15 °C, past what the heater has
        assert turning.turn(position), turning.trouble
    turning.release()
    assert starts(winter) == {**before, "": "15 degC", follows: "15 degC"}
    assert winter.undo_stack.count() == 1
    winter.undo_stack.undo()
    assert starts(winter) == before


def test_an_alternative_with_a_figure_of_its_own_is_turned_alone_past_that_of_the_drawing(
    winter: Document,
) -> None:
    own = "Tank heater to 10 °C"
    assert knob(winter, "Fluid temperature").enter("0 degC")
    before = starts(winter)
    winter.show_alternative(own)
    winter.undo_stack.clear()
    turning = knob(winter, "Fluid temperature")
    start = turning.position
    for position in (start - 20, start - 24, start - 10):  # half a degree a step: 0 °C, as the drawing has it
        assert turning.turn(position), turning.trouble
    assert starts(winter) == {**before, own: "5 degC"}
    turning.release()
    assert starts(winter) == {**before, own: "5 degC"}
    assert winter.undo_stack.undoText().endswith("in this alternative only")
    assert winter.undo_stack.count() == 1
    assert turning.restore()
    assert starts(winter) == before
