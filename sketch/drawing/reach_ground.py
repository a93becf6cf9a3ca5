"""Where a pump's port may stand, in colours behind the elevation: on the screen and on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from sketch.drawing.contours import Segment, contour
from sketch.drawing.labels import Box
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.colours import Theme, blend
from solver.answers.reach_map import ReachMap, reach_map
from solver.findings.criteria import criteria_of
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level

ACROSS, UP = 60, 40
TINTS = {"light": 0.12, "dark": 0.19}
"""How much of its colour a place shows, by theme: as much as leaves the quiet labels on it legible."""
HATCH, HATCH_TINT = 12.0, 0.3
"""Logical pixels between lines of a hatched place, and how much of its colour such a line shows."""
STACKS = 8
"""Steps from the top to the foot of the sheet in which a stack of words looks for room."""


class Question(NamedTuple):
    """What a reach map answers: where the port of this pump may stand in this drawing, at this level."""

    layout: Layout
    level: Level
    pump: str


class Ground(NamedTuple):
    """A map with what is drawn of it."""

    map: ReachMap
    spare: NDArray[np.float64]  # margin less what is thin, for every place [Pa]
    zero: list[Segment]
    thin: list[Segment]
    unread: tuple[str, ...]  # cases that do not hold on the drawing: nothing is judged then


def ground(question: Question, sheet: tuple[float, float, float, float]) -> Ground:
    """The map over a part of the sheet: left, bottom, right, top [m]."""
    layout, level, pump = question
    drawings, unread = {}, []
    for name, case in cases_of(layout).items():
        try:
            drawing = layout_in_case(layout, name, case)
        except CaseError:
            unread.append(name)
            continue
        if not drawing.pumps[pump].at_rest:
            drawings[name] = (drawing, level)
    left, bottom, right, top = sheet
    xs, ys = np.linspace(left, right, ACROSS), np.linspace(bottom, top, UP)
    margins = reach_map(drawings, pump, xs, ys)
    margin = np.full_like(margins.margin, np.nan) if unread else margins.margin
    criteria = criteria_of(layout)
    spare = margin - np.maximum(criteria.thin_pressure, criteria.thin_margin * margins.budget)
    zero, thin = contour(xs, ys, margin), contour(xs, ys, spare)
    return Ground(replace(margins, margin=margin), spare, zero, thin, tuple(unread))


def paint_ground(
    painter: QPainter,
    ready: Ground,
    view: View,
    theme: Theme,
    *,
    hatched: bool = False,
    texts: Sequence[Box] = (),
) -> None:
    """Colour the places, and line where the margin is spent and where it is thin.

    hatched: over crossed and thin one way as well, to be told apart in a grey print; texts: what no line goes
    through.
    """
    _fill(painter, ready, view, theme)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for where, colour, ways in _patterns(ready, theme) if hatched else ():
        painter.setPen(QPen(blend(colour, theme.paper, HATCH_TINT), 0.7 * view.dot))
        for slope in (-1.0, 1.0)[:ways]:
            painter.drawLines(list(clear_of(texts, _hatch(where, ready, view, slope))))
    for segments, colour, style in (
        (ready.thin, theme.caution, Qt.PenStyle.DashLine),
        (ready.zero, theme.limit, Qt.PenStyle.SolidLine),
    ):
        painter.setPen(QPen(colour, 1.5 * view.dot, style))
        lines = (QLineF(*view.device(a, b), *view.device(c, d)) for a, b, c, d in segments)
        painter.drawLines(list(clear_of(texts, lines)))


def clear_of(boxes: Sequence[Box], lines: Iterable[QLineF]) -> Iterator[QLineF]:
    """What of the lines lies in none of the boxes."""
    for line in lines:
        start = 0.0
        for first, last in sorted(_inside(box, line) for box in boxes):
            if first > start:
                yield QLineF(line.pointAt(start), line.pointAt(first))
            start = max(start, last)
        if start < 1.0:
            yield QLineF(line.pointAt(start), line.p2()) if start else line


def _inside(box: Box, line: QLineF) -> tuple[float, float]:
    """From where to where along a line it lies in a box, 0 to 1; (0, 0) where it does not."""
    first, last = 0.0, 1.0
    for at, along, low, high in (
        (line.x1(), line.dx(), box.x, box.right),
        (line.y1(), line.dy(), box.y, box.bottom),
    ):
        if along == 0.0:
            first, last = (first, last) if low < at < high else (1.0, 0.0)
        else:
            ends = sorted(((low - at) / along, (high - at) / along))
            first, last = max(first, ends[0]), min(last, ends[1])
    return (first, last) if first < last else (0.0, 0.0)


def _tint(colour: QColor, theme: Theme) -> QColor:
    return blend(colour, theme.paper, TINTS[theme.name])


def _fill(painter: QPainter, ready: Ground, view: View, theme: Theme) -> None:
    xs, ys, margin = ready.map.xs, ready.map.ys, ready.map.margin
    half_x, half_y = (xs[1] - xs[0]) / 2, (ys[1] - ys[0]) / 2
    for where, colour in (
        (margin < 0, theme.stop),
        ((margin >= 0) & (ready.spare < 0), theme.caution),
        (ready.spare >= 0, theme.good),
    ):
        tint = _tint(colour, theme)
        for i, first, last in _stretches(where):
            left, top = view.device(xs[first] - half_x, ys[i] + half_y)
            right, bottom = view.device(xs[last] + half_x, ys[i] - half_y)
            # To whole device units, so that no seam shows between two places.
            box = QRectF(round(left), round(top), round(right) - round(left), round(bottom) - round(top))
            painter.fillRect(box, tint)


def _patterns(ready: Ground, theme: Theme) -> tuple[tuple[NDArray[np.bool_], QColor, int], ...]:
    """Which places are hatched, in which colour, and in how many ways."""
    margin = ready.map.margin
    return (margin < 0, theme.stop, 2), ((margin >= 0) & (ready.spare < 0), theme.caution, 1)


def _hatch(where: NDArray[np.bool_], ready: Ground, view: View, slope: float) -> Iterator[QLineF]:
    """Lines of one slope through the places, row by row, each as long as it stays among them."""
    xs, ys = ready.map.xs, ready.map.ys
    (left, foot), (right, top) = view.device(xs[0], ys[0]), view.device(xs[-1], ys[-1])
    wide, high = (right - left) / (len(xs) - 1), (foot - top) / (len(ys) - 1)
    gap = HATCH * view.dot
    ends = sorted((left + slope * top, right + slope * foot, left + slope * foot, right + slope * top))
    for number in range(math.ceil(ends[0] / gap), math.floor(ends[-1] / gap) + 1):
        held: list[float] = []
        for row in range(len(ys)):
            y = foot - row * high
            column = round((number * gap - slope * y - left) / wide)
            if 0 <= column < len(xs) and where[row, column]:
                held = [*held[:1], y]
                if row < len(ys) - 1:
                    continue
            if len(held) > 1:
                yield QLineF(
                    *((number * gap - slope * held[0]), held[0], number * gap - slope * held[1], held[1])
                )
            held = []


def _stretches(where: NDArray[np.bool_]) -> Iterator[tuple[int, int, int]]:
    """Places of a kind that follow one another in a row: the row, the first and the last."""
    edges = np.diff(np.pad(where.astype(np.int8), ((0, 0), (1, 1))), axis=1)
    begins, ends = np.argwhere(edges == 1), np.argwhere(edges == -1)
    for (row, first), (_, beyond) in zip(begins, ends, strict=True):
        yield int(row), int(first), int(beyond) - 1


def explain_ground(
    painter: QPainter, ready: Ground, dot: float, size: XY, theme: Theme, occupied: list[QRectF] | None
) -> None:
    """Paint what the colours mean, where that covers least of what is occupied: in one line along an edge of
    the sheet, else in a stack of lines; below the sheet for None."""
    several = f", the worst of {len(ready.map.cases)} cases" if len(ready.map.cases) > 1 else ""
    pieces: list[tuple[str, QColor | None]] = [(f"Port of {ready.map.pump} there{several}:", None)]
    if ready.unread:
        pieces.append((f"not judged, as the case {', '.join(ready.unread)} is not", None))
    else:
        pieces += [("within", theme.good), ("thin margin", theme.caution), ("over", theme.stop)]
        why = ": no room for the bends" if ready.map.lacks_room else ""
        pieces.append((f"not judged{why}", theme.paper))
    metrics = QFontMetricsF(painter.font())
    high, gap = metrics.lineSpacing(), 8 * dot
    widths = [metrics.horizontalAdvance(text) + (high if colour else 0.0) + gap for text, colour in pieces]
    strip = sum(widths) + gap, high + 4 * dot
    stack = max(widths) + gap, len(pieces) * high + 4 * dot
    if occupied is None:
        box = QRectF(AXIS_LEFT * dot - gap, size[1], *strip)
    else:
        box = _least_covered(strip, stack, dot, size, occupied)
    painter.fillRect(box, theme.box)
    left, top, stacked = box.left() + gap, box.top(), box.height() > strip[1]
    for (text, colour), width in zip(pieces, widths, strict=True):
        _piece(painter, QRectF(left, top, width, strip[1]), text, colour, dot, theme)
        if occupied is None and colour in (theme.caution, theme.stop):
            _hatch_swatch(painter, _swatch(QRectF(left, top, width, strip[1]), dot), colour, dot, theme)
        left, top = (left, top + high) if stacked else (left + width, top)


def _swatch(box: QRectF, dot: float) -> QRectF:
    high = box.height() - 4 * dot
    return QRectF(box.left(), box.top() + 2 * dot + high * 0.2, high * 0.7, high * 0.6)


def _hatch_swatch(painter: QPainter, box: QRectF, colour: QColor, dot: float, theme: Theme) -> None:
    """Over crossed, thin one way, as on the map."""
    painter.setPen(QPen(blend(colour, theme.paper, HATCH_TINT), 0.7 * dot))
    painter.drawLine(box.bottomLeft(), box.topRight())
    if colour == theme.stop:
        painter.drawLine(box.topLeft(), box.bottomRight())


def _piece(
    painter: QPainter, box: QRectF, text: str, colour: QColor | None, dot: float, theme: Theme
) -> None:
    """A word of what the colours mean, behind a swatch of its own."""
    high = box.height() - 4 * dot
    if colour is not None:
        swatch = _swatch(box, dot)
        painter.fillRect(swatch, _tint(colour, theme))
        # The tints are pale: their own colour round them tells them apart, here as on the map.
        painter.setPen(QPen(theme.construction if colour == theme.paper else colour, 1.5 * dot))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(swatch)
        box = box.adjusted(high, 0, high, 0)
    painter.setPen(theme.ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)


def _least_covered(strip: XY, stack: XY, dot: float, size: XY, occupied: list[QRectF]) -> QRectF:
    """Where a strip along the upper or lower edge, or else a stack at the left or right one, covers least."""
    edge = 6 * dot
    left, high = AXIS_LEFT * dot + edge, edge
    right, low = size[0] - strip[0] - edge, size[1] - AXIS_BOTTOM * dot - strip[1] - edge
    rows = (low, high, low - 1.6 * strip[1], high + 1.6 * strip[1])
    places = [QRectF(x, y, *strip) for y in rows for x in (right, left + 130 * dot, left)]
    at_right, under = size[0] - stack[0] - edge, size[1] - AXIS_BOTTOM * dot - stack[1] - edge
    steps = [high + (under - high) * step / STACKS for step in range(STACKS + 1)]
    places += [QRectF(x, y, *stack) for y in steps for x in (left, at_right)]

    def covered(box: QRectF) -> float:
        shared = (box.intersected(each) for each in occupied)
        return sum(each.width() * each.height() for each in shared)

    return min(places, key=covered)
