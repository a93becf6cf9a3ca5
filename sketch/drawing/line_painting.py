"""Pipes, symbols, pumps and arrows as painted: a dark casing, the colour of a share, hatching."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

from PySide6.QtCore import QLineF
from PySide6.QtGui import QColor, QPolygonF

from sketch.drawing.arrows import Arrow
from sketch.drawing.cells import Cells, cells_of_box, cells_of_line
from sketch.drawing.glyphs import Glyph, Mark, pump_circle, pump_way
from sketch.drawing.labels import Box, Grid
from sketch.drawing.memory import PORTION
from sketch.drawing.pencil import HIDDEN, Pencil, lines_of, polygon_of
from sketch.drawing.polygons import Polygon, clipped, hatch, ribbon
from sketch.drawing.polylines import tail, toward
from sketch.drawing.symbols import Look, extent, fills, look, pump_triangle, symbol_of
from sketch.drawing.symbols import arrow as arrowhead
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme, share_class, share_colour, text_on
from solver.layout.parts import Layout

CASING = 1.5
"""Logical pixels of dark edge on either side of a bore."""

HATCH = 6.0
"""Logical pixels between hatch lines."""

HATCHED = 8.0
"""Logical pixels of bore from which a pipe is hatched; hatching a slimmer one would look like noise."""

WIDE = 11.0
"""Logical pixels of bore from which an arrow fits into the pipe."""

LARGE_BORE = 300.0
"""Logical pixels of bore beyond which no more of a symbol is hatched than the sheet shows."""


def paint_line(
    pencil: Pencil,
    layout: Layout,
    shapes: Sequence[Glyph],
    view: View,
    theme: Theme,
    pointed: str,
    selected: Collection[str],
    trouble: Collection[str] = (),
) -> None:
    """Pumps, pipes and symbols, what is pointed at on top; what is in trouble on a ground of its own."""
    lit = [glyph for glyph in shapes if pointed and pointed in (glyph.keys or (glyph.key,))]
    pipes = [glyph for glyph in shapes if len(glyph.points) > 1]  # a property takes twice the time
    lit_pipes = [glyph for glyph in lit if glyph.is_pipe]
    _halo(pencil, [glyph for glyph in pipes if glyph.part in selected], theme.accent, 3.5)
    _halo(pencil, [glyph for glyph in shapes if glyph.part in trouble], theme.stop, 4.0)
    for name in layout.pumps:
        colour = theme.accent if name in selected else theme.stop if name in trouble else None
        _pump(pencil, layout, name, view, theme, colour)
    _pipes(pencil, pipes, theme)
    _halo(pencil, lit_pipes, theme.halo, 5.0)
    _pipes(pencil, lit_pipes, theme)
    for glyph in [glyph for glyph in shapes if len(glyph.points) == 1]:
        if glyph in lit:
            _halo(pencil, [glyph], theme.halo, 5.0)
        _symbol(pencil, glyph, theme)
        if glyph.part in selected and glyph.kind != Mark.PORT:
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
    _hatch_pipes(pencil, pipes, theme)
    pencil.lines(_ticks(pencil, pipes), theme.casing)


Tick = tuple[XY, XY]


def _ticks(pencil: Pencil, pipes: Sequence[Glyph]) -> list[Tick]:
    """One across every end; where two pipes of one width meet in line, the same one serves both."""
    every: list[Tick] = []
    drawn: tuple[XY, float] | None = None
    for at in range(0, len(pipes), PORTION):
        portion = tuple(pipes[at : at + PORTION])
        make = partial(_ticks_of, portion, drawn)
        ticks, drawn = pencil.known(("ticks", drawn), portion, make)
        every += ticks
    return every


def _ticks_of(
    pipes: Sequence[Glyph], drawn: tuple[XY, float] | None
) -> tuple[list[Tick], tuple[XY, float] | None]:
    """The ticks of some pipes, and where the last one is, and how long; `drawn`: that before them."""
    ticks: list[Tick] = []
    for glyph in pipes:
        points, half = glyph.points, glyph.width / 2
        for at, other in ((points[0], points[1]), (points[-1], points[-2])):
            if drawn == (at, half):
                continue
            way = toward(other, at)
            if way is not None:
                (x, y), nx, ny = at, -way[1] * half, way[0] * half
                ticks.append(((x + nx, y + ny), (x - nx, y - ny)))
                drawn = at, half
    return ticks, drawn


def _hatch_pipes(pencil: Pencil, pipes: Iterable[Glyph], theme: Theme) -> None:
    """One way for a credit, both ways past the floor, from where it is reached; stripes on a slim pipe."""
    wide: list[Glyph] = []
    slim: dict[tuple[float, int, bool], list[Sequence[XY]]] = {}
    for glyph in pipes:
        over, share = glyph.crossing < 1.0, glyph.share
        if not (over or (share is not None and share < 0.0)):  # no credit: a property takes twice the time
            continue
        if glyph.width >= HATCHED * pencil.dot:
            wide.append(glyph)
            continue
        points = tail(glyph.points, glyph.crossing) if over else glyph.points
        slim.setdefault((glyph.width, share_class(glyph.share), over), []).append(points)
    _hatch(pencil, wide, theme)
    for (width, number, over), lines in slim.items():
        across, on = width / pencil.dot, 1.2 if over else 0.9
        gap = 2.4 if over else 4.5
        pencil.polylines(lines, text_on(theme.classes[number]), across, (on, gap))


def _hatch(pencil: Pencil, shapes: Iterable[Glyph], theme: Theme) -> None:
    by_ink: dict[int, tuple[QColor, list[tuple[XY, XY]]]] = {}
    gap = HATCH * pencil.dot
    for glyph in shapes:
        over = glyph.crossing < 1.0
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
    inked = symbol_of(wanted)
    return _Inked(
        [polygon_of(points) for points in inked.fills],
        lines_of(inked.lines),
        lines_of(inked.dashed),
        [polygon_of(points) for points in inked.solid],
    )


@lru_cache(maxsize=1024)
def _hatching(wanted: Look, crossed: bool) -> list[QLineF]:
    """The hatching of a symbol about the origin."""
    gap, polygons = HATCH * wanted.dot, symbol_of(wanted).fills
    lines = [line for polygon in polygons for line in hatch(polygon, gap)]
    if crossed:
        lines += [line for polygon in polygons for line in hatch(polygon, gap, rising=False)]
    return lines_of(lines)


def _symbol(pencil: Pencil, glyph: Glyph, theme: Theme) -> None:
    def reach() -> Box:
        return _reach(look(glyph, pencil.dot)).moved(*glyph.points[0])

    pencil.repeated("symbol", (glyph, theme), partial(_stamp, glyph=glyph, theme=theme), reach)


@lru_cache(maxsize=1024)
def _reach(wanted: Look) -> Box:
    """What a symbol about the origin may touch, edges and all."""
    drawn = symbol_of(wanted)
    points = [point for shapes in (drawn.fills, drawn.solid) for each in shapes for point in each]
    points += [point for lines in (drawn.lines, drawn.dashed) for line in lines for point in line]
    left, top = min(x for x, _ in points), min(y for _, y in points)
    box = Box(left, top, max(x for x, _ in points) - left, max(y for _, y in points) - top)
    return box.grown(3.0 * wanted.dot + 1.0)


def _stamp(pencil: Pencil, glyph: Glyph, theme: Theme) -> None:
    (x, y), wanted = glyph.points[0], look(glyph, pencil.dot)
    drawn, fill = _inked(wanted), share_colour(glyph.share, theme)
    hatched = glyph.is_credit or glyph.crossing < 1.0
    pencil.painter.translate(x, y)
    pencil.shapes(drawn.fills, fill, theme.casing, 1.4)
    if hatched and glyph.width < LARGE_BORE * pencil.dot:
        pencil.segments(_hatching(wanted, glyph.crossing < 1.0), text_on(fill), 0.8)
    elif hatched:
        pencil.painter.translate(-x, -y)
        _hatch(pencil, (glyph,), theme)
        pencil.painter.translate(x, y)
    pencil.shapes(drawn.solid, theme.casing, None)
    pencil.segments(drawn.lines, theme.casing, 1.4)
    pencil.segments(drawn.dashed, text_on(fill), 1.4, HIDDEN)
    pencil.painter.translate(-x, -y)


def paint_arrows(pencil: Pencil, arrows: Iterable[Arrow], theme: Theme) -> None:
    """Within a wide pipe in the ink of its colour; over a slim one, set off from it."""
    dot = pencil.dot
    for arrow in arrows:
        wide = arrow.pipe.width >= WIDE * dot
        size = min(max(0.75 * arrow.pipe.width, 12.0 * dot), 16.0 * dot)
        tip = (arrow.x + arrow.ux * size / 2, arrow.y + arrow.uy * size / 2)
        head = arrowhead(tip, (arrow.ux, arrow.uy), size, 0.4)
        ink = text_on(share_colour(arrow.pipe.share, theme)) if wide else theme.ink
        pencil.polygon(head, ink, None if wide else theme.paper, 1.6)


def _halo(pencil: Pencil, shapes: Sequence[Glyph], colour: QColor, width: float) -> None:
    for glyph in shapes:
        if glyph.is_pipe:
            pencil.polylines([glyph.points], colour, glyph.width / pencil.dot + 2 * (CASING + width))
        else:
            for polygon in fills(glyph, pencil.dot):
                pencil.polygon(polygon, colour, colour, 2 * width, mitre=False)


def _pump(pencil: Pencil, layout: Layout, name: str, view: View, theme: Theme, ring: QColor | None) -> None:
    x, y, radius = pump_circle(layout, name, view)
    ux, uy = pump_way(layout, name)
    if ring is not None:
        pencil.circle(x, y, radius + 4 * view.dot, None, ring, 3.5)
    pencil.circle(x, y, radius, theme.paper, theme.ink, 1.6)
    pencil.polygon(pump_triangle(x, y, radius, ux, uy), theme.ink, None)


def cells_of_glyph(glyph: Glyph, grid: Grid, dot: float) -> Cells:
    """The cells of a grid that a glyph covers with its edge."""
    if glyph.is_pipe:
        return cells_of_line(glyph.points, glyph.width + 2 * CASING * dot, grid)
    return cells_of_box(extent(glyph, dot).grown(1.5 * dot), grid)
