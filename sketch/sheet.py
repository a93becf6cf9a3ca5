"""The client's page: the drawing, the air column, the ledger and what they stand on, as PDF, SVG or PNG."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from sketch import sheet_text
from sketch.blocks import Block, paginate
from sketch.colours import LIGHT, Theme
from sketch.column_painting import paint_column
from sketch.labels import Box
from sketch.painting import fit, paint_elevation
from sketch.paper import Page, Paper, SheetError, paper, write
from sketch.pencil import BODY, LARGE, SMALL, Pencil, Ruler, shown
from sketch.view import bounds
from solver import answers, findings
from solver.criteria import Finding
from solver.ledger import Solution
from solver.units import Kind, System

__all__ = ["SheetError", "write_sheet"]

MARGIN = 38.0
TITLE = 62.0
COLUMN = 312.0
FIGURES = 44.0
"""Logical pixels: page margin, title block, air column, strip of figures."""


@dataclass(frozen=True, slots=True)
class Case:
    """One drawing on the sheet: the one shown, or an alternative beside it."""

    name: str
    solution: Solution
    findings: tuple[Finding, ...]
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


def write_sheet(
    solution: Solution,
    path: Path | str,
    pump: str = "",
    found: Sequence[Finding] | None = None,
    *,
    system: System | None = None,
    paper: str = "A4",
    theme: Theme = LIGHT,
    name: str = "",
    others: Mapping[str, Solution] | None = None,
    date: datetime.date | None = None,
) -> None:
    """Write a drawing, its column, ledger, findings, assumptions and cautions to a PDF, SVG or PNG file.

    `pump` is whose ledger is shown, the first one if empty; `found` its findings, worked out here if None;
    `name` what to call the drawing beside `others`, the alternatives to show with it, by name.
    Needs an application (QGuiApplication) but no display. Raises ValueError for a paper size or an ending
    that is not known, KeyError for a pump that is not in the drawing, SheetError (an OSError) when the file
    cannot be written.
    """
    target = Path(path)
    sheet_paper = _paper(paper, target)
    chosen = pump or next(iter(solution.pumps))
    shown_in = system or System(solution.layout.units)
    alternatives = (others or {}).items()
    cases = [_case(name or ("As drawn" if alternatives else ""), solution, chosen, shown_in, found)]
    for other, each in alternatives:
        if chosen in each.pumps:
            cases.append(_case(other, each, chosen, shown_in, None))
    day = f"{date or datetime.date.today():%Y-%m-%d}"
    sheet = Sheet(chosen, shown_in, _for_print(theme), day, tuple(cases))
    write(target, sheet_paper, _pages(sheet, sheet_paper), solution.layout.title)


_paper = paper


def _for_print(theme: Theme) -> Theme:
    """On a light page the paper is the paper: no tint to print."""
    return replace(theme, paper=theme.box) if theme is LIGHT else theme


def _case(name: str, solution: Solution, pump: str, system: System, found: Sequence[Finding] | None) -> Case:
    solution.pumps[pump]
    answer = answers.highest_port(solution.layout, pump, solution.level)
    height = answer.value if answer.status in ("found", "already over") else math.nan
    text = shown(height, Kind.LENGTH, system) if math.isfinite(height) else answer.status
    return Case(name, solution, tuple(findings.check(solution) if found is None else found), height, text)


def _pages(sheet: Sheet, on: Paper) -> list[Page]:
    """Drawings first, a page each; then the text, as many pages as it takes."""
    ruler = Ruler(on.dot)
    width, height = on.size
    room = (width - 2 * MARGIN * on.dot, height - (2 * MARGIN + TITLE + 8) * on.dot)
    flows = paginate(list(_text(sheet)), ruler, *room)
    total = len(sheet.cases) + len(flows)
    pages: list[Page] = []
    for case in sheet.cases:
        pages.append(_drawing_page(sheet, case, len(pages) + 1, total))
    for blocks in flows:
        pages.append(_text_page(sheet, blocks, len(pages) + 1, total))
    return pages


def _text(sheet: Sheet) -> Iterator[Block]:
    pump, system, theme = sheet.pump, sheet.system, sheet.theme
    named = [(case.name, case.solution) for case in sheet.cases]
    yield from sheet_text.comparison_blocks(named, pump, system)
    for case in sheet.cases:
        yield from sheet_text.ledger_blocks(case.solution, pump, system, theme, case.name)
    yield from sheet_text.budgets([(name, each.pumps[pump]) for name, each in named], system)
    for case in sheet.cases:
        yield from sheet_text.finding_blocks(case.findings, theme, case.name)
    yield from sheet_text.assumption_blocks(named, pump, system)
    yield from sheet_text.caution_blocks()


def _text_page(sheet: Sheet, blocks: Sequence[Block], number: int, total: int) -> Page:
    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        _frame(pencil, sheet, replace(sheet.cases[0], name=""), width, height, number, total, "")
        y, left = MARGIN * dot, MARGIN * dot
        for block in blocks:
            block.paint(pencil, sheet.theme, left, y, width - 2 * left)
            y += block.height(pencil, width - 2 * left)

    return paint


def _drawing_page(sheet: Sheet, case: Case, number: int, total: int) -> Page:
    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        edge = MARGIN * dot
        body = Box(edge, edge, width - 2 * edge, height - 2 * edge - (TITLE + 8) * dot)
        size = (body.width - COLUMN * dot, body.height - FIGURES * dot)
        view = fit(case.solution.layout, *size, dot, include=_in_sight(case), true_scale=True)
        scale = f"1 : {view.ratio:g}"
        _frame(pencil, sheet, case, width, height, number, total, scale)
        _at(painter, body.x, body.y, lambda: paint_elevation(
            painter, case.solution.layout, case.solution, view, size, sheet.theme, sheet.system,
            pump=sheet.pump, highest_port=case.highest_port,
        ))  # fmt: skip
        column = QRectF(body.right - COLUMN * dot, body.y, COLUMN * dot, body.height)
        paint_column(painter, column, case.solution, sheet.pump, sheet.theme, sheet.system, dot=dot)
        strip = Box(body.x, body.bottom - FIGURES * dot, size[0], FIGURES * dot)
        _figures(pencil, sheet, case, strip)
        lines = [
            ((column.x(), body.y), (column.x(), body.bottom)),
            ((strip.x, strip.y), (strip.right, strip.y)),
        ]
        pencil.lines(lines, sheet.theme.construction)

    return paint


def _in_sight(case: Case) -> tuple[tuple[float, float], ...]:
    """The highest port, unless showing it would make the drawing small."""
    left, bottom, _, top = bounds(case.solution.layout)
    high = case.highest_port
    near = math.isfinite(high) and bottom - 0.4 * (top - bottom) <= high <= top + 0.4 * (top - bottom)
    return ((left, high),) if near else ()


def _at(painter: QPainter, x: float, y: float, paint: Callable[[], object]) -> None:
    painter.save()
    painter.translate(x, y)
    paint()
    painter.restore()


def _figures(pencil: Pencil, sheet: Sheet, case: Case, strip: Box) -> None:
    found = sheet_text.key_figures(case.solution, sheet.pump, sheet.system, case.highest_text)
    step, dot = strip.width / len(found), pencil.dot
    for number, (name, figure) in enumerate(found):
        x = strip.x + step * number + 8 * dot
        pencil.text(x, strip.y + 14 * dot, pencil.elide(name, step - 10 * dot), sheet.theme.quiet)
        bold = pencil.elide(figure, step - 10 * dot, BODY, bold=True)
        pencil.text(x, strip.y + 31 * dot, bold, sheet.theme.ink, BODY, bold=True)


def _frame(
    pencil: Pencil,
    sheet: Sheet,
    case: Case,
    width: float,
    height: float,
    number: int,
    total: int,
    scale: str,
) -> None:
    """Paper, border and title block."""
    dot, edge, theme = pencil.dot, MARGIN * pencil.dot, sheet.theme
    pencil.box(Box(0.0, 0.0, width, height), theme.paper)
    block = Box(edge, height - edge - TITLE * dot, width - 2 * edge, TITLE * dot)
    border = Box(edge - 8 * dot, edge - 8 * dot, width - 2 * edge + 16 * dot, height - 2 * edge + 16 * dot)
    pencil.box(border, None, theme.construction, 1.2)
    pencil.lines([((border.x, block.y), (border.right, block.y))], theme.construction)
    layout = case.solution.layout
    fields = [
        ("Fluid", f"{case.solution.fluid.name}, "
         f"{shown(case.solution.fluid.temperature, Kind.TEMPERATURE, sheet.system)}", 220.0),
        ("Pump", sheet.pump, 96.0),
        ("Level", case.solution.level, 64.0),
        ("Scale", scale or "\N{EN DASH}", 52.0),
        ("Date", sheet.date, 72.0),
        ("Page", f"{number} of {total}", 48.0),
    ]  # fmt: skip
    x = block.right - sum(each[2] + 12 for each in fields) * dot
    room = x - block.x - 16 * dot
    _title(pencil, layout.title, block, room, theme)
    under = "Liftledger, where the inlet budget goes" + (f": {case.name}" if case.name else "")
    pencil.text(block.x, block.bottom - 10 * dot, pencil.elide(under, room), theme.quiet)
    for name, figure, wide in fields:
        pencil.lines([((x - 8 * dot, block.y + 10 * dot), (x - 8 * dot, block.bottom - 8 * dot))], theme.grid)
        pencil.text(x, block.y + 20 * dot, name, theme.quiet, SMALL)
        pencil.text(x, block.y + 40 * dot, pencil.elide(figure, wide * dot, SMALL), theme.ink, SMALL)
        x += (wide + 12) * dot


def _title(pencil: Pencil, title: str, block: Box, room: float, theme: Theme) -> None:
    """In large type where it fits, else on two lines."""
    dot = pencil.dot
    if pencil.width(title, LARGE) <= room:
        pencil.text(block.x, block.y + 24 * dot, title, theme.ink, LARGE)
        return
    lines = pencil.wrap(title, room, BODY, bold=True)
    second = pencil.elide(" ".join(lines[1:]), room, BODY, bold=True)
    for line, y in ((lines[0], 16), (second, 34)):
        pencil.text(block.x, block.y + y * dot, line, theme.ink, BODY, bold=True)
