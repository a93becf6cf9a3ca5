"""The outline of a reservoir as a polygon, made once for all who ask."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, TypeVar

from solver.layout.parts import Point

MOST_KEPT = 256
"""Outlines of which something is kept."""

S = TypeVar("S")
T = TypeVar("T")


def made_once(make: Callable[[S], T]) -> Callable[[S], T]:
    """Keep what is made of the very same thing, which never changes: its hash alone takes ten times as long
    as to look it up by identity, and a frame of a drag asks a dozen times."""
    kept: dict[int, tuple[S, T]] = {}  # with the thing, so that no other gets its identity

    def of_thing(thing: S) -> T:
        before = kept.get(id(thing))
        if before is None:
            if len(kept) >= MOST_KEPT:
                kept.clear()
            before = kept[id(thing)] = thing, make(thing)
        return before[1]

    return of_thing


@made_once
@lru_cache(maxsize=MOST_KEPT)  # of an outline that is equal to another
def polygon(outline: tuple[Point, ...]) -> Any:  # shapely ships no type information
    """The corners of an outline as a polygon [m], valid or not."""
    from shapely import Polygon, prepare

    shape = Polygon([(x.si, y.si) for x, y in outline])
    prepare(shape)
    return shape


@made_once
def sides(outline: tuple[Point, ...]) -> tuple[float, float, float, float]:
    """The left, low, right and high side of an outline [m]."""
    left, low, right, high = polygon(outline).bounds
    return left, low, right, high


def distance(outline: tuple[Point, ...], x: float, y: float) -> float:
    """How far a point lies outside an outline [m]; 0 inside and on it."""
    from shapely import Point as Spot

    return float(polygon(outline).distance(Spot(x, y)))
