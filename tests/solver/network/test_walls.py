"""How rough a run is."""

from __future__ import annotations

from dataclasses import replace

from solver.answers import inputs
from solver.answers.variations import with_bore
from solver.field.causes import with_bore_times
from solver.layout.parts import Level
from solver.network import rows
from solver.network.walls import roughness, roughness_source
from solver.properties.sizes import ROUGHNESS, ROUGHNESS_SOURCE
from tests.drawings import drawing, metres, run


def test_a_hose_is_rubber_unless_it_says_otherwise() -> None:
    layout = drawing(run("riser", "strainer", "pump"))
    hose = replace(layout.runs["riser"], bore=None, size="hose -32")
    assert rows.run_rows(layout, hose, True, "a", "b")[0].roughness == ROUGHNESS["rubber hose"]
    rough = replace(hose, roughness=metres(1e-4))
    assert rows.run_rows(layout, rough, True, "a", "b")[0].roughness == 1e-4
    steel = replace(hose, size="NPS 2 schedule 40")
    assert rows.run_rows(layout, steel, True, "a", "b")[0].roughness == ROUGHNESS["commercial steel"]


def test_the_source_of_a_roughness_names_the_material_that_was_used() -> None:
    """A hose without a material once had the source of commercial steel."""
    hose = replace(run("riser", "strainer", "pump"), bore=None, size="hose -32")
    assert roughness_source(hose).startswith("rubber hose, as no material is given: ")
    iron = replace(hose, size="NPS 2 schedule 40", material="cast iron")
    assert roughness_source(iron) == f"cast iron: {ROUGHNESS_SOURCE['cast iron']}"
    assert roughness(iron) == ROUGHNESS["cast iron"]
    assert roughness_source(replace(iron, roughness=metres(1e-4))) == "as typed"


def test_a_run_of_a_bore_in_place_of_its_size_stays_made_of_what_it_was() -> None:
    """A hose whose bore was varied was as rough as steel."""
    hose = replace(run("riser", "strainer", "pump"), bore=None, size="hose -32")
    layout = drawing(hose)
    for varied in (
        inputs.bore(layout, ("riser",), 0.04, Level.MINIMUM),
        with_bore(layout, ("riser",), bore=metres(0.04)),
        with_bore_times(layout, "riser", 0.8),
    ):
        assert varied.runs["riser"].size is None
        assert roughness(varied.runs["riser"]) == ROUGHNESS["rubber hose"]
    steel = inputs.bore(drawing(replace(hose, size="NPS 2 schedule 40")), ("riser",), 0.04, Level.MINIMUM)
    assert steel.runs["riser"].material is None, "none is named, as before"
    assert roughness(steel.runs["riser"]) == ROUGHNESS["commercial steel"]
