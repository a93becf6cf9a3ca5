"""The text of the first page in columns: as much of it as fits, in type that the drawing leaves room for."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtGui import QPainter

from sketch.drawing.pencil import Pencil, Ruler
from sketch.look.words import without_no_break
from sketch.page.blocks import Block, Paragraph, paint_blocks, total_height
from sketch.page.columns import Columns, paginate
from sketch.page.sheet_changes import NEW
from sketch.page.sheet_first import TELLINGS, Telling, continued, first_pages, shortest_page
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_halves import GUTTER

BAND = 0.46
"""Of the first page, for its text, unless it fits in no other way."""

WIDE = 900.0
"""Logical pixels: a page that has room for three columns of text."""


@dataclass(frozen=True, slots=True)
class Band:
    """The text of the first page as it is set: columns, their height, and the size of the type."""

    columns: tuple[tuple[Block, ...], ...]
    wide: float
    high: float
    size: float = 1.0  # against the usual
    in_full: bool = False  # as long as it is where room is not short
    telling: Telling = TELLINGS[-1]  # how much it tells
    order: int = 0  # of its sections, which one

    @property
    def by_parts(self) -> bool:
        """Whether what an alternative buys is told part by part."""
        return not self.telling.short


SIZES = (1.0, 0.97)
"""Of the type on the first page, against the usual: the smaller is 8 points, the least that is read with
ease. What has no room in it stands on the page behind."""


CUT = 10.0
"""Logical pixels: less text is tried by so much of its height, where it is cut off."""


@dataclass(frozen=True, slots=True)
class Room:
    """What the first page has for its text [device units]."""

    width: float
    usual: float  # of its height, unless the text fits in no other way
    most: float  # what the drawing leaves, at its smallest
    count: int  # of columns
    scale_over: Callable[[float], float]  # of the drawing over a band of that height
    before: tuple[Block, ...] = ()  # what stands before the text in its columns


def room_for(
    width: float, body: float, most: float, count: int, scale_over: Callable[[float], float]
) -> Room:
    """So much of a page of that height for its text, unless that fits in no other way."""
    return Room(width, min(BAND * body, most), most, count, scale_over)


def set_band(ruler: Ruler, sheet: Sheet, room: Room) -> Band:
    """The text in columns: as much of it as fits, and no higher than it must be; smaller where room is short
    and the drawing is much larger over it, or where only so all changes, or the parts of what it buys, have
    room."""
    chosen, scale, gain = None, 0.0, BY_ITSELF if sheet.alone and len(sheet.panels) < 2 else MUCH_LARGER
    for size in SIZES:
        band = _fitting(Ruler(size * ruler.dot), sheet, room)
        if band is None:
            continue
        large = room.scale_over(band.high)
        fuller = chosen is None or (_is_fuller(sheet, band, chosen) and large * MUCH_LARGER > scale)
        if not (fuller or large >= gain * scale):
            continue
        chosen, scale = replace(band, size=size), large
        if chosen.in_full:
            break
    if chosen is not None:
        return _with_more(ruler, sheet, room, _in_larger_type(ruler, sheet, room, chosen))
    return _cut_off(Ruler(SIZES[-1] * ruler.dot), sheet, room)


def _is_fuller(sheet: Sheet, band: Band, than: Band) -> bool:
    """Whether a band has what it buys part by part, or changes that would stand nowhere, and another not."""
    if band.by_parts != than.by_parts:
        return band.by_parts
    return sheet.alone and band.telling.changes > than.telling.changes


MUCH_LARGER, BY_ITSELF = 1.25, 1.6
"""Of its scale, that a drawing gains where its text is set smaller for it; and on a page by itself, which is
read, not looked through."""


LARGER_TYPE = (1.15, 1.12, 1.09, 1.06, 1.03, 1.0)
"""Of the usual, what is tried where the drawing would be no larger over less text: paper is left then."""


def _in_larger_type(ruler: Ruler, sheet: Sheet, room: Room, band: Band) -> Band:
    """A band in the largest type over which the drawing is as large."""
    most = room.most if band.telling.most < FEW else room.usual
    scale = room.scale_over(band.high)
    blocks = (*room.before, *list(first_pages(sheet, band.telling))[band.order])
    for size in (each for each in LARGER_TYPE if each > band.size):
        sized = Ruler(size * ruler.dot)
        wide = _column(sized, room)
        if total_height(blocks, sized, wide) > room.count * most:
            continue
        high, columns = Columns(blocks, room.count, GUTTER).arranged(sized, room.width)
        if high <= most and room.scale_over(high) >= scale:
            return replace(band, columns=tuple(map(tuple, columns)), wide=wide, high=high, size=size)
    return band


def _cut_off(ruler: Ruler, sheet: Sheet, room: Room) -> Band:
    """The text at its shortest where that does not fit: the rest is on the page behind. The page says so,
    before what it is based on and the last caution, which have their room first, of the drawing's if need be.
    """
    wide, (text, foot) = _column(ruler, room), shortest_page(sheet)
    blocks = (*room.before, *text)
    last = (Paragraph(continued(sheet), quiet=True), *foot)
    left = room.count * room.most - total_height(last, ruler, wide)
    while True:
        kept = _to_whole_sentences(paginate(blocks, ruler, wide, left)[0], blocks) if left > 0 else []
        high, columns = Columns((*kept, *last), room.count, GUTTER).arranged(ruler, room.width)
        if high <= room.most or not kept:
            return Band(tuple(map(tuple, columns)), wide, high, SIZES[-1])
        left -= CUT * ruler.dot


def _column(ruler: Ruler, room: Room) -> float:
    return (room.width - (room.count - 1) * GUTTER * ruler.dot) / room.count


def _fitting(ruler: Ruler, sheet: Sheet, room: Room) -> Band | None:
    """The text at the greatest length that fits that type; None where it does not at its shortest.

    Where it takes of the drawing's room, it is shorter if the drawing is larger then, and pages behind have
    the rest; without the parts in the table of what it buys if it is much larger.
    """
    fitting: list[Band] = []
    for telling in TELLINGS:
        if fitting and (sheet.alone or not (telling.new == NEW and telling.changes == sys.maxsize)):
            continue
        if (band := _fitted(ruler, sheet, room, telling)) is not None:
            fitting.append(band)
            if band.in_full:
                break
    return max(fitting, key=lambda band: _preference(band, room), default=None)


def _preference(band: Band, room: Room) -> float:
    return room.scale_over(band.high) / (1.0 if band.by_parts else MUCH_LARGER)


def _fitted(ruler: Ruler, sheet: Sheet, room: Room, telling: Telling) -> Band | None:
    """The text at one length; None where it does not fit."""
    wide = _column(ruler, room)
    orders = [(*room.before, *each) for each in first_pages(sheet, telling)]
    most = room.most if telling.most < FEW else room.usual
    if total_height(orders[0], ruler, wide) > room.count * most:
        return None  # sooner than by trying heights
    arranged = [Columns(each, room.count, GUTTER).arranged(ruler, room.width) for each in orders]
    order = _usual_order([each[0] for each in arranged], most, room)
    high, columns = arranged[order]
    if min(each[0] for each in arranged) > most:
        return None
    return Band(tuple(map(tuple, columns)), wide, high, 1.0, telling.most >= FEW, telling, order)


def _usual_order(heights: Sequence[float], most: float, room: Room) -> int:
    """Which order of a text to take, by the height of each: of those that are no higher than `most` the one
    over which the drawing is largest, unless an order before it, little higher, leaves that as large; the
    least high where none is [device units]."""
    scales = [room.scale_over(high) for high in heights]
    fitting = [scale for scale, high in zip(scales, heights, strict=True) if high <= most]
    if not fitting:
        return min(range(len(heights)), key=lambda number: heights[number])
    orders, room_for_it = enumerate(zip(scales, heights, strict=True)), min(LITTLE_HIGHER * most, room.most)
    return next(n for n, (scale, high) in orders if high <= room_for_it and scale >= max(fitting))


LITTLE_HIGHER = 1.1
"""Times the room of a text, that it may have in its usual order: labels have theirs over it."""


def _with_more(ruler: Ruler, sheet: Sheet, room: Room, band: Band) -> Band:
    """The text with as many more of its assumptions as it has empty lines for: it grows no higher."""
    if not sheet.alone:
        return band  # what does not carry the result stands behind
    sized, shown, filled = Ruler(band.size * ruler.dot), tuple[Block, ...](), band
    for more in range(MOST_MORE + 1):
        before, telling = shown, replace(band.telling, assumptions=more)
        shown = (*room.before, *list(first_pages(sheet, telling))[band.order])
        if not more:
            continue
        if shown == before or total_height(shown, sized, band.wide) > room.count * band.high:
            break
        high, columns = Columns(shown, room.count, GUTTER).arranged(sized, room.width)
        if high > band.high:
            break
        filled = replace(band, columns=tuple(map(tuple, columns)))
    return filled


MOST_MORE = 8
"""Assumptions besides the foremost, for which empty lines are looked for."""


def _to_whole_sentences(column: Sequence[Block], blocks: Sequence[Block]) -> list[Block]:
    """A column that is followed by nothing: what was torn off at its end goes back to its last full stop.

    blocks: what it was set from, before anything was torn.
    """
    ends = tuple(without_no_break(block.text) for block in blocks if isinstance(block, Paragraph))
    kept = list(column)
    while kept:
        last = kept[-1]
        if isinstance(last, Paragraph) and not any(
            text.endswith(without_no_break(last.text)) for text in ends
        ):
            sentences = f"{last.text} ".rpartition(". ")[0]
            sentences = re.sub(r"(^|\. )\d+$", "", sentences)  # the number of a step that was torn off
            kept[-1:] = [replace(last, text=f"{sentences}.")] if sentences else []
            return kept
        if not last.keep:
            break
        kept.pop()
    return kept


FEW = 3
"""Of everything: so little is told only where the drawing has no room to give."""


def paint_band(painter: QPainter, dot: float, sheet: Sheet, band: Band, x: float, y: float) -> None:
    pencil = Pencil(painter, band.size * dot)
    for number, blocks in enumerate(band.columns):
        left = x + number * (band.wide + GUTTER * pencil.dot)
        paint_blocks(pencil, sheet.theme, blocks, left, y, band.wide)
