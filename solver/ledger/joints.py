"""The joints on the ways to a pump that lie outside the fluid, each with the pressure at it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from operator import attrgetter
from typing import NamedTuple

import shapely

from solver.layout.kinds import THREADED
from solver.layout.shapes import polygon
from solver.ledger.path import Walk, way_of
from solver.ledger.solve import Entry, PumpLedger, Solution
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.network.ways import PartEnd, Way


class OuterJoint(NamedTuple):
    """Where one part is joined to the next, or a threaded elbow is screwed into its run."""

    key: str  # of the entry that ends at it
    part: str
    following: str  # the part that the fluid comes to next; of an elbow, the run itself
    x: float  # [m]
    z: float  # elevation [m]
    pressure: float  # static, absolute [Pa]
    elbow: str = ""  # which end of which threaded elbow: "into bend 1 of riser"; "" of no elbow

    @property
    def name(self) -> str:
        """Between what it is, in words."""
        return self.elbow or f"{self.part} to {self.following}"


def joints(solution: Solution, pump: str, walk: Walk | None = None) -> tuple[OuterJoint, ...]:
    """Every joint outside the fluid: of parts in walking order, of threaded elbows, of parallel lines.

    walk: of `path.way_of` for that pump, where it is known.
    Raises KeyError for a pump that does not run.
    """
    ledger = solution.pumps[pump]
    elements, way = walk if walk is not None else way_of(solution.network, ledger.entries)
    on_walk = [_at_end(step, elements[step.place], pump) for step in _ends_on_walk(solution, ledger, way)]
    return (*on_walk, *_further(solution, ledger, (elements, way)))


class LowJoints(NamedTuple):
    """The joints that would draw air where they leak."""

    lowest: OuterJoint
    number: int  # of all of them
    at_elbows: int  # of those at threaded elbows


def low_joints(solution: Solution, pump: str, walk: Walk) -> LowJoints | None:
    """The joints outside the fluid under less than the atmosphere; None where there is none.

    Parameters and errors as `joints`, of which only the lowest is made: each case of a drag asks.
    """
    ledger = solution.pumps[pump]
    elements, air = walk[0], ledger.atmosphere
    ends = _ends_on_walk(solution, ledger, walk[1])
    pressures = [elements[step.place].pressure for step in ends]
    number = sum([pressure < air for pressure in pressures])
    low = [each for each in _further(solution, ledger, walk) if each.pressure < air]
    elbows = sum([1 for each in low if each.elbow])
    total = number + len(low)
    if number:
        step = ends[pressures.index(min(pressures))]
        low = [_at_end(step, elements[step.place], pump), *low]
    return LowJoints(min(low, key=attrgetter("pressure")), total, elbows) if low else None


def _at_end(step: PartEnd, entry: Entry, pump: str) -> OuterJoint:
    return OuterJoint(entry.key, entry.part, step.following or pump, step.x, step.z, entry.pressure)


def _ends_on_walk(solution: Solution, ledger: PumpLedger, way: Way) -> tuple[PartEnd, ...]:
    return way.ends_outside(solution.layout.reservoirs[ledger.reservoir].outline, ledger.fluid_level)


def _further(solution: Solution, ledger: PumpLedger, walk: Walk) -> list[OuterJoint]:
    """Those of threaded elbows, and of parallel lines."""
    (elements, way), network = walk, solution.network
    parallel = [(each, network.rows[network.index[each.key]]) for each in ledger.parallel_entries]
    threaded = _threaded(solution, way, [row for _, row in parallel])
    if not parallel and not threaded:
        return []
    ways = (list(zip(elements, way.rows, strict=True)), parallel)
    shape, level = polygon(solution.layout.reservoirs[ledger.reservoir].outline), ledger.fluid_level
    return [
        each
        for each in (*_of_elbows(ways, threaded), *_on_parallel(parallel, ledger.entries[-1]))
        if each.z > level or not shapely.intersects_xy(shape, each.x, each.z)
    ]


def _threaded(solution: Solution, way: Way, parallel: Iterable[Row]) -> set[str]:
    """Runs with a bend on the ways whose bends are elbows screwed on at either end."""
    runs = solution.layout.runs
    bent = {*way.bent, *(row.part for row in parallel if row.kind is RowKind.BEND)}
    return {
        name
        for name in bent
        if name in runs and runs[name].bend in THREADED and runs[name].bend_radius is None
    }


_Way = Sequence[tuple[Entry, Row]]


def _of_elbows(ways: Sequence[_Way], threaded: set[str]) -> Iterator[OuterJoint]:
    """Both ends of each threaded elbow; an end that meets another part is that part's joint."""
    for way in ways if threaded else ():
        for (before, first), (after, second) in pairwise(way):
            if before.part != after.part or before.part not in threaded:
                continue
            for elbow, row, words in ((after, second, "into"), (before, first, "out of")):
                if row.kind is RowKind.BEND:
                    ends_here = (elbow is before) == (elbow.flow >= 0)
                    x, z = row.path[-1 if ends_here else 0]
                    name = f"{words} {elbow.element} of {elbow.part}"
                    yield OuterJoint(before.key, before.part, before.part, x, z, before.pressure, name)


def _on_parallel(way: _Way, port: Entry) -> Iterator[OuterJoint]:
    """The end of the last element of each part."""
    ends = [*(entry for entry, _ in way), port]
    for (entry, row), after in zip(way, ends[1:], strict=True):
        if entry.part != after.part and row.path:
            x, z = row.path[-1 if entry.flow >= 0 else 0]
            yield OuterJoint(entry.key, entry.part, after.part, x, z, entry.pressure)
