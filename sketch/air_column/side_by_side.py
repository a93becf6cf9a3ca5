"""Several air columns on one scale, with the slices that match joined from one to the next."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from PySide6.QtGui import QColor, QPainter

from sketch.air_column.slices import FLOOR_NAME, Slice, parts, slices, surface_with_credits, whole
from sketch.drawing import symbols
from sketch.drawing.labels import Box
from sketch.drawing.pencil import HIDDEN, Pencil, Ruler
from sketch.drawing.separation import separated
from sketch.drawing.tags import percent
from sketch.look.colours import CREDIT, Theme, blend, share_colour, text_on
from solver.ledger.solve import PumpLedger

WIDE, HEAD, FOOT, NAMES, GAP = 54.0, 38.0, 18.0, 210.0, 6.0
"""Logical pixels: of a column, above and below it, of the names beside the first, between names."""

FAR = 9 * WIDE
"""Logical pixels: at most from one column to the next, or the bands between them would be all there is."""

NAMES_EDGE = 20.0
"""Logical pixels: of the room for a name, what lies between it and its column."""

LINES = 3
"""Of a name beside a column, at most."""

LEAST = 11.0
"""Logical pixels: of a slice that has its share written in it."""

JOINED = 0.30
"""Of a slice's colour in the band that joins it to its like."""

LANE = 12.0
"""Logical pixels: of what is given, beside its column."""

HATCH = 5.0

NO_BREAK = "\N{NO-BREAK SPACE}"


class ComparedColumn(NamedTuple):
    """One column: an alternative in the case that decides."""

    name: str  # of the alternative; "" for the drawing itself
    title: str
    margin: str  # in words, with the case
    ledger: PumpLedger


@dataclass(frozen=True, slots=True)
class SideBySide:
    """What has been painted: each column's box by the name of its alternative, each slice by its key."""

    columns: tuple[tuple[str, Box], ...]
    slices: tuple[tuple[str, str, Box], ...]  # alternative, key, where
    joined: tuple[str, ...]  # keys of slices that are joined, once for each pair of columns


@dataclass(frozen=True, slots=True)
class _Placed:
    """A column with where its slices lie."""

    compared: ComparedColumn
    box: Box
    pieces: tuple[tuple[Slice, Box], ...]


class _Named(NamedTuple):
    """What is written beside a column."""

    lines: list[str]
    y: float  # what it names
    ink: QColor

    def height(self, line: float) -> float:
        """With a little room to the next, where a line is so high."""
        return len(self.lines) * line + line / 16


def matches(one: Sequence[Slice], other: Sequence[Slice]) -> Iterator[tuple[Slice, Slice]]:
    """Slices of the same element in two columns."""
    by_key = {piece.key: piece for piece in other}
    return ((piece, by_key[piece.key]) for piece in one if piece.key in by_key)


def paint_side_by_side(
    painter: QPainter,
    area: Box,
    compared: Sequence[ComparedColumn],
    theme: Theme,
    *,
    shown: str = "",
    pointed: str = "",
    dot: float = 1.0,
    names: float = NAMES,
    floor_name: str = FLOOR_NAME,
) -> SideBySide:
    """Paint the columns in a box of device units.

    `shown` is the alternative that the window shows, `pointed` the key of an entry; `names` the room for the
    elements on either side [logical pixels]; `floor_name` what the floor is called.
    """
    pencil = Pencil(painter, dot, area)
    pencil.box(area, theme.paper)
    if not compared:
        return SideBySide((), (), ())
    placed = _placed(area, compared, dot, names)
    joined = [_join(pencil, one, other, theme, pointed) for one, other in pairwise(placed)]
    room = placed[1].box.x - placed[0].box.x - 12 * dot if len(placed) > 1 else 4 * WIDE * dot
    for each in placed:
        _column(pencil, each, theme, pointed)
        _words(pencil, each, theme, room, lit=each.compared.name == shown)
    _names(pencil, area, placed[0], theme, pointed, names, floor_name)
    if len(placed) > 1:
        _names(pencil, area, placed[-1], theme, pointed, names, floor_name, after=True)
    return SideBySide(
        tuple((each.compared.name, each.box) for each in placed),
        tuple((each.compared.name, piece.key, box) for each in placed for piece, box in each.pieces),
        tuple(key for keys in joined for key in keys),
    )


def _placed(area: Box, compared: Sequence[ComparedColumn], dot: float, names: float) -> list[_Placed]:
    ledgers = [each.ledger for each in compared]
    most = max(max(surface_with_credits(each), each.atmosphere, each.floor) for each in ledgers)
    least = min(min(ledger.inlet, ledger.floor) for ledger in ledgers)
    least = max(least - 0.06 * (most - least), 0.0)
    left, top = area.x + names * dot, area.y + HEAD * dot
    high = max(area.height - (HEAD + FOOT) * dot, 40 * dot)
    step = (area.right - left - (WIDE + names) * dot) / max(len(compared) - 1, 1)
    step = min(step, FAR * dot)
    left = max(left, area.x + (area.width - (len(compared) - 1) * step - WIDE * dot) / 2)

    def y(pressure: float) -> float:
        return top + (most - min(max(pressure, least), most)) / (most - least) * high

    placed = []
    for number, each in enumerate(compared):
        box = Box(left + number * step, top, WIDE * dot, high)
        pieces = tuple((piece, _box(box, piece, y, dot)) for piece in slices(each.ledger))
        placed.append(_Placed(each, box, pieces))
    return placed


def _box(column: Box, piece: Slice, y: Callable[[float], float], dot: float) -> Box:
    """Where a slice lies: over the column, or in a lane beside it where it gives what others spend."""
    box = column._replace(y=y(piece.high), height=y(piece.low) - y(piece.high))
    return box._replace(x=column.x - LANE * dot, width=(LANE - 2) * dot) if piece.credit else box


def _join(pencil: Pencil, one: _Placed, other: _Placed, theme: Theme, pointed: str) -> tuple[str, ...]:
    """Bands from the slices of one column to their like in the next."""
    boxes = {piece.key: box for piece, box in other.pieces}
    keys = []
    for piece, box in one.pieces:
        to = boxes.get(piece.key)
        if to is None or piece.credit:
            continue  # what is given stands beside the column, not in it
        keys.append(piece.key)
        colour = theme.halo if piece.key == pointed else _colour(piece, theme)
        band = [(box.right, box.y), (to.x, to.y), (to.x, to.bottom), (box.right, box.bottom)]
        pencil.polygon(band, blend(colour, theme.paper, JOINED), None)
        pencil.lines([(band[0], band[1]), (band[3], band[2])], theme.construction, 0.6)
    return tuple(keys)


def _colour(piece: Slice, theme: Theme) -> QColor:
    return theme.classes[CREDIT] if piece.credit else share_colour(piece.share, theme)


def _column(pencil: Pencil, placed: _Placed, theme: Theme, pointed: str) -> None:
    ledger, dot = placed.compared.ledger, pencil.dot
    floor = ledger.floor if whole(ledger) else -math.inf
    levels = _levels(placed)
    for piece, box in placed.pieces:
        colour = _colour(piece, theme)
        pencil.box(box, colour, theme.casing if box.height >= 3 * dot else None, 0.8)
        for high, low, beyond in parts(piece, floor):
            if piece.credit or beyond:
                _hatch(pencil, _part(box, piece, high, low), text_on(colour), crossed=beyond)
        clear = _between(box, levels)
        if piece.share is not None and _holds_share(piece, box, levels, dot):
            middle = clear.y + clear.height / 2
            plate = Box(box.x + box.width / 2 - 20 * dot, middle - LEAST / 2 * dot, 40 * dot, LEAST * dot)
            pencil.box(plate, colour)
            text = percent(piece.share)
            pencil.text(box.x + box.width / 2, middle, text, text_on(colour), align=0.5, bold=True)
    for piece, box in placed.pieces:
        if piece.key == pointed:
            pencil.box(box.grown(2 * dot), None, theme.halo, 3.0)
    if not whole(ledger) and len(levels) > 1:
        surface, top = levels
        lacking = placed.box._replace(y=top, height=max(surface - top, 0.0))
        sides = [((x, lacking.y), (x, lacking.bottom)) for x in (lacking.x, lacking.right)]
        pencil.lines(sides, theme.limit, 1.0, HIDDEN)
    over = 5 * dot
    for y, colour, width in zip(levels, (theme.ink, theme.limit), (1.2, 3.0), strict=False):
        pencil.lines([((placed.box.x - over, y), (placed.box.right + over, y))], colour, width)


def _holds_share(piece: Slice, box: Box, levels: Sequence[float], dot: float) -> bool:
    """Whether the share of a slice is written in it; else it stands with its name."""
    return piece.share is not None and not piece.credit and _between(box, levels).height >= LEAST * dot


def _between(box: Box, levels: Sequence[float]) -> Box:
    """The tallest part of a slice that no level runs through."""
    cuts = sorted([box.y, box.bottom, *(y for y in levels if box.y < y < box.bottom)])
    top, bottom = max(pairwise(cuts), key=lambda part: part[1] - part[0])
    return box._replace(y=top, height=bottom - top)


def _part(box: Box, piece: Slice, high: float, low: float) -> Box:
    """What of a slice's box lies between two of its pressures."""
    slope = box.height / max(piece.high - piece.low, 1e-9)
    return box._replace(y=box.y + (piece.high - high) * slope, height=(high - low) * slope)


def _hatch(pencil: Pencil, box: Box, ink: QColor, *, crossed: bool) -> None:
    corners = ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))
    gap = HATCH * pencil.dot
    pencil.lines(symbols.hatch(corners, gap), ink, 0.8)
    if crossed:
        pencil.lines(symbols.hatch(corners, gap, rising=False), ink, 0.8)


def _levels(placed: _Placed) -> tuple[float, ...]:
    """Where the pressure on the fluid lies, at which the column begins, and the floor."""
    ledger, box = placed.compared.ledger, placed.box
    heights = {piece.high: each.y for piece, each in placed.pieces} | {
        piece.low: each.bottom for piece, each in placed.pieces
    }
    low, high = min(heights, default=0.0), max(heights, default=0.0)
    if not high > low:
        return ()
    slope = (heights[low] - heights[high]) / (high - low)
    places = [heights[high] + (high - pressure) * slope for pressure in (ledger.surface, ledger.floor)]
    return tuple(min(max(y, box.y), box.bottom) for y in places)


def _words(pencil: Pencil, placed: _Placed, theme: Theme, room: float, *, lit: bool) -> None:
    """The name of the alternative and what is left, above its column."""
    dot, box, compared = pencil.dot, placed.box, placed.compared
    middle = box.x + box.width / 2
    title = pencil.elide(compared.title, room, bold=lit)
    pencil.text(middle, box.y - 27 * dot, title, theme.ink, align=0.5, bold=lit)
    colour = theme.ink if compared.ledger.sound else theme.stop
    pencil.text(middle, box.y - 12 * dot, pencil.elide(compared.margin, room), colour, align=0.5)


def _lines(ruler: Ruler, name: str, wide: float) -> list[str]:
    """The name of a slice in as many lines as it needs; what it is of its part stays whole where it can."""
    if ruler.width(name) <= wide:
        return [name]
    part, comma, element = name.rpartition(", ")
    below = [element] if ruler.width(element) <= wide else ruler.wrap(element, wide)
    above = ruler.wrap(f"{part},", wide)[: LINES - 1] if comma else []
    return [*above, *below][:LINES]


def _names(
    pencil: Pencil,
    area: Box,
    placed: _Placed,
    theme: Theme,
    pointed: str,
    names: float,
    floor_name: str,
    *,
    after: bool = False,
) -> None:
    """The elements of a column and its levels, before or after it; of thin elements as many as have room.

    A name that is too long for one line stands in two. What is given is named on the side where it is drawn.
    """
    dot, box, ledger = pencil.dot, placed.box, placed.compared.ledger
    called = "atmosphere" if abs(ledger.surface - ledger.atmosphere) < 1.0 else "on the fluid"
    inks = (theme.ink, theme.limit)
    levels = _levels(placed)
    named = [_Named([text], y, ink) for text, y, ink in zip((called, floor_name), levels, inks, strict=False)]
    line, low, foot = pencil.height() + 1 * dot, area.y + HEAD * dot, area.bottom - 4 * dot
    room = foot - low - sum(each.height(line) for each in named)
    worth = [
        (piece, where)
        for piece, where in placed.pieces
        if piece.key == pointed or (where.height >= 4 * dot and not (after and piece.credit))
    ]
    wide = (names - NAMES_EDGE) * dot
    for piece, where in sorted(worth, key=lambda one: (one[0].key != pointed, -one[1].height)):
        ink = theme.ink if piece.key == pointed else theme.quiet
        share = "" if piece.share is None or _holds_share(piece, where, levels, dot) else percent(piece.share)
        name = f"{piece.name}: {share.replace(' ', NO_BREAK)}" if share else piece.name
        each = _Named(_lines(pencil, name, wide), where.y + where.height / 2, ink)
        room -= each.height(line)
        if room < 0.0:
            break
        named.append(each)
    named.sort(key=lambda each: each.y)
    centres = separated([each.y for each in named], [each.height(line) for each in named], low, foot)
    sign, edge = (1.0, box.right) if after else (-1.0, box.x)
    lanes = [box.x - where.x for piece, where in placed.pieces if piece.credit and not after]
    lane = max(lanes, default=0.0)
    at = edge + sign * (lane + 16 * dot)
    for each, y in zip(named, centres, strict=True):
        for number, text in enumerate(each.lines):
            down = (number - (len(each.lines) - 1) / 2) * line
            pencil.text(at, y + down, pencil.elide(text, wide), each.ink, align=0.0 if after else 1.0)
        foot_of = edge + sign * (lane + 2 * dot)
        pencil.lines([((at - sign * 3 * dot, y), (foot_of, each.y))], theme.construction, 0.7)
