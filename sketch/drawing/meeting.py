"""How runs meet the parts they join, on the device. No Qt here."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from sketch.drawing.memory import Memory
from sketch.drawing.polylines import toward
from sketch.drawing.view import XY
from solver.geometry import outline
from solver.layout.parts import Layout, Run
from solver.network.rows import Row, RowKind


class Meeting(NamedTuple):
    """How runs meet a part, as unit vectors on the device (y down)."""

    arriving: tuple[XY, ...]  # directions of flow into the part
    leaving: tuple[XY, ...]  # directions of flow out of it

    @property
    def flow(self) -> XY:
        """The direction the symbol points in."""
        if self.arriving:
            return self.arriving[0]
        return self.leaving[0] if self.leaving else (0.0, -1.0)

    @property
    def legs(self) -> tuple[XY, ...]:
        """Directions from the part along every run that meets it."""
        return (*((-x, -y) for x, y in self.arriving), *self.leaving)


class _Flow(NamedTuple):
    """From and to which part a run leads, and which way it sets off and comes in there."""

    start: str
    end: str
    first: XY | None
    last: XY | None


def run_points(layout: Layout, run: Run) -> tuple[XY, ...]:
    """The corners of a run from part to part [m]."""
    return tuple(outline.corners(layout, run))


def meetings(layout: Layout, rows: Sequence[Row] = (), memory: Memory | None = None) -> dict[str, Meeting]:
    """How runs meet each part; with rows, in the direction they give the flow.

    memory: of the last frame, for runs that are still the same.
    """
    kept = memory if memory is not None else Memory()
    arriving: dict[str, list[XY]] = {}
    leaving: dict[str, list[XY]] = {}
    first = {row.part: row for row in reversed(rows) if row.path}
    joint = layout.joint
    things = [(run, first.get(name), joint(run.start), joint(run.end)) for name, run in layout.runs.items()]
    flows = kept.of_each("flows", None, things, lambda run, row, *_: _flow(layout, run, row))
    for start, end, away, toward_end in flows:
        if away:
            leaving.setdefault(start, []).append(away)
        if toward_end:
            arriving.setdefault(end, []).append(toward_end)
    names = (*layout.intakes, *layout.fittings, *layout.tees, *layout.pumps)
    return {name: Meeting(tuple(arriving.get(name, ())), tuple(leaving.get(name, ()))) for name in names}


def _flow(layout: Layout, run: Run, row: Row | None) -> _Flow:
    line, start, end = run_points(layout, run), run.start, run.end
    if row is not None and _drawn_against_flow(run, row, line):
        line, start, end = line[::-1], end, start
    first, last = toward(line[0], line[1]), toward(line[-2], line[-1])
    return _Flow(start, end, first and (first[0], -first[1]), last and (last[0], -last[1]))


def _drawn_against_flow(run: Run, row: Row, line: tuple[XY, ...]) -> bool:
    """Whether a run is drawn from the pump's side to the reservoir's; `row` is the first of its rows."""
    if row.kind == RowKind.BORE_CHANGE:
        return row.key.partition(">")[0] == run.end
    return math.dist(row.path[0], line[-1]) < math.dist(row.path[0], line[0])
