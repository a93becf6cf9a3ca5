"""A change that is pointed at, painted over the drawing: the parts that are other than they are drawn."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from sketch.drawing.view import View
from sketch.look.colours import Theme, blend
from solver.geometry import outline
from solver.layout.parts import Layout, Point, Run

RING = 11.0  # round a part that is new or other than drawn
INSIDE = 0.25  # of the accent within a line
LEAST = 3.0  # width of the thinnest line


def paint_ghost(painter: QPainter, view: View, layout: Layout, changed: Layout, theme: Theme) -> None:
    """Paint what `changed` has that `layout` has not, or has otherwise: lines, parts and levels."""
    dot = view.dot
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for name, run in changed.runs.items():
        if layout.runs.get(name) != run or _ends_moved(layout, changed, run):
            width = max(outline.bore(run) * view.scale, LEAST * dot)
            way = QPolygonF([_at(view, each) for each in _places(changed, run)])
            for colour, wide in (
                (theme.accent, width + 3.0 * dot),
                (blend(theme.accent, theme.paper, INSIDE), width),
            ):
                painter.setPen(QPen(colour, wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
                painter.drawPolyline(way)
    painter.setPen(QPen(theme.accent, 2.0 * dot))
    groups: tuple[tuple[Mapping[str, object], Mapping[str, object]], ...] = (
        (layout.intakes, changed.intakes),
        (layout.fittings, changed.fittings),
        (layout.tees, changed.tees),
        (layout.pumps, changed.pumps),
    )
    for old, new in groups:
        for name in new:
            if old.get(name) != new[name]:
                painter.drawEllipse(_at(view, changed.joint(name).at), RING * dot, RING * dot)
    painter.setPen(QPen(theme.accent, 2.0 * dot, Qt.PenStyle.DashLine))
    for name, tank in changed.reservoirs.items():
        was = layout.reservoirs.get(name)
        if was is None or was == tank:
            continue
        level = was.minimum_level if was.minimum_level == tank.minimum_level else tank.minimum_level
        xs = [x.si for x, _ in tank.outline]
        painter.drawLine(QPointF(*view.device(min(xs), level.si)), QPointF(*view.device(max(xs), level.si)))


def _ends_moved(layout: Layout, changed: Layout, run: Run) -> bool:
    was = layout.runs[run.name]
    return _places(layout, was) != _places(changed, run)


def _places(layout: Layout, run: Run) -> list[Point]:
    return [layout.joint(run.start).at, *run.via, layout.joint(run.end).at]


def _at(view: View, place: Point) -> QPointF:
    return QPointF(*view.device(place[0].si, place[1].si))
