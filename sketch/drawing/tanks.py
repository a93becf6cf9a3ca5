"""Reservoirs as they lie under the line: fluid, walls, baffle and return, and the ground they stand on."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import partial

from PySide6.QtGui import QColor

from sketch.drawing import cells, symbols
from sketch.drawing.labels import Box, Grid
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme
from solver.geometry.reservoirs import floor_under
from solver.geometry.reservoirs import level as level_of
from solver.layout.parts import Layout, Level, Reservoir


def corners_of(reservoir: Reservoir) -> list[XY]:
    """The corners of its outline [m]."""
    return [(x.si, y.si) for x, y in reservoir.outline]


def below(outline: Sequence[XY], level: float) -> list[XY]:
    """The part of a polygon that lies under a level (Sutherland and Hodgman's clip against one line)."""
    corners: list[XY] = []
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if ay <= level:
            corners.append((ax, ay))
        if (ay <= level) != (by <= level):
            corners.append((ax + (bx - ax) * (level - ay) / (by - ay), level))
    return corners


def reservoirs(
    pencil: Pencil,
    layout: Layout,
    view: View,
    size: XY,
    theme: Theme,
    used: Level,
    selected: Collection[str],
    placer: Placer,
    trouble: Collection[str] = (),
) -> None:
    """Fluid, walls and ground of every reservoir; of one that stays as it was in the last frame, as then."""
    for name, reservoir in layout.reservoirs.items():
        edge = theme.accent if name in selected else theme.stop if name in trouble else None
        pencil.repeated(
            ("tank", view, size, used, name in selected, name in trouble),
            (reservoir, theme),
            partial(_tank, reservoir, view, size, theme, used, edge),
        )
        taken = pencil.known(
            ("cells of a tank", view, size),
            (reservoir,),
            partial(_cells_of_tank, reservoir, view, size, placer.lines),
        )
        cells.block(placer.lines, taken)


def _tank(
    reservoir: Reservoir,
    view: View,
    size: XY,
    theme: Theme,
    used: Level,
    edge: QColor | None,
    pencil: Pencil,
) -> None:
    """edge: the colour of its walls, where it is not the usual one."""
    corners = corners_of(reservoir)
    wet = [view.device(x, y) for x, y in below(corners, level_of(reservoir, used))]
    if len(wet) > 2:
        pencil.polygon(wet, theme.fluid, None)
    walls = [view.device(x, y) for x, y in corners]
    pencil.polygon(walls, None, edge or theme.construction, 3.0 if edge else 1.5)
    if (plate := _plate(reservoir, view)) is not None:
        pencil.lines([plate], theme.construction, 2.5)
    if (stem := _stem(reservoir, view)) is not None:
        pencil.lines([stem], theme.construction, 1.2)
        pencil.polygon(symbols.arrow(stem[1], (0.0, 1.0), 8 * view.dot), theme.construction, None)
    if (feet := _feet(walls, size, pencil.dot)) is not None:
        ground = symbols.ground(feet.x, feet.right, feet.y, 6 * pencil.dot)
        pencil.lines(ground, theme.construction)


def _cells_of_tank(reservoir: Reservoir, view: View, size: XY, grid: Grid) -> cells.Cells:
    """The cells that a reservoir takes of a grid."""
    dot, walls = view.dot, [view.device(x, y) for x, y in corners_of(reservoir)]
    taken = [cells.cells_of_line((*walls, walls[0]), 2.0 * dot, grid)]
    if (plate := _plate(reservoir, view)) is not None:
        taken.append(cells.cells_of_line(plate, 2.5 * dot, grid))
    if (stem := _stem(reservoir, view)) is not None:
        taken.append(cells.cells_of_line(stem, 4 * dot, grid))
    if (feet := _feet(walls, size, dot)) is not None:
        taken.append(cells.cells_of_box(feet, grid))
    return cells.merged(*taken)


def _plate(reservoir: Reservoir, view: View) -> tuple[XY, XY] | None:
    """The baffle, from its foot to its top."""
    baffle = reservoir.baffle
    if baffle is None:
        return None
    x = baffle.x.si
    foot = baffle.bottom.si if baffle.bottom is not None else floor_under(reservoir, x)
    return view.device(x, foot), view.device(x, baffle.top.si)


def _stem(reservoir: Reservoir, view: View) -> tuple[XY, XY] | None:
    """The arrow that stands where the return ends in the fluid, without its point."""
    if reservoir.return_at is None:
        return None
    x, y = view.device(*(each.si for each in reservoir.return_at))
    return (x, y - 22 * view.dot), (x, y)


def _feet(walls: Sequence[XY], size: XY, dot: float) -> Box | None:
    """What the marks of the ground under a reservoir take; None where that is off the sheet."""
    low = max(y for _, y in walls)
    feet = [x for x, y in walls if low - y < 1.0 * dot]
    left, right = max(min(feet) - 14 * dot, 0.0), min(max(feet) + 14 * dot, size[0])
    if right <= left or not 0.0 < low < size[1]:
        return None
    return Box(left, low, right - left, 7 * dot)
