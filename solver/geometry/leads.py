"""How the straight lead to a pump is laid once the pump has moved past the bend that it comes from.

Stretched as it is, the line would run through its pump and back. So the lead keeps its length and its bend.
Where the pump has gone far enough past the bend, the port turns to face it from the other side. Nearer to it
the bend gives way with the stretch before it, to the side on which it has less far to go. It goes only where
the pump stands in line with that stretch, which then leads straight to the port.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from solver.geometry.radii import bend_radius, bore
from solver.geometry.squaring import SQUARE, XY
from solver.layout.parts import Fitting, Layout, Run
from solver.properties.sizes import SizeError


@dataclass(frozen=True, slots=True)
class Lead:
    """What leads straight and square to a port, from the last bend or part that is no fitting in line."""

    fittings: Mapping[str, float]  # from the port on, each with its distance to it [m]
    behind: Run  # the line that the lead begins in
    bend: XY  # where that one turns, or the part where it begins [m]
    port: XY  # of the pump before the move [m]
    way: XY  # unit vector from the bend to the port
    before: XY | None  # the point before the bend [m]; None where no bend is drawn
    room: float  # what the bend takes off the straight beside it, or a part is left of it [m]

    @property
    def length(self) -> float:
        """From the fitting farthest from the port to the port [m]."""
        return max(self.fittings.values())


@dataclass(frozen=True, slots=True)
class Relaid:
    """A lead that has followed its pump."""

    fittings: Mapping[str, XY]  # where they stand now, from the port on [m]
    bend: XY | None = None  # where the bend has moved to [m]; None where it stays
    straight: XY | None = None  # where the line behind, now without its bend, is led on from [m]


def lead_of(layout: Layout, on: Mapping[str, list[Run]], pump: str) -> Lead | None:
    """The lead to a pump with the fittings in it; None where none is in it or it does not run square.

    on: the lines that end on each part.
    """
    name, by, port = pump, "", _place(layout, pump)
    fittings: dict[str, float] = {}
    way: XY | None = None
    while len(onward := [run for run in on.get(name, ()) if run.name != by]) == 1:
        run = onward[0]
        points = _points(layout, run, name)
        reach = math.dist(points[1], port)
        toward = _square_way(points[1], port)
        if toward is None or way not in (None, toward) or reach < max(fittings.values(), default=0.0):
            return None
        way, far = toward, run.end if run.start == name else run.start
        inline = isinstance(layout.joint(far), Fitting) and len(on[far]) == 2 and far not in fittings
        if run.via or run.out_of_plane is not None or not inline:
            before = points[2] if run.via else None
            return Lead(fittings, run, points[1], port, way, before, _room(run)) if fittings else None
        fittings[far] = reach
        name, by = far, run.name
    return None


def relaid(lead: Lead, bolted: float, port: XY) -> Relaid | None:
    """The lead once its port is at another place [m]; None where it follows as it is.

    bolted: how far from the port what goes with the pump anyway reaches [m].
    """
    along = _along(lead, port)
    if along >= _along(lead, lead.port):
        return None
    loose = [_along(lead, lead.port) - reach for reach in lead.fittings.values() if reach > bolted]
    if along - bolted > (max(loose) if loose else lead.room) + SQUARE:
        return None
    if along - lead.length > lead.room:
        return Relaid(_placed(lead, port, lead.way))
    if along + lead.length < -lead.room:
        return Relaid(_placed(lead, port, _turned(lead.way)))
    return _straight(lead, port, along) or _given_way(lead, port, along)


def _straight(lead: Lead, port: XY, along: float) -> Relaid | None:
    """The lead to a port in line with a stretch before its bend that is long enough; else None."""
    if abs(along) > SQUARE or lead.before is None or (way := _square_way(lead.before, lead.bend)) is None:
        return None
    last = port[0] - way[0] * lead.length, port[1] - way[1] * lead.length
    left = (last[0] - lead.before[0]) * way[0] + (last[1] - lead.before[1]) * way[1]
    if way[0] * lead.way[0] + way[1] * lead.way[1] != 0 or left <= lead.room:
        return None
    start = lead.bend[0] - way[0] * lead.length, lead.bend[1] - way[1] * lead.length
    return Relaid(_placed(lead, port, way), straight=start)


def _given_way(lead: Lead, port: XY, along: float) -> Relaid:
    """The lead with its bend out of the way of a port that is too near to it."""
    way = lead.way if along >= 0.0 else _turned(lead.way)
    whole = lead.length + lead.room + SQUARE
    return Relaid(_placed(lead, port, way), bend=(port[0] - way[0] * whole, port[1] - way[1] * whole))


def _turned(way: XY) -> XY:
    return -way[0], -way[1]


def _placed(lead: Lead, port: XY, way: XY) -> dict[str, XY]:
    """Where the fittings stand with the line coming to the port by a unit vector."""
    return {
        name: (port[0] - way[0] * reach, port[1] - way[1] * reach) for name, reach in lead.fittings.items()
    }


def _along(lead: Lead, port: XY) -> float:
    """How far a port is past the bend [m]; below zero on its other side."""
    return (port[0] - lead.bend[0]) * lead.way[0] + (port[1] - lead.bend[1]) * lead.way[1]


def _square_way(start: XY, end: XY) -> XY | None:
    """Unit vector from one point to another where that is upright or level."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dx) <= SQUARE < abs(dy):
        return 0.0, math.copysign(1.0, dy)
    return (math.copysign(1.0, dx), 0.0) if abs(dy) <= SQUARE < abs(dx) else None


def _room(run: Run) -> float:
    """What the beginning of a lead needs of its straight [m]; 0 where no table has its size.

    A square bend takes its radius off. Beside a part one bore is left, as a line without length cannot be
    built; ours.
    """
    try:
        return bend_radius(run) if run.via else bore(run)
    except SizeError:
        return 0.0


def _place(layout: Layout, name: str) -> XY:
    x, y = layout.joint(name).at
    return x.si, y.si


def _points(layout: Layout, run: Run, start: str) -> list[XY]:
    """A run's points from the part `start`."""
    inner = [(x.si, y.si) for x, y in run.via]
    line = [_place(layout, run.start), *inner, _place(layout, run.end)]
    return line if run.start == start else line[::-1]
