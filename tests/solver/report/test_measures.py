"""What an alternative has to be provided with, in the units asked for, and nothing that did not change."""

from dataclasses import replace

import pytest

from solver.layout.file import parse
from solver.layout.parts import Layout
from solver.properties.fluid import state
from solver.quantities.units import Kind, Quantity, System, quantity, typeset
from solver.report.measures import measures
from tests import drawings


@pytest.fixture
def before() -> Layout:
    return parse(drawings.RISER).base


def test_nothing_where_nothing_changes(before: Layout) -> None:
    assert measures(before, before) == ()


def test_a_warmer_start_takes_a_heater_and_a_colder_one_nothing(before: Layout) -> None:
    warmer, colder = (
        replace(before, fluid=replace(before.fluid, coldest_start=quantity(text, Kind.TEMPERATURE)))
        for text in ("60 degC", "1 degC")
    )
    assert "a heater that holds the fluid at 60.0 °C before every start" in measures(
        before, warmer, System.SI
    )
    assert "a heater that holds the fluid at 140 °F before every start" in measures(before, warmer, System.US)
    assert not any("heater" in each for each in measures(before, colder))


def test_a_higher_level_and_a_slower_pump(before: Layout) -> None:
    (tank,), (pump,) = before.reservoirs.values(), before.pumps.values()
    higher = replace(tank, minimum_level=quantity("0.9 m", Kind.ELEVATION))
    slower = replace(pump, flow=quantity("11 L/min", Kind.FLOW))
    after = replace(before, reservoirs={tank.name: higher}, pumps={pump.name: slower})
    assert f"a level switch at 0.900 m in {tank.name}" in measures(before, after, System.SI)
    assert f"{pump.name} run at 11.0 L/min" in measures(before, after, System.SI)


def test_a_tank_that_stands_higher_needs_a_platform_and_no_other_level_switch(before: Layout) -> None:
    (tank,) = before.reservoirs.values()

    def up(height: Quantity) -> Quantity:
        return quantity(f"{height.si + 1.2:.3f} m", Kind.ELEVATION)

    higher = replace(
        tank,
        outline=tuple((x, up(y)) for x, y in tank.outline),
        minimum_level=up(tank.minimum_level),
        normal_level=up(tank.normal_level),
    )
    provided = measures(before, replace(before, reservoirs={tank.name: higher}), System.SI)
    assert provided == (f"a platform that carries {tank.name} when it is full, 1.20 m higher",)


def test_a_thinner_fluid_is_asked_about_where_it_runs_hottest_and_a_thicker_one_is_not() -> None:
    (path,) = (each for each in drawings.SHIPPED if each.stem == "winter-press")
    winter = parse(path.read_text("utf-8")).base
    thin, thick = (
        replace(winter, fluid=replace(winter.fluid, name=f"Mineral oil, ISO VG {grade}"))
        for grade in (22, 68)
    )
    (said,) = measures(winter, thin, System.US)
    hot = state(thin.fluid, 333.15).viscosity
    assert f"whether {typeset(hot, Kind.VISCOSITY, System.US)} is thick enough at 140 °F" in said
    assert measures(winter, thick, System.US) == (
        "Mineral oil, ISO VG 68 in place of Mineral oil, ISO VG 46",
    )
