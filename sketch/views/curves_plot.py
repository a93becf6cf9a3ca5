"""The plot of the curves. Importing this module loads pyqtgraph."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from sketch.look.colours import blend
from sketch.views.curves import Band, BandRole, Line, LineRole, Picture
from sketch.views.plot import Plot, size_of

NOT_JUDGED = "not judged"
NEAR = 14.0  # how near the pointer must come to take hold of today's point
POINT = 6.0
LABELS = 190.0  # of the plot's width, for the names at the end of the lines
DASHES = ([6.0, 3.0], [2.0, 2.0], [8.0, 3.0, 2.0, 3.0], [4.0, 4.0], [1.0, 3.0])


class CurvesPlot(Plot):
    """Axes by pyqtgraph; bands, lines and figures painted over them in pixels."""

    dragged = Signal(float)  # today's point, to a place on the level axis [shown unit]
    let_go = Signal()
    given_up = Signal()

    _picture: Picture | None = None  # Qt resizes before `__init__` is through

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._hover: float | None = None
        self.draggable = False
        self.dragging = False
        self.stale = False
        self.setMouseEnabled(False, False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_picture(self, shown: Picture) -> None:
        """Show these curves; the axes stay while today's point is dragged."""
        old, self._picture = self._picture, shown
        self.stale = False
        if old is None or (old.x_label, old.y_label) != (shown.x_label, shown.y_label):
            self.setLabel("bottom", shown.x_label)
            self.setLabel("left", shown.y_label)
        if not self.dragging:
            self.fit()
        self.viewport().update()

    def grey(self) -> None:
        """Say that the drawing has changed under the curves."""
        if not self.stale:  # or every frame of a drag would paint them once more
            self.stale = True
            self.viewport().update()

    def fit(self) -> None:
        """Show every line whole, with room for their names."""
        if self._picture is None:
            return
        xs = [x for line in self._picture.lines for x in (line.xs[0], line.xs[-1])]
        ys = np.concatenate([line.ys[np.isfinite(line.ys)] for line in self._picture.lines])
        if not ys.size:
            return
        low, high = min(float(ys.min()), 0.0), max(float(ys.max()), 0.0)
        room = 0.08 * (high - low or 1.0)
        share = min(LABELS / max(self.width() - LABELS, LABELS), 0.6)
        end = max(xs) + share * (max(xs) - min(xs))
        self.setRange(xRange=(min(xs), end), yRange=(low - room, high + room), padding=0)

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)
        self.fit()

    # Where things are

    def _across(self, at: QPointF) -> float:
        view: QPointF = self.getViewBox().mapSceneToView(at)
        return float(view.x())

    def value_at(self, at: QPointF) -> float | None:
        """What stands on the level axis at a pixel [shown unit]; None beside the curves."""
        if self._picture is None or not self.getViewBox().sceneBoundingRect().contains(at):
            return None
        x, line = self._across(at), self._picture.lines[0]
        return x if line.xs[0] <= x <= line.xs[-1] else None

    def today(self) -> QPointF | None:
        """The pixel of today's point."""
        if self._picture is None or not math.isfinite(self._picture.today.y):
            return None
        return self.place(self._picture.today.x, self._picture.today.y)

    # The hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        today = self.today()
        near = today is not None and (event.position() - today).manhattanLength() <= NEAR
        if near and self.draggable and not self.stale and event.button() is Qt.MouseButton.LeftButton:
            self.dragging = True
            self.setFocus()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        x = self._across(event.position())
        if self.dragging and self._picture is not None:
            line = self._picture.lines[0]
            self.dragged.emit(min(max(x, float(line.xs[0])), float(line.xs[-1])))
        self._hover = x
        today = self.today()
        near = today is not None and (event.position() - today).manhattanLength() <= NEAR
        grip = self.draggable and ((near and not self.stale) or self.dragging)
        self.viewport().setCursor(Qt.CursorShape.SizeHorCursor if grip else Qt.CursorShape.CrossCursor)
        self.viewport().update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.dragging and event.button() is Qt.MouseButton.LeftButton:
            self.dragging = False
            self.let_go.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.dragging:
            self.dragging = False
            self.given_up.emit()
            return
        super().keyPressEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._hover = None
        self.viewport().update()

    # Painting

    def drawForeground(self, painter: QPainter, rect: QRectF) -> None:
        """Paint the picture over the axes, in pixels."""
        if self._picture is None:
            return
        area = self.getViewBox().sceneBoundingRect()
        painter.save()
        painter.setClipRect(area)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for band in self._picture.bands:
            self._fill(painter, band, area)
        self._shade(painter, area)
        self._shade_gaps(painter, area)
        occupied = [self._draw(painter, line, at) for at, line in enumerate(self._picture.lines)]
        self._name_lines(painter, area)
        self._mark(painter, area)
        if self._hover is not None:
            self._read_off(painter, area, occupied)
        self._remark(painter, area)
        painter.restore()

    def _fill(self, painter: QPainter, band: Band, area: QRectF) -> None:
        for part in whole_stretches(np.isfinite(band.low) & np.isfinite(band.high)):
            self._fill_stretch(painter, band, part, area)

    def _fill_stretch(self, painter: QPainter, band: Band, part: slice, area: QRectF) -> None:
        inks = {
            BandRole.OVER: self._theme.limit,
            BandRole.VAPOR: self._theme.caution,
            BandRole.UNSURE: self._theme.halo,
        }
        colour, tall = inks[band.role], area.height() * 2
        low, high = (self.places(band.xs[part], ys[part]) for ys in (band.low, band.high))
        for points in (low, high):
            for point in points:
                point.setY(min(max(point.y(), area.top() - tall), area.bottom() + tall))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(blend(colour, self._theme.paper, 0.12))
        painter.drawPolygon(QPolygonF([*low, *reversed(high)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 1.5))
        if band.role == BandRole.UNSURE:
            painter.setPen(QPen(colour, 1.0, Qt.PenStyle.DotLine))
            painter.drawPolyline(QPolygonF(low))
        edge = low if band.high[part][0] > 1e8 else high
        painter.drawPolyline(QPolygonF(edge))

    def _shade(self, painter: QPainter, area: QRectF) -> None:
        """Hatch where flow is neither laminar nor turbulent, and say so."""
        if self._picture is None:
            return
        for low, high in self._picture.between:
            left, right = self.place(low, 0.0).x(), self.place(high, 0.0).x()
            box = QRectF(left, area.top(), right - left, area.height())
            painter.fillRect(box, QBrush(self._theme.construction, Qt.BrushStyle.BDiagPattern))
            text = "transitional"
            size = size_of(painter, text)
            if box.width() > size.width():
                self.label(painter, _at(size, box.left() + 2, area.top() + 2), text, self._theme.quiet)

    def _shade_gaps(self, painter: QPainter, area: QRectF) -> None:
        """Grey what is not judged, between two dotted lines, and say so where there is room."""
        if self._picture is None:
            return
        for gap in self._picture.gaps:
            left, right = self.place(gap.low, 0.0).x(), self.place(gap.high, 0.0).x()
            box = QRectF(left, area.top(), right - left, area.height())
            painter.fillRect(box, blend(self._theme.construction, self._theme.paper, 0.16))
            painter.setPen(QPen(self._theme.construction, 1.0, Qt.PenStyle.DotLine))
            painter.drawLine(box.topLeft(), box.bottomLeft())
            painter.drawLine(box.topRight(), box.bottomRight())
            size = size_of(painter, NOT_JUDGED)
            if box.width() > size.width():
                middle = box.center().x() - size.width() / 2
                self.label(painter, _at(size, middle, area.top() + 2), NOT_JUDGED, self._theme.quiet)

    def _pen(self, line: Line, at: int) -> QPen:
        theme = self._theme
        ink = {
            LineRole.WORST: theme.ink,
            LineRole.CASE: theme.quiet,
            LineRole.ALTERNATIVE: theme.accent,
            LineRole.LIMIT: theme.limit,
        }
        pen = QPen(
            theme.construction if self.stale else ink[line.role], 2.5 if line.role == LineRole.WORST else 1.5
        )
        if line.role in (LineRole.CASE, LineRole.ALTERNATIVE):
            pen.setStyle(Qt.PenStyle.CustomDashLine)
            pen.setDashPattern(DASHES[at % len(DASHES)])
        return pen

    def _draw(self, painter: QPainter, line: Line, at: int) -> QRectF:
        painter.setPen(self._pen(line, at))
        bounds = QRectF()
        for part in whole_stretches(np.isfinite(line.ys)):
            points = self.polygon(line.xs[part], line.ys[part])
            painter.drawPolyline(points)
            bounds = bounds.united(points.boundingRect())
        return bounds

    def _name_lines(self, painter: QPainter, area: QRectF) -> None:
        """The name at the end of each line, pushed apart where they would lie on each other."""
        if self._picture is None:
            return
        ends = []
        for at, line in enumerate(self._picture.lines):
            good = np.flatnonzero(np.isfinite(line.ys))
            if good.size:
                ends.append((self.place(line.xs[good[-1]], line.ys[good[-1]]), line, at))
        ends.sort(key=lambda end: end[0].y())
        height = QFontMetricsF(painter.font()).lineSpacing()
        tops = [min(max(end.y() - height / 2, area.top()), area.bottom() - height) for end, _, _ in ends]
        for at, (above, below) in enumerate(pairwise(tuple(tops))):
            if below < tops[at] + height:
                tops[at + 1] = max(tops[at] + height, above)
        excess = max(tops[-1] + height - area.bottom(), 0.0) if tops else 0.0
        for top, (end, line, at) in zip(tops, ends, strict=True):
            pen = self._pen(line, at)
            painter.setPen(QPen(pen.color(), 1.0))
            left = max(x.x() for x, _, _ in ends) + 10
            middle = top - excess + height / 2
            painter.drawLine(end, QPointF(left - 2, middle))
            room = area.right() - left - 2
            text = QFontMetricsF(painter.font()).elidedText(line.name, Qt.TextElideMode.ElideRight, room)
            painter.drawText(QRectF(left, top - excess, room, height), Qt.AlignmentFlag.AlignVCenter, text)

    def _mark(self, painter: QPainter, area: QRectF) -> None:
        if self._picture is None:
            return
        for mark in self._picture.crossings:
            at = self.place(mark.x, mark.y)
            painter.setPen(QPen(self._theme.limit, 1.0, Qt.PenStyle.DashLine))
            painter.drawLine(at, QPointF(at.x(), area.bottom()))
            size = size_of(painter, mark.text)
            left = at.x() + 4 if at.x() + 4 + size.width() < area.right() else at.x() - 4 - size.width()
            self.label(
                painter, _at(size, left, area.bottom() - size.height() - 2), mark.text, self._theme.limit
            )
        today = self.today()
        if today is not None:
            painter.setPen(QPen(self._theme.paper, 2.0))
            painter.setBrush(self._theme.construction if self.stale else self._theme.accent)
            painter.drawEllipse(today, POINT, POINT)
            painter.setBrush(Qt.BrushStyle.NoBrush)

    def _read_off(self, painter: QPainter, area: QRectF, occupied: list[QRectF]) -> None:
        if self._picture is None or self._hover is None or self.stale:
            return
        line = self._picture.lines[0]
        if not line.xs[0] <= self._hover <= line.xs[-1]:
            return
        x = self.place(self._hover, 0.0).x()
        painter.setPen(QPen(self._theme.halo, 1.0, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        text = self._picture.reading(self._hover)
        size = size_of(painter, text)
        left = x + 10 if x + 10 + size.width() < area.right() else x - 10 - size.width()
        box = _at(size, left, area.top() + 6)
        self.label(painter, box, text, self._theme.ink, self._theme.halo)

    def _remark(self, painter: QPainter, area: QRectF) -> None:
        if self._picture is not None and self._picture.remarks:
            text = "\n".join(self._picture.remarks)
            size = size_of(painter, text)
            self.label(
                painter, _at(size, area.left() + 6, area.bottom() - size.height() - 6), text, self._theme.stop
            )


def whole_stretches(known: NDArray[np.bool_]) -> list[slice]:
    """The stretches without a gap: a place that is not judged is never drawn across."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], known, [False]]).astype(int)))
    return [slice(int(begin), int(end)) for begin, end in zip(edges[::2], edges[1::2], strict=True)]


def _at(size: QRectF, left: float, top: float) -> QRectF:
    return QRectF(left, top, size.width(), size.height())
