"""Small marks in one weight: how serious a finding is, and the colour of a share."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from sketch.look.colours import Theme, share_colour
from solver.findings.kinds import Grade, Severity

WEIGHT = 1.6  # logical pixels
NOT_JUDGED = "not judged"
"""The mark of what nobody could judge: never that of something good."""


def severity_colour(severity: Severity | Grade | str, theme: Theme) -> QColor:
    """The colour of a finding's mark; "good" is the colour of having none."""
    colour: QColor = {
        "stop": theme.stop,
        "caution": theme.caution,
        "good": theme.good,
        NOT_JUDGED: theme.caution,
    }.get(severity, theme.level)
    return colour


def severity_mark(painter: QPainter, box: QRectF, severity: Severity | Grade | str, theme: Theme) -> None:
    """An octagon for stop, a triangle for caution, a circle for a note, a tick for nothing to report, and a
    question mark for what is not judged."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(_pen(severity_colour(severity, theme)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    draw: Callable[[QPainter, QRectF], None] = {
        "stop": _stop,
        "caution": _caution,
        "good": _tick,
        NOT_JUDGED: _question,
    }.get(severity, _note)
    inset = WEIGHT / 2
    draw(painter, box.adjusted(inset, inset, -inset, -inset))
    painter.restore()


def _pen(colour: QColor) -> QPen:
    return QPen(colour, WEIGHT, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)


def _at(box: QRectF, x: float, y: float) -> QPointF:
    return QPointF(box.left() + x * box.width(), box.top() + y * box.height())


def _stop(painter: QPainter, box: QRectF) -> None:
    radius = box.width() / 2
    corners = [math.radians(22.5 + 45 * step) for step in range(8)]
    centre = box.center()
    painter.drawPolygon(
        QPolygonF([centre + QPointF(radius * math.cos(a), radius * math.sin(a)) for a in corners])
    )
    painter.drawLine(_at(box, 0.28, 0.5), _at(box, 0.72, 0.5))


def _caution(painter: QPainter, box: QRectF) -> None:
    painter.drawPolygon(QPolygonF([_at(box, 0.5, 0.06), _at(box, 1.0, 0.94), _at(box, 0.0, 0.94)]))
    painter.drawLine(_at(box, 0.5, 0.4), _at(box, 0.5, 0.62))
    painter.drawPoint(_at(box, 0.5, 0.78))


def _note(painter: QPainter, box: QRectF) -> None:
    painter.drawEllipse(box)
    painter.drawPoint(_at(box, 0.5, 0.28))
    painter.drawLine(_at(box, 0.5, 0.48), _at(box, 0.5, 0.74))


def _tick(painter: QPainter, box: QRectF) -> None:
    painter.drawEllipse(box)
    painter.drawPolyline(QPolygonF([_at(box, 0.28, 0.52), _at(box, 0.45, 0.68), _at(box, 0.74, 0.34)]))


def _question(painter: QPainter, box: QRectF) -> None:
    painter.drawEllipse(box)
    hook = QPainterPath(_at(box, 0.34, 0.38))
    hook.cubicTo(_at(box, 0.36, 0.14), _at(box, 0.72, 0.2), _at(box, 0.66, 0.42))
    hook.quadTo(_at(box, 0.62, 0.52), _at(box, 0.5, 0.58))
    painter.drawPath(hook)
    painter.drawPoint(_at(box, 0.5, 0.78))


def share_chip(painter: QPainter, box: QRectF, share: float | None, past: bool, theme: Theme) -> None:
    """A square in the colour of a share: hatched for a credit, cross-hatched past the floor."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(theme.casing, 1.0))
    painter.setBrush(share_colour(share, theme))
    painter.drawRect(box)
    if past or (share is not None and share < 0):
        painter.setClipRect(box)
        painter.drawPath(_hatch(box, crossed=past))
    painter.restore()


def _hatch(box: QRectF, *, crossed: bool) -> QPainterPath:
    lines = QPainterPath()
    size = box.width()
    for step in range(1, 6):
        offset = step * size / 3
        lines.moveTo(box.left() + offset, box.top())
        lines.lineTo(box.left() + offset - size, box.top() + size)
        if crossed:
            lines.moveTo(box.right() - offset, box.top())
            lines.lineTo(box.right() - offset + size, box.top() + size)
    return lines
