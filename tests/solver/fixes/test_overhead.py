"""A tank over the pump, or a charge pump: what the ledgers say is held to a drawing solved with it."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from solver.findings.criteria import criteria_of
from solver.fixes.fixes import Advice, advise
from solver.fixes.judging import judged_pump
from solver.fixes.overhead import Overhead, overhead
from solver.formulas.symbols import GRAVITY
from solver.layout.parts import Layout, Limit
from solver.ledger.cases import solve_cases
from solver.quantities.units import Kind, Quantity, System, quantity
from solver.report import changes
from tests.drawings import drawing, intake, pump, run
from tests.solver.checking import with_fluid


def hungry(floor: float) -> Layout:
    """A pump over its tank that needs so much at its port [Pa], and starts cold."""
    limit = Limit("pressure", ((None, Quantity(f"{floor!r} Pa", floor)),))
    line = drawing(intake(), replace(pump(), limit=limit), run("riser", "strainer", "pump"))
    return with_fluid(line, coldest_start=Quantity("20 degC", 293.15))


@cache
def advice() -> Advice:
    return advise(hungry(190e3), "pump")


def judged(layout: Layout):
    return judged_pump(layout, solve_cases(layout), "pump")


def test_a_pump_that_needs_more_than_the_atmosphere_gives_is_answered_from_above():
    now = advice().now
    assert now.ledger.budget < 0
    needed = advice().overhead
    assert needed is not None
    thin = criteria_of(now.solution.layout).thin_pressure
    assert needed.pressure == pytest.approx(190e3 + thin)
    assert needed.gauge == pytest.approx(190e3 + thin - now.solution.atmosphere)
    pressed = hungry(190e3)
    ledger = now.ledger
    (name, tank), *_ = pressed.reservoirs.items()
    more = (needed.height - ledger.flooded_head) * ledger.density * GRAVITY
    held = replace(tank, pressure=Quantity(f"{more!r} Pa", more))
    after = judged(replace(pressed, reservoirs={**pressed.reservoirs, name: held}))
    assert after.sound
    assert after.margin == pytest.approx(thin, abs=1.0)
    assert after.ledger.inlet == pytest.approx(needed.pressure, abs=1.0)


def test_the_words_have_every_figure_and_stand_with_the_fixes():
    needed = advice().overhead
    text = needed.sentence(System.SI)
    assert text in "\n".join(line for line, _ in changes.lines(advice(), System.SI))
    assert any(text in line for line in changes.brief_lines(advice(), System.SI))
    assert "over the port" in text
    assert "a tank is out of reach" in text
    assert "1.70 kPa of that is kept over what the pump needs, so that the margin is not thin" in text
    assert "120 L/min" in text
    assert "Ask the pump's maker" in text


def test_nothing_of_the_kind_where_a_change_is_enough_or_none_is_needed():
    assert advise(hungry(20e3), "pump").overhead is None
    cure = replace(advice().fixes[0], cures=True)
    assert replace(advice(), fixes=(cure,)).overhead is None
    assert replace(advice(), fixes=(replace(cure, only="Only with a tank built for it"),)).overhead


def test_a_limit_that_nobody_knows_has_no_answer():
    now = advice().now
    unknown = {
        name: replace(solution, pumps={"pump": replace(solution.pumps["pump"], limit_reaches=False)})
        for name, solution in now.solutions.items()
    }
    assert overhead(replace(now, solutions=unknown)) is None


@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize("height", [1.2349, 0.7349, -0.7349, -0.7351])
def test_what_is_said_to_be_enough_is_so_to_its_last_digit(system: System, height: float) -> None:
    """Rounded to the nearest digit, half of such figures would be a little less than is needed."""
    needed = Overhead(height, 190_234.0, 88_917.0, 0.0033374, 5_000.0)
    text = needed.in_short(system)
    stands, side = re.findall(r"(?:less|more) than ([\d.]+ \w+) (over|under)", text)[0]
    gives, pressure, gauge = re.findall(
        r"gives ([\d.]+ [\w/]+) and keeps at least ([\d.]+ \w+) abs at the port \(([\d.]+ \w+) on", text
    )[0]
    said = quantity(stands, Kind.LENGTH).si * (1.0 if side == "over" else -1.0)
    assert height - 1e-9 <= said <= height + 0.011
    assert needed.flow <= quantity(gives, Kind.FLOW).si <= 1.01 * needed.flow
    assert needed.pressure - 1e-6 <= quantity(pressure, Kind.PRESSURE).si <= 1.01 * needed.pressure
    assert needed.gauge - 1e-6 <= quantity(gauge, Kind.PRESSURE).si <= 1.01 * needed.gauge
