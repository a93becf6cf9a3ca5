"""What a line holds: its volume, and the high places in it where air stays."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from solver.ledger.solve import Entry, Solution


class Station(NamedTuple):
    """A point on the way to a pump."""

    x: float  # [m]
    z: float  # elevation [m]
    part: str
    area: float  # of the bore from the point before to this one [m²]
    length: float  # developed, from the point before [m]


@dataclass(frozen=True, slots=True)
class Pocket:
    """A high place from which air can rise neither back to the tank nor on to the pump."""

    part: str
    x: float  # of its top [m]
    z: float
    sill: float  # elevation at which air from it spills over [m]
    volume: float  # of the line above the sill [m³]
    below_level: bool  # the fluid in the tank stands over it


def stations(solution: Solution, pump: str) -> tuple[Station, ...]:
    """The way to a pump, point by point, from the intake. Raises KeyError for an unknown pump."""
    port = solution.layout.pumps[pump].at
    points = _points(solution, solution.pumps[pump].entries)
    return (*points, Station(port[0].si, port[1].si, pump, 0.0, 0.0))


def beside(solution: Solution, pump: str) -> tuple[Station, ...]:
    """The points of the lines in parallel with the way to a pump, each line on from its own first point."""
    return tuple(_points(solution, solution.pumps[pump].parallel_entries))


def _points(solution: Solution, entries: Iterable[Entry]) -> list[Station]:
    rows, index = solution.network.rows, solution.network.index
    points: list[Station] = []
    for entry in entries:
        if entry.key not in index:
            continue
        row = rows[index[entry.key]]
        path = row.path if entry.flow >= 0 else row.path[::-1]
        drawn = sum(math.dist(a, b) for a, b in pairwise(path))
        long = row.length + row.arc
        area = math.pi / 4 * row.bore**2
        for number, (x, z) in enumerate(path):
            share = math.dist(path[number - 1], (x, z)) / drawn if number and drawn > 0 else 0.0
            points.append(Station(x, z, row.part, area, share * long))
    return points


def line_volume(way: Sequence[Station]) -> float:
    """What the runs on a way hold [m³]; fittings, screens and the pump's case are not in it."""
    return sum(station.area * station.length for station in way)


def volume_above(way: Sequence[Station], height: float) -> float:
    """What of a way lies above a height [m³]."""
    return sum(_above(before, after, height) for before, after in pairwise(way))


def _above(before: Station, after: Station, height: float) -> float:
    low, high = sorted((before.z, after.z))
    if high <= height:
        return 0.0
    share = 1.0 if low >= height else (high - height) / (high - low)
    return after.area * after.length * share


def pockets(solution: Solution, pump: str) -> tuple[Pocket, ...]:
    """Every high place on the way to a pump, in walking order."""
    way = stations(solution, pump)
    level = solution.pumps[pump].fluid_level
    return tuple(_pocket(way, first, last, level) for first, last in _tops(way))


def _tops(way: Sequence[Station]) -> Iterator[tuple[int, int]]:
    """First and last point of every level top that the line rises to and falls from by half a bore."""
    first = 0
    while first < len(way):
        last = first
        while last + 1 < len(way) and math.isclose(way[last + 1].z, way[first].z, abs_tol=1e-6):
            last += 1
        left, right = _fall(way, first, -1), _fall(way, last, 1)
        half = math.sqrt(max(way[first].area, way[last].area) / math.pi)
        if min(left, right) > half and first > 0 and last < len(way) - 1:
            yield first, last
        first = last + 1


def _fall(way: Sequence[Station], start: int, step: int) -> float:
    """How far the line falls from a point before it rises above it again, or ends [m]."""
    top, lowest, at = way[start].z, way[start].z, start + step
    while 0 <= at < len(way) and way[at].z <= top:
        lowest = min(lowest, way[at].z)
        at += step
    return top - lowest


def _pocket(way: Sequence[Station], first: int, last: int, level: float) -> Pocket:
    top = way[first].z
    sill = top - min(_fall(way, first, -1), _fall(way, last, 1))
    low, high = first, last
    while low > 0 and way[low - 1].z >= sill and way[low].z >= sill:
        low -= 1
    while high < len(way) - 1 and way[high + 1].z >= sill and way[high].z >= sill:
        high += 1
    span = way[max(low - 1, 0) : min(high + 2, len(way))]
    return Pocket(way[first].part, way[first].x, top, sill, volume_above(span, sill), top < level)
