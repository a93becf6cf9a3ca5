"""What a drawing assumes that changes its result and is not seen in a ledger's figures."""

from __future__ import annotations

from collections.abc import Iterator

from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees


def assumptions(solution: Solution, system: System) -> Iterator[str]:
    """How warm a line is apart from its tank, how far each screen is blocked, and what a line is longer by
    than it is drawn."""
    layout = solution.layout
    if solution.fluid is not solution.tank_fluid:
        line, tank = (degrees(each.temperature, system) for each in (solution.fluid, solution.tank_fluid))
        yield f"the line is full of fluid at {line}, the tank at {tank}; intakes are charged with the thicker"
    screens = [(name, each.screen) for name, each in layout.intakes.items()]
    screens += [(name, each.screen) for name, each in layout.fittings.items()]
    for name, screen in screens:
        if screen is not None:
            share = typeset(screen.blocked, Kind.SHARE, system) if screen.blocked else "nothing"
            yield f"{name}: {share} of its screen is taken as blocked"
    for name, run in layout.runs.items():
        if run.out_of_plane is not None:
            length = typeset(run.out_of_plane.si, Kind.LENGTH, system)
            yield f"{name}: {length} out of the plane of the drawing are counted besides what is drawn"
