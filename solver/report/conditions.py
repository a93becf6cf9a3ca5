"""Under what a ledger holds: the site, the fluid in tank and line, and where the fluid stands."""

from __future__ import annotations

from collections.abc import Iterator

from solver.geometry import reservoirs
from solver.layout.parts import Level, Reservoir
from solver.ledger.solve import Solution
from solver.properties.fluid import FluidState
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import ledger_absolute


def conditions(solution: Solution, system: System) -> Iterator[tuple[str, str]]:
    """The conditions of a solved drawing in the units of a system, each under its name."""
    site = f"atmosphere {ledger_absolute(solution.atmosphere, system)}"
    if solution.elevation is not None:
        site += f" at {typeset(solution.elevation, Kind.ELEVATION, system)}"
    yield "Site", site
    fluid = solution.tank_fluid
    yield "Fluid", f"{fluid.name}: {_properties(fluid, system)}"
    if solution.fluid is not fluid:
        yield "Line", f"holds it at {_properties(solution.fluid, system)}"
    tanks = [_tank(tank, solution, system) for tank in solution.layout.reservoirs.values()]
    yield "Level", f"{solution.level}: {'; '.join(tanks)}"


def _properties(state: FluidState, system: System) -> str:
    return (
        f"{typeset(state.temperature, Kind.TEMPERATURE, system)}, "
        f"{typeset(state.density, Kind.DENSITY, system)}, "
        f"{typeset(state.viscosity, Kind.VISCOSITY, system)}, "
        f"vapour pressure {_vapor_pressure(state, system)}"
    )


def _vapor_pressure(state: FluidState, system: System) -> str:
    known = state.known_vapor_pressure
    return "not typed" if known is None else typeset(known, Kind.ABSOLUTE, system)


def _tank(tank: Reservoir, solution: Solution, system: System) -> str:
    """Where a reservoir's fluid stands, and how much of it there is."""
    level = reservoirs.level(tank, solution.level)
    held = typeset(reservoirs.volume(tank, level), Kind.VOLUME, system)
    text = f"{tank.name} at {typeset(level, Kind.LENGTH, system)} holds {held}"
    if tank.baffle is not None:
        suction = typeset(reservoirs.suction_volume(tank, level), Kind.VOLUME, system)
        text += f", {suction} of it on the suction side of its baffle"
    if tank.draw_down is not None and solution.level == Level.DRAWN_DOWN:
        text += f", {typeset(tank.draw_down.si, Kind.VOLUME, system)} drawn out"
    elif solution.level == Level.DRAWN_DOWN and tank.level is None:
        text += ", its minimum level, as what its cylinders draw out is not given"
    return text
