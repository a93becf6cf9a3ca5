"""What a page of text is set from: headings, paragraphs and tables that know their height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from PySide6.QtGui import QColor

from sketch.colours import Theme, text_on
from sketch.labels import Box
from sketch.pencil import BODY, LARGE, SMALL, Pencil, Ruler
from sketch.words import pieces

LEADING = 1.25
MEASURE = 860.0
"""Logical pixels: longer lines of text are hard to follow."""

POINT = "."


class Block(Protocol):
    """A piece of a page. `keep` ties it to what follows, so that no heading ends a page."""

    @property
    def keep(self) -> bool: ...

    def height(self, ruler: Ruler, width: float) -> float:
        """Its height in device units when it is that wide."""
        ...

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        """What fits in `room` and what does not; (None, itself) when nothing does."""
        ...

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        """Draw it with its top left corner at (x, y)."""
        ...


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's name."""

    text: str
    large: bool = False
    keep: bool = True

    @property
    def _size(self) -> float:
        return LARGE if self.large else BODY

    def height(self, ruler: Ruler, width: float) -> float:
        return ruler.height(self._size) * LEADING + 16 * ruler.dot

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        middle = y + 12 * pencil.dot + pencil.height(self._size) * LEADING / 2
        pencil.text(x, middle, self.text, theme.ink, self._size, bold=True)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text, with an optional bold lead word in its own colour and a mark in the margin."""

    text: str
    lead: str = ""
    lead_colour: QColor | None = None
    quiet: bool = False
    indent: float = 0.0  # logical pixels
    keep: bool = False

    def _lines(self, ruler: Ruler, width: float) -> list[str]:
        """The lead takes its room on the first line as words that are not painted twice."""
        room = min(width, MEASURE * ruler.dot) - self.indent * ruler.dot
        if not self.lead:
            return ruler.wrap(self.text, room)
        first = room - ruler.width(f"{self.lead} ", bold=True)
        words, line = pieces(self.text), ""
        while words and ruler.width(f"{line} {words[0]}".strip()) <= first:
            line = f"{line} {words.pop(0)}".strip()
        return [line, *(ruler.wrap(" ".join(words), room) if words else [])]

    def height(self, ruler: Ruler, width: float) -> float:
        return len(self._lines(ruler, width)) * ruler.height() * LEADING + 4 * ruler.dot

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height() * LEADING
        left, middle = x + self.indent * pencil.dot, y + step / 2
        colour = theme.quiet if self.quiet else theme.ink
        for number, line in enumerate(self._lines(pencil, width)):
            start = left
            if number == 0 and self.lead:
                pencil.text(left, middle, self.lead, self.lead_colour or theme.ink, bold=True)
                start += pencil.width(f"{self.lead} ", bold=True)
            pencil.text(start, middle, line, colour)
            middle += step


@dataclass(frozen=True, slots=True)
class Row:
    """A table's row; `chip` is the colour behind its share, `bar` what its bar shows."""

    cells: tuple[str, ...]
    bold: bool = False
    quiet: bool = False
    rule: bool = False  # a line above it
    chip: QColor | None = None
    bar: float = 0.0


@dataclass(frozen=True, slots=True)
class Table:
    """Columns of words and of figures; figures stand with their decimal points under one another."""

    headings: tuple[str, ...]  # two lines at most, parted by a line break
    rows: tuple[Row, ...]
    words: frozenset[int]  # columns that hold words
    chip: int = -1  # the column whose figures stand on the colour of their share
    bar: int = -1  # the column that holds bars, from a common zero, all to one scale
    keep: bool = False
    fractions: tuple[float, ...] = field(default=())  # widths of the figures after the point, once measured

    def _row_height(self, ruler: Ruler) -> float:
        return ruler.height() * 1.3 + 2 * ruler.dot

    def _head_height(self, ruler: Ruler) -> float:
        return ruler.height() * LEADING * max(text.count("\n") + 1 for text in self.headings) + 6 * ruler.dot

    def height(self, ruler: Ruler, width: float) -> float:
        return self._head_height(ruler) + len(self.rows) * self._row_height(ruler) + 8 * ruler.dot

    def split(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        fits = int((room - self._head_height(ruler) - 8 * ruler.dot) // self._row_height(ruler))
        if fits < min(3, len(self.rows)):
            return None, self
        return replace(self, rows=self.rows[:fits]), replace(self, rows=self.rows[fits:])

    def _widths(self, ruler: Ruler, width: float) -> list[float]:
        """As wide as the widest cell; what is left over goes to the columns of words."""
        wanted = []
        for column, heading in enumerate(self.headings):
            texts = [*heading.split("\n"), *(row.cells[column] for row in self.rows)]
            wanted.append(max(ruler.width(text, bold=True) for text in texts) + 16 * ruler.dot)
        spare = width - sum(wanted)
        grow = sorted(self.words) or list(range(len(wanted)))
        for column in grow:
            wanted[column] = max(wanted[column] + spare / len(grow), 40 * ruler.dot)
        return wanted

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        widths = self._widths(pencil, width)
        lefts = [x + sum(widths[:column]) for column in range(len(widths))]
        for column, heading in enumerate(self.headings):
            self._heading(pencil, theme, heading, column, lefts[column], widths[column], y)
        y += self._head_height(pencil)
        pencil.lines([((x, y), (x + width, y))], theme.construction)
        points = [self._point(pencil, column) for column in range(len(widths))]
        for row in self.rows:
            self._row(pencil, theme, row, lefts, widths, points, y)
            if self.bar >= 0:
                self._bar(pencil, theme, row, lefts[self.bar], widths[self.bar], y)
            y += self._row_height(pencil)

    def _bar(self, pencil: Pencil, theme: Theme, row: Row, left: float, width: float, y: float) -> None:
        """To the right of zero for a gain, to the left of it for a cost."""
        dot, high = pencil.dot, self._row_height(pencil)
        most = max([row.bar for row in self.rows if row.bar > 0.0], default=0.0)
        least = min([row.bar for row in self.rows if row.bar < 0.0], default=0.0)
        room = width - 24 * dot
        scale = room / (most - least) if most > least else 0.0
        zero = left + 16 * dot - least * scale
        pencil.lines([((zero, y), (zero, y + high))], theme.construction, 0.8)
        start, end = sorted((zero, zero + row.bar * scale))
        if end - start > 0.2 * dot:
            colour = theme.good if row.bar > 0.0 else theme.stop
            pencil.box(Box(start, y + 4 * dot, end - start, high - 8 * dot), colour)

    def _heading(
        self, pencil: Pencil, theme: Theme, heading: str, column: int, left: float, width: float, y: float
    ) -> None:
        step = pencil.height() * LEADING
        lines = heading.split("\n")
        top = y + self._head_height(pencil) - 4 * pencil.dot - step * len(lines)
        for number, line in enumerate(lines):
            middle = top + step * (number + 0.5)
            if column in self.words:
                pencil.text(left, middle, line, theme.quiet)
            else:
                pencil.text(left + width - 8 * pencil.dot, middle, line, theme.quiet, align=1.0)

    def _point(self, ruler: Ruler, column: int) -> float:
        """How far the decimal point stands from the right edge of the column."""
        if column in self.words:
            return 0.0
        tails = [row.cells[column].partition(POINT) for row in self.rows]
        return max((ruler.width(point + tail, bold=True) for _, point, tail in tails), default=0.0)

    def _row(
        self,
        pencil: Pencil,
        theme: Theme,
        row: Row,
        lefts: Sequence[float],
        widths: Sequence[float],
        points: Sequence[float],
        y: float,
    ) -> None:
        dot, high = pencil.dot, self._row_height(pencil)
        middle, colour = y + high / 2, theme.quiet if row.quiet else theme.ink
        if row.rule:
            pencil.lines([((lefts[0], y), (lefts[-1] + widths[-1], y))], theme.construction, 0.8)
        for column, cell in enumerate(row.cells):
            left, width, ink = lefts[column], widths[column], colour
            if column in self.words:
                pencil.text(left, middle, pencil.elide(cell, width - 8 * dot), colour, bold=row.bold)
                continue
            if column == self.chip and row.chip is not None and cell:
                chip = Box(left + width - 46 * dot, y + 1.5 * dot, 42 * dot, high - 3 * dot)
                pencil.box(chip, row.chip, theme.casing, 0.8, radius=2.0)
                ink = text_on(row.chip)
            # In one piece, so that the figure can be found in the file.
            whole = pencil.width(cell.partition(POINT)[0], bold=row.bold)
            at = left + width - 8 * dot - points[column] - whole
            pencil.text(at, middle, cell, ink, SMALL, bold=row.bold)


def paginate(blocks: Sequence[Block], ruler: Ruler, width: float, height: float) -> list[list[Block]]:
    """The blocks in pages of that height; a heading goes with what it heads."""
    pages: list[list[Block]] = [[]]
    waiting = list(blocks)
    left = height
    while waiting:
        block = waiting.pop(0)
        needed = block.height(ruler, width)
        if needed <= left and (
            not block.keep or not waiting or _fits_with(block, waiting[0], ruler, width, left, height)
        ):
            pages[-1].append(block)
            left -= needed
            continue
        part, rest = block.split(ruler, width, left)
        if part is not None and _worth_splitting(needed, left, height):
            pages[-1].append(part)
            waiting.insert(0, rest)
        elif not pages[-1]:
            pages[-1].append(block)  # taller than a page: nothing better can be done for it
        else:
            waiting.insert(0, block)
        if waiting:
            pages.append([])
            left = height
    return pages


def _worth_splitting(needed: float, left: float, height: float) -> bool:
    """What would fit whole on a fresh page is not torn for the sake of a little room here."""
    return needed > height or left > 0.6 * needed


def _fits_with(block: Block, after: Block, ruler: Ruler, width: float, room: float, height: float) -> bool:
    room -= block.height(ruler, width)
    needed = after.height(ruler, width)
    if needed <= room:
        return True
    return _worth_splitting(needed, room, height) and after.split(ruler, width, room)[0] is not None
