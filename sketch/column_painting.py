"""The air column: what is hollow, what is spent, what is left, and what fills the pump, on two scales."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from sketch import symbols
from sketch.backdrop import ticks
from sketch.colours import CREDIT, Theme, share_colour, text_on
from sketch.column_notes import Note
from sketch.column_notes import keep as _keep
from sketch.column_notes import notes as _notes
from sketch.labels import Box, Label, spread
from sketch.pencil import BODY, HIDDEN, Pencil
from sketch.slices import Scale, Slice, parts, scale, slices, taken, whole
from sketch.verdict import paint_verdict
from solver import units
from solver.atmosphere import SEA_LEVEL
from solver.ledger import PumpLedger, Solution
from solver.units import Kind, System

XY = tuple[float, float]

SCALES = 88.0
COLUMN = 52.0
HEAD = 34.0
"""Logical pixels: the two scales, the column's width, the scales' headings."""

HATCH = 5.0
LANE = 16.0


@dataclass(frozen=True, slots=True)
class ColumnDrawn:
    """What has been painted of a column: the slices by key, and the labels."""

    slices: tuple[tuple[str, Box], ...]
    labels: tuple[Label, ...]


def paint_column(
    painter: QPainter,
    rect: QRectF,
    solution: Solution | None,
    pump: str,
    theme: Theme,
    system: System,
    pointed: str = "",
    *,
    dot: float = 1.0,
    refusal: Sequence[tuple[str, str]] = (),
    verdict: bool = True,
) -> ColumnDrawn:
    """Paint the air column of one pump in a rectangle of device units.

    `pointed` is the key of an entry. Without a solution the column is grey, and the refusal,
    ((part, why), ...), stands beside it.
    """
    pencil = Pencil(painter, dot)
    area = Box(rect.x(), rect.y(), rect.width(), rect.height())
    pencil.box(area, theme.paper)
    if solution is None or pump not in solution.pumps:
        _no_result(pencil, area, theme, refusal)
        return ColumnDrawn((), ())
    ledger = solution.pumps[pump]
    used = paint_verdict(pencil, area, ledger, theme, system) if verdict else 0.0
    frame = frame_of(area, dot, used)
    measure = scale(ledger, frame.y, frame.bottom)
    _air(pencil, frame, measure, ledger, theme)
    found = slices(ledger)
    _slices(pencil, frame, measure, ledger, found, theme, pointed)
    _cuts(pencil, frame, measure, theme)
    _scales(pencil, frame, measure, ledger, theme, system)
    _floor(pencil, frame, measure, ledger, theme)
    labels = _labels(pencil, area, frame, measure, ledger, found, theme, system, pointed)
    return ColumnDrawn(
        tuple((piece.key, _between(frame, measure, piece.high, piece.low)) for piece in found), tuple(labels)
    )


def frame_of(area: Box, dot: float, used: float) -> Box:
    """The column itself, under the verdict and beside the scales."""
    top = area.y + used + HEAD * dot
    width = min(COLUMN * dot, max(area.width - SCALES * dot, 40 * dot) * 0.4)
    return Box(area.x + SCALES * dot, top, width, max(area.bottom - top - 16 * dot, 40 * dot))


def slice_at(drawn: ColumnDrawn, x: float, y: float) -> str:
    """The key of the slice, or of the slice's label, at a device point; "" where there is none."""
    for label in drawn.labels:
        if label.kind == "slice" and label.box.holds(x, y):
            return label.key
    near = [
        (abs(y - (box.y + box.bottom) / 2) - box.height / 2, key)
        for key, box in drawn.slices
        if box.x - 6 <= x <= box.right + 6 and box.y - 2 <= y <= box.bottom + 2
    ]
    return min(near)[1] if near else ""


def _no_result(pencil: Pencil, area: Box, theme: Theme, refusal: Sequence[tuple[str, str]]) -> None:
    dot = pencil.dot
    frame = frame_of(area, dot, 64 * dot)
    pencil.text(area.x + 12 * dot, area.y + 24 * dot, "No result", theme.quiet, BODY, bold=True)
    pencil.box(frame, theme.grid, theme.construction)
    pencil.lines(symbols.hatch(corners(frame), 12 * dot), theme.construction, 0.6)
    left = frame.right + 14 * dot
    y = frame.y + 8 * dot
    for part, why in refusal:
        for line in pencil.wrap(f"{part}: {why}", area.right - left - 8 * dot):
            if y > frame.bottom:
                return
            pencil.text(left, y, line, theme.ink)
            y += pencil.height() * 1.15
        y += 8 * dot


def corners(box: Box) -> tuple[XY, XY, XY, XY]:
    """The corners of a box, going round."""
    return (box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom)


def _between(frame: Box, measure: Scale, high: float, low: float) -> Box:
    top = measure.y(high)
    return Box(frame.x, top, frame.width, max(measure.y(low) - top, 0.0))


def _air(pencil: Pencil, frame: Box, measure: Scale, ledger: PumpLedger, theme: Theme) -> None:
    """Everything that is no entry: what is not here, what the reservoir adds, the margin, the rest."""
    full = min(ledger.surface, ledger.floor)
    pencil.box(_between(frame, measure, max(full, 0.0), 0.0), theme.plain)
    if ledger.margin > 0.0:
        for box in _filled(frame, measure, ledger, max(ledger.floor, 0.0), pencil.dot):
            pencil.box(box, theme.fluid)
    if ledger.atmosphere < SEA_LEVEL:
        _hollow(pencil, _between(frame, measure, SEA_LEVEL, ledger.atmosphere), theme.construction)
    if ledger.surface < ledger.atmosphere:
        _hollow(pencil, _between(frame, measure, ledger.atmosphere, ledger.surface), theme.construction)
    if ledger.floor > ledger.surface:
        lacking = _between(frame, measure, ledger.floor, ledger.surface)
        _hollow(pencil, lacking, theme.limit)
    if ledger.surface > ledger.atmosphere:
        lane = Box(frame.x, frame.y, LANE * pencil.dot, frame.height)
        pencil.box(_between(lane, measure, ledger.surface, ledger.atmosphere), theme.fluid, theme.casing)
    solid = _between(frame, measure, max(ledger.surface, ledger.floor if ledger.budget > 0 else 0.0), 0.0)
    pencil.box(solid, None, theme.casing, 1.2)


def _filled(frame: Box, measure: Scale, ledger: PumpLedger, low: float, dot: float) -> Iterator[Box]:
    """From the port's pressure down, beside the lane of what is given."""
    for high, deep, lane in _levels(ledger, ledger.inlet, low):
        off = LANE * dot if lane else 0.0
        place = Box(frame.x + off, frame.y, frame.width - off, frame.height)
        yield _between(place, measure, high, deep)


def _levels(ledger: PumpLedger, high: float, low: float) -> Iterator[tuple[float, float, bool]]:
    """A range of pressure in two where the lane of what is given ends: (high, low, beside the lane)."""
    base = min(ledger.surface, ledger.atmosphere) if _has_lane(ledger) else math.inf
    if high > base:
        yield high, max(low, base), True
    if low < base:
        yield min(high, base), low, False


def _hollow(pencil: Pencil, box: Box, colour: QColor) -> None:
    pencil.lines(pairwise((*corners(box), (box.x, box.y))), colour, 1.0, HIDDEN)


def _slices(
    pencil: Pencil,
    frame: Box,
    measure: Scale,
    ledger: PumpLedger,
    found: Sequence[Slice],
    theme: Theme,
    pointed: str,
) -> None:
    for piece in found:
        colour = theme.classes[CREDIT] if piece.credit else share_colour(piece.share, theme)
        for box, beyond in _boxes(frame, measure, ledger, piece, pencil.dot):
            pencil.box(box, colour)
            lines = symbols.hatch(corners(box), HATCH * pencil.dot) if piece.credit or beyond else []
            if beyond:
                lines += symbols.hatch(corners(box), HATCH * pencil.dot, rising=False)
            pencil.lines(lines, text_on(colour), 0.9)
            pencil.box(box, None, theme.casing, 0.8)
    for piece in found:
        if piece.key == pointed:
            for box, _ in _boxes(frame, measure, ledger, piece, pencil.dot):
                pencil.box(box.grown(3 * pencil.dot), None, theme.halo, 4.0)


def _boxes(
    frame: Box, measure: Scale, ledger: PumpLedger, piece: Slice, dot: float
) -> Iterator[tuple[Box, bool]]:
    """A slice as rectangles, each with whether it lies past the floor.

    What is given (credits, reservoir pressure) stands in a lane beside what it pays for.
    """
    if piece.credit:
        lane = Box(frame.x, frame.y, LANE * dot, frame.height)
        yield _between(lane, measure, piece.high, piece.low), False
        return
    for high, low, beyond in parts(piece, ledger.floor if whole(ledger) else -math.inf):
        for top, deep, beside in _levels(ledger, high, low):
            off = LANE * dot if beside else 0.0
            place = Box(frame.x + off, frame.y, frame.width - off, frame.height)
            yield _between(place, measure, top, deep), beyond


def _has_lane(ledger: PumpLedger) -> bool:
    return ledger.surface > ledger.atmosphere or any(taken(entry) < 0.0 for entry in ledger.entries)


def _floor(pencil: Pencil, frame: Box, measure: Scale, ledger: PumpLedger, theme: Theme) -> None:
    y, over = measure.y(ledger.floor), 5 * pencil.dot
    pencil.lines([((frame.x - over, y), (frame.right + over, y))], theme.limit, 3.0)
    if ledger.atmosphere < SEA_LEVEL or ledger.surface > ledger.atmosphere:
        y = measure.y(ledger.atmosphere)
        pencil.lines([((frame.x - over, y), (frame.right + over, y))], theme.ink, 1.2)


def _cuts(pencil: Pencil, frame: Box, measure: Scale, theme: Theme) -> None:
    """The break line of drawing practice, where the column is drawn short."""
    dot, steps = pencil.dot, 6
    edge = [
        (frame.x + (frame.width + 12 * dot) * k / steps - 6 * dot, (4 if k % 2 else -4) * dot)
        for k in range(steps + 1)
    ]
    for high, low in measure.cuts:
        band = [(x, measure.y(high) + y) for x, y in edge]
        band += [(x, measure.y(low) + y) for x, y in reversed(edge)]
        pencil.polygon(band, theme.paper, None)
        for line in (band[: steps + 1], band[steps + 1 :]):
            pencil.pen(theme.construction, 1.0)
            pencil.polyline(line)


def _step(measure: Scale, kind: Kind, system: System, least: float) -> float:
    one = units.from_display(1.0, kind, system) - units.from_display(0.0, kind, system)
    wanted = least / (measure.per_pascal * one)
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= wanted * (1 - 1e-9)) * one


def _figure(value: float, step: float, kind: Kind, system: System) -> str:
    places = max(0, -math.floor(math.log10(units.to_display(step, kind, system)) + 1e-9))
    text = f"{units.to_display(value, kind, system):.{places}f}"
    return (text if float(text) else text.removeprefix("-")).replace("-", "\N{MINUS SIGN}")


def _scales(
    pencil: Pencil, frame: Box, measure: Scale, ledger: PumpLedger, theme: Theme, system: System
) -> None:
    """Absolute pressure rising from a perfect vacuum, and vacuum falling from the atmosphere here."""
    dot = pencil.dot
    absolute, gauge = frame.x - 6 * dot, frame.x - 50 * dot
    marks: list[tuple[XY, XY]] = []
    step = _step(measure, Kind.PRESSURE, system, 34 * dot)
    for value in ticks(0.0, measure.most, step):
        if measure.shows(value):
            y = measure.y(value)
            marks.append(((absolute - 4 * dot, y), (absolute, y)))
            pencil.text(
                absolute - 7 * dot, y, _figure(value, step, Kind.PRESSURE, system), theme.quiet, align=1.0
            )
    step = _step(measure, Kind.VACUUM, system, 34 * dot)
    for value in ticks(0.0, ledger.atmosphere, step):
        if measure.shows(ledger.atmosphere - value):
            y = measure.y(ledger.atmosphere - value)
            marks.append(((gauge - 4 * dot, y), (gauge, y)))
            pencil.text(gauge - 7 * dot, y, _figure(value, step, Kind.VACUUM, system), theme.quiet, align=1.0)
    marks.append(((absolute, frame.y), (absolute, frame.bottom)))
    marks.append(((gauge, measure.y(ledger.atmosphere)), (gauge, frame.bottom)))
    pencil.lines(marks, theme.construction)
    for x, name, kind in ((absolute, "abs.", Kind.PRESSURE), (gauge, "vac.", Kind.VACUUM)):
        pencil.text(x, frame.y - 24 * dot, name, theme.quiet, align=1.0)
        pencil.text(x, frame.y - 11 * dot, units.unit(kind, system), theme.quiet, align=1.0)


def _labels(
    pencil: Pencil,
    area: Box,
    frame: Box,
    measure: Scale,
    ledger: PumpLedger,
    found: Sequence[Slice],
    theme: Theme,
    system: System,
    pointed: str,
) -> list[Label]:
    """Names beside the column, moved apart so that none covers another, with leaders back."""
    dot = pencil.dot
    high = pencil.height() + 4 * dot
    room = area.bottom - frame.y + 4 * dot
    notes = sorted(
        _keep(_notes(ledger, found, system, pointed), int(room // high)),
        key=lambda note: (-note.pressure, note.order),
    )
    centres = spread(
        [measure.y(note.pressure) for note in notes],
        [high] * len(notes),
        frame.y - 8 * dot,
        area.bottom - 4 * dot,
    )
    elbow, left = frame.right + 14 * dot, frame.right + 20 * dot
    leaders = []
    labels = []
    for note, y in zip(notes, centres, strict=True):
        at = min(max(measure.y(note.pressure), frame.y), frame.bottom)
        leaders.append(((frame.right + 2 * dot, at), (elbow, y)))
        leaders.append(((elbow, y), (left - 3 * dot, y)))
        labels.append(
            _note(pencil, note, Box(left, y - high / 2, area.right - left - 4 * dot, high), theme, pointed)
        )
    pencil.lines(leaders, theme.construction, 0.8)
    return labels


def _shortened(pencil: Pencil, text: str, width: float, bold: bool) -> str:
    """The part's name gives way before the element's, which tells one slice from the next."""
    part, comma, element = text.partition(", ")
    if comma and pencil.width(text, bold=bold) > width:
        room = width - pencil.width(comma + element, bold=bold)
        if room > 3 * pencil.height():
            return pencil.elide(part, room, bold=bold) + comma + element
    return pencil.elide(text, width, bold=bold)


def _note(pencil: Pencil, note: Note, box: Box, theme: Theme, pointed: str) -> Label:
    dot, lit = pencil.dot, bool(note.key) and note.key == pointed
    left, middle = box.x, box.y + box.height / 2
    if note.share:
        wide = max(40 * dot, pencil.width(note.share, bold=True) + 7 * dot)
        cell = Box(left, box.y + 1 * dot, wide, box.height - 2 * dot)
        colour = theme.classes[CREDIT] if note.credit else share_colour(note.value, theme)
        pencil.box(cell, colour, theme.halo if lit else theme.casing, 2.5 if lit else 1.0, radius=2.0)
        pencil.text(cell.right - 3 * dot, middle, note.share, text_on(colour), bold=True, align=1.0)
        left = cell.right + 5 * dot
    bold = lit or note.kind in ("floor", "over")
    text = _shortened(pencil, note.text, box.right - left, bold)
    colour = {"floor": theme.limit, "over": theme.stop, "slice": theme.ink}.get(note.kind, theme.quiet)
    pencil.text(left, middle, text, colour, bold=bold)
    return Label(note.key, note.kind, f"{note.share} {text}".strip(), box)
