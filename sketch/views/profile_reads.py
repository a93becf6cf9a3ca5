"""Readings on the pressure profile: a ringed dot with its band, and what was expected as a hollow bar."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from sketch.look.colours import Theme
from sketch.views.profile import Read

DOT, BAR = 4.0, 5.0  # logical pixels: half a dot; half the width of the bar


def paint_reads(
    painter: QPainter, place: Callable[[float, float], QPointF], reads: tuple[Read, ...], theme: Theme
) -> list[tuple[Read, QPointF]]:
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
