"""What on the sheet can be taken hold of, and where."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from sketch.view import View
from solver.layout import Layout, Reservoir

PART_REACH = 13.0  # logical pixels
CORNER_REACH = 9.0
LEVEL_REACH = 6.0


Circle = tuple[float, float, float]


class Hold(StrEnum):
    """The sorts of handle."""

    PART = "part"
    CORNER = "corner"
    LEVEL = "level"


@dataclass(frozen=True, slots=True)
class Handle:
    """One thing that can be held. A level is held anywhere along its line."""

    hold: Hold
    name: str  # the part, the run of a corner, or the reservoir of a level
    x: float  # [m]
    y: float  # [m]
    corner: int = -1  # index into the run's `via`
    right: float = math.nan  # where a level's line ends; `x` is where it begins [m]
    which: str = ""  # of a level: "minimum" or "normal"

    def same(self, other: Handle | None) -> bool:
        """Whether both are the handle of one thing, wherever it has moved to."""
        return other is not None and self._identity == other._identity

    @property
    def _identity(self) -> tuple[Hold, str, int, str]:
        return self.hold, self.name, self.corner, self.which


def handles(layout: Layout) -> tuple[Handle, ...]:
    """Every handle of the drawing; those to be preferred where two lie together come first."""
    return (*_parts(layout), *_corners(layout), *_levels(layout))


def _parts(layout: Layout) -> Iterable[Handle]:
    for group in (layout.pumps, layout.fittings, layout.tees, layout.intakes):
        for part in group.values():
            yield Handle(Hold.PART, part.name, part.at[0].si, part.at[1].si)


def _corners(layout: Layout) -> Iterable[Handle]:
    for run in layout.runs.values():
        for index, (x, y) in enumerate(run.via):
            yield Handle(Hold.CORNER, run.name, x.si, y.si, corner=index)


def _levels(layout: Layout) -> Iterable[Handle]:
    for tank in layout.reservoirs.values():
        for which, level in (("minimum", tank.minimum_level.si), ("normal", tank.normal_level.si)):
            left, right = level_span(tank, level)
            yield Handle(Hold.LEVEL, tank.name, left, level, right=right, which=which)


def level_span(tank: Reservoir, y: float) -> tuple[float, float]:
    """Where the fluid surface at elevation `y` begins and ends, left and right [m]."""
    corners = [(px.si, py.si) for px, py in tank.outline]
    cuts = []
    for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True):
        if y1 == y2:
            cuts += [x1, x2] if y1 == y else []
        elif min(y1, y2) <= y <= max(y1, y2):
            cuts.append(x1 + (y - y1) / (y2 - y1) * (x2 - x1))
    if not cuts:
        cuts = [x for x, _ in corners]
    return min(cuts), max(cuts)


def hit(
    among: Iterable[Handle], view: View, x: float, y: float, bodies: Mapping[str, Circle] | None = None
) -> Handle | None:
    """The handle under the device point (x, y); parts before corners before levels.

    `bodies` holds the circles (x, y, radius) by which parts that are drawn beside their port can be held too.
    """
    found: dict[Hold, tuple[float, Handle]] = {}
    for handle in among:
        away = _distance(handle, view, x, y) / view.dot
        body = bodies.get(handle.name) if bodies and handle.hold is Hold.PART else None
        if body is not None and math.hypot(x - body[0], y - body[1]) <= body[2]:
            away = min(away, PART_REACH)
        if away <= _REACHES[handle.hold] and away < found.get(handle.hold, (math.inf, handle))[0]:
            found[handle.hold] = (away, handle)
    for hold in Hold:
        if hold in found:
            return found[hold][1]
    return None


_REACHES = {Hold.PART: PART_REACH, Hold.CORNER: CORNER_REACH, Hold.LEVEL: LEVEL_REACH}


def _distance(handle: Handle, view: View, x: float, y: float) -> float:
    hx, hy = view.device(handle.x, handle.y)
    if handle.hold is not Hold.LEVEL:
        return math.hypot(x - hx, y - hy)
    right, _ = view.device(handle.right, handle.y)
    return abs(y - hy) if hx <= x <= right else math.inf


def of_part(layout: Layout, name: str) -> Handle | None:
    """The handle the arrow keys move when the part of that name is selected."""
    for handle in handles(layout):
        if handle.name == name and handle.hold is not Hold.CORNER:
            return handle
    return None
