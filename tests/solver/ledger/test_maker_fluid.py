"""The fluid that a pump's maker has stated a limit for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.layout.parts import FluidChoice, Limit, Pump
from solver.ledger import limit, maker_fluid
from solver.properties import fluid
from solver.quantities import columns as figures
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import pump

FORTY_KPA = Limit("pressure", ((None, Quantity("40 kPa", 40e3)),))


def water(celsius: float) -> fluid.FluidState:
    return fluid.state(FluidChoice("Water", quantity(f"{celsius} degC", Kind.TEMPERATURE)))


def rated_on_water(kind: str = "gear") -> Pump:
    return replace(pump(), type=kind, limit=FORTY_KPA, rated_fluid="Water")


def floor(given: Pump, state: fluid.FluidState) -> limit.Floor:
    return limit.floor(given, state, 0.0, None, 1e-3)


def test_a_figure_for_the_fluid_counts_its_vapour_pressure_as_warm_as_pumps_are_tested() -> None:
    """Hot water asks for as much over its vapour pressure as cold water does; the floor was the larger of the
    two, so that a port just over boiling was within."""
    assert floor(rated_on_water(), water(50)).pressure == pytest.approx(40e3)
    assert not floor(rated_on_water(), water(50)).estimated
    hot = floor(rated_on_water(), water(85))
    over = water(85).vapor_pressure - water(50).vapor_pressure
    assert hot.pressure == pytest.approx(40e3 + over)
    assert hot.estimated
    assert hot.lines[-1].name == "vapour pressure"


def test_a_pump_for_water_is_tested_cold() -> None:
    given = rated_on_water("centrifugal")
    assert floor(given, water(40)).pressure == pytest.approx(40e3)
    over = water(85).vapor_pressure - water(40).vapor_pressure
    assert floor(given, water(85)).pressure == pytest.approx(40e3 + over)


def test_the_floor_rises_with_the_temperature_without_a_step() -> None:
    floors = [floor(rated_on_water(), water(celsius)).pressure for celsius in (20, 49.999, 50.001, 60, 95)]
    assert floors == sorted(floors)
    assert floors[2] - floors[1] < 1.0


def test_a_vapour_pressure_typed_for_any_temperature_stays_as_typed() -> None:
    choice = FluidChoice(
        "Brine", quantity("90 degC", Kind.TEMPERATURE), density=quantity("1100 kg/m^3", Kind.DENSITY),
        viscosity=quantity("1 cSt", Kind.VISCOSITY), vapor_pressure=quantity("30 kPa", Kind.PRESSURE),
    )  # fmt: skip
    state = fluid.state(choice)
    given = replace(rated_on_water(), rated_fluid="Brine")
    assert maker_fluid.rated_vapor(given, state) == 30e3
    assert floor(given, state).pressure == pytest.approx(40e3)


def test_a_limit_for_oil_counts_no_vapour_pressure() -> None:
    assert maker_fluid.rated_vapor(replace(pump(), limit=FORTY_KPA), water(85)) == 0.0


@pytest.mark.parametrize(
    ("density", "rated_fluid", "celsius", "counted"),
    [
        (1000, None, 40, True),
        (1000, "Water", 95, True),
        (1130, None, 40, False),
        (1082, None, 20, False),
        (940, None, 40, False),
        (1000, "Mineral oil, ISO VG 46", 40, False),
    ],
)
def test_a_limit_counts_the_vapour_of_a_fluid_as_heavy_as_the_maker_says_alone(
    density: float, rated_fluid: str | None, celsius: float, counted: bool
) -> None:
    """A limit that is stated for a phosphate ester, which gives off nothing, was taken to hold the vapour
    pressure of hot water."""
    heavy = quantity(f"{density} kg/m^3", Kind.DENSITY)
    given = replace(pump(), limit=FORTY_KPA, rated_density=heavy, rated_fluid=rated_fluid)
    vapor = maker_fluid.rated_vapor(given, water(celsius))
    assert vapor == (
        pytest.approx(min(water(celsius).vapor_pressure, water(50).vapor_pressure)) if counted else 0
    )


def test_whose_vapour_a_limit_counts_is_seen_for_each_variant() -> None:
    given = replace(pump(), limit=FORTY_KPA, rated_density=quantity("1030 kg/m^3", Kind.DENSITY))
    brine = FluidChoice(
        "Brine", quantity("20 degC", Kind.TEMPERATURE),
        density=Quantity("varied", figures.column(np.array([1030.0, 1100.0]))),
        viscosity=quantity("1 cSt", Kind.VISCOSITY), vapor_pressure=quantity("2 kPa", Kind.PRESSURE),
    )  # fmt: skip
    vapors = maker_fluid.rated_vapor(given, fluid.state(brine))
    assert list(figures.as_array(vapors)) == pytest.approx([2e3, 0.0])


def glycol(celsius: float) -> fluid.FluidState:
    return fluid.state(FluidChoice("Water-glycol (HFC)", quantity(f"{celsius} degC", Kind.TEMPERATURE)))


@pytest.mark.parametrize("density", [1000, 1020, 1060, 1110])
def test_the_floor_rises_without_a_step_whatever_density_is_stated(density: float) -> None:
    """A water-glycol grew as light as the stated density, within a share, while it warmed, and counted as the
    maker's own fluid from there on: its floor fell by 11 kPa."""
    given = replace(pump(), limit=FORTY_KPA, rated_density=quantity(f"{density} kg/m^3", Kind.DENSITY))
    states = [glycol(tenths / 10) for tenths in range(200, 601)]
    floors = [floor(given, each).pressure for each in states]
    for before, after, cold, warm in zip(floors, floors[1:], states, states[1:], strict=False):
        assert abs(after - before) <= 40e3 * 2e-4 + warm.vapor_pressure - cold.vapor_pressure


def test_a_stated_density_is_that_of_the_fluid_however_warm_it_runs() -> None:
    """Hot water of one typed density is still the water that the maker has tested the pump with."""
    given = replace(pump(), limit=FORTY_KPA, rated_density=quantity("1000 kg/m^3", Kind.DENSITY))
    hot = FluidChoice(
        "Water", quantity("90 degC", Kind.TEMPERATURE), density=quantity("965.3 kg/m^3", Kind.DENSITY)
    )
    assert maker_fluid.rated_vapor(given, fluid.state(hot)) == pytest.approx(water(50).vapor_pressure)
    assert maker_fluid.rated_vapor(given, glycol(60)) == 0.0
    own = replace(given, rated_density=quantity("1080 kg/m^3", Kind.DENSITY))
    assert maker_fluid.rated_vapor(own, glycol(60)) == pytest.approx(glycol(50).vapor_pressure)


def test_a_limit_stated_for_another_fluid_of_the_catalogue_is_corrected_from_that_fluid() -> None:
    """Water-glycol on a limit that is stated for water was corrected as if that had been a light oil."""
    given = replace(pump(), limit=FORTY_KPA, rated_fluid="Water")
    corrected = floor(given, glycol(40))
    expected = 40e3 * glycol(40).density / water(50).density + glycol(40).vapor_pressure
    assert corrected.pressure == pytest.approx(expected)
    assert corrected.estimated
    assert corrected.lines[1].note == "stated for Water"
    unknown = replace(given, rated_fluid="Somebody's oil")
    light = 40e3 * glycol(40).density / 850 + glycol(40).vapor_pressure
    assert floor(unknown, glycol(40)).pressure == pytest.approx(light)
    assert floor(replace(given, limit_assumed=True), glycol(40)).pressure == pytest.approx(light)


def test_a_density_is_stated_by_figure_or_by_fluid() -> None:
    assert maker_fluid.stated_density(pump(), water(20)) is None
    assert maker_fluid.stated_density(rated_on_water(), water(20)) == water(20).density
    typed = replace(pump(), rated_density=quantity("870 kg/m^3", Kind.DENSITY))
    assert maker_fluid.stated_density(typed, water(20)) == 870.0
    assert maker_fluid.assumed_density(pump(), water(20)) == 850.0
    assert maker_fluid.density_by_weight(water(20)) is not None
    assert maker_fluid.density_correction(typed, water(20)).value == pytest.approx(water(20).density / 870)
    assert not maker_fluid.holds_for(replace(rated_on_water(), limit_assumed=True), "Water")


@pytest.mark.parametrize("kind", ["centrifugal", "reciprocating"])
def test_a_pump_for_water_is_rated_on_water(kind: str) -> None:
    """ISO 9906 (2012), from memory: pumps for water are tested with clean cold water. Water as warm as the
    standard calls cold asks for no more than the maker's figure; hot water asks for its vapour besides."""
    given = replace(pump(), type=kind, limit=FORTY_KPA)
    assert floor(given, water(4)).pressure == pytest.approx(40e3)
    assert not floor(given, water(20)).estimated
    over = water(85).vapor_pressure - water(40).vapor_pressure
    assert floor(given, water(85)).pressure == pytest.approx(40e3 + over)


def test_a_heavier_fluid_in_a_pump_for_water_is_compared_with_water() -> None:
    choice = FluidChoice(
        "Brine", quantity("20 degC", Kind.TEMPERATURE), density=quantity("1200 kg/m^3", Kind.DENSITY),
        viscosity=quantity("1 cSt", Kind.VISCOSITY), vapor_pressure=quantity("2 kPa", Kind.PRESSURE),
    )  # fmt: skip
    given = replace(pump(), type="centrifugal", limit=FORTY_KPA)
    brine = floor(given, fluid.state(choice))
    assert brine.pressure == pytest.approx(40e3 * 1.2 + 2e3)
    assert brine.estimated
    assert "cold water" in brine.lines[1].note


def test_a_pump_for_oil_or_a_figure_said_to_be_for_oil_stays_strict() -> None:
    strict = 40e3 * water(20).density + 850 * water(20).vapor_pressure
    assert floor(replace(pump(), limit=FORTY_KPA), water(20)).pressure == pytest.approx(strict / 850)
    oil = "Mineral oil, ISO VG 46"
    named = replace(pump(), type="centrifugal", limit=FORTY_KPA, rated_fluid=oil)
    warm = fluid.state(FluidChoice(oil, quantity("40 degC", Kind.TEMPERATURE))).density
    assert floor(named, water(20)).pressure == pytest.approx(
        40e3 * water(20).density / warm + water(20).vapor_pressure
    )
    assumed = replace(pump(), type="centrifugal", limit=FORTY_KPA, limit_assumed=True)
    assert floor(assumed, water(20)).pressure == pytest.approx(40e3 + water(20).vapor_pressure)


def test_a_figure_that_holds_by_the_name_of_the_fluid_says_so() -> None:
    """Named so, nothing is added for the weight of the fluid: 40 kPa, and 47 kPa with none stated."""
    unstated = replace(pump(), type="gear", limit=FORTY_KPA)
    assert floor(rated_on_water(), water(50)).pressure < floor(unstated, water(50)).pressure
    assert floor(rated_on_water(), water(50)).lines[0].note.endswith("absolute, counted as stated for Water")
    assert "counted as stated" not in floor(unstated, water(50)).lines[0].note
    assumed = replace(rated_on_water(), limit_assumed=True)
    assert "counted as stated" not in floor(assumed, water(50)).lines[0].note
