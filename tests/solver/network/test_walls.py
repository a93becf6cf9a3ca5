"""How rough a run is."""

from __future__ import annotations

from dataclasses import replace

from solver.network import rows
from solver.properties.sizes import ROUGHNESS
from tests.drawings import drawing, metres, run


def test_a_hose_is_rubber_unless_it_says_otherwise() -> None:
    layout = drawing(run("riser", "strainer", "pump"))
    hose = replace(layout.runs["riser"], bore=None, size="hose -32")
    assert rows.run_rows(layout, hose, True, "a", "b")[0].roughness == ROUGHNESS["rubber hose"]
    rough = replace(hose, roughness=metres(1e-4))
    assert rows.run_rows(layout, rough, True, "a", "b")[0].roughness == 1e-4
    steel = replace(hose, size="NPS 2 schedule 40")
    assert rows.run_rows(layout, steel, True, "a", "b")[0].roughness == ROUGHNESS["commercial steel"]
