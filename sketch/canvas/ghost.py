"""A change that is pointed at, painted over the drawing: what is other than it is drawn, and what goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF, QRegion

from sketch.drawing import glyphs, symbols
from sketch.drawing.labels import Label
from sketch.drawing.view import View
from sketch.look.colours import Theme, blend
from solver.geometry import outline
from solver.layout.parts import Layout, Point, Run

RING = 11.0  # round a part that is new or other than drawn, where its symbol is no larger
OUTSIDE = 4.0  # of a ring round a symbol that is larger
INSIDE = 0.25  # of the accent within a line
LEAST = 3.0  # width of the thinnest line
STEPS = 4  # heights of a line that a name may stand further off
FADED = 14.0  # round a part that goes
FADE = 0.7  # of the paper over what goes


def paint_ghost(
    painter: QPainter,
    view: View,
    layout: Layout,
    changed: Layout,
    theme: Theme,
    labels: Sequence[Label] = (),
) -> None:
    """Paint what `changed` has that `layout` has not, or has different; what it has no more is faded.

    labels: those of the drawing, which stay legible.
    """
    boxes = [QRectF(*label.box) for label in labels]
    painter.save()
    painter.setClipRegion(_beside(painter, boxes))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _fade_runs(painter, view, layout, changed, theme)
    _fade_parts(painter, view, layout, changed, theme)
    _paint_runs(painter, view, layout, changed, theme)
    _paint_parts(painter, view, layout, changed, theme)
    _paint_levels(painter, view, layout, changed, theme)
    painter.restore()
    painter.setPen(theme.accent)
    _name_parts(painter, view, layout, changed, theme, boxes)


def _beside(painter: QPainter, boxes: Sequence[QRectF]) -> QRegion:
    """All of the sheet but the labels of the drawing."""
    region = QRegion(painter.window())
    for box in boxes:
        region -= QRegion(box.toAlignedRect())
    return region


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
            elif _loses_screen(layout, changed, name):
                radius = _radius(view, layout, name)
                painter.drawEllipse(_at(view, layout.joint(name).at), radius, radius)
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
    others = [
        (old, name) for old, new in _groups(layout, changed) for name in new if old.get(name) != new[name]
    ]
    for old, name in others:
        same_place = name in old and changed.joint(name).at == layout.joint(name).at
        radius = _radius(view, layout, name) if same_place else RING * dot
        for colour, width in ((theme.paper, 5.0), (theme.accent, 2.0)):  # seen on any share's colour
            painter.setPen(QPen(colour, width * dot))
            painter.drawEllipse(_at(view, changed.joint(name).at), radius, radius)


def _radius(view: View, layout: Layout, name: str) -> float:
    """Radius of a ring round the symbol of a part as it is drawn, on the port of a pump [device]."""
    if name in layout.pumps:
        return RING * view.dot
    shapes = (
        each for each in glyphs.glyphs(layout, None, view, "") if each.part == name and not each.is_pipe
    )
    boxes = [symbols.extent(each, view.dot) for each in shapes]
    half = max((max(box.width, box.height) / 2 for box in boxes), default=0.0)
    return max(RING * view.dot, half + OUTSIDE * view.dot)


def _loses_screen(layout: Layout, changed: Layout, name: str) -> bool:
    """Whether a part goes on without the screen that it has."""
    old, new = layout.joint(name), changed.joint(name)
    return getattr(old, "screen", None) is not None and getattr(new, "screen", None) is None


def _name_parts(
    painter: QPainter,
    view: View,
    layout: Layout,
    changed: Layout,
    theme: Theme,
    labels: Sequence[QRectF],
) -> None:
    """Name what is new, stands elsewhere or loses its screen, off the drawing's labels and each other."""
    written, lines = list(labels), list(_lines(view, changed))
    for old, new in _groups(layout, changed):
        for name in new:
            at = _at(view, changed.joint(name).at)
            if name not in old or changed.joint(name).at != layout.joint(name).at:
                written.append(_name(painter, name, at, view.dot, theme, written, lines))
            elif _loses_screen(layout, changed, name):
                radius = _radius(view, layout, name)
                ring = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
                text = f"{name} without its screen"
                written.append(_name(painter, text, at, view.dot, theme, [*written, ring], lines))


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
    painter: QPainter,
    name: str,
    at: QPointF,
    dot: float,
    theme: Theme,
    written: Sequence[QRectF],
    lines: Sequence[QRectF],
) -> QRectF:
    """Write a name under its ring; over or beside it, or further off, where something else is written or,
    if that can be, where a line lies."""
    metrics = painter.fontMetrics()
    size = QRectF(0.0, 0.0, metrics.horizontalAdvance(name) + 6.0 * dot, metrics.height())
    places = list(_places_round(size, at, dot))
    sheet = QRectF(painter.window())
    free = [box for box in places if sheet.contains(box) and not any(map(box.intersects, written))]
    clear = (box for box in free if not any(map(box.intersects, lines)))
    room = next(clear, next(iter(free), places[0]))
    painter.fillRect(room, theme.paper)
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, name)
    return room


def _places_round(size: QRectF, at: QPointF, dot: float) -> Iterator[QRectF]:
    """Where a name may stand round a ring: under it, over it and beside it, then further and further off."""
    for step in range(STEPS):
        off = step * size.height()
        across, up = RING * dot + size.width() / 2 + 2.0 * dot, RING * dot + size.height() / 2 + 2.0 * dot
        for x, y in ((0, 1), (0, -1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1)):
            box = QRectF(size)
            box.moveCenter(at + QPointF(x * (across + off), y * (up + off)))
            yield box


def _lines(view: View, changed: Layout) -> Iterator[QRectF]:
    """The boxes round the straights of all lines [device]."""
    for run in changed.runs.values():
        half = max(outline.bore(run) * view.scale, LEAST * view.dot) / 2 + 2.0 * view.dot
        for a, b in pairwise(_at(view, each) for each in _places(changed, run)):
            yield QRectF(a, b).normalized().adjusted(-half, -half, half, half)


def _places(layout: Layout, run: Run) -> list[Point]:
    return [layout.joint(run.start).at, *run.via, layout.joint(run.end).at]


def _at(view: View, place: Point) -> QPointF:
    return QPointF(*view.device(place[0].si, place[1].si))
