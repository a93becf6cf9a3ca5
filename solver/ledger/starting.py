"""Pumps that start, or come on stroke: what it takes to set the columns of fluid in motion."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.formulas import starting as formulas
from solver.formulas.worked import work
from solver.ledger.acceleration import InertiaHead
from solver.ledger.path import HeadEntryKind, Port, SolvedNetwork
from solver.network.build import Floats, Network, Row, pump_flow
from solver.network.ways import drawn_length
from solver.quantities import columns


def rises(network: Network, flows: Floats, forward: Sequence[bool]) -> Floats | None:
    """How steeply the flow of each row rises [m³/s²]; None where no pump starts.

    Parameters: `flows` of each row [m³/s]; `forward`, whether each runs along its row. Where lines run in
    parallel, a rise is shared as the flow is.
    """
    needs = {
        f"pump:{name}": formulas.steepest_rise.scalar(pump_flow(pump), pump.flow_rise.si)
        for name, pump in network.layout.pumps.items()
        if pump.flow_rise is not None and not pump.at_rest
    }
    if not needs:
        return None
    rows, rates = network.rows, [0.0] * len(network.rows)
    feeding: dict[str, list[int]] = {}
    leaving: dict[str, int] = {}
    for i, row in enumerate(rows):
        start, end = (row.start, row.end) if forward[i] else (row.end, row.start)
        feeding.setdefault(end, []).append(i)
        leaving[start] = leaving.get(start, 0) + 1
    # A node is done with once every row that leaves it is, so that all that it needs is known.
    ready = [node for node in feeding if not leaving.get(node)]
    while ready:
        node = ready.pop()
        brought = feeding.get(node, [])
        whole = sum(abs(flows[i]) for i in brought)
        for i in brought:
            part = 1.0 if len(brought) == 1 else _share(abs(flows[i]), whole)
            rates[i] = needs.get(node, 0.0) * part
            start = rows[i].start if forward[i] else rows[i].end
            needs[start] = needs.get(start, 0.0) + rates[i]
            leaving[start] -= 1
            if not leaving[start]:
                ready.append(start)
    return columns.table(rates)


def _share(flow: float, whole: float) -> float:
    return flow / whole if whole > 0 else 0.0


def length(row: Row) -> float:
    """Developed length of a row, arcs and what is out of the plane included [m]."""
    return row.length or drawn_length(row)


def surge(solved: SolvedNetwork, route: list[int], port: Port, rising: Floats | None) -> InertiaHead | None:
    """What a rise of the flow takes on the way to a port; None where nothing starts.

    Parameters: `route`, row numbers in walking order; `port`, of `path.port`; `rising`, of `rises`.
    Charged together with the full friction: it is the end of the ramp, the worst moment of it.
    """
    if rising is None:
        return None
    rows = [solved.network.rows[i] for i in route]
    lengths = [length(row) for row in rows]
    at = np.array(route)
    long, bore, rise = columns.aligned(
        (columns.table(lengths), solved.network.columns["bore"][at], rising[at]), ()
    )
    each = formulas.row_rise.array(long, bore, rise)
    loss = work(formulas.loss, solved.fluid.density, columns.total(each))
    (so_far,) = columns.aligned((columns.running_total(each),), (solved.fluid.density,))
    so_far = so_far * columns.as_array(solved.fluid.density)
    whole = columns.total(columns.table(lengths))
    return InertiaHead(HeadEntryKind.FLOW_RISE, loss.value, so_far, whole, 0.0, (loss,), loss.relation.source)
