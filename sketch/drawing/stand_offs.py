"""Places round an element, cheapest first, on a sheet as it was before it had labels.

What was taken then stays taken, so a place that is barred here is barred in every order in which the labels
may come, and none gets cheaper than it is here: each order asks only what the labels before it have changed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sketch.drawing.labels import XY, Anchor, Box, Grid, Wish

SIDES = 60
"""Directions from an element in which its label may stand off."""

CROSSING = 8.0
"""Logical pixels farther off that a leader goes sooner than across one more cell of the line."""

_Floats = NDArray[np.float64]
_Whole = NDArray[np.int64]


class StandOff(NamedTuple):
    """A place off an element, and the line back to it."""

    cost: float  # on the sheet without labels [logical pixels]
    distance: float  # from the element to the label [logical pixels]
    box: Box
    leader: tuple[XY, XY]


class Bounds(NamedTuple):
    """How far off labels may stand."""

    far: tuple[float, ...]  # distances to be tried [logical pixels]
    crossed: int  # cells of the line that a leader may cross


class StandOffs:
    """The places round elements of one sheet, worked out once for each label and its bounds."""

    def __init__(self, lines: Grid, texts: Grid, dot: float) -> None:
        self.dot = dot
        self._grid = lines
        self._lines, self._texts = _Counts(lines), _Counts(texts)
        self._known: dict[tuple[float, float, tuple[Anchor, ...], Bounds], Sequence[StandOff]] = {}
        self._cells: dict[tuple[XY, XY], list[tuple[int, int]]] = {}

    def cells(self, leader: tuple[XY, XY]) -> list[tuple[int, int]]:
        """(row, mask) of the cells of the grids that a leader touches."""
        if leader not in self._cells:
            self._cells[leader] = list(self._grid.thin_line(*leader))
        return self._cells[leader]

    def cheapest_first(self, wish: Wish, bounds: Bounds) -> Sequence[StandOff]:
        """All free places for a label whose leaders cross no text, the nearest of the same cost first."""
        key = (wish.width, wish.height, wish.anchors, bounds)
        if key not in self._known:
            self._known[key] = self._worked_out(wish, bounds)
        return self._known[key]

    def _worked_out(self, wish: Wish, bounds: Bounds) -> list[StandOff]:
        distance, x, y, nx, ny, clear = (each.ravel() for each in _all_round(wish.anchors, bounds.far))
        wide, high = wish.width, wish.height
        reach = clear + distance * self.dot + (np.abs(nx) * wide + np.abs(ny) * high) / 2
        left, top = x + nx * reach - wide / 2, y + ny * reach - high / 2
        at = np.flatnonzero(self._lines.free(left, top, wide, high))
        distance, left, top = distance[at], left[at], top[at]
        foot_x, foot_y = (x + nx * clear)[at], (y + ny * clear)[at]
        end_x = np.minimum(np.maximum(foot_x, left), left + wide)
        end_y = np.minimum(np.maximum(foot_y, top), top + high)
        spans = self._lines.spans(foot_x, foot_y, end_x, end_y)
        crossed = self._lines.crossed(spans)
        cost = distance + CROSSING * crossed
        good = np.flatnonzero((crossed <= bounds.crossed) & (self._texts.crossed(spans) == 0))
        good = good[np.argsort(cost[good], kind="stable")]
        columns = (each[good].tolist() for each in (cost, distance, left, top, foot_x, foot_y, end_x, end_y))
        return [
            StandOff(price, off, Box(a, b, wide, high), ((p, q), (r, s)))
            for price, off, a, b, p, q, r, s in zip(*columns, strict=True)
        ]


def _all_round(anchors: Sequence[Anchor], far: Sequence[float]) -> tuple[_Floats, ...]:
    """Distance, point, direction and clearance of all places: distances × anchors × directions."""
    x, y, nx, ny, clear = (
        np.array(column, dtype=float)[None, :, None] for column in zip(*anchors, strict=True)
    )
    turns = sorted(range(SIDES), key=lambda k: min(k % (SIDES // 2), -k % (SIDES // 2)))  # square to it first
    sine, cosine = (
        np.array([turned(math.tau * turn / SIDES) for turn in turns])[None, None, :]
        for turned in (math.sin, math.cos)
    )
    off = np.array(far, dtype=float)[:, None, None]
    each = np.broadcast_arrays(off, x, y, nx * cosine - ny * sine, nx * sine + ny * cosine, clear)
    return tuple(each)


class _Spans(NamedTuple):
    """The cells that lines touch: lines × rows, each from one column up to another."""

    rows: _Whole
    first: _Whole
    last: _Whole


class _Counts:
    """How many cells of a grid are taken, for many boxes or lines at once."""

    def __init__(self, grid: Grid) -> None:
        self.cell, self.columns, self.high = grid.cell, grid.columns, len(grid.rows)
        size = -(-grid.columns // 8)
        data = np.frombuffer(b"".join(row.to_bytes(size, "little") for row in grid.rows), dtype=np.uint8)
        taken = np.unpackbits(data.reshape(self.high, size), axis=1, count=grid.columns, bitorder="little")
        self._along = np.zeros((self.high + 1, grid.columns + 1), dtype=np.int64)  # the last row is empty
        np.cumsum(taken, axis=1, out=self._along[:-1, 1:])
        self._over = np.zeros_like(self._along)
        np.cumsum(self._along[:-1], axis=0, out=self._over[1:])

    def free(self, left: _Floats, top: _Floats, width: float, height: float) -> NDArray[np.bool_]:
        """Whether rectangles lie on the sheet and touch no taken cell."""
        x1, y1 = _floor(left // self.cell), _floor(top // self.cell)
        x2, y2 = _floor(-(-(left + width) // self.cell)), _floor(-(-(top + height) // self.cell))
        on = (x1 >= 0) & (y1 >= 0) & (x2 <= self.columns) & (y2 <= self.high)
        x1, x2 = np.clip(x1, 0, self.columns), np.clip(x2, 0, self.columns)
        y1, y2 = np.clip(y1, 0, self.high), np.clip(y2, 0, self.high)
        taken = self._over[y2, x2] - self._over[y1, x2] - self._over[y2, x1] + self._over[y1, x1]
        return np.asarray(on & (taken == 0))

    def spans(self, ax: _Floats, ay: _Floats, bx: _Floats, by: _Floats) -> _Spans:
        """The cells that thin lines touch, as `Grid.crossed` has them."""
        cell, half, down = self.cell, self.cell * 0.125, ay <= by
        ax, ay, bx, by = (np.where(down, p, q)[:, None] for p, q in ((ax, bx), (ay, by), (bx, ax), (by, ay)))
        tall = by - ay
        steep = tall >= cell
        slope = np.where(steep, (bx - ax) / np.where(steep, tall, 1.0), 0.0)
        first = np.maximum(_floor((ay - half) // cell), 0)
        last = np.minimum(_floor(-(-(by + half) // cell)), self.high)
        rows = first + np.arange(max(int((last - first).max(initial=0)), 0))
        above, below = rows * cell - half - ay, (rows + 1) * cell + half - ay
        x1 = np.where((slope != 0.0) & (above > 0.0), ax + slope * above, ax)
        x2 = np.where((slope != 0.0) & (below < tall), ax + slope * below, bx)
        x1, x2 = np.minimum(x1, x2), np.maximum(x1, x2)
        start = np.clip(_floor((x1 - half) // cell), 0, self.columns)
        end = np.clip(_floor(-(-(x2 + half) // cell)), 0, self.columns)
        return _Spans(np.where(rows < last, rows, self.high), start, np.maximum(start, end))

    def crossed(self, spans: _Spans) -> _Whole:
        """How many taken cells each line touches."""
        rows, first, last = spans
        return np.asarray((self._along[rows, last] - self._along[rows, first]).sum(axis=1))


def _floor(values: _Floats) -> _Whole:
    return values.astype(np.int64)
