"""Where labels go: beside their element, none on another, a line or a level; off it with a leader.

The same wishes in the same order always give the same places.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sketch.drawing.labels import XY, Anchor, Box, Grid, LabelPlace, Wish

_NEAR = (4.0, 8.0)
_FAR = (14.0, 22.0, 32.0, 46.0, 64.0, 88.0, 120.0, 160.0, 210.0)
_HALF, _FAR_OFF = 0.5, math.sqrt(0.75)

FARTHEST, NEAR_ENOUGH = 0.25, 90.0
"""Of the sheet's shorter side, or logical pixels: a label farther off would not be taken for its own."""

WELL_CROSSED, MOST_CROSSED = 6, 10
"""Cells of the line that a leader should touch at most, and may touch where there is no better: it runs
across a pipe, not along it."""

PATIENCE = 250
"""Places tried for all the labels of a sheet that must stand off. A crowded sheet takes most of it; one that
is past reading would take a hundred times as much, move by move of a drag, and be no better to read."""


def _around(nx: float, ny: float) -> tuple[XY, ...]:
    """The sides of an anchor to try, the first two square to its element."""
    ax, ay, bx, by = nx * _FAR_OFF, ny * _FAR_OFF, -ny * _HALF, nx * _HALF  # 30 degrees off square
    cx, cy, dx, dy = nx * _HALF, ny * _HALF, -ny * _FAR_OFF, nx * _FAR_OFF  # 60 degrees
    half = (
        (nx, ny),
        (ax + bx, ay + by),
        (ax - bx, ay - by),
        (cx + dx, cy + dy),
        (cx - dx, cy - dy),
        (-ny, nx),
    )
    return tuple([side for x, y in half for side in ((x, y), (-x, -y))])


def _sides(anchor: Anchor, wide: float, high: float) -> list[tuple[float, float, float]]:
    """Those sides, each with how far a label of that size reaches towards its anchor."""
    around = _around(anchor.nx, anchor.ny)
    return [(nx, ny, (abs(nx) * wide + abs(ny) * high) / 2) for nx, ny in around]


class Placer:
    """Gives out places. `lines` is what labels keep off; `texts` is what leaders keep off as well."""

    def __init__(self, width: float, height: float, dot: float = 1.0) -> None:
        self.dot = dot
        self.lines = Grid(width, height, 4.0 * dot)
        self.texts = Grid(width, height, 4.0 * dot)
        self.patience = PATIENCE
        self.tried = 0.0  # logical pixels: the farthest that was tried since it was set
        self.farthest = max(FARTHEST * min(width, height) / dot, NEAR_ENOUGH)

    def block_text(self, box: Box) -> None:
        """Keep labels and leaders off a box."""
        self.lines.block(box)
        self.texts.block(box)

    def place(self, wish: Wish) -> LabelPlace | None:
        """The nearest free place for the label, now taken; None when there is none."""
        wide, high, free_at = wish.width, wish.height, self.lines.free_at
        self.tried = max(self.tried, _NEAR[-1])
        for distance in _NEAR:
            for x, y, nx, ny, clear in wish.anchors:
                reach = clear + distance * self.dot + (abs(nx) * wide + abs(ny) * high) / 2
                left, top = x - wide / 2, y - high / 2
                for away in (reach, -reach):
                    if free_at(left + nx * away, top + ny * away, wide, high):
                        return self._take(wish, left + nx * away, top + ny * away)
        return self._stand_off(wish) if wish.stand_off and self.patience > 0 else None

    def place_anyway(self, wish: Wish) -> LabelPlace | None:
        """A place for a label that must be shown: farther off where `place` finds none, with a leader that
        may cross more of the line, if no text."""
        place = self.place(wish)
        return place if place is not None else self._anywhere(wish, self.lines)

    def _anywhere(self, wish: Wish, avoided: Grid) -> LabelPlace | None:
        """A place however far off that touches nothing of a grid, over as few lines as can be."""
        ways, lines = self._ways(wish, avoided), self.lines
        if not ways:
            return None
        boxes = [Box(x, y, wish.width, wish.height) for x, y, _ in ways]
        crossed = [lines.crossed(*leader) for *_, leader in ways]
        best = min(range(len(ways)), key=lambda at: (lines.occupied_share(boxes[at]), crossed[at]))
        return self._take(wish, *ways[best])

    def _ways(self, wish: Wish, avoided: Grid) -> list[tuple[float, float, tuple[XY, XY]]]:
        """Every place however far off that touches nothing of a grid."""
        kept = self.lines, self.patience, self.farthest
        self.lines, self.patience, self.farthest = avoided, PATIENCE, math.inf
        ways = list(self._farther(wish))
        self.lines, self.patience, self.farthest = kept
        return ways

    def _take(self, wish: Wish, x: float, y: float, leader: tuple[XY, XY] | None = None) -> LabelPlace:
        place = LabelPlace(wish.key, Box(x, y, wish.width, wish.height), leader)
        self.take(place)
        return place

    def take(self, place: LabelPlace) -> None:
        """Keep labels and leaders off a label and its leader."""
        self.block_text(place.box)
        if place.leader is not None:
            self.lines.block_line(place.leader)
            self.texts.block_line(place.leader)

    def _stand_off(self, wish: Wish) -> LabelPlace | None:
        """Farther off, with a leader that crosses no text, and no more of the line than it must."""
        best: tuple[float, float, tuple[XY, XY]] | None = None
        least = MOST_CROSSED + 1
        for x, y, leader in self._farther(wish):
            crossed = self.lines.crossed(*leader, least)
            if crossed < least:
                best, least = (x, y, leader), crossed
            if crossed <= WELL_CROSSED:
                break
        return self._take(wish, *best) if best is not None else None

    def _farther(self, wish: Wish) -> Iterator[tuple[float, float, tuple[XY, XY]]]:
        """Free places all around, the nearest first, as long as patience lasts."""
        wide, high, free_at = wish.width, wish.height, self.lines.free_at
        around = [(anchor, _sides(anchor, wide, high)) for anchor in wish.anchors]
        for distance in _FAR:
            if distance > self.farthest:
                return
            self.tried = max(self.tried, distance)
            for (x, y, _, _, clear), sides in around:
                for side in tuple(sides):
                    if self.patience <= 0:
                        return
                    self.patience -= 1
                    nx, ny, half = side
                    reach = clear + distance * self.dot + half
                    left, top = x + nx * reach - wide / 2, y + ny * reach - high / 2
                    if not free_at(left, top, wide, high):
                        continue
                    foot = (x + nx * clear, y + ny * clear)
                    leader = foot, Box(left, top, wide, high).nearest(*foot)
                    sides.remove(side)  # what bars the way here bars it farther off as well
                    if self.texts.free_line(*leader):
                        yield left, top, leader
