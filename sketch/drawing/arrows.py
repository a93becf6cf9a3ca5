"""Which way the flow runs, where that is not plain: on lines in parallel. No Qt here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sketch.drawing.glyphs import Glyph
from sketch.drawing.polylines import along
from sketch.drawing.view import XY
from solver.ledger.solve import Solution
from solver.network.build import Row

LEAST_LENGTH = 22.0
"""Logical pixels of pipe below which no arrow is put on it."""

RESERVOIRS = "reservoirs"


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrow on a pipe: the middle of it, and the unit direction of the flow on the device (y down)."""

    part: str  # the run
    x: float
    y: float
    ux: float
    uy: float
    pipe: Glyph
    against: bool  # the flow runs against the way in which the line is walked from a reservoir


def arrows(solution: Solution | None, shapes: Iterable[Glyph], dot: float) -> tuple[Arrow, ...]:
    """One arrow on the longest straight of every run that lies on a loop and has a flow."""
    if solution is None or not solution.network.closures:
        return ()
    network = solution.network
    looped = rows_on_loops(network.rows)
    longest: dict[str, Glyph] = {}
    for glyph in shapes:
        if len(glyph.points) == 2 and network.index.get(glyph.key) in looped:
            held = longest.get(glyph.part)
            if glyph.length >= LEAST_LENGTH * dot and (held is None or glyph.length > held.length):
                longest[glyph.part] = glyph
    flows = {glyph.part: float(solution.flows[network.index[glyph.key]]) for glyph in longest.values()}
    return tuple(_arrow(glyph, flows[part]) for part, glyph in longest.items() if flows[part] != 0.0)


def _arrow(glyph: Glyph, flow: float) -> Arrow:
    points: Sequence[XY] = glyph.points if flow > 0.0 else glyph.points[::-1]
    (x, y), (ux, uy) = along(points, 0.5)
    return Arrow(glyph.part, x, y, ux, uy, glyph, flow < 0.0)


def rows_on_loops(rows: Sequence[Row]) -> frozenset[int]:
    """Places in `rows` of those on a loop, or between two: what is left when loose ends are taken off.

    All reservoirs count as one, for what is drawn from either meets again at the pump.
    """
    meeting: dict[str, set[int]] = {}
    for number, row in enumerate(rows):
        for node in _ends(row):
            meeting.setdefault(node, set()).add(number)
    loose = [node for node, at in meeting.items() if len(at) == 1]
    left = set(range(len(rows)))
    while loose:
        node = loose.pop()
        for number in tuple(meeting[node]):
            left.discard(number)
            far = _other(rows[number], node)
            meeting[node].discard(number)
            meeting[far].discard(number)
            if len(meeting[far]) == 1:
                loose.append(far)
    return frozenset(left)


def _ends(row: Row) -> tuple[str, str]:
    return _merged(row.start), _merged(row.end)


def _other(row: Row, node: str) -> str:
    start, end = _ends(row)
    return end if node == start else start


def _merged(node: str) -> str:
    return RESERVOIRS if node.startswith("reservoir:") else node
