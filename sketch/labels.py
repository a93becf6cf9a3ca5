"""Where labels go: beside their element, none on another, a line or a level; off it with a leader.

The sheet is a grid of cells kept as one whole number a row, so that asking whether a box is free is a
handful of "and"s. The same wishes in the same order always give the same places.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in device units."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    def overlaps(self, other: Box) -> bool:
        """True when the two share any area."""
        return (
            self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
        )

    def holds(self, x: float, y: float) -> bool:
        """True when the point lies in the box."""
        return self.x <= x <= self.right and self.y <= y <= self.bottom

    def grown(self, by: float) -> Box:
        """The box with that much more on every side."""
        return Box(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def nearest(self, x: float, y: float) -> XY:
        """The point of the box nearest to (x, y)."""
        return min(max(x, self.x), self.right), min(max(y, self.y), self.bottom)


@dataclass(frozen=True, slots=True)
class Label:
    """A text as drawn, for hit tests and for tests.

    `key` is an entry's, a part's name, "lift <pump>" or "highest port"; `kind` is "share", "name", "bore",
    "level", "lift" or "limit".
    """

    key: str
    kind: str
    text: str
    box: Box
    leader: tuple[XY, XY] | None = None


class Grid:
    """Which cells of the sheet are taken. What reaches beyond the sheet counts as taken."""

    def __init__(self, width: float, height: float, cell: float) -> None:
        self.cell = cell
        self.columns = max(int(width // cell), 1)
        self.rows = [0] * max(int(height // cell), 1)

    def _columns(self, left: float, right: float) -> int:
        first = max(math.floor(left / self.cell), 0)
        last = min(math.ceil(right / self.cell), self.columns)
        return ((1 << (last - first)) - 1) << first if last > first else 0

    def block(self, box: Box) -> None:
        """Take every cell the box touches."""
        mask = self._columns(box.x, box.right)
        first = max(math.floor(box.y / self.cell), 0)
        last = min(math.ceil(box.bottom / self.cell), len(self.rows))
        for row in range(first, last):
            self.rows[row] |= mask

    def free(self, box: Box) -> bool:
        """True when the box lies on the sheet and touches no taken cell."""
        return self.free_at(box.x, box.y, box.width, box.height)

    def free_at(self, x: float, y: float, width: float, height: float) -> bool:
        """The same of a rectangle given by its figures: this is asked thousands of times a repaint."""
        cell = self.cell
        left, first = int(x // cell), int(y // cell)
        right, last = int(-(-(x + width) // cell)), int(-(-(y + height) // cell))
        if left < 0 or first < 0 or right > self.columns or last > len(self.rows):
            return False
        mask = ((1 << (right - left)) - 1) << left
        return all(not row & mask for row in self.rows[first:last])

    def taken(self, box: Box) -> float:
        """The part of a box's rows in which something stands, 0 to 1."""
        mask = self._columns(box.x, box.right)
        rows = self.rows[max(int(box.y // self.cell), 0) : max(int(box.bottom // self.cell) + 1, 1)]
        return sum(1 for row in rows if row & mask) / max(len(rows), 1)

    def _spans(self, a: XY, b: XY, half: float) -> Iterator[tuple[int, int]]:
        """(row, mask) of every row a segment of that half width passes."""
        (ax, ay), (bx, by) = (a, b) if a[1] <= b[1] else (b, a)
        first = max(math.floor((ay - half) / self.cell), 0)
        last = min(math.ceil((by + half) / self.cell), len(self.rows))
        tall = by - ay
        for row in range(first, last):
            if tall < self.cell:
                x1, x2 = ax, bx
            else:
                top = min(max((row * self.cell - half - ay) / tall, 0.0), 1.0)
                low = min(max(((row + 1) * self.cell + half - ay) / tall, 0.0), 1.0)
                x1, x2 = ax + (bx - ax) * top, ax + (bx - ax) * low
            mask = self._columns(min(x1, x2) - half, max(x1, x2) + half)
            if mask:
                yield row, mask

    def block_line(self, points: Sequence[XY], width: float = 0.0) -> None:
        """Take every cell a line of that width touches."""
        half = max(width, self.cell * 0.25) / 2
        for a, b in pairwise(points):
            if a[0] == b[0] or a[1] == b[1]:
                left, top = min(a[0], b[0]) - half, min(a[1], b[1]) - half
                self.block(Box(left, top, abs(b[0] - a[0]) + 2 * half, abs(b[1] - a[1]) + 2 * half))
                continue
            for row, mask in self._spans(a, b, half):
                self.rows[row] |= mask

    def free_line(self, a: XY, b: XY) -> bool:
        """True when a thin line from a to b touches no taken cell."""
        return not any(self.rows[row] & mask for row, mask in self._spans(a, b, self.cell * 0.125))


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place a label may belong to: a point of the element, the side to try first, and how thick it is."""

    x: float
    y: float
    nx: float = 0.0
    ny: float = -1.0
    clear: float = 0.0  # from the point to the edge of the element


@dataclass(frozen=True, slots=True)
class Wish:
    """A label that wants a place; one that may not stand off is dropped when there is no room beside it."""

    key: str
    width: float
    height: float
    anchors: tuple[Anchor, ...]
    stand_off: bool = True


@dataclass(frozen=True, slots=True)
class Place:
    """Where a label stands; `leader` is the line back to its element, when it stands off."""

    key: str
    box: Box
    leader: tuple[XY, XY] | None = None


_NEAR = (4.0, 8.0)
_FAR = (14.0, 20.0, 28.0, 38.0, 50.0, 64.0, 80.0, 100.0, 124.0, 152.0, 190.0, 240.0, 300.0)
_DIAGONAL = math.sqrt(0.5)

PATIENCE = 800
"""Places tried for all the labels of a sheet that must stand off. A crowded sheet takes half of it; one that
is past reading would take a hundred times as much, move by move of a drag, and be no better to read."""


def _sides(anchor: Anchor) -> tuple[XY, ...]:
    nx, ny = anchor.nx, anchor.ny
    return (nx, ny), (-nx, -ny)


def _around(anchor: Anchor) -> tuple[XY, ...]:
    nx, ny = anchor.nx, anchor.ny
    turned = (
        (nx, ny),
        (-nx, -ny),
        ((nx - ny) * _DIAGONAL, (ny + nx) * _DIAGONAL),
        ((nx + ny) * _DIAGONAL, (ny - nx) * _DIAGONAL),
    )
    return (*turned, *((-x, -y) for x, y in turned[2:]), (-ny, nx), (ny, -nx))


def _corner(wish: Wish, anchor: Anchor, side: XY, distance: float) -> XY:
    """Top left corner of a label that far from its element's edge, on one side of it."""
    reach = anchor.clear + distance + abs(side[0]) * wish.width / 2 + abs(side[1]) * wish.height / 2
    return anchor.x + side[0] * reach - wish.width / 2, anchor.y + side[1] * reach - wish.height / 2


class Placer:
    """Gives out places. `lines` is what labels keep off; `texts` is what leaders keep off as well."""

    def __init__(self, width: float, height: float, dot: float = 1.0) -> None:
        self.dot = dot
        self.lines = Grid(width, height, 4.0 * dot)
        self.texts = Grid(width, height, 4.0 * dot)
        self.patience = PATIENCE

    def block_text(self, box: Box) -> None:
        """Keep labels and leaders off a box."""
        self.lines.block(box)
        self.texts.block(box)

    def place(self, wish: Wish) -> Place | None:
        """The nearest free place for the label, now taken; None when there is none."""
        for distance in _NEAR:
            for anchor in wish.anchors:
                for side in _sides(anchor):
                    x, y = _corner(wish, anchor, side, distance * self.dot)
                    if self.lines.free_at(x, y, wish.width, wish.height):
                        box = Box(x, y, wish.width, wish.height)
                        self.block_text(box)
                        return Place(wish.key, box)
        return self._stand_off(wish) if wish.stand_off else None

    def _stand_off(self, wish: Wish) -> Place | None:
        for distance in _FAR:
            for anchor in wish.anchors:
                for side in _around(anchor):
                    if self.patience <= 0:
                        return None
                    self.patience -= 1
                    x, y = _corner(wish, anchor, side, distance * self.dot)
                    if not self.lines.free_at(x, y, wish.width, wish.height):
                        continue
                    box = Box(x, y, wish.width, wish.height)
                    foot = (anchor.x + side[0] * anchor.clear, anchor.y + side[1] * anchor.clear)
                    tip = box.nearest(*foot)
                    if not self.texts.free_line(foot, tip):
                        continue
                    self.block_text(box)
                    self.lines.block_line((foot, tip))
                    return Place(wish.key, box, (foot, tip))
        return None


def spread(centres: Sequence[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    """Centres moved as little as may be so that labels of those heights, in order, do not overlap.

    Labels stay within `low` to `high` when there is room for them all; blocks of labels that touch share
    the displacement, which is the least-squares solution of the ordered problem.
    """
    blocks: list[tuple[float, float, int]] = []  # (wanted top of the block, its height, how many)
    for centre, height in zip(centres, heights, strict=True):
        blocks.append((centre - height / 2, height, 1))
        while len(blocks) > 1 and blocks[-2][0] + blocks[-2][1] > blocks[-1][0]:
            (top_a, high_a, count_a), (top_b, high_b, count_b) = blocks[-2], blocks[-1]
            count = count_a + count_b
            top = (top_a * count_a + (top_b - high_a) * count_b) / count
            blocks[-2:] = [(top, high_a + high_b, count)]
    return _settle(_tops(blocks, heights), heights, low, high)


def _tops(blocks: Sequence[tuple[float, float, int]], heights: Sequence[float]) -> list[float]:
    tops: list[float] = []
    for top, _, count in blocks:
        for _ in range(count):
            tops.append(top)
            top += heights[len(tops) - 1]
    return tops


def _settle(tops: list[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    edge = high
    for index in range(len(tops) - 1, -1, -1):
        tops[index] = min(tops[index], edge - heights[index])
        edge = tops[index]
    edge = low
    for index, height in enumerate(heights):
        tops[index] = max(tops[index], edge)
        edge = tops[index] + height
    return [top + height / 2 for top, height in zip(tops, heights, strict=True)]
