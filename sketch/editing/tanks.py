"""Edits of a tank: corners, walls and size, its baffle, where the return ends, what cylinders draw out."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

import shapely

from sketch.editing import edits, remarks, selection, stock
from sketch.editing.building import Built
from sketch.editing.edits import SAME, EditError, Value
from solver.geometry import outline as geometry
from solver.geometry import reservoirs
from solver.geometry.squaring import SQUARE
from solver.layout.parts import Baffle, Intake, Layout, Point, Reservoir
from solver.layout.shapes import polygon
from solver.quantities import units
from solver.quantities.units import Kind, Quantity, in_unit_of

X, Y = 0, 1
ON_THE_WALL = 1e-3  # an intake this near to a wall is fixed to it [m]
XY = tuple[float, float]


BAFFLE, RETURN, DRAW_DOWN = "baffle", "return", "draw-down"
IN_TANK = (BAFFLE, RETURN, DRAW_DOWN)
"""What a tank may have besides its fluid, one of each."""


class Side(StrEnum):
    """What of a tank can be typed besides its depth."""

    LEFT = "left wall"
    FLOOR = "floor"
    WIDTH = "width"
    HEIGHT = "height"


def size(tank: Reservoir, side: Side) -> float:
    """A figure of the rectangle round a tank [m]: where it begins, and how large it is."""
    left, floor, right, rim = polygon(tank.outline).bounds
    figures = {Side.LEFT: left, Side.FLOOR: floor, Side.WIDTH: right - left, Side.HEIGHT: rim - floor}
    return float(figures[side])


def set_size(layout: Layout, name: str, side: Side, value: Value) -> Layout:
    """A tank moved to begin at a place, with what stands in it, or its right wall or rim moved [m].

    Raises EditError where the tank would no longer hold what is in it.
    """
    tank, to = layout.reservoirs[name], edits.si_of(value)
    if abs(to - size(tank, side)) <= SAME:
        return layout
    if side is Side.LEFT:
        return selection.move(layout, [name], to - size(tank, side), 0.0)
    if side is Side.FLOOR:
        return selection.move(layout, [name], 0.0, to - size(tank, side))
    if to <= 0:
        raise EditError(f"the {side} must be above zero")
    axis = X if side is Side.WIDTH else Y
    begin = size(tank, Side.LEFT if axis == X else Side.FLOOR)
    far = max(range(len(tank.outline)), key=lambda at: tank.outline[at][axis].si)
    place = tank.outline[far][X].si, tank.outline[far][Y].si
    x, y = (begin + to, place[Y]) if axis == X else (place[X], begin + to)
    moved = move_outline_corner(layout, name, far, x, y)
    return _in_typed_unit(moved, name, axis, begin + to, value) if isinstance(value, Quantity) else moved


def _in_typed_unit(layout: Layout, name: str, axis: int, to: float, value: Quantity) -> Layout:
    """The corners of a tank that were moved to a place along an axis [m], in the unit that was typed."""
    tank = layout.reservoirs[name]
    figure = value if abs(value.si - to) <= SAME else in_unit_of(value, to, Kind.LENGTH)

    def typed(corner: Point) -> Point:
        if abs(corner[axis].si - to) > edits.LENGTH_STEP:
            return corner
        return (figure, corner[Y]) if axis == X else (corner[X], figure)

    changed = replace(tank, outline=tuple(map(typed, tank.outline)))
    return replace(layout, reservoirs={**layout.reservoirs, name: changed})


def walls(tank: Reservoir) -> list[tuple[XY, XY]]:
    """The straight walls of a tank, from corner to corner [m]."""
    corners = [(x.si, y.si) for x, y in tank.outline]
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def wall_axis(tank: Reservoir, wall: int) -> int | None:
    """Which way a wall is moved: `X` for an upright one, `Y` for a level one, None for one that slants."""
    (xa, ya), (xb, yb) = walls(tank)[wall]
    upright, level = abs(xa - xb) <= SQUARE, abs(ya - yb) <= SQUARE
    return None if upright == level else X if upright else Y


def move_wall(layout: Layout, name: str, wall: int, x: float, y: float) -> Layout:
    """A wall moved square to itself, through (x, y) [m]. Raises EditError as `move_outline_corner`."""
    tank = layout.reservoirs[name]
    axis = wall_axis(tank, wall)
    if axis is None:
        raise EditError("only a wall that is level or upright is moved as one")
    (xa, ya), _ = walls(tank)[wall]
    return move_outline_corner(layout, name, wall, *((x, ya) if axis == X else (xa, y)))


def add_corner(layout: Layout, name: str, wall: int, x: float, y: float) -> Layout:
    """A tank with one more corner, at (x, y) [m], between those of a wall.

    Raises EditError where the tank would no longer hold what is in it.
    """
    tank = layout.reservoirs[name]
    old = tank.outline[wall]
    corner = tuple(
        old[axis] if abs(old[axis].si - to) <= SAME else in_unit_of(old[axis], edits.si_of(to), Kind.LENGTH)
        for axis, to in ((X, x), (Y, y))
    )
    outline = (*tank.outline[: wall + 1], (corner[X], corner[Y]), *tank.outline[wall + 1 :])
    changed = with_tank(layout, replace(tank, outline=outline))
    return remarks.with_corners(layout, changed, name, lambda at: at + (at > wall))


def remove_corner(layout: Layout, name: str, corner: int) -> Layout:
    """A tank without one of its corners. Raises EditError as `add_corner`, and for one of three."""
    tank = layout.reservoirs[name]
    if len(tank.outline) <= 3:
        raise EditError("a tank has three corners at least")
    outline = (*tank.outline[:corner], *tank.outline[corner + 1 :])
    changed = with_tank(layout, replace(tank, outline=outline))
    return remarks.with_corners(
        layout, changed, name, lambda at: None if at == corner else at - (at > corner)
    )


def with_tank(layout: Layout, tank: Reservoir) -> Layout:
    """The layout with a tank in the place of the one of its name. Raises EditError where it cannot be so."""
    changed = replace(layout, reservoirs={**layout.reservoirs, tank.name: tank})
    if trouble := _trouble(changed, tank):
        raise EditError(trouble)
    return changed


# What stands in a tank


def set_return(layout: Layout, name: str, x: float, y: float) -> Layout:
    """The return line of a tank ending at (x, y) [m]. Raises EditError outside the tank."""
    tank = layout.reservoirs[name]
    model = tank.return_at or stock.point(layout, 0.0, 0.0)
    at = edits.renew(model[X], x, Kind.LENGTH), edits.renew(model[Y], y, Kind.LENGTH)
    return with_tank(layout, replace(tank, return_at=at))


def set_baffle(layout: Layout, name: str, x: float, top: float) -> Layout:
    """The baffle of a tank at x with its upper edge at `top` [m]; a new one stands on the floor.

    Raises EditError outside the tank.
    """
    tank = layout.reservoirs[name]
    old = tank.baffle or Baffle(*stock.point(layout, 0.0, 0.0))
    baffle = replace(old, x=edits.renew(old.x, x, Kind.LENGTH), top=edits.renew(old.top, top, Kind.LENGTH))
    foot = baffle.bottom.si if baffle.bottom is not None else reservoirs.floor_under(tank, x)
    if top <= foot + SAME:
        raise EditError("the top of the baffle lies above its foot")
    return with_tank(layout, replace(tank, baffle=baffle))


def set_drawn_down(layout: Layout, name: str, y: float) -> Layout:
    """Cylinders drawing a tank from its normal level down to `y` [m].

    Raises EditError above the normal level, and below the floor.
    """
    tank = layout.reservoirs[name]
    floor = size(tank, Side.FLOOR)
    if not floor < y < tank.normal_level.si:
        raise EditError("what is drawn out lies between the floor and the normal level")
    volume = reservoirs.volume_drawn(tank, y)
    american = layout.units == units.System.US
    old = tank.draw_down or units.quantity_in(volume, Kind.VOLUME, "gal" if american else "L")
    return with_tank(layout, replace(tank, draw_down=edits.renew(old, volume, Kind.VOLUME)))


def put_in(layout: Layout, what: str, x: float, y: float) -> Built:
    """One of `IN_TANK` put into the tank that (x, y) [m] lies in, in the place of the one it has; its name.

    Raises EditError outside every tank.
    """
    name = tank_round(layout, x, y)
    make = {BAFFLE: set_baffle, RETURN: set_return}
    changed = make[what](layout, name, x, y) if what in make else set_drawn_down(layout, name, y)
    return Built(changed, name)


def tank_round(layout: Layout, x: float, y: float) -> str:
    """The tank that (x, y) [m] lies in. Raises EditError outside every one."""
    spot = shapely.Point(x, y)
    for name, tank in layout.reservoirs.items():
        if polygon(tank.outline).intersects(spot):
            return name
    raise EditError("it is put into a tank: click within one")


# Corners


def move_outline_corner(layout: Layout, name: str, corner: int, x: float, y: float) -> Layout:
    """Corner `corner` of a tank's outline at (x, y) [m]. Walls that are upright or level stay so, and what
    is fixed to a wall comes along with it.

    Raises EditError where the tank would no longer hold what is in it.
    """
    tank = layout.reservoirs[name]
    edits.si_of(x), edits.si_of(y)
    for axis, to in ((X, x), (Y, y)):
        layout, tank = _wall_to(layout, tank, corner, axis, to)
    if trouble := _trouble(layout, tank):
        raise EditError(trouble)
    return layout


def drag_outline_corner(layout: Layout, name: str, corner: int, x: float, y: float) -> Layout:
    """A corner moved as by `move_outline_corner`, but one amid a straight wall alone: out of that wall.

    Raises EditError as that does.
    """
    tank = layout.reservoirs[name]
    count = len(tank.outline)
    wall, before = wall_axis(tank, corner), wall_axis(tank, (corner - 1) % count)
    if wall is None or wall != before:
        return move_outline_corner(layout, name, corner, x, y)
    own = tank.outline[corner]
    at = in_unit_of(own[X], edits.si_of(x), Kind.LENGTH), in_unit_of(own[Y], edits.si_of(y), Kind.LENGTH)
    outline = (*tank.outline[:corner], at, *tank.outline[corner + 1 :])
    return with_tank(layout, replace(tank, outline=outline))


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
