"""Paints the picture beside the fields of the part card."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from sketch.card.card_picture import (
    LimitPicture,
    LimitStep,
    StepRole,
    ViscosityBound,
    ViscosityMark,
    ViscosityPicture,
    decades,
)
from sketch.look.appearance import theme_of
from sketch.look.colours import Theme
from solver.quantities import units
from solver.quantities.units import Kind, System

Picture = ViscosityPicture | LimitPicture

WIDE, HIGH = 380, 150
LEFT, RIGHT, TOP, BOTTOM = 54.0, 10.0, 28.0, 20.0
"""Logical pixels kept round the curve for its axes and its title."""
LEAST_NAMES = 132.0  # for the names of the steps
FIGURES = 112.0
DOT = 4.0
MARK, HIGH_TEXT = 198.0, 15.0
"""Of a label on the curve: its most width, its height."""


class CardCanvas(QWidget):
    """A picture, or nothing: then it takes no room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._picture: Picture | None = None
        self._system = System.SI
        self.setMinimumSize(WIDE, HIGH)
        self.hide()

    @property
    def picture(self) -> Picture | None:
        """What is shown."""
        return self._picture

    def show_picture(self, picture: Picture | None, system: System) -> None:
        """Show a picture, in a unit system; none hides the widget."""
        if (picture, system) != (self._picture, self._system):
            self._picture, self._system = picture, system
            self.setAccessibleName(_title(picture))
            self.setAccessibleDescription(_words(picture))
            self.update()
        self.setVisible(picture is not None)

    def sizeHint(self) -> QSize:
        return QSize(WIDE, HIGH)

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.update()
        super().changeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), theme_of(self.palette())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), theme.paper)
        if isinstance(self._picture, ViscosityPicture):
            _Curve(painter, self._picture, QRectF(self.rect()), theme, self._system).paint()
        elif self._picture is not None:
            _paint_steps(painter, self._picture, QRectF(self.rect()), theme)
        painter.end()


def _title(picture: Picture | None) -> str:
    if picture is None:
        return ""
    return "Viscosity" if isinstance(picture, ViscosityPicture) else "From the maker's limit to the floor"


def _words(picture: Picture | None) -> str:
    """The picture for those who do not see it."""
    if isinstance(picture, ViscosityPicture):
        return "; ".join([*(mark.text for mark in picture.marks), *(each.text for each in picture.bounds)])
    return "; ".join(f"{step.name} {step.text}" for step in picture.steps) if picture is not None else ""


class _Curve:
    """One viscosity picture on its way to a painter."""

    def __init__(
        self, painter: QPainter, picture: ViscosityPicture, box: QRectF, theme: Theme, system: System
    ) -> None:
        self._painter, self._picture, self._theme, self._system = painter, picture, theme, system
        self._room = box.adjusted(LEFT, TOP, -RIGHT, -BOTTOM)
        self.labels: list[QRectF] = []  # where the bounds and marks have their names
        points = [*picture.curve, *((mark.temperature, mark.viscosity) for mark in picture.marks)]
        self._cold, self._hot = min(T for T, _ in points), max(T for T, _ in points)
        self._thin, self._thick = decades([*(v for _, v in points), *(b.viscosity for b in picture.bounds)])

    def _at(self, temperature: float, viscosity: float) -> QPointF:
        room, span = self._room, max(self._hot - self._cold, 1e-9)
        up = math.log(viscosity / self._thin) / math.log(self._thick / self._thin)
        x = room.left() + (temperature - self._cold) / span * room.width()
        return QPointF(x, room.bottom() - up * room.height())

    def paint(self) -> None:
        """Axes, bounds, curve and marks."""
        self._paint_axes()
        for bound in self._picture.bounds:
            self._paint_bound(bound)
        self._painter.setPen(QPen(self._theme.ink, 1.8))
        self._painter.drawPolyline(QPolygonF([self._at(*point) for point in self._picture.curve]))
        for mark in self._picture.marks:
            self._paint_mark(mark)

    def _paint_axes(self) -> None:
        painter, theme, room = self._painter, self._theme, self._room
        viscosity = self._thin
        while viscosity <= self._thick * 1.001:
            y = self._at(self._cold, viscosity).y()
            painter.setPen(QPen(theme.grid, 1.0))
            painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
            text = units.show(viscosity, Kind.VISCOSITY, self._system).partition(" ")[0]
            self._text(QRectF(0, y - 8, LEFT - 6, 16), text, theme.quiet, Qt.AlignmentFlag.AlignRight)
            viscosity *= 10.0
        unit = units.unit(Kind.VISCOSITY, self._system)
        self._text(QRectF(6, 2, 200, 16), f"viscosity, {unit}", theme.quiet, Qt.AlignmentFlag.AlignLeft)
        for share, side in ((0.0, Qt.AlignmentFlag.AlignLeft), (1.0, Qt.AlignmentFlag.AlignRight)):
            temperature = self._cold + share * (self._hot - self._cold)
            text = units.typeset(temperature, Kind.TEMPERATURE, self._system)
            x = room.left() if share == 0.0 else room.right() - 90
            self._text(QRectF(x, room.bottom() + 3, 90, 16), text, theme.quiet, side)

    def _paint_bound(self, bound: ViscosityBound) -> None:
        theme, room = self._theme, self._room
        colour = theme.stop if bound.stated else theme.caution
        style = Qt.PenStyle.SolidLine if bound.stated else Qt.PenStyle.DashLine
        y = self._at(self._cold, bound.viscosity).y()
        self._painter.setPen(QPen(colour, 1.2, style))
        self._painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
        wide = self._width(bound.text, room.width() - 8)
        right, left = room.right() - 4 - wide, room.left() + 4
        tops = (y - 16, y + 1)
        self._label(bound.text, colour, wide, [(x, top) for x in (right, left) for top in tops])

    def _paint_mark(self, mark: ViscosityMark) -> None:
        theme, at = self._theme, self._at(mark.temperature, mark.viscosity)
        self._painter.setPen(QPen(theme.accent, 1.6))
        self._painter.setBrush(theme.accent if mark.now else theme.paper)
        self._painter.drawEllipse(at, DOT, DOT)
        text = self._fitted(mark)
        wide, after = self._width(text, MARK), at.x() + 8
        before = at.x() - 8 - wide
        columns = (before, after) if at.x() > self._room.center().x() else (after, before)
        rows = (3, -18, 18, 26) if columns[0] == before else (-18, 3, -33, 18)
        places = [(x, at.y() + row) for row in rows for x in columns]
        # The curve falls: it leaves room above its right, and under its left, out to the edges.
        places += [(min(after, self._room.right() - wide), at.y() + row) for row in (-20, -27, -34, -41)]
        places += [(self._room.left() + 2, at.y() + row) for row in (8, 18, 26)]
        self._label(text, theme.ink, wide, places)

    def _fitted(self, mark: ViscosityMark) -> str:
        """The label of a mark, shortened in its names and never in its figure."""
        metrics = self._painter.fontMetrics()
        if metrics.horizontalAdvance(mark.text) + 2.0 <= MARK:
            return mark.text
        figure = f": {mark.figure}"
        room = int(MARK - 4.0 - metrics.horizontalAdvance(figure))
        return metrics.elidedText(mark.short, Qt.TextElideMode.ElideMiddle, room) + figure

    def _width(self, text: str, most: float) -> float:
        return min(self._painter.fontMetrics().horizontalAdvance(text) + 2.0, most)

    def _label(self, text: str, colour: QColor, wide: float, places: list[tuple[float, float]]) -> None:
        """Write at the first place that is free and in the room; else where it covers least."""
        room = self._room.adjusted(0, -HIGH_TEXT, 0, 4)
        boxes = [QRectF(x, y, wide, HIGH_TEXT) for x, y in places]
        boxes = [box for box in boxes if room.contains(box)] or boxes
        box = min(boxes, key=self._covered)
        self.labels.append(box)
        self._text(box, text, colour, Qt.AlignmentFlag.AlignLeft)

    def _covered(self, box: QRectF) -> float:
        """How much a label in that box would cover: of other labels, and less weighty of the curve."""
        crossed = sum(box.contains(self._at(*point)) for point in self._picture.curve)
        return sum(_common(box, other) for other in self.labels) + crossed

    def _text(self, box: QRectF, text: str, colour: QColor, side: Qt.AlignmentFlag) -> None:
        _paint_text(self._painter, box, text, colour, side)


def _common(one: QRectF, other: QRectF) -> float:
    """The area that two boxes share."""
    shared = one.intersected(other)
    return shared.width() * shared.height()


def _paint_text(painter: QPainter, box: QRectF, text: str, colour: QColor, side: Qt.AlignmentFlag) -> None:
    painter.setPen(colour)
    short = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(box.width()))
    painter.drawText(box, int(side | Qt.AlignmentFlag.AlignVCenter), short)


def _paint_steps(painter: QPainter, picture: LimitPicture, box: QRectF, theme: Theme) -> None:
    """A bar for every step, from the pressure before it to that after; an estimate is hatched."""
    title = f"from the maker's limit to the floor, {picture.unit}, to scale"
    _paint_text(painter, QRectF(8, 2, box.width(), 16), title, theme.quiet, Qt.AlignmentFlag.AlignLeft)
    longest = max(painter.fontMetrics().horizontalAdvance(_name(step)) for step in picture.steps)
    room = box.adjusted(max(LEAST_NAMES, longest + 16.0), TOP, -FIGURES, -4.0 - HIGH_TEXT)
    tall = min(room.height() / len(picture.steps), 22.0)
    room.setHeight(tall * len(picture.steps))
    _paint_axis(painter, picture, room, theme)
    for at, (step, span) in enumerate(zip(picture.steps, picture.spans(), strict=True)):
        _paint_step(painter, step, span, room.top() + (at + 0.5) * tall, room, theme)


def _paint_axis(painter: QPainter, picture: LimitPicture, room: QRectF, theme: Theme) -> None:
    """A line at every round pressure, with its figure under the last bar."""
    low, high = picture.ends
    for pressure, text in picture.ticks:
        x = room.left() + (pressure - low) / ((high - low) or 1.0) * room.width()
        painter.setPen(QPen(theme.grid, 1.0))
        painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))
        wide = painter.fontMetrics().horizontalAdvance(text) + 4.0
        below = QRectF(x - wide / 2, room.bottom() + 1, wide, HIGH_TEXT)
        _paint_text(painter, below, text, theme.quiet, Qt.AlignmentFlag.AlignHCenter)


def _name(step: LimitStep) -> str:
    return f"{step.name}, est." if step.estimated else step.name


def _paint_step(
    painter: QPainter,
    step: LimitStep,
    span: tuple[float, float],
    middle: float,
    room: QRectF,
    theme: Theme,
) -> None:
    begin, end = (room.left() + share * room.width() for share in span)
    bar = QRectF(min(begin, end), middle - 5, max(abs(end - begin), 1.5), 10)
    colours = {
        StepRole.SURFACE: theme.level,
        StepRole.LIMIT: theme.construction,
        StepRole.BUDGET: theme.accent,
        # A floor that rises takes from the budget.
        StepRole.CORRECTION: theme.stop if end >= begin else theme.level,
    }
    colour = colours[step.role]
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawRect(bar)
    if step.estimated:
        painter.setBrush(Qt.BrushStyle.BDiagPattern)
        painter.setPen(QPen(theme.paper, 1.0))
        painter.drawRect(bar)
    names = QRectF(8, middle - 8, room.left() - 14, 16)
    _paint_text(painter, names, _name(step), theme.ink, Qt.AlignmentFlag.AlignLeft)
    figures = QRectF(room.right() + 6, middle - 8, FIGURES - 10, 16)
    _paint_text(painter, figures, step.text, theme.ink, Qt.AlignmentFlag.AlignLeft)
