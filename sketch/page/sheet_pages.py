"""The pages of a sheet as painted: the one that decides, and text with pictures behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from PySide6.QtGui import QPainter

from sketch.drawing import legend
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
from sketch.page.blocks import Block, paint_blocks, total_height
from sketch.page.paper import Page, Paper
from sketch.page.sheet_band import WIDE, Band, paint_band, room_for, set_band
from sketch.page.sheet_first import Contents, contents_line
from sketch.page.sheet_frame import Folio, Sheet, first_body, later_body, paint_frame, scale_text
from sketch.page.sheet_halves import (
    GUTTER,
    LEAST_DRAWING,
    Halves,
    drawn_closer,
    paint_halves,
    set_halves,
    text_height,
)
from sketch.page.sheet_single import set_drawing
from solver.field.as_read import AsRead
from solver.layout.parts import Layout
from solver.quantities.units import System


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


KEY_WIDE = 350.0
"""Logical pixels: the key of the colours."""


def _whose_shares(sheet: Sheet) -> str:
    """The pump whose shares both drawings show, where one has others; "" where there is no other."""
    shown = {panel.pump for panel in sheet.panels}
    several = any(len(panel.judgement.layout.pumps) > 1 for panel in sheet.panels)
    return shown.pop() if several and len(shown) == 1 else ""


class _Comparison(NamedTuple):
    """The first page of two drawings as it is set [device units]."""

    halves: Halves
    low: float  # where the text begins
    shares: bool  # whether the key of the colours stands there
    key: float  # height of the key and what is listed beside it
    listed: tuple[Block, ...]
    band: Band


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

    room = room_for(body.width, free, free - least, count, lambda text: halves_over(text).view.scale)
    band = set_band(ruler, sheet, room)
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
        halves = drawn_closer(pencil, sheet, placed.halves)
        scale = scale_text(halves.view.ratio)
        paint_frame(pencil, sheet, replace(folio, scale=scale), width, height)
        paint_halves(pencil, sheet, halves)
        pencil.lines([((body.x, low), (body.right, low))], sheet.theme.construction)
        if placed.shares:
            legend.key(pencil, body.x - 4 * dot, low + 2 * dot, sheet.theme, _whose_shares(sheet))
        key_width = _key_width(placed.shares, dot)
        paint_blocks(
            pencil, sheet.theme, placed.listed, body.x + key_width, low + 6 * dot, body.width - key_width
        )
        under = low + placed.key - 2 * dot
        pencil.lines([((body.x, under), (body.right, under))], sheet.theme.grid)
        paint_band(painter, dot, sheet, placed.band, body.x, low + placed.key)

    return paint


def text_of_first(sheet: Sheet, contents: Contents, folio: Folio, on: Paper) -> tuple[Block, ...]:
    """The text of the first page, as much of it as that paper has room for."""
    place = _set_comparison if len(sheet.panels) > 1 else set_drawing
    band = place(Ruler(on.dot), sheet, contents, folio, *on.size).band
    return tuple(block for column in band.columns for block in column)


def likely_of(layout: Layout, units: System, as_read: AsRead | None) -> tuple[str, ...]:
    """What the newest readings come from. Most drawings have none: what explains them is imported then.

    as_read: the drawing as read, where the page says how it stands so.
    """
    if not layout.readings:
        return ()
    from sketch.page.sheet_readings import likely_causes

    return likely_causes(layout, units, as_read.names if as_read is not None else ())
