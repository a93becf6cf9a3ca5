"""How a strainer blocks over the months: its open share by readings of one gauge, each with its band."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from sketch.drawing.labels import Box
from sketch.drawing.pencil import DASH, SMALL, Pencil
from sketch.failsafe import Failsafe
from sketch.look.appearance import theme_of
from sketch.look.choice import Choice
from sketch.look.colours import Theme
from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.inspector import diagnostician, forecaster
from sketch.views import trend_scale
from sketch.views.trend_scale import TimeScale
from solver.field.diagnosis import against_trend
from solver.field.trend import Trend

PAD = 8
LEFT, RIGHT, FOOT, TOP = 44.0, 30.0, 26.0, 22.0
"""Logical pixels that the axes take."""

BETWEEN = 6.0
"""Logical pixels between two dates under the axis."""

NONE_YET = "A trend needs a strainer in the line, and more than one reading of one gauge at one place."
WORKING_OUT = "Working out how much of the strainer was open at each reading…"
SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
GAP, DOT = 4.0, 4.0
"""Logical pixels: round a text, and the radius of a reading."""
LINE = 1.0
"""Logical pixels on either side of a dashed line that it covers."""
STEPS = 12
"""Pieces of the line between two readings, for what it covers."""


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
        return Box(LEFT, TOP, self.width() - LEFT - RIGHT, self.height() - TOP - FOOT)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._failsafe.paint(self._paint)

    def _paint(self, painter: QPainter) -> None:
        pencil, theme = Pencil(painter, 1.0), theme_of(self.palette())
        pencil.box(Box(0.0, 0.0, self.width(), self.height()), theme.paper)
        if self.trend is None:
            return
        area = self._area()
        scale = trend_scale.scale_of(self.trend)
        _axes(pencil, area, scale, self.trend.screen, theme)
        _due(pencil, area, scale, self.trend, theme)
        _points(pencil, area, scale, self.trend, theme)


def _height(area: Box, share: float) -> float:
    return area.bottom - share * area.height


def _axes(pencil: Pencil, area: Box, scale: TimeScale, screen: str, theme: Theme) -> None:
    lines = [((area.x, _height(area, share)), (area.right, _height(area, share))) for share in SHARES]
    pencil.lines(lines, theme.grid)
    close = area.height < (len(SHARES) - 1) * pencil.height(SMALL)
    for share in SHARES[:: 2 if close else 1]:
        pencil.text(area.x - 6.0, _height(area, share), f"{100 * share:.0f} %", theme.quiet, SMALL, align=1.0)
    pencil.text(area.x, area.y - 10.0, f"Open share of {screen}", theme.quiet, SMALL)
    for x, text, written in _ticks(pencil, area, scale):
        pencil.lines([((x, area.bottom), (x, area.bottom + 4.0))], theme.construction)
        if written:
            pencil.text(x, area.bottom + 14.0, text, theme.quiet, SMALL, align=0.5)


def _ticks(pencil: Pencil, area: Box, scale: TimeScale) -> Iterator[tuple[float, str, bool]]:
    """Where each month begins, and whether there is room for its name behind the one before."""
    end = -math.inf
    for at, text in scale.ticks():
        x, half = area.x + at * area.width, pencil.width(text, SMALL) / 2.0
        written = x - half > end
        end = x + half + BETWEEN if written else end
        yield x, text, written


def _due(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """The open share at which a case is over, and the earliest date at which the band may meet it.

    Their words stand there only where they cover no reading: the sentence above the plot has them too.
    """
    if trend.due_share is None:
        return
    y = _height(area, trend.due_share)
    pencil.lines([((area.x, y), (area.right, y))], theme.limit, 1.4, DASH)
    covered = [*_covered(area, scale, trend), Box(area.x, y - LINE, area.width, 2 * LINE)]
    write = partial(_write, pencil, area, covered, theme.limit)
    if trend.earliest is not None:
        x = area.x + scale.across(trend.earliest) * area.width
        pencil.lines([((x, area.y), (x, area.bottom))], theme.limit, 1.2, DASH)
        covered.append(Box(x - LINE, area.y, 2 * LINE, area.height))
        write(f"earliest {trend.earliest:%Y-%m-%d}", (x,), (area.y, area.bottom))
    write("a case is over its limit below this", (area.x, area.right), (y,))


def _write(
    pencil: Pencil,
    area: Box,
    covered: list[Box],
    colour: QColor,
    text: str,
    across: tuple[float, ...],
    heights: tuple[float, ...],
) -> None:
    """Write a text beside what it is of, at the first place that is free, which is covered from now on."""
    wide, high = pencil.width(text, SMALL) + 2 * GAP, pencil.height(SMALL)
    boxes = (
        Box(left, top, wide, high)
        for at in heights
        for top in (at + LINE, at - LINE - high)
        for x in across
        for left in (x + LINE, x - LINE - wide)
    )
    for box in boxes:
        inside = area.x <= box.x and box.right <= area.right and area.y <= box.y and box.bottom <= area.bottom
        if inside and not any(box.overlaps(other) for other in covered):
            pencil.text(box.x + GAP, box.y + high / 2.0, text, colour, SMALL)
            covered.append(box)
            return


def _covered(area: Box, scale: TimeScale, trend: Trend) -> Iterator[Box]:
    """What the readings cover: each with its band, and the line from one to the next."""
    places = [(area.x + scale.across(each.when) * area.width, each) for each in trend.points]
    for x, each in places:
        top = _height(area, each.high)
        yield Box(x - DOT, top - DOT, 2 * DOT, _height(area, each.low) - top + 2 * DOT)
    for (x, one), (next_x, other) in pairwise(places):
        for step in range(STEPS):
            share = one.open_share + (other.open_share - one.open_share) * step / STEPS
            yield Box(x + (next_x - x) * step / STEPS, _height(area, share) - DOT / 2, DOT, DOT)


def _points(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """Each reading with its band; a hollow one where only a bound is known."""
    places = []
    for point in trend.points:
        x = area.x + scale.across(point.when) * area.width
        low, high, y = (_height(area, share) for share in (point.low, point.high, point.open_share))
        pencil.lines([((x, low), (x, high))], theme.accent, 2.0)
        places.append((x, y, point.bound_only))
    pencil.polylines([[(x, y) for x, y, _ in places]], theme.accent, 1.0)
    for x, y, hollow in places:
        pencil.circle(x, y, DOT, theme.paper if hollow else theme.accent, theme.accent, 1.5)


class TrendView(QWidget):
    """The trends of the pump that is shown, one at a time; worked out only while they are seen."""

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
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.chosen, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.words)
        column.addWidget(self.plot, 1)
        column.addStretch(0)
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
