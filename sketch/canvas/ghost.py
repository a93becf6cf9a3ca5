"""A change that is pointed at, painted over the drawing: what is other than it is drawn, and what goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from sketch.drawing.view import View
from sketch.look.colours import Theme, blend
from solver.geometry import outline
from solver.layout.parts import Layout, Point, Run

RING = 11.0  # round a part that is new or other than drawn
INSIDE = 0.25  # of the accent within a line
LEAST = 3.0  # width of the thinnest line
FADED = 14.0  # round a part that goes
FADE = 0.7  # of the paper over what goes


def paint_ghost(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    """Paint what `changed` has that `layout` has not, or has otherwise; what it has no more is faded."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _fade_runs(painter, view, layout, changed, theme)
    _fade_parts(painter, view, layout, changed, theme)
    _paint_runs(painter, view, layout, changed, theme)
    _paint_parts(painter, view, layout, changed, theme)
    _paint_levels(painter, view, layout, changed, theme)


def _fade_runs(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    for name, run in layout.runs.items():
        new = changed.runs.get(name)
        if new is None or _places(layout, run) != _places(changed, new):
            way = QPolygonF([_at(view, each) for each in _places(layout, run)])
            width = max(outline.bore(run) * view.scale, LEAST * view.dot) + 4.0 * view.dot
            painter.setPen(QPen(_faded(theme), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
            painter.drawPolyline(way)


def _fade_parts(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(_faded(theme))
    for old, new in _groups(layout, changed):
        for name in old:
            if name not in new or changed.joint(name).at != layout.joint(name).at:
                painter.drawEllipse(_at(view, layout.joint(name).at), FADED * view.dot, FADED * view.dot)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _faded(theme: Theme) -> QColor:
    colour = QColor(theme.paper)
    colour.setAlphaF(FADE)
    return colour


def _paint_runs(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    for name, run in changed.runs.items():
        if layout.runs.get(name) == run and _places(layout, run) == _places(changed, run):
            continue
        width = max(outline.bore(run) * view.scale, LEAST * view.dot)
        way = QPolygonF([_at(view, each) for each in _places(changed, run)])
        for colour, wide in (
            (theme.accent, width + 3.0 * view.dot),
            (blend(theme.accent, theme.paper, INSIDE), width),
        ):
            painter.setPen(QPen(colour, wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
            painter.drawPolyline(way)


def _paint_parts(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    dot = view.dot
    painter.setPen(QPen(theme.accent, 2.0 * dot))
    others = [
        (old, name) for old, new in _groups(layout, changed) for name in new if old.get(name) != new[name]
    ]
    for _, name in others:
        painter.drawEllipse(_at(view, changed.joint(name).at), RING * dot, RING * dot)
    named: list[QRectF] = []
    for old, name in others:
        if name not in old or changed.joint(name).at != layout.joint(name).at:
            named.append(_name(painter, name, _at(view, changed.joint(name).at), dot, theme, named))


def _paint_levels(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    painter.setPen(QPen(theme.accent, 2.0 * view.dot, Qt.PenStyle.DashLine))
    for name, tank in changed.reservoirs.items():
        was = layout.reservoirs.get(name)
        if was is None or was == tank:
            continue
        level = was.minimum_level if was.minimum_level == tank.minimum_level else tank.minimum_level
        xs = [x.si for x, _ in tank.outline]
        painter.drawLine(QPointF(*view.device(min(xs), level.si)), QPointF(*view.device(max(xs), level.si)))


def _groups(layout: Layout, changed: Layout) -> tuple[tuple[Mapping[str, object], Mapping[str, object]], ...]:
    """The parts that stand at one place, as they are and as they would be."""
    return (
        (layout.intakes, changed.intakes),
        (layout.fittings, changed.fittings),
        (layout.tees, changed.tees),
        (layout.pumps, changed.pumps),
    )


def _name(
    painter: QPainter, name: str, at: QPointF, dot: float, theme: Theme, named: Sequence[QRectF]
) -> QRectF:
    """The name of a part that is new or stands elsewhere, under its ring; over it where another name is."""
    metrics = painter.fontMetrics()
    under = QRectF(0.0, 0.0, metrics.horizontalAdvance(name) + 6.0 * dot, metrics.height())
    away = QPointF(0.0, RING * dot + under.height() / 2 + 2.0 * dot)
    under.moveCenter(at + away)
    over = QRectF(under)
    over.moveCenter(at - away)
    room = over if any(map(under.intersects, named)) else under
    painter.fillRect(room, theme.paper)
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, name)
    return room


def _places(layout: Layout, run: Run) -> list[Point]:
    return [layout.joint(run.start).at, *run.via, layout.joint(run.end).at]


def _at(view: View, place: Point) -> QPointF:
    return QPointF(*view.device(place[0].si, place[1].si))
