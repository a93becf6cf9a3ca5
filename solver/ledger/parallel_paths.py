"""The lines beside the walk to a pump: where paths run in parallel, the elements of the others."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from solver.ledger import path
from solver.ledger.path import Entry, Port, SolvedNetwork
from solver.quantities import columns


def entries(
    solved: SolvedNetwork,
    route: list[int],
    port: Port,
    budget: float,
    above: Callable[[str], tuple[float, float]],
) -> tuple[Entry, ...]:
    """What flows to a pump past the route to it, element by element, from its own reservoir on.

    Parameters: `route`, row numbers of that route; `port`, of `path.port`; `budget` of the pump [Pa]; `above`
    gives a reservoir's surface pressure [Pa] and level [m] by its name.
    The shares of these entries are not part of the ledger's sum: all paths to a node take the same.
    """
    if not solved.network.closures:
        return ()
    seen = set(route)
    others: list[Entry] = []
    for row in _feeding(solved, f"pump:{port.pump}"):
        if row in seen:
            continue
        route_there = _path(solved, row)
        first = solved.network.rows[route_there[0]]
        tank = (first.start if solved.forward[route_there[0]] else first.end).removeprefix("reservoir:")
        surface, level = above(tank)
        charges = path.charges(solved, route_there, port, surface, level)
        entries_there = path.entries(solved, route_there, charges, port, surface, level, budget)
        unseen = {solved.network.rows[i].key for i in route_there if i not in seen}
        others += [entry for entry in entries_there if entry.key in unseen]
        seen.update(route_there)
    return tuple(others)


def _feeding(solved: SolvedNetwork, node: str) -> list[int]:
    """Every row through which fluid comes to a node, the nearest first."""
    rows: dict[int, None] = {}
    waiting = deque([node])
    while waiting:
        for row in solved.feeding.get(waiting.popleft(), ()):
            if row not in rows and columns.some(_flow(solved, row) != 0.0):
                rows[row] = None
                waiting.append(_before(solved, row))
    return list(rows)


def _path(solved: SolvedNetwork, row: int) -> list[int]:
    """The way from a reservoir to a row, along the largest flow where there are several."""
    upstream = [row]
    while not (node := _before(solved, upstream[-1])).startswith("reservoir:"):
        upstream.append(max(solved.feeding[node], key=lambda i: abs(_flow(solved, i))))
    return upstream[::-1]


def _before(solved: SolvedNetwork, row: int) -> str:
    element = solved.network.rows[row]
    return element.start if solved.forward[row] else element.end


def _flow(solved: SolvedNetwork, row: int) -> float:
    return columns.by_row(solved.flow[row : row + 1])[0]


def losses_before(solved: SolvedNetwork, row: int) -> tuple[str, float]:
    """The reservoir from which fluid comes to a row, and what the rows before it take [Pa]."""
    *before, last = _path(solved, row)
    first = before[0] if before else last
    element = solved.network.rows[first]
    tank = (element.start if solved.forward[first] else element.end).removeprefix("reservoir:")
    loss = solved.drops.loss
    return tank, sum(float(loss[i]) if solved.forward[i] else -float(loss[i]) for i in before)
