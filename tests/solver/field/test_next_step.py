"""The cheapest observation that tells two causes apart comes first, and needs no pump where one must stop."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places, prediction
from solver.field.causes import CauseKind, causes, changed
from solver.field.explain import Explanation
from solver.field.gauges import Band, Gauge, Tube
from solver.field.next_step import AT_REST, COLDER, narrowing, next_steps
from solver.field.places import Place
from solver.field.states import Reading
from solver.field.trials import VENT, NextStep, Trial
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.network.build import build
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
GAUGE = Gauge("A", tube=Tube.EMPTY, accuracy=0.01, zero=0.0)
READING = Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(12e3, 12e3), GAUGE)
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"], [READING]))


def cause(kind: CauseKind, size: float, part: str = "") -> Explanation:
    return Explanation(kind, part, 0.4, size, size, size, False, False, (12e3,), ())


SCREEN = cause(CauseKind.SCREEN, ALL[1].sizes[18], "strainer")
NARROW = cause(CauseKind.BORE, 0.62, "riser")
LEVEL = cause(CauseKind.LEVEL, 0.6, "tank")
OFF = cause(CauseKind.OFFSET, 5e3, "A")

(PATH_WITHIN,) = (path for path in SHIPPED if path.stem == "glycol-on-the-oil-line")
ON_OIL = file.read(PATH_WITHIN).base
WARM = Reading(ON_OIL, Level.MINIMUM, Place("caster"), Band(20e3, 20e3), Gauge("A", zero=0.0))
WITHIN = tuple(causes(ON_OIL, solve(ON_OIL).pumps["caster"], [WARM]))
(SCREENS,) = (each for each in WITHIN if (each.kind, each.part) == (CauseKind.SCREEN, "strainer"))
BLOCKED = cause(CauseKind.SCREEN, 0.975, "strainer")
"""A screen that explains a reading within what is allowed, on a line that is within as drawn."""


def step(one: Explanation, other: Explanation, reading: Reading = READING, stop: bool = False) -> NextStep:
    step = next(next_steps((reading,), one, other, ALL, System.SI, stop), None)
    assert step is not None
    return step


def test_static_or_loss_is_split_by_a_reading_at_rest() -> None:
    next_one = step(SCREEN, LEVEL)
    assert "at rest" in next_one.what
    assert next_one.stopped
    assert next_one.shows[0].startswith("with screen blocked: strainer: ")


def test_a_gauge_that_was_not_vented_is_vented_first() -> None:
    not_vented = replace(READING, gauge=replace(GAUGE, zero=None))
    next_one = step(OFF, SCREEN, not_vented)
    assert "vent the gauge" in next_one.what
    assert ("5.0 kPa" in next_one.shows[0], "zero" in next_one.shows[1]) == (True, True)


def test_a_screen_and_a_bore_behind_it_are_split_by_a_tap() -> None:
    fine = replace(WARM, gauge=GAUGE)
    read = (fine, replace(fine, resting=True))
    narrow = cause(CauseKind.BORE, 0.52, "riser")
    asked = next(next_steps(read, BLOCKED, narrow, WITHIN, System.SI, False), None)
    assert asked is not None
    assert "tap" in asked.what or "speed" in asked.what


def test_a_breather_is_split_by_the_filler_cap_unless_the_pump_must_stop() -> None:
    breather = cause(CauseKind.SURFACE, 5e3, "tank")
    assert "never on a pressurised tank" in step(breather, SCREEN).what
    stopped = step(breather, SCREEN, stop=True)
    assert stopped.stopped
    assert stopped.shows[0].endswith("air rushes in")
    again = next(next_steps((READING,), breather, SCREEN, ALL, System.SI, False, {Trial.CAP}), None)
    assert again is None or "cap" not in again.what


def test_a_breather_that_takes_less_than_the_gauge_may_be_off_is_not_tried_by_that_gauge() -> None:
    slight = cause(CauseKind.SURFACE, 0.5 * READING.gauge.error, "tank")
    asked = [each.what for each in next_steps((READING,), slight, SCREEN, ALL, System.SI, False)]
    assert not any("filler cap" in what for what in asked)
    stopped = next(next_steps((READING,), slight, SCREEN, ALL, System.SI, True))
    assert "listen" in stopped.what  # air that rushes in needs no gauge


@pytest.mark.parametrize("changed", [{"sealed": True}, {"pressure": quantity("0.3 bar", Kind.PRESSURE)}])
def test_the_filler_of_a_tank_under_pressure_is_never_to_be_opened(changed: dict[str, object]) -> None:
    tank = replace(DRAWN.reservoirs["tank"], breather_drop=None, **changed)  # type: ignore[arg-type]
    pressed = replace(READING, layout=replace(DRAWN, reservoirs={"tank": tank}))
    breather = cause(CauseKind.SURFACE, 5e3, "tank")
    vortex, back = cause(CauseKind.VORTEX, 0.0), cause(CauseKind.RETURN, 0.0)
    for one, other in ((breather, SCREEN), (vortex, back)):
        for asked in next_steps((pressed,), one, other, ALL, System.SI, False, {Trial.JAR}):
            assert "filler" not in asked.what


def test_a_reading_at_rest_is_not_asked_for_to_tell_a_breather_from_a_level() -> None:
    """Its tank may hold its vacuum for minutes, and then the reading is that of a lower level."""
    breather = cause(CauseKind.SURFACE, 5e3, "tank")
    asked = [step.what for step in next_steps((READING,), breather, LEVEL, ALL, System.SI, False)]
    assert "open the filler cap" in asked[0]
    assert AT_REST not in asked


def test_above_the_allowed_nothing_needs_the_pump_at_full_speed() -> None:
    for one, other in ((SCREEN, LEVEL), (SCREEN, NARROW)):
        for step in next_steps((READING,), one, other, ALL, System.SI, True):
            assert step.stopped or "speed" in step.what


def test_nothing_is_asked_for_that_would_put_the_port_above_what_is_allowed() -> None:
    valve = cause(CauseKind.RESISTANCE, 55.0, "isolator")
    read = (WARM, replace(WARM, resting=True))
    cold = inputs.temperature(ON_OIL, ("",), ON_OIL.fluid.temperature.si - COLDER, Level.MINIMUM)
    blocked = prediction.at(changed(build(cold), [(SCREENS, BLOCKED.size)]), replace(WARM, layout=cold))
    assert blocked > solve(cold).pumps["caster"].allowed_vacuum
    asked, *others = next_steps(read, BLOCKED, valve, WITHIN, System.SI, False)
    assert not any("fluid at" in each.what for each in (asked, *others))
    assert "riser, at its end" in asked.what, "its start is in the tank"


def test_what_splits_them_too_follows_the_cheapest_and_shows_something_else_under_each() -> None:
    """At rest a gauge that is off shows, and a blocked screen does not; nor does that at a lower speed."""
    read = replace(WARM, gauge=replace(WARM.gauge, zero=None))
    off = cause(CauseKind.OFFSET, 5e3, WARM.gauge.name)
    steps = list(next_steps((read,), BLOCKED, off, WITHIN, System.SI, False))
    assert [step.what for step in steps[:2]] == [VENT, AT_REST]
    assert len({step.what for step in steps}) == len(steps) > 1
    assert sum(step.at_tap for step in steps) <= 1, "one tap of all"
    for step in steps:
        under = [shows.rpartition(": ")[2] for shows in step.shows]
        assert under[0] != under[1], step.what


def test_two_causes_that_read_alike_everywhere_are_split_by_nothing() -> None:
    assert next(next_steps((READING,), SCREEN, SCREEN, ALL, System.SI, False), None) is None


@pytest.mark.parametrize("system", System)
def test_figures_stand_in_the_units_of_the_drawing(system: System) -> None:
    step = next(next_steps((READING,), SCREEN, LEVEL, ALL, system, False), None)
    assert step is not None
    assert ("kPa" if system is System.SI else "inHg") in step.shows[0]


def test_where_no_cause_explains_the_cheapest_is_asked_first_and_something_always() -> None:
    not_vented = replace(READING, gauge=replace(GAUGE, zero=None))
    assert "vent the gauge" in next(narrowing((not_vented,), System.SI, False)).what
    rest = next(narrowing((READING,), System.SI, False))
    assert "at rest" in rest.what
    assert rest.shows[0].split(", as drawn: ")[1].startswith("what is wrong takes pressure only while")
    both = (READING, replace(READING, resting=True))
    tap = next(narrowing(both, System.SI, False))
    assert "tap on" in tap.what
    assert (tap.stopped, next(narrowing(both, System.SI, True)).stopped) == (False, True)


def test_of_readings_at_rest_alone_no_part_of_the_line_is_suspected() -> None:
    """Nothing flows at rest: what is off is the level, the gauge, or the pressure in the tank."""
    resting = replace(READING, resting=True)
    asked = [step.what for step in narrowing((resting,), System.SI, False)]
    assert [each.split()[0] for each in asked] == ["Read", "Open", "Read"]
    assert asked[0].startswith("Read the level in tank")
    assert not any("tap" in each for each in asked)
    assert not any("cap" in step.what for step in narrowing((resting,), System.SI, False, {Trial.CAP}))


def test_every_tap_read_leaves_the_line_to_be_held_against_the_drawing() -> None:
    readings = [READING, replace(READING, resting=True)]
    asked = []
    for _ in range(12):
        step = next(narrowing(readings, System.SI, False))
        if "tap on" not in step.what:
            break
        asked.append(step.what)
        run, end = step.what.removeprefix("Read a second gauge at a tap on ").split(", at its ")
        along = 0.0 if end == "start" else places.length(DRAWN, run)
        readings.append(replace(READING, place=Place("carriage", run, along)))
    assert len(set(asked)) == len(asked) > 1
    assert "compare the line with the drawing" in step.what
