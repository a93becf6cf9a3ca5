"""Changes of what runs through the line, and how."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import conditions
from solver.fixes.candidate import Candidate, FixKind
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, System, quantity
from tests.drawings import RISER
from tests.solver.fixes.examples import judged, line, of_kind, riser


def found(layout: Layout, kind: FixKind) -> list[Candidate]:
    every = [*conditions.thinner(layout), *conditions.candidates(layout, judged(layout))]
    return of_kind(every, kind)


def test_a_slower_pump_takes_less_flow_in_proportion() -> None:
    layout = riser()
    (slower,) = found(layout, FixKind.SPEED)
    assert slower.now == pytest.approx(1450 / 60)
    assert slower.most == pytest.approx(0.6 * 1450 / 60)
    after = slower.edit(layout, 0.8 * slower.now)
    assert line(after).flow == pytest.approx(0.8 * line(layout).flow)
    assert slower.describe(20.0, System.SI) == "run carriage at 1200 rpm"


def test_a_pump_without_a_speed_runs_at_less_flow() -> None:
    text = RISER.replace('displacement = "82 cm^3/rev"\nspeed = "1450 rpm"', 'flow = "100 L/min"')
    layout = riser(text.partition("[alternatives")[0])
    (slower,) = found(layout, FixKind.SPEED)
    assert slower.enough_unit is Kind.FLOW
    assert line(slower.edit(layout, 1e-3)).flow == pytest.approx(1e-3)


def test_a_flow_that_overrides_the_speed_is_what_is_lessened() -> None:
    layout = riser(RISER.replace('speed = "1450 rpm"', 'speed = "1450 rpm"\nflow = "100 L/min"'))
    (slower,) = found(layout, FixKind.SPEED)
    assert slower.enough_unit is Kind.FLOW
    assert line(slower.edit(layout, 1e-3)).flow == pytest.approx(1e-3)


def test_the_two_thinner_grades_of_the_family_are_offered_and_no_thicker_one() -> None:
    layout = riser()
    names = [
        each.edit(layout, size).fluid.name for each in found(layout, FixKind.FLUID) for size in each.sizes
    ]
    assert names[:2] == ["Mineral oil, ISO VG 32", "Mineral oil, ISO VG 22"]
    assert all(name.startswith("High-VI oil") and name.endswith("VG 46") for name in names[2:])


@pytest.mark.parametrize("typed", ['viscosity = "46 cSt"', "viscosity_index = 100"])
def test_for_a_fluid_with_figures_of_its_own_no_other_is_known(typed: str) -> None:
    layout = riser(RISER.replace("[reservoirs.tank]", f"{typed}\n\n[reservoirs.tank]"))
    assert found(layout, FixKind.FLUID) == []


def test_an_oil_is_warmed_and_not_cooled_and_one_viscosity_says_nothing_of_either() -> None:
    layout = riser()
    (warm,) = found(layout, FixKind.TEMPERATURE)
    assert (warm.now, warm.most) == (pytest.approx(318.15), pytest.approx(conditions.HOTTEST_START))
    assert solve(warm.edit(layout, 328.15)).fluid.temperature == pytest.approx(328.15)
    one = riser(RISER.replace("[reservoirs.tank]", 'viscosity = "46 cSt"\n\n[reservoirs.tank]'))
    assert found(one, FixKind.TEMPERATURE) == []
    hot = replace(layout, fluid=replace(layout.fluid, temperature=Quantity("62 degC", 335.15)))
    assert found(hot, FixKind.TEMPERATURE) == [], "nobody heats a tank that is as hot"


def test_the_coldest_start_is_warmed_no_further_than_the_drawing_runs() -> None:
    layout = riser(RISER.replace("[reservoirs.tank]", 'coldest_start = "0 degC"\n\n[reservoirs.tank]'))
    assert judged(layout).case == "coldest start"
    (warm,) = found(layout, FixKind.TEMPERATURE)
    assert (warm.now, warm.most) == (pytest.approx(273.15), pytest.approx(318.15))
    assert warm.edit(layout, 283.15).fluid.coldest_start.si == pytest.approx(283.15)


CASED = """
[cases.faster]
pumps.carriage.speed = "1800 rpm"
"""


def test_a_pump_that_is_fast_in_a_case_is_slowed_down_in_that_case() -> None:
    layout = riser(RISER.replace("format = 1", "format = 2") + CASED)
    (slower,) = found(layout, FixKind.SPEED)
    assert slower.now == pytest.approx(1800 / 60)
    assert slower.describe(25.0, System.SI) == 'run carriage at 1500 rpm in the case "faster"'
    after = slower.edit(layout, 25.0)
    assert after.pumps["carriage"].speed == layout.pumps["carriage"].speed
    assert judged(after).ledger.flow == pytest.approx(82e-6 * 25)
    assert judged(after).case == "faster"


def test_a_cold_line_is_kept_as_warm_as_its_tank_at_most() -> None:
    fluid = replace(riser().fluid, line_temperature=quantity("5 degC", Kind.TEMPERATURE))
    layout = replace(riser(), fluid=fluid)
    (warmer,) = conditions.line_warmer(layout, judged(layout))
    assert (warmer.now, warmer.most) == (pytest.approx(278.15), pytest.approx(318.15))
    assert "heat the line, so that it is at 20.0 °C" in warmer.describe(293.15, System.SI)
    after = judged(warmer.edit(layout, 293.15))
    assert after.solution.fluid.temperature == pytest.approx(293.15)
    assert after.margin > judged(layout).margin
    assert list(conditions.line_warmer(riser(), judged(riser()))) == []


@pytest.mark.parametrize("in_a_case", [True, False])
def test_a_flow_that_rises_more_slowly_asks_for_less(*, in_a_case: bool) -> None:
    rise = 'pumps.carriage.flow_rise = "0.1 s"'
    text = RISER.replace("format = 1", "format = 2")
    if in_a_case:
        layout = riser(f'{text}\n[cases."first stroke"]\n{rise}\n')
    else:
        layout = riser(text.replace('speed = "1450 rpm"', 'speed = "1450 rpm"\nflow_rise = "0.1 s"', 1))
    (softer,) = conditions.softer_start(layout, judged(layout))
    when = ' in the case "first stroke"' if in_a_case else ""
    assert softer.describe(0.5, System.SI) == f"let the flow of carriage rise in 0.50 s{when}"
    after = judged(softer.edit(layout, 0.5))
    assert after.margin > judged(layout).margin + 1000
    assert after.solution.layout.pumps["carriage"].flow_rise.si == pytest.approx(0.5)
    assert list(conditions.softer_start(riser(), judged(riser()))) == []
