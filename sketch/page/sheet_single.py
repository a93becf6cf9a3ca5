"""The first page of one drawing: to a stated scale with its air column, and what is needed to decide."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch.air_column.labels import column_width
from sketch.air_column.painting import paint_column
from sketch.air_column.verdict import outlook_height, paint_outlook
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit
from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Picture, paint_blocks, total_height
from sketch.page.paper import Page
from sketch.page.sheet_band import WIDE, Band, paint_band, room_for, set_band
from sketch.page.sheet_first import Contents, contents_line
from sketch.page.sheet_frame import (
    LEAST_INLET_SHORT,
    Folio,
    Panel,
    Sheet,
    first_body,
    paint_frame,
    scale_text,
)
from sketch.page.sheet_panels import in_sight, paint_figures, paint_panel, strip_height

LEAST_DRAWING = 160.0
"""Logical pixels, of the height of one drawing on the first page."""

COLUMN = 0.5
"""Of the page: at most, for the air column."""

COLUMN_HIGH = 0.3
"""Of the page: for the air column where it stands with the text, under a drawing as wide as the page."""

BAND_WITH_COLUMN = 0.56
"""Of the page, for its text and the air column before it, unless they fit in no other way."""

UNDER = 4.0
"""Logical pixels between the line under the figures and the text."""

LARGER = 1.1
"""Of its scale, that a drawing gains as wide as the page."""


class Drawing(NamedTuple):
    """The first page of one drawing as it is set [device units]."""

    body: Box
    left: float  # width of the drawing
    head: float  # height of the verdict over the drawing, where the air column has none
    foot: float  # down to where the air column goes, beside the drawing
    listed: tuple[Block, ...]
    low: float  # height of what is listed
    high: float  # height of the figures under the drawing
    band: Band
    view: View

    @property
    def across(self) -> float:
        """The width of the text."""
        return self.body.width if self.body.height > self.body.width else self.left

    @property
    def drawn(self) -> Box:
        """Where the drawing goes."""
        high = self.body.height - self.head - self.low - self.high - self.band.high
        return Box(self.body.x, self.body.y + self.head, self.left, high)


def set_drawing(
    ruler: Ruler, sheet: Sheet, contents: Contents, folio: Folio, width: float, height: float
) -> Drawing:
    """The air column beside the drawing; on an upright page with the text, where the drawing is larger so."""
    body = first_body(ruler, sheet, folio, width, height)
    beside = _set_in(ruler, sheet, contents, body, in_text=False)
    if body.height <= body.width:
        return beside
    wide = _set_in(ruler, sheet, contents, body, in_text=True)
    return wide if wide.view.scale >= LARGER * beside.view.scale else beside


def _set_in(ruler: Ruler, sheet: Sheet, contents: Contents, body: Box, *, in_text: bool) -> Drawing:
    """in_text: whether the air column stands before the text, and the drawing is as wide as the page."""
    dot, panel = ruler.dot, sheet.panels[0]
    natural = column_width(ruler, panel.solution, panel.pump, sheet.system, LEAST_INLET_SHORT)
    left = body.width - (0.0 if in_text else min(max(natural, 0.26 * body.width), COLUMN * body.width))
    upright = body.height > body.width
    across = body.width if upright else left
    listed = contents_line(contents)
    low = total_height(listed, ruler, across - 16 * dot)
    high = strip_height(ruler, sheet, panel, left)
    head = outlook_height(ruler, body.width, panel.outlook(sheet.system)) if in_text else 0.0
    column = _column_block(sheet, COLUMN_HIGH * body.height / dot)
    free = body.height - low - high - head

    def view_over(text: float) -> View:
        layout, seen = panel.solution.layout, in_sight(panel)
        return fit(layout, left, free - text, dot, include=seen, true_scale=True)

    most, count = free - LEAST_DRAWING * dot, 3 if left > WIDE * dot else 2
    room = room_for(across - 16 * dot, body.height - low, most, count, lambda text: view_over(text).scale)
    if in_text:
        room = replace(room, usual=min(BAND_WITH_COLUMN * body.height, most), before=(column,))
    band = set_band(ruler, sheet, room)
    foot = 0.0 if in_text else free - band.high + high - UNDER * dot if upright else body.height
    return Drawing(body, left, head, foot, listed, low, high, band, view_over(band.high))


def _screens_drawn(panel: Panel) -> str:
    """Of which screens a column is, where they were read as blocked; "" where none was."""
    return "" if panel.as_read is None else f"{' and '.join(panel.as_read.names)} as drawn"


def _column_block(sheet: Sheet, high: float) -> Picture:
    """The air column so high [logical pixels], without the verdict."""
    panel = sheet.panels[0]

    def draw(pencil: Pencil, theme: Theme, box: Box) -> None:
        paint_column(
            pencil,
            QRectF(*box),
            panel.solution,
            panel.pump,
            theme,
            sheet.system,
            headline=False,
            case=_screens_drawn(panel),
            dot=pencil.dot,
            floor_name=LEAST_INLET_SHORT,
        )

    return Picture(high, draw)


def drawing_page(sheet: Sheet, contents: Contents, folio: Folio) -> Page:
    """One drawing to a stated scale with its air column, and below it all that is needed to decide."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil, panel = Pencil(painter, dot), sheet.panels[0]
        placed = set_drawing(pencil, sheet, contents, folio, width, height)
        body, band, across, drawn = placed.body, placed.band, placed.across, placed.drawn
        paint_frame(pencil, sheet, replace(folio, scale=scale_text(placed.view.ratio)), width, height)
        paint_panel(painter, sheet, panel, placed.view, drawn)
        edges = _paint_column(pencil, sheet, placed)
        strip = Box(body.x, drawn.bottom, placed.left, placed.high)
        paint_figures(pencil, sheet, panel, strip)
        paint_band(painter, dot, sheet, band, body.x + 8 * dot, strip.bottom)
        below = (body.x + 8 * dot, body.bottom - placed.low, across - 16 * dot)
        paint_blocks(pencil, sheet.theme, placed.listed, *below)
        if placed.listed:
            pencil.lines(
                [((body.x, below[1] - 2 * dot), (body.x + across, below[1] - 2 * dot))], sheet.theme.grid
            )
        edges += [((strip.x, strip.y), (strip.right, strip.y))]
        under = strip.bottom - UNDER * dot
        edges += [((strip.x, under), (strip.x + across, under))]
        pencil.lines(edges, sheet.theme.construction)

    return paint


def _paint_column(pencil: Pencil, sheet: Sheet, placed: Drawing) -> list[tuple[XY, XY]]:
    """The air column under its verdict beside the drawing, or the verdict alone over it; the line between."""
    panel, body, shown = sheet.panels[0], placed.body, sheet.panels[0].outlook(sheet.system)
    if not placed.foot:
        head = body._replace(height=placed.head)
        paint_outlook(pencil, head, shown, sheet.theme, placed.head)
        return [((head.x, head.bottom), (head.right, head.bottom))]
    column = QRectF(body.x + placed.left, body.y, body.width - placed.left, placed.foot)
    paint_column(
        pencil,
        column,
        panel.solution,
        panel.pump,
        sheet.theme,
        sheet.system,
        known_outlook=shown,
        case=_screens_drawn(panel),
        dot=pencil.dot,
        floor_name=LEAST_INLET_SHORT,
    )
    return [((column.x(), body.y), (column.x(), column.bottom()))]
