"""Blocks on pages of one height, in columns and beside one another: what is torn there, and what is not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from sketch.drawing.pencil import Pencil, Ruler
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph, over_page, paint_blocks, total_height

SEARCHED = 7
"""Halvings, in looking for the least height of columns."""

LEAST_OF_TEXT = 0.15
"""Of a page, that is worth beginning a text in columns in."""

MOST_EMPTY = 1 / 3
"""Of a page, that is left empty before what would stand whole on the next is torn."""

LINES_UNDER_HEADING = 3
"""At the foot of a column, before what it heads goes on in the next."""


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


_Arranged = tuple[float, tuple[tuple[Block, ...], ...]]
"""A height [device units], and the blocks of each column."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Blocks in columns of one width, no higher than they must be."""

    blocks: tuple[Block, ...]
    count: int = 2
    gap: float = 20.0  # logical pixels
    least: float = 1.0  # of the room usually asked for at the foot of a column, before something is torn
    page: float = 0.0  # height of a page [device units]: what fits one whole is not torn to even out columns
    full: tuple[tuple[Block, ...], ...] = ()  # the columns of a page that they fill, with more on the next
    keep: bool = False
    _known: dict[tuple[str, float, float], _Arranged] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )  # by type and width, as the same columns are measured again and again

    def column_width(self, ruler: Ruler, width: float) -> float:
        """The width of each column, on a page of that width [device units]."""
        return (width - (self.count - 1) * self.gap * ruler.dot) / self.count

    def needs(self, ruler: Ruler) -> float:
        return math.inf

    def lowest(self, ruler: Ruler, width: float) -> float:
        """What it cannot be lower than, known without trying heights."""
        return total_height(self.blocks, ruler, self.column_width(ruler, width)) / self.count

    def arranged(self, ruler: Ruler, width: float) -> _Arranged:
        """The least height that holds everything, and what stands in each column then."""
        key = (ruler.family, ruler.dot, width)
        if key not in self._known:
            self._known[key] = self._evened_out(ruler, width)
        return self._known[key]

    def _evened_out(self, ruler: Ruler, width: float) -> _Arranged:
        wide = self.column_width(ruler, width)
        if self.full:
            return max(total_height(c, ruler, wide) for c in self.full), self.full
        high = total_height(self.blocks, ruler, wide)
        best: _Arranged = high, (self.blocks,)
        low = high / self.count
        for _ in range(SEARCHED):
            middle = (low + best[0]) / 2
            columns = paginate(self.blocks, ruler, wide, middle, self.least, page=self.page)
            heights = [total_height(column, ruler, wide) for column in columns]
            parted = any(column[-1].keep for column in columns[:-1])  # from what it is tied to
            if len(columns) <= self.count and max(heights) <= middle and not parted:
                best = max(heights), tuple(map(tuple, columns))
            else:
                low = middle
        return best

    def height(self, ruler: Ruler, width: float) -> float:
        return self.arranged(ruler, width)[0]

    def split_to_fit(self, ruler: Ruler, width: float, room: float) -> tuple[Block | None, Block]:
        wide = self.column_width(ruler, width)
        columns = paginate(self.blocks, ruler, wide, room, self.least, self.count, page=self.page)
        if len(columns) > self.count:
            _tear_over_page(columns[self.count - 1], columns[self.count], ruler, wide)
        first = tuple(map(tuple, columns[: self.count]))
        parted = any(column[-1].keep for column in first)  # from what it is tied to
        if len(columns) <= self.count or parted or any(total_height(c, ruler, wide) > room for c in first):
            return None, self
        kept, left = (tuple(b for c in part for b in c) for part in (first, columns[self.count :]))
        uneven = total_height(first[-1], ruler, wide) < (1 - MOST_EMPTY) * room
        torn = any(getattr(column[0], "rest", False) for column in first[1:])
        page = replace(self, blocks=kept)
        if torn or not uneven or page.height(ruler, width) > room:
            page = replace(page, full=first)
        return page, replace(self, blocks=left)

    def paint(self, pencil: Pencil, theme: Theme, x: float, y: float, width: float) -> None:
        wide = self.column_width(pencil, width)
        for number, blocks in enumerate(self.arranged(pencil, width)[1]):
            paint_blocks(pencil, theme, blocks, x + number * (wide + self.gap * pencil.dot), y, wide)


def lowest(block: Block, ruler: Ruler, width: float) -> float:
    """What a block cannot be lower than, known without trying heights [device units]."""
    return block.lowest(ruler, width) if isinstance(block, Columns) else block.height(ruler, width)


def _tear_over_page(last: list[Block], following: list[Block], ruler: Ruler, width: float) -> None:
    """Have a paragraph that is torn between a column and the next page end with a sentence."""
    head, tail = last[-1], following[0]
    if isinstance(head, Paragraph) and isinstance(tail, Paragraph) and tail.rest:
        last[-1], following[0] = over_page(head, tail, ruler, width)


class _Room(NamedTuple):
    """What a page or column has of room [device units]."""

    width: float
    height: float
    page: float  # the height that a whole block may have on the next
    least: float  # of the room usually asked for, before text in columns is torn
    columns: int  # on a page


def paginate(
    blocks: Sequence[Block],
    ruler: Ruler,
    width: float,
    height: float,
    least: float = 1.0,
    most: int = 0,
    page: float = 0.0,
) -> list[list[Block]]:
    """The blocks in pages of that height; a heading goes with what it heads.

    least: what is torn needs so much of the room that is usually asked for at the foot of a page.
    most: after so many pages all that is left stands as it is on one more; 0 for as many as they take.
    page: the height of a page whose columns these are [device units]; 0 where they are pages.
    """
    room = _Room(width, height, max(page, height), least, max(most, 1))
    pages: list[list[Block]] = [[]]
    waiting = list(blocks)
    left = height
    while waiting:
        block = waiting.pop(0)
        needed = lowest(block, ruler, width)
        needed = needed if needed > left else block.height(ruler, width)
        if needed <= left and (not pages[-1] or _kept_together(block, waiting, ruler, room, left)):
            pages[-1].append(block)
            left -= needed
            continue
        part, rest = block.split_to_fit(ruler, width, left)
        if part is not None and _worth_splitting(block, needed, left, room):
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


def _worth_splitting(block: Block, needed: float, left: float, room: _Room) -> bool:
    """What would fit whole on a fresh page is not torn unless a third of this one would stay empty; running
    text in columns is torn anywhere but at the very end."""
    if isinstance(block, Paragraph):
        return block.tears
    if isinstance(block, Columns):
        return needed > room.height or left > LEAST_OF_TEXT * room.least * room.height
    if isinstance(block, LeftAndRight):
        return needed > room.page
    return needed > room.page or left > MOST_EMPTY * room.columns * room.page


def _kept_together(block: Block, waiting: Sequence[Block], ruler: Ruler, room: _Room, left: float) -> bool:
    """Whether all that is tied to a block fits below it, or as much of the last as is worth tearing off; and
    enough of what a heading heads."""
    wanted = 0
    for after in waiting:
        left -= block.height(ruler, room.width)
        wanted = LINES_UNDER_HEADING if isinstance(block, Heading) else wanted - _lines(block, ruler, room)
        if not block.keep and (wanted <= 0 or isinstance(after, Heading)):
            return True
        block, needed = after, after.height(ruler, room.width)
        if needed > left:
            part, _ = block.split_to_fit(ruler, room.width, left)
            worth = part is not None and _worth_splitting(block, needed, left, room)
            return worth and part is not None and _lines(part, ruler, room) >= wanted
    return True


def _lines(block: Block, ruler: Ruler, room: _Room) -> int:
    """How many lines a block counts for under a heading: anything but text is enough."""
    return block.lines(ruler, room.width) if isinstance(block, Paragraph) else LINES_UNDER_HEADING
