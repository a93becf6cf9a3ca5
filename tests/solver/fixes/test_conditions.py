"""Changes of what runs through the line and of what stands on it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import conditions
from solver.fixes.candidate import Candidate, FixKind
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
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
    assert slower.describe(20.0, System.SI) == "turn carriage at 1200 rpm"


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
    assert (warm.now, warm.most) == (pytest.approx(318.15), pytest.approx(318.15 + conditions.WARMEST))
    assert solve(warm.edit(layout, 328.15)).fluid.temperature == pytest.approx(328.15)
    one = riser(RISER.replace("[reservoirs.tank]", 'viscosity = "46 cSt"\n\n[reservoirs.tank]'))
    assert found(one, FixKind.TEMPERATURE) == []


def test_the_coldest_start_is_warmed_no_further_than_the_drawing_runs() -> None:
    layout = riser(RISER.replace("[reservoirs.tank]", 'coldest_start = "0 degC"\n\n[reservoirs.tank]'))
    assert judged(layout).case == "coldest start"
    (warm,) = found(layout, FixKind.TEMPERATURE)
    assert (warm.now, warm.most) == (pytest.approx(273.15), pytest.approx(318.15))
    assert warm.edit(layout, 283.15).fluid.coldest_start.si == pytest.approx(283.15)


def with_tank(**changes: object) -> Layout:
    layout = riser()
    return replace(layout, reservoirs={"tank": replace(layout.reservoirs["tank"], **changes)})


def test_pressure_on_the_fluid_is_gained_to_the_last_pascal() -> None:
    layout = riser()
    (pressed,) = found(layout, FixKind.PRESSURE)
    assert (pressed.now, pressed.most) == (0.0, 35e3)
    after = pressed.edit(layout, 7000.0)
    assert line(after).margin - line(layout).margin == pytest.approx(7000.0)


def test_no_pressure_is_put_on_a_tank_that_is_sealed_or_has_as_much_as_it_may() -> None:
    assert found(with_tank(sealed=True), FixKind.PRESSURE) == []
    assert found(with_tank(pressure=quantity("35 kPa", Kind.PRESSURE)), FixKind.PRESSURE) == []


def test_a_breather_that_takes_something_gives_place_to_one_that_does_not() -> None:
    layout = with_tank(breather_drop=quantity("2 kPa", Kind.PRESSURE))
    (freed,) = found(layout, FixKind.PRESSURE)
    assert freed.describe(1.0, System.SI).startswith("fit a breather to tank")
    assert line(freed.edit(layout, 1.0)).surface - line(layout).surface == pytest.approx(2000.0)
