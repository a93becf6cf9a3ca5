"""Free places on a DXF, found as those of labels on paper are: for figures of dimensions, then for texts.

All lengths are in pixels of the drawing, at a fixed size of its text; y runs down, as on a device.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from sketch.drawing import cells
from sketch.drawing.glyphs import Glyph, pump_circle
from sketch.drawing.labels import XY, Anchor, Box, LabelPlace, Wish
from sketch.drawing.line_painting import cells_of_glyph
from sketch.drawing.paper_places import PaperPlacer, Wanted, best_places
from sketch.drawing.stand_offs import CROSSING
from sketch.drawing.tanks import corners_of
from sketch.drawing.view import View, bounds
from solver.layout.parts import Layout
from solver.layout.remarks import TextAnchor

TEXT_HEIGHT = 14.0
"""Of a capital."""

LETTER, DESCENDER = 1.0, 0.35
"""Of that height: how wide a letter is in "txt", the font of a drawing that names no other, wider than what
programs have in its place (from memory); and how far one reaches under its line."""

PAD, GAP = 4.0, 5.0
"""At either end of a text; between a dimension line and its figure."""

ROOM = 700.0
"""Round a drawing, for texts and dimensions."""

OFF = tuple(60.0 + 30.0 * each for each in range(18))
"""From what is dimensioned to its line, the nearest first."""

OTHER_SIDE = 20.0
"""How much farther off on its left a dimension goes sooner than to its right."""


class Measured(NamedTuple):
    """Two points whose distance is dimensioned, in the way in which its figure reads, and that figure."""

    a: XY
    b: XY
    figure: str


def measured(a: XY, b: XY, figure: str) -> Measured:
    """The points in the order in which a figure over their line is read from below or from the right."""
    backwards = b[0] < a[0] - 1e-9 or (abs(b[0] - a[0]) <= 1e-9 and b[1] > a[1])
    return Measured(b, a, figure) if backwards else Measured(a, b, figure)


def text_size(text: str, larger: float = 1.0) -> XY:
    """How wide and high a text is at most."""
    high = TEXT_HEIGHT * larger
    return len(text) * LETTER * high + 2 * PAD, high * (1.0 + 2 * DESCENDER)


class FreePlaces:
    """What of a drawing is still free; a place that is given out is so no more."""

    def __init__(self, layout: Layout, scale: float) -> None:
        left, bottom, right, top = bounds(layout)
        self.view = View(scale, ROOM - left * scale, ROOM + top * scale)
        size = (right - left) * scale + 2 * ROOM, (top - bottom) * scale + 2 * ROOM
        self.placer = PaperPlacer(*size, self.view.dot)
        self._layout = layout

    def keep_off_line(self, shapes: Iterable[Glyph]) -> None:
        """Keep texts off the line, its symbols and the walls of tanks. shapes: in this view."""
        lines, view = self.placer.lines, self.view
        for glyph in shapes:
            cells.block(lines, cells_of_glyph(glyph, lines, view.dot))
        for name in self._layout.pumps:
            x, y, radius = pump_circle(self._layout, name, view)
            lines.block(Box(x - radius, y - radius, 2 * radius, 2 * radius).grown(2.0))
        for tank in self._layout.reservoirs.values():
            corners = [view.device(x, y) for x, y in corners_of(tank)]
            lines.block_line((*corners, corners[0]))

    def keep_off(self, box: Box, lines: Sequence[XY] = ()) -> None:
        """Keep all else off a text, and texts off the line that it belongs to."""
        self.placer.block_text(box)
        if lines:
            self.placer.lines.block_line(lines)

    def dimension(self, of: Measured, least: float = 0.0, *, right: bool = False) -> float:
        """How far to the left of its points a dimension line runs, below zero to their right.

        least: how far off it is at least on the side that is tried first. right: that is the right one.
        """
        ways = [(off, off + least, False) for off in OFF] + [(off + OTHER_SIDE, off, True) for off in OFF]
        choices = [(price, -off if right != other else off) for price, off, other in ways]
        free = [each for each in choices if self.placer.lines.free(figure_box(of, each[1]))]
        _, off = min(
            free or choices,
            key=lambda each: each[0] + CROSSING * self.placer.lines.crossed(*dimension_line(of, each[1])),
        )
        self.keep_off(figure_box(of, off), dimension_line(of, off))
        for point, end in zip((of.a, of.b), dimension_line(of, off), strict=True):
            self.placer.lines.block_line((point, end))
        return off

    def first(self, text: str, boxes: Iterable[Box]) -> LabelPlace | None:
        """The first of the boxes that is free, for a text."""
        box = self.placer.lines.first_free(boxes)
        if box is None:
            return None
        self.placer.block_text(box)
        return LabelPlace(text, box)

    def best(self, texts: Sequence[tuple[str, Sequence[Anchor]]]) -> Iterator[tuple[LabelPlace, TextAnchor]]:
        """The best places for texts beside what they belong to, by turns; farther off with a leader.

        Each with what of it comes nearest to that, for a text that turns out shorter.
        """
        wishes = [Wish(text, *text_size(text), tuple(at)) for text, at in texts]
        result = best_places(self.placer, [Wanted(wish, name=True) for wish in wishes])
        for wish, best in zip(wishes, result.places, strict=True):
            x, y = wish.anchors[0].x, wish.anchors[0].y
            place = best or self.placer.place_anyway(wish)
            place = place or LabelPlace(wish.key, Box(x, y, wish.width, wish.height))
            yield place, _nearest_end(place, wish.anchors)


def _nearest_end(place: LabelPlace, at: Sequence[Anchor]) -> TextAnchor:
    """Which part of a text is nearest to the foot of its leader, or to the nearest of its anchors."""
    box = place.box
    x, y = box.x + box.width / 2, box.y + box.height / 2
    foot = place.leader[0][0] if place.leader else min(at, key=lambda each: math.dist(each[:2], (x, y))).x
    if foot <= box.x:
        return TextAnchor.LEFT
    return TextAnchor.RIGHT if foot >= box.right else TextAnchor.MIDDLE


def _frame(of: Measured) -> tuple[XY, XY]:
    """The unit vectors along two points and to their left, as seen."""
    (ax, ay), (bx, by) = of.a, of.b
    away = math.dist(of.a, of.b) or 1.0
    along = (bx - ax) / away, (by - ay) / away
    return along, (along[1], -along[0])


def dimension_line(of: Measured, off: float) -> tuple[XY, XY]:
    """The ends of a dimension line that far to the left."""
    _, (nx, ny) = _frame(of)
    (ax, ay), (bx, by) = of.a, of.b
    return (ax + nx * off, ay + ny * off), (bx + nx * off, by + ny * off)


def figure_box(of: Measured, off: float) -> Box:
    """The rectangle round the figure over the middle of its line."""
    (ux, uy), (nx, ny) = _frame(of)
    (ax, ay), (bx, by) = dimension_line(of, off)
    over = GAP + TEXT_HEIGHT / 2
    x, y = (ax + bx) / 2 + nx * over, (ay + by) / 2 + ny * over
    wide, high = text_size(of.figure)[0], TEXT_HEIGHT + GAP
    across, up = abs(ux) * wide + abs(uy) * high, abs(uy) * wide + abs(ux) * high
    return Box(x - across / 2, y - up / 2, across, up)
