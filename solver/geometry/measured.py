"""Where a dimension of one's own lies, and what it measures."""

from __future__ import annotations

import math

from solver.layout.parts import Layout, Point
from solver.layout.remarks import Direction, End, OwnDimension, TankCorner

XY = tuple[float, float]
SAME = 1e-9  # [m]


def ends(layout: Layout, dimension: OwnDimension) -> tuple[XY, XY] | None:
    """The two points that a dimension is between [m]; None where the drawing has not the part of an end."""
    start, end = place_of(layout, dimension.start), place_of(layout, dimension.end)
    return None if start is None or end is None else (start, end)


def place_of(layout: Layout, end: End) -> XY | None:
    """Where an end is [m]; None where the drawing has not its part."""
    point = point_of(layout, end)
    return None if point is None else (point[0].si, point[1].si)


def point_of(layout: Layout, end: End) -> Point | None:
    """Where an end is, as it is typed there; None where the drawing has not its part or corner."""
    if isinstance(end, TankCorner):
        tank = layout.reservoirs.get(end.reservoir)
        return tank.outline[end.corner] if tank is not None and end.corner < len(tank.outline) else None
    if not isinstance(end, str):
        return end
    try:
        return layout.joint(end).at
    except KeyError:
        return None


def corner_at(layout: Layout, x: float, y: float, reach: float = SAME) -> TankCorner | None:
    """The corner of a reservoir nearest to (x, y), none farther away than `reach` [m]."""
    corners = (
        (math.dist((x, y), (px.si, py.si)), TankCorner(name, number))
        for name, tank in layout.reservoirs.items()
        for number, (px, py) in enumerate(tank.outline)
    )
    away, corner = min(corners, key=lambda each: each[0], default=(math.inf, None))
    return corner if away <= reach else None


def dimension_line(layout: Layout, dimension: OwnDimension) -> tuple[XY, XY] | None:
    """The line of a dimension, from end to end [m]; None where the drawing has not the part of an end."""
    points = ends(layout, dimension)
    return None if points is None else line_between(*points, dimension.direction, dimension.offset.si)


def line_between(a: XY, b: XY, direction: Direction, offset: float) -> tuple[XY, XY]:
    """The line of a dimension between two points at an offset [m]."""
    if direction is Direction.ACROSS:
        return (a[0], a[1] + offset), (b[0], a[1] + offset)
    if direction is Direction.UP:
        return (a[0] + offset, a[1]), (a[0] + offset, b[1])
    x, y = _aside(a, b)
    return (a[0] + x * offset, a[1] + y * offset), (b[0] + x * offset, b[1] + y * offset)


def offset_through(a: XY, b: XY, direction: Direction, x: float, y: float) -> float:
    """The offset at which the line of a dimension passes through (x, y) [m]."""
    if direction is Direction.ACROSS:
        return y - a[1]
    if direction is Direction.UP:
        return x - a[0]
    way = _aside(a, b)
    return (x - a[0]) * way[0] + (y - a[1]) * way[1]


def _aside(a: XY, b: XY) -> XY:
    """The unit vector to the left of the way between two points."""
    away = math.dist(a, b) or 1.0
    return -(b[1] - a[1]) / away, (b[0] - a[0]) / away


def direction_towards(a: XY, b: XY, x: float, y: float) -> Direction:
    """What a dimension measures whose line is put down at (x, y): above or below its ends across, beside
    them up, else all of the way between."""
    level, upright = abs(a[1] - b[1]) <= SAME, abs(a[0] - b[0]) <= SAME
    if level or upright:
        return Direction.ACROSS if level else Direction.UP
    within_x = min(a[0], b[0]) <= x <= max(a[0], b[0])
    within_y = min(a[1], b[1]) <= y <= max(a[1], b[1])
    if within_x is within_y:
        return Direction.STRAIGHT
    return Direction.ACROSS if within_x else Direction.UP
