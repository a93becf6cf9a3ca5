"""What is written on the plot of the curves, each text clear of the curves and of the texts before it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from sketch.drawing.separation import separated
from sketch.look.colours import Theme
from sketch.plots.clearance import DrawnLine, covered
from sketch.plots.curves import BandRole, CurveBand, CurveLine, CurvesPicture, LineRole, whole_stretches
from sketch.plots.plot import Plot, size_of

NOT_JUDGED, TRANSITIONAL = "not judged", "transitional"
FAR = 1e8  # what an open side of a band lies beyond, in any unit
FEW = 8  # values of a curve from one to the next that labels look at
ASIDE = 10.0  # from the end of the lines to their names
LAST_FIGURE = 26.0  # of an axis: half of it, and a gap

Floats = NDArray[np.float64]


class CurvesLabels:
    """The texts of one painting of a picture."""

    def __init__(self, plot: Plot, painter: QPainter, picture: CurvesPicture, theme: Theme) -> None:
        self._plot, self._painter, self._picture, self._theme = plot, painter, picture, theme
        self.area: QRectF = plot.getViewBox().sceneBoundingRect()
        self.occupied: list[QRectF] = []
        self._runs = DrawnLine(self._ends_of_runs())

    def write(self, colour_of: Callable[[CurveLine], QColor]) -> None:
        """Write all of them but what is read off; a name has the colour of its line."""
        self.name_lines(colour_of)
        self._mark_crossings()
        self._name_bands()
        self._name_stretches()
        self._remark()

    def _ends_of_runs(self) -> Iterator[tuple[float, float, float, float]]:
        """Curves and edges of bands in pixels, by a few of their values, for labels to keep clear of."""
        edges = [(band.xs, ys) for band in self._picture.bands for ys in (band.low, band.high)]
        for xs, ys in (*((line.xs, line.ys) for line in self._picture.lines), *edges):
            for part in whole_stretches(np.isfinite(ys) & (np.abs(ys) < FAR)):
                at = np.unique(np.append(np.arange(part.start, part.stop, FEW), part.stop - 1))
                for a, b in pairwise(self._plot.places(xs[at], ys[at])):
                    yield a.x(), a.y(), b.x(), b.y()

    def _write(self, box: QRectF, text: str, ink: QColor) -> None:
        self._plot.label(self._painter, box, text, ink)
        self.occupied.append(box)

    def _clearest(self, boxes: Sequence[QRectF]) -> QRectF:
        """The first of the places that cover least of what is written, and then no curve."""
        return min(boxes, key=lambda box: (covered(box, self.occupied), self._runs.crosses(box)))

    def name_lines(self, colour_of: Callable[[CurveLine], QColor]) -> None:
        """The name at the end of each line, apart from the others; of cases as many as there is room for."""
        ends, metrics = [], QFontMetricsF(self._painter.font())
        for line in self._picture.lines:
            good = np.flatnonzero(np.isfinite(line.ys))
            if good.size:
                ends.append((self._plot.place(line.xs[good[-1]], line.ys[good[-1]]), line))
        height = metrics.lineSpacing()
        ends = sorted(ends, key=lambda end: end[1].role == LineRole.CASE)[: int(self.area.height() // height)]
        ends.sort(key=lambda end: end[0].y())
        middles = separated(
            [end.y() for end, _ in ends], [height] * len(ends), self.area.top(), self.area.bottom()
        )
        left = max((end.x() for end, _ in ends), default=0.0) + ASIDE
        for middle, (end, line) in zip(middles, ends, strict=True):
            short = end.x() < left - 2 * ASIDE  # of the others, and what leads to its name is no curve
            style = Qt.PenStyle.DotLine if short else Qt.PenStyle.SolidLine
            self._painter.setPen(QPen(colour_of(line), 1.0, style))
            self._painter.drawLine(end, QPointF(left - 2, middle))
            box = QRectF(left, middle - height / 2, self.area.right() - left - 2, height)
            text = metrics.elidedText(line.name, Qt.TextElideMode.ElideRight, box.width())
            self._painter.setPen(colour_of(line))
            self._painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)
            self.occupied.append(box)

    def _mark_crossings(self) -> None:
        """Where the limit is crossed, with its figure."""
        for mark in self._picture.crossings:
            at = self._plot.place(mark.x, mark.y)
            self._painter.setPen(QPen(self._theme.limit, 1.0, Qt.PenStyle.DashLine))
            self._painter.drawLine(at, QPointF(at.x(), self.area.bottom()))
            size = size_of(self._painter, mark.text)
            low = self.area.bottom() - size.height() - 2
            high = max(at.y() - size.height() - 6, self.area.top())
            sides = (at.x() + 4, at.x() - 4 - size.width())
            places = [_at(size, left, top) for top in (low, high) for left in sides]
            self._write(self._clearest(places), mark.text, self._theme.limit)
            self.occupied.append(QRectF(at, QPointF(at.x(), self.area.bottom())).adjusted(-2, 0, 2, 0))

    def _name_bands(self) -> None:
        """What a band means, at one of its ends, where there is room for it beside the curves."""
        for band in self._picture.bands:
            if band.role == BandRole.UNSURE:
                continue
            for box in self._inside(band, size_of(self._painter, band.text)):
                if not self._runs.crosses(box) and not covered(box, self.occupied):
                    over = band.role == BandRole.OVER
                    self._painter.setPen(self._theme.limit if over else self._theme.caution)
                    self._painter.drawText(box, Qt.AlignmentFlag.AlignCenter, band.text)
                    self.occupied.append(box)
                    break

    def _inside(self, band: CurveBand, size: QRectF) -> Iterator[QRectF]:
        """Places for a text inside the edges of a band, left and right, where it is tall enough."""
        known = np.flatnonzero(np.isfinite(band.low) & np.isfinite(band.high))
        for at, aside in ((known[:1], 6.0), (known[-1:], -6.0 - size.width())):
            for low, high in zip(
                self._plot.places(band.xs[at], band.low[at]),
                self._plot.places(band.xs[at], band.high[at]),
                strict=True,
            ):
                top, bottom = max(high.y(), self.area.top()) + 1, min(low.y(), self.area.bottom()) - 1
                rows = _rows(top, bottom, size.height())
                for y in rows if high.y() >= self.area.top() else reversed(rows):
                    yield _at(size, low.x() + aside, y)

    def _name_stretches(self) -> None:
        """What is shaded across the paper, where there is room for its name."""
        stretches = [(low, high, TRANSITIONAL) for low, high in self._picture.between]
        stretches += [(gap.low, gap.high, NOT_JUDGED) for gap in self._picture.gaps]
        for low, high, text in stretches:
            size = size_of(self._painter, text)
            left, right = (self._plot.place(end, 0.0).x() for end in (low, high))
            if right - left > size.width() and self.area.height() > size.height() + 4:
                sides = ((left + right - size.width()) / 2, left + 2, right - size.width() - 2)
                rows = _rows(self.area.top() + 2, self.area.bottom() - 2, size.height())
                places = [_at(size, side, top) for top in (rows[0], *reversed(rows)) for side in sides]
                self._write(self._clearest(places), text, self._theme.quiet)

    def _remark(self) -> None:
        """What is left out, and why."""
        if self._picture.remarks:
            text = "\n".join(self._picture.remarks)
            size = size_of(self._painter, text)
            box = _at(size, self.area.left() + 6, self.area.bottom() - size.height() - 6)
            self._write(box, text, self._theme.stop)

    def read_off(self, at: float) -> None:
        """Write what every line comes to at a place of the level axis."""
        line = self._picture.lines[0]
        if not line.xs[0] <= at <= line.xs[-1]:
            return
        x = self._plot.place(at, 0.0).x()
        self._painter.setPen(QPen(self._theme.halo, 1.0, Qt.PenStyle.DotLine))
        self._painter.drawLine(QPointF(x, self.area.top()), QPointF(x, self.area.bottom()))
        text = self._picture.reading(at)
        size = size_of(self._painter, text)
        left = x + 10 if x + 10 + size.width() < self.area.right() else x - 10 - size.width()
        box = _at(size, left, self.area.top() + 6)
        self._plot.label(self._painter, box, text, self._theme.ink, self._theme.halo)

    def name_across(self, end: float) -> None:
        """What is varied, right of the last figure of its axis; `end`: where the lines end [shown unit]."""
        axis = self._plot.getAxis("bottom").sceneBoundingRect()
        left = self._plot.place(end, 0.0).x() + LAST_FIGURE
        box = QRectF(left, axis.top(), max(self.area.right() - left - 2, 0.0), axis.height())
        metrics = QFontMetricsF(self._painter.font())
        name = metrics.elidedText(self._picture.x_label, Qt.TextElideMode.ElideMiddle, box.width())
        self._painter.setPen(self._theme.ink)
        self._painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, name)


def _rows(top: float, bottom: float, height: float) -> list[float]:
    """Where the tops of texts may lie between two heights, in steps of half a text, down to the last."""
    room = bottom - top - height
    return [] if room < 0 else [top + 0.5 * height * step for step in range(int(2 * room / height) + 1)]


def _at(size: QRectF, left: float, top: float) -> QRectF:
    return QRectF(left, top, size.width(), size.height())
