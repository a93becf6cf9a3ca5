"""What the colours of the drawing mean, in a corner where it covers nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from sketch.drawing import symbols
from sketch.drawing.labels import Box, Label, LabelKind
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY
from sketch.look.colours import CLASS_NAMES, CREDIT, Theme, text_on

TITLE, TITLE_OF = "share of the inlet budget", "share of the inlet budget of {}"
PAST = "over budget"
NO_SHARES = "no shares: the inlet budget is not positive here"
BOUNDS = ("0", "2", "5", "10", "20", "40 %")

CELL, BAR = 26.0, 10.0
EDGE = 8.0
STEPS = 8
WIDE_ENOUGH = 560.0
"""Logical pixels: of a class's swatch, from the sheet's edges, and of a sheet that has room for it all."""


def legend(
    pencil: Pencil,
    size: XY,
    theme: Theme,
    placer: Placer,
    tanks: Sequence[Box] = (),
    *,
    past: bool = False,
    of: str = "",
) -> Label | None:
    """The classes of a share, where they cover neither line nor tank; with no title where room is short.

    `tanks` are the reservoirs on the sheet; `past`, whether something on it lies past the floor, which is
    then explained wherever there is room; `of`, the pump whose budget it is, where that does not go without
    saying. None where there is no room at all.
    """
    dot = pencil.dot
    written = TITLE_OF.format(of) if of else TITLE
    whole = size[0] >= WIDE_ENOUGH * dot
    ways = [(title, True) for title in (True, False)] if past or whole else []
    ways += [(title, False) for title in (True, False)] if not whole else []
    for title, shown in ways:
        wide = _credit(pencil) + 6 * CELL * dot + 24 * dot + (_past(pencil) if shown else 0.0)
        box = _place(size, wide, (44 if title else 30) * dot, dot, placer, tanks)
        if box is not None:
            key = ("legend", box, title, shown, of)
            paint = partial(_paint, box=box, theme=theme, title=written if title else "", past=shown)
            pencil.repeated(key, (theme,), paint)
            placer.block_text(box)
            words = [written, CLASS_NAMES[CREDIT], *([PAST] if shown else [])]
            return Label("legend", LabelKind.LEGEND, ", ".join(words), box)
    return None


def without_budget(
    pencil: Pencil, size: XY, theme: Theme, placer: Placer, tanks: Sequence[Box] = ()
) -> Label | None:
    """Why no element has a colour, in the legend's place; None where there is no room."""
    dot = pencil.dot
    box = _place(size, pencil.width(NO_SHARES) + 8 * dot, 20 * dot, dot, placer, tanks)
    if box is None:
        return None
    pencil.box(box, theme.paper)
    pencil.text(box.x + 4 * dot, box.y + 10 * dot, NO_SHARES, theme.quiet)
    placer.block_text(box)
    return Label("legend", LabelKind.LEGEND, NO_SHARES, box)


KEY = 46.0
"""Logical pixels: the height of the key."""


def key(pencil: Pencil, x: float, y: float, theme: Theme, of: str = "") -> Box:
    """Everything explained, with its top left corner at (x, y), for drawings that leave it to their page.

    of: the pump whose shares they are, named where there is room for it.
    """
    dot = pencil.dot
    wide = _credit(pencil) + 6 * CELL * dot + 24 * dot + _past(pencil)
    box = Box(x, y, wide, (KEY - 2) * dot)
    named = TITLE_OF.format(of) if of else TITLE
    _paint(pencil, box, theme, title=named if pencil.width(named) <= wide else TITLE, past=True)
    return box


def _credit(pencil: Pencil) -> float:
    return pencil.width(CLASS_NAMES[CREDIT]) + 14 * pencil.dot


def _past(pencil: Pencil) -> float:
    return pencil.width(PAST) + 14 * pencil.dot


def _place(
    size: XY, wide: float, high: float, dot: float, placer: Placer, tanks: Sequence[Box]
) -> Box | None:
    """The first free corner, else the first free stretch of an edge; over no tank if that can be."""
    over_tank: Box | None = None
    for box in _places(size, wide, high, dot):
        if placer.lines.free(box):
            if not any(map(box.overlaps, tanks)):
                return box
            over_tank = over_tank or box
    return over_tank


def _places(size: XY, wide: float, high: float, dot: float) -> Iterator[Box]:
    left, right = (AXIS_LEFT + EDGE) * dot, size[0] - wide - EDGE * dot
    top, low = 24 * dot, size[1] - (AXIS_BOTTOM + 4) * dot - high
    if right < left or low < top:
        return
    corners = ((right, low), (right, top), (left, top), (left, low))
    between = [left + (right - left) * k / STEPS for k in range(STEPS - 1, 0, -1)]
    for x, y in (*corners, *((x, low) for x in between), *((x, top) for x in between)):
        yield Box(x, y, wide, high)


def _paint(pencil: Pencil, box: Box, theme: Theme, *, title: str, past: bool) -> None:
    dot = pencil.dot
    pencil.box(box, theme.paper)
    x, top = box.x + 4 * dot, box.y + (18 if title else 4) * dot
    if title:
        pencil.text(x, box.y + 8 * dot, pencil.elide(title, box.width - 8 * dot), theme.quiet)
    under = top + 18 * dot
    credit = Box(x, top, _credit(pencil) - 8 * dot, BAR * dot)
    _swatch(pencil, credit, theme, CREDIT, CLASS_NAMES[CREDIT], crossed=False)
    x += _credit(pencil)
    for number, bound in enumerate(BOUNDS, start=1):
        pencil.box(Box(x, top, CELL * dot, BAR * dot), theme.classes[number], theme.casing)
        pencil.text(x, under, bound, theme.quiet, align=0.0 if number == len(BOUNDS) else 0.5)
        x += CELL * dot
    if past:
        last = Box(x + 14 * dot, top, _past(pencil) - 14 * dot, BAR * dot)
        _swatch(pencil, last, theme, len(BOUNDS) - 2, PAST, crossed=True)


def _swatch(pencil: Pencil, box: Box, theme: Theme, number: int, name: str, *, crossed: bool) -> None:
    dot, fill = pencil.dot, theme.classes[number]
    pencil.box(box, fill, theme.casing)
    corners = ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))
    lines = symbols.hatch(corners, 4 * dot)
    if crossed:
        lines += symbols.hatch(corners, 4 * dot, rising=False)
    pencil.lines(lines, text_on(fill), 0.8)
    pencil.text(box.x + box.width / 2, box.y + 18 * dot, name, theme.quiet, align=0.5)
