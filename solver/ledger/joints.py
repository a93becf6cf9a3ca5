"""The joints on the ways to a pump that lie outside the fluid, each with the pressure at it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from operator import attrgetter
from typing import NamedTuple

from solver.layout.kinds import Bend
from solver.ledger.path import Walk, way_of
from solver.ledger.solve import EQUAL, Entry, PumpLedger, Solution
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.network.ways import PipeJoint, Way, outside
from solver.network.ways import joints as joints_of


class OuterJoint(NamedTuple):
    """Where one part is joined to the next, or a bend that is a fitting to its run."""

    key: str  # of the entry with the lower pressure of those that meet at it
    part: str
    following: str  # the part that the fluid comes to next; of a bend, the run itself
    x: float  # [m]
    z: float  # elevation [m]
    pressure: float  # static, absolute, the lowest that acts on it [Pa]
    bend: str = ""  # where on which bend: "after bend 1 of riser"; "" where parts meet
    bend_kinds: tuple[Bend, ...] = ()  # how the bends that it belongs to are made

    @property
    def name(self) -> str:
        """Where it is, or between what, in words."""
        return self.bend or f"{self.part} to {self.following}"


def joints(solution: Solution, pump: str, walk: Walk | None = None) -> tuple[OuterJoint, ...]:
    """Every joint outside the fluid: of parts and bends in walking order, then those of parallel lines.

    walk: of `path.way_of` for that pump, where it is known.
    Raises KeyError for a pump that does not run.
    """
    ledger = solution.pumps[pump]
    elements, way = walk if walk is not None else way_of(solution.network, ledger.entries)
    on_walk = _joints_on_walk(solution, ledger, way)
    return (
        *(_outer(step, elements, ledger.entries[-1]) for step in on_walk),
        *_on_parallel(solution, ledger),
    )


class LowJoints(NamedTuple):
    """The joints that would draw air where they leak."""

    lowest: OuterJoint
    number: int  # of all of them
    at_bends: int  # of those at bends
    bend_kinds: frozenset[Bend]  # how these bends are made


def low_joints(solution: Solution, pump: str, walk: Walk) -> LowJoints | None:
    """The joints outside the fluid under less than the atmosphere; None where there is none.

    Parameters and errors as `joints`, of which only the lowest is made: each case of a drag asks.
    """
    ledger = solution.pumps[pump]
    elements, air, port = walk[0], ledger.atmosphere, ledger.entries[-1]
    on_walk = _joints_on_walk(solution, ledger, walk[1])
    pressures = [
        elements[step.place].pressure
        if step.following and not step.sides[1:]
        else _lowest(step, elements, port).pressure
        for step in on_walk
    ]
    low = [step for step, pressure in zip(on_walk, pressures, strict=True) if pressure < air]
    beside = [each for each in _on_parallel(solution, ledger) if each.pressure < air]
    lowest = [*beside]  # of two alike the first in walking order
    if low:
        lowest.insert(0, _outer(on_walk[pressures.index(min(pressures))], elements, port))
    elif not beside:
        return None
    at_bends = [each.bend_kinds for each in low if each.bend] + [
        each.bend_kinds for each in beside if each.bend
    ]
    bend_kinds = frozenset(each for kinds in at_bends for each in kinds)
    return LowJoints(
        min(lowest, key=attrgetter("pressure")), len(low) + len(beside), len(at_bends), bend_kinds
    )


def _joints_on_walk(solution: Solution, ledger: PumpLedger, way: Way) -> tuple[PipeJoint, ...]:
    return way.joints_outside(solution.layout.reservoirs[ledger.reservoir].outline, ledger.fluid_level)


def _outer(step: PipeJoint, elements: Sequence[Entry], port: Entry) -> OuterJoint:
    entry = _lowest(step, elements, port)
    return OuterJoint(
        entry.key, elements[step.place].part, step.following or port.part, step.x, step.z, entry.pressure,
        step.bend, step.bend_kinds,
    )  # fmt: skip


def _lowest(step: PipeJoint, elements: Sequence[Entry], port: Entry) -> Entry:
    """The entry with the lowest pressure of those that meet at a joint, the port's at the end of the way."""
    lowest = min([elements[place] for place in step.sides], key=attrgetter("pressure"))
    return lowest if step.following or port.pressure > lowest.pressure - EQUAL else port


_Line = list[tuple[Entry, Row]]


def _on_parallel(solution: Solution, ledger: PumpLedger) -> Iterator[OuterJoint]:
    """Those of lines in parallel with the walk, each up to where it meets another or the port."""
    if not ledger.parallel_entries:
        return
    network, port = solution.network, ledger.entries[-1]
    held = {
        each.key: (each, network.rows[network.index[each.key]])
        for each in (*ledger.entries, *ledger.parallel_entries)
        if each.key in network.index
    }
    leaving = {_from(*each): each for each in held.values()}
    outline = solution.layout.reservoirs[ledger.reservoir].outline
    for line in _lines([held[each.key] for each in ledger.parallel_entries if each.key in held]):
        after = leaving.get(_to(*line[-1]))
        whole = line if after is None else [*line, after]
        elements, rows = [entry for entry, _ in whole], [row for _, row in whole]
        line_joints = joints_of(rows, [entry.flow >= 0 for entry in elements])
        # Where a tee leads on to the walk, it is joined to it there already.
        last = len(line) - (after is not None and line[-1][1].kind == RowKind.TEE)
        own = [step for step in line_joints if step.place < last]
        yield from (_outer(step, elements, port) for step in outside(own, outline, ledger.fluid_level))


def _lines(rows: _Line) -> Iterator[_Line]:
    """Entries with their rows, as far as each leads to the next."""
    line: _Line = []
    for each in rows:
        if line and _to(*line[-1]) != _from(*each):
            yield line
            line = []
        line.append(each)
    yield from [line] if line else ()


def _from(entry: Entry, row: Row) -> str:
    return row.start if entry.flow >= 0 else row.end


def _to(entry: Entry, row: Row) -> str:
    return row.end if entry.flow >= 0 else row.start
