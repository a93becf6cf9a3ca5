"""The lines beside the walk to a pump: where paths run in parallel, the elements of the others."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from solver.ledger import path as walk
from solver.ledger.path import Entry, Stream
from solver.quantities import columns


def entries(
    stream: Stream,
    route: list[int],
    port: Entry,
    budget: float,
    above: Callable[[str], tuple[float, float]],
) -> tuple[Entry, ...]:
    """What flows to a pump past the walk to it, element by element, from its own reservoir on.

    Parameters: `route`, row numbers of the walk; `port`, of `walk.port`; `budget` of the pump [Pa]; `above`
    gives a reservoir's surface pressure [Pa] and level [m] by its name.
    The shares of these entries are not part of the ledger's sum: all paths to a node take the same.
    """
    if not stream.network.closures:
        return ()
    seen = set(route)
    made: list[Entry] = []
    for row in _feeding(stream, f"pump:{port.part}"):
        if row in seen:
            continue
        path = _path(stream, row)
        first = stream.network.rows[path[0]]
        tank = (first.start if stream.forward[path[0]] else first.end).removeprefix("reservoir:")
        surface, level = above(tank)
        taken = walk.take(stream, path, port, surface, level)
        found = walk.entries(stream, path, taken, port, surface, level, budget)
        fresh = {stream.network.rows[i].key for i in path if i not in seen}
        made += [entry for entry in found if entry.key in fresh]
        seen.update(path)
    return tuple(made)


def _feeding(stream: Stream, node: str) -> list[int]:
    """Every row through which fluid comes to a node, the nearest first."""
    found: dict[int, None] = {}
    waiting = deque([node])
    while waiting:
        for row in stream.feeding.get(waiting.popleft(), ()):
            if row not in found and columns.some(_flow(stream, row) != 0.0):
                found[row] = None
                waiting.append(_before(stream, row))
    return list(found)


def _path(stream: Stream, row: int) -> list[int]:
    """The way from a reservoir to a row, along the largest flow where there are several."""
    found = [row]
    while not (node := _before(stream, found[-1])).startswith("reservoir:"):
        found.append(max(stream.feeding[node], key=lambda i: abs(_flow(stream, i))))
    return found[::-1]


def _before(stream: Stream, row: int) -> str:
    here = stream.network.rows[row]
    return here.start if stream.forward[row] else here.end


def _flow(stream: Stream, row: int) -> float:
    return columns.by_row(stream.flow[row : row + 1])[0]
