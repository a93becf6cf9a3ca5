"""What is commonly asked for with each family of fluids, and what a maker's figure for the fluid replaces."""

from __future__ import annotations

import pytest

from solver.findings.fluid import DEMANDS, class_of, fire_resistant
from solver.layout.parts import Layout
from solver.properties.families import catalogue
from solver.quantities.units import Kind, quantity
from tests.solver.checking import HAIR, found, ledger, lifted, only, with_fluid, with_pump

CLASSES = {
    "95/5 emulsion (HFA)": "HFA",
    "Invert emulsion (HFB)": "HFB",
    "Water-glycol (HFC)": "HFC",
    "Phosphate ester (HFDR)": "HFDR",
    "Polyol ester (HFDU)": "HFDU",
    "Natural ester": "HETG",
}
NAME = "limit of another fluid"


def of(fluid: str) -> Layout:
    return with_fluid(lifted(), name=fluid, temperature=quantity("40 degC", Kind.TEMPERATURE))


def test_every_fluid_of_the_catalogue_has_its_class() -> None:
    assert {name: class_of(name) for name in catalogue() if class_of(name)} == CLASSES
    assert set(CLASSES.values()) == set(DEMANDS)
    assert class_of("House blend") == ""


@pytest.mark.parametrize(("fluid", "of_class"), CLASSES.items())
def test_each_family_has_a_finding_of_what_is_commonly_asked(fluid: str, of_class: str) -> None:
    one = only(of(fluid), NAME)
    assert DEMANDS[of_class].words in one.text
    assert fluid in one.text
    assert "common practice, no source, unverified" in one.source
    more = of_class in ("HFA", "HFB", "HFDU", "HETG")
    assert (one.severity == "caution") is more
    assert ("allows more" in one.text) is more


@pytest.mark.parametrize("fluid", ["Mineral oil, ISO VG 46", "Water"])
def test_oil_and_water_have_none(fluid: str) -> None:
    assert not found(of(fluid), NAME)


@pytest.mark.parametrize("fluid", CLASSES)
def test_a_makers_figure_for_the_fluid_replaces_the_estimate(fluid: str) -> None:
    estimated, stated = ledger(of(fluid)), with_pump(of(fluid), rated_fluid=fluid)
    own = ledger(stated)
    assert not found(stated, NAME)
    assert not own.limit_estimated
    assert own.floor == pytest.approx(own.floor_lines[0].total)
    assert estimated.floor >= own.floor
    if estimated.density > 900.0:  # that of petroleum fluids at most
        assert estimated.floor > own.floor
    assert estimated.limit_estimated


def test_a_figure_for_another_fluid_is_still_an_estimate() -> None:
    """It is corrected from what that fluid weighs, and counts no vapour pressure."""
    glycol = of("Water-glycol (HFC)")
    unknown = with_pump(glycol, rated_fluid="Somebody's ester")
    assert only(unknown, NAME)
    assert ledger(unknown).floor == ledger(glycol).floor
    other = with_pump(glycol, rated_fluid="Polyol ester (HFDU)")
    assert only(other, NAME)
    assert ledger(other).limit_estimated
    over, strict = (each.floor - each.vapor_pressure for each in (ledger(other), ledger(glycol)))
    assert over / strict == pytest.approx(850 / 899.9, rel=1e-3)


def test_an_assumed_figure_holds_for_no_fluid() -> None:
    fluid = "Water-glycol (HFC)"
    assert only(with_pump(of(fluid), rated_fluid=fluid, limit_assumed=True), NAME)


@pytest.mark.parametrize("fluid", [name for name in CLASSES if name != "Natural ester"])
def test_fire_resistant_fluids_have_velocities_of_their_own(fluid: str) -> None:
    """0.8 m/s and 1.0 m/s: common practice, no source."""
    assert fire_resistant(fluid)
    layout = of(fluid)
    v = ledger(layout).entries[1].velocity
    wide = {"velocity_caution": 9.0, "velocity_stop": 9.0}
    own = ("velocity_caution_fire_resistant", "velocity_stop_fire_resistant")
    assert only(layout, "suction velocity", **wide).threshold == 1.0
    slower = with_pump(layout, flow=quantity("106 L/min", Kind.FLOW))
    caution = only(slower, "suction velocity", **wide)
    assert (caution.threshold, caution.severity) == (0.8, "caution")
    assert only(layout, "suction velocity", **{own[0]: 0.1, own[1]: v - HAIR}).severity == "stop"
    assert not found(layout, "suction velocity", **{own[0]: v + HAIR, own[1]: v + 0.1})


def test_other_fluids_keep_the_velocities_of_oil() -> None:
    assert not fire_resistant("Natural ester")
    assert only(lifted(), "suction velocity", velocity_stop=0.9).threshold == 0.9
