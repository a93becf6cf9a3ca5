"""Before and after on the first page, set beside or above one another: whichever shows them larger."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from sketch.air_column.verdict import outlook_height, paint_outlook
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit
from sketch.drawing.pencil import BODY, LARGE, Pencil, Ruler
from sketch.drawing.view import XY, View
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_panels import closest, in_sight, paint_figures, paint_panel, strip_height
from solver.findings.outlook import Outlook

GUTTER, TITLE_LINE = 16.0, 17.0
"""Logical pixels: between halves, and columns; a line of a drawing's name over its verdict."""

HEAD = 120.0
"""Logical pixels: a verdict of half a page that would be higher is set smaller, for the drawing's sake."""

LEAST_DRAWING = 148.0
"""Logical pixels, of the height of two drawings on the first page: sooner so low than their text cut off."""

WORDS = (225.0, 260.0)
"""Logical pixels: the widths of the words that stand left of a drawing, on a page that is twice as wide."""

BETWEEN = 16.0
"""Logical pixels: type of a verdict between the usual sizes, where the drawing is larger under it."""

SHORT = ("At the port", "Allowed here", "Margin", "Highest port")


@dataclass(frozen=True, slots=True)
class Half:
    """One of the two drawings as it is set [device units]: its verdict, the drawing, and its figures."""

    head: Box
    drawn: Box
    strip: Box


@dataclass(frozen=True, slots=True)
class Halves:
    """Both drawings at one scale, and the lines about them."""

    halves: tuple[Half, ...]
    view: View
    size: float  # of the type of both verdicts
    edges: tuple[tuple[XY, XY], ...]
    faint: tuple[tuple[XY, XY], ...]  # between words and drawing


def set_halves(ruler: Ruler, sheet: Sheet, area: Box) -> Halves:
    """The two drawings as large as that area allows: beside one another, unless they are larger one above
    the other, under their verdicts or with all words on their left."""
    ways = [_beside(ruler, sheet, area)]
    least = LEAST_DRAWING * ruler.dot
    wides = [wide * ruler.dot for wide in WORDS]
    ways += [_beside(ruler, sheet, area, most) for most in (BETWEEN, BODY)]
    others = [_above(ruler, sheet, area)]
    others += [_words_left(ruler, sheet, area, wide) for wide in wides if area.width > 2 * wide]
    others += [_words_between(ruler, sheet, area, wide) for wide in wides if area.width > 4 * wide]
    ways += [way for way in others if all(half.drawn.height >= least for half in way.halves)]
    return max(ways, key=lambda each: (each.view.scale, each.size))


def text_height(ruler: Ruler, sheet: Sheet, width: float) -> float:
    """What verdict and figures take of the height of two drawings beside one another in that width."""
    half = _half_width(ruler, width)
    return _head(ruler, sheet, half)[0] + _foot(ruler, sheet, half)


def _half_width(ruler: Ruler, width: float) -> float:
    return (width - GUTTER * ruler.dot) / 2


def _head(ruler: Ruler, sheet: Sheet, width: float, most: float = LARGE) -> tuple[float, float]:
    """The height that both verdicts have, and the one size of their type, no larger than most."""
    shown = [(panel, sheet.outlook(panel)) for panel in sheet.panels]
    large = all(outlook_height(ruler, width, each, most) <= HEAD * ruler.dot for _, each in shown)
    size = most if large else BODY
    titles = [
        len(_title_above(ruler, sheet.heading(panel), each, width)) * TITLE_LINE * ruler.dot
        for panel, each in shown
    ]
    heights = [outlook_height(ruler, width, each, size) for _, each in shown]
    return max(sum(each) for each in zip(titles, heights, strict=True)), size


def _foot(ruler: Ruler, sheet: Sheet, width: float) -> float:
    return max(strip_height(ruler, sheet, panel, width, SHORT) for panel in sheet.panels)


def _view(ruler: Ruler, sheet: Sheet, drawn: Box, margin: float = 1.0) -> View:
    """So that one scale does for all that both have to show."""
    first, *others = (panel.solution.layout for panel in sheet.panels)
    seen = [point for panel in sheet.panels for point in in_sight(panel)]
    return fit(
        first, drawn.width, drawn.height, ruler.dot,
        include=seen, also=others, true_scale=True, margin=margin,
    )  # fmt: skip


def drawn_closer(ruler: Ruler, sheet: Sheet, placed: Halves) -> Halves:
    """Both drawings as large as their labels let them be."""
    drawn = placed.halves[0].drawn
    size, view_of = (drawn.width, drawn.height), partial(_view, ruler, sheet, drawn)
    return replace(placed, view=closest(sheet, sheet.panels, size, view_of, legend=False))


def _side_by_side(ruler: Ruler, area: Box) -> tuple[list[Box], tuple[XY, XY]]:
    """Both halves of an area that stand beside one another, and the line between them."""
    wide, middle = _half_width(ruler, area.width), area.x + area.width / 2
    boxes = [area._replace(x=x, width=wide) for x in (area.x, area.right - wide)]
    return boxes, ((middle, area.y), (middle, area.bottom))


def _beside(ruler: Ruler, sheet: Sheet, area: Box, most: float = LARGE) -> Halves:
    return _words_around(ruler, sheet, *_side_by_side(ruler, area), most)


def _above(ruler: Ruler, sheet: Sheet, area: Box) -> Halves:
    high = area.height / 2
    boxes = [area._replace(y=y, height=high) for y in (area.y, area.y + high)]
    return _words_around(ruler, sheet, boxes, ((area.x, boxes[1].y), (area.right, boxes[1].y)))


def _words_around(
    ruler: Ruler, sheet: Sheet, boxes: Sequence[Box], middle: tuple[XY, XY], most: float = LARGE
) -> Halves:
    """Each verdict over its drawing, and its figures below."""
    wide = boxes[0].width
    head, size = _head(ruler, sheet, wide, most)
    foot = _foot(ruler, sheet, wide)
    halves = tuple(
        Half(
            box._replace(height=head),
            box._replace(y=box.y + head, height=box.height - head - foot),
            box._replace(y=box.bottom - foot, height=foot),
        )
        for box in boxes
    )
    under = [((half.strip.x, half.strip.y), (half.strip.right, half.strip.y)) for half in halves]
    return Halves(halves, _view(ruler, sheet, halves[0].drawn), size, (middle,), tuple(under))


def _words_left(ruler: Ruler, sheet: Sheet, area: Box, wide: float) -> Halves:
    """One above the other, verdict and figures on the left of each drawing in so wide a column."""
    high = area.height / 2
    boxes = [area._replace(y=y, height=high) for y in (area.y, area.y + high)]
    middle = ((area.x, area.y + high), (area.right, area.y + high))
    return _columns_of_words(ruler, sheet, boxes, middle, wide)


def _words_between(ruler: Ruler, sheet: Sheet, area: Box, wide: float) -> Halves:
    """Beside one another, verdict and figures on the left of each drawing in so wide a column."""
    return _columns_of_words(ruler, sheet, *_side_by_side(ruler, area), wide)


def _columns_of_words(
    ruler: Ruler, sheet: Sheet, boxes: Sequence[Box], middle: tuple[XY, XY], wide: float
) -> Halves:
    """Each half with its words on the left, in a column of that width."""
    high, foot = boxes[0].height, _foot(ruler, sheet, wide)
    head, size = _head(ruler, sheet, wide)
    if head + foot > high:
        head, size = _head(ruler, sheet, wide, BODY)
    halves, edges = list[Half](), list[tuple[XY, XY]]()
    for box in boxes:
        words = box._replace(width=wide)
        drawn = Box(words.right, box.y, box.width - wide, high if head + foot <= high else 0.0)
        strip = words._replace(y=words.bottom - foot, height=foot)
        halves.append(Half(words._replace(height=head), drawn, strip))
        edges.append(((words.right, box.y), (words.right, box.bottom)))
    return Halves(tuple(halves), _view(ruler, sheet, halves[0].drawn), size, (middle,), tuple(edges))


def paint_halves(pencil: Pencil, sheet: Sheet, placed: Halves) -> None:
    """Draw both, each with its verdict and the figures that a client asks for."""
    for panel, half in zip(sheet.panels, placed.halves, strict=True):
        _paint_head(pencil, sheet, panel, half.head, placed.size)
        # The page has one key of the colours for both.
        paint_panel(pencil.painter, sheet, panel, placed.view, half.drawn, legend=False)
        paint_figures(pencil, sheet, panel, half.strip, SHORT)
    pencil.lines(placed.faint, sheet.theme.grid)
    pencil.lines(placed.edges, sheet.theme.construction)


def _paint_head(pencil: Pencil, sheet: Sheet, panel: Panel, head: Box, size: float) -> None:
    dot, theme, shown = pencil.dot, sheet.theme, sheet.outlook(panel)
    above = _title_above(pencil, sheet.heading(panel), shown, head.width)
    for number, line in enumerate(above):
        y = head.y + (TITLE_LINE * number + 14) * dot
        pencil.text(head.x + 12 * dot, y, line, theme.quiet, BODY, bold=True)
    down = TITLE_LINE * len(above) * dot
    paint_outlook(pencil, head._replace(y=head.y + down), shown, theme, head.height - down, most=size)
    if not above:
        title, right = sheet.heading(panel), head.right - 12 * dot
        pencil.text(right, head.y + 20 * dot, title, theme.quiet, BODY, bold=True, align=1.0)


def _title_above(ruler: Ruler, title: str, shown: Outlook, width: float) -> list[str]:
    """The name of a drawing in lines of its own, where it does not fit beside its verdict."""
    room = width - ruler.width(shown.word, BODY, bold=True) - 64 * ruler.dot
    if ruler.width(title, BODY, bold=True) <= room:
        return []
    return ruler.wrap(title, width - 24 * ruler.dot, BODY, bold=True)
