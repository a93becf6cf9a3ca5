"""A painter with a scale: line widths, dashes and type in logical pixels, the same on screen and on paper.

Widths are multiplied by `dot` here and nowhere else; nothing is cosmetic, so a page looks like the screen.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QGuiApplication, QPainter, QPen, QPolygonF

from sketch.labels import Box
from sketch.view import XY
from sketch.words import pieces
from solver import units
from solver.units import Kind, System

SMALL, BODY, LARGE = 11.0, 13.0, 20.0
"""The two text sizes and the large one, in logical pixels."""

DASH = (6.0, 4.0)
HIDDEN = (3.0, 3.0)
CHAIN = (10.0, 3.0, 2.0, 3.0)


def shown(si: float, kind: Kind, system: System) -> str:
    """A value with its unit, as set in type: with a minus sign where a file has a hyphen."""
    return units.show(si, kind, system).replace("-", "\N{MINUS SIGN}")


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
def _advance(text: str, family: str, pixels: int, bold: bool) -> float:
    return _metrics(family, pixels, bold).horizontalAdvance(text)


class Ruler:
    """Measures type at a scale, with no painter."""

    def __init__(self, dot: float = 1.0) -> None:
        self.dot = dot
        self._family = QGuiApplication.font().family()

    def width(self, text: str, size: float = SMALL, *, bold: bool = False) -> float:
        """How wide a text is, in device units."""
        return _advance(text, self._family, max(round(size * self.dot), 1), bold)

    def height(self, size: float = SMALL) -> float:
        """The height of a line of text, in device units."""
        return _metrics(self._family, max(round(size * self.dot), 1), False).height()

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
        self.sheet = sheet  # what is drawn piece by piece need not go beyond it
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def pen(
        self, colour: QColor, width: float = 1.0, dash: Sequence[float] = (), *, mitre: bool = True
    ) -> None:
        """The stroke used from here on."""
        made = QPen(colour, width * self.dot)
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
        made.setJoinStyle(Qt.PenJoinStyle.MiterJoin if mitre else Qt.PenJoinStyle.RoundJoin)
        if dash:
            made.setDashPattern([length / width for length in dash])
        self.painter.setPen(made)

    def lines(
        self,
        lines: Iterable[tuple[XY, XY]],
        colour: QColor,
        width: float = 1.0,
        dash: Sequence[float] = (),
    ) -> None:
        """Separate straight lines, in one call."""
        self.segments([QLineF(a[0], a[1], b[0], b[1]) for a, b in lines], colour, width, dash)

    def segments(
        self, made: list[QLineF], colour: QColor, width: float = 1.0, dash: Sequence[float] = ()
    ) -> None:
        """The same for lines made before."""
        if made:
            self.pen(colour, width, dash)
            self.painter.drawLines(made)

    def polyline(self, points: Sequence[XY]) -> None:
        """A line through points, with the pen as it is."""
        if len(points) == 2:
            (ax, ay), (bx, by) = points
            self.painter.drawLine(QLineF(ax, ay, bx, by))
        else:
            self.painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in points]))

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
        if edge is None:
            self.painter.setPen(Qt.PenStyle.NoPen)
        else:
            self.pen(edge, width, mitre=mitre)
        self.painter.setBrush(Qt.BrushStyle.NoBrush if fill is None else QBrush(fill))
        self.painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points]))

    def circle(
        self, x: float, y: float, radius: float, fill: QColor | None, edge: QColor, width: float
    ) -> None:
        """A circle about (x, y)."""
        self.pen(edge, width)
        self.painter.setBrush(Qt.BrushStyle.NoBrush if fill is None else QBrush(fill))
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
        if edge is None:
            self.painter.setPen(Qt.PenStyle.NoPen)
        else:
            self.pen(edge, width)
        self.painter.setBrush(Qt.BrushStyle.NoBrush if fill is None else QBrush(fill))
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
        metrics = _metrics(self._family, pixels, bold)
        left = x - align * self.width(text, size, bold=bold) if align else x
        self.painter.setFont(_font(self._family, pixels, bold))
        self.painter.setPen(colour)
        self.painter.drawText(QPointF(left, y + (metrics.ascent() - metrics.descent()) / 2), text)
