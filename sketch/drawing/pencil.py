"""A painter with a scale: line widths, dashes and type in logical pixels, the same on screen and on paper.

Widths are multiplied by `dot` here and nowhere else; nothing is cosmetic, so a page looks like the screen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import TypeVar

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QGuiApplication,
    QPaintEngine,
    QPainter,
    QPen,
    QPixmap,
    QPolygonF,
    QStaticText,
    QTransform,
)

from sketch.drawing.labels import Box
from sketch.drawing.view import XY
from sketch.look.words import pieces

SMALL, BODY, LARGE = 11.0, 13.0, 20.0
"""The two text sizes and the large one, in logical pixels."""

DASH = (6.0, 4.0)
HIDDEN = (3.0, 3.0)


@lru_cache(maxsize=128)
def _font(family: str, pixels: int, bold: bool) -> QFont:
    font = QFont(family)
    font.setPixelSize(pixels)
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    # A ligature makes "flow" unfindable in a PDF; tabular figures keep a column of numbers in line.
    font.setFeature(QFont.Tag("liga"), 0)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


def font(size: float, dot: float, *, bold: bool = False) -> QFont:
    """The desktop's own font at `size` logical pixels."""
    return _font(QGuiApplication.font().family(), max(round(size * dot), 1), bold)


@lru_cache(maxsize=128)
def _metrics(family: str, pixels: int, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(_font(family, pixels, bold))


@lru_cache(maxsize=8192)
def _advance(text: str, family: str, size: float, bold: bool) -> float:
    return _metrics(family, max(round(size), 1), bold).horizontalAdvance(text)


@lru_cache(maxsize=128)
def _height(family: str, size: float) -> float:
    return _metrics(family, max(round(size), 1), bold=False).height()


@lru_cache(maxsize=128)
def _drop(family: str, pixels: int, bold: bool) -> float:
    """From the middle of a line of text down to its baseline."""
    metrics = _metrics(family, pixels, bold)
    return (metrics.ascent() - metrics.descent()) / 2


@lru_cache(maxsize=2048)
def _laid_out(text: str, family: str, pixels: int, bold: bool) -> tuple[QFont, float, QStaticText]:
    """A text whose glyphs are placed once, not at every repaint, with its font and its rise."""
    text_layout = QStaticText(text)
    text_layout.setTextFormat(Qt.TextFormat.PlainText)
    text_layout.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
    font = _font(family, pixels, bold)
    text_layout.prepare(QTransform(), font)
    return font, _rise(family, pixels, bold), text_layout


@lru_cache(maxsize=128)
def _rise(family: str, pixels: int, bold: bool) -> float:
    """From the middle of a line of text up to the top of its layout."""
    metrics = _metrics(family, pixels, bold)
    return (metrics.ascent() + metrics.descent()) / 2


@lru_cache(maxsize=512)
def _pen(rgba: int, width: float, dash: tuple[float, ...], mitre: bool) -> QPen:
    pen = QPen(QColor.fromRgba(rgba), width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin if mitre else Qt.PenJoinStyle.RoundJoin)
    if dash:
        pen.setDashPattern(dash)
    return pen


@lru_cache(maxsize=256)
def _brush(rgba: int) -> QBrush:
    return QBrush(QColor.fromRgba(rgba))


def polygon_of(points: Iterable[XY]) -> QPolygonF:
    """A closed shape as Qt takes it."""
    return QPolygonF([QPointF(x, y) for x, y in points])


def lines_of(lines: Iterable[tuple[XY, XY]]) -> list[QLineF]:
    """Separate lines as Qt takes them."""
    return [QLineF(ax, ay, bx, by) for (ax, ay), (bx, by) in lines]


T = TypeVar("T")

NO_PEN = Qt.PenStyle.NoPen
NO_BRUSH = Qt.BrushStyle.NoBrush


class Ruler:
    """Measures type at a scale, with no painter."""

    def __init__(self, dot: float = 1.0) -> None:
        self.dot = dot
        self.family = QGuiApplication.font().family()

    def width(self, text: str, size: float = SMALL, *, bold: bool = False) -> float:
        """How wide a text is, in device units."""
        return _advance(text, self.family, size * self.dot, bold)

    def height(self, size: float = SMALL) -> float:
        """The height of a line of text, in device units."""
        return _height(self.family, size * self.dot)

    def wrap(self, text: str, width: float, size: float = SMALL, *, bold: bool = False) -> list[str]:
        """The text broken into lines no wider than `width`, at spaces; a word too long stays whole, and so
        does a figure with its unit."""
        lines: list[str] = []
        for paragraph in text.splitlines():
            line = ""
            for word in pieces(paragraph):
                longer = f"{line} {word}" if line else word
                if line and self.width(longer, size, bold=bold) > width:
                    lines.append(line)
                    line = word
                else:
                    line = longer
            lines.append(line)
        return lines

    def elide(self, text: str, width: float, size: float = SMALL, *, bold: bool = False) -> str:
        """The text, shortened with an ellipsis where it is wider than `width`."""
        if self.width(text, size, bold=bold) <= width:
            return text
        low, high = 0, len(text)
        while low < high:
            middle = (low + high + 1) // 2
            if self.width(text[:middle].rstrip() + "…", size, bold=bold) <= width:
                low = middle
            else:
                high = middle - 1
        return text[:low].rstrip() + "…"


class Pencil(Ruler):
    """Draws on one painter. Colours come from a theme; widths and sizes are in logical pixels."""

    def __init__(self, painter: QPainter, dot: float = 1.0, sheet: Box | None = None) -> None:
        super().__init__(dot)
        self.painter = painter
        self._font: QFont | None = None  # that the painter has
        self._on_screen = painter.paintEngine().type() == QPaintEngine.Type.Raster
        self.sheet = sheet  # what is drawn piece by piece need not go beyond it
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def known(self, what: object, things: tuple[object, ...], make: Callable[[], T]) -> T:
        """What `make` gives, which is the same whenever it is of these very things and `what` is equal."""
        return make()

    def known_each(
        self,
        name: str,
        given: object,
        things: Sequence[tuple[object, ...]],
        make: Callable[..., T],
        *shared: object,
    ) -> list[T]:
        """What `make` gives for each of some things, as `known`; of one list of things for each name."""
        return [make(*thing) for thing in things]

    def repeated_each(
        self,
        name: str,
        given: object,
        things: Sequence[tuple[object, ...]],
        draw: Callable[..., T],
        *shared: object,
    ) -> list[T]:
        """Draw each of some things, as `repeated`; of one list of things for each name."""
        return [draw(self, *thing) for thing in things]

    def repeated(
        self,
        key: object,
        things: tuple[object, ...],
        draw: Callable[[Pencil], T],
        reach: Callable[[], Box] | None = None,
    ) -> T | None:
        """Draw what looks alike whenever it is of these very things and its key is equal.

        reach: gives a box that no stroke of it goes beyond, where that is known; then it may be drawn later.
        Returns what `draw` does, None where that is later.
        """
        return draw(self)

    def fill(self, colour: QColor) -> None:
        """The whole sheet in one colour."""
        if self.sheet is not None:
            self.painter.fillRect(QRectF(*self.sheet), colour)

    def pixmap(self, pixmap: QPixmap) -> None:
        """A picture that covers the sheet."""
        self.painter.drawPixmap(0, 0, pixmap)

    def pen(
        self, colour: QColor, width: float = 1.0, dash: Sequence[float] = (), *, mitre: bool = True
    ) -> None:
        """The stroke used from here on."""
        scaled = tuple([length / width for length in dash]) if dash else ()
        self.painter.setPen(_pen(colour.rgba(), width * self.dot, scaled, mitre))

    def lines(
        self,
        lines: Iterable[tuple[XY, XY]],
        colour: QColor,
        width: float = 1.0,
        dash: Sequence[float] = (),
    ) -> None:
        """Separate straight lines, in one call."""
        self.segments(lines_of(lines), colour, width, dash)

    def segments(
        self, lines: list[QLineF], colour: QColor, width: float = 1.0, dash: Sequence[float] = ()
    ) -> None:
        """Draw lines of one colour and width, as Qt has them."""
        if lines:
            self.pen(colour, width, dash)
            self.painter.drawLines(lines)

    def rules(self, areas: Iterable[QRectF], colour: QColor) -> None:
        """Thin upright or level rectangles that pass for lines."""
        fill = self.painter.fillRect
        for area in areas:
            fill(area, colour)

    def polyline(self, points: Sequence[XY]) -> None:
        """A line through points, with the pen as it is."""
        if len(points) == 2:
            (ax, ay), (bx, by) = points
            self.painter.drawLine(QLineF(ax, ay, bx, by))
        else:
            self.painter.drawPolyline(polygon_of(points))

    def polylines(
        self, lines: Iterable[Sequence[XY]], colour: QColor, width: float, dash: Sequence[float] = ()
    ) -> None:
        """Lines through points, all the straight ones in one call."""
        self.pen(colour, width, dash)
        straight = []
        for points in lines:
            if len(points) == 2:
                (ax, ay), (bx, by) = points
                straight.append(QLineF(ax, ay, bx, by))
            else:
                self.painter.drawPolyline(polygon_of(points))
        if straight:
            self.painter.drawLines(straight)

    def shapes(
        self, paths: Sequence[QPolygonF], fill: QColor, edge: QColor | None, width: float = 1.0
    ) -> None:
        """Closed shapes made before, in order."""
        if paths:
            self._dress(fill, edge, width)
        for polygon in paths:
            self.painter.drawPolygon(polygon)

    def _dress(self, fill: QColor | None, edge: QColor | None, width: float, *, mitre: bool = True) -> None:
        if edge is None:
            self.painter.setPen(NO_PEN)
        else:
            self.pen(edge, width, mitre=mitre)
        self.painter.setBrush(NO_BRUSH if fill is None else _brush(fill.rgba()))

    def polygon(
        self,
        points: Sequence[XY],
        fill: QColor | None,
        edge: QColor | None,
        width: float = 1.0,
        *,
        mitre: bool = True,
    ) -> None:
        """A closed shape, filled and outlined where a colour is given."""
        self._dress(fill, edge, width, mitre=mitre)
        self.painter.drawPolygon(polygon_of(points))

    def circle(
        self, x: float, y: float, radius: float, fill: QColor | None, edge: QColor, width: float
    ) -> None:
        """A circle about (x, y)."""
        self._dress(fill, edge, width)
        self.painter.drawEllipse(QPointF(x, y), radius, radius)

    def box(
        self,
        box: Box,
        fill: QColor | None,
        edge: QColor | None = None,
        width: float = 1.0,
        radius: float = 0.0,
    ) -> None:
        """A rectangle, with rounded corners if asked."""
        area = QRectF(box.x, box.y, box.width, box.height)
        if edge is None and fill is not None and not radius:
            self.painter.fillRect(area, fill)
            return
        self._dress(fill, edge, width)
        if radius:
            self.painter.drawRoundedRect(area, radius * self.dot, radius * self.dot)
        else:
            self.painter.drawRect(area)

    def text(
        self,
        x: float,
        y: float,
        text: str,
        colour: QColor,
        size: float = SMALL,
        *,
        bold: bool = False,
        align: float = 0.0,
    ) -> None:
        """One line of text, its middle at height y; `align` 0, 0.5, 1 puts x at its left, middle, right."""
        pixels = max(round(size * self.dot), 1)
        left = x - align * self.width(text, size, bold=bold) if align else x
        self.painter.setPen(colour)
        if self._on_screen:
            font, rise, laid_out = _laid_out(text, self.family, pixels, bold)
            self._set_font(font)
            self.painter.drawStaticText(QPointF(left, y - rise), laid_out)
        else:
            self._set_font(_font(self.family, pixels, bold))
            self.painter.drawText(QPointF(left, y + _drop(self.family, pixels, bold)), text)

    def _set_font(self, font: QFont) -> None:
        if font is not self._font:  # Qt takes as long for the same one
            self._font = font
            self.painter.setFont(font)
