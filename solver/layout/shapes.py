"""The outline of a reservoir as a polygon, made once for all who ask."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from solver.layout.parts import Point


@lru_cache(maxsize=256)
def polygon(outline: tuple[Point, ...]) -> Any:  # shapely ships no type information
    """The corners of an outline as a polygon [m], valid or not."""
    from shapely import Polygon, prepare

    shape = Polygon([(x.si, y.si) for x, y in outline])
    prepare(shape)
    return shape


def distance(outline: tuple[Point, ...], x: float, y: float) -> float:
    """How far a point lies outside an outline [m]; 0 inside and on it."""
    from shapely import Point as Spot

    return float(polygon(outline).distance(Spot(x, y)))
