"""Convex polygons on the device: hatching, clipping, and the ribbon a pipe covers. No Qt here."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from sketch.drawing.labels import Box
from sketch.drawing.view import XY

Polygon = tuple[XY, ...]
Line = tuple[XY, XY]


def hatch(polygon: Sequence[XY], spacing: float, *, rising: bool = True) -> list[Line]:
    """Lines at 45 degrees across a convex polygon, in phase over the whole sheet."""
    if len(polygon) < 3:
        return []
    if len(polygon) == 4 and _upright(polygon):
        xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
        return _hatch_box(min(xs), min(ys), max(xs), max(ys), spacing, 1.0 if rising else -1.0)
    sign = 1.0 if rising else -1.0
    offsets = [y + sign * x for x, y in polygon]
    lines: list[Line] = []
    edges = list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))
    for step in range(math.ceil(min(offsets) / spacing), math.floor(max(offsets) / spacing) + 1):
        level = step * spacing
        crossings = _crossings(edges, level, sign)
        if len(crossings) >= 2:
            low, high = min(crossings), max(crossings)
            if high[0] - low[0] > 1e-6:
                lines.append((low, high))
    return lines


def _upright(polygon: Sequence[XY]) -> bool:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = polygon
    return (ax == bx and by == cy and cx == dx and dy == ay) or (
        ay == by and bx == cx and cy == dy and dx == ax
    )


def _hatch_box(
    left: float, top: float, right: float, bottom: float, spacing: float, sign: float
) -> list[Line]:
    """Slanting lines across an upright rectangle, which most pipes and all slices are."""
    ends = (top + sign * left, top + sign * right, bottom + sign * left, bottom + sign * right)
    lines: list[Line] = []
    for step in range(math.ceil(min(ends) / spacing), math.floor(max(ends) / spacing) + 1):
        level = step * spacing
        # y = level - sign x; the ends lie where it meets the rectangle.
        at_top, at_bottom = (level - top) * sign, (level - bottom) * sign
        if at_top > at_bottom:
            at_top, at_bottom = at_bottom, at_top
        x1 = at_top if at_top > left else left
        x2 = at_bottom if at_bottom < right else right
        if x2 - x1 > 1e-6:
            lines.append(((x1, level - sign * x1), (x2, level - sign * x2)))
    return lines


def clipped(polygon: Sequence[XY], box: Box) -> Polygon:
    """The part of a convex polygon inside a box (Sutherland and Hodgman, 1974)."""
    left, top, right, bottom = box.x, box.y, box.right, box.bottom
    if all(left <= x <= right and top <= y <= bottom for x, y in polygon):
        return tuple(polygon)
    kept = list(polygon)
    for axis, bound, sign in ((0, left, 1.0), (0, right, -1.0), (1, top, 1.0), (1, bottom, -1.0)):
        inside, kept = kept, []
        for a, b in zip(inside, inside[1:] + inside[:1], strict=True):
            fa, fb = (a[axis] - bound) * sign, (b[axis] - bound) * sign
            if fa >= 0.0:
                kept.append(a)
            if (fa >= 0.0) != (fb >= 0.0):
                t = fa / (fa - fb)
                kept.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    return tuple(kept)


def _crossings(edges: Iterable[Line], level: float, sign: float) -> list[XY]:
    points = []
    for (ax, ay), (bx, by) in edges:
        fa, fb = ay + sign * ax - level, by + sign * bx - level
        if (fa <= 0.0) != (fb <= 0.0):
            t = fa / (fa - fb)
            points.append((ax + (bx - ax) * t, ay + (by - ay) * t))
    return points


def ribbon(points: Sequence[XY], width: float) -> list[Polygon]:
    """The quadrilaterals a polyline of that width covers."""
    quads: list[Polygon] = []
    for (ax, ay), (bx, by) in pairwise(points):
        length = math.hypot(bx - ax, by - ay)
        if length > 1e-9:
            nx, ny = (by - ay) / length * width / 2, (ax - bx) / length * width / 2
            quads.append(((ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)))
    return quads
