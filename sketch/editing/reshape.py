"""Edits that reshape a line: a straight moved sideways, a bend moved, added, taken away, an end turned.

A straight moves parallel to itself with all that lies in line with it: fittings, tees, and the parts at its
ends. The lines that join it from the side stretch. So no bend is added that nobody drew; what may not move
that far (an intake out of its tank) refuses the whole move.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from sketch.editing import building, edits, stock
from sketch.editing.edits import SAME, EditError
from solver.geometry import outline as geometry
from solver.geometry.outline import GeometryError
from solver.geometry.squaring import SQUARE, STAYS, follow, jog
from solver.layout.parts import Layout, Point, Run
from solver.quantities.units import Kind, in_unit_of

X, Y = 0, 1
ON_THE_WALL = 1e-3  # an intake this near to a wall is fixed to it [m]
XY = tuple[float, float]


def points(layout: Layout, run: str) -> list[XY]:
    """The points of a run from part to part, its corners between [m]. Raises KeyError."""
    return geometry.corners(layout, layout.runs[run])


def sideways_axis(layout: Layout, run: str, stretch: int) -> int | None:
    """The axis along which a stretch can be moved sideways: `X` of an upright one, `Y` of a level one.

    None for one that slants or has no length.
    """
    (xa, ya), (xb, yb) = points(layout, run)[stretch : stretch + 2]
    upright, level = abs(xa - xb) <= SQUARE, abs(ya - yb) <= SQUARE
    return None if upright == level else X if upright else Y


def move_stretch(layout: Layout, run: str, stretch: int, to: float) -> Layout:
    """Stretch `stretch` of a run moved sideways to x = `to` when it is upright, to y = `to` when level [m].

    Raises EditError for one that slants, and where what it takes along cannot come.
    """
    edits.si_of(to)
    axis = sideways_axis(layout, run, stretch)
    if axis is None:
        raise EditError("only a straight that is level or upright moves sideways")
    if abs(points(layout, run)[stretch][axis] - to) <= SAME:
        return layout
    ends = [_end(layout, run, stretch, axis, step) for step in (-1, 1)]
    parts = list(dict.fromkeys(end for end in ends if end is not None))
    line = layout.runs[run]
    if not parts and line.via:
        return _corner_to(layout, run, max(stretch - 1, 0), axis, to)
    for part in parts or [line.start]:
        x, y = edits.place(layout, part)
        layout = edits.move_part(layout, part, *((to, y) if axis == X else (x, to)))
    return layout


def _end(layout: Layout, run: str, stretch: int, axis: int, step: int) -> str | None:
    """The part at which everything in line with a stretch ends on one side; None where that is a corner."""
    seen = {run}
    while True:
        line = layout.runs[run]
        last = 0 if step < 0 else len(line.via)
        if stretch != last:
            return None
        part = line.start if step < 0 else line.end
        beyond = _in_line(layout, part, axis, seen)
        if beyond is None:
            return part
        run, step, stretch = beyond
        seen.add(run)


def _in_line(layout: Layout, part: str, axis: int, seen: set[str]) -> tuple[str, int, int] | None:
    """The run that goes on from a fitting or a tee in the same line: its name, the way along it, and the
    stretch that it begins with."""
    if part not in layout.fittings and part not in layout.tees:
        return None
    for run in layout.runs.values():
        if run.name not in seen and part in (run.start, run.end):
            step = 1 if run.start == part else -1
            stretch = 0 if step > 0 else len(run.via)
            if sideways_axis(layout, run.name, stretch) == axis:
                return run.name, step, stretch
    return None


def _corner_to(layout: Layout, run: str, index: int, axis: int, to: float) -> Layout:
    x, y = edits.corner(layout, run, index)
    return edits.move_corner(layout, run, index, *((to, y) if axis == X else (x, to)))


def move_bend(layout: Layout, run: str, index: int, x: float, y: float) -> Layout:
    """Corner `index` of a run at (x, y) [m], with the straights beside it moved sideways.

    Where those are not square to each other the corner alone is moved, and its neighbours follow as they
    can. A straight that is left no length goes, and the corner with it. Raises EditError where a part at the
    end of a straight cannot come along.
    """
    before = len(points(layout, run))
    ways = sideways_axis(layout, run, index), sideways_axis(layout, run, index + 1)
    if set(ways) != {X, Y}:
        return edits.move_corner(layout, run, index, x, y)
    for stretch, axis in zip((index, index + 1), ways, strict=True):
        layout = move_stretch(layout, run, stretch, x if axis == X else y)
        if len(points(layout, run)) < before:
            break
    return layout


def add_bend(layout: Layout, run: str, stretch: int, x: float, y: float) -> Layout:
    """A run with one more corner, at (x, y) [m], between the points of a stretch."""
    edits.si_of(x), edits.si_of(y)
    line = layout.runs[run]
    ends = (layout.joint(line.start).at, *line.via, layout.joint(line.end).at)[stretch : stretch + 2]
    corner = tuple(
        next((end[axis] for end in ends if abs(end[axis].si - to) <= SAME), None)
        or in_unit_of(ends[0][axis], to, Kind.LENGTH)
        for axis, to in ((X, x), (Y, y))
    )
    via = (*line.via[:stretch], (corner[X], corner[Y]), *line.via[stretch:])
    return _with_run(layout, replace(line, via=via))


def nearest_stretch(layout: Layout, run: str, x: float, y: float) -> tuple[int, XY]:
    """The stretch of a run that passes nearest to (x, y) [m], and the place where it does."""
    best: tuple[float, int, XY] | None = None
    for index, (a, b) in enumerate(pairwise(points(layout, run))):
        square = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
        along = ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / square if square else 0.0
        along = min(max(along, 0.0), 1.0)
        place = a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1])
        if best is None or math.dist(place, (x, y)) < best[0]:
            best = (math.dist(place, (x, y)), index, place)
    assert best is not None
    return best[1], best[2]


def run_at(layout: Layout, x: float, y: float, reach: float) -> str:
    """The run that passes nearest to (x, y), within `reach` [m]; "" for none."""
    away = {name: math.dist(nearest_stretch(layout, name, x, y)[1], (x, y)) for name in layout.runs}
    name = min(away, key=away.__getitem__, default="")
    return name if name and away[name] <= reach else ""


def set_length(layout: Layout, run: str, stretch: int, length: float) -> Layout:
    """A stretch of a run at a length from corner to corner [m]: its far end moves along it, and what lies
    beyond follows as it does when that is dragged.

    Raises EditError for a length that is not above zero, and where the far end cannot be there.
    """
    if edits.si_of(length) <= 0:
        raise EditError("a length must be above zero")
    line = layout.runs[run]
    a, b = points(layout, run)[stretch : stretch + 2]
    now = math.dist(a, b)
    if abs(now - length) <= SAME:
        return layout
    if now <= SAME:
        raise EditError("a straight of no length leads nowhere")
    x, y = (a[axis] + (b[axis] - a[axis]) * length / now for axis in (X, Y))
    if stretch < len(line.via):
        return move_bend(layout, run, stretch, x, y)
    return edits.move_part(layout, line.end, x, y)


def set_slope(layout: Layout, run: str, stretch: int, slope: float) -> Layout:
    """A stretch at a slope, up over across: below zero it falls on its way from the start of the run.

    Its far end moves up or down, or the near one where the far end is a part. Raises EditError for a stretch
    between two parts, and for an upright one.
    """
    line = layout.runs[run]
    a, b = points(layout, run)[stretch : stretch + 2]
    across = abs(b[0] - a[0])
    if across <= SQUARE:
        raise EditError("an upright straight has no slope")
    last = len(line.via)
    if stretch < last:
        index, y = stretch, a[1] + slope * across
    elif stretch > 0:
        index, y = stretch - 1, b[1] - slope * across
    else:
        raise EditError(f"{run} has no bend: its slope is where {line.start} and {line.end} stand")
    corner = line.via[index][X], edits.renew(line.via[index][Y], edits.si_of(y), Kind.LENGTH)
    return _with_run(layout, replace(line, via=(*line.via[:index], corner, *line.via[index + 1 :])))


def remove_bend(layout: Layout, run: str, index: int) -> Layout:
    """A run without corner `index`: the points before and after it are joined straight."""
    line = layout.runs[run]
    return _with_run(layout, replace(line, via=(*line.via[:index], *line.via[index + 1 :])))


def turn_end(layout: Layout, run: str, which: int, x: float, y: float, reach: float) -> Layout:
    """A run with its start (`which` 0) or its end (1) on the part, or on the line, at (x, y) [m].

    reach: how far that may be from there [m]. On a line the end meets it in a new tee; a tee that it was the
    last line of goes. Raises EditError where nothing is there that has an end free.
    """
    line = layout.runs[run]
    now, other = (line.start, line.end) if which == 0 else (line.end, line.start)
    part = building.nearest_joint(layout, x, y, reach)
    if part == now:
        return layout
    if not part:
        layout, part = _on_a_line(layout, run, x, y, reach)
    if part == other:
        raise EditError("a line joins two parts")
    building.check_free_end(layout, part)
    way = points(layout, run) if which == 0 else points(layout, run)[::-1]
    at = edits.place(layout, part)
    moved, left = follow(way, at)
    way = moved if left == STAYS else jog(way, at)
    via = tuple(_written(layout, line, corner) for corner in (way if which == 0 else way[::-1])[1:-1])
    start, end = (part, other) if which == 0 else (other, part)
    turned = _with_run(layout, replace(line, via=via, start=start, end=end))
    return (
        building.remove(turned, now) if now in layout.tees and not building.lines_on(turned, now) else turned
    )


def turned_onto(layout: Layout, run: str, which: int, name: str) -> Layout:
    """A run with its start (`which` 0) or its end (1) on a part or a line by its name.

    On a line it meets it in a new tee, nearest to where that end is now. Raises EditError as `turn_end`.
    """
    if name in layout.runs:
        now = points(layout, run)[0 if which == 0 else -1]
        place = building.place_on(layout, name, *now)
    else:
        place = edits.place(layout, name)
    return turn_end(layout, run, which, *place, edits.SAME)


def ends_for(layout: Layout, run: str, which: int) -> tuple[str, ...]:
    """The parts with an end free, and the lines, that an end of a run can be turned onto."""
    line = layout.runs[run]
    in_use = {line.start, line.end, run}
    joints = (layout.intakes, layout.fittings, layout.tees, layout.pumps)
    names = (name for group in (*joints, layout.runs) for name in group if name not in in_use)
    return tuple(name for name in names if _can_turn(layout, run, which, name))


def _can_turn(layout: Layout, run: str, which: int, name: str) -> bool:
    try:
        turned_onto(layout, run, which, name)
    except (EditError, GeometryError):
        return False
    return True


def _on_a_line(layout: Layout, run: str, x: float, y: float, reach: float) -> tuple[Layout, str]:
    """The layout with a tee in the line that passes within reach, and its name. Raises EditError."""
    near = [
        (math.dist(nearest_stretch(layout, name, x, y)[1], (x, y)), name)
        for name in layout.runs
        if name != run
    ]
    away, name = min(near, default=(math.inf, ""))
    if away > reach:
        raise EditError("let it go on a part with an end free, or on another line")
    built = building.insert(layout, building.TEE, name, x, y)
    return built.layout, built.name


def _written(layout: Layout, line: Run, corner: XY) -> Point:
    """A corner as typed where it was one before, else in the unit of the run's first figure."""
    typed = {(px.si, py.si): (px, py) for px, py in line.via}
    if corner in typed:
        return typed[corner]
    if not line.via:
        return stock.point(layout, *corner)
    px, py = line.via[0]
    return in_unit_of(px, corner[X], Kind.LENGTH), in_unit_of(py, corner[Y], Kind.LENGTH)


def _with_run(layout: Layout, run: Run) -> Layout:
    return replace(layout, runs={**layout.runs, run.name: run})


def check_bends(before: Layout, after: Layout) -> None:
    """Refuse a move that leaves a bend without room, where it had room before. Raises EditError."""
    for name, run in after.runs.items():
        if name in before.runs and _moved(before, after, name):
            try:
                geometry.outline(after, run)
            except GeometryError as error:
                if _can_be_built(before, name):
                    raise EditError(str(error)) from error


def _moved(before: Layout, after: Layout, name: str) -> bool:
    old, new = before.runs[name], after.runs[name]
    ends = ((old.start, new.start), (old.end, new.end))
    return old is not new or any(before.joint(a) is not after.joint(b) for a, b in ends)


def _can_be_built(layout: Layout, run: str) -> bool:
    try:
        geometry.outline(layout, layout.runs[run])
    except GeometryError:
        return False
    return True
