"""Directions and places along a line from corner to corner."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from sketch.drawing.view import XY


def toward(a: XY, b: XY) -> XY | None:
    """The unit vector from a to b; None where they coincide."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    return None if length < 1e-12 else ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def along(points: Sequence[XY], share: float) -> tuple[XY, XY]:
    """The point at a share of the length of a polyline, and the unit direction there."""
    lengths = [math.dist(a, b) for a, b in pairwise(points)]
    left = sum(lengths) * share
    for (a, b), length in zip(pairwise(points), lengths, strict=True):
        if left <= length and length > 0:
            ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
            return (a[0] + ux * left, a[1] + uy * left), (ux, uy)
        left -= length
    return points[-1], toward(points[0], points[-1]) or (1.0, 0.0)


def tail(points: Sequence[XY], share: float) -> tuple[XY, ...]:
    """What is left of a polyline past a share of its length."""
    if share <= 0.0:
        return tuple(points)
    start, _ = along(points, share)
    walked, total = 0.0, sum(math.dist(a, b) for a, b in pairwise(points))
    rest = []
    for a, b in pairwise(points):
        walked += math.dist(a, b)
        if walked > share * total:
            rest.append(b)
    return (start, *rest)
