"""Empty lines under headings, to be written on by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketch.drawing.pencil import Pencil, Ruler
from sketch.look.colours import Theme
from sketch.page.blocks import LEADING, Block

INSET, ABOVE = 4.0, 8.0
"""Logical pixels: from a line to the heading beside it; over the grid."""


@dataclass(frozen=True, slots=True)
class WritingGrid:
    """Boxes to write in: headings with their shares of the width, and so many lines."""

    headings: tuple[tuple[str, float], ...]
    lines: int
    fewest: int  # lines that are worth having
    line_high: float  # logical pixels
    keep: bool = False

    def filling(self, ruler: Ruler, width: float, room: float) -> WritingGrid:
        """The grid with all the lines that a room holds, and the fewest at least."""
        return replace(self, lines=max(self._lines_in(ruler, width, room), self.fewest))

    def fits(self, ruler: Ruler, width: float, room: float) -> bool:
        """Whether there is room for as many lines as are worth having."""
        return self._lines_in(ruler, width, room) >= self.fewest

    def _lines_in(self, ruler: Ruler, width: float, room: float) -> int:
        return int((room - self._head(ruler, width)) / (self.line_high * ruler.dot))

    def height(self, ruler: Ruler, width: float) -> float:
        return self._head(ruler, width) + self.lines * self.line_high * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return sum(ruler.width(heading) + 2 * INSET * ruler.dot for heading, _ in self.headings)

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        dot = pencil.dot
        top, bottom = y + self._head(pencil, width), y + self.height(pencil, width)
        step, left, edges = pencil.height() * LEADING, x, [x]
        for wide, lines in self._columns(pencil, width):
            for number, line in enumerate(reversed(lines)):
                shown = pencil.elide(line, wide - 2 * INSET * dot)
                pencil.text(left + INSET * dot, top - step * (number + 0.5), shown, theme.quiet)
            left += wide
            edges.append(left)
        rules = [top + number * self.line_high * dot for number in range(self.lines + 1)]
        pencil.lines([((x, at), (x + width, at)) for at in rules], theme.construction)
        pencil.lines([((at, top), (at, bottom)) for at in edges], theme.construction)

    def _columns(self, ruler: Ruler, width: float) -> list[tuple[float, list[str]]]:
        """The width of each column, and its heading in the lines that it takes."""
        total = sum(share for _, share in self.headings)
        wides = [width * share / total for _, share in self.headings]
        return [
            (wide, ruler.wrap(heading, wide - 2 * INSET * ruler.dot))
            for wide, (heading, _) in zip(wides, self.headings, strict=True)
        ]

    def _head(self, ruler: Ruler, width: float) -> float:
        lines = max(len(lines) for _, lines in self._columns(ruler, width))
        return ruler.height() * LEADING * lines + ABOVE * ruler.dot
