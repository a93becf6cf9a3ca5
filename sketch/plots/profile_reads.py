"""Readings on the pressure profile, with what was expected as a hollow bar; and how sure the port is."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from sketch.look.colours import Theme, blend
from sketch.plots.profile import PlottedReading, Profile

DOT, BAR = 4.0, 5.0  # logical pixels: half a dot; half the width of the bar


def paint_reads(
    painter: QPainter,
    place: Callable[[float, float], QPointF],
    reads: tuple[PlottedReading, ...],
    theme: Theme,
) -> list[tuple[PlottedReading, QPointF]]:
    """Draw each; returns them with the pixel that their label belongs to. `place`: the pixel of a point."""
    drawn = []
    for read in reads:
        colour = theme.stop if read.over else theme.accent
        top, bottom = place(read.x, read.expected[1]), place(read.x, read.expected[0])
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme.quiet, 1.2))
        painter.drawRect(QRectF(top.x() - BAR, top.y(), 2 * BAR, bottom.y() - top.y()))
        high, low = place(read.x, read.shown[1]), place(read.x, read.shown[0])
        painter.setPen(QPen(colour, 2.0))
        painter.drawLine(high, low)
        painter.setBrush(theme.paper)
        middle = (high + low) / 2
        painter.drawEllipse(middle, DOT, DOT)
        drawn.append((read, middle))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    return drawn


def paint_band(
    painter: QPainter,
    place: Callable[[float, float], QPointF],
    shown: Profile,
    theme: Theme,
    area: QRectF,
    crossed: Callable[[QRectF], bool] = lambda box: False,
) -> QRectF:
    """Draw where the port lies in most draws, with the limit's own doubt; returns the box of its label.

    `crossed`: whether the line runs through a rectangle.
    """
    metrics = painter.fontMetrics()
    wide, tall = metrics.horizontalAdvance(shown.band_text) + 6, metrics.height()
    if shown.band is None:
        label = QRectF(area.right() - wide - 3, area.bottom() - tall - 3, wide, tall)
        _write(painter, label, shown.band_text, theme.caution, theme)
        return label
    low, high = (place(shown.stretches[-1].x1, each) for each in shown.band)
    box = QRectF(low.x() - 7, high.y(), 14, max(low.y() - high.y(), 1.0))
    painter.setPen(QPen(theme.accent, 1.0))
    painter.setBrush(blend(theme.accent, theme.paper, 0.35))
    painter.drawRect(box)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    left, floor = min(box.left() - 2, area.right()) - wide, place(0.0, shown.floor).y()
    tops = [box.bottom() + 3, min(box.top(), floor) - 3 - tall]
    tops += [tops[0] + tall * step for step in (1, 2, 3)] + [tops[1] - tall * step for step in (1, 2)]
    places = [QRectF(left, top, wide, tall) for top in tops]
    inside = [each for each in places if area.contains(each)] or places[:1]
    label = next((each for each in inside if not crossed(each)), inside[0])
    _write(painter, label, shown.band_text, theme.accent, theme)
    return label


def _write(painter: QPainter, box: QRectF, text: str, ink: QColor, theme: Theme) -> None:
    painter.fillRect(box, theme.paper)
    painter.setPen(ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def paint_along(
    painter: QPainter, place: Callable[[float, float], QPointF], shown: Profile, theme: Theme
) -> None:
    """Shade between which pressures most draws lie, along the line."""
    if not shown.along:
        return
    low = [place(at, least) for at, least, _ in shown.along]
    high = [place(at, most) for at, _, most in shown.along]
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(blend(theme.accent, theme.paper, 0.2))
    painter.drawPolygon(QPolygonF([*low, *reversed(high)]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.accent, 1.0, Qt.PenStyle.DotLine))
    for edge in (low, high):
        painter.drawPolyline(QPolygonF(edge))
