"""What the plots have in common: axes in the theme, and places in pixels. Importing this loads pyqtgraph."""

from __future__ import annotations

import math

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from sketch.look.appearance import theme_of
from sketch.look.colours import Theme
from solver.quantities.units import MINUS

PAD = 4.0


class Axis(pg.AxisItem):  # type: ignore[misc]  # pyqtgraph ships no types
    """An axis whose figures have the minus sign that all others on the screen have."""

    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        """The figures at these places."""
        texts: list[str] = super().tickStrings(values, scale, spacing)
        return [text.replace("-", MINUS) for text in texts]


class ShortAxis(Axis):
    """An axis with figures no further than the lines go."""

    _end = math.inf

    def end_at(self, end: float) -> None:
        """Have no figure past that place."""
        if end != self._end:
            self._end = end
            self.picture = None
            self.update()

    def tickValues(self, low: float, high: float, size: float) -> list[tuple[float, list[float]]]:
        """The places of ticks by their spacing."""
        levels: list[tuple[float, list[float]]] = super().tickValues(low, high, size)
        most = self._end + 1e-9 * abs(self._end)
        return [(spacing, [at for at in values if at <= most]) for spacing, values in levels]


class PressureAxis(Axis):
    """An axis of absolute pressures: it has no figure below zero, though the plot may reach there."""

    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[float, list[float]]]:
        """The places of ticks by their spacing."""
        levels: list[tuple[float, list[float]]] = super().tickValues(minVal, maxVal, size)
        return [(spacing, [at for at in values if at >= -1e-9]) for spacing, values in levels]


class Plot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph ships no types
    """Axes by pyqtgraph; what they show is painted over them in pixels."""

    SIDES: tuple[str, ...] = ("left", "bottom")
    _ready = False  # Qt calls `changeEvent` before `__init__` is through

    def __init__(self, parent: QWidget | None = None, axes: dict[str, pg.AxisItem] | None = None) -> None:
        super().__init__(parent, axisItems={side: Axis(side) for side in self.SIDES} | (axes or {}))
        self._upright: dict[str, str] = {}  # names of upright axes
        self._upright_shown: dict[str, tuple[str, float]] = {}  # each with the room that it had
        self._theme: Theme = theme_of(self.palette())
        self.setMenuEnabled(False)
        self.hideButtons()
        self.setMouseTracking(True)
        self.setFrameShape(pg.PlotWidget.Shape.NoFrame)
        self.getPlotItem().setContentsMargins(0, 2 * PAD, 0, 0)  # half of the uppermost figure
        self.getViewBox().setDefaultPadding(0.0)
        for side in self.SIDES:
            self.showAxis(side)
        self.getViewBox().sigResized.connect(self._fit_upright)
        self._dress()
        self._ready = True

    def _dress(self) -> None:
        self._theme = theme_of(self.palette())
        self.setBackground(self._theme.paper)
        for side in self.SIDES:
            axis = self.getAxis(side)
            axis.setPen(self._theme.construction)
            axis.setTextPen(self._theme.ink)
            axis.setStyle(tickFont=self.font(), tickLength=-4)

    def name_upright(self, side: str, name: str) -> None:
        """Name an upright axis: by its unit alone where the plot is too low for all of it."""
        self._upright[side] = name
        self._fit_upright()

    def _fit_upright(self, *_: object) -> None:
        room = self.getViewBox().sceneBoundingRect().height()
        for side, name in self._upright.items():
            if self._upright_shown.get(side) == (name, room):
                continue
            self._upright_shown[side] = name, room
            axis = self.getAxis(side)
            axis.setLabel(name)
            if axis.label.boundingRect().width() > room + 6 * PAD:  # there is margin above, and axis below
                axis.setLabel(name.rpartition(", ")[2])
            axis.resizeEvent()  # puts it in the middle, which a new text does not

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._ready:
            self._dress()

    def place(self, x: float, y: float) -> QPointF:
        """The pixel of a point, in the units of the axes."""
        pixel: QPointF = self.getViewBox().mapViewToScene(QPointF(x, y))
        return pixel

    def places(self, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> list[QPointF]:
        """The pixels of many points, in a small part of the time that `place` takes for each."""
        origin, unit = self.place(0.0, 0.0), self.place(1.0, 1.0) - self.place(0.0, 0.0)
        across = (origin.x() + np.asarray(xs) * unit.x()).tolist()
        up = (origin.y() + np.asarray(ys) * unit.y()).tolist()
        return [QPointF(x, y) for x, y in zip(across, up, strict=True)]

    def polygon(self, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> QPolygonF:
        """A line through many points, in pixels."""
        return QPolygonF(self.places(xs, ys))

    def label(
        self, painter: QPainter, box: QRectF, text: str, ink: QColor, rim: QColor | None = None
    ) -> None:
        """Write a label on paper of its own."""
        painter.fillRect(box, self._theme.paper)
        if rim is not None:
            painter.setPen(QPen(rim, 1.0))
            painter.drawRect(box)
        painter.setPen(ink)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def size_of(painter: QPainter, text: str) -> QRectF:
    """The room that a label of one or more lines takes."""
    metrics = QFontMetricsF(painter.font())
    lines = text.split("\n")
    width = max(metrics.horizontalAdvance(line) for line in lines)
    return QRectF(0, 0, width + 2 * PAD, metrics.lineSpacing() * len(lines) + PAD)
