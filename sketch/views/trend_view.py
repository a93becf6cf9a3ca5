"""How a strainer blocks over the months: its open share by readings of one gauge, each with its band."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.failsafe import Failsafe
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.inspector import diagnostician, forecaster
from sketch.views import trend_scale
from sketch.views.trend_picture import area_of, paint_trend
from solver.field.diagnosis import against_trend
from solver.field.trend import Trend

PAD = 8
NONE_YET = "A trend needs a strainer in the line, and more than one reading of one gauge at one place."
WORKING_OUT = "Working out how much of the strainer was open at each reading…"


class TrendPlot(QWidget):
    """One trend, painted."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._failsafe = Failsafe(self, document)
        self.trend: Trend | None = None
        self.setMinimumHeight(90)
        self.setAccessibleName("Open area of the strainer over time")

    def show_trend(self, trend: Trend | None) -> None:
        """Show this one; None for nothing."""
        self.trend = trend if trend is not None and trend.points else None
        self.setVisible(self.trend is not None)
        self.setAccessibleDescription(trend_scale.words(trend) if trend is not None else "")
        self.update()

    def number_at(self, x: float) -> int | None:
        """The reading, by its number in the file, whose point lies nearest across; None without a trend."""
        if self.trend is None:
            return None
        area, scale = self._area(), trend_scale.scale_of(self.trend)
        away = {each.number: abs(area.x + scale.across(each.when) * area.width - x)
                for each in self.trend.points}  # fmt: skip
        return min(away, key=lambda number: away[number])

    def _area(self) -> Box:
        return area_of(Box(0.0, 0.0, self.width(), self.height()), 1.0)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._failsafe.paint(self._paint)

    def _paint(self, painter: QPainter) -> None:
        pencil, theme = Pencil(painter, 1.0), theme_of(self.palette())
        pencil.box(Box(0.0, 0.0, self.width(), self.height()), theme.paper)
        if self.trend is None:
            return
        paint_trend(pencil, theme, self._area(), self.trend)


class TrendView(QScrollArea):
    """The trends of the pump that is shown, one at a time; worked out only while they are seen. Words
    and plot scroll where they have not the room they need."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._forecaster = forecaster(document)
        self._diagnostician = diagnostician(document)
        self.words = Label()
        self.words.setWordWrap(True)
        self.words.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self.chosen = Choice()
        self.chosen.setAccessibleName("Gauge whose readings are shown over time")
        self.plot = TrendPlot(document)
        inner = QWidget()
        self.setWidget(inner)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.chosen, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.words)
        column.addWidget(self.plot, 1)
        column.addStretch(0)
        self.viewport().setAutoFillBackground(False)
        inner.setAutoFillBackground(False)
        self.chosen.activated.connect(self._show_chosen)
        document.changed.connect(self._changed)
        self._forecaster.changed.connect(self._changed)
        self._diagnostician.changed.connect(self._changed)

    def refresh(self) -> None:
        """Take the trends, as far as they are at hand."""
        trends = self._forecaster.trends
        with QSignalBlocker(self.chosen):
            self.chosen.clear()
            self.chosen.addItems([trend_scale.name(trend) for trend in trends or ()])
        self.chosen.setVisible(len(trends or ()) > 1)
        self._show_chosen()

    def _show_chosen(self) -> None:
        trends, at = self._forecaster.trends, self.chosen.currentIndex()
        trend = trends[at] if trends and 0 <= at < len(trends) else None
        self.plot.show_trend(trend)
        if trend is not None:
            text = (f"{trend_scale.name(trend)}. {trend_scale.words(trend)}", *self._against(trend))
            self.words.setText(typographic(" ".join(text)))
        elif self._forecaster.trouble:
            self.words.setText(typographic(f"No trend: {self._forecaster.trouble}."))
        else:
            self.words.setText(NONE_YET if trends is not None else WORKING_OUT)

    def _against(self, trend: Trend) -> Iterator[str]:
        """What speaks against it that this is the strainer's."""
        if trend.grown:
            yield f"Against a blocked strainer: {trend.grown}."
        diagnosis = self._diagnostician.diagnosis
        if diagnosis is not None and (words := against_trend(diagnosis, trend.screen)):
            yield words

    def _changed(self) -> None:
        if self.isVisible():
            self._forecaster.ask()
            if self._forecaster.trends:
                self._diagnostician.ask()
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._changed()
