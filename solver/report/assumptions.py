"""What a drawing assumes that changes its result and is not seen in a ledger's figures."""

from __future__ import annotations

from collections.abc import Iterator

from solver.formulas.screens import READ_DENSITY, READ_VISCOSITY
from solver.layout.parts import Fitting
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees
from solver.report.defaults import defaults


def assumptions(solution: Solution, system: System) -> Iterator[str]:
    """What belongs to this drawing alone, then what is taken where nobody has typed a figure."""
    yield from particular(solution, system)
    yield from defaults(solution, system)


def particular(solution: Solution, system: System) -> Iterator[str]:
    """How warm a line is apart from its tank, a vapour pressure that nobody has typed, how far each screen is
    blocked, with what a known drop was read, and what a line is longer by than it is drawn."""
    layout = solution.layout
    if solution.fluid is not solution.tank_fluid:
        line, tank = (degrees(each.temperature, system) for each in (solution.fluid, solution.tank_fluid))
        yield f"the line is full of fluid at {line}, the tank at {tank}; intakes count the thicker"
    if solution.fluid.known_vapor_pressure is None:
        yield f"{layout.fluid.name}: no vapour pressure is typed; it is counted as 0"
    screens = [(name, each.screen) for name, each in layout.intakes.items()]
    screens += [(name, each.screen) for name, each in layout.fittings.items()]
    for name, screen in screens:
        if screen is not None:
            share = typeset(screen.blocked, Kind.SHARE, system) if screen.blocked else "nothing"
            yield f"{name}: {share} of its screen is taken as blocked"
    for name, fitting in layout.fittings.items():
        yield from _read_with(name, fitting, system)
    for name, run in layout.runs.items():
        if run.out_of_plane is not None:
            length = typeset(run.out_of_plane.si, Kind.LENGTH, system)
            yield f"{name}: {length} out of the plane of the drawing count as well, without elbows"


def _read_with(name: str, fitting: Fitting, system: System) -> Iterator[str]:
    """With what a known drop is taken as read, where that is not stated."""
    if fitting.head is not None and fitting.viscosity is None:
        read_at = typeset(READ_VISCOSITY, Kind.VISCOSITY, system)
        yield f"{name}: its head is taken as read at {read_at}, and grows with a thicker fluid"
    if fitting.drop is not None and (read := " and ".join(_not_stated(fitting, system))):
        yield f"{name}: its drop is taken as read at {read}, and grows with a thicker or heavier fluid"


def _not_stated(fitting: Fitting, system: System) -> Iterator[str]:
    """What is taken of the fluid with which a known drop was read, for want of a figure."""
    if fitting.viscosity is None:
        yield typeset(READ_VISCOSITY, Kind.VISCOSITY, system)
    if fitting.density is None:
        yield typeset(READ_DENSITY, Kind.DENSITY, system)
