"""The pages of a sheet as painted: the one that decides, and text with pictures behind it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

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
from sketch.page.blocks import (
    Block,
    Columns,
    Paragraph,
    paginate,
    paint_blocks,
    total_height,
)
from sketch.page.paper import Page
from sketch.page.sheet_first import TELLINGS, contents_line, first_pages, left_out
from sketch.page.sheet_frame import Folio, Panel, Sheet, first_body, later_body, paint_frame
from sketch.page.title_painting import Field
from solver.findings.outlook import Outlook
from solver.quantities.wording import capitalised, degrees

FIGURES = 44.0
CAPTION, TITLE_LINE = 18.0, 17.0
GUTTER = 16.0
"""Logical pixels: a line of figures, the line under it that says whose they are, a line of a drawing's name
over its verdict; between columns."""

BAND = 0.46
"""Of the first page, for its text, unless it fits in no other way."""

HEAD = 120.0
"""Logical pixels: a verdict of half a page that would be higher is set smaller, for the drawing's sake."""

LEAST_DRAWING = 160.0
"""Logical pixels, of the height of a drawing on the first page."""

COLUMN = 0.5
UPRIGHT_DRAWING = 0.5
"""Of the page: at most, for the air column; of one that stands upright, for drawing and column."""

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
    """The text of the first page as it is set: columns, and their height."""

    columns: tuple[tuple[Block, ...], ...]
    wide: float
    high: float


def _band(ruler: Ruler, sheet: Sheet, width: float, body: float, most_high: float, count: int) -> _Band:
    """The text in so many columns: as much of it as fits, and no higher than it must be.

    most_high: what the drawing leaves, at its smallest [device units].
    """
    wide = (width - (count - 1) * GUTTER * ruler.dot) / count
    for telling in TELLINGS:
        orders = list(first_pages(sheet, telling))
        blocks = orders[0]
        room = most_high if telling.most < FEW else min(BAND * body, most_high)
        if total_height(blocks, ruler, wide) > count * room:
            continue  # sooner than by trying heights
        arranged = (Columns(each, count, GUTTER).arranged(ruler, width) for each in orders)
        high, columns = min(arranged, key=lambda each: each[0])
        if high <= room:
            return _Band(tuple(map(tuple, columns)), wide, high)
    # What does not fit at its shortest is on the pages behind, and the page says so.
    more = Paragraph(f"{capitalised(left_out(sheet))}.", quiet=True)
    kept = [list(column) for column in paginate(blocks, ruler, wide, most_high)[:count]]
    room = most_high - more.height(ruler, wide)
    kept[-1] = [*_to_whole_sentences(paginate(kept[-1], ruler, wide, room)[0], blocks), more]
    return _Band(tuple(map(tuple, kept)), wide, most_high)


def _to_whole_sentences(column: Sequence[Block], blocks: Sequence[Block]) -> list[Block]:
    """A column that is followed by nothing: what was torn off at its end goes back to its last full stop.

    blocks: what it was set from, before anything was torn.
    """
    ends = tuple(block.text for block in blocks if isinstance(block, Paragraph))
    kept = list(column)
    while kept:
        last = kept[-1]
        if isinstance(last, Paragraph) and not any(text.endswith(last.text) for text in ends):
            sentences = last.text.rpartition(". ")[0]
            kept[-1:] = [replace(last, text=f"{sentences}.")] if sentences else []
            return kept
        if not last.keep:
            break
        kept.pop()
    return kept


FEW = 3
"""Of everything: so little is told only where the drawing has no room to give."""


def _paint_band(pencil: Pencil, sheet: Sheet, band: _Band, x: float, y: float) -> None:
    for number, blocks in enumerate(band.columns):
        left = x + number * (band.wide + GUTTER * pencil.dot)
        paint_blocks(pencil, sheet.theme, blocks, left, y, band.wide)


def drawing_page(sheet: Sheet, contents: Contents, folio: Folio) -> Page:
    """One drawing to a stated scale with its air column, and below it all that is needed to decide."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil, panel = Pencil(painter, dot), sheet.panels[0]
        body = first_body(pencil, sheet, folio, width, height)
        natural = column_width(pencil, panel.solution, panel.pump, sheet.system)
        wide = min(max(natural, 0.26 * body.width), COLUMN * body.width)
        left = body.width - wide
        upright = body.height > body.width
        count = 3 if left > WIDE * dot else 2
        across = body.width if upright else left
        listed = contents_line(contents)
        low = total_height(listed, pencil, across - 16 * dot)
        high = _strip_height(pencil, sheet, panel, left)
        room = body.height - low - high - LEAST_DRAWING * dot
        band = _band(pencil, sheet, across - 16 * dot, body.height - low, room, count)
        size = (left, body.height - high - band.high - low)
        view = fit(panel.solution.layout, *size, dot, include=_in_sight(panel), true_scale=True)
        paint_frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}"), width, height)
        _elevation(painter, sheet, panel, view, Box(body.x, body.y, *size))
        foot = size[1] + high if upright else body.height
        column = QRectF(body.right - wide, body.y, wide, foot)
        paint_column(
            painter, column, panel.solution, panel.pump, sheet.theme, sheet.system, dot=dot,
            known_outlook=panel.outlook(sheet.system),
        )  # fmt: skip
        strip = Box(body.x, body.y + size[1], left, high)
        _figures(pencil, sheet, panel, strip)
        _paint_band(pencil, sheet, band, body.x + 8 * dot, strip.bottom)
        paint_blocks(pencil, sheet.theme, listed, body.x + 8 * dot, body.bottom - low, across - 16 * dot)
        edges = [((column.x(), body.y), (column.x(), column.bottom()))]
        edges += [((strip.x, y), (strip.x + across, y)) for y in (strip.y, strip.bottom)]
        pencil.lines(edges, sheet.theme.construction)

    return paint


def comparison_page(sheet: Sheet, contents: Contents, folio: Folio) -> Page:
    """Before and after beside one another at one scale, and below them all that is needed to decide."""

    def paint(painter: QPainter, width: float, height: float, dot: float) -> None:
        pencil = Pencil(painter, dot)
        body = first_body(pencil, sheet, folio, width, height)
        shares = any(panel.ledger.budget > 0 for panel in sheet.panels)
        key_width = (KEY_WIDE if shares else 0.0) * dot
        listed, room = contents_line(contents), body.width - key_width
        key = max(legend.KEY * dot if shares else 0.0, total_height(listed, pencil, room) + 6 * dot)
        count = 3 if body.width > WIDE * dot else 2
        half = (body.width - GUTTER * dot) / 2
        head = max(_outlook_height(pencil, sheet, panel, half) for panel in sheet.panels)
        foot = max(_strip_height(pencil, sheet, panel, half, SHORT) for panel in sheet.panels)
        least = head + foot + LEAST_DRAWING * dot
        band = _band(pencil, sheet, body.width, body.height - key, body.height - key - least, count)
        high = body.height - band.high - key
        halves = [Box(x, body.y, half, high) for x in (body.x, body.right - half)]
        size = (half, high - head - foot)
        first = sheet.panels[0].solution.layout
        view = fit(first, *size, dot, include=_of_all(sheet.panels), true_scale=True)
        paint_frame(pencil, sheet, replace(folio, scale=f"1 : {view.ratio:g}"), width, height)
        for panel, box in zip(sheet.panels, halves, strict=True):
            _half(pencil, sheet, panel, box, head, foot, view)
        middle, low = body.x + body.width / 2, halves[0].bottom
        edges = [((body.x, low), (body.right, low)), ((middle, body.y), (middle, low))]
        pencil.lines(edges, sheet.theme.construction)
        if shares:
            legend.key(pencil, body.x - 4 * dot, low + 2 * dot, sheet.theme)
        paint_blocks(pencil, sheet.theme, listed, body.x + key_width, low + 6 * dot, room)
        _paint_band(pencil, sheet, band, body.x, low + key)

    return paint


def _outlook_height(pencil: Pencil, sheet: Sheet, panel: Panel, width: float) -> float:
    shown = panel.outlook(sheet.system)
    above = len(_title_above(pencil, panel, shown, width)) * TITLE_LINE * pencil.dot
    large = outlook_height(pencil, width, shown)
    return above + (large if large <= HEAD * pencil.dot else outlook_height(pencil, width, shown, BODY))


def _title_above(ruler: Ruler, panel: Panel, shown: Outlook, width: float) -> list[str]:
    """The name of a drawing in lines of its own, where it does not fit beside its verdict."""
    room = width - ruler.width(shown.word, BODY, bold=True) - 64 * ruler.dot
    title = panel.option.title
    if ruler.width(title, BODY, bold=True) <= room:
        return []
    return ruler.wrap(title, width - 24 * ruler.dot, BODY, bold=True)


NO_PORT = "no height will do"
"""Where no height of the port is low enough: half a page has no room to say why, and those behind have."""

SHORT = ("At the port", "Allowed here", "Margin", "Highest port")


def _half(pencil: Pencil, sheet: Sheet, panel: Panel, box: Box, head: float, foot: float, view: View) -> None:
    dot, theme, shown = pencil.dot, sheet.theme, panel.outlook(sheet.system)
    above = _title_above(pencil, panel, shown, box.width)
    for number, line in enumerate(above):
        pencil.text(
            box.x + 12 * dot, box.y + (TITLE_LINE * number + 14) * dot, line, theme.quiet, BODY, bold=True
        )
    down = TITLE_LINE * len(above) * dot
    paint_outlook(pencil, box._replace(y=box.y + down), shown, theme, head - down)
    if not above:
        title, right = panel.option.title, box.right - 12 * dot
        pencil.text(right, box.y + 20 * dot, title, theme.quiet, BODY, bold=True, align=1.0)
    drawn = Box(box.x, box.y + head, box.width, box.height - head - foot)
    _elevation(pencil.painter, sheet, panel, view, drawn, legend=False)  # the page has one for both
    strip = Box(box.x, drawn.bottom, box.width, foot)
    pencil.lines([((strip.x, strip.y), (strip.right, strip.y))], theme.grid)
    _figures(pencil, sheet, panel, strip, SHORT)


def _of_all(panels: Sequence[Panel]) -> list[XY]:
    """What both halves have to show, so that one scale does for both."""
    corners: list[XY] = []
    for panel in panels:
        left, bottom, right, top = bounds(panel.solution.layout)
        corners += [(left, bottom), (right, top), *_in_sight(panel)]
    return corners


def _elevation(
    painter: QPainter, sheet: Sheet, panel: Panel, view: View, box: Box, *, legend: bool = True
) -> None:
    def paint() -> None:
        paint_elevation(
            painter, panel.solution.layout, panel.solution, view, (box.width, box.height), sheet.theme,
            sheet.system, pump=panel.pump, highest_port=panel.highest_port,
            legend=legend, on_paper=True,
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
    return (FIGURES * len(rows) + CAPTION * len(_caption(ruler, panel, width))) * ruler.dot


def _caption(ruler: Ruler, panel: Panel, width: float) -> list[str]:
    """Whose figures these are; a case of one name may be warmer in an alternative."""
    fluid = degrees(panel.solution.tank_fluid.temperature, panel.judgement.layout.units)
    return ruler.wrap(f"Shown: {panel.shown_as}, fluid at {fluid}", width - 16 * ruler.dot)


def _key_figures(sheet: Sheet, panel: Panel, names: Sequence[str]) -> list[Field]:
    """The handful of numbers a client asks for; only those of the given names, if any."""
    highest = NO_PORT if names and panel.highest_text.startswith("no height") else panel.highest_text
    fields = sheet_text.key_figures(panel.solution, panel.pump, sheet.system, highest)
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
    y = strip.y + FIGURES * dot * len(figure_rows(pencil, fields, strip.width)) + 5 * dot
    for line in _caption(pencil, panel, strip.width):
        pencil.text(strip.x + 8 * dot, y, line, sheet.theme.quiet)
        y += CAPTION * dot
