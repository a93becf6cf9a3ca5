"""The fluid at a temperature: catalogue, typed figures, and what is refused."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas.record import Recorder
from solver.layout.parts import FluidChoice
from solver.properties import families, fluid
from solver.properties.fluid import FluidError
from solver.properties.viscosity import CENTISTOKE, walther_line
from solver.quantities.units import Kind, Quantity, System, quantity

OIL = "Mineral oil, ISO VG 46"


def _pairs(kind: Kind, *points: tuple[str, str]) -> tuple[tuple[Quantity, Quantity], ...]:
    return tuple((quantity(at, Kind.TEMPERATURE), quantity(value, kind)) for at, value in points)


def _choice(name: str = OIL, temperature: str = "40 degC", **typed: Any) -> FluidChoice:
    return FluidChoice(name, quantity(temperature, Kind.TEMPERATURE), **typed)


def _state(name: str = OIL, temperature: str = "40 degC", **typed: Any) -> fluid.FluidState:
    return fluid.state(_choice(name, temperature, **typed))


FAMILIES = list(families.catalogue())


@pytest.mark.parametrize("name", FAMILIES)
def test_a_source_says_in_a_reader_s_words_what_was_not_checked(name: str) -> None:
    sources = fluid.state(_choice(name), families.catalogue()[name].coldest).sources
    assert not any("memory" in source for source in sources.values())
    for figure, source in sources.items():
        if "handbooks" in source or "typical" in source:
            assert "unverified" in source, figure


@pytest.mark.parametrize("name", FAMILIES)
def test_every_family_holds_over_its_whole_range(name: str) -> None:
    family = families.catalogue()[name]
    steps = [family.coldest + (family.hottest - family.coldest) * i / 40 for i in range(41)]
    states = [fluid.state(_choice(name), T) for T in steps]
    assert set(states[0].sources) == {"density", "viscosity", "vapor_pressure", "dissolved_air"}
    assert all(states[0].sources.values())
    for colder, warmer in pairwise(states):
        assert colder.viscosity > warmer.viscosity > 0
        assert 700 < warmer.density < colder.density * 1.0002  # water is densest at 4 °C
        assert warmer.vapor_pressure >= colder.vapor_pressure >= 0
        assert 0 < warmer.dissolved_air < 0.1


@pytest.mark.parametrize("name", FAMILIES)
def test_every_family_refuses_a_temperature_outside_its_range(name: str) -> None:
    family = families.catalogue()[name]
    for T in (family.coldest - 0.1, family.hottest + 0.1):
        with pytest.raises(FluidError, match="figures hold from"):
            fluid.state(_choice(name), T)


@pytest.mark.parametrize(
    ("grade", "name"), [(g, f"Mineral oil, ISO VG {g}") for g in (15, 22, 32, 46, 68, 100)]
)
def test_a_grade_is_its_viscosity_at_40_degrees(grade: int, name: str) -> None:
    assert _state(name).viscosity * 1e6 == pytest.approx(grade, rel=1e-12)


def test_the_choices_own_temperature_is_the_default() -> None:
    assert _state(temperature="45 degC") == fluid.state(_choice(), 318.15)


def test_typed_density_is_at_15_degrees_and_follows_the_family() -> None:
    assert _state(temperature="15 degC", density=quantity("877 kg/m^3", Kind.DENSITY)).density == 877
    warm = _state(temperature="60 degC", density=quantity("877 kg/m^3", Kind.DENSITY)).density
    assert warm == pytest.approx(848.5, abs=0.3)
    glycol = _state("Water-glycol (HFC)", "60 degC", density=quantity("1070 kg/m^3", Kind.DENSITY))
    assert glycol.density == pytest.approx(1070 * 1050 / 1082)


def test_one_pair_holds_at_every_temperature_and_several_are_interpolated() -> None:
    one = _pairs(Kind.DENSITY, ("60 degF", "62.37 lb/ft^3"))
    assert _state("Water", "4 degC", density=one).density == _state("Water", "90 degC", density=one).density
    two = _pairs(Kind.DENSITY, ("80 degC", "840 kg/m^3"), ("0 degC", "880 kg/m^3"))
    assert _state(temperature="20 degC", density=two).density == pytest.approx(870)
    with pytest.raises(FluidError, match="hold from 0 °C to 80 °C"):
        _state(temperature="-1 degC", density=two)


def test_a_single_viscosity_holds_at_every_temperature() -> None:
    thick = quantity("100 cSt", Kind.VISCOSITY)
    assert _state(temperature="0 degC", viscosity=thick).viscosity == pytest.approx(100e-6)
    assert _state(temperature="90 degC", viscosity=thick).viscosity == pytest.approx(100e-6)


@pytest.mark.parametrize(
    "points",
    [
        [("40 degC", "46 cSt"), ("100 degC", "6.8 cSt")],
        [("100 degC", "6.8 cSt"), ("40 degC", "46 cSt"), ("0 degC", "600 cSt"), ("-20 degC", "4800 cSt")],
        [("20 degC", "1.2 cSt"), ("60 degC", "0.6 cSt")],
    ],
)
def test_a_viscosity_line_passes_through_its_points(points: list[tuple[str, str]]) -> None:
    typed = _pairs(Kind.VISCOSITY, *points)
    for at, value in typed:
        found = fluid.state(_choice(viscosity=typed, density=quantity("870 kg/m^3", Kind.DENSITY)), at.si)
        assert found.viscosity == pytest.approx(value.si, rel=1e-12)


@given(st.floats(250, 370), st.floats(0.01, 5))
def test_a_viscosity_line_falls_without_a_step(T: float, step: float) -> None:
    points = ((253.15, 4800.0), (273.15, 600.0), (313.15, 46.0), (373.15, 6.8))
    line = walther_line(points)
    assert line(T) > line(T + step) > line(T) * (1 - 0.2 * step)


@pytest.mark.parametrize("at", ["20 degC", "40 degC", "100 degC"])
def test_one_viscosity_and_an_index(at: str) -> None:
    """Whatever point of an oil is typed, its index gives the same oil back."""
    oil = fluid.state(_choice(), quantity(at, Kind.TEMPERATURE).si)
    point = ((quantity(at, Kind.TEMPERATURE), Quantity("", oil.viscosity)),)
    again = fluid.state(_choice(viscosity=point, viscosity_index=95.0), 273.15)
    assert again.viscosity == pytest.approx(fluid.state(_choice(), 273.15).viscosity, rel=1e-9)


def test_an_index_alone_keeps_the_grade() -> None:
    high = _choice(viscosity_index=150.0)
    assert fluid.state(high).viscosity * 1e6 == pytest.approx(46)
    assert fluid.state(high, 273.15).viscosity < fluid.state(_choice(), 273.15).viscosity


def test_one_viscosity_takes_its_familys_index() -> None:
    point = _pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"))
    assert _state(temperature="0 degC", viscosity=point).viscosity == pytest.approx(
        _state(temperature="0 degC").viscosity
    )


def test_vapor_pressure_as_typed() -> None:
    assert _state(vapor_pressure=quantity("0.5 psi", Kind.PRESSURE)).vapor_pressure == pytest.approx(
        3447.4, abs=0.1
    )
    two = _pairs(Kind.PRESSURE, ("20 degC", "1 kPa"), ("60 degC", "9 kPa"))
    # Linear in ln p over 1/T lies above the geometric mean of an equal step in T.
    assert 3000 < _state(vapor_pressure=two).vapor_pressure < 3400


def test_a_fluid_of_the_users_own() -> None:
    benzene = _choice(
        "Benzene",
        density=_pairs(Kind.DENSITY, ("100 degF", "54 lb/ft^3")),
        viscosity=quantity("0.6 cSt", Kind.VISCOSITY),
        vapor_pressure=quantity("3.8 psi", Kind.PRESSURE),
    )
    found = fluid.state(benzene, 800.0)
    assert (found.name, found.dissolved_air) == ("Benzene", 0.0)
    assert found.sources["dissolved_air"] == "none given: counted as 0"


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ({"name": "Unobtainium"}, "not in the catalogue"),
        ({"name": "Unobtainium", "density": quantity("1 kg/L", Kind.DENSITY)}, "not in the catalogue"),
        ({"viscosity": _pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"), ("40 degC", "47 cSt"))}, "two figures"),
        ({"viscosity": _pairs(Kind.VISCOSITY, ("40 degC", "6 cSt"), ("90 degC", "46 cSt"))}, "must fall"),
        ({"viscosity": quantity("46 cSt", Kind.VISCOSITY), "viscosity_index": 95.0}, "goes with one"),
        ({"viscosity": quantity("0 cSt", Kind.VISCOSITY)}, "above 0"),
        ({"density": quantity("0 kg/m^3", Kind.DENSITY)}, "above 0"),
        ({"name": "Water", "viscosity_index": 95.0}, "no viscosity index"),
        (
            {"name": "Water", "viscosity": _pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"))},
            "needs a viscosity index",
        ),
        ({"viscosity": _pairs(Kind.VISCOSITY, ("40 degC", "3 cSt")), "viscosity_index": 95.0}, "ASTM D2270"),
        ({"viscosity": _pairs(Kind.VISCOSITY, ("40 degC", "0.1 cSt"), ("50 degC", "0.05 cSt"))}, "0.21"),
    ],
)
def test_refused(typed: dict[str, Any], text: str) -> None:
    with pytest.raises(FluidError, match=text) as error:
        _state(**typed)
    assert error.value.part == "fluid"


def test_a_line_that_leaves_the_standard_is_refused() -> None:
    thin = _pairs(Kind.VISCOSITY, ("20 degC", "0.5 cSt"), ("40 degC", "0.22 cSt"))
    with pytest.raises(FluidError, match="D341"):
        _state(temperature="60 degC", viscosity=thin, density=_pairs(Kind.DENSITY, ("20 degC", "700 kg/m^3")))


def test_below_absolute_zero_is_refused() -> None:
    with pytest.raises(FluidError, match="absolute zero"):
        fluid.state(_choice(), -1.0)


def test_a_refusal_is_read_in_either_system() -> None:
    with pytest.raises(FluidError) as refused:
        fluid.state(_choice("Water"), 379.35)
    error = refused.value
    said = "Water: density at {}; its figures hold from {} to {}"
    assert str(error) == error.text == said.format("106.2 °C", "0 °C", "100 °C")
    assert error.text_in(System.SI) == error.text
    assert error.text_in(System.US) == said.format("223.2 °F", "32 °F", "212 °F")
    assert error.end(System.US) == "Water: figures for its density hold from 32 °F to 212 °F"


def test_every_temperature_that_a_refusal_quotes_follows_the_system() -> None:
    twice = _pairs(Kind.VISCOSITY, ("40 degC", "46 cSt"), ("40 degC", "47 cSt"))
    with pytest.raises(FluidError) as refused:
        _state(viscosity=twice)
    assert refused.value.text_in(System.US) == "two figures at 104 °F"
    thin = _pairs(Kind.VISCOSITY, ("40 degC", "3 cSt"))
    with pytest.raises(FluidError) as refused:
        _state(viscosity=thin, viscosity_index=95.0)
    assert "3 mm²/s at 104 °F:" in refused.value.text_in(System.US)


TYPED: dict[str, dict[str, Any]] = {
    "density": {"density": quantity("880 kg/m^3", Kind.DENSITY)},
    "densities": {"density": _pairs(Kind.DENSITY, ("0 degC", "890 kg/m^3"), ("80 degC", "840 kg/m^3"))},
    "one density of a table": {"density": _pairs(Kind.DENSITY, ("20 degC", "880 kg/m^3"))},
    "viscosity": {"viscosity": quantity("30 cSt", Kind.VISCOSITY)},
    "viscosities": {
        "viscosity": _pairs(
            Kind.VISCOSITY, ("0 degC", "500 cSt"), ("40 degC", "50 cSt"), ("100 degC", "7 cSt")
        )
    },
    "viscosity and index": {
        "viscosity": _pairs(Kind.VISCOSITY, ("50 degC", "30 cSt")),
        "viscosity_index": 110.0,
    },
    "vapour pressure": {"vapor_pressure": quantity("120 Pa", Kind.PRESSURE)},
    "vapour pressures": {"vapor_pressure": _pairs(Kind.PRESSURE, ("0 degC", "50 Pa"), ("80 degC", "900 Pa"))},
    "vapour pressures from none": {
        "vapor_pressure": _pairs(Kind.PRESSURE, ("0 degC", "0 Pa"), ("80 degC", "900 Pa"))
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
        _arrives(_choice(name), family.coldest + share * (family.hottest - family.coldest))


@pytest.mark.parametrize("name", [OIL, "Water-glycol (HFC)", "Water"])
@pytest.mark.parametrize("typed", TYPED)
def test_the_steps_of_typed_figures_arrive_too(name: str, typed: str) -> None:
    if "index" in typed and name != OIL:
        pytest.skip("an index is an oil's")
    for celsius in (5.0, 20.0, 40.0, 60.0):
        _arrives(_choice(name, **TYPED[typed]), celsius + 273.15)


def test_an_index_comes_out_of_the_points_that_were_found_for_it() -> None:
    recorder = Recorder()
    _state(viscosity=_pairs(Kind.VISCOSITY, ("50 degC", "30 cSt")), viscosity_index=110.0).explain(recorder)
    typed, worked = (step.value for step in recorder.steps if step.symbol.symbol == "VI")
    assert typed == 110.0
    assert worked == pytest.approx(110.0, rel=1e-9)


OWN = {"name": "House blend", "viscosity": (("40 degC", "46 cSt"), ("100 degC", "6.8 cSt"))}


def _own(temperature: str, **more: object) -> fluid.FluidState:
    points = _pairs(Kind.VISCOSITY, *OWN["viscosity"])
    density = quantity("870 kg/m^3", Kind.DENSITY)
    return _state(name="House blend", temperature=temperature, viscosity=points, density=density, **more)


def test_a_single_density_is_held_unless_the_fluid_is_a_petroleum_oil() -> None:
    for temperature in ("20 degC", "60 degC", "100 degC"):
        assert _own(temperature).density == 870.0
    oil = _state(temperature="60 degC", density=quantity("870 kg/m^3", Kind.DENSITY))
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
