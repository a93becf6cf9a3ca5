"""The title block of a sheet, as high as what it has to say: nothing in it is cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, Ruler
from sketch.look.colours import Theme
from sketch.page.logo import Logo

GAP, PAD = 22.0, 5.0
LINE, NAME = 15.0, 15.0
LEAST = 78.0
LOGO = (150.0, 64.0)
"""Logical pixels: between fields, above and below a row; a line and a name of one; the least height of the
block; the most that a logo takes."""

AFTER_NAME, CLOSE_PAD = 7.0, 1.0
"""Logical pixels, of a field that stands in one line with its name: between the two, and below it."""

LEFT = (0.4, 0.34, 0.28)
"""Of the width, for title, company and logo, where the fields stand beside them: the first that is lowest."""

MOST = 0.48
"""Of the width of the fields, for one of them."""

LONGEST_SCALE = "1 : 10000"
"""The room of a scale, which is not known before the drawing has found its place."""

Field = tuple[str, str]
"""A name, and what it says."""


@dataclass(frozen=True, slots=True)
class TitleText:
    """All that a title block says."""

    title: str
    under: str  # what the page shows
    fields: tuple[Field, ...]
    company: tuple[str, ...] = ()
    logo: Logo | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """One field where it stands, from the top left corner of the fields [device units]."""

    x: float
    y: float
    name: str
    lines: tuple[str, ...]
    beside: float = 0.0  # from its left edge to its lines, where they stand beside its name, not below

    def height(self, dot: float) -> float:
        """The height of its lines and its name [device units]."""
        return (LINE * len(self.lines) + (0.0 if self.beside else NAME)) * dot


@dataclass(frozen=True, slots=True)
class _Setting:
    """A title block as it is set: the fields beside the title, or below it over the whole width."""

    left: float  # width of title, company and logo
    head: float  # height of those, where the fields stand below
    cells: tuple[Cell, ...]
    x: float  # where the fields begin
    high: float  # of the whole block


def title_height(ruler: Ruler, text: TitleText, width: float, most: float = math.inf) -> float:
    """The height of a title block of that width, in device units.

    most: set in the usual way it is no higher; else each field stands in one line with its name, which
    leaves the room to the page above it.
    """
    return _setting(ruler, text, width, most).high


def _setting(ruler: Ruler, text: TitleText, width: float, most: float) -> _Setting:
    """The lowest of the ways to set it: a row less leaves the page above it that much."""
    usual = _lowest(ruler, text, width, close=False)
    if usual.high <= most:
        return usual
    return min(usual, _lowest(ruler, text, width, close=True), key=_high)


def _lowest(ruler: Ruler, text: TitleText, width: float, *, close: bool) -> _Setting:
    dot = ruler.dot
    at_right = [(part * width, part * width + GAP * dot, False) for part in LEFT]
    settings = []
    for left, x, stacked in (*at_right, (width, 10 * dot, True)):
        cells, fields = field_cells(ruler, text.fields, width - x, close=close)
        own = _left_height(ruler, text, left) + 2 * PAD * dot
        high = own + fields if stacked else max(own, fields)
        head = own if stacked else 0.0
        settings.append(_Setting(left, head, tuple(cells), x, max(high, LEAST * dot)))
    return min(settings, key=_high)


def _high(setting: _Setting) -> float:
    return setting.high


def _left_height(ruler: Ruler, text: TitleText, width: float) -> float:
    _, logo = _logo_size(ruler, text)
    return max(logo, sum(high for _, _, _, high in _left_lines(ruler, text, width)))


def field_cells(
    ruler: Ruler, fields: Sequence[Field], width: float, *, close: bool = False
) -> tuple[list[Cell], float]:
    """The fields in rows, each as wide as what it says or wrapped; and the height of them all.

    close: in one line with its name, each as wide as the row if need be.
    """
    dot, cells = ruler.dot, list[Cell]()
    x, y, high = 0.0, PAD * dot, 0.0
    for name, text in fields:
        beside = ruler.width(name, SMALL) + AFTER_NAME * dot if close else 0.0
        room = width - beside
        wrapped = ruler.wrap(text, room if close else MOST * width, SMALL)
        lines = tuple(ruler.elide(line, room, SMALL) for line in wrapped)
        least = LONGEST_SCALE if name == "Scale" else ""
        wide = beside + max(ruler.width(each, SMALL) for each in (least, *lines))
        wide = max(wide, ruler.width(name, SMALL))
        if x and x + wide > width:
            x, y, high = 0.0, y + high, 0.0
        cells.append(Cell(x, y, name, lines, beside))
        x += wide + GAP * dot
        high = max(high, cells[-1].height(dot) + (CLOSE_PAD if close else PAD) * dot)
    return cells, y + high


def paint_title(pencil: Pencil, theme: Theme, text: TitleText, block: Box, most: float = math.inf) -> None:
    """Draw a title block."""
    dot, setting = pencil.dot, _setting(pencil, text, block.width, most)
    foot = max(cell.y + cell.height(dot) + PAD * dot for cell in setting.cells)
    top = block.y + (setting.head or max(block.height - foot, 0.0) / 2)
    for cell in setting.cells:
        _field(pencil, theme, cell, block.x + setting.x, top)
    high = setting.head or block.height
    _left(pencil, theme, text, Box(block.x, block.y, setting.left, high))


def _field(pencil: Pencil, theme: Theme, cell: Cell, left: float, top: float) -> None:
    """A name, and what it says below it or beside it, right of a line."""
    dot, x, y = pencil.dot, left + cell.x, top + cell.y
    pencil.lines([((x - 10 * dot, y), (x - 10 * dot, y + cell.height(dot)))], theme.grid)
    pencil.text(x, y + NAME / 2 * dot, cell.name, theme.quiet, SMALL)
    first = 0.0 if cell.beside else NAME * dot
    for number, line in enumerate(cell.lines):
        middle = y + first + LINE * (number + 0.5) * dot
        pencil.text(x + cell.beside, middle, line, theme.ink, SMALL)


def _left(pencil: Pencil, theme: Theme, text: TitleText, area: Box) -> None:
    """Logo, title, what the page shows, and the company."""
    if text.logo is not None:
        paint, _ = text.logo
        wide, high = _logo_size(pencil, text)
        pencil.painter.save()
        paint(pencil.painter, QRectF(area.x, area.y + (area.height - high) / 2, wide, high))
        pencil.painter.restore()
    x = area.x + _logo_room(pencil, text)
    lines = _left_lines(pencil, text, area.width)
    y = area.y + (area.height - sum(high for _, _, _, high in lines)) / 2
    for line, size, bold, high in lines:
        colour = theme.ink if size > SMALL else theme.quiet
        pencil.text(x, y + high / 2, line, colour, size, bold=bold)
        y += high


def _logo_size(ruler: Ruler, text: TitleText) -> tuple[float, float]:
    if text.logo is None:
        return 0.0, 0.0
    most_wide, most_high = LOGO
    high = min(most_high, most_wide / text.logo[1])
    return high * text.logo[1] * ruler.dot, high * ruler.dot


def _logo_room(ruler: Ruler, text: TitleText) -> float:
    wide, _ = _logo_size(ruler, text)
    return wide + 14 * ruler.dot if wide else 0.0


def _left_lines(ruler: Ruler, text: TitleText, width: float) -> list[tuple[str, float, bool, float]]:
    """Lines with their size, whether they are bold, and their height."""
    room = width - _logo_room(ruler, text)
    size = LARGE if ruler.width(text.title, LARGE) <= room else BODY
    bold = size == BODY
    lines = [(line, size, bold) for line in ruler.wrap(text.title, room, size, bold=bold)]
    company = ", ".join(text.company)
    lines += [(line, SMALL, False) for part in (text.under, company) if part
              for line in ruler.wrap(part, room, SMALL)]  # fmt: skip
    return [(line, size, bold, ruler.height(size) * 1.12) for line, size, bold in lines]
