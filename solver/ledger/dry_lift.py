"""How high a pump draws its empty line full where it stands, and whether check valves hold the line full."""

from __future__ import annotations

from functools import partial

from solver.formulas.flow import GRAVITY, SEA_LEVEL
from solver.layout.kinds import CHECK_KINDS
from solver.layout.parts import Layout
from solver.ledger import maker_fluid
from solver.ledger.solve import PumpLedger, Solution
from solver.network.dead_ends import is_closed
from solver.network.tracing import RunGraph


def dry_lift(solution: Solution, ledger: PumpLedger) -> float | None:
    """Height up to which a pump draws an empty line full at its site [m]; None: its maker states no figure.

    The figure counts as stated at sea level, for the fluid that the limit is stated for. A pump that draws
    air comes down to the same share of the atmosphere everywhere, and no column stands under the pressure at
    which its fluid boils. Nothing raises the figure. Common practice, no source.
    """
    pump = solution.layout.pumps[ledger.pump]
    if pump.dry_lift is None:
        return None
    if too_slow(solution, ledger):
        return 0.0
    weight = ledger.density * GRAVITY
    heavier = max(maker_fluid.density_correction(pump, solution.fluid).value, 1.0)
    drawn = pump.dry_lift.si / heavier * min(ledger.atmosphere / SEA_LEVEL, 1.0)
    missing = max(ledger.atmosphere - ledger.surface, 0.0) / weight
    boils = (ledger.surface - ledger.vapor_pressure) / weight
    return max(min(drawn - missing, boils), 0.0)


def too_slow(solution: Solution, ledger: PumpLedger) -> bool:
    """Whether a pump turns slower than its maker says that it must to prime."""
    pump = solution.layout.pumps[ledger.pump]
    return (
        pump.priming_speed is not None and ledger.speed is not None and ledger.speed < pump.priming_speed.si
    )


def held_full(layout: Layout, pump: str, graph: RunGraph | None = None) -> bool:
    """Whether a check valve stands between a pump and every intake that its line comes from.

    graph: how the drawing is joined, where it is known; it keeps the answer, which hangs on fittings and
    intakes besides. Nothing runs back through a pump or a closed valve.
    """
    known, of = graph if graph is not None else RunGraph(layout), (layout.fittings, layout.intakes)
    return known.once(("held full", pump), of, partial(_held_full, layout, pump, known))


def _held_full(layout: Layout, pump: str, graph: RunGraph) -> bool:
    reached, ahead = {pump}, [pump]
    while ahead:
        part = ahead.pop()
        if part != pump and _stops(layout, part):
            continue
        if part in layout.intakes:
            return False
        new = graph.parts[part].keys() - reached
        reached |= new
        ahead += new
    return True


def _stops(layout: Layout, name: str) -> bool:
    part = layout.fittings.get(name) or layout.intakes.get(name)
    return name in layout.pumps or is_closed(layout, name) or (part is not None and part.kind in CHECK_KINDS)
