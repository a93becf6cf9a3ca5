"""The fluid at a temperature: catalogue, typed figures, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from solver.formulas.record import Recorder
from solver.layout.parts import FluidChoice
from solver.properties import families, fluid
from solver.properties.fluid import FluidError
from solver.properties.viscosity import CENTISTOKE
from solver.quantities.units import Kind, System, quantity
from tests.solver.properties.states import OIL, choice, pairs, state

FAMILIES = list(families.catalogue())


def test_the_choices_own_temperature_is_the_default() -> None:
    assert state(temperature="45 degC") == fluid.state(choice(), 318.15)


def test_typed_density_is_at_15_degrees_and_follows_the_family() -> None:
    assert state(temperature="15 degC", density=quantity("877 kg/m^3", Kind.DENSITY)).density == 877
    warm = state(temperature="60 degC", density=quantity("877 kg/m^3", Kind.DENSITY)).density
    assert warm == pytest.approx(848.5, abs=0.3)
    glycol = state("Water-glycol (HFC)", "60 degC", density=quantity("1070 kg/m^3", Kind.DENSITY))
    assert glycol.density == pytest.approx(1070 * 1050 / 1082)


def test_one_pair_holds_at_every_temperature_and_several_are_interpolated() -> None:
    one = pairs(Kind.DENSITY, ("60 degF", "62.37 lb/ft^3"))
    assert state("Water", "4 degC", density=one).density == state("Water", "90 degC", density=one).density
    two = pairs(Kind.DENSITY, ("80 degC", "840 kg/m^3"), ("0 degC", "880 kg/m^3"))
    assert state(temperature="20 degC", density=two).density == pytest.approx(870)
    with pytest.raises(FluidError, match="hold from 0 °C to 80 °C"):
        state(temperature="-1 degC", density=two)


def test_a_single_viscosity_holds_at_every_temperature() -> None:
    thick = quantity("100 cSt", Kind.VISCOSITY)
    assert state(temperature="0 degC", viscosity=thick).viscosity == pytest.approx(100e-6)
    assert state(temperature="90 degC", viscosity=thick).viscosity == pytest.approx(100e-6)


def test_an_index_alone_keeps_the_grade() -> None:
    high = choice(viscosity_index=150.0)
    assert fluid.state(high).viscosity * 1e6 == pytest.approx(46)
    assert fluid.state(high, 273.15).viscosity < fluid.state(choice(), 273.15).viscosity


def test_one_viscosity_takes_its_familys_index() -> None:
    point = pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"))
    assert state(temperature="0 degC", viscosity=point).viscosity == pytest.approx(
        state(temperature="0 degC").viscosity
    )


def test_vapor_pressure_as_typed() -> None:
    assert state(vapor_pressure=quantity("0.5 psi", Kind.PRESSURE)).vapor_pressure == pytest.approx(
        3447.4, abs=0.1
    )
    two = pairs(Kind.PRESSURE, ("20 degC", "1 kPa"), ("60 degC", "9 kPa"))
    # Linear in ln p over 1/T lies above the geometric mean of an equal step in T.
    assert 3000 < state(vapor_pressure=two).vapor_pressure < 3400


def test_a_fluid_of_the_users_own() -> None:
    benzene = choice(
        "Benzene",
        density=pairs(Kind.DENSITY, ("100 degF", "54 lb/ft^3")),
        viscosity=quantity("0.6 cSt", Kind.VISCOSITY),
        vapor_pressure=quantity("3.8 psi", Kind.PRESSURE),
    )
    fluid_state = fluid.state(benzene, 800.0)
    assert (fluid_state.name, fluid_state.dissolved_air) == ("Benzene", 0.0)
    assert fluid_state.sources["dissolved_air"] == "none given: counted as 0"


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ({"name": "Unobtainium"}, "not in the catalogue"),
        ({"name": "Unobtainium", "density": quantity("1 kg/L", Kind.DENSITY)}, "not in the catalogue"),
        ({"viscosity": pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"), ("40 degC", "47 cSt"))}, "two figures"),
        ({"viscosity": pairs(Kind.VISCOSITY, ("40 degC", "6 cSt"), ("90 degC", "46 cSt"))}, "must fall"),
        ({"viscosity": quantity("46 cSt", Kind.VISCOSITY), "viscosity_index": 95.0}, "goes with one"),
        ({"viscosity": quantity("0 cSt", Kind.VISCOSITY)}, "above 0"),
        ({"density": quantity("0 kg/m^3", Kind.DENSITY)}, "above 0"),
        ({"name": "Water", "viscosity_index": 95.0}, "no viscosity index"),
        (
            {"name": "Water", "viscosity": pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"))},
            "needs a viscosity index",
        ),
        ({"viscosity": pairs(Kind.VISCOSITY, ("40 degC", "3 cSt")), "viscosity_index": 95.0}, "ASTM D2270"),
        ({"viscosity": pairs(Kind.VISCOSITY, ("40 degC", "0.1 cSt"), ("50 degC", "0.05 cSt"))}, "0.21"),
    ],
)
def test_refused(typed: dict[str, Any], text: str) -> None:
    with pytest.raises(FluidError, match=text) as error:
        state(**typed)
    assert error.value.part == "fluid"


def test_below_absolute_zero_is_refused() -> None:
    with pytest.raises(FluidError, match=r"−273\.15 °C is not above absolute zero"):
        fluid.state(choice(), 0.0)
    with pytest.raises(FluidError, match="absolute zero"):
        fluid.state(choice(), -1.0)


def test_a_refusal_is_read_in_either_system() -> None:
    with pytest.raises(FluidError) as refused:
        fluid.state(choice("Water"), 379.35)
    error = refused.value
    said = "Water: density at {}; its figures hold from {} to {}"
    assert str(error) == error.text == said.format("106.2 °C", "0 °C", "100 °C")
    assert error.text_in(System.SI) == error.text
    assert error.text_in(System.US) == said.format("223.2 °F", "32 °F", "212 °F")
    assert error.end_text(System.US) == "Water: figures for its density hold from 32 °F to 212 °F"


def test_every_temperature_that_a_refusal_quotes_follows_the_system() -> None:
    twice = pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"), ("40 degC", "47 cSt"))
    with pytest.raises(FluidError) as refused:
        state(viscosity=twice)
    assert refused.value.text_in(System.US) == "two figures at 104 °F"
    thin = pairs(Kind.VISCOSITY, ("40 degC", "3 cSt"))
    with pytest.raises(FluidError) as refused:
        state(viscosity=thin, viscosity_index=95.0)
    assert "3 mm²/s at 104 °F:" in refused.value.text_in(System.US)


TYPED: dict[str, dict[str, Any]] = {
    "density": {"density": quantity("880 kg/m^3", Kind.DENSITY)},
    "densities": {"density": pairs(Kind.DENSITY, ("0 degC", "890 kg/m^3"), ("80 degC", "840 kg/m^3"))},
    "one density of a table": {"density": pairs(Kind.DENSITY, ("20 degC", "880 kg/m^3"))},
    "viscosity": {"viscosity": quantity("30 cSt", Kind.VISCOSITY)},
    "viscosities": {
        "viscosity": pairs(
            Kind.VISCOSITY, ("0 degC", "500 cSt"), ("40 degC", "50 cSt"), ("100 degC", "7 cSt")
        )
    },
    "viscosity and index": {
        "viscosity": pairs(Kind.VISCOSITY, ("50 degC", "30 cSt")),
        "viscosity_index": 110.0,
    },
    "vapour pressure": {"vapor_pressure": quantity("120 Pa", Kind.PRESSURE)},
    "vapour pressures": {"vapor_pressure": pairs(Kind.PRESSURE, ("0 degC", "50 Pa"), ("80 degC", "900 Pa"))},
    "vapour pressures from none": {
        "vapor_pressure": pairs(Kind.PRESSURE, ("0 degC", "0 Pa"), ("80 degC", "900 Pa"))
    },
    "air": {"dissolved_air": 0.07},
}


def _arrives(choice: FluidChoice, T: float) -> None:
    """Explaining a state leaves the steps that lead to its very figures, and needs no figure nobody gave."""
    state, recorder = fluid.state(choice, T), Recorder()
    state.explain(recorder)
    reached = {step.symbol.symbol: step for step in recorder.steps}
    unit = CENTISTOKE if reached["ν"].symbol.kind is None else 1.0
    assert reached["ρ"].value == state.density
    assert reached["ν"].value * unit == state.viscosity
    assert reached["p_v"].value == state.vapor_pressure
    assert reached["b"].value == state.dissolved_air
    assert all(
        step.worked or step.source or step.symbol.symbol[:2] in ("T_", "ν_") for step in recorder.steps
    )


@pytest.mark.parametrize("name", FAMILIES)
def test_the_steps_of_every_family_arrive_at_its_figures(name: str) -> None:
    family = families.catalogue()[name]
    for share in (0.0, 0.13, 0.5, 1.0):
        _arrives(choice(name), family.coldest + share * (family.hottest - family.coldest))


@pytest.mark.parametrize("name", [OIL, "Water-glycol (HFC)", "Water"])
@pytest.mark.parametrize("typed", TYPED)
def test_the_steps_of_typed_figures_arrive_too(name: str, typed: str) -> None:
    if "index" in typed and name != OIL:
        pytest.skip("an index is an oil's")
    for celsius in (5.0, 20.0, 40.0, 60.0):
        _arrives(choice(name, **TYPED[typed]), celsius + 273.15)


OWN = {"name": "House blend", "viscosity": (("40 degC", "46 cSt"), ("100 degC", "6.8 cSt"))}


def _own(temperature: str, **more: object) -> fluid.FluidState:
    points = pairs(Kind.VISCOSITY, *OWN["viscosity"])
    density = quantity("870 kg/m^3", Kind.DENSITY)
    return state(name="House blend", temperature=temperature, viscosity=points, density=density, **more)


def test_a_single_density_is_held_unless_the_fluid_is_a_petroleum_oil() -> None:
    for temperature in ("20 degC", "60 degC", "100 degC"):
        assert _own(temperature).density == 870.0
    oil = state(temperature="60 degC", density=quantity("870 kg/m^3", Kind.DENSITY))
    assert oil.density == pytest.approx(870.0 * (1 - 0.0325), rel=2e-3)  # API MPMS 11.1


@pytest.mark.parametrize("temperature", ["19.9 degC", "120.1 degC", "-50 degC"])
def test_a_typed_viscosity_is_not_carried_more_than_20_k_past_its_points(temperature: str) -> None:
    with pytest.raises(FluidError, match="20 °C to 120 °C"):
        _own(temperature)
    assert _own("20.1 degC").viscosity > _own("40 degC").viscosity


def test_below_a_stated_pour_point_nothing_is_judged() -> None:
    pours = quantity("30 degC", Kind.TEMPERATURE)
    with pytest.raises(FluidError, match="below its pour point"):
        _own("29 degC", pour_point=pours)
    assert _own("31 degC", pour_point=pours).viscosity == _own("31 degC").viscosity


@pytest.mark.parametrize("name", FAMILIES)
def test_a_fluid_is_known_to_both_ends_of_what_it_holds_for_and_no_farther(name: str) -> None:
    drawn = FluidChoice(name, quantity("40 degC", Kind.TEMPERATURE))
    coldest, hottest = fluid.held_range(drawn)
    assert fluid.state(drawn, coldest).density > fluid.state(drawn, hottest).density
    for beyond in (coldest - 0.01, hottest + 0.01):
        with pytest.raises(FluidError):
            fluid.state(drawn, beyond)


def test_the_pour_point_ends_what_a_fluid_holds_for() -> None:
    drawn = FluidChoice("Mineral oil, ISO VG 46", quantity("40 degC", Kind.TEMPERATURE))
    pours = replace(drawn, pour_point=quantity("-3 degC", Kind.TEMPERATURE))
    assert fluid.held_range(pours)[0] == quantity("-3 degC", Kind.TEMPERATURE).si
    assert fluid.held_range(replace(drawn, name="no such fluid")) == (0.0, math.inf)
