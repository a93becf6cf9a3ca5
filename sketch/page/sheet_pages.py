"""The pages of a sheet as painted: the one that decides, and text with pictures behind it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch.air_column.labels import column_width
from sketch.air_column.painting import paint_column
from sketch.drawing import legend
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit
from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.view import View
from sketch.page.blocks import Block, Paragraph, paint_blocks, total_height
from sketch.page.columns import Columns, paginate
from sketch.page.paper import Page, Paper
from sketch.page.sheet_changes import NEW
from sketch.page.sheet_first import TELLINGS, contents_line, continued, first_pages, shortest_page
from sketch.page.sheet_frame import Folio, Sheet, first_body, later_body, paint_frame
from sketch.page.sheet_halves import (
    GUTTER,
    LEAST_DRAWING,
    Halves,
    paint_halves,
    set_halves,
    text_height,
)
from sketch.page.sheet_panels import in_sight, paint_figures, paint_panel, strip_height
from solver.layout.parts import Layout
from solver.quantities.units import System

BAND = 0.46
"""Of the first page, for its text, unless it fits in no other way."""

COLUMN = 0.5
"""Of the page: at most, for the air column."""

WIDE, KEY_WIDE = 900.0, 350.0
"""Logical pixels: a page that has room for three columns of text; the key of the colours."""


def text_page(sheet: Sheet, blocks: Sequence[Block], folio: Folio, size: float = 1.0) -> Page:
    """A page of text, in type of that size against the usual."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        paint_frame(Pencil(painter, dot), sheet, folio, width, height)
        pencil, body = Pencil(painter, size * dot), later_body(width, height, dot)
        paint_blocks(pencil, sheet.theme, blocks, body.x, body.y, body.width)

    return paint


def columns_page(sheet: Sheet, columns: Sequence[Sequence[Block]], folio: Folio, size: float = 1.0) -> Page:
    """A page of text in two columns, in type of that size against the usual."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        paint_frame(Pencil(painter, dot), sheet, folio, width, height)
        pencil, body = Pencil(painter, size * dot), later_body(width, height, dot)
        wide = column_of(body, dot)
        for number, blocks in enumerate(columns):
            left = body.x + number * (wide + GUTTER * dot)
            paint_blocks(pencil, sheet.theme, blocks, left, body.y, wide)

    return paint


def column_of(body: Box, dot: float) -> float:
    """The width of each of two columns."""
    return (body.width - GUTTER * dot) / 2


Contents = Sequence[tuple[str, int]]
"""What stands behind the first page, and where each begins."""


@dataclass(frozen=True, slots=True)
class _Band:
    """The text of the first page as it is set: columns, their height, and the size of the type."""

    columns: tuple[tuple[Block, ...], ...]
    wide: float
    high: float
    size: float = 1.0  # against the usual
    in_full: bool = False  # as long as it is where room is not short


SIZES = (1.0, 0.92, 0.85)
"""Of the type on the first page, against the usual: what the result rests on is set smaller before it is left
to the pages behind."""


CUT = 10.0
"""Logical pixels: less text is tried by so much of its height, where it is cut off."""


@dataclass(frozen=True, slots=True)
class _Room:
    """What the first page has for its text [device units]."""

    width: float
    usual: float  # of its height, unless the text fits in no other way
    most: float  # what the drawing leaves, at its smallest
    count: int  # of columns
    scale_over: Callable[[float], float]  # of the drawing over a band of that height


def _room(width: float, body: float, most: float, count: int, scale_over: Callable[[float], float]) -> _Room:
    return _Room(width, min(BAND * body, most), most, count, scale_over)


def _band(ruler: Ruler, sheet: Sheet, room: _Room) -> _Band:
    """The text in columns: as much of it as fits, and no higher than it must be; smaller where room is short
    and the drawing is much larger over it."""
    chosen, scale = None, 0.0
    for size in SIZES:
        band = _fitting(Ruler(size * ruler.dot), sheet, room)
        if band is None or room.scale_over(band.high) < MUCH_LARGER * scale:
            continue
        chosen, scale = replace(band, size=size), room.scale_over(band.high)
        if chosen.in_full:
            break
    return chosen or _cut_off(Ruler(SIZES[-1] * ruler.dot), sheet, room)


MUCH_LARGER = 1.25
"""Of its scale, that a drawing gains where its text is set smaller for it."""


def _cut_off(ruler: Ruler, sheet: Sheet, room: _Room) -> _Band:
    """The text at its shortest where that does not fit: the rest is on the page behind. The page says so,
    before what it is based on and the last caution, which have their room first, of the drawing's if need be.
    """
    wide, (blocks, foot) = _column(ruler, room), shortest_page(sheet)
    last = (Paragraph(continued(sheet), quiet=True), *foot)
    left = room.count * room.most - total_height(last, ruler, wide)
    while True:
        kept = _to_whole_sentences(paginate(blocks, ruler, wide, left)[0], blocks) if left > 0 else []
        high, columns = Columns((*kept, *last), room.count, GUTTER).arranged(ruler, room.width)
        if high <= room.most or not kept:
            return _Band(tuple(map(tuple, columns)), wide, high, SIZES[-1])
        left -= CUT * ruler.dot


def _column(ruler: Ruler, room: _Room) -> float:
    return (room.width - (room.count - 1) * GUTTER * ruler.dot) / room.count


def _fitting(ruler: Ruler, sheet: Sheet, room: _Room) -> _Band | None:
    """The text at the greatest length that fits that type; None where it does not at its shortest.

    Where it takes of the drawing's room, it is shorter if the drawing is larger then, and pages behind have
    the rest.
    """
    wide = _column(ruler, room)
    fitting: list[_Band] = []
    for telling in TELLINGS:
        if fitting and (sheet.alone or telling.new < NEW):
            break
        orders = list(first_pages(sheet, telling))
        most = room.most if telling.most < FEW else room.usual
        if total_height(orders[0], ruler, wide) > room.count * most:
            continue  # sooner than by trying heights
        arranged = (Columns(each, room.count, GUTTER).arranged(ruler, room.width) for each in orders)
        high, columns = min(arranged, key=lambda each: each[0])
        if high <= most:
            fitting.append(_Band(tuple(map(tuple, columns)), wide, high, in_full=telling.most >= FEW))
            if telling.most >= FEW:
                break
    return max(fitting, key=lambda band: room.scale_over(band.high), default=None)


def _to_whole_sentences(column: Sequence[Block], blocks: Sequence[Block]) -> list[Block]:
    """A column that is followed by nothing: what was torn off at its end goes back to its last full stop.

    blocks: what it was set from, before anything was torn.
    """
    ends = tuple(block.text for block in blocks if isinstance(block, Paragraph))
    kept = list(column)
    while kept:
        last = kept[-1]
        if isinstance(last, Paragraph) and not any(text.endswith(last.text) for text in ends):
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


def _paint_band(painter: QPainter, dot: float, sheet: Sheet, band: _Band, x: float, y: float) -> None:
    pencil = Pencil(painter, band.size * dot)
    for number, blocks in enumerate(band.columns):
        left = x + number * (band.wide + GUTTER * pencil.dot)
        paint_blocks(pencil, sheet.theme, blocks, left, y, band.wide)


class _Drawing(NamedTuple):
    """The first page of one drawing as it is set [device units]."""

    body: Box
    left: float  # width of the drawing
    foot: float  # down to where the air column goes
    listed: tuple[Block, ...]
    low: float  # height of what is listed
    high: float  # height of the figures under the drawing
    band: _Band
    view: View

    @property
    def across(self) -> float:
        """The width of the text."""
        return self.body.width if self.body.height > self.body.width else self.left


def _set_drawing(
    ruler: Ruler, sheet: Sheet, contents: Contents, folio: Folio, width: float, height: float
) -> _Drawing:
    dot, panel = ruler.dot, sheet.panels[0]
    body = first_body(ruler, sheet, folio, width, height)
    natural = column_width(ruler, panel.solution, panel.pump, sheet.system)
    left = body.width - min(max(natural, 0.26 * body.width), COLUMN * body.width)
    upright = body.height > body.width
    across = body.width if upright else left
    listed = contents_line(contents)
    low = total_height(listed, ruler, across - 16 * dot)
    high = strip_height(ruler, sheet, panel, left)
    free = body.height - low - high

    def view_over(text: float) -> View:
        layout, seen = panel.solution.layout, in_sight(panel)
        return fit(layout, left, free - text, dot, include=seen, true_scale=True)

    most, count = free - LEAST_DRAWING * dot, 3 if left > WIDE * dot else 2
    room = _room(across - 16 * dot, body.height - low, most, count, lambda text: view_over(text).scale)
    band = _band(ruler, sheet, room)
    foot = free - band.high + high if upright else body.height
    return _Drawing(body, left, foot, listed, low, high, band, view_over(band.high))


def drawing_page(sheet: Sheet, contents: Contents, folio: Folio) -> Page:
    """One drawing to a stated scale with its air column, and below it all that is needed to decide."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil, panel = Pencil(painter, dot), sheet.panels[0]
        placed = _set_drawing(pencil, sheet, contents, folio, width, height)
        body, band, across = placed.body, placed.band, placed.across
        size = (placed.left, body.height - placed.low - placed.high - band.high)
        paint_frame(pencil, sheet, replace(folio, scale=f"1 : {placed.view.ratio:g}"), width, height)
        paint_panel(painter, sheet, panel, placed.view, Box(body.x, body.y, *size))
        column = QRectF(body.x + placed.left, body.y, body.width - placed.left, placed.foot)
        paint_column(
            painter, column, panel.solution, panel.pump, sheet.theme, sheet.system, dot=dot,
            known_outlook=panel.outlook(sheet.system),
        )  # fmt: skip
        strip = Box(body.x, body.y + size[1], placed.left, placed.high)
        paint_figures(pencil, sheet, panel, strip)
        _paint_band(painter, dot, sheet, band, body.x + 8 * dot, strip.bottom)
        below = (body.x + 8 * dot, body.bottom - placed.low, across - 16 * dot)
        paint_blocks(pencil, sheet.theme, placed.listed, *below)
        if placed.listed:
            pencil.lines(
                [((body.x, below[1] - 2 * dot), (body.x + across, below[1] - 2 * dot))], sheet.theme.grid
            )
        edges = [((column.x(), body.y), (column.x(), column.bottom()))]
        edges += [((strip.x, strip.y), (strip.right, strip.y))]
        edges += [((strip.x, strip.bottom), (strip.x + across, strip.bottom))]
        pencil.lines(edges, sheet.theme.construction)

    return paint


class _Comparison(NamedTuple):
    """The first page of two drawings as it is set [device units]."""

    halves: Halves
    low: float  # where the text begins
    shares: bool  # whether the key of the colours stands there
    key: float  # height of the key and what is listed beside it
    listed: tuple[Block, ...]
    band: _Band


def _set_comparison(
    ruler: Ruler, sheet: Sheet, contents: Contents, folio: Folio, width: float, height: float
) -> _Comparison:
    dot, body = ruler.dot, first_body(ruler, sheet, folio, width, height)
    shares = any(panel.ledger.budget > 0 for panel in sheet.panels)
    listed, beside_key = contents_line(contents), body.width - _key_width(shares, dot)
    key = max(legend.KEY * dot if shares else 0.0, total_height(listed, ruler, beside_key) + 6 * dot)
    count = 3 if body.width > WIDE * dot else 2
    least = text_height(ruler, sheet, body.width) + LEAST_DRAWING * dot
    free = body.height - key

    def halves_over(text: float) -> Halves:
        return set_halves(ruler, sheet, body._replace(height=free - text))

    room = _room(body.width, free, free - least, count, lambda text: halves_over(text).view.scale)
    band = _band(ruler, sheet, room)
    low = body.y + free - band.high
    return _Comparison(halves_over(band.high), low, shares, key, listed, band)


def _key_width(shares: bool, dot: float) -> float:
    return KEY_WIDE * dot if shares else 0.0


def comparison_page(sheet: Sheet, contents: Contents, folio: Folio) -> Page:
    """Before and after at one scale, and below them all that is needed to decide."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        placed = _set_comparison(pencil, sheet, contents, folio, width, height)
        body, low = first_body(pencil, sheet, folio, width, height), placed.low
        scale = f"1 : {placed.halves.view.ratio:g}"
        paint_frame(pencil, sheet, replace(folio, scale=scale), width, height)
        paint_halves(pencil, sheet, placed.halves)
        pencil.lines([((body.x, low), (body.right, low))], sheet.theme.construction)
        if placed.shares:
            legend.key(pencil, body.x - 4 * dot, low + 2 * dot, sheet.theme)
        key_width = _key_width(placed.shares, dot)
        paint_blocks(
            pencil, sheet.theme, placed.listed, body.x + key_width, low + 6 * dot, body.width - key_width
        )
        under = low + placed.key - 2 * dot
        pencil.lines([((body.x, under), (body.right, under))], sheet.theme.grid)
        _paint_band(painter, dot, sheet, placed.band, body.x, low + placed.key)

    return paint


def text_of_first(sheet: Sheet, contents: Contents, folio: Folio, on: Paper) -> tuple[Block, ...]:
    """The text of the first page, as much of it as that paper has room for."""
    place = _set_comparison if len(sheet.panels) > 1 else _set_drawing
    band = place(Ruler(on.dot), sheet, contents, folio, *on.size).band
    return tuple(block for column in band.columns for block in column)


def likely_of(layout: Layout, units: System) -> tuple[str, ...]:
    """What the newest readings come from. Most drawings have none: what explains them is imported then."""
    if not layout.readings:
        return ()
    from sketch.page.sheet_readings import likely_causes

    return likely_causes(layout, units)
