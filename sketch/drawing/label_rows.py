"""Labels in rows over and under a crowded line, or in columns beside it, in the order of their elements: so
that no leader crosses another."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sketch.drawing.labels import XY, Box, Grid, Wish
from sketch.drawing.separation import separated

BETWEEN = 6.0
"""Logical pixels between two labels of a row."""

UP, DOWN, LEFT, RIGHT = (0.0, -1.0), (0.0, 1.0), (-1.0, 0.0), (1.0, 0.0)


class Row(NamedTuple):
    """How labels stand in rows: on which sides of the line, and how far off it."""

    sides: tuple[XY, ...]
    gap: float  # logical pixels


SIDES = ((UP,), (DOWN,), (UP, DOWN), (LEFT, RIGHT), (UP, DOWN, LEFT, RIGHT))
ROWS = tuple(Row(sides, gap) for gap in (20.0, 44.0, 72.0, 104.0) for sides in SIDES)
"""Rows to be tried: the nearest first."""


class RowPlace(NamedTuple):
    """Where a label of a row stands, and the line back to its element."""

    box: Box
    leader: tuple[XY, XY]


def in_rows(
    row: Row, wishes: Mapping[int, Wish], lines: Grid, within: Box, dot: float
) -> dict[int, RowPlace]:
    """Places for labels in rows, each on the side on which its leader crosses the least, free or not.

    within: the sheet without its axes [device units].
    """
    if not wishes:
        return {}
    feet = {at: (wish.anchors[0].x, wish.anchors[0].y) for at, wish in wishes.items()}
    edges = {side: _edge(side, list(feet.values()), row.gap * dot) for side in row.sides}
    nearest = {
        at: min(row.sides, key=lambda side: lines.crossed(foot, _at_edge(side, foot, edges[side])))
        for at, foot in feet.items()
    }
    places: dict[int, RowPlace] = {}
    for side in row.sides:
        alike = [at for at in wishes if nearest[at] == side]
        places |= _one_row(side, {at: wishes[at] for at in alike}, edges[side], within, dot)
    return places


def _edge(side: XY, feet: Sequence[XY], gap: float) -> float:
    """Where the near edge of a row lies: an x of a column, a y of a row."""
    along = [foot[0] if side[0] else foot[1] for foot in feet]
    way = side[0] + side[1]
    return (max(along) if way > 0 else min(along)) + way * gap


def _at_edge(side: XY, foot: XY, edge: float) -> XY:
    return (edge, foot[1]) if side[0] else (foot[0], edge)


def _one_row(
    side: XY, wishes: Mapping[int, Wish], edge: float, within: Box, dot: float
) -> dict[int, RowPlace]:
    upright = side[0] != 0.0
    order = sorted(wishes, key=lambda at: _along(wishes[at], upright))
    sizes = [(wishes[at].height if upright else wishes[at].width) + BETWEEN * dot for at in order]
    ends = (within.y, within.bottom) if upright else (within.x, within.right)
    middles = separated([_along(wishes[at], upright) for at in order], sizes, *ends)
    places = {}
    for at, middle in zip(order, middles, strict=True):
        wide, high = wishes[at].width, wishes[at].height
        if upright:
            box = Box(edge if side[0] > 0 else edge - wide, middle - high / 2, wide, high)
        else:
            box = Box(middle - wide / 2, edge if side[1] > 0 else edge - high, wide, high)
        places[at] = RowPlace(box, _leader(wishes[at], box))
    return places


def _along(wish: Wish, upright: bool) -> float:
    return wish.anchors[0].y if upright else wish.anchors[0].x


def _leader(wish: Wish, box: Box) -> tuple[XY, XY]:
    """From the edge of the element to the label."""
    x, y, *_, clear = wish.anchors[0]
    end = box.nearest(x, y)
    away = math.dist((x, y), end)
    share = min(clear / away, 1.0) if away > 0.0 else 0.0
    return (x + share * (end[0] - x), y + share * (end[1] - y)), end
