"""Tables on a page: columns of words, of figures under one decimal point, and of bars."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import SMALL, Pencil, Ruler
from sketch.look.colours import Theme, text_on
from sketch.look.words import unbroken, without_no_break
from sketch.page.blocks import LEADING, Block

POINT = "."

PAD, EDGE = 16.0, 8.0
BAR, LEAST_BAR, FEW_WORDS = 160.0, 72.0, 96.0
"""Logical pixels: beside a cell's text, right of its figure; of a column of bars, of one where room is short,
and of one of words, at the least."""


WORDS_APART = 8.0
"""Logical pixels, besides, before a column of figures with words behind them."""

FEWEST_ROWS = 4
"""Of a table that is torn, on either side."""

TALLEST = 560.0
"""Logical pixels, that every page has room for under what heads a table."""

LONGEST = 16
"""Characters in a line of a heading, unless a word is longer."""


def in_lines(heading: str, longest: int = LONGEST) -> str:
    """A heading that makes its column hardly wider than the figures under it."""
    lines = [
        line
        for part in heading.split("\n")
        for line in textwrap.wrap(unbroken(part), longest, break_long_words=False)
    ]
    return without_no_break("\n".join(lines))


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
    """Columns of words, broken where they are too long, and of figures with their points in line."""

    headings: tuple[str, ...]  # in lines, parted by line breaks
    rows: tuple[Row, ...]
    words: frozenset[int]  # columns that hold words
    roomy: tuple[str, ...] = ()  # the headings in fewer lines, where the width has room for them
    chip: int = -1  # the column whose figures stand on the colour of their share
    bar: int = -1  # the column that holds bars, from a common zero, all to one scale
    whole: bool = False  # not torn, unless it is too tall for any page
    may_tear: bool = False  # though whole, where that saves a page
    dense: bool = False  # with little room between its rows
    loose: float = 1.0  # how much more room its rows have, where its page has it
    floats: bool = False  # may stand before what it follows, where that leaves room for it
    name: str = ""  # what stands above it, to be said again above the rest of it where it is torn
    rest: bool = False  # of a table that began on another page or in another column
    keep: bool = False

    def __hash__(self) -> int:  # a colour has none
        return hash((self.headings, *(row.cells for row in self.rows)))

    def height(self, ruler: Ruler, width: float) -> float:
        return _height(self, ruler.family, ruler.dot, width)

    def set_height(self, ruler: Ruler, width: float) -> float:
        """The height as it is set, measured anew."""
        if self.roomy:
            return self._headed(ruler, width).height(ruler, width)
        widths = self._widths(ruler, width)
        rows = sum(self._row_height(ruler, row, widths) for row in self.rows)
        return self._head_height(ruler, widths) + rows + 8 * ruler.dot

    def _headed(self, ruler: Ruler, width: float) -> Table:
        """The table with the headings that it has at this width."""
        if not self.roomy:
            return self
        roomy = replace(self, headings=self.roomy, roomy=())
        return roomy if roomy.natural(ruler) <= width else replace(self, roomy=())

    def natural(self, ruler: Ruler) -> float:
        """The width at which no cell is broken [device units]."""
        return sum(self._natural(ruler, each) for each in range(len(self.headings)))

    def needs(self, ruler: Ruler) -> float:
        """Words may be broken into lines of a few words each; figures may not."""
        columns = range(len(self.headings))
        return sum(self._broken(ruler, each) if each in self.words else self._natural(ruler, each)
                   for each in columns)  # fmt: skip

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        if self.roomy:
            return self._headed(ruler, width).split_to_fit(ruler, width, room)
        widths = self._widths(ruler, width)
        left = room - self._head_height(ruler, widths) - 8 * ruler.dot
        fits = 0
        for row in self.rows:
            left -= self._row_height(ruler, row, widths)
            if left < 0.0:
                break
            fits += 1
        fits = min(fits, len(self.rows) - FEWEST_ROWS)
        fits = self._before_tied(fits)
        whole = self.whole and self.height(ruler, width) <= TALLEST * ruler.dot
        if whole or fits < FEWEST_ROWS:
            return None, self
        return replace(self, rows=self.rows[:fits]), replace(self, rows=self.rows[fits:], rest=True)

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        if self.roomy:
            self._headed(pencil, width).paint(pencil, theme, x, y, width)
            return
        widths = self._widths(pencil, width)
        lefts = [x + sum(widths[:column]) for column in range(len(widths))]
        for number, line in enumerate(self._name_lines(pencil, widths)):
            pencil.text(x, y + pencil.height() * LEADING * (number + 0.5), line, theme.ink, bold=True)
        y += self._head_height(pencil, widths)
        for column in range(len(self.headings)):
            self._heading(pencil, theme, column, lefts[column], widths[column], y)
        pencil.lines([((x, y), (x + width, y))], theme.construction)
        points = [self._point(pencil, column) for column in range(len(widths))]
        for row in self.rows:
            self._row(pencil, theme, row, lefts, widths, points, y)
            high = self._row_height(pencil, row, widths)
            if self.bar >= 0:
                self._bar(pencil, theme, row, Box(lefts[self.bar], y, widths[self.bar], high))
            y += high

    def _lines(self, ruler: Ruler, row: Row, column: int, widths: Sequence[float]) -> list[str]:
        """A cell of words as it is set."""
        room = sum(widths[column : column + 1 + self._empty_after(row, column)]) - EDGE * ruler.dot
        return ruler.wrap(row.cells[column], room, bold=row.bold) or [""]

    def _before_tied(self, number: int) -> int:
        """How many of so many rows stand before those that go with the next, where these are few."""
        before = number
        while before > 0 and self._tied(before):
            before -= 1
        return before if number - before < FEWEST_ROWS else number

    def _tied(self, number: int) -> bool:
        """Whether a row goes with that above it: as its heading does, or what its first cell names."""
        above, row = self.rows[number - 1], self.rows[number]
        return len(row.cells) > 1 and (not any(above.cells[1:]) or not row.cells[0])

    def _empty_after(self, row: Row, column: int) -> int:
        """How many empty cells follow a cell of words, over which it may run on."""
        count = 0
        for each in range(column + 1, len(row.cells)):
            if not row.cells[column] or row.cells[each] or each == self.bar:
                break
            count += 1
        return count

    def _row_height(self, ruler: Ruler, row: Row, widths: Sequence[float]) -> float:
        lines = max((len(self._lines(ruler, row, each, widths)) for each in self.words), default=1)
        return self._one(ruler) + ruler.height() * LEADING * (lines - 1)

    def _one(self, ruler: Ruler) -> float:
        """The height of a row of one line."""
        return (ruler.height() * (1.08 if self.dense else 1.3) + 1.5 * ruler.dot) * self.loose

    def _head_height(self, ruler: Ruler, widths: Sequence[float]) -> float:
        lines = max(len(self._head_lines(ruler, *each)) for each in enumerate(widths))
        lines = lines if any(self.headings) else 0
        lines += len(self._name_lines(ruler, widths))
        return ruler.height() * LEADING * lines + 6 * ruler.dot

    def _name_lines(self, ruler: Ruler, widths: Sequence[float]) -> list[str]:
        """What stands over the headings of the rest of a table."""
        if not (self.rest and self.name):
            return []
        return ruler.wrap(f"{self.name} (continued)", sum(widths), bold=True)

    def _head_lines(self, ruler: Ruler, column: int, width: float) -> list[str]:
        """A heading as it is set: over words it is broken as they are."""
        lines = self.headings[column].split("\n")
        if column not in self.words:
            return lines
        room = width - EDGE * ruler.dot
        return [part for line in lines for part in ruler.wrap(line, room) or [""]]

    def _widths(self, ruler: Ruler, width: float) -> list[float]:
        """The width of each column: that of its widest cell. What is left over goes to the columns of words;
        what is lacking is cut from the widest of them."""
        wanted = [self._natural(ruler, column) for column in range(len(self.headings))]
        spare = width - sum(wanted)
        grow = sorted(self.words) or list(range(len(wanted)))
        if spare >= 0.0:
            for column in grow:
                wanted[column] += spare / len(grow)
            return wanted
        room = sum(wanted[column] for column in grow) + spare
        least = {column: self._longest_word(ruler, column) for column in grow}
        ways = [self._cut(wanted, least, room), self._by_text(ruler, wanted, least, room)]
        return min(ways, key=lambda widths: sum(self._row_height(ruler, row, widths) for row in self.rows))

    def _cut(self, wanted: Sequence[float], least: Mapping[int, float], room: float) -> list[float]:
        """The widths of all columns, what is lacking cut from the widest columns of words."""
        widths = list(wanted)
        room -= sum(least.values())
        for left, column in zip(range(len(least), 0, -1), sorted(least, key=wanted.__getitem__), strict=True):
            more = max(min(wanted[column] - least[column], room / left), 0.0)
            widths[column] = least[column] + more
            room -= more
        return widths

    def _by_text(
        self, ruler: Ruler, wanted: Sequence[float], least: Mapping[int, float], room: float
    ) -> list[float]:
        """The widths of all columns, those of words by how much text stands in all of their cells."""
        widths = list(wanted)
        texts = {column: sum(ruler.width(row.cells[column], bold=row.bold) for row in self.rows)
                 for column in least}  # fmt: skip
        room -= sum(least.values())
        for column in sorted(least, key=lambda each: wanted[each] - least[each]):
            share = texts[column] / max(sum(texts.values()), 1.0)
            del texts[column]
            more = max(min(wanted[column] - least[column], room * share), 0.0)
            widths[column] = least[column] + more
            room -= more
        return widths

    def _longest_word(self, ruler: Ruler, column: int) -> float:
        """The width of a column of words in which no word is broken, or of bars that can be told apart."""
        if column == self.bar:
            return LEAST_BAR * ruler.dot
        texts = [self.headings[column], *(row.cells[column] for row in self.rows)]
        words = [word for text in texts for word in re.split(r"[ \t\n]+", text)]
        return max((ruler.width(word, bold=True) for word in words), default=0.0) + EDGE * ruler.dot

    def _broken(self, ruler: Ruler, column: int) -> float:
        """The least width of a column of words that reads well."""
        return max(
            self._longest_word(ruler, column), min(self._natural(ruler, column), FEW_WORDS * ruler.dot)
        )

    def _natural(self, ruler: Ruler, column: int) -> float:
        if column == self.bar:
            return BAR * ruler.dot
        widths = [ruler.width(line) for line in self.headings[column].split("\n")]
        if column in self.words:
            widths += [ruler.width(row.cells[column], bold=True) for row in self.rows
                       if not self._empty_after(row, column)]  # fmt: skip
        else:
            widths += self._figure_widths(ruler, column)
        pad = PAD / 2 if self.dense else PAD
        return max(widths) + pad * ruler.dot

    def _figure_widths(self, ruler: Ruler, column: int) -> list[float]:
        """What stands left of the points of a column and right of them, and the words in place of figures;
        with words in it, the space that parts them from the column before."""
        cells = [row.cells[column] for row in self.rows]
        apart = WORDS_APART * ruler.dot if any(" " in cell for cell in cells) else 0.0
        words = [ruler.width(cell, bold=True) for cell in cells if _is_words(cell)]
        wholes = [ruler.width(cell.partition(POINT)[0], bold=True) for cell in cells if not _is_words(cell)]
        figures = max(wholes, default=0.0) + self._point(ruler, column)
        return [width + apart for width in (figures, *words)]

    def _bar(self, pencil: Pencil, theme: Theme, row: Row, cell: Box) -> None:
        """To the right of zero for a gain, to the left of it for a cost."""
        dot = pencil.dot
        most = max([row.bar for row in self.rows if row.bar > 0.0], default=0.0)
        least = min([row.bar for row in self.rows if row.bar < 0.0], default=0.0)
        scale = max(cell.width - 24 * dot, 0.0) / (most - least) if most > least else 0.0
        zero = cell.x + 16 * dot - least * scale
        pencil.lines([((zero, cell.y), (zero, cell.bottom))], theme.construction, 0.8)
        start, end = sorted((zero, zero + row.bar * scale))
        if end - start > 0.2 * dot:
            colour = theme.good if row.bar > 0.0 else theme.stop
            high = self._one(pencil) - 8 * dot  # in a row of several lines no thicker than in any other
            pencil.box(Box(start, cell.y + 4 * dot, end - start, high), colour)

    def _heading(
        self, pencil: Pencil, theme: Theme, column: int, left: float, width: float, bottom: float
    ) -> None:
        step = pencil.height() * LEADING
        lines = self._head_lines(pencil, column, width)
        top = bottom - 4 * pencil.dot - step * len(lines)
        for number, line in enumerate(lines):
            middle = top + step * (number + 0.5)
            if column in self.words:
                pencil.text(left, middle, line, theme.quiet)
            else:
                right = self._right_of_figures(pencil, column, left, width)
                right = min(max(right, left + pencil.width(line)), left + width - EDGE * pencil.dot)
                pencil.text(right, middle, line, theme.quiet, align=1.0)

    def _right_of_figures(self, ruler: Ruler, column: int, left: float, width: float) -> float:
        """Where the figures of a column end: words behind some of them do not part a heading from them."""
        point = left + width - EDGE * ruler.dot - self._point(ruler, column)
        tails = [row.cells[column].partition(POINT) for row in self.rows]
        decimals = [mark + tail.partition(" ")[0] for _, mark, tail in tails]
        return point + max((ruler.width(each, bold=True) for each in decimals), default=0.0)

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
        dot, one, step = pencil.dot, self._one(pencil), pencil.height() * LEADING
        middle, colour = y + one / 2, theme.quiet if row.quiet else theme.ink
        if row.rule:
            pencil.lines([((lefts[0], y), (lefts[-1] + widths[-1], y))], theme.construction, 0.8)
        for column, cell in enumerate(row.cells):
            left, width, ink = lefts[column], widths[column], colour
            if column in self.words:
                room = sum(widths[column : column + 1 + self._empty_after(row, column)]) - EDGE * dot
                for number, line in enumerate(self._lines(pencil, row, column, widths)):
                    shown = pencil.elide(line, room, bold=row.bold)
                    pencil.text(left, middle + number * step, shown, colour, bold=row.bold)
                continue
            if column == self.chip and row.chip is not None and cell:
                chip = Box(left + width - 46 * dot, y + 1.5 * dot, 42 * dot, one - 3 * dot)
                pencil.box(chip, row.chip, theme.casing, 0.8, radius=2.0)
                ink = text_on(row.chip)
            # In one piece, so that the figure can be found in the file.
            whole = pencil.width(cell.partition(POINT)[0], bold=row.bold)
            room = width - EDGE * dot - points[column]
            if _is_words(cell):
                room = max(self._right_of_figures(pencil, column, left, width) - left, whole)
            at = left + room - whole
            pencil.text(at, middle, cell, ink, SMALL, bold=row.bold)


@lru_cache(maxsize=4096)
def _height(table: Table, family: str, dot: float, width: float) -> float:
    """The height of a table in that type; kept, as columns are tried at many heights."""
    return table.set_height(Ruler(dot), width)


def _is_words(cell: str) -> bool:
    """Whether a cell of a column of figures has words in the place of one."""
    return POINT not in cell and any(map(str.isalpha, cell))


def tearable(block: Block) -> Block:
    """A table that may be torn where that saves a page as one that is not whole; any other block as it is."""
    return replace(block, whole=False) if isinstance(block, Table) and block.may_tear else block
