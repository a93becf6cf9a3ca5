"""The plot of the curves. Importing this module loads pyqtgraph."""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from sketch.look.colours import blend
from sketch.plots.curves import BandRole, CurveBand, CurveLine, CurvesPicture, LineRole, whole_stretches
from sketch.plots.curves_labels import CurvesLabels
from sketch.plots.plot import Plot, ShortAxis

NEAR = 14.0  # how near the pointer must come to take hold of today's point
POINT = 6.0
LABELS = 190.0  # of the plot's width, for the names at the end of the lines
DASHES = ([6.0, 3.0], [2.0, 2.0], [8.0, 3.0, 2.0, 3.0], [4.0, 4.0], [1.0, 3.0])


class CurvesPlot(Plot):
    """Axes by pyqtgraph; bands, lines and figures painted over them in pixels.

    What is varied is named where its axis ends: a line of its own under the figures would take a fifth of the
    plot, which is low.
    """

    dragged = Signal(float)  # today's point, to a place on the level axis [shown unit]
    let_go = Signal()
    given_up = Signal()

    _picture: CurvesPicture | None = None  # Qt resizes before `__init__` is through

    def __init__(self, parent: QWidget | None = None) -> None:
        self._across_axis = ShortAxis("bottom")
        super().__init__(parent, {"bottom": self._across_axis})
        self._hover: float | None = None
        self.draggable = False
        self.dragging = False
        self.stale = False
        self.setMouseEnabled(False, False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_picture(self, shown: CurvesPicture) -> None:
        """Show these curves; the axes stay while today's point is dragged."""
        self._picture = shown
        self.stale = False
        self._across_axis.end_at(self._end_of_lines())
        self.name_upright("left", shown.y_label)
        if not self.dragging:
            self.fit()
        self.viewport().update()

    def _end_of_lines(self) -> float:
        lines = self._picture.lines if self._picture is not None else ()
        return max((float(line.xs[-1]) for line in lines), default=0.0)

    def grey(self) -> None:
        """Say that the drawing has changed under the curves."""
        if not self.stale:  # or every frame of a drag would paint them once more
            self.stale = True
            self.viewport().update()

    def fit(self) -> None:
        """Show every line whole, with room for their names."""
        if self._picture is None:
            return
        xs = [float(line.xs[0]) for line in self._picture.lines]
        ys = np.concatenate([line.ys[np.isfinite(line.ys)] for line in self._picture.lines])
        if not ys.size:
            return
        low, high = min(float(ys.min()), 0.0), max(float(ys.max()), 0.0)
        room = 0.08 * (high - low or 1.0)
        share = min(LABELS / max(self.width() - LABELS, LABELS), 0.6)
        end = self._end_of_lines() + share * (self._end_of_lines() - min(xs))
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
        for at, line in enumerate(self._picture.lines):
            self._draw(painter, line, at)
        labels = CurvesLabels(self, painter, self._picture, self._theme)
        labels.write(lambda line: self._pen(line, 0).color())
        self._paint_today(painter)
        if self._hover is not None and not self.stale:
            labels.read_off(self._picture.today.x if self.dragging else self._hover)
        painter.restore()
        labels.name_across(self._end_of_lines())

    def _fill(self, painter: QPainter, band: CurveBand, area: QRectF) -> None:
        for part in whole_stretches(np.isfinite(band.low) & np.isfinite(band.high)):
            self._fill_stretch(painter, band, part, area)

    def _fill_stretch(self, painter: QPainter, band: CurveBand, part: slice, area: QRectF) -> None:
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
        fill = QColor(colour)
        fill.setAlphaF(0.12)  # or one band would hide the edge of another
        painter.setBrush(fill)
        painter.drawPolygon(QPolygonF([*low, *reversed(high)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 1.5))
        if band.role == BandRole.UNSURE:
            painter.setPen(QPen(colour, 1.0, Qt.PenStyle.DotLine))
            painter.drawPolyline(QPolygonF(low))
        edge = low if band.high[part][0] > 1e8 else high
        painter.drawPolyline(QPolygonF(edge))

    def _shade(self, painter: QPainter, area: QRectF) -> None:
        """Hatch where flow is neither laminar nor turbulent."""
        if self._picture is None:
            return
        for low, high in self._picture.between:
            left, right = self.place(low, 0.0).x(), self.place(high, 0.0).x()
            box = QRectF(left, area.top(), right - left, area.height())
            painter.fillRect(box, QBrush(self._theme.construction, Qt.BrushStyle.BDiagPattern))

    def _shade_gaps(self, painter: QPainter, area: QRectF) -> None:
        """Grey what is not judged, between two dotted lines."""
        if self._picture is None:
            return
        for gap in self._picture.gaps:
            left, right = self.place(gap.low, 0.0).x(), self.place(gap.high, 0.0).x()
            box = QRectF(left, area.top(), right - left, area.height())
            painter.fillRect(box, blend(self._theme.construction, self._theme.paper, 0.16))
            painter.setPen(QPen(self._theme.construction, 1.0, Qt.PenStyle.DotLine))
            painter.drawLine(box.topLeft(), box.bottomLeft())
            painter.drawLine(box.topRight(), box.bottomRight())

    def _pen(self, line: CurveLine, at: int) -> QPen:
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

    def _draw(self, painter: QPainter, line: CurveLine, at: int) -> None:
        painter.setPen(self._pen(line, at))
        for part in whole_stretches(np.isfinite(line.ys)):
            painter.drawPolyline(self.polygon(line.xs[part], line.ys[part]))

    def _paint_today(self, painter: QPainter) -> None:
        today = self.today()
        if today is not None:
            painter.setPen(QPen(self._theme.paper, 2.0))
            painter.setBrush(self._theme.construction if self.stale else self._theme.accent)
            painter.drawEllipse(today, POINT, POINT)
            painter.setBrush(Qt.BrushStyle.NoBrush)
