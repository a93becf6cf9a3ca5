"""Places, lengths and slopes as they are typed and shown while something is drawn. No Qt here."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

from sketch.drawing.slopes import slope_text
from sketch.drawing.view import XY
from sketch.editing import edits
from sketch.editing.edits import EditError, read_typed
from solver.layout.parts import Layout, Point
from solver.quantities import units
from solver.quantities.units import Kind, Quantity, System, in_unit_of

BETWEEN = re.compile(r"\s*;\s*|,\s+")
"""Between the x and the height of a place: a comma alone may stand within a figure."""

From = tuple[Point, XY]
"""The place that a length is measured from, and the direction it leads in."""


def place_of(text: str, system: System, begun: From | None) -> Point:
    """The place that a text says: "x; height", or a length from where the line stands. Raises EditError."""
    parts = BETWEEN.split(text.strip())
    if len(parts) == 2:
        return read_typed(parts[0], Kind.LENGTH, system), read_typed(parts[1], Kind.LENGTH, system)
    if len(parts) != 1 or begun is None:
        raise EditError(edits.place_wanted(system))
    length = read_typed(parts[0], Kind.LENGTH, system)
    if length.si <= 0:
        raise EditError("a length must be above zero")
    at, way = begun
    x, y = (_onward(figure, length, share) for figure, share in zip(at, way, strict=True))
    return x, y


def _onward(figure: Quantity, length: Quantity, share: float) -> Quantity:
    """A coordinate so far along, in the unit of the length; what does not change stays as typed."""
    far = share * length.si
    return figure if abs(far) <= edits.SAME else in_unit_of(length, figure.si + far, Kind.LENGTH)


def place_text(x: float, y: float, system: System) -> str:
    """A place [m] in words."""
    return f"x {units.typeset(x, Kind.LENGTH, system)}, height {units.typeset(y, Kind.LENGTH, system)}"


def leg_texts(leg: Sequence[XY], system: System) -> list[str]:
    """The length of a straight from one point to another [m], and how it slopes where it does."""
    if len(leg) < 2:
        return []
    length = f"length {units.show(math.dist(*leg), Kind.LENGTH, system)}"
    slope = slope_text(leg[0], leg[1])
    return [length, slope] if slope else [length]


def as_typed(layout: Layout, name: str, places: Sequence[Point]) -> Layout:
    """The layout with a new part, or the corners of a new run, at the very figures that were typed."""
    if not places or name in layout.reservoirs:
        return layout
    run = layout.runs.get(name)
    if run is None:
        part = layout.joint(name)
        return edits.with_joint(layout, replace(part, at=_typed_near(part.at, places)))
    via = tuple(_typed_near(corner, places) for corner in run.via)
    return replace(layout, runs={**layout.runs, name: replace(run, via=via)})


def _typed_near(at: Point, places: Sequence[Point]) -> Point:
    """The typed place that a point stands for, or the point."""
    for place in places:
        if all(abs(a.si - b.si) <= 2 * edits.LENGTH_STEP for a, b in zip(at, place, strict=True)):
            return place
    return at
