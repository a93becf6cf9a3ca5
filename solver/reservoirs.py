"""Reservoirs: their outline, their fluid, and what of the line lies in them.

Lengths and elevations in metres; y is up.
"""

from __future__ import annotations

import shapely

from solver.geometry import NEAR, XY, corners, length_text, place, position
from solver.layout import Layout, Reservoir, Run


def polygon(reservoir: Reservoir) -> shapely.Polygon:
    """A reservoir's outline."""
    return shapely.Polygon([(x.si, y.si) for x, y in reservoir.outline])


def level(reservoir: Reservoir, which: str) -> float:
    """Elevation of a reservoir's fluid surface [m]; `which` is "minimum" or "normal"."""
    return (reservoir.minimum_level if which == "minimum" else reservoir.normal_level).si


def fluid_outline(reservoir: Reservoir, surface: float) -> tuple[tuple[XY, ...], ...]:
    """The part of a reservoir's outline under a fluid surface at that elevation [m], as closed rings."""
    shape = polygon(reservoir)
    x0, y0, x1, _ = shape.bounds
    if surface <= y0:
        return ()
    wet = shape.intersection(shapely.box(x0 - 1, y0 - 1, x1 + 1, surface))
    return tuple(
        tuple(piece.exterior.coords) for piece in shapely.get_parts(wet) if isinstance(piece, shapely.Polygon)
    )


def volume(reservoir: Reservoir, surface: float) -> float:
    """Fluid a reservoir holds up to an elevation [m], as [m³]."""
    rings = fluid_outline(reservoir, surface)
    return float(sum(shapely.Polygon(ring).area for ring in rings)) * reservoir.depth.si


def wall_crossings(layout: Layout, run: Run) -> tuple[tuple[str, XY], ...]:
    """Where a run passes through the outline of a reservoir, in its own order: ((reservoir, (x, y)), ...)."""
    line = shapely.LineString(corners(layout, run))
    found: list[tuple[float, str, XY]] = []
    for name, reservoir in layout.reservoirs.items():
        crossing = line.intersection(polygon(reservoir).exterior)
        for point in shapely.get_coordinates(crossing):
            found.append((line.project(shapely.Point(point)), name, (float(point[0]), float(point[1]))))
    return tuple((name, at) for _, name, at in sorted(found))


def reservoir_problems(layout: Layout) -> list[tuple[str, str]]:
    """What is wrong with the reservoirs and with where the intakes stand in them, ((part, text), ...)."""
    problems: list[tuple[str, str]] = []
    shapes = {}
    for name, reservoir in layout.reservoirs.items():
        shape = shapes[name] = polygon(reservoir)
        if not shape.is_valid:
            problems.append((name, "its outline crosses itself"))
            continue
        problems += _level_problems(layout, reservoir, shape.bounds[1], shape.bounds[3])
    for name, intake in layout.intakes.items():
        inside = shapes.get(intake.reservoir)
        at = position(intake)
        if inside is None:
            problems.append((name, f"there is no reservoir {intake.reservoir!r}"))
        elif inside.is_valid and inside.distance(shapely.Point(at)) > NEAR:
            problems.append((name, f"lies outside {intake.reservoir}, at {place(layout, at)}"))
    return problems


def _level_problems(layout: Layout, reservoir: Reservoir, floor: float, rim: float) -> list[tuple[str, str]]:
    problems = []
    for which in ("normal", "minimum"):
        surface = level(reservoir, which)
        if surface > rim + NEAR:
            text = f"its {which} level {length_text(layout, surface)} is above the rim at"
            problems.append((reservoir.name, f"{text} {length_text(layout, rim)}"))
        elif surface < floor - NEAR:
            text = f"its {which} level {length_text(layout, surface)} is under the floor at"
            problems.append((reservoir.name, f"{text} {length_text(layout, floor)}"))
    if reservoir.minimum_level.si > reservoir.normal_level.si + NEAR:
        problems.append((reservoir.name, "its minimum level is above its normal level"))
    return problems


def intakes_above(layout: Layout, which: str) -> tuple[tuple[str, str], ...]:
    """Intakes that stand above the fluid and so draw air, ((part, text), ...).

    `which` is the level in use, "minimum" or "normal".
    """
    problems = []
    for name, intake in layout.intakes.items():
        surface = level(layout.reservoirs[intake.reservoir], which)
        if intake.at[1].si > surface + NEAR:
            height = length_text(layout, intake.at[1].si)
            text = f"stands at {height}, above the {which} level of {intake.reservoir} at"
            problems.append((name, f"{text} {length_text(layout, surface)}"))
    return tuple(problems)
