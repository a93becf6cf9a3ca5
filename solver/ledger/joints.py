"""The joints on the ways to a pump that lie outside the fluid, each with the pressure at it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from solver.layout.shapes import polygon
from solver.ledger.solve import Entry, Solution
from solver.network.build import Row


@dataclass(frozen=True, slots=True)
class Joint:
    """Where one part is joined to the next."""

    key: str  # of the entry that ends at it
    part: str
    following: str  # the part that the fluid comes to next
    x: float  # [m]
    z: float  # elevation [m]
    pressure: float  # static, absolute [Pa]


def joints(solution: Solution, pump: str) -> tuple[Joint, ...]:
    """Every joint outside the fluid, in walking order, those of parallel lines last.

    Raises KeyError for a pump that does not run.
    """
    ledger, network = solution.pumps[pump], solution.network
    rows = [each for each in ledger.entries if each.key in network.index]
    walk = [*((each, network.rows[network.index[each.key]]) for each in rows), (ledger.entries[-1], None)]
    parallel = [(each, network.rows[network.index[each.key]]) for each in ledger.parallel_entries]
    shape = polygon(solution.layout.reservoirs[ledger.reservoir].outline)
    whole = (*_joints(walk), *_joints([*parallel, (ledger.entries[-1], None)]))
    level = ledger.fluid_level
    return tuple(each for each in whole if each.z > level or not shapely.intersects_xy(shape, each.x, each.z))


def _joints(way: Sequence[tuple[Entry, Row | None]]) -> Iterator[Joint]:
    """The end of the last element of each part."""
    for (entry, row), (following, _) in pairwise(way):
        if row is not None and entry.part != following.part and row.path:
            x, z = row.path[-1 if entry.flow >= 0 else 0]
            yield Joint(entry.key, entry.part, following.part, x, z, entry.pressure)
