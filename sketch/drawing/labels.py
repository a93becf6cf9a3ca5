"""Labels, what one wants to stand by, and which cells of the sheet are taken.

The sheet is a grid of cells kept as one whole number a row, so that asking whether a box is free is a
handful of "and"s.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

XY = tuple[float, float]


class Box(NamedTuple):
    """A rectangle in device units."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Its lower edge."""
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

    def moved(self, x: float, y: float) -> Box:
        """The box that far to the right and down."""
        return Box(self.x + x, self.y + y, self.width, self.height)

    def nearest(self, x: float, y: float) -> XY:
        """The point of the box nearest to (x, y)."""
        return min(max(x, self.x), self.right), min(max(y, self.y), self.bottom)


class LabelKind(StrEnum):
    """What a text on the sheet gives."""

    SHARE = "share"
    NAME = "name"
    BORE = "bore"
    SLOPE = "slope"
    LEVEL = "level"
    LIFT = "lift"
    LIMIT = "limit"
    LEGEND = "legend"
    PIN = "pin"
    TEXT = "text"
    DIMENSION = "dimension"


@dataclass(frozen=True, slots=True)
class Label:
    """A text as drawn, for hit tests and for tests.

    `key` is an entry's, a part's name, "lift <pump>", "highest port", or "text <number>" or
    "dimension <number>" of one's own.
    """

    key: str
    kind: StrEnum  # a `LabelKind`; in the air column what its note belongs to
    text: str
    box: Box
    leader: tuple[XY, XY] | None = None


class Grid:
    """Which cells of the sheet are taken. What reaches beyond the sheet counts as taken."""

    def __init__(self, width: float, height: float, cell: float) -> None:
        self.cell = cell
        self.columns = max(int(width // cell), 1)
        self.rows = [0] * max(int(height // cell), 1)

    def block(self, box: Box) -> None:
        """Take every cell the box touches."""
        rows, (touched, mask) = self.rows, self.box_cells(box)
        for row in touched:
            rows[row] |= mask

    def box_cells(self, box: Box) -> tuple[range, int]:
        """The rows of the cells that the box touches, and the columns of all of them as bits."""
        x, y, width, height = box
        return self._cells(x, y, x + width, y + height)

    def _cells(self, left: float, top: float, right: float, bottom: float) -> tuple[range, int]:
        cell, most = self.cell, len(self.rows)
        mask = _mask(int(left // cell), int(-(-right // cell)), self.columns)
        first, last = int(top // cell), int(-(-bottom // cell))
        return range(first if first > 0 else 0, last if last < most else most), mask

    def free(self, box: Box) -> bool:
        """True when the box lies on the sheet and touches no taken cell."""
        return self.free_at(*box)

    def first_free(self, boxes: Iterable[Box]) -> Box | None:
        """The first of the boxes that is free; None where none is."""
        free_at = self.free_at
        for box in boxes:  # next() takes twice the time
            if free_at(*box):
                return box
        return None

    def free_at(self, x: float, y: float, width: float, height: float) -> bool:
        """True for a rectangle on the sheet that touches no taken cell. Asked thousands of times."""
        cell = self.cell
        left, first = int(x // cell), int(y // cell)
        right, last = int(-(-(x + width) // cell)), int(-(-(y + height) // cell))
        if left < 0 or first < 0 or right > self.columns or last > len(self.rows):
            return False
        mask = ((1 << (right - left)) - 1) << left
        for row in self.rows[first:last]:  # noqa: SIM110  all() takes twice the time
            if row & mask:
                return False
        return True

    def touched(self, box: Box) -> bool:
        """Whether the box touches a taken cell, on the sheet."""
        cell = self.cell
        mask = _mask(int(box.x // cell), int(-(-box.right // cell)), self.columns)
        first, last = max(int(box.y // cell), 0), max(int(-(-box.bottom // cell)), 0)
        for row in self.rows[first:last]:  # noqa: SIM110  any() takes twice the time
            if row & mask:
                return True
        return False

    def occupied_share(self, box: Box) -> float:
        """The part of a box's rows in which something stands, 0 to 1."""
        cell = self.cell
        mask = _mask(int(box.x // cell), int(-(-box.right // cell)), self.columns)
        rows = self.rows[max(int(box.y // cell), 0) : max(int(box.bottom // cell) + 1, 1)]
        return sum(1 for row in rows if row & mask) / max(len(rows), 1)

    def clear_to(self, start: float, end: float, y: float) -> float:
        """How far one gets from `start` towards `end` at a height before something stands in the way."""
        row = int(y // self.cell)
        if not 0 <= row < len(self.rows):
            return end
        left, right = (start, end) if start < end else (end, start)
        met = self.rows[row] & _mask(int(left // self.cell), int(-(-right // self.cell)), self.columns)
        if not met:
            return end
        if start < end:
            return min(max(((met & -met).bit_length() - 1) * self.cell, start), end)
        return max(min(met.bit_length() * self.cell, start), end)

    def clear_spans(self, start: float, end: float, y: float, half: float) -> list[tuple[float, float]]:
        """What is left of a level line, from left to right, where nothing stands within `half` of it."""
        cell, blocked = self.cell, 0
        for row in range(max(int((y - half) // cell), 0), min(int((y + half) // cell) + 1, len(self.rows))):
            blocked |= self.rows[row]
        spans, left = list[tuple[float, float]](), start
        for column in range(max(int(start // cell), 0), min(int(-(-end // cell)), self.columns)):
            if blocked >> column & 1:
                if column * cell > left:
                    spans.append((left, column * cell))
                left = (column + 1) * cell
        return [*spans, (left, end)] if end > left else spans

    def _spans(self, a: XY, b: XY, half: float) -> Iterator[tuple[int, int]]:
        """(row, mask) of every row a segment of that half width passes."""
        cell = self.cell
        (ax, ay), (bx, by) = (a, b) if a[1] <= b[1] else (b, a)
        tall, slope = by - ay, (bx - ax) / (by - ay) if by - ay >= cell else 0.0
        first, last = int((ay - half) // cell), int(-(-(by + half) // cell))
        for row in range(max(first, 0), min(last, len(self.rows))):
            x1, x2 = ax, bx
            if slope:
                top, low = row * cell - half - ay, (row + 1) * cell + half - ay
                x1 = ax + slope * top if top > 0.0 else ax
                x2 = ax + slope * low if low < tall else bx
            if x1 > x2:
                x1, x2 = x2, x1
            mask = _mask(int((x1 - half) // cell), int(-(-(x2 + half) // cell)), self.columns)
            if mask:
                yield row, mask

    def block_line(self, points: Sequence[XY], width: float = 0.0) -> None:
        """Take every cell a line of that width touches."""
        rows = self.rows
        for touched, mask in self.line_cells(points, width):
            for row in touched:
                rows[row] |= mask

    def line_cells(self, points: Sequence[XY], width: float = 0.0) -> Iterator[tuple[Iterable[int], int]]:
        """(rows, their mask) of the cells a line of that width touches, a row once for each of its pieces."""
        cell = self.cell
        half = max(width, cell * 0.25) / 2
        for a, b in pairwise(points):
            (ax, ay), (bx, by) = a, b
            left, right = (ax, bx) if ax < bx else (bx, ax)
            top, bottom = (ay, by) if ay < by else (by, ay)
            if right - left < cell or bottom - top < cell:
                yield self._cells(left - half, top - half, right + half, bottom + half)
            else:
                yield from (((row,), mask) for row, mask in self._spans(a, b, half))

    def free_line(self, a: XY, b: XY) -> bool:
        """True when a thin line from a to b touches no taken cell."""
        return self.free_cells(self.thin_line(a, b))

    def crossed(self, a: XY, b: XY, most: float = math.inf) -> int:
        """How many taken cells a thin line from a to b touches; no more are counted than one past `most`."""
        return self.occupied_cells(self.thin_line(a, b), most)

    def thin_line(self, a: XY, b: XY) -> Iterator[tuple[int, int]]:
        """(row, mask) of the cells that a thin line from a to b touches."""
        return self._spans(a, b, self.cell * 0.125)

    def free_cells(self, cells: Iterable[tuple[int, int]]) -> bool:
        """True when none of the cells (row, mask) is taken."""
        rows = self.rows
        for row, mask in cells:  # noqa: SIM110  any() takes twice the time
            if rows[row] & mask:
                return False
        return True

    def occupied_cells(self, cells: Iterable[tuple[int, int]], most: float = math.inf) -> int:
        """How many of the cells (row, mask) are taken; no more are counted than one past `most`."""
        rows, count = self.rows, 0
        for row, mask in cells:
            met = rows[row] & mask
            if met:
                count += met.bit_count()
                if count > most:
                    break
        return count


def _mask(first: int, last: int, columns: int) -> int:
    """The columns from `first` up to `last` as bits, those on the sheet."""
    first, last = first if first > 0 else 0, last if last < columns else columns
    return ((1 << (last - first)) - 1) << first if last > first else 0


class Anchor(NamedTuple):
    """A place a label may belong to: a point of the element, the side to try first, and how thick it is."""

    x: float
    y: float
    nx: float = 0.0
    ny: float = -1.0
    clear: float = 0.0  # from the point to the edge of the element


class Wish(NamedTuple):
    """A label that wants a place; one that may not stand off is dropped when there is no room beside it."""

    key: str
    width: float
    height: float
    anchors: tuple[Anchor, ...]
    stand_off: bool = True


class LabelPlace(NamedTuple):
    """Where a label stands; `leader` is the line back to its element, when it stands off."""

    key: str
    box: Box
    leader: tuple[XY, XY] | None = None
