"""The air column: what is hollow, what is spent, what is left, and what fills the pump, on two scales."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from itertools import pairwise

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from sketch.air_column.frame import PaintedColumn, corners, foot_of_lane, frame_of
from sketch.air_column.labels import paint_labels
from sketch.air_column.notes import Note, NoteKind, of_band, of_others, of_reads
from sketch.air_column.scales import paint_scales
from sketch.air_column.slices import FLOOR_NAME, Slice, parts, scale, slices, whole
from sketch.air_column.verdict import paint_outlook
from sketch.drawing import symbols
from sketch.drawing.labels import Box, Label
from sketch.drawing.pencil import BODY, HIDDEN, Pencil
from sketch.look.colours import CREDIT, Theme, blend, share_colour, text_on
from sketch.model.doubt import MarginBand
from sketch.model.read_marks import ReadMark
from solver.findings.checks import Finding
from solver.findings.judgement import alone
from solver.findings.outlook import Outlook, outlook
from solver.ledger.solve import PumpLedger, Solution
from solver.properties.atmosphere import SEA_LEVEL
from solver.quantities.units import System

HATCH = 5.0
LEAST_EDGED = 3.0
"""Logical pixels: between hatch lines, and of a slice that is thick enough for an edge of its own."""


@dataclass(frozen=True)
class ColumnDrawn:
    """What has been painted of a column: the labels, the height of the headline, and the slices."""

    labels: tuple[Label, ...]
    headline: float = 0.0
    placing: Callable[[], tuple[tuple[str, Box], ...]] | None = field(default=None, compare=False)

    @property
    def empty(self) -> bool:
        """Whether there was no ledger to show."""
        return self.placing is None

    @cached_property
    def slices(self) -> tuple[tuple[str, Box], ...]:
        """The slices by key: none is looked for in a frame of a drag, and a long line has thousands."""
        return () if self.placing is None else self.placing()


def paint_column(
    onto: QPainter | Pencil,
    rect: QRectF,
    solution: Solution | None,
    pump: str,
    theme: Theme,
    system: System,
    pointed: str = "",
    *,
    dot: float = 1.0,
    refusal: Sequence[tuple[str, str]] = (),
    findings: Sequence[Finding] = (),
    known_outlook: Outlook | None = None,
    others: Sequence[tuple[str, PumpLedger]] = (),
    headline: bool = True,
    case: str = "",
    reads: Sequence[ReadMark] = (),
    band: MarginBand | None = None,
    room: float | None = None,
    floor_name: str = FLOOR_NAME,
) -> ColumnDrawn:
    """Paint the air column of one pump in a rectangle of device units, on a painter or with a pencil.

    `pointed` is the key of an entry; `findings` are those of the solution, for the headline, unless the
    outlook is known already, as `known_outlook`; `others` are the pump's ledgers in other cases, by name.
    `reads` is what its gauges have read; `band`, between which margins most draws of what is not known lie.
    Without `headline`, the column alone; `room` is the height that one is to take, so that the column stays
    where it is; `case` is the one it shows, where the headline is of several; `floor_name`
    is what the floor is called.
    Without a solution the column is grey, and the refusal, ((part, why), ...), stands beside it.
    """
    pencil = onto if isinstance(onto, Pencil) else Pencil(onto, dot)
    area = Box(rect.x(), rect.y(), rect.width(), rect.height())
    pencil.box(area, theme.paper)
    if solution is None or pump not in solution.pumps:
        used = paint_outlook(pencil, area, known_outlook, theme, room) if known_outlook is not None else 0.0
        _no_result(pencil, area, theme, refusal, used)
        return ColumnDrawn((), used)
    ledger = solution.pumps[pump]
    used = 0.0
    if headline:
        known_outlook = known_outlook or outlook(alone(solution, findings), system)
        used = paint_outlook(pencil, area, known_outlook, theme, room)
    frame = frame_of(area, dot, used)
    measure = scale(ledger, frame.y, frame.bottom, dot)
    column = PaintedColumn(
        pencil, area, frame, measure, ledger, theme, system, foot_of_lane(ledger), floor_name
    )
    cut = slices(ledger)
    floor = ledger.floor if whole(ledger) else -math.inf
    _name_case(column, case)
    _air(column)
    _slices(column, cut, floor, pointed)
    _cuts(column)
    paint_scales(column)
    _floor(column)
    _others(column, [other.inlet for _, other in others])
    noted = _noted(column, reads, band)
    labels = paint_labels(column, cut, pointed, [*of_others(others, system), *noted])
    return ColumnDrawn(tuple(labels), used, partial(_placed, column, cut, floor))


def _noted(column: PaintedColumn, reads: Sequence[ReadMark], band: MarginBand | None) -> list[Note]:
    """Draw what gauges have read, and the band of the draws; their notes."""
    noted = of_reads(reads, column.ledger, column.system)
    _others(column, [note.pressure for note in noted])
    if band is None:
        return noted
    _band(column, band)
    return [*noted, of_band(band, column.ledger, column.system)]


def _name_case(column: PaintedColumn, case: str) -> None:
    """Say over the column whose pressures it holds: the headline may be that of another case."""
    pencil, frame = column.pencil, column.frame
    left = frame.right + 14 * pencil.dot
    text = pencil.elide(f"shown: {case}" if case else "", column.area.right - left - 8 * pencil.dot)
    pencil.text(left, frame.y - 24 * pencil.dot, text, column.theme.ink)


def slice_at(drawn: ColumnDrawn, x: float, y: float) -> str:
    """The key of the slice, or of the slice's label, at a device point; "" where there is none."""
    for label in drawn.labels:
        if label.kind == NoteKind.SLICE and label.box.holds(x, y):
            return label.key
    near = [
        (
            not box.x <= x <= box.right,
            abs(y - (box.y + box.bottom) / 2) - box.height / 2,
            key,
        )
        for key, box in drawn.slices
        if box.x - 6 <= x <= box.right + 6 and box.y - 2 <= y <= box.bottom + 2
    ]
    return min(near)[2] if near else ""


def _no_result(
    pencil: Pencil, area: Box, theme: Theme, refusal: Sequence[tuple[str, str]], used: float
) -> None:
    """A grey column; `used` is the height that a headline of the other cases has taken."""
    dot = pencil.dot
    frame = frame_of(area, dot, 64 * dot + used)
    pencil.text(area.x + 12 * dot, area.y + 24 * dot + used, "No result", theme.quiet, BODY, bold=True)
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


def _air(column: PaintedColumn) -> None:
    """Everything that is no entry: what is not here, what the reservoir adds, the margin, the rest."""
    pencil, theme, ledger = column.pencil, column.theme, column.ledger
    full = min(ledger.surface, ledger.floor)
    pencil.box(column.between(max(full, 0.0), 0.0), theme.pipe)
    if ledger.margin > 0.0:
        for box in _beside(column, ledger.inlet, max(ledger.floor, 0.0)):
            pencil.box(box, theme.fluid)
    if ledger.atmosphere < SEA_LEVEL:
        _hollow(pencil, column.between(SEA_LEVEL, ledger.atmosphere), theme.construction)
    if ledger.surface < ledger.atmosphere:
        _hollow(pencil, column.between(ledger.atmosphere, ledger.surface), theme.construction)
    if ledger.floor > ledger.surface:
        _hollow(pencil, column.between(ledger.floor, ledger.surface), theme.limit)
    if ledger.surface > ledger.atmosphere:
        pencil.box(column.credit_lane(ledger.surface, ledger.atmosphere), theme.fluid, theme.casing)
    solid = column.between(max(ledger.surface, ledger.floor if ledger.budget > 0 else 0.0), 0.0)
    pencil.box(solid, None, theme.casing, 1.2)


def _beside(column: PaintedColumn, high: float, low: float) -> tuple[Box, ...]:
    """A range of pressure as boxes: beside the lane of what is given, then over the whole width."""
    foot = column.foot
    if high <= foot:
        return (column.between(high, low),)
    if low >= foot:
        return (column.right_of_lane(high, low),)
    return column.right_of_lane(high, foot), column.between(foot, low)


def _hollow(pencil: Pencil, box: Box, colour: QColor) -> None:
    pencil.lines(pairwise((*corners(box), (box.x, box.y))), colour, 1.0, HIDDEN)


def _placed(column: PaintedColumn, cut: Sequence[Slice], floor: float) -> tuple[tuple[str, Box], ...]:
    return tuple([(piece.key, _round(_boxes(column, piece, floor))) for piece in cut])


def _round(boxes: Sequence[tuple[Box, bool]]) -> Box:
    """The box round all of a slice's."""
    if len(boxes) == 1:
        return boxes[0][0]
    left, right = min(box.x for box, _ in boxes), max(box.right for box, _ in boxes)
    top, bottom = boxes[0][0].y, boxes[-1][0].bottom
    return Box(left, top, right - left, bottom - top)


@dataclass(slots=True)
class _Run:
    """Slices that follow one another and are painted alike, as one: a long line has many thin ones."""

    high: float  # [Pa absolute]
    low: float
    colour: QColor
    credit: bool
    beyond: bool  # past the floor
    laned: bool  # beside the lane of what is given

    def box(self, column: PaintedColumn) -> Box:
        """Where it lies."""
        if self.credit:
            return column.credit_lane(self.high, self.low)
        return (column.right_of_lane if self.laned else column.between)(self.high, self.low)


Boxed = tuple[_Run, Box]
"""A run, and where it lies."""


def _runs(column: PaintedColumn, cut: Sequence[Slice], floor: float) -> list[_Run]:
    runs: list[_Run] = []
    theme, foot, last, least = column.theme, column.foot, None, 0.0
    for piece in cut:
        colour = _colour(piece, theme)
        if last is not None and colour is last.colour and piece.low >= least and not piece.credit:
            last.low = piece.low
            continue
        if piece.credit:
            runs.append(_Run(piece.high, piece.low, colour, credit=True, beyond=False, laned=False))
            last = None
            continue
        for high, low, beyond in parts(piece, floor):
            for top, bottom in ((high, low),) if high <= foot or low >= foot else ((high, foot), (foot, low)):
                last = _Run(top, bottom, colour, credit=False, beyond=beyond, laned=top > foot)
                runs.append(last)
                # Down to where what follows is painted alike.
                least = max(-math.inf if beyond else floor - 1e-6, foot if last.laned else -math.inf)
    return runs


def _slices(column: PaintedColumn, cut: Sequence[Slice], floor: float, pointed: str) -> None:
    """Fills and hatching, then edges, so that a thin slice keeps its colour; what is pointed at on top."""
    pencil, theme, dot = column.pencil, column.theme, column.pencil.dot
    runs = [(run, run.box(column)) for run in _runs(column, cut, floor)]
    _fill(column, runs)
    _hatch(column, runs)
    thick = LEAST_EDGED * dot
    least = 0.99 * thick / column.measure.steepest  # [Pa]
    for piece in cut:
        if piece.high - piece.low > least:
            for box, _ in _boxes(column, piece, floor):
                if box.height >= thick:
                    pencil.box(box, None, theme.casing, 0.8)
    for piece in cut if pointed else ():
        if piece.key == pointed:
            for box, _ in _boxes(column, piece, floor):
                pencil.box(box.grown(3 * dot), None, theme.halo, 4.0)


def _hatch(column: PaintedColumn, runs: Sequence[Boxed]) -> None:
    """One way for what is given, both ways past the floor; what stands on one another as one."""
    hatched: dict[tuple[int, bool], tuple[QColor, bool, list[Box]]] = {}
    for run, box in runs:
        if not (run.credit or run.beyond):
            continue
        ink = text_on(run.colour)
        group = hatched.setdefault((id(ink), run.beyond), (ink, run.beyond, []))[2]
        above = group[-1] if group else None
        if above is not None and above.x == box.x and above.width == box.width:
            top, bottom = min(above.y, box.y), max(above.bottom, box.bottom)
            if bottom - top <= above.height + box.height + 1e-6:
                group[-1] = Box(box.x, top, box.width, bottom - top)
                continue
        group.append(box)
    gap = HATCH * column.pencil.dot
    for ink, beyond, group in hatched.values():
        lines = [line for box in group for line in symbols.hatch(corners(box), gap)]
        if beyond:
            lines += [line for box in group for line in symbols.hatch(corners(box), gap, rising=False)]
        column.pencil.lines(lines, ink, 0.9)


def _colour(piece: Slice, theme: Theme) -> QColor:
    return theme.classes[CREDIT] if piece.credit else share_colour(piece.share, theme)


def _fill(column: PaintedColumn, runs: Sequence[Boxed]) -> None:
    """The colours, whether or not the floor runs through one of them."""
    filled: list[tuple[Box, QColor, bool]] = []
    for run, box in runs:
        above, same, credit = filled[-1] if filled else (box, None, False)
        if same is run.colour and not (credit or run.credit) and above.x == box.x:
            filled[-1] = (Box(box.x, above.y, box.width, box.bottom - above.y), run.colour, False)
        else:
            filled.append((box, run.colour, run.credit))
    for number, (box, colour, credit) in enumerate(filled, 1):
        # Under the edge of the next one, or the air behind would show between the two.
        lap = 0.0 if credit or number == len(filled) else column.pencil.dot
        column.pencil.box(Box(box.x, box.y, box.width, box.height + lap), colour)


def _boxes(column: PaintedColumn, piece: Slice, floor: float) -> tuple[tuple[Box, bool], ...]:
    """A slice as rectangles. What is given stands in a lane beside what it pays for."""
    if piece.credit:
        return ((column.credit_lane(piece.high, piece.low), False),)
    return tuple(
        [(box, beyond) for high, low, beyond in parts(piece, floor) for box in _beside(column, high, low)]
    )


def _floor(column: PaintedColumn) -> None:
    pencil, frame, ledger = column.pencil, column.frame, column.ledger
    over = 5 * pencil.dot
    y = column.y(ledger.floor)
    pencil.lines([((frame.x - over, y), (frame.right + over, y))], column.theme.limit, 3.0)
    if ledger.atmosphere < SEA_LEVEL or ledger.surface > ledger.atmosphere:
        y = column.y(ledger.atmosphere)
        pencil.lines([((frame.x - over, y), (frame.right + over, y))], column.theme.ink, 1.2)


def _others(column: PaintedColumn, pressures: Sequence[float]) -> None:
    """A dashed line where the pressure at the port lies in another case, or was read [Pa absolute]."""
    frame, over = column.frame, 9 * column.pencil.dot
    heights = (min(max(column.y(each), frame.y), frame.bottom) for each in pressures)
    lines = [((frame.x - over, y), (frame.right + over, y)) for y in heights]
    column.pencil.lines(lines, column.theme.ink, 1.4, HIDDEN)


def _band(column: PaintedColumn, band: MarginBand) -> None:
    """Beside the column, where the pressure at the port lies in most draws, from the floor up."""
    dot, frame, floor = column.pencil.dot, column.frame, column.ledger.floor
    top, bottom = (min(max(column.y(floor + each), frame.y), frame.bottom) for each in (band.high, band.low))
    box = Box(frame.x - 11 * dot, top, 6 * dot, max(bottom - top, dot))
    column.pencil.box(box, blend(column.theme.accent, column.theme.paper, 0.45), column.theme.accent, 1.0)


def _cuts(column: PaintedColumn) -> None:
    """The break line of drawing practice, where the column is drawn short."""
    pencil, frame, dot, steps = column.pencil, column.frame, column.pencil.dot, 6
    edge = [
        (frame.x + (frame.width + 12 * dot) * k / steps - 6 * dot, (3 if k % 2 else -3) * dot)
        for k in range(steps + 1)
    ]
    for high, low in column.measure.cuts:
        band = [(x, column.y(high) + y) for x, y in edge]
        band += [(x, column.y(low) + y) for x, y in reversed(edge)]
        pencil.polygon(band, column.theme.paper, None)
        pencil.polylines((band[: steps + 1], band[steps + 1 :]), column.theme.construction, 1.0)
