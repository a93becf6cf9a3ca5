"""The facts in the status bar: site, fluid, temperature, viscosity."""

from __future__ import annotations

from sketch.document import Document
from sketch.ledger_rows import absolute
from solver import units
from solver.units import Kind

GAP = "   ·   "


def facts(document: Document) -> str:
    """One line; only what was asked for where nothing is calculated."""
    layout, solution, system = document.layout, document.solution, document.system
    site = "Site"
    if layout.site.elevation is not None:
        site += f" at {units.show(layout.site.elevation.si, Kind.ELEVATION, system)}"
    if solution is not None:
        pressure = units.number(solution.atmosphere, Kind.PRESSURE, system)
        site += f", {pressure} {absolute(units.unit(Kind.PRESSURE, system))}"
    said = [site, layout.fluid.name, units.show(layout.fluid.temperature.si, Kind.TEMPERATURE, system)]
    if solution is not None:
        said.append(units.show(solution.fluid.viscosity, Kind.VISCOSITY, system))
    return GAP.join(said)
