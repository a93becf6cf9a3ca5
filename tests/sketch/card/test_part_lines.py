"""The lines of a part: what an empty field says, and which have no meaning for what it is."""

from __future__ import annotations

import pytest

from sketch.card.card_lines import WHOLE
from sketch.card.part_lines import lines_of
from solver.layout import raw as layout_raw
from solver.quantities.units import Kind, quantity
from tests.solver.checking import lifted, with_fluid


def empties(name: str) -> dict[str, str]:
    """What the empty fields of the fluid say, by key."""
    layout = with_fluid(
        lifted(),
        name=name,
        density=quantity("870 kg/m^3", Kind.DENSITY),
        viscosity=quantity("30 cSt", Kind.VISCOSITY),
    )
    return {each.key: each.empty for each in lines_of(WHOLE, layout_raw.top_raw(layout))}


def test_a_fluid_of_one_s_own_is_asked_for_what_the_catalogue_has_not() -> None:
    own, known = empties("House blend"), empties("Mineral oil, ISO VG 46")
    assert own["fluid.vapor_pressure"] == "missing: not checked for boiling"
    assert own["fluid.dissolved_air"] == "missing: not checked for free air"
    assert own["fluid.viscosity_index"] == "none"
    assert own["fluid.density"] == own["fluid.viscosity"] == "asked for"
    assert known["fluid.vapor_pressure"] == known["fluid.dissolved_air"] == "from the catalogue"
    assert own["site.elevation"] == known["site.elevation"]


def test_a_connector_has_no_state_and_says_which_length_holds() -> None:
    lines = {line.key: line for line in lines_of("fittings", {"kind": "flexible connector"})}
    assert "state" not in lines
    assert lines["length"].empty == "6 bores"
    assert "state" in {line.key for line in lines_of("fittings", {"kind": "filter", "state": "closed"})}
    valve = {line.key: line for line in lines_of("fittings", {"kind": "gate valve"})}
    assert valve["state"].empty == "open"


@pytest.mark.parametrize(
    ("kind", "limit", "density", "fluid"),
    [
        ("gear", {"vacuum": "5 inHg"}, "of petroleum oil", "petroleum oil"),
        ("centrifugal", {"vacuum": "5 inHg"}, "of cold water", "cold water"),
        (
            "reciprocating",
            {"pressure": "80 kPa"},
            "of cold water",
            "cold water",
        ),
        ("centrifugal", {"npsh": "3 m"}, "not stated", "not stated"),
    ],
)
def test_what_a_limit_counts_as_stated_for_is_said_of_each_type_of_pump(
    kind: str, limit: dict[str, str], density: str, fluid: str
) -> None:
    lines = {each.key: each for each in lines_of("pumps", {"type": kind, "limit": limit})}
    assert (lines["rated_density"].empty, lines["rated_fluid"].empty) == (density, fluid)
    if fluid != "not stated":
        assert lines["rated_fluid"].tip.endswith(f"Not stated: it counts as stated for {fluid}")


def test_a_fluid_that_is_stated_leaves_no_other_to_be_taken() -> None:
    table = {"type": "centrifugal", "limit": {"vacuum": "5 inHg"}, "rated_fluid": "Water-glycol HFC 46"}
    lines = {each.key: each for each in lines_of("pumps", table)}
    assert lines["rated_density"].empty == "not stated"
