"""The elevation, painted: one path for the screen, for PDF and for SVG."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QLineF
from PySide6.QtGui import QColor, QPainter, QPolygonF

from sketch import annotation, backdrop, tags
from sketch import legend as legends
from sketch.arrows import Arrow, arrows
from sketch.colours import Theme, share_class, share_colour, text_on
from sketch.glyphs import Glyph, distance, glyphs, pump_circle, pump_way, tail, toward
from sketch.labels import Box, Label, Placer
from sketch.pencil import HIDDEN, Pencil, lines_of, polygon_of
from sketch.symbols import Look, Polygon, clipped, extent, fills, hatch, look, pump_triangle, ribbon, shape
from sketch.symbols import arrow as arrowhead
from sketch.view import AXIS_BOTTOM, AXIS_LEFT, XY, View, fit
from sketch.ways import shares
from solver.layout import Layout
from solver.ledger import Solution
from solver.units import System

__all__ = ["Drawn", "Label", "View", "fit", "nearest_key", "paint_elevation", "pump_circle"]

CASING = 1.5
"""Logical pixels of dark edge on either side of a bore."""

HATCH = 6.0
"""Logical pixels between hatch lines."""

WIDE = 11.0
"""Logical pixels of bore from which an arrow fits into the pipe."""

POINTING_REACH = 10.0
"""Logical pixels from an element within which it is pointed at."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What has been painted, as data: for hit tests, and so that a drawing can be tested."""

    glyphs: tuple[Glyph, ...]
    labels: tuple[Label, ...]
    arrows: tuple[Arrow, ...] = ()


def paint_elevation(
    painter: QPainter,
    layout: Layout,
    solution: Solution | None,
    view: View,
    size: XY,
    theme: Theme,
    system: System,
    *,
    pump: str,
    pointed: str = "",
    selected: str = "",
    highest_port: float | None = None,
    legend: bool = True,
) -> Drawn:
    """Paint the whole elevation in `size` device units from the painter's origin.

    `pointed` is the key of an entry, `selected` the name of a part, `highest_port` an elevation [m].
    Without a solution everything is drawn plain and nothing is claimed. Returns what was drawn where.
    """
    pencil = Pencil(painter, view.dot, Box(0.0, 0.0, *size))
    placer = Placer(size[0], size[1], view.dot)
    pencil.box(Box(0.0, 0.0, *size), theme.paper)
    backdrop.grid(pencil, view, size, theme, system)
    used = solution.level if solution else "minimum"
    backdrop.reservoirs(pencil, layout, view, size, theme, used, selected, placer)
    found = glyphs(layout, solution, view, pump)
    surfaces = backdrop.levels(layout, view, size, used)
    backdrop.level_lines(pencil, surfaces, theme, placer)
    _line(pencil, layout, found, view, theme, pointed, selected)
    ways = arrows(solution, found, view.dot)
    _arrows(pencil, ways, theme)
    _reserve(layout, found, view, size, placer)
    backdrop.scale_bar(pencil, view, size, theme, system, placer)
    made: list[Label | None] = []
    if highest_port is not None:
        made.append(annotation.highest_port(pencil, view, size, highest_port, theme, system, placer))
    made += backdrop.mark_levels(pencil, surfaces, theme, placer, system)
    if solution is not None and pump in solution.pumps:
        flooded = pointed.endswith("/flooded head")
        made.append(annotation.lift(pencil, layout, solution, pump, view, theme, system, placer, flooded))
    if solution is not None and legend:
        made.append(legends.legend(pencil, size, theme, placer, backdrop.tanks(layout, view)))
    labels = [label for label in made if label is not None]
    shown = frozenset({pointed, selected} - {""})
    wanted = tags.tags(pencil, layout, found, view, theme, system, shown)
    labels += tags.write(pencil, wanted, placer, theme, pointed)
    backdrop.axes(pencil, view, size, theme, system)
    return Drawn(found, tuple(labels), ways)


def _reserve(layout: Layout, found: Sequence[Glyph], view: View, size: XY, placer: Placer) -> None:
    """Keep labels off the line, the pumps and the axes."""
    dot = view.dot
    for glyph in found:
        if glyph.is_pipe:
            placer.lines.block_line(glyph.points, glyph.width + 2 * CASING * dot)
        else:
            placer.lines.block(extent(glyph, dot).grown(1.5 * dot))
    for name in layout.pumps:
        x, y, radius = pump_circle(layout, name, view)
        placer.lines.block(_square(x, y, radius + 2 * dot))
        placer.texts.block(_square(x, y, 0.7 * radius))
    for box in _axis_boxes(size, dot):
        placer.block_text(box)


def _square(x: float, y: float, half: float) -> Box:
    return Box(x - half, y - half, 2 * half, 2 * half)


def _axis_boxes(size: XY, dot: float) -> tuple[Box, Box]:
    left, bottom = AXIS_LEFT * dot, AXIS_BOTTOM * dot
    return Box(0.0, 0.0, left, size[1]), Box(0.0, size[1] - bottom, size[0], bottom)


def _line(
    pencil: Pencil,
    layout: Layout,
    found: Sequence[Glyph],
    view: View,
    theme: Theme,
    pointed: str,
    selected: str,
) -> None:
    lit = [glyph for glyph in found if pointed and pointed in (glyph.keys or (glyph.key,))]
    pipes = [glyph for glyph in found if glyph.is_pipe]
    lit_pipes = [glyph for glyph in lit if glyph.is_pipe]
    _halo(pencil, [glyph for glyph in pipes if selected and glyph.part == selected], theme.accent, 3.5)
    for name in layout.pumps:
        _pump(pencil, layout, name, view, theme, name == selected)
    _pipes(pencil, pipes, theme)
    _halo(pencil, lit_pipes, theme.halo, 5.0)
    _pipes(pencil, lit_pipes, theme)
    for glyph in found:
        if not glyph.is_pipe:
            if glyph in lit:
                _halo(pencil, [glyph], theme.halo, 5.0)
            _symbol(pencil, glyph, theme)
            if glyph.part == selected and glyph.kind != "port":
                frame = extent(glyph, pencil.dot).grown(5 * pencil.dot)
                pencil.box(frame, None, theme.accent, 2.5, radius=3.0)


def _pipes(pencil: Pencil, pipes: Sequence[Glyph], theme: Theme) -> None:
    """Casing, then fill, by width and colour; a tick where one element ends and the next begins."""
    dot = pencil.dot
    by_width: dict[float, list[Glyph]] = {}
    by_colour: dict[tuple[float, int], list[Glyph]] = {}
    for glyph in pipes:
        by_width.setdefault(glyph.width, []).append(glyph)
        by_colour.setdefault((glyph.width, share_class(glyph.share)), []).append(glyph)
    for width, group in by_width.items():
        pencil.polylines([glyph.points for glyph in group], theme.casing, width / dot + 2 * CASING)
    for (width, _), group in by_colour.items():
        colour = share_colour(group[0].share, theme)
        pencil.polylines([glyph.points for glyph in group], colour, width / dot)
    _hatch(pencil, pipes, theme)
    pencil.lines([tick for glyph in pipes for tick in _ticks(glyph)], theme.casing)


def _ticks(glyph: Glyph) -> Iterable[tuple[XY, XY]]:
    points, half = glyph.points, glyph.width / 2
    for (x, y), before in ((points[0], points[1]), (points[-1], points[-2])):
        way = toward(before, (x, y))
        if way is not None:
            nx, ny = -way[1] * half, way[0] * half
            yield (x + nx, y + ny), (x - nx, y - ny)


def _hatch(pencil: Pencil, found: Iterable[Glyph], theme: Theme) -> None:
    """One way for a credit, both ways past the floor; a pipe from where the floor is reached."""
    by_ink: dict[int, tuple[QColor, list[tuple[XY, XY]]]] = {}
    gap = HATCH * pencil.dot
    for glyph in found:
        over = glyph.crossing < 1.0
        if not (over or glyph.share < 0.0):
            continue
        ink = text_on(share_colour(glyph.share, theme))
        lines = by_ink.setdefault(id(ink), (ink, []))[1]
        for polygon in _hatched(pencil, glyph):
            lines += hatch(polygon, gap)
            if over:
                lines += hatch(polygon, gap, rising=False)
    for ink, lines in by_ink.values():
        pencil.lines(lines, ink, 0.8)


def _hatched(pencil: Pencil, glyph: Glyph) -> Sequence[Polygon]:
    """The polygons of a glyph that are hatched, no further than the sheet."""
    polygons: Sequence[Polygon]
    if glyph.is_pipe:
        over = glyph.crossing < 1.0
        polygons = ribbon(tail(glyph.points, glyph.crossing) if over else glyph.points, glyph.width)
    else:
        polygons = fills(glyph, pencil.dot)
    sheet = pencil.sheet
    return polygons if sheet is None else [clipped(polygon, sheet) for polygon in polygons]


@dataclass(frozen=True, slots=True)
class _Inked:
    """A symbol about the origin, as Qt takes it."""

    fills: list[QPolygonF]
    lines: list[QLineF]
    dashed: list[QLineF]
    solid: list[QPolygonF]


@lru_cache(maxsize=1024)
def _inked(wanted: Look) -> _Inked:
    made = shape(wanted)
    return _Inked(
        [polygon_of(points) for points in made.fills],
        lines_of(made.lines),
        lines_of(made.dashed),
        [polygon_of(points) for points in made.solid],
    )


def _symbol(pencil: Pencil, glyph: Glyph, theme: Theme) -> None:
    (x, y), drawn = glyph.points[0], _inked(look(glyph, pencil.dot))
    fill = share_colour(glyph.share, theme)
    pencil.painter.translate(x, y)
    pencil.shapes(drawn.fills, fill, theme.casing, 1.4)
    if glyph.share < 0.0 or glyph.crossing < 1.0:
        pencil.painter.translate(-x, -y)
        _hatch(pencil, (glyph,), theme)
        pencil.painter.translate(x, y)
    pencil.shapes(drawn.solid, theme.casing, None)
    pencil.segments(drawn.lines, theme.casing, 1.4)
    pencil.segments(drawn.dashed, text_on(fill), 1.4, HIDDEN)
    pencil.painter.translate(-x, -y)


def _arrows(pencil: Pencil, found: Iterable[Arrow], theme: Theme) -> None:
    """Within a wide pipe in the ink of its colour; over a slim one, set off from it."""
    dot = pencil.dot
    for arrow in found:
        wide = arrow.pipe.width >= WIDE * dot
        size = min(max(0.75 * arrow.pipe.width, 12.0 * dot), 16.0 * dot)
        tip = (arrow.x + arrow.ux * size / 2, arrow.y + arrow.uy * size / 2)
        head = arrowhead(tip, (arrow.ux, arrow.uy), size, 0.4)
        ink = text_on(share_colour(arrow.pipe.share, theme)) if wide else theme.ink
        pencil.polygon(head, ink, None if wide else theme.paper, 1.6)


def _halo(pencil: Pencil, found: Sequence[Glyph], colour: QColor, width: float) -> None:
    for glyph in found:
        if glyph.is_pipe:
            pencil.polylines([glyph.points], colour, glyph.width / pencil.dot + 2 * (CASING + width))
        else:
            for polygon in fills(glyph, pencil.dot):
                pencil.polygon(polygon, colour, colour, 2 * width, mitre=False)


def _pump(pencil: Pencil, layout: Layout, name: str, view: View, theme: Theme, selected: bool) -> None:
    x, y, radius = pump_circle(layout, name, view)
    ux, uy = pump_way(layout, name)
    if selected:
        pencil.circle(x, y, radius + 4 * view.dot, None, theme.accent, 3.5)
    pencil.circle(x, y, radius, theme.paper, theme.ink, 1.6)
    pencil.polygon(pump_triangle(x, y, radius, ux, uy), theme.ink, None)


def nearest_key(solution: Solution, view: View, x: float, y: float, *, pump: str = "") -> str:
    """The key of the entry drawn nearest to a device point, "" when none is within reach."""
    name = pump or next(iter(solution.pumps), "")
    known = shares(solution, name)
    best, least = "", POINTING_REACH * view.dot
    for glyph in glyphs(solution.layout, solution, view, name):
        away = distance(glyph, x, y, view.dot)
        # Symbols lie on top of the pipes they join.
        away -= 0.5 * view.dot if not glyph.is_pipe else 0.0
        if away < least and glyph.key in known:
            best, least = glyph.key, away
    return best or _port_at(solution.layout, view, x, y, name, known)


def _port_at(layout: Layout, view: View, x: float, y: float, pump: str, known: Mapping[str, float]) -> str:
    """The pump's own symbol stands for its port."""
    if f"{pump}/port" not in known or pump not in layout.pumps:
        return ""
    cx, cy, radius = pump_circle(layout, pump, view)
    return f"{pump}/port" if math.hypot(x - cx, y - cy) <= radius else ""
