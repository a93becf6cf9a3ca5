"""The facts in the status bar: site, fluid, temperature, viscosity."""

from __future__ import annotations

from sketch.model.document import Document
from solver.quantities import units
from solver.quantities.units import Kind

GAP = "   ·   "


def facts(document: Document) -> str:
    """One line; only what was asked for where nothing is calculated."""
    layout, solution, system = document.layout, document.solution, document.system
    site = "Site"
    if layout.site.elevation is not None:
        site += f" at {units.show(layout.site.elevation.si, Kind.ELEVATION, system)}"
    if solution is not None:
        site += f", {units.show(solution.atmosphere, Kind.ABSOLUTE, system)}"
    fluid = solution.layout.fluid if solution is not None else layout.fluid
    parts = [site, fluid.name, units.show(fluid.temperature.si, Kind.TEMPERATURE, system)]
    if solution is not None:
        parts.append(units.show(solution.fluid.viscosity, Kind.VISCOSITY, system))
        judgement = document.outcome.judgement
        if judgement is not None and len(judgement.cases) > 1:
            parts.append(f"{len(judgement.cases)} cases, shown: {document.case}")
    return GAP.join(parts)
