"""What is drawn over the elevation while the hand is on it: handles, guides, the readout at the pointer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QStaticText, QTransform

from sketch.canvas.band import Band
from sketch.canvas.handles import LEAST_STRETCH, Handle, Hold, end_place
from sketch.canvas.snapping import Guide
from sketch.canvas.tool import Spot
from sketch.drawing.remarks import text_box
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme

Line = tuple[str, QColor]

PAD = 6.0
OFFSET = 18.0  # from the pointer to the readout, so that the cursor covers none of it
OVERSHOOT = 14.0
LARGEST_MARK = 20.0
"""Logical pixels from the middle of a handle within which its mark lies."""


def paint_guides(painter: QPainter, view: View, guides: Iterable[Guide], theme: Theme) -> None:
    """Thin lines from what the held thing is in line with, a little past both ends."""
    painter.setPen(QPen(theme.accent, 1.0 * view.dot, Qt.PenStyle.DashLine))
    for guide in guides:
        x1, y1 = view.device(guide.x1, guide.y1)
        x2, y2 = view.device(guide.x2, guide.y2)
        more = OVERSHOOT * view.dot
        if x1 == x2:
            painter.drawLine(QPointF(x1, min(y1, y2) - more), QPointF(x1, max(y1, y2) + more))
        else:
            painter.drawLine(QPointF(min(x1, x2) - more, y1), QPointF(max(x1, x2) + more, y1))


def guide_area(guide: Guide, view: View) -> QRectF:
    """What a guide may cover."""
    (x1, y1), (x2, y2), more = view.device(guide.x1, guide.y1), view.device(guide.x2, guide.y2), OVERSHOOT + 2
    return _around(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2), more * view.dot)


def handle_area(handle: Handle, view: View) -> QRectF | None:
    """What the mark of a handle may cover; None where it is more than a mark."""
    if handle.own is not None or handle.end is not None or handle.hold is Hold.END:
        return None
    x, y = view.device(handle.x, handle.y)
    return _around(x, y, x, y, LARGEST_MARK * view.dot)


def _around(left: float, top: float, right: float, bottom: float, by: float) -> QRectF:
    return QRectF(left - by, top - by, right - left + 2 * by, bottom - top + 2 * by)


def paint_tool(painter: QPainter, view: View, line: Sequence[XY], spot: Spot | None, theme: Theme) -> None:
    """A line in the making, and where the next click would land: ringed on something, else a cross."""
    dot = view.dot
    if len(line) > 1:
        painter.setPen(QPen(theme.accent, 3.0 * dot, Qt.PenStyle.DashLine))
        painter.drawPolyline([QPointF(*view.device(x, y)) for x, y in line])
    if spot is None:
        return
    x, y = view.device(spot.x, spot.y)
    painter.setPen(QPen(theme.accent, 2.0 * dot))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if spot.part or spot.run:
        painter.drawEllipse(QPointF(x, y), 13.0 * dot, 13.0 * dot)
    else:
        size = 8.0 * dot
        painter.drawLine(QPointF(x - size, y), QPointF(x + size, y))
        painter.drawLine(QPointF(x, y - size), QPointF(x, y + size))
    paint_guides(painter, view, spot.guides, theme)


def paint_handles(
    painter: QPainter, view: View, handles: Iterable[Handle], held: Handle | None, theme: Theme
) -> None:
    """Squares on corners, rings round parts and in middles, bars along lines; the held one is filled."""
    for handle in handles:
        if handle.hold is Hold.MIDDLE and 2 * handle.half * view.scale < LEAST_STRETCH * view.dot:
            continue
        active = handle.same(held)
        painter.setPen(QPen(theme.accent, 1.5 * view.dot))
        painter.setBrush(theme.accent if active else theme.paper)
        x, y = view.device(handle.x, handle.y)
        if squares := _squares(handle, view):
            size = (5.0 if active else 4.0) * view.dot
            for x, y in squares:
                painter.drawRect(QRectF(x - size, y - size, 2 * size, 2 * size))
        elif handle.hold is Hold.MIDDLE:
            size = (5.0 if active else 4.0) * view.dot
            painter.drawEllipse(QPointF(x, y), size, size)
        elif handle.hold is Hold.END:
            (x, y), size = end_place(handle, view), (7.0 if active else 6.0) * view.dot
            corners = ((x - size, y), (x, y - size), (x + size, y), (x, y + size))
            painter.drawPolygon([QPointF(*corner) for corner in corners])
        elif handle.own is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(*text_box(handle.own, view)))
        elif handle.hold is Hold.PART:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            size = 17.0 * view.dot
            painter.drawEllipse(QPointF(x, y), size, size)
        elif handle.end is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(theme.accent, (2.5 if active else 1.5) * view.dot))
            painter.drawLine(QPointF(x, y), QPointF(*view.device(*handle.end)))


def _squares(handle: Handle, view: View) -> tuple[XY, ...]:
    """Where squares mark a handle [device]: a corner or the ends of a dimension, whose figure stays whole."""
    if handle.hold in (Hold.CORNER, Hold.OUTLINE, Hold.RETURN, Hold.BAFFLE_TOP):
        return (view.device(handle.x, handle.y),)
    if handle.hold is Hold.DIMENSION and handle.end is not None:
        return view.device(handle.x, handle.y), view.device(*handle.end)
    return ()


def paint_band(painter: QPainter, view: View, band: Band, theme: Theme) -> None:
    """The frame of a rubber band."""
    within = QColor(theme.accent)
    within.setAlphaF(0.10)
    painter.setPen(QPen(theme.accent, 1.0 * view.dot, Qt.PenStyle.DashLine))
    painter.setBrush(within)
    painter.drawRect(QRectF(*band.box(view)))


def paint_readout(
    painter: QPainter, at: QPointF, lines: list[Line], within: QRectF, theme: Theme, dot: float = 1.0
) -> QRectF:
    """A small box of lines near the pointer, kept inside `within`. Returns where it lies."""
    font = painter.font()
    box = readout_area(font, at, lines, within, dot)
    painter.setPen(QPen(theme.construction, dot))
    painter.setBrush(theme.box)
    painter.drawRect(box)
    x, y, line = box.left() + PAD * dot, box.top() + PAD * dot, QFontMetricsF(font).height()
    for text, colour in lines:
        painter.setPen(colour)
        painter.drawStaticText(QPointF(x, y), _laid_out(text, font))
        y += line
    return box


def readout_area(font: QFont, at: QPointF, lines: list[Line], within: QRectF, dot: float = 1.0) -> QRectF:
    """Where the box of lines near the pointer lies, in a font."""
    wide = max(_laid_out(text, font).size().width() for text, _ in lines) + 2 * PAD * dot
    high = len(lines) * QFontMetricsF(font).height() + 2 * PAD * dot
    return readout_box(at, wide, high, within, OFFSET * dot)


@lru_cache(maxsize=16)  # a frame of a drag asks twice how large a line is, and draws it
def _laid_out(text: str, font: QFont) -> QStaticText:
    laid_out = QStaticText(text)
    laid_out.setTextFormat(Qt.TextFormat.PlainText)
    laid_out.prepare(QTransform(), font)
    return laid_out


def readout_box(at: QPointF, wide: float, high: float, within: QRectF, offset: float) -> QRectF:
    """Right of and below the pointer where there is room, else on the other side; never off the sheet."""
    x = at.x() + offset if at.x() + offset + wide <= within.right() else at.x() - offset - wide
    y = at.y() + offset if at.y() + offset + high <= within.bottom() else at.y() - offset - high
    x = max(min(x, within.right() - wide), within.left())
    y = max(min(y, within.bottom() - high), within.top())
    return QRectF(x, y, wide, high)


def cursor(handle: Handle) -> Qt.CursorShape:
    """The pointer over a handle: the ways in which it can be moved."""
    if handle.hold is Hold.LEVEL:
        return Qt.CursorShape.SizeVerCursor
    if handle.hold is Hold.TANK:
        return Qt.CursorShape.ArrowCursor  # most of a sheet may be tank
    if handle.hold in (Hold.END, Hold.MIDDLE):
        return Qt.CursorShape.CrossCursor
    if handle.hold in (Hold.STRETCH, Hold.WALL, Hold.BAFFLE, Hold.DIMENSION):
        return Qt.CursorShape.SizeHorCursor if handle.upright else Qt.CursorShape.SizeVerCursor
    return Qt.CursorShape.SizeAllCursor
