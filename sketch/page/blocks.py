"""What a page of text is set from: headings, paragraphs and whatever else knows its height; and the pages."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Protocol

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.look.colours import Theme
from sketch.look.words import pieces

LEADING, BELOW = 1.14, 3.0
"""Of lines of text, in their height; under a paragraph [logical pixels]."""

MEASURE = 860.0
"""Logical pixels: longer lines of text are hard to follow."""

SEARCHED = 7
"""Halvings, in looking for the least height of columns."""

FEWEST_LINES = 2
"""Of a paragraph that is torn, on either side."""

LEAST_OF_TEXT = 0.15
LEAST_OF_OTHERS = 0.6
"""Of a page, that is worth beginning a text in columns in, and anything else that is torn."""


class Block(Protocol):
    """A piece of a page. `keep` ties it to what follows, so that no heading ends a page."""

    @property
    def keep(self) -> bool: ...

    def height(self, ruler: Ruler, width: float) -> float:
        """Its height in device units when it is that wide."""
        ...

    def needs(self, ruler: Ruler) -> float:
        """The least width that it is well set in [device units]."""
        ...

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
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
    tight: bool = False  # with less room above it
    keep: bool = True

    @property
    def _size(self) -> float:
        return LARGE if self.large else BODY

    @property
    def _above(self) -> float:
        return 4.0 if self.tight else 9.0

    def height(self, ruler: Ruler, width: float) -> float:
        lines = len(ruler.wrap(self.text, width, self._size, bold=True))
        return ruler.height(self._size) * LEADING * lines + (self._above + 4) * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return 0.0

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height(self._size) * LEADING
        middle = y + self._above * pencil.dot + step / 2
        for line in pencil.wrap(self.text, width, self._size, bold=True):
            pencil.text(x, middle, line, theme.ink, self._size, bold=True)
            middle += step


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text, with an optional bold lead word in its own colour and a mark in the margin."""

    text: str
    lead: str = ""
    lead_colour: QColor | None = None
    quiet: bool = False
    indent: float = 0.0  # logical pixels
    tears: bool = False  # may end in the next column
    keep: bool = False

    def _lines(self, ruler: Ruler, width: float) -> list[tuple[str, str]]:
        """What of the lead, and what of the text after it, stands on each line."""
        room = min(width, MEASURE * ruler.dot) - self.indent * ruler.dot
        return list(_set_lines(ruler.family, ruler.dot, self.lead, self.text, room))

    def height(self, ruler: Ruler, width: float) -> float:
        return len(self._lines(ruler, width)) * ruler.height() * LEADING + BELOW * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return 0.0

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        """What tears leaves two lines at least on either side."""
        lines = self._lines(ruler, width)
        fits = min(int((room - BELOW * ruler.dot) / (ruler.height() * LEADING)), len(lines) - FEWEST_LINES)
        if not self.tears or fits < FEWEST_LINES or any(lead for lead, _ in lines[fits:]):
            return None, self
        head, tail = (" ".join(line for _, line in part) for part in (lines[:fits], lines[fits:]))
        return replace(self, text=head), replace(self, text=tail, lead="")

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        step = pencil.height() * LEADING
        left, middle = x + self.indent * pencil.dot, y + step / 2
        colour = theme.quiet if self.quiet else theme.ink
        for lead, line in self._lines(pencil, width):
            start = left
            if lead:
                pencil.text(left, middle, lead, self.lead_colour or theme.ink, bold=True)
                start += pencil.width(f"{lead} ", bold=True)
            pencil.text(start, middle, line, colour)
            middle += step


@lru_cache(maxsize=4096)
def _set_lines(family: str, dot: float, lead: str, text: str, room: float) -> tuple[tuple[str, str], ...]:
    """The lines of a paragraph in that type; kept, as columns are tried at many heights."""
    ruler = Ruler(dot)
    if not lead:
        return tuple(("", line) for line in ruler.wrap(text, room))
    leads = ruler.wrap(lead, room, bold=True)
    first = room - ruler.width(f"{leads[-1]} ", bold=True)
    words, line = pieces(text), ""
    while words and ruler.width(f"{line} {words[0]}".strip()) <= first:
        line = f"{line} {words.pop(0)}".strip()
    following = ruler.wrap(" ".join(words), room) if words else []
    return (*((each, "") for each in leads[:-1]), (leads[-1], line), *(("", each) for each in following))


@dataclass(frozen=True, slots=True)
class Picture:
    """Something drawn in a rectangle of a given height."""

    high: float  # logical pixels
    draw: Callable[[Pencil, Theme, Box], object]
    least: float = math.inf  # logical pixels, of its width; all that a page has unless given
    floats: bool = False  # may stand before what it follows, where that leaves room for it
    keep: bool = False

    def height(self, ruler: Ruler, width: float) -> float:
        return self.high * ruler.dot

    def needs(self, ruler: Ruler) -> float:
        return self.least * ruler.dot

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        return None, self

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        self.draw(pencil, theme, Box(x, y, width, self.high * pencil.dot))


@dataclass(frozen=True, slots=True)
class LeftAndRight:
    """Blocks below one another on the left and others on the right of them; below, where room is short."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    share: float = 0.5  # of the width, for what stands on the left
    wide: float = 0.0  # logical pixels, of what stands on the right; 0 for its share
    least: float = 0.0  # logical pixels, of what stands on the left
    gap: float = 20.0  # logical pixels
    keep: bool = False

    def _widths(self, ruler: Ruler, width: float) -> tuple[float, float]:
        room = width - self.gap * ruler.dot
        left = room - self.wide * ruler.dot if self.wide else self.share * room
        return left, room - left

    def needs(self, ruler: Ruler) -> float:
        return math.inf

    def stacked(self, ruler: Ruler, width: float) -> tuple[Block, ...]:
        """What stands below one another where it cannot stand beside; else nothing."""
        if self._widths(ruler, width)[0] >= self.least * ruler.dot:
            return ()
        return (*self.left, *self.right)

    def height(self, ruler: Ruler, width: float) -> float:
        stacked = self.stacked(ruler, width)
        if stacked:
            return total_height(stacked, ruler, width)
        sides = zip((self.left, self.right), self._widths(ruler, width), strict=True)
        return max(total_height(blocks, ruler, wide) for blocks, wide in sides)

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        """What is too tall on the left is torn; the right stays with the first part."""
        if self.stacked(ruler, width):
            return None, self
        wide, other = self._widths(ruler, width)
        if total_height(self.right, ruler, other) > room:
            return None, self
        first, *rest = paginate(self.left, ruler, wide, room, most=1)
        if not rest or total_height(first, ruler, wide) > room:
            return None, self
        following = tuple(block for page in rest for block in page)
        return replace(self, left=tuple(first)), replace(self, left=following, right=())

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        stacked = self.stacked(pencil, width)
        if stacked:
            paint_blocks(pencil, theme, stacked, x, y, width)
            return
        wide, other = self._widths(pencil, width)
        paint_blocks(pencil, theme, self.left, x, y, wide)
        paint_blocks(pencil, theme, self.right, x + width - other, y, other)


@dataclass(frozen=True, slots=True)
class Columns:
    """Blocks in columns of one width, no higher than they must be."""

    blocks: tuple[Block, ...]
    count: int = 2
    gap: float = 20.0  # logical pixels
    least: float = 1.0  # of the room usually asked for at the foot of a column, before something is torn
    full: tuple[tuple[Block, ...], ...] = ()  # the columns of a page that they fill, with more on the next
    keep: bool = False

    def _wide(self, ruler: Ruler, width: float) -> float:
        return (width - (self.count - 1) * self.gap * ruler.dot) / self.count

    def needs(self, ruler: Ruler) -> float:
        return math.inf

    def lowest(self, ruler: Ruler, width: float) -> float:
        """What it cannot be lower than, known without trying heights."""
        return total_height(self.blocks, ruler, self._wide(ruler, width)) / self.count

    def arranged(self, ruler: Ruler, width: float) -> tuple[float, list[list[Block]]]:
        """The least height that holds everything, and what stands in each column then."""
        wide = self._wide(ruler, width)
        if self.full:
            return max(total_height(c, ruler, wide) for c in self.full), [list(c) for c in self.full]
        high = total_height(self.blocks, ruler, wide)
        low, best = high / self.count, (high, [list(self.blocks)])
        for _ in range(SEARCHED):
            middle = (low + best[0]) / 2
            columns = paginate(self.blocks, ruler, wide, middle, self.least)
            heights = [total_height(column, ruler, wide) for column in columns]
            parted = any(column[-1].keep for column in columns[:-1])  # from what it is tied to
            if len(columns) <= self.count and max(heights) <= middle and not parted:
                best = max(heights), columns
            else:
                low = middle
        return best

    def height(self, ruler: Ruler, width: float) -> float:
        return self.arranged(ruler, width)[0]

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        wide = self._wide(ruler, width)
        columns = paginate(self.blocks, ruler, wide, room, self.least, self.count)
        first = tuple(map(tuple, columns[: self.count]))
        parted = any(column[-1].keep for column in first)  # from what it is tied to
        if len(columns) <= self.count or parted or any(total_height(c, ruler, wide) > room for c in first):
            return None, self
        kept, left = (tuple(b for c in part for b in c) for part in (first, columns[self.count :]))
        return replace(self, blocks=kept, full=first), replace(self, blocks=left)

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        wide = self._wide(pencil, width)
        for number, blocks in enumerate(self.arranged(pencil, width)[1]):
            paint_blocks(pencil, theme, blocks, x + number * (wide + self.gap * pencil.dot), y, wide)


def total_height(blocks: Sequence[Block], ruler: Ruler, width: float) -> float:
    """The height of blocks below one another, in device units."""
    return sum(block.height(ruler, width) for block in blocks)


def lowest(block: Block, ruler: Ruler, width: float) -> float:
    """What a block cannot be lower than, known without trying heights [device units]."""
    return block.lowest(ruler, width) if isinstance(block, Columns) else block.height(ruler, width)


def paint_blocks(
    pencil: Pencil, theme: Theme, blocks: Sequence[Block], x: float, y: float, width: float
) -> None:
    """Draw blocks below one another, the top left corner of the first at (x, y)."""
    for block in blocks:
        block.paint(pencil, theme, x, y, width)
        y += block.height(pencil, width)


def paginate(
    blocks: Sequence[Block], ruler: Ruler, width: float, height: float, least: float = 1.0, most: int = 0
) -> list[list[Block]]:
    """The blocks in pages of that height; a heading goes with what it heads.

    least: what is torn needs so much of the room that is usually asked for at the foot of a page.
    most: after so many pages all that is left stands as it is on one more; 0 for as many as they take.
    """
    pages: list[list[Block]] = [[]]
    waiting = list(blocks)
    left = height
    while waiting:
        block = waiting.pop(0)
        needed = lowest(block, ruler, width)
        needed = needed if needed > left else block.height(ruler, width)
        if needed <= left and (
            not pages[-1] or _kept_together(block, waiting, ruler, width, left, height, least)
        ):
            pages[-1].append(block)
            left -= needed
            continue
        part, rest = block.split_to_fit(ruler, width, left)
        if part is not None and _worth_splitting(block, needed, left, height, least):
            pages[-1].append(part)
            waiting.insert(0, rest)
        elif not pages[-1]:
            pages[-1].append(block)  # taller than a page: nothing better can be done for it
        else:
            waiting.insert(0, block)
            pages[-1] += _floating(waiting, ruler, width, left)
        if waiting and len(pages) == most:
            return [*pages, waiting]
        if waiting:
            pages.append([])
            left = height
    return pages


def _floating(waiting: list[Block], ruler: Ruler, width: float, room: float) -> list[Block]:
    """What may stand before what it follows and fits, with what is tied to it, taken out of what waits."""
    floating: list[Block] = []
    at = 0
    while at < len(waiting) and not isinstance(waiting[at], Heading):
        end = at + 1
        while end < len(waiting) and waiting[end - 1].keep:
            end += 1
        group = waiting[at:end]
        high = total_height(group, ruler, width)
        if getattr(group[-1], "floats", False) and high <= room:
            floating += group
            room -= high
            del waiting[at:end]
        else:
            at = end
    return floating


def _worth_splitting(block: Block, needed: float, left: float, height: float, least: float) -> bool:
    """What would fit whole on a fresh page is not torn unless half of this one would stay empty; running
    text in columns is torn anywhere but at the very end."""
    if isinstance(block, LeftAndRight):
        return needed > height
    if isinstance(block, Paragraph):
        return block.tears
    share = LEAST_OF_TEXT if isinstance(block, Columns) else LEAST_OF_OTHERS
    return needed > height or left > least * share * height


def _kept_together(
    block: Block,
    waiting: Sequence[Block],
    ruler: Ruler,
    width: float,
    room: float,
    height: float,
    least: float,
) -> bool:
    """Whether all that is tied to a block fits below it, or as much of the last as is worth tearing off."""
    for after in waiting:
        if not block.keep:
            break
        room -= block.height(ruler, width)
        block = after
    needed = block.height(ruler, width)
    if needed <= room:
        return True
    return (
        _worth_splitting(block, needed, room, height, least)
        and block.split_to_fit(ruler, width, room)[0] is not None
    )
