"""The joints on the ways to a pump that lie outside the fluid, each with the pressure at it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import shapely

from solver.layout.shapes import polygon
from solver.ledger.path import Walk, way_of
from solver.ledger.solve import Entry, Solution
from solver.network.build import Row


class Joint(NamedTuple):
    """Where one part is joined to the next."""

    key: str  # of the entry that ends at it
    part: str
    following: str  # the part that the fluid comes to next
    x: float  # [m]
    z: float  # elevation [m]
    pressure: float  # static, absolute [Pa]


def joints(solution: Solution, pump: str, walk: Walk | None = None) -> tuple[Joint, ...]:
    """Every joint outside the fluid, in walking order, those of parallel lines last.

    walk: of `path.way_of` for that pump, where it is known.
    Raises KeyError for a pump that does not run.
    """
    ledger, network = solution.pumps[pump], solution.network
    elements, way = walk if walk is not None else way_of(network, ledger.entries)
    parallel = [(each, network.rows[network.index[each.key]]) for each in ledger.parallel_entries]
    outline, level = solution.layout.reservoirs[ledger.reservoir].outline, ledger.fluid_level
    outside = way.joined_outside(outline)
    on_walk = [
        Joint(entry.key, entry.part, step.following or pump, step.x, step.z, entry.pressure)
        for step in way.steps
        if step.z > level or step.place in outside
        for entry in (elements[step.place],)
    ]
    if not parallel:
        return tuple(on_walk)
    shape = polygon(outline)
    on_parallel = (
        each
        for each in _on_parallel(parallel, ledger.entries[-1])
        if each.z > level or not shapely.intersects_xy(shape, each.x, each.z)
    )
    return (*on_walk, *on_parallel)


def _on_parallel(way: Sequence[tuple[Entry, Row]], port: Entry) -> Iterator[Joint]:
    """The end of the last element of each part."""
    ends = [*(entry for entry, _ in way), port]
    for (entry, row), after in zip(way, ends[1:], strict=True):
        if entry.part != after.part and row.path:
            x, z = row.path[-1 if entry.flow >= 0 else 0]
            yield Joint(entry.key, entry.part, after.part, x, z, entry.pressure)
