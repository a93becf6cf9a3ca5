"""Edits that reshape what is drawn: a straight moved sideways, a bend, a corner of a tank.

A straight moves parallel to itself with all that lies in line with it: fittings, tees, and the parts at its
ends. The lines that join it from the side stretch. So no bend is added that nobody drew; what may not move
that far (an intake out of its tank) refuses the whole move.
"""

from __future__ import annotations

from dataclasses import replace

import shapely

from sketch.editing import edits
from sketch.editing.edits import SAME, EditError
from solver.geometry import outline as geometry
from solver.geometry import reservoirs
from solver.geometry.outline import GeometryError
from solver.geometry.squaring import SQUARE
from solver.layout.parts import Intake, Layout, Point, Reservoir
from solver.layout.shapes import polygon
from solver.quantities.units import Kind, Quantity, in_unit_of

X, Y = 0, 1
ON_THE_WALL = 1e-3  # an intake this near to a wall is fixed to it [m]
XY = tuple[float, float]


def points(layout: Layout, run: str) -> list[XY]:
    """The points of a run from part to part, its corners between [m]. Raises KeyError."""
    return geometry.corners(layout, layout.runs[run])


def across(layout: Layout, run: str, stretch: int) -> int | None:
    """Which way a stretch can be moved sideways: `X` for an upright one, `Y` for a level one, None for
    one that slants or has no length."""
    (xa, ya), (xb, yb) = points(layout, run)[stretch : stretch + 2]
    upright, level = abs(xa - xb) <= SQUARE, abs(ya - yb) <= SQUARE
    return None if upright == level else X if upright else Y


def move_stretch(layout: Layout, run: str, stretch: int, to: float) -> Layout:
    """Stretch `stretch` of a run moved sideways to x = `to` when it is upright, to y = `to` when level [m].

    Raises EditError for one that slants, and where what it takes along cannot come.
    """
    edits.si_of(to)
    axis = across(layout, run, stretch)
    if axis is None:
        raise EditError("only a straight that is level or upright moves sideways")
    if abs(points(layout, run)[stretch][axis] - to) <= SAME:
        return layout
    ends = [_end(layout, run, stretch, axis, step) for step in (-1, 1)]
    parts = list(dict.fromkeys(end for end in ends if end is not None))
    line = layout.runs[run]
    if not parts and line.via:
        return _corner_to(layout, run, max(stretch - 1, 0), axis, to)
    for part in parts or [line.start]:
        x, y = edits.place(layout, part)
        layout = edits.move_part(layout, part, *((to, y) if axis == X else (x, to)))
    return layout


def _end(layout: Layout, run: str, stretch: int, axis: int, step: int) -> str | None:
    """The part at which everything in line with a stretch ends on one side; None where that is a corner."""
    seen = {run}
    while True:
        line = layout.runs[run]
        last = 0 if step < 0 else len(line.via)
        if stretch != last:
            return None
        part = line.start if step < 0 else line.end
        beyond = _in_line(layout, part, axis, seen)
        if beyond is None:
            return part
        run, step, stretch = beyond
        seen.add(run)


def _in_line(layout: Layout, part: str, axis: int, seen: set[str]) -> tuple[str, int, int] | None:
    """The run that goes on from a fitting or a tee in the same line: its name, the way along it, and the
    stretch that it begins with."""
    if part not in layout.fittings and part not in layout.tees:
        return None
    for run in layout.runs.values():
        if run.name not in seen and part in (run.start, run.end):
            step = 1 if run.start == part else -1
            stretch = 0 if step > 0 else len(run.via)
            if across(layout, run.name, stretch) == axis:
                return run.name, step, stretch
    return None


def _corner_to(layout: Layout, run: str, index: int, axis: int, to: float) -> Layout:
    x, y = edits.corner(layout, run, index)
    return edits.move_corner(layout, run, index, *((to, y) if axis == X else (x, to)))


def move_bend(layout: Layout, run: str, index: int, x: float, y: float) -> Layout:
    """Corner `index` of a run at (x, y) [m], with the straights beside it moved sideways.

    Where those are not square to each other the corner alone is moved, and its neighbours follow as they
    can. Raises EditError where a part at the end of a straight cannot come along.
    """
    ways = across(layout, run, index), across(layout, run, index + 1)
    if set(ways) != {X, Y}:
        return edits.move_corner(layout, run, index, x, y)
    for stretch, axis in zip((index, index + 1), ways, strict=True):
        layout = move_stretch(layout, run, stretch, x if axis == X else y)
    return layout


def check_bends(before: Layout, after: Layout) -> None:
    """Refuse a move that leaves a bend without room, where it had room before. Raises EditError."""
    for name, run in after.runs.items():
        if name in before.runs and _moved(before, after, name):
            try:
                geometry.outline(after, run)
            except GeometryError as error:
                if _can_be_built(before, name):
                    raise EditError(str(error)) from error


def _moved(before: Layout, after: Layout, name: str) -> bool:
    old, new = before.runs[name], after.runs[name]
    ends = ((old.start, new.start), (old.end, new.end))
    return old is not new or any(before.joint(a) is not after.joint(b) for a, b in ends)


def _can_be_built(layout: Layout, run: str) -> bool:
    try:
        geometry.outline(layout, layout.runs[run])
    except GeometryError:
        return False
    return True


# Tanks


def move_outline_corner(layout: Layout, name: str, corner: int, x: float, y: float) -> Layout:
    """Corner `corner` of a tank's outline at (x, y) [m]. Walls that are upright or level stay so, and what
    is fixed to a wall comes along with it.

    Raises EditError where the tank would no longer hold what is in it.
    """
    tank = layout.reservoirs[name]
    edits.si_of(x), edits.si_of(y)
    for axis, to in ((X, x), (Y, y)):
        layout, tank = _wall_to(layout, tank, corner, axis, to)
    trouble = _trouble(layout, tank)
    if trouble:
        raise EditError(trouble)
    return layout


def _wall_to(layout: Layout, tank: Reservoir, corner: int, axis: int, to: float) -> tuple[Layout, Reservoir]:
    """One coordinate of a corner set, of the whole wall where one runs across that way."""
    was = tank.outline[corner][axis].si
    if abs(was - to) <= SAME:
        return layout, tank
    placed = in_unit_of(tank.outline[corner][axis], to, Kind.LENGTH)
    on_it = _wall(tank, corner, axis)
    outline = tuple(
        _with(point, axis, placed) if at in on_it else point for at, point in enumerate(tank.outline)
    )
    for intake in layout.intakes.values():
        if intake.reservoir == tank.name and _fixed_to(tank, intake, on_it, axis):
            layout = _move_with_wall(layout, intake.name, axis, placed)
    reshaped = replace(tank, outline=outline)
    return replace(layout, reservoirs={**layout.reservoirs, tank.name: reshaped}), reshaped


def _wall(tank: Reservoir, corner: int, axis: int) -> frozenset[int]:
    """The corners that lie on one straight wall with a corner, all at its x or all at its y; itself among
    them."""
    count, corners = len(tank.outline), {corner}
    for step in (-1, 1):
        at = (corner + step) % count
        while at not in corners and abs(tank.outline[at][axis].si - tank.outline[corner][axis].si) <= SQUARE:
            corners.add(at)
            at = (at + step) % count
    return frozenset(corners)


def _fixed_to(tank: Reservoir, intake: Intake, wall: frozenset[int], axis: int) -> bool:
    """Whether an intake sits on the wall between those corners."""
    if len(wall) < 2:
        return False
    along = [tank.outline[at][1 - axis].si for at in wall]
    own, of_wall = intake.at[axis].si, tank.outline[next(iter(wall))][axis].si
    on_it = abs(own - of_wall) <= ON_THE_WALL
    return on_it and min(along) - ON_THE_WALL <= intake.at[1 - axis].si <= max(along) + ON_THE_WALL


def _move_with_wall(layout: Layout, name: str, axis: int, placed: Quantity) -> Layout:
    """An intake moved with its wall, to the very figure of the wall."""
    x, y = edits.place(layout, name)
    layout = geometry.move_part(layout, name, *((placed.si, y) if axis == X else (x, placed.si)))
    intake = layout.intakes[name]
    return edits.with_joint(layout, replace(intake, at=_with(intake.at, axis, placed)))


def _with(point: Point, axis: int, value: Quantity) -> Point:
    return (value, point[Y]) if axis == X else (point[X], value)


def _trouble(layout: Layout, tank: Reservoir) -> str:
    """Why a tank cannot have its outline; "" when it can."""
    shape = polygon(tank.outline)
    if not (shape.is_valid and shape.area > 1e-4):
        return f"{tank.name} would hold nothing"
    inside = {tank.name, *(i.name for i in layout.intakes.values() if i.reservoir == tank.name)}
    for part, text in reservoirs.reservoir_problems(layout):
        if part in inside:
            return f"{part}: {text}"
    left, floor, right, rim = shape.bounds
    if tank.minimum_level.si <= floor:
        return f"the minimum level would lie on the floor of {tank.name}"
    if tank.sealed and tank.normal_level.si >= rim:
        return f"{tank.name} is sealed: it needs room for its gas above the normal level"
    if tank.draw_down is not None and reservoirs.volume(tank, tank.normal_level.si) <= tank.draw_down.si:
        return f"{tank.name} would hold less than its cylinders draw out"
    return _inner_trouble(tank, (left, floor, right, rim))


def _inner_trouble(tank: Reservoir, bounds: tuple[float, float, float, float]) -> str:
    left, floor, right, rim = bounds
    if tank.return_at is not None:
        end = shapely.Point(tank.return_at[X].si, tank.return_at[Y].si)
        if polygon(tank.outline).distance(end) > SQUARE:
            return f"the return line would end outside {tank.name}"
    if tank.baffle is not None:
        baffle = tank.baffle
        edges = [edge.si for edge in (baffle.top, baffle.bottom) if edge is not None]
        if not left < baffle.x.si < right or not all(floor <= edge <= rim for edge in edges):
            return f"the baffle would stand outside {tank.name}"
    return ""
