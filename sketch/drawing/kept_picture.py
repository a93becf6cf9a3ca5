"""A picture that is kept from one frame to the next, of which only what has changed is painted again."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from operator import itemgetter
from typing import Any

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QImage, QPainter, QPixmap, QRegion

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.drawing.recorder import Recorder, Stroke
from sketch.drawing.view import XY

TILE = 16
"""Logical pixels of the squares in which a sheet is painted again."""

MOST = 0.5
"""Share of a sheet beyond which all of it is painted at once."""

SQUARE = (Pencil.fill, Pencil.rules, Pencil.pixmap)
"""Strokes with sharp edges on whole pixels, which a clip does not alter."""

PORTION = 32  # of strokes that are compared at once

Edges = tuple[float, float, float, float]
"""Left, top, right and bottom of a rectangle."""

_edges = itemgetter(0, 1, 2, 3)  # of a stroke


class KeptPicture:
    """Holds the pixels of a sheet and the strokes that made them."""

    def __init__(self) -> None:
        self._pixels: tuple[QPixmap, QPixmap] | None = None  # what is shown, and one to draw strokes on
        self._strokes: Sequence[Stroke] = ()
        self._of: object = None  # the sheet that the pixels are of
        self.repainted = 0.0  # share of the sheet that the last frame had painted again, 0 to 1

    def image(self) -> QImage:
        """The pixels as they are now."""
        return self._pixels[0].toImage() if self._pixels is not None else QImage()

    def paint(self, painter: QPainter, recorder: Recorder, size: XY) -> None:
        """Paint what the recorder has listed, which covers the sheet, from the painter's origin."""
        self.update(recorder, size, painter.device().devicePixelRatioF())
        if self._of is None or self._pixels is None:
            draw(painter, recorder, recorder.strokes)
        else:
            painter.drawPixmap(0, 0, self._pixels[0])

    def update(self, recorder: Recorder, size: XY, ratio: float) -> Sequence[QRect] | None:
        """Bring the pixels up to date with what the recorder has listed, which covers the sheet.

        ratio: device pixels for each logical one. Returns where they are others; None for all of the sheet.
        """
        if ratio % 1.0:  # pixels of its own would not be the widget's
            self._of = None
            return None
        of = (size, ratio, recorder.dot, recorder.family)
        before, same = self._strokes, self._of == of
        if same and before is recorder.strokes:
            self.repainted = 0.0
            return ()
        self._of = None  # while it is painted: an error may leave it half done
        if self._pixels is None or not same:
            self._pixels = _blank(size, ratio), _blank(size, ratio)
        shown, scratch = self._pixels
        tiles = Tiles(Box(0.0, 0.0, *size))
        for edges in changes(before, recorder.strokes) if same else ():
            tiles.add(*edges)
        self.repainted = tiles.share if same else 1.0
        areas: list[QRect] | None = []
        if self.repainted > MOST:
            self.repainted, areas = 1.0, None
            _draw_all(shown, recorder)
        elif self.repainted:
            areas = list(tiles.areas())
            _draw_tiles(shown, scratch, recorder, tiles, areas)
        self._strokes, self._of = recorder.strokes, of
        return areas


def _blank(size: XY, ratio: float) -> QPixmap:
    pixmap = QPixmap(math.ceil(size[0] * ratio), math.ceil(size[1] * ratio))
    pixmap.setDevicePixelRatio(ratio)
    return pixmap


def draw(painter: QPainter, recorder: Recorder, strokes: Iterable[Stroke]) -> None:
    """Draw strokes of a recorder, in order."""
    pencil = Pencil(painter, recorder.dot, recorder.sheet)
    for stroke in strokes:
        stroke.draw(pencil, *stroke.how)


def _draw_all(shown: QPixmap, recorder: Recorder) -> None:
    painter = QPainter(shown)
    try:
        draw(painter, recorder, recorder.strokes)
    finally:
        painter.end()


def _draw_tiles(
    shown: QPixmap, scratch: QPixmap, recorder: Recorder, tiles: Tiles, areas: Sequence[QRect]
) -> None:
    """Draw whole strokes aside and bring over the tiles: a stroke that is cut off by a clip differs in a last
    digit of its edges."""
    painter = QPainter(scratch)
    try:
        region = QRegion()
        for area in areas:
            region += area
        painter.setClipRegion(region)
        pencil, clipping, touched_by = Pencil(painter, recorder.dot, recorder.sheet), True, tiles.touched_by
        x, y, far, low = tiles.bounds
        changed = QRectF(x, y, far - x, low - y)
        for left, top, right, bottom, draw_stroke, how in recorder.strokes:
            if right < x or left >= far or bottom < y or top >= low:
                continue  # most of them, which the rows of tiles need not be asked about
            if touched_by(left, top, right, bottom):
                square = draw_stroke in SQUARE
                if square is not clipping:
                    clipping = square
                    painter.setClipping(square)
                if draw_stroke is Pencil.lines and not how[3]:
                    how = _between(how, x, far, pencil.dot)
                elif draw_stroke is Pencil.rules:
                    how = [area for area in how[0] if area.intersects(changed)], how[1]
                draw_stroke(pencil, *how)
    finally:
        painter.end()
    ratio = round(shown.devicePixelRatio())  # of whole pixels: no other is kept
    painter = QPainter(shown)
    for area in areas:
        source = area
        if ratio != 1:
            source = QRect(area.topLeft() * ratio, area.size() * ratio)
        painter.drawPixmap(area, scratch, source)
    painter.end()


def _between(how: tuple[Any, ...], left: float, right: float, dot: float) -> tuple[Any, ...]:
    """How a batch of lines is drawn, without those that lie wholly left or right of two verticals."""
    lines, colour, width, dash = how
    left, right = left - width * dot - 1.0, right + width * dot + 1.0
    near = [
        line
        for line in lines
        if (line[0][0] > left or line[1][0] > left) and (line[0][0] < right or line[1][0] < right)
    ]
    return near, colour, width, dash


def changes(before: Sequence[Stroke], after: Sequence[Stroke]) -> list[Edges]:
    """Where two lists of strokes may not give the same picture."""
    first = _alike(before, after)
    if first == len(before) == len(after):
        return []
    old, new = before[first:], after[first:]
    last = _alike(old[::-1], new[::-1])
    old, new = old[: len(old) - last], new[: len(new) - last]
    if len(old) == len(new):
        pairs = ((one, other) for one, other in zip(old, new, strict=True) if one != other)
        return [edges for one, other in pairs for edges in _of_pair(one, other)]
    return list(_of_others(old, new))


def _alike(before: Sequence[Stroke], after: Sequence[Stroke]) -> int:
    """How many strokes the lists begin with alike."""
    count, most = 0, min(len(before), len(after))
    while count < most and before[count : count + PORTION] == after[count : count + PORTION]:
        count += PORTION
    while count < most and before[count] == after[count]:
        count += 1
    return min(count, most)


def _of_pair(one: Stroke, other: Stroke) -> Iterator[Edges]:
    """The rectangles round what two batches of lines differ in, or round both where drawn differently."""
    if not _drawn_alike(one, other):
        yield from (_edges(one), _edges(other))
        return
    by = min(x for line in other.how[0] for x, _ in line) - other.left
    for old, new in zip_longest(one.how[0], other.how[0]):
        if old == new:
            continue
        if old is not None and new is not None and _in_line(old, new, dashed=bool(one.how[3])):
            yield from (_round(ends, by) for ends in zip(old, new, strict=True) if ends[0] != ends[1])
        else:
            yield from (_round(line, by) for line in (old, new) if line is not None)


def _drawn_alike(one: Stroke, other: Stroke) -> bool:
    return one.draw is other.draw is Pencil.lines and one.how[1:] == other.how[1:]


def _in_line(old: tuple[XY, XY], new: tuple[XY, XY], *, dashed: bool) -> bool:
    """Whether a level or upright line has merely become longer or shorter, so that only its ends differ.

    A dashed one has to begin where it began: its dashes are counted from there.
    """
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = *old, *new
    return (ay == by == cy == dy or ax == bx == cx == dx) and not (dashed and old[0] != new[0])


def _round(line: tuple[XY, XY], by: float) -> Edges:
    (ax, ay), (cx, cy) = line
    return min(ax, cx) - by, min(ay, cy) - by, max(ax, cx) + by, max(ay, cy) + by


def _of_others(old: Sequence[Stroke], new: Sequence[Stroke]) -> Iterator[Edges]:
    """Where strokes have come, gone or changed their order."""
    places: dict[Edges, list[int]] = {}
    for at, stroke in enumerate(old):
        places.setdefault(_edges(stroke), []).append(at)
    last, kept, added = -1, set[int](), list[Stroke]()
    for stroke in new:
        same = [at for at in places.get(_edges(stroke), ()) if at > last and old[at] == stroke]
        if same:
            last = same[0]
            kept.add(last)
        else:
            added.append(stroke)
    gone = [stroke for at, stroke in enumerate(old) if at not in kept]
    for stroke in added:
        alike = next((at for at, other in enumerate(gone) if _drawn_alike(other, stroke)), None)
        yield from (_edges(stroke),) if alike is None else _of_pair(gone.pop(alike), stroke)
    yield from map(_edges, gone)


class Tiles:
    """The parts of a sheet that are to be painted again, by small squares; one whole number for each row."""

    def __init__(self, sheet: Box) -> None:
        self._columns = math.ceil(sheet.width / TILE)
        self.rows = [0] * math.ceil(sheet.height / TILE)

    @property
    def share(self) -> float:
        """The part of all tiles that was put down, 0 to 1."""
        return sum(row.bit_count() for row in self.rows) / max(self._columns * len(self.rows), 1)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of all that was put down."""
        rows = [at for at, row in enumerate(self.rows) if row]
        if not rows:
            return 0.0, 0.0, 0.0, 0.0
        columns = 0
        for at in rows:
            columns |= self.rows[at]
        first, last = (columns & -columns).bit_length() - 1, columns.bit_length()
        return first * TILE, rows[0] * TILE, last * TILE, (rows[-1] + 1) * TILE

    def add(self, left: float, top: float, right: float, bottom: float) -> None:
        """Put down a rectangle; nothing of it beyond the sheet."""
        rows = self.rows
        first = int(left // TILE) if left > 0.0 else 0
        low = int(top // TILE) if top > 0.0 else 0
        last, high = int(right // TILE) + 1, int(bottom // TILE) + 1
        last = last if last < self._columns else self._columns
        if last > first:
            mask = ((1 << (last - first)) - 1) << first
            for row in range(low, high if high < len(rows) else len(rows)):
                rows[row] |= mask

    def touched_by(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether a rectangle touches a tile that was put down."""
        if right < 0.0 or bottom < 0.0:
            return False
        first, low = int(left // TILE) if left > 0.0 else 0, int(top // TILE) if top > 0.0 else 0
        last = int(right // TILE) + 1
        mask = ((1 << (last if last < self._columns else self._columns)) - 1) >> first << first
        for row in self.rows[low : int(bottom // TILE) + 1]:  # noqa: SIM110  any() takes twice the time
            if row & mask:
                return True
        return False

    def areas(self) -> Iterator[QRect]:
        """The tiles as rectangles, those of one row and of rows alike together."""
        row = 0
        while row < len(self.rows):
            mask, first = self.rows[row], row
            while row < len(self.rows) and self.rows[row] == mask:
                row += 1
            for left, right in _runs(mask):
                yield QRect(left * TILE, first * TILE, (right - left) * TILE, (row - first) * TILE)


def _runs(mask: int) -> Iterator[tuple[int, int]]:
    """From and to of the bits that follow one another."""
    at = 0
    while mask:
        skip = (mask & -mask).bit_length() - 1
        mask >>= skip
        long = (~mask & (mask + 1)).bit_length() - 1
        yield at + skip, at + skip + long
        at, mask = at + skip + long, mask >> long
