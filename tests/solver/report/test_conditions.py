"""Under what a ledger holds, in words."""

from __future__ import annotations

from dataclasses import replace

from solver.layout.file import parse
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from solver.report.conditions import conditions
from tests.drawings import RISER


def test_site_fluid_and_level_and_the_line_where_it_is_not_as_warm() -> None:
    layout = parse(RISER).base
    named = dict(conditions(solve(layout), System.SI))
    assert list(named) == ["Site", "Fluid", "Level"]
    assert named["Fluid"].startswith("Mineral oil, ISO VG 46: 45.0 °C, ")
    assert "tank at 0.400 m holds " in named["Level"]
    cold = replace(layout.fluid, line_temperature=quantity("5 degC", Kind.TEMPERATURE))
    named = dict(conditions(solve(replace(layout, fluid=cold)), System.SI))
    assert list(named) == ["Site", "Fluid", "Line", "Level"]
    assert named["Fluid"].startswith("Mineral oil, ISO VG 46: 45.0 °C, ")
    assert named["Line"].startswith("holds it at 5.0 °C, ")
