"""The pages of a sheet as painted: drawings with their air column, before and after, and text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch.air_column.labels import column_width
from sketch.air_column.painting import paint_column
from sketch.air_column.verdict import outlook_height, paint_outlook
from sketch.drawing import legend
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import BODY, Pencil, Ruler
from sketch.drawing.view import XY, View, bounds
from sketch.page import sheet_text
from sketch.page.blocks import Block, Paragraph
from sketch.page.paper import Page
from sketch.page.sheet_asides import first_page, fitting, worst_case
from sketch.page.sheet_changes import ROUNDED, change_table
from sketch.page.sheet_frame import Field, Folio, Panel, Sheet, body_of, paint_frame
from solver.findings.outlook import Outlook, outlook

FIGURES = 44.0
OTHER = 20.0
GUTTER = 16.0
"""Logical pixels: a line of figures, the line of the worst case under it, between halves."""

FEWER = 4
"""Parts told by name where the drawings need the room."""

COLUMN = 0.5
TABLE = 0.58
"""Of the page: at most, for the air column; for the table of changes."""


def text_page(sheet: Sheet, blocks: Sequence[Block], folio: Folio) -> Page:
    """A page of text."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        paint_frame(pencil, sheet, folio, width, height)
        body = body_of(width, height, dot)
        _set(pencil, sheet, blocks, body.x, body.y, body.width)

    return paint


def columns_page(sheet: Sheet, columns: Sequence[Sequence[Block]], folio: Folio) -> Page:
    """A page of text in two columns."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        paint_frame(pencil, sheet, folio, width, height)
        body = body_of(width, height, dot)
        wide = column_of(body, dot)
        for number, blocks in enumerate(columns):
            _set(pencil, sheet, blocks, body.x + number * (wide + GUTTER * dot), body.y, wide)

    return paint


def column_of(body: Box, dot: float) -> float:
    """The width of each of two columns."""
    return (body.width - GUTTER * dot) / 2


def _set(pencil: Pencil, sheet: Sheet, blocks: Sequence[Block], x: float, y: float, width: float) -> None:
    for block in blocks:
        block.paint(pencil, sheet.theme, x, y, width)
        y += block.height(pencil, width)


def drawing_page(sheet: Sheet, panel: Panel, folio: Folio) -> Page:
    """A drawing to a stated scale, its air column and its figures; first of all, what must not be missed."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        body = body_of(width, height, dot)
        wide = min(column_width(pencil, panel.solution, sheet.pump, sheet.system), COLUMN * body.width)
        left = body.width - wide
        text = _below(pencil, sheet, panel, left, 0.25 * body.height) if folio.number == 1 else []
        band = _height(pencil, text, left - 16 * dot)
        high = _strip_height(pencil, sheet, panel, left)
        size = (left, body.height - high - band)
        view = fit(panel.solution.layout, *size, dot, include=_in_sight(panel), true_scale=True)
        paint_frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}"), width, height)
        _elevation(painter, sheet, panel, view, Box(body.x, body.y, *size))
        column = QRectF(body.right - wide, body.y, wide, body.height)
        paint_column(
            painter, column, panel.solution, sheet.pump, sheet.theme, sheet.system, dot=dot,
            known_outlook=_outlook(sheet, panel),
        )  # fmt: skip
        strip = Box(body.x, body.y + size[1], left, high)
        _figures(pencil, sheet, panel, strip)
        _set(pencil, sheet, text, body.x + 8 * dot, strip.bottom, left - 16 * dot)
        upright = ((column.x(), body.y), (column.x(), body.bottom))
        pencil.lines([upright, ((strip.x, strip.y), (strip.right, strip.y))], sheet.theme.construction)

    return paint


def _below(ruler: Ruler, sheet: Sheet, panel: Panel, width: float, most: float) -> list[Block]:
    return fitting(first_page(sheet, (panel,)), ruler, width - 16 * ruler.dot, most)


def _height(ruler: Ruler, blocks: Sequence[Block], width: float) -> float:
    return sum(block.height(ruler, width) for block in blocks)


def comparison_page(sheet: Sheet, before: Panel, after: Panel, folio: Folio) -> Page:
    """Before and after beside one another at one scale, and below them what each change bought."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        body = body_of(width, height, dot)
        table = _bought(sheet, before, after)
        band = _height(pencil, table, TABLE * body.width) + 4 * dot
        half = (body.width - GUTTER * dot) / 2
        halves = [Box(x, body.y, half, body.height - band) for x in (body.x, body.right - half)]
        head = max(_outlook_height(pencil, sheet, panel, half) for panel in (before, after))
        foot = max(_strip_height(pencil, sheet, panel, half, SHORT) for panel in (before, after))
        size = (half, halves[0].height - head - foot)
        view = fit(before.solution.layout, *size, dot, include=_of_both(before, after), true_scale=True)
        paint_frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}", other=after), width, height)
        for panel, box in zip((before, after), halves, strict=True):
            _half(pencil, sheet, panel, box, head, foot, view)
        middle, low = body.x + body.width / 2, halves[0].bottom
        edges = [((body.x, low), (body.right, low)), ((middle, body.y), (middle, low))]
        pencil.lines(edges, sheet.theme.construction)
        _set(pencil, sheet, table, body.x, low + 4 * dot, TABLE * body.width)
        left = body.x + TABLE * body.width + GUTTER * dot
        room = Box(left, low + 6 * dot, body.right - left, band - 6 * dot)
        key = legend.KEY * dot
        aside = fitting(first_page(sheet, (before, after)), pencil, room.width, room.height - key)
        if any(panel.solution.pumps[sheet.pump].budget > 0 for panel in (before, after)):
            legend.key(pencil, room.x - 4 * dot, room.bottom - key, sheet.theme)
        _set(pencil, sheet, aside, room.x, room.y, room.width)

    return paint


def _bought(sheet: Sheet, before: Panel, after: Panel) -> list[Block]:
    table = change_table(before.option, after.option, sheet.pump, sheet.system, FEWER)
    return [table, Paragraph(ROUNDED, quiet=True)]


def _outlook_height(pencil: Pencil, sheet: Sheet, panel: Panel, width: float) -> float:
    return outlook_height(pencil, width, _outlook(sheet, panel))


def _outlook(sheet: Sheet, panel: Panel) -> Outlook:
    return outlook(panel.judgement, sheet.system)


SHORT = ("At the port", "Allowed here", "Spent", "Margin", "Highest port")


def _half(pencil: Pencil, sheet: Sheet, panel: Panel, box: Box, head: float, foot: float, view: View) -> None:
    dot, theme, outlook = pencil.dot, sheet.theme, _outlook(sheet, panel)
    paint_outlook(pencil, box, outlook, theme)
    room = box.width - pencil.width(outlook.word, BODY, bold=True) - 64 * dot
    title = pencil.elide(panel.option.title, room, BODY, bold=True)
    pencil.text(box.right - 12 * dot, box.y + 20 * dot, title, theme.quiet, BODY, bold=True, align=1.0)
    drawn = Box(box.x, box.y + head, box.width, box.height - head - foot)
    _elevation(pencil.painter, sheet, panel, view, drawn, legend=False)  # the page has one for both
    strip = Box(box.x, drawn.bottom, box.width, foot)
    pencil.lines([((strip.x, strip.y), (strip.right, strip.y))], theme.grid)
    _figures(pencil, sheet, panel, strip, SHORT)


def _of_both(before: Panel, after: Panel) -> list[XY]:
    """What both halves have to show, so that one scale does for both."""
    corners: list[XY] = []
    for panel in (before, after):
        left, bottom, right, top = bounds(panel.solution.layout)
        corners += [(left, bottom), (right, top), *_in_sight(panel)]
    return corners


def _elevation(
    painter: QPainter, sheet: Sheet, panel: Panel, view: View, box: Box, *, legend: bool = True
) -> None:
    def paint() -> None:
        paint_elevation(
            painter, panel.solution.layout, panel.solution, view, (box.width, box.height), sheet.theme,
            sheet.system, pump=sheet.pump, highest_port=panel.highest_port,
            legend=legend,
        )  # fmt: skip

    _at(painter, box, paint)


def _at(painter: QPainter, box: Box, paint: Callable[[], object]) -> None:
    """Paint about the corner of a box, and no further than the box."""
    painter.save()
    painter.setClipRect(QRectF(*box))
    painter.translate(box.x, box.y)
    paint()
    painter.restore()


def _in_sight(panel: Panel) -> tuple[XY, ...]:
    """The highest port, unless showing it would make the drawing small."""
    left, bottom, _, top = bounds(panel.solution.layout)
    high = panel.highest_port
    if high is None:
        return ()
    near = bottom - 0.4 * (top - bottom) <= high <= top + 0.4 * (top - bottom)
    return ((left, high),) if near else ()


def _strip_height(ruler: Ruler, sheet: Sheet, panel: Panel, width: float, names: Sequence[str] = ()) -> float:
    rows = figure_rows(ruler, _key_figures(sheet, panel, names), width)
    other = worst_case(panel, sheet.pump, sheet.system)
    lines = len(_other_lines(ruler, other, width)) if other else 0
    return (FIGURES * len(rows) + OTHER * lines) * ruler.dot


def _other_lines(ruler: Ruler, other: Field, width: float) -> list[str]:
    return ruler.wrap(" ".join(other), width - 16 * ruler.dot, bold=True)


def _key_figures(sheet: Sheet, panel: Panel, names: Sequence[str]) -> list[Field]:
    """The handful of numbers a client asks for; only those of the given names, if any."""
    fields = sheet_text.key_figures(panel.solution, sheet.pump, sheet.system, panel.highest_text)
    return [(name, figure) for name, figure in fields if not names or name in names]


def figure_rows(ruler: Ruler, fields: Sequence[Field], width: float) -> list[list[tuple[float, Field]]]:
    """Figures in as many rows as they need, with how far from the left each begins; none is cut."""
    gap, room = 9 * ruler.dot, width - 16 * ruler.dot
    rows: list[list[tuple[float, Field]]] = [[]]
    left = 0.0
    for name, figure in fields:
        wide = max(ruler.width(name), ruler.width(figure, BODY, bold=True))
        if rows[-1] and left + wide > room:
            rows.append([])
            left = 0.0
        rows[-1].append((left, (name, figure)))
        left += wide + gap
    if len(rows) > 1:
        return rows
    spare = max(room - left + gap, 0.0) / len(fields)
    return [[(at + number * spare, field) for number, (at, field) in enumerate(rows[0])]]


def _figures(pencil: Pencil, sheet: Sheet, panel: Panel, strip: Box, names: Sequence[str] = ()) -> None:
    dot, fields = pencil.dot, _key_figures(sheet, panel, names)
    for number, row in enumerate(figure_rows(pencil, fields, strip.width)):
        y = strip.y + FIGURES * dot * number
        for at, (name, figure) in row:
            x = strip.x + 8 * dot + at
            pencil.text(x, y + 14 * dot, name, sheet.theme.quiet)
            pencil.text(x, y + 31 * dot, figure, sheet.theme.ink, BODY, bold=True)
    other = worst_case(panel, sheet.pump, sheet.system)
    if other is not None:
        y = strip.y + FIGURES * dot * len(figure_rows(pencil, fields, strip.width)) + 6 * dot
        lead, *_ = other
        for line in _other_lines(pencil, other, strip.width):
            x = strip.x + 8 * dot
            if line.startswith(lead):
                pencil.text(x, y, lead, sheet.theme.quiet)
                x += pencil.width(f"{lead} ")
                line = line.removeprefix(lead).strip()
            pencil.text(x, y, line, sheet.theme.ink, bold=True)
            y += OTHER * dot
