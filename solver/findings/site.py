"""Checks of the site, and of what stands or runs where nothing should, one small function each."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import shapely

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.geometry import outline, reservoirs
from solver.geometry.outline import NEAR, XY
from solver.layout.parts import Point, Reservoir, Site
from solver.layout.shapes import polygon, sides
from solver.network.ways import within
from solver.properties.atmosphere import LOW_PRESSURE_DAY, standard_pressure
from solver.quantities.units import Kind

MORE_THAN_IS_LEFT = ", more than is left"
"""Ends what is found of the weather where a low-pressure day takes the rest of a margin."""

WHY_INSIDE = "A pump in the fluid needs a drive made for it, and nobody sees what its joints do there."
"""Why it matters, of a pump inside a reservoir."""

Ring = tuple[Point, ...]
"""The corners of a reservoir."""

KEPT = 256
"""Answers about places that are kept: they are the same in every case of a drawing."""

WEATHER = 4000.0
"""How far weather moves a barometer off the standard of its elevation [Pa]. Common practice, no source."""


def is_allowed_for(site: Site) -> bool:
    """Whether a site states what a low-pressure day takes, or has a barometer read at it."""
    return site.weather_allowance is not None or site.barometer is not None


def no_weather_allowance(subject: Subject) -> Iterator[Hit]:
    """An atmosphere that is that of an ordinary day: a caution where a low one is not enough."""
    margin = subject.ledger.margin
    if not is_allowed_for(subject.layout.site):
        low = subject.show(LOW_PRESSURE_DAY, Kind.VACUUM)
        text = f"no allowance is made for a low-pressure day, which takes about {low}"
        text += MORE_THAN_IS_LEFT if 0 <= margin < LOW_PRESSURE_DAY else ""
        severity = Severity.CAUTION if margin < LOW_PRESSURE_DAY else Severity.NOTE
        yield Hit(
            severity,
            subject.ledger.reservoir,
            "",
            0.0,
            LOW_PRESSURE_DAY,
            Kind.VACUUM,
            text,
        )


def port_inside(subject: Subject) -> Iterator[Hit]:
    """A pump that stands in a reservoir."""
    at = outline.position(subject.pump)
    for tank in subject.layout.reservoirs.values():
        if not depth(tank.outline, at) > NEAR:
            continue
        level = reservoirs.level(tank, subject.solution.level)
        where = "under the fluid" if at[1] < level else "above the fluid"
        text = f"{subject.pump.name}: its port lies inside {tank.name}, {where}"
        rim = sides(tank.outline)[3]
        yield Hit(Severity.CAUTION, subject.pump.name, subject.port.key, at[1], rim, Kind.LENGTH, text)


def line_through_wall(subject: Subject) -> Iterator[Hit]:
    """A run that leaves a reservoir under the fluid with no nozzle, or passes through one."""
    feeding = {intake.reservoir for _, _, intake in subject.intakes}
    for tank in subject.layout.reservoirs.values():
        for name in _near(subject, tank):
            path = tuple(outline.corners(subject.layout, subject.layout.runs[name]))
            low, normal = _lowest_crossing(path, tank.outline), tank.normal_level.si
            if tank.name not in feeding:
                text = f"{name}: it runs through {tank.name}, which does not feed it"
            elif low is not None and low < normal - NEAR:
                z = subject.show(low, Kind.LENGTH)
                where = f"the wall of {tank.name} under the fluid, at {z}, without a nozzle"
                text = f"{name}: it passes through {where}"
            else:
                continue
            if _inside_length(path, tank.outline) > NEAR:
                value = path[0][1] if low is None else low
                yield Hit(Severity.CAUTION, name, "", value, normal, Kind.LENGTH, text)


def barometer_against_elevation(subject: Subject) -> Iterator[Hit]:
    """A barometer that shows what no weather brings about at that elevation: one reduced to sea level."""
    site = subject.layout.site
    if site.barometer is None or site.elevation is None:
        return
    shown, standard = site.barometer.si, standard_pressure(site.elevation.si)
    if abs(shown - standard) > WEATHER:
        text = (
            f"the barometer shows {subject.show(shown, Kind.ABSOLUTE)}, "
            f"{subject.show(standard, Kind.ABSOLUTE)} is the standard at {site.elevation.text}: "
            "is it reduced to sea level?"
        )
        yield Hit(Severity.CAUTION, "", "", shown, standard, Kind.ABSOLUTE, text)


def depth(ring: Ring, at: XY) -> float:
    """How far inside a reservoir's outline a point lies [m]; 0 outside."""
    left, low, right, high = sides(ring)
    return _depth(ring, at) if left < at[0] < right and low < at[1] < high else 0.0


@lru_cache(maxsize=KEPT)
def _depth(ring: Ring, at: XY) -> float:
    shape, point = polygon(ring), shapely.Point(at)
    return float(shape.exterior.distance(point)) if shape.contains(point) else 0.0


def _near(subject: Subject, tank: Reservoir) -> dict[str, None]:
    """The runs that come within the rectangle around a reservoir: few, where a line is long."""
    bounds = sides(tank.outline)
    names = dict.fromkeys(subject.way.parts_within(bounds))
    names |= dict.fromkeys(row.part for _, row in subject.parallel if within(row, bounds))
    return {name: None for name in names if name in subject.layout.runs}


@lru_cache(maxsize=KEPT)
def _inside_length(path: tuple[XY, ...], ring: Ring) -> float:
    """Length of a path inside a reservoir, that along its walls left out [m]."""
    shape, line = polygon(ring), shapely.LineString(path)
    return float(line.intersection(shape).length - line.intersection(shape.exterior).length)


@lru_cache(maxsize=KEPT)
def _lowest_crossing(path: tuple[XY, ...], ring: Ring) -> float | None:
    """Elevation of the lowest place at which a path passes through a reservoir's outline [m]."""
    shape = polygon(ring)
    met = shapely.LineString(path).intersection(shape.exterior)
    inner = (path[0], path[-1])
    heights = [
        float(y)
        for x, y in shapely.get_coordinates(met)
        # A run that begins or ends on the wall does so at a nozzle.
        if min(abs(x - a) + abs(y - b) for a, b in inner) > NEAR
    ]
    return min(heights, default=None)
