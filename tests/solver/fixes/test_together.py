"""Sets of changes: each kind with each other, none larger than needed; last resorts only at the last."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from solver.fixes.candidate import FixKind
from solver.fixes.conditions import temperatures
from solver.fixes.fixes import Advice, Fix, advise
from solver.fixes.judging import judge
from solver.fixes.search import FLAT, Line, best_size
from solver.layout import file
from solver.layout.kinds import LimitForm
from solver.layout.parts import Layout, Level, Limit
from solver.ledger.cases import solve_cases
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from solver.report import changes
from solver.report.choices import best_fix

STARVED = """
format = 2
[site]
elevation = "1400 m"
[fluid]
name = "Mineral oil, ISO VG 68"
temperature = "45 degC"
coldest_start = "2 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["1.2 m", "0 m"], ["1.2 m", "0.7 m"], ["0 m", "0.7 m"]]
depth = "0.6 m"
minimum_level = "0.40 m"
normal_level = "0.60 m"
[intakes.strainer]
reservoir = "tank"
at = ["0.3 m", "0.15 m"]
kind = "plain end"
size = "NPS 1-1/4 schedule 40"
[pumps.gear]
at = ["1.85 m", "1.6 m"]
size = "NPS 1-1/4 schedule 40"
type = "gear"
flow = "60 L/min"
limit = { vacuum = "5 inHg" }
[runs.suction]
from = "strainer"
to = "gear"
via = [["0.3 m", "1.0 m"], ["1.1 m", "1.0 m"], ["1.1 m", "1.6 m"]]
size = "NPS 1-1/4 schedule 40"
bend = "threaded elbow"
"""


@cache
def layout() -> Layout:
    return file.parse(STARVED).base


@cache
def advice() -> Advice:
    """Of a gear pump that is high over its tank, in a narrow line, and starts cold."""
    return advise(layout(), "gear")


def set_of(*kinds: FixKind) -> Fix:
    (fix,) = (fix for fix in advice().together if set(fix.kinds) == set(kinds))
    return fix


def least(drawn: Layout, *, start: float) -> float:
    """The least margin of the pump in all cases, started at a temperature [K] [Pa]."""
    coldest = quantity(f"{start - 273.15:.4f} degC", Kind.TEMPERATURE)
    started = replace(drawn, fluid=replace(drawn.fluid, coldest_start=coldest))
    solved = (case.solution for case in solve_cases(started).values())
    return min(each.pumps["gear"].margin for each in solved if each is not None)


@pytest.mark.thorough
def test_the_flooded_pump_in_a_larger_line_that_is_warmed_is_a_set() -> None:
    fix = set_of(FixKind.PLACE, FixKind.SIZE, FixKind.TEMPERATURE)
    runs = [run.size for run in fix.layout.runs.values()]
    assert runs
    assert set(runs) == {"NPS 2-1/2 schedule 40"}, "the line that is laid anew is the larger one"
    assert solve(fix.layout).pumps["gear"].entries[0].lift < 0, "the pump is flooded"
    assert fix.cures
    assert fix.spare >= 0


@pytest.mark.thorough
def test_a_set_is_warmed_to_what_is_enough_and_says_what_is_just_enough() -> None:
    fix = set_of(FixKind.PLACE, FixKind.SIZE, FixKind.TEMPERATURE)
    measured, _, degrees = fix.just_enough.partition(" at ")
    assert measured == "fluid"
    enough = quantity(degrees, Kind.TEMPERATURE).si
    assert least(fix.layout, start=enough - 1.0) < 0 < least(fix.layout, start=enough + 1.0)
    warmed = fix.layout.fluid.coldest_start
    assert warmed is not None
    assert enough < warmed.si < layout().fluid.temperature.si, "no warmer than is ample"
    assert fix.ample.startswith("fluid at ")


def test_a_set_that_makes_nothing_worse_stands_before_one_that_does() -> None:
    harmed = [bool(fix.worsens) for fix in advice().together]
    assert harmed == sorted(harmed)
    left_cold = "while the line is still at"  # every set that is enough here warms the tank
    assert all(left_cold in text for text in advice().together[0].worsens)


def test_last_resorts_stand_last_under_what_they_ask_for() -> None:
    last = [fix for fix in advice().fixes if fix.only]
    assert last == list(advice().fixes)[-len(last) :]
    texts = [text for text, _ in changes.lines(advice(), System.SI)]
    heading = texts.index("Only with a tank built for it:")
    assert texts[heading + 1].startswith("Hold ")
    assert texts.index("Only with a tank heated far beyond what is usual before a start:") > heading


def test_no_tank_is_pressed_while_another_set_is_enough() -> None:
    assert advice().together
    assert not any(FixKind.PRESSURE in fix.kinds for fix in advice().together)
    best = best_fix(advice())
    assert best is not None
    assert best.only == ""
    pressed = next(fix for fix in advice().fixes if FixKind.PRESSURE in fix.kinds)
    fixes, enough = (replace(pressed, cures=True, spare=1e5), *advice().fixes), replace(best, stops=())
    single = replace(advice(), fixes=fixes, together=(enough,))
    assert best_fix(single) == enough, "however much margin the pressure gives"
    assert best.stops, "its line is still cold at the start"
    assert best_fix(replace(single, together=(best,))) == fixes[0], "what brings a stop is not enough"


@pytest.mark.thorough
def test_a_tank_is_pressed_where_nothing_else_is_enough() -> None:
    high = replace(layout().site, elevation=quantity("3000 m", Kind.ELEVATION))
    limit = Limit(LimitForm.PRESSURE, ((None, quantity("0.85 bar", Kind.PRESSURE)),))
    pumps = {"gear": replace(layout().pumps["gear"], limit=limit)}
    together = advise(replace(layout(), site=high, pumps=pumps), "gear").together
    assert together
    assert all(fix.only == "Only with a tank built for it" for fix in together)
    assert together[0].cures


@pytest.mark.parametrize("kinds", [(FixKind.PLACE, FixKind.SIZE, FixKind.TEMPERATURE)])
def test_a_set_gains_what_it_says(kinds: tuple[FixKind, ...]) -> None:
    fix = set_of(*kinds)
    start = fix.layout.fluid.coldest_start
    assert start is not None
    assert least(fix.layout, start=start.si) == pytest.approx(fix.margin, abs=0.5)


def test_the_fluid_is_warmed_no_further_than_another_case_lets_it_help() -> None:
    drawn = file.parse(f'{STARVED}[cases."low day"]\nsite.weather_allowance = "4 kPa"\n').base
    line = Line(drawn, judge(drawn, "gear", Level.MINIMUM), Level.MINIMUM)
    (warmer,) = temperatures(drawn, line.now)
    best = best_size(warmer, line)
    assert best is not None
    size, after = best
    hottest = line.after(warmer.edit(drawn, warmer.most))
    assert hottest.case == "low day"
    assert size < warmer.most - 1.0
    assert after.margin == pytest.approx(hottest.margin, abs=FLAT)
    assert line.after(warmer.edit(drawn, size - 2.0)).margin < after.margin - FLAT
