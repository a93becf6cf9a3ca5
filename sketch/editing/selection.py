"""Edits of several parts at once: moved, mirrored, aligned, distributed, deleted. Pure functions.

What is moved keeps its shape: a line between two of the parts goes with them, a line that leaves them
stretches, and a tank takes along what stands in it.
"""

from __future__ import annotations

import operator
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from functools import partial
from typing import Any

from sketch.editing import building, edits, remarks
from sketch.editing.edits import EditError
from solver.geometry import moving, reservoirs
from solver.layout import file, keys
from solver.layout.parts import Case, Layout, Point, Reservoir
from solver.properties import sizes
from solver.quantities.units import Kind, Quantity, in_unit_of

XY = tuple[float, float]


class Axis(StrEnum):
    """The way along which parts are aligned or distributed."""

    X = "x"
    Y = "y"


# What belongs together


def everything(layout: Layout) -> tuple[str, ...]:
    """The names of all parts, lines among them, in the order of a file."""
    return tuple(name for group in keys.PARTS for name in getattr(layout, group))


def whole_line(layout: Layout, name: str) -> tuple[str, ...]:
    """The line that a part lies in: every run, fitting, tee and intake that is joined to it.

    Pumps end a line and are no part of it: their ports stay as their maker made them. A tank has no line.
    """
    reached: set[str] = set()
    to_see = [name]
    while to_see:
        each = to_see.pop()
        if each in reached or each in layout.reservoirs or (each in layout.pumps and each != name):
            continue
        reached.add(each)
        run = layout.runs.get(each)
        to_see += [run.start, run.end] if run else [line.name for line in building.lines_on(layout, each)]
    return tuple(each for each in everything(layout) if each in reached and each not in layout.pumps)


def moving_with(layout: Layout, names: Collection[str]) -> set[str]:
    """The parts that move when those of the names are moved, lines left out, which follow their ends.

    A tank takes along the intakes in it; a line takes along both its ends where neither of them is named.
    """
    kept = {name for name in names if name not in layout.runs}
    kept |= {intake.name for intake in layout.intakes.values() if intake.reservoir in kept}
    for run in (layout.runs[name] for name in names if name in layout.runs):
        if run.start not in kept and run.end not in kept:
            kept |= {run.start, run.end}
    return kept


# Moving


def move(layout: Layout, names: Collection[str], dx: float, dy: float) -> Layout:
    """The parts moved by (dx, dy) [m], all alike. Raises EditError where an intake would leave its tank."""
    edits.si_of(dx), edits.si_of(dy)
    if not dx and not dy:
        return layout
    by = dict.fromkeys(moving_with(layout, names), (dx, dy))
    return _checked(layout, moved(layout, by), by)


def moved(layout: Layout, by: Mapping[str, XY]) -> Layout:
    """Every part moved by its own distance [m], tanks among them; whether it may stand there is not asked."""
    places = {
        name: moved_by(edits.place(layout, name), way)
        for name, way in by.items()
        if name not in layout.reservoirs
    }
    changed = moving.move_parts(layout, places, {}) if places else layout
    tanks = {name: way for name, way in by.items() if name in layout.reservoirs}
    return _with_tanks_moved(changed, tanks)


def moved_by(place: XY, way: XY) -> XY:
    """A place moved by so much along x and y [m]."""
    return place[0] + way[0], place[1] + way[1]


def _checked(before: Layout, after: Layout, names: Iterable[str]) -> Layout:
    """The layout, where nothing that was moved stands otherwise than it may. Raises EditError."""
    known = set(reservoirs.reservoir_problems(before))
    for part, text in reservoirs.reservoir_problems(after):
        if (part, text) not in known and part in set(names):
            raise EditError(f"{part} {text}")
    return after


def _with_tanks_moved(layout: Layout, by: Mapping[str, XY]) -> Layout:
    if not by:
        return layout
    tanks = {name: _tank(tank, *by[name]) if name in by else tank for name, tank in layout.reservoirs.items()}
    cases = {name: _with_levels_moved(case, by) for name, case in layout.cases.items()}
    return replace(layout, reservoirs=tanks, cases=cases)


def _tank(tank: Reservoir, dx: float, dy: float) -> Reservoir:
    """A tank with all that it is made of, moved [m]."""

    def point(place: Point) -> Point:
        return shifted(place[0], dx), shifted(place[1], dy)

    baffle = tank.baffle
    if baffle is not None:
        bottom = None if baffle.bottom is None else shifted(baffle.bottom, dy)
        baffle = replace(baffle, x=shifted(baffle.x, dx), top=shifted(baffle.top, dy), bottom=bottom)
    return replace(
        tank,
        outline=tuple(point(corner) for corner in tank.outline),
        normal_level=shifted(tank.normal_level, dy),
        minimum_level=shifted(tank.minimum_level, dy),
        level=None if tank.level is None else shifted(tank.level, dy),
        return_at=None if tank.return_at is None else point(tank.return_at),
        baffle=baffle,
    )


def shifted(figure: Quantity, by: float) -> Quantity:
    """A length moved by so much [m], in its own unit; the text stays where nothing moves."""
    return in_unit_of(figure, figure.si + by, Kind.LENGTH) if by else figure


def _with_levels_moved(case: Case, by: Mapping[str, XY]) -> Case:
    """A case whose levels, typed as elevations, have come along with their tanks."""
    figures = dict(case.figures)
    table: dict[str, Any] = dict(case.table)
    for path, level in case.figures.items():
        if path[0] == "levels" and path[1] in by:
            figures[path] = shifted(level, by[path[1]][1])
            table["levels"] = {**table["levels"], path[1]: figures[path].text}
    return replace(case, table=table, figures=figures) if figures != case.figures else case


# Mirrored, aligned, distributed


def mirror(layout: Layout, names: Collection[str]) -> Layout:
    """The parts turned left for right about the middle of the whole of them; their lines go along."""
    kept = moving_with(layout, names)
    within = [run for run in layout.runs.values() if run.start in kept and run.end in kept]
    xs = [x for name in kept for x in _xs(layout, name)] + [x.si for run in within for x, _ in run.via]
    if not xs:
        return layout
    twice = min(xs) + max(xs)
    places = {
        name: (twice - x, y)
        for name in kept - layout.reservoirs.keys()
        for x, y in (edits.place(layout, name),)
    }
    vias = {run.name: [(twice - x.si, y.si) for x, y in run.via] for run in within}
    changed = moving.move_parts(layout, places, vias) if places else layout
    tanks = {
        name: _mirrored_tank(tank, twice) if name in kept else tank
        for name, tank in changed.reservoirs.items()
    }
    turned = replace(changed, reservoirs=tanks)
    for name in kept & layout.reservoirs.keys():
        last = len(layout.reservoirs[name].outline) - 1
        turned = remarks.with_corners(layout, turned, name, partial(operator.sub, last))
    return _checked(layout, turned, kept)


def _xs(layout: Layout, name: str) -> list[float]:
    tank = layout.reservoirs.get(name)
    return [x.si for x, _ in tank.outline] if tank else [edits.place(layout, name)[0]]


def _mirrored_tank(tank: Reservoir, twice: float) -> Reservoir:
    def turned(x: Quantity) -> Quantity:
        return in_unit_of(x, twice - x.si, Kind.LENGTH)

    return replace(
        tank,
        outline=tuple((turned(x), y) for x, y in reversed(tank.outline)),
        return_at=None if tank.return_at is None else (turned(tank.return_at[0]), tank.return_at[1]),
        baffle=None if tank.baffle is None else replace(tank.baffle, x=turned(tank.baffle.x)),
    )


def align(layout: Layout, names: Sequence[str], axis: Axis) -> Layout:
    """Every part at the x of the one named last, or at its height; of a tank its left wall and its floor."""
    kept = _movable(layout, names, 2, "align")
    to = _place(layout, kept[-1], axis)
    ways = _ways(layout, dict.fromkeys(kept, to), axis)
    return _checked(layout, moved(layout, ways), ways)


def distribute(layout: Layout, names: Sequence[str], axis: Axis) -> Layout:
    """The parts at equal distances between the first and the last of them along an axis."""
    kept = sorted(_movable(layout, names, 3, "distribute"), key=lambda name: _place(layout, name, axis))
    first, last = (_place(layout, name, axis) for name in (kept[0], kept[-1]))
    gap = (last - first) / (len(kept) - 1)
    ways = _ways(layout, {name: first + at * gap for at, name in enumerate(kept)}, axis)
    return _checked(layout, moved(layout, ways), ways)


def _movable(layout: Layout, names: Sequence[str], least: int, what: str) -> list[str]:
    kept = [name for name in names if name not in layout.runs]
    if len(kept) < least:
        raise EditError(f"select {least} parts or more to {what} them; lines follow the parts they join")
    return kept


def _place(layout: Layout, name: str, axis: Axis) -> float:
    at = 0 if axis is Axis.X else 1
    tank = layout.reservoirs.get(name)
    return min(corner[at].si for corner in tank.outline) if tank else edits.place(layout, name)[at]


def _ways(layout: Layout, wanted: Mapping[str, float], axis: Axis) -> dict[str, XY]:
    """How far each part goes; what stands in a tank goes as far as it, unless it is named itself."""
    ways: dict[str, XY] = {}
    for name, to in wanted.items():
        gap = to - _place(layout, name, axis)
        way = (gap, 0.0) if axis is Axis.X else (0.0, gap)
        within = [each.name for each in layout.intakes.values() if each.reservoir == name]
        ways |= {each: way for each in within if each not in wanted} | {name: way}
    return ways


# Sizes


def next_sizes(layout: Layout, names: Collection[str], step: int) -> Layout:
    """The layout with each of the parts one size up (`step` 1) or down (-1), within its own standard.

    A pump's port stays as its maker made it. Raises EditError for a part without a size, or at the end of
    its standard.
    """
    for name in names:
        if not has_size(layout, name):
            continue
        part: Any = layout.part(name)
        larger = {
            key: _neighbour(part, key, step) for key in ("size", "other_size") if getattr(part, key, None)
        }
        if not larger:
            raise EditError(f"{name} has a bore of its own and is in no standard")
        layout = _with_part(layout, replace(part, **larger))
    for problem in file.check(layout):
        raise EditError(f"{problem.key}: {problem.found}; allowed: {problem.allowed}")
    return layout


def sizes_text(layout: Layout, names: Collection[str]) -> str:
    """The sizes that parts have, as the end of the step that gave them those: ", to NPS 2 schedule 40"."""
    sized = [str(layout.part(name).size) for name in names if has_size(layout, name)]  # type: ignore[union-attr]
    each = list(dict.fromkeys(sized))
    if not each:
        return ""
    return f", to {' and '.join(each)}" if len(each) < 3 else f", to {len(each)} sizes"


def has_size(layout: Layout, name: str) -> bool:
    """Whether a part has a size that is the line's: no tank has, and no pump."""
    return name not in layout.reservoirs and name not in layout.pumps and hasattr(layout.part(name), "size")


def _neighbour(part: Any, key: str, step: int) -> str:
    size: str = getattr(part, key)
    other = sizes.neighbour(size, step)
    if other is None:
        raise EditError(
            f"{part.name} is in {size}, the {'largest' if step > 0 else 'smallest'} of its standard"
        )
    return other


def _with_part(layout: Layout, part: Any) -> Layout:
    groups: dict[str, Any] = {
        group: {**getattr(layout, group), part.name: part}
        for group in keys.PARTS
        if part.name in getattr(layout, group)
    }
    return replace(layout, **groups)


# Taking away


def remove(layout: Layout, names: Collection[str]) -> Layout:
    """The layout without the parts: lines heal where one sat in them, what ends on one goes with it.

    Raises EditError where something else would be left hanging in a way that cannot be drawn.
    """
    for name in _in_order_of_removal(layout, names):
        if has_part(layout, name):
            layout = building.remove(layout, name)
    return layout


def _in_order_of_removal(layout: Layout, names: Collection[str]) -> list[str]:
    """Lines first, so that what sat between them is free; tanks last, once nothing stands in them."""
    groups = ("runs", "intakes", "pumps", "fittings", "tees", "reservoirs")
    return [name for group in groups for name in getattr(layout, group) if name in names]


def has_part(layout: Layout, name: str) -> bool:
    """Whether the layout has a part of that name."""
    return any(name in getattr(layout, group) for group in keys.PARTS)
