"""Checks of what stands across the wall of a reservoir: parts of the line, and pumps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import shapely

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.findings.site import KEPT, Ring, depth
from solver.geometry import outline, reservoirs
from solver.geometry.outline import NEAR, XY
from solver.layout.kinds import FittingKind, IntakeKind
from solver.layout.parts import Fitting, Layout, Pump, Reservoir, Tee
from solver.layout.shapes import polygon, sides
from solver.network.ways import within
from solver.quantities.units import Kind

BODY = "geometry; of a part without a typed length, one bore at least: common practice, no source"

PUMP_BORES = 2.0
"""Length of a pump behind its port, in bores, at the least: common practice, no source."""

PUMP_BODY = "geometry; a pump two bores long and one high at least: common practice, no source"

WHY = "Nobody can fit, shut or change it there, and under the fluid a line passes a wall in a nozzle alone."
"""Why it matters, of a part in a wall."""

WHY_PUMP = "It cannot be built so: a pump stands on one side of a wall, and its port leaves room for a joint."
"""Why it matters, of a pump in a wall."""

UNNAMED = (
    FittingKind.KNOWN_K,
    FittingKind.FLOW_COEFFICIENT,
    FittingKind.KNOWN_DROP,
    FittingKind.MAKERS_CURVE,
)
"""Kinds that say what a part takes, and not what it is."""

LEAST_AREA = 1e-8
"""Of a pump's body across a wall, under which it only touches it [m²]."""

Body = tuple[tuple[XY, ...], ...]
"""What a part takes up of the centre lines on it, each from its place outwards [m]."""


class Crossing(NamedTuple):
    """Where a body lies across the outline of a reservoir [m]."""

    x: float
    z: float  # the lowest place
    inside: float  # how much of the body lies inside


def part_in_wall(subject: Subject) -> Iterator[Hit]:
    """A valve, connector or other part of the line whose length lies across the wall of a reservoir."""
    for tank in subject.layout.reservoirs.values():
        for part in parts_near(subject, tank):
            crossing = crossing_of(subject.layout, part, tank)
            severity = None if crossing is None else _severity(part, tank, crossing)
            if crossing is None or severity is None:
                continue
            length, height = (subject.show(each, Kind.LENGTH) for each in (_length(part), crossing.z))
            typed = isinstance(part, Fitting) and part.length is not None
            reaches = f"it is {length} long and reaches across" if typed else "it stands across"
            fluid = ", under the fluid" if _wetted(part, tank, crossing) else ""
            side = _side(tank, crossing.x, crossing.z)
            text = f"{part.name}: {reaches} the {side} of {tank.name}, at {height}{fluid}"
            advice = _clear_of(subject, part, tank, crossing)
            yield Hit(severity, part.name, "", crossing.z, None, Kind.LENGTH, text, advice)


def _clear_of(subject: Subject, part: Fitting | Tee, tank: Reservoir, crossing: Crossing) -> str:
    """Where a part that lies across a wall would stand clear of it."""
    by = crossing.inside if crossing.inside > NEAR else _length(part) / 2
    out = subject.show(by, Kind.LENGTH)
    advice = f"Set {part.name} {out} or more further out along its line, clear of {tank.name}."
    if _wetted(part, tank, crossing) and not _begins_at_nozzle(subject.layout, part):
        advice = f"{advice} Let the line pass the wall in a nozzle."
    if isinstance(part, Fitting) and part.kind == FittingKind.FILTER:
        return f"Leave it only if it is made to be built into a wall. Else: {advice}"
    return advice


def _begins_at_nozzle(layout: Layout, part: Fitting | Tee) -> bool:
    """Whether a line from a nozzle in a wall leads to a part."""
    ends = {end for run in outline.runs_by_end(layout).get(part.name, ()) for end in (run.start, run.end)}
    intakes = (layout.intakes[end] for end in ends if end in layout.intakes)
    return any(each.kind == IntakeKind.WALL_NOZZLE for each in intakes)


def line_parts(subject: Subject, names: Iterable[str]) -> Iterator[Fitting | Tee]:
    """The fittings and tees of some names."""
    layout = subject.layout
    parts = (layout.fittings.get(name) or layout.tees.get(name) for name in names)
    return (part for part in parts if part is not None)


def parts_near(subject: Subject, tank: Reservoir) -> Iterator[Fitting | Tee]:
    """The parts of the line that may reach a reservoir: few, where a line is long."""
    left, low, right, high = sides(tank.outline)
    bores = (*subject.way.size_columns[0], *(row.bore for _, row in subject.parallel))
    half = max((*bores, _longest(subject))) / 2
    bounds = (left - half, low - half, right + half, high + half)
    names = dict.fromkeys(subject.way.parts_within(bounds))
    names |= dict.fromkeys(row.part for _, row in subject.parallel if within(row, bounds))
    return line_parts(subject, names)


def _longest(subject: Subject) -> float:
    """The longest of the typed lengths of all fittings [m]; 0 without any."""
    fittings, graph = subject.layout.fittings, subject.solution.network.joined

    def longest() -> float:
        return max((part.length.si for part in fittings.values() if part.length is not None), default=0.0)

    return longest() if graph is None else graph.once("longest", (fittings,), longest)


def crossing_of(layout: Layout, part: Fitting | Tee, tank: Reservoir) -> Crossing | None:
    """Where a part lies across the outline of a reservoir; None where it does not."""
    return _crossing(tank.outline, outline.position(part), _body(layout, part, _length(part) / 2))


def _severity(part: Fitting | Tee, tank: Reservoir, crossing: Crossing) -> Severity | None:
    """How grave it is; None where it may be meant so."""
    kind = part.kind if isinstance(part, Fitting) else None
    if _wetted(part, tank, crossing):
        return Severity.NOTE if kind == FittingKind.FILTER else Severity.CAUTION
    return None if kind == FittingKind.FILTER or kind in UNNAMED else Severity.NOTE


def _wetted(part: Fitting | Tee, tank: Reservoir, crossing: Crossing) -> bool:
    """Whether fluid stands over the lower edge of a part where it lies across, at any level drawn."""
    if _is_lid(tank, crossing.z):
        return False
    return crossing.z - outline.bore(part) / 2 < reservoirs.highest_level(tank) - NEAR


def _is_lid(tank: Reservoir, z: float) -> bool:
    return z >= sides(tank.outline)[3] - NEAR


def _side(tank: Reservoir, x: float, z: float) -> str:
    """What of a reservoir's outline lies at a place on it: lid, floor or wall."""
    if _is_lid(tank, z):
        return "lid"
    left, _, right, _ = sides(tank.outline)
    on_floor = left < x < right and abs(z - reservoirs.floor_under(tank, x)) <= NEAR
    return "floor" if on_floor else "wall"


def _length(part: Fitting | Tee) -> float:
    """Length of a part along its line as typed, or its wider bore [m]."""
    if isinstance(part, Fitting) and part.length is not None:
        return part.length.si
    return max(outline.ends(part))


def _body(layout: Layout, part: Fitting | Tee, half: float) -> Body:
    paths = []
    for run in outline.runs_by_end(layout).get(part.name, ()):
        points = outline.corners(layout, run)
        paths.append(_stretch(points if run.start == part.name else points[::-1], half))
    return tuple(path for path in paths if len(path) > 1)


def _stretch(points: Sequence[XY], length: float) -> tuple[XY, ...]:
    """So much of a line from its beginning on; straight on where it ends before that [m]."""
    distinct = [at for i, at in enumerate(points) if i == 0 or math.dist(at, points[i - 1]) > NEAR]
    path, left = distinct[:1], length
    for place, ((x, z), (x_on, z_on)) in enumerate(pairwise(distinct), start=2):
        step = math.hypot(x_on - x, z_on - z)
        if step >= left or place == len(distinct):
            share = left / step
            path.append((x + share * (x_on - x), z + share * (z_on - z)))
            break
        path.append((x_on, z_on))
        left -= step
    return tuple(path)


@lru_cache(maxsize=KEPT)
def _crossing(ring: Ring, at: XY, body: Body) -> Crossing | None:
    shape, lines = polygon(ring), [shapely.LineString(path) for path in body]
    wall = shape.exterior
    on_it = wall.distance(shapely.Point(at)) <= NEAR
    within = sum(float(line.intersection(shape).length) for line in lines)
    inside = within - sum(float(line.intersection(wall).length) for line in lines)
    outside = sum(float(line.length) for line in lines) - within
    if on_it:
        return Crossing(*at, max(inside, 0.0))
    if not (inside > NEAR and outside > NEAR):
        return None
    places = [place for line in lines for place in shapely.get_coordinates(line.intersection(wall))]
    x, z = min(places, key=lambda place: float(place[1]))
    return Crossing(float(x), float(z), inside)


def pump_in_wall(subject: Subject) -> Iterator[Hit]:
    """A pump whose port lies in the wall of a reservoir, or whose body reaches across it."""
    pump, at, room = subject.pump, outline.position(subject.pump), PUMP_BORES * outline.bore(subject.pump)
    for tank in subject.layout.reservoirs.values():
        left, low, right, high = sides(tank.outline)
        near = left - room <= at[0] <= right + room and low - room <= at[1] <= high + room
        if not near or depth(tank.outline, at) > NEAR:
            continue  # a port that lies inside is found as such
        met = _pump_crossing(tank.outline, at, _pump_body(subject.layout, pump))
        if met is None:
            continue
        side, height = _side(tank, met.x, met.z), subject.show(at[1], Kind.LENGTH)
        text = f"{pump.name}: its body reaches across the {side} of {tank.name}, its port at {height}"
        if met.in_wall:
            text = f"{pump.name}: its port lies in the {side} of {tank.name}, at {height}"
        reach = met.aside if side == "wall" else met.upright
        by = subject.show(max(reach, outline.bore(pump)), Kind.LENGTH)
        way = "higher" if side == "lid" else f"further from {tank.name}"
        advice = f"Set {pump.name} {by} or more {way}, on a stand of its own, and its line with it."
        yield Hit(Severity.CAUTION, pump.name, subject.port.key, at[1], None, Kind.LENGTH, text, advice)


class _Overlap(NamedTuple):
    """Where a pump meets a reservoir [m]."""

    in_wall: bool  # its port lies on the outline itself
    x: float  # of the place on the outline that is nearest to its port
    z: float
    aside: float  # how far its body reaches across, sideways
    upright: float  # and up or down


@lru_cache(maxsize=KEPT)
def _pump_crossing(ring: Ring, at: XY, body: tuple[XY, ...]) -> _Overlap | None:
    shape, port = polygon(ring), shapely.Point(at)
    within = shapely.Polygon(body).intersection(shape) if body else shapely.Polygon()
    in_wall = shape.exterior.distance(port) <= NEAR
    if within.area <= LEAST_AREA:
        return _Overlap(in_wall=True, x=at[0], z=at[1], aside=0.0, upright=0.0) if in_wall else None
    left, low, right, high = within.bounds
    nearest = shape.exterior.interpolate(shape.exterior.project(port))
    return _Overlap(in_wall, float(nearest.x), float(nearest.y), right - left, high - low)


def _pump_body(layout: Layout, pump: Pump) -> tuple[XY, ...]:
    """The corners of what a pump takes up behind its port, the way its line leads [m]; none where that does
    not show."""
    width = outline.bore(pump)
    for run in outline.runs_by_end(layout).get(pump.name, ()):
        back = outline.direction(layout, run, pump.name)
        if back != (0.0, 0.0):
            (x, z), (u, w) = outline.position(pump), (-back[0], -back[1])
            ends = ((0.0, 0.5), (PUMP_BORES, 0.5), (PUMP_BORES, -0.5), (0.0, -0.5))
            return tuple(
                (x + width * (along * u - across * w), z + width * (along * w + across * u))
                for along, across in ends
            )
    return ()
