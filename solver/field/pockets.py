"""What a line holds: its volume, and the high places in it where air stays."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from solver.geometry import reservoirs
from solver.geometry.outline import bore
from solver.ledger.beside import LineBeside, lines_beside
from solver.ledger.solve import Entry, Solution


class Station(NamedTuple):
    """A point on the way to a pump."""

    x: float  # [m]
    z: float  # elevation of the centre of the bore [m]
    part: str
    area: float  # of the bore from the point before to this one, or of a port [m²]
    length: float  # developed, from the point before [m]

    @property
    def crown(self) -> float:
        """Elevation of the top of the bore [m]; of an upright one as of one that lies, as it goes on."""
        return self.z + math.sqrt(self.area / math.pi)


@dataclass(frozen=True, slots=True)
class Pocket:
    """A high place from which air can rise neither back to the tank nor on to the pump."""

    part: str
    x: float  # of its top [m]
    z: float  # of the centre of the bore there
    sill: float  # elevation at which air from it spills over, along the top of the bore [m]
    volume: float  # of the line above the sill [m³]
    below_level: bool  # the fluid in the tank stands over the top of its bore


def stations(solution: Solution, pump: str) -> tuple[Station, ...]:
    """The way to a pump, point by point, from the intake. Raises KeyError for an unknown pump."""
    port = solution.layout.pumps[pump]
    points = _points(solution, solution.pumps[pump].entries)
    area = math.pi / 4 * bore(port) ** 2
    return (*points, Station(port.at[0].si, port.at[1].si, pump, area, 0.0))


class Beside(NamedTuple):
    """A line in parallel with the way to a pump."""

    way: tuple[Station, ...]  # from its tank through it to the port
    own: slice  # the points of it that no other way has
    level: float  # of the fluid in its tank [m]

    @property
    def line(self) -> tuple[Station, ...]:
        """Its own points."""
        return self.way[self.own]


def beside(solution: Solution, pump: str) -> tuple[Beside, ...]:
    """The lines in parallel with the way to a pump. Raises KeyError for an unknown pump."""
    return tuple(_beside(solution, pump, each) for each in lines_beside(solution, pump))


def _beside(solution: Solution, pump: str, line: LineBeside) -> Beside:
    places = [place for place, entry in enumerate(line.entries) if entry.key in line.own]
    first, last = (len(_points(solution, line.entries[:place])) for place in (places[0], places[-1] + 1))
    level = reservoirs.level(solution.layout.reservoirs[line.reservoir], solution.level)
    way = (*_points(solution, line.entries), stations(solution, pump)[-1])
    return Beside(way, slice(first, last), level)


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
    """What of a way lies above a height, where that cuts the bore of a line that lies too [m³]."""
    return sum(_above(before, after, height) for before, after in pairwise(way))


UPRIGHT = 1e-6
"""Level length over length of a line, under which it counts as upright."""


def _above(before: Station, after: Station, height: float) -> float:
    """What of a straight lies above a height [m³]: of every cut across it what is over a chord."""
    low, high = sorted((before.z, after.z))
    if not after.length:
        return 0.0
    rise = min((high - low) / after.length, 1.0)
    half = math.sqrt(after.area / math.pi * (1.0 - rise**2))  # of the height of a cut [m]
    whole = after.area * after.length
    if half <= UPRIGHT * math.sqrt(after.area / math.pi):
        share = min(max((high - height) / (high - low), 0.0), 1.0)
    elif high - low <= UPRIGHT * half:
        share = _over_chord((height - (low + high) / 2) / half)
    else:
        share = half / (high - low) * (_swept((height - low) / half) - _swept((height - high) / half))
    return whole * share


def _over_chord(chord: float) -> float:
    """Share of a circle over a chord, so many radii above its centre."""
    at = min(max(chord, -1.0), 1.0)
    return (math.acos(at) - at * math.sqrt(1.0 - at**2)) / math.pi


def _swept(chord: float) -> float:
    """What of `_over_chord` adds up to a chord; 0 from the top of the circle on."""
    at = min(max(chord, -1.0), 1.0)
    within = at * math.acos(at) - math.sqrt(1.0 - at**2) + math.sqrt(1.0 - at**2) ** 3 / 3
    return within / math.pi + min(chord + 1.0, 0.0)


def pockets(solution: Solution, pump: str) -> tuple[Pocket, ...]:
    """Every high place on the way to a pump, in walking order, then those of lines in parallel with it."""
    way = stations(solution, pump)
    level = solution.pumps[pump].fluid_level
    high_places = {_places(way[top.first : top.last + 1]): _pocket(way, top, level) for top in _tops(way)}
    for line in beside(solution, pump):
        for top in _tops(line.way):
            own = _own_part(line, top)
            same = [each for each in high_places if each & _places(line.way[top.first : top.last + 1])]
            if same:  # air of one high place goes on into both lines
                more = volume_above(own, high_places[same[0]].sill)
                high_places[same[0]] = replace(
                    high_places[same[0]], volume=high_places[same[0]].volume + more
                )
            elif top.first < line.own.stop and top.last >= line.own.start:
                pocket = _pocket(line.way, top, min(level, line.level))
                _, span = _over_sill(line.way, top)
                if any(each & _places(line.way[span]) for each in high_places):  # which holds the rest
                    pocket = replace(pocket, volume=volume_above(own, pocket.sill))
                high_places[_places(line.way[top.first : top.last + 1])] = pocket
    return tuple(high_places.values())


class _Top(NamedTuple):
    """Places of the first and the last point of a level top of a way."""

    first: int
    last: int


def _places(points: Sequence[Station]) -> frozenset[tuple[float, float]]:
    """Where points are drawn [m]."""
    return frozenset((round(each.x, 6), round(each.z, 6)) for each in points)


def _own_part(line: Beside, top: _Top) -> Sequence[Station]:
    """The points of a line's own among those that lie over the sill of a top."""
    _, span = _over_sill(line.way, top)
    return line.way[max(span.start, line.own.start) : min(span.stop, line.own.stop)]


def _tops(way: Sequence[Station]) -> Iterator[_Top]:
    """Every level top that the line rises to and falls from by half a bore."""
    first = 0
    while first < len(way):
        last = first
        while last + 1 < len(way) and math.isclose(way[last + 1].z, way[first].z, abs_tol=1e-6):
            last += 1
        left, right = _fall(way, first, -1), _fall(way, last, 1)
        half = math.sqrt(max(way[first].area, way[last].area) / math.pi)
        if min(left, right) > half and first > 0 and last < len(way) - 1:
            yield _Top(first, last)
        first = last + 1


def _fall(way: Sequence[Station], start: int, step: int) -> float:
    """How far the line falls from a point before it rises above it again, or ends [m]."""
    top, lowest, at = way[start].z, way[start].z, start + step
    while 0 <= at < len(way) and way[at].z <= top:
        lowest = min(lowest, way[at].z)
        at += step
    return top - lowest


def _over_sill(way: Sequence[Station], top: _Top) -> tuple[float, slice]:
    """The height of the axis from which a top is shut in [m], and the points down to it on either side."""
    low, high = top
    sill = way[low].z - min(_fall(way, low, -1), _fall(way, high, 1))
    while low > 0 and way[low - 1].z >= sill and way[low].z >= sill:
        low -= 1
    while high < len(way) - 1 and way[high + 1].z >= sill and way[high].z >= sill:
        high += 1
    return sill, slice(max(low - 1, 0), min(high + 2, len(way)))


def _pocket(way: Sequence[Station], top: _Top, level: float) -> Pocket:
    (sill, span), (first, last) = _over_sill(way, top), top
    spills = sill + min(station.crown - station.z for station in way[span])
    under = max(way[first].crown, way[last].crown) < level
    held = volume_above(way[span], spills)
    return Pocket(way[first].part, way[first].x, way[first].z, spills, held, under)
