"""Where a pump's port may stand, in colours behind the elevation: on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from sketch.drawing.contours import Segment, contour
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.colours import Theme, blend
from solver.answers.reach_map import ReachMap, reach_map
from solver.findings.criteria import criteria_of
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level

ACROSS, UP = 60, 40
TINTS = {"light": 0.12, "dark": 0.19}
"""How much of its colour a place shows, by theme: as much as leaves the quiet labels on it legible."""


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


def paint_ground(painter: QPainter, ready: Ground, view: View, theme: Theme) -> None:
    """Colour the places, and line where the margin is spent and where it is thin."""
    _fill(painter, ready, view, theme)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for segments, colour, style in (
        (ready.thin, theme.caution, Qt.PenStyle.DashLine),
        (ready.zero, theme.limit, Qt.PenStyle.SolidLine),
    ):
        painter.setPen(QPen(colour, 1.5 * view.dot, style))
        painter.drawLines([QLineF(*view.device(a, b), *view.device(c, d)) for a, b, c, d in segments])


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


def _stretches(where: NDArray[np.bool_]) -> Iterator[tuple[int, int, int]]:
    """Places of a kind that follow one another in a row: the row, the first and the last."""
    edges = np.diff(np.pad(where.astype(np.int8), ((0, 0), (1, 1))), axis=1)
    begins, ends = np.argwhere(edges == 1), np.argwhere(edges == -1)
    for (row, first), (_, beyond) in zip(begins, ends, strict=True):
        yield int(row), int(first), int(beyond) - 1


def explain_ground(
    painter: QPainter, ready: Ground, dot: float, size: XY, theme: Theme, occupied: list[QRectF] | None
) -> None:
    """Paint one line with what the colours mean, at the edge of the sheet where it covers least of what is
    occupied; below the sheet for None."""
    several = f", the worst of {len(ready.map.cases)} cases" if len(ready.map.cases) > 1 else ""
    pieces: list[tuple[str, QColor | None]] = [(f"Port of {ready.map.pump} there{several}:", None)]
    if ready.unread:
        pieces.append((f"not judged, as the case {', '.join(ready.unread)} is not", None))
    else:
        pieces += [("within", theme.good), ("thin margin", theme.caution), ("over", theme.stop)]
        pieces.append(("not judged", theme.paper))
    metrics = QFontMetricsF(painter.font())
    high, gap = metrics.lineSpacing(), 8 * dot
    widths = [metrics.horizontalAdvance(text) + (high if colour else 0.0) + gap for text, colour in pieces]
    strip = sum(widths) + gap, high + 4 * dot
    below = QRectF(AXIS_LEFT * dot - gap, size[1], *strip)
    box = below if occupied is None else _least_covered(*strip, dot, size, occupied)
    painter.fillRect(box, theme.box)
    x = box.left() + gap
    for (text, colour), width in zip(pieces, widths, strict=True):
        if colour is not None:
            swatch = QRectF(x, box.top() + 2 * dot + high * 0.2, high * 0.7, high * 0.6)
            painter.fillRect(swatch, _tint(colour, theme))
            # The tints are pale: their own colour round them tells them apart, here as on the map.
            painter.setPen(QPen(theme.construction if colour == theme.paper else colour, 1.5 * dot))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(swatch)
        painter.setPen(theme.ink)
        left = x + (high if colour is not None else 0.0)
        painter.drawText(QRectF(left, box.top(), width, box.height()), Qt.AlignmentFlag.AlignVCenter, text)
        x += width


def _least_covered(width: float, height: float, dot: float, size: XY, occupied: list[QRectF]) -> QRectF:
    """Where a strip along the upper or lower edge covers least of what is written."""
    left, right = AXIS_LEFT * dot + 6 * dot, size[0] - width - 6 * dot
    low, high = size[1] - AXIS_BOTTOM * dot - height - 6 * dot, 6 * dot
    places = [
        QRectF(x, y, width, height)
        for y in (low, high, low - 1.6 * height, high + 1.6 * height)
        for x in (right, left + 130 * dot, left)
    ]

    def covered(box: QRectF) -> float:
        shared = (box.intersected(each) for each in occupied)
        return sum(each.width() * each.height() for each in shared)

    return min(places, key=covered)
