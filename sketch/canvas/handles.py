"""What on the sheet can be taken hold of, and where."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain, pairwise

from sketch.drawing import remarks
from sketch.drawing.view import XY, View
from sketch.editing import reshape, tanks
from solver.geometry import measured, outline, reservoirs
from solver.layout.parts import Layout, Level, Reservoir, Run
from solver.layout.remarks import OwnText
from solver.properties.sizes import SizeError

PART_REACH = 13.0  # logical pixels
CORNER_REACH = 9.0
STRETCH_REACH = 3.0  # beside the pipe
LEVEL_REACH = 6.0
WALL_REACH = 4.0
MIDDLE_REACH = 6.0
END_REACH = 8.0
END_INWARD = 26.0  # from the part that a run ends on to where that end of it is held
LEAST_STRETCH = 90.0  # of a stretch whose middle can be held apart from the rest of it


Circle = tuple[float, float, float]


class Hold(StrEnum):
    """The sorts of handle; those to be preferred where two lie together come first."""

    PART = "part"
    CORNER = "corner"  # of a run: a bend
    OUTLINE = "outline"  # a corner of a tank
    RETURN = "return"  # where the return line of a tank ends
    BAFFLE_TOP = "top of a baffle"
    END = "end"  # of a run: turned onto another part
    TEXT = "text"  # of one's own
    MIDDLE = "middle"  # of a stretch: a new bend is drawn out of it
    STRETCH = "stretch"  # of a run, between two of its points
    DIMENSION = "dimension"  # of one's own, by its line
    BAFFLE = "baffle"
    LEVEL = "level"
    WALL = "wall"  # of a tank, between two of its corners
    TANK = "tank"  # a whole one, held anywhere within


REMARKS = (Hold.TEXT, Hold.DIMENSION)
"""Holds of what belongs to no part."""


@dataclass(frozen=True, slots=True)
class Handle:
    """One thing that can be held. A level, a stretch, a wall, a baffle and a dimension are held anywhere
    along their line, a text anywhere on it.

    `corner` counts the corners of a run or an outline, or the stretches or walls between them, or texts or
    dimensions; of an end it is 0 at the start and 1 at the end.
    """

    hold: Hold
    name: (
        str  # the part, the run of a corner or stretch, the reservoir of a level or outline; "" for a remark
    )
    x: float  # [m]
    y: float  # [m]
    corner: int = -1
    end: XY | None = None  # where a line or a tank ends that begins at x, y; of an end, the next point [m]
    half: float = 0.0  # half the bore of a stretch [m]
    which: Level | None = None  # of the fluid, the minimum or the normal one
    own: OwnText | None = None  # the text of one's own that it holds

    def same(self, other: Handle | None) -> bool:
        """Whether both are the handle of one thing, wherever it has moved to."""
        return other is not None and self.held == other.held

    @property
    def upright(self) -> bool:
        """Whether a stretch stands rather than lies."""
        return self.end is not None and abs(self.x - self.end[0]) < abs(self.y - self.end[1])

    @property
    def held(self) -> tuple[Hold, str, int, Level | None]:
        """What it holds, wherever that stands now."""
        return self.hold, self.name, self.corner, self.which


def handles(layout: Layout) -> tuple[Handle, ...]:
    """Every handle of the drawing."""
    return (
        *_parts(layout),
        *_corners(layout),
        *_outlines(layout),
        *_stretches(layout),
        *_levels(layout),
        *_furnishings(layout),
        *_remarks(layout),
        *_tanks(layout),
    )


def handles_of_selected(layout: Layout, name: str) -> tuple[Handle, ...]:
    """The handles of a part that is selected by itself alone: a run's ends and middles, a tank's walls."""
    if name in layout.reservoirs:
        return tuple(_walls(layout.reservoirs[name]))
    if name not in layout.runs:
        return ()
    points = reshape.points(layout, name)
    ends = (points[0], points[1], 0), (points[-1], points[-2], 1)
    handles = [Handle(Hold.END, name, *at, corner=which, end=beyond) for at, beyond, which in ends]
    handles += [_middle(name, index, a, b) for index, (a, b) in enumerate(pairwise(points))]
    return tuple(handles)


def _middle(name: str, index: int, a: XY, b: XY) -> Handle:
    half = math.dist(a, b) / 2
    return Handle(Hold.MIDDLE, name, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, corner=index, half=half)


def _walls(tank: Reservoir) -> Iterable[Handle]:
    for index, (a, b) in enumerate(tanks.walls(tank)):
        yield Handle(Hold.WALL, tank.name, *a, corner=index, end=b)


def _furnishings(layout: Layout) -> Iterable[Handle]:
    """The baffle of every tank, its top, where the return ends, and the level that cylinders draw it to."""
    for tank in layout.reservoirs.values():
        if tank.return_at is not None:
            yield Handle(Hold.RETURN, tank.name, tank.return_at[0].si, tank.return_at[1].si)
        if tank.baffle is not None:
            x, top = tank.baffle.x.si, tank.baffle.top.si
            low = tank.baffle.bottom
            foot = low.si if low is not None else reservoirs.floor_under(tank, x)
            yield Handle(Hold.BAFFLE_TOP, tank.name, x, top)
            yield Handle(Hold.BAFFLE, tank.name, x, foot, end=(x, top))
        if tank.draw_down is not None:
            level = reservoirs.drawn_down(tank)
            left, right = level_span(tank, level)
            yield Handle(Hold.LEVEL, tank.name, left, level, end=(right, level), which=Level.DRAWN_DOWN)


def _parts(layout: Layout) -> Iterable[Handle]:
    for group in (layout.pumps, layout.fittings, layout.tees, layout.intakes):
        for part in group.values():
            yield Handle(Hold.PART, part.name, part.at[0].si, part.at[1].si)


def _corners(layout: Layout) -> Iterable[Handle]:
    for run in layout.runs.values():
        for index, (x, y) in enumerate(run.via):
            yield Handle(Hold.CORNER, run.name, x.si, y.si, corner=index)


def _outlines(layout: Layout) -> Iterable[Handle]:
    for tank in layout.reservoirs.values():
        for index, (x, y) in enumerate(tank.outline):
            yield Handle(Hold.OUTLINE, tank.name, x.si, y.si, corner=index)


def _stretches(layout: Layout) -> Iterable[Handle]:
    for run in layout.runs.values():
        points = reshape.points(layout, run.name)
        half = _half_bore(run)
        for index, ((x, y), end) in enumerate(pairwise(points)):
            if reshape.sideways_axis(layout, run.name, index) is not None:
                yield Handle(Hold.STRETCH, run.name, x, y, index, end, half)


def _half_bore(run: Run) -> float:
    try:
        return outline.bore(run) / 2
    except SizeError:
        return 0.0  # a size that no table holds; the drawing is refused and says so


def _levels(layout: Layout) -> Iterable[Handle]:
    for tank in layout.reservoirs.values():
        for which, level in ((Level.MINIMUM, tank.minimum_level.si), (Level.NORMAL, tank.normal_level.si)):
            left, right = level_span(tank, level)
            yield Handle(Hold.LEVEL, tank.name, left, level, end=(right, level), which=which)


def _tanks(layout: Layout) -> Iterable[Handle]:
    for tank in layout.reservoirs.values():
        xs, ys = zip(*((x.si, y.si) for x, y in tank.outline), strict=True)
        yield Handle(Hold.TANK, tank.name, min(xs), min(ys), end=(max(xs), max(ys)))


def _remarks(layout: Layout) -> Iterable[Handle]:
    """Texts and dimensions of one's own."""
    for number, text in enumerate(layout.texts):
        yield Handle(Hold.TEXT, "", text.at[0].si, text.at[1].si, corner=number, own=text)
    for number, dimension in enumerate(layout.dimensions):
        line = measured.dimension_line(layout, dimension)
        if line is not None:
            yield Handle(Hold.DIMENSION, "", *line[0], corner=number, end=line[1])


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


def nearest_handle(
    among: Iterable[Handle], view: View, x: float, y: float, bodies: Mapping[str, Circle] | None = None
) -> Handle | None:
    """The handle under the device point (x, y), the nearest of the sort to be preferred.

    `bodies` holds the circles (x, y, radius) by which parts that are drawn beside their port can be held too.
    """
    nearest: dict[Hold, tuple[float, Handle]] = {}
    for handle in among:
        away = _distance(handle, view, x, y) / view.dot
        body = bodies.get(handle.name) if bodies and handle.hold is Hold.PART else None
        if body is not None and math.hypot(x - body[0], y - body[1]) <= body[2]:
            away = min(away, PART_REACH)
        if away <= _REACHES[handle.hold] and away < nearest.get(handle.hold, (math.inf, handle))[0]:
            nearest[handle.hold] = (away, handle)
    for hold in Hold:
        if hold in nearest:
            return nearest[hold][1]
    return None


_REACHES = {
    Hold.PART: PART_REACH,
    Hold.CORNER: CORNER_REACH,
    Hold.OUTLINE: CORNER_REACH,
    Hold.RETURN: CORNER_REACH,
    Hold.BAFFLE_TOP: CORNER_REACH,
    Hold.BAFFLE: LEVEL_REACH,
    Hold.WALL: WALL_REACH,
    Hold.END: END_REACH,
    Hold.TEXT: 0.0,
    Hold.DIMENSION: LEVEL_REACH,
    Hold.MIDDLE: MIDDLE_REACH,
    Hold.TANK: 0.0,
    Hold.STRETCH: STRETCH_REACH,
    Hold.LEVEL: LEVEL_REACH,
}


def _distance(handle: Handle, view: View, x: float, y: float) -> float:
    hx, hy = view.device(handle.x, handle.y)
    if handle.hold is Hold.END:
        hx, hy = end_place(handle, view)
    if handle.hold is Hold.MIDDLE and 2 * handle.half * view.scale < LEAST_STRETCH * view.dot:
        return math.inf
    if handle.own is not None:
        return 0.0 if remarks.text_box(handle.own, view).holds(x, y) else math.inf
    if handle.end is None or handle.hold is Hold.END:
        return math.hypot(x - hx, y - hy)
    right, end = view.device(*handle.end)
    if handle.hold is Hold.LEVEL:
        return abs(y - hy) if hx <= x <= right else math.inf
    if handle.hold is not Hold.TANK:
        return max(_from_line((x, y), (hx, hy), (right, end)) - handle.half * view.scale, 0.0)
    aside = max(min(hx, right) - x, x - max(hx, right), 0.0)
    along = max(min(hy, end) - y, y - max(hy, end), 0.0)
    return math.hypot(aside, along)


def _from_line(at: XY, a: XY, b: XY) -> float:
    """How far a point lies from the line between two others."""
    wide, high = b[0] - a[0], b[1] - a[1]
    square = wide * wide + high * high
    along = ((at[0] - a[0]) * wide + (at[1] - a[1]) * high) / square if square else 0.0
    along = min(max(along, 0.0), 1.0)
    return math.hypot(at[0] - a[0] - along * wide, at[1] - a[1] - along * high)


def end_place(handle: Handle, view: View) -> XY:
    """Where the end of a run is held: a little in from the part that it ends on [device]."""
    (x, y), (to_x, to_y) = view.device(handle.x, handle.y), view.device(*(handle.end or (0.0, 0.0)))
    length = math.hypot(to_x - x, to_y - y)
    along = min(END_INWARD * view.dot / length, 0.4) if length > 0 else 0.0
    return x + (to_x - x) * along, y + (to_y - y) * along


def part_handle(layout: Layout, name: str) -> Handle | None:
    """The handle the arrow keys move when the part of that name is selected: a tank as a whole; none for a
    run, of which only what was last taken hold of is moved."""
    for handle in chain(_parts(layout), _tanks(layout)):
        if handle.name == name:
            return handle
    return None
