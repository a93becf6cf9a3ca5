"""The pages of a sheet as painted: drawings with their air column, before and after, and text."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch.air_column.painting import paint_column
from sketch.air_column.verdict import paint_verdict, verdict_height
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, shown
from sketch.drawing.view import XY, View, bounds
from sketch.look.colours import Theme
from sketch.page import sheet_text
from sketch.page.blocks import Block
from sketch.page.paper import Page
from sketch.page.sheet_changes import Option, change_table
from solver.layout import Layout
from solver.ledger import Solution
from solver.outlook import Outlook, outlook
from solver.units import Kind, System

MARGIN = 38.0
TITLE = 62.0
COLUMN = 312.0
FIGURES = 44.0
BAND = 250.0
GUTTER = 16.0
"""Logical pixels: page margin, title block, air column, figures, table of changes, between halves."""


@dataclass(frozen=True, slots=True)
class Case:
    """One drawing on the sheet: the one shown, or an alternative beside it."""

    option: Option
    solution: Solution
    highest_port: float  # [m]; nan where there is none to show
    highest_text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything the pages share."""

    pump: str
    system: System
    theme: Theme
    date: str
    cases: tuple[Case, ...]
    options: tuple[Option, ...]  # for the table of all alternatives; the drawing itself first
    working: bool = False  # whether every step of the calculation follows


@dataclass(frozen=True, slots=True)
class Folio:
    """Which page of how many, and what its title block says."""

    number: int
    total: int
    case: Case
    under: str = ""  # under the title: what the page shows
    other: Case | None = None  # what it is compared with
    scale: str = ""


def body_of(width: float, height: float, dot: float) -> Box:
    """What the frame and the title block leave of a page."""
    edge = MARGIN * dot
    return Box(edge, edge, width - 2 * edge, height - 2 * edge - (TITLE + 8) * dot)


def text_page(sheet: Sheet, blocks: Sequence[Block], folio: Folio) -> Page:
    """A page of text."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        _frame(pencil, sheet, folio, width, height)
        body = body_of(width, height, dot)
        _set(pencil, sheet, blocks, body.x, body.y, body.width)

    return paint


def columns_page(sheet: Sheet, columns: Sequence[Sequence[Block]], folio: Folio) -> Page:
    """A page of text in two columns."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        _frame(pencil, sheet, folio, width, height)
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


def drawing_page(sheet: Sheet, case: Case, folio: Folio) -> Page:
    """A drawing to a stated scale, its air column and its figures."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        body = body_of(width, height, dot)
        size = (body.width - COLUMN * dot, body.height - FIGURES * dot)
        view = fit(case.solution.layout, *size, dot, include=_in_sight(case), true_scale=True)
        _frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}"), width, height)
        _elevation(painter, sheet, case, view, Box(body.x, body.y, *size))
        column = QRectF(body.right - COLUMN * dot, body.y, COLUMN * dot, body.height)
        paint_column(
            painter, column, case.solution, sheet.pump, sheet.theme, sheet.system, dot=dot,
            findings=case.option.findings,
        )  # fmt: skip
        strip = Box(body.x, body.bottom - FIGURES * dot, size[0], FIGURES * dot)
        _figures(pencil, sheet, case, strip)
        upright = ((column.x(), body.y), (column.x(), body.bottom))
        pencil.lines([upright, ((strip.x, strip.y), (strip.right, strip.y))], sheet.theme.construction)

    return paint


def comparison_page(sheet: Sheet, before: Case, after: Case, folio: Folio) -> Page:
    """Before and after beside one another at one scale, and below them what each change bought."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        body = body_of(width, height, dot)
        table = change_table(before.option, after.option, sheet.pump, sheet.system)
        band = min(table.height(pencil, body.width) + 8 * dot, BAND * dot)
        half = (body.width - GUTTER * dot) / 2
        halves = [Box(x, body.y, half, body.height - band) for x in (body.x, body.right - half)]
        head = max(_verdict_height(pencil, sheet, case, half) for case in (before, after))
        size = (half, halves[0].height - head - FIGURES * dot)
        view = fit(before.solution.layout, *size, dot, include=_of_both(before, after), true_scale=True)
        _frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}", other=after), width, height)
        for case, box in zip((before, after), halves, strict=True):
            _half(pencil, sheet, case, box, head, view)
        lines = [((body.x, box.bottom), (body.right, box.bottom)) for box in halves[:1]]
        middle = body.x + body.width / 2
        lines.append(((middle, body.y), (middle, halves[0].bottom)))
        pencil.lines(lines, sheet.theme.construction)
        table.paint(pencil, sheet.theme, body.x, halves[0].bottom + 4 * dot, body.width)

    return paint


def _verdict_height(pencil: Pencil, sheet: Sheet, case: Case, width: float) -> float:
    return verdict_height(pencil, width, _outlook(sheet, case))


def _outlook(sheet: Sheet, case: Case) -> Outlook:
    return outlook(case.solution, case.option.findings, sheet.pump, sheet.system)


def _half(pencil: Pencil, sheet: Sheet, case: Case, box: Box, head: float, view: View) -> None:
    dot, theme = pencil.dot, sheet.theme
    paint_verdict(pencil, box, _outlook(sheet, case), theme)
    room = 0.6 * box.width
    title = pencil.elide(case.option.title, room, BODY, bold=True)
    pencil.text(box.right - 12 * dot, box.y + 20 * dot, title, theme.quiet, BODY, bold=True, align=1.0)
    drawn = Box(box.x, box.y + head, box.width, box.height - head - FIGURES * dot)
    _elevation(pencil.painter, sheet, case, view, drawn)
    strip = Box(box.x, drawn.bottom, box.width, FIGURES * dot)
    pencil.lines([((strip.x, strip.y), (strip.right, strip.y))], theme.grid)
    _figures(pencil, sheet, case, strip, ("At the port", "Allowed here", "Spent", "Margin", "Highest port"))


def _of_both(before: Case, after: Case) -> list[XY]:
    """What both halves have to show, so that one scale does for both."""
    found: list[XY] = []
    for case in (before, after):
        left, bottom, right, top = bounds(case.solution.layout)
        found += [(left, bottom), (right, top), *_in_sight(case)]
    return found


def _elevation(painter: QPainter, sheet: Sheet, case: Case, view: View, box: Box) -> None:
    def paint() -> None:
        paint_elevation(
            painter, case.solution.layout, case.solution, view, (box.width, box.height), sheet.theme,
            sheet.system, pump=sheet.pump, highest_port=case.highest_port,
        )  # fmt: skip

    _at(painter, box, paint)


def _at(painter: QPainter, box: Box, paint: Callable[[], object]) -> None:
    """Paint about the corner of a box, and no further than the box."""
    painter.save()
    painter.setClipRect(QRectF(*box))
    painter.translate(box.x, box.y)
    paint()
    painter.restore()


def _in_sight(case: Case) -> tuple[XY, ...]:
    """The highest port, unless showing it would make the drawing small."""
    left, bottom, _, top = bounds(case.solution.layout)
    high = case.highest_port
    near = math.isfinite(high) and bottom - 0.4 * (top - bottom) <= high <= top + 0.4 * (top - bottom)
    return ((left, high),) if near else ()


def _figures(pencil: Pencil, sheet: Sheet, case: Case, strip: Box, names: Sequence[str] = ()) -> None:
    """The handful of numbers a client asks for; only those of the given names, if any."""
    found = [
        (name, figure)
        for name, figure in sheet_text.key_figures(case.solution, sheet.pump, sheet.system, case.highest_text)
        if not names or name in names
    ]
    step, dot = strip.width / len(found), pencil.dot
    for number, (name, figure) in enumerate(found):
        x = strip.x + step * number + 8 * dot
        pencil.text(x, strip.y + 14 * dot, pencil.elide(name, step - 10 * dot), sheet.theme.quiet)
        bold = pencil.elide(figure, step - 10 * dot, BODY, bold=True)
        pencil.text(x, strip.y + 31 * dot, bold, sheet.theme.ink, BODY, bold=True)


def _frame(pencil: Pencil, sheet: Sheet, folio: Folio, width: float, height: float) -> None:
    """Paper, border and title block."""
    dot, edge, theme = pencil.dot, MARGIN * pencil.dot, sheet.theme
    pencil.box(Box(0.0, 0.0, width, height), theme.paper)
    block = Box(edge, height - edge - TITLE * dot, width - 2 * edge, TITLE * dot)
    border = Box(edge - 8 * dot, edge - 8 * dot, width - 2 * edge + 16 * dot, height - 2 * edge + 16 * dot)
    pencil.box(border, None, theme.construction, 1.2)
    pencil.lines([((border.x, block.y), (border.right, block.y))], theme.construction)
    fields = _fields(sheet, folio)
    x = block.right - sum(each[2] + 12 for each in fields) * dot
    room = x - block.x - 16 * dot
    _title(pencil, folio.case.solution.layout, block, room, theme)
    pencil.text(block.x, block.bottom - 10 * dot, pencil.elide(folio.under, room), theme.quiet)
    for name, figure, wide in fields:
        pencil.lines([((x - 8 * dot, block.y + 10 * dot), (x - 8 * dot, block.bottom - 8 * dot))], theme.grid)
        pencil.text(x, block.y + 20 * dot, name, theme.quiet, SMALL)
        pencil.text(x, block.y + 40 * dot, pencil.elide(figure, wide * dot, SMALL), theme.ink, SMALL)
        x += (wide + 12) * dot


def _fields(sheet: Sheet, folio: Folio) -> list[tuple[str, str, float]]:
    """The fields of the title block: name, what it says, logical pixels."""
    solution = folio.case.solution
    fluids = dict.fromkeys(_fluid(case, sheet.system) for case in (folio.case, folio.other) if case)
    return [
        ("Fluid", " \N{RIGHTWARDS ARROW} ".join(fluids), 220.0),
        ("Pump", sheet.pump, 96.0),
        ("Level", solution.level, 64.0),
        ("Scale", folio.scale or "\N{EN DASH}", 52.0),
        ("Date", sheet.date, 72.0),
        ("Page", f"{folio.number} of {folio.total}", 48.0),
    ]


def _fluid(case: Case, system: System) -> str:
    fluid = case.solution.fluid
    return f"{fluid.name}, {shown(fluid.temperature, Kind.TEMPERATURE, system)}"


def _title(pencil: Pencil, layout: Layout, block: Box, room: float, theme: Theme) -> None:
    """In large type where it fits, else on two lines."""
    dot, title = pencil.dot, layout.title
    if pencil.width(title, LARGE) <= room:
        pencil.text(block.x, block.y + 24 * dot, title, theme.ink, LARGE)
        return
    first, *more = pencil.wrap(title, room, BODY, bold=True)
    second = pencil.elide(" ".join(more), room, BODY, bold=True)
    for line, y in ((first, 16 if more else 25), (second, 34)):
        pencil.text(block.x, block.y + y * dot, line, theme.ink, BODY, bold=True)
