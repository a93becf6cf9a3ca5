"""Adding to a drawing and taking from it: pure functions Layout -> Layout.

What is added is complete enough to be saved; whether it can be calculated yet is the solver's to say. New
figures are round ones, in the unit system of the drawing, to be changed on the part card.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count, pairwise
from typing import Any

from sketch.editing import end_sizes, remarks, stock, taps
from sketch.editing.edits import EditError, with_joint
from solver.geometry import outline
from solver.layout import file
from solver.layout.cases import with_part_named
from solver.layout.keys import SCREENED_INTAKES
from solver.layout.kinds import REDUCER_KINDS, FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Point, Run, Tee
from solver.layout.raw import part_raw
from solver.properties import sizes
from solver.quantities.units import Kind, Quantity, in_unit_of
from solver.quantities.wording import with_article

XY = tuple[float, float]

LINE, HOSE, TEE, PUMP, TANK = "line", "hose", "tee", "pump", "reservoir"

IN_LINE = (
    FittingKind.GATE_VALVE,
    FittingKind.BALL_VALVE,
    FittingKind.BUTTERFLY_VALVE,
    FittingKind.SWING_CHECK,
    FittingKind.FILTER,
    FittingKind.FLEXIBLE_CONNECTOR,
    FittingKind.CONCENTRIC_REDUCER,
    FittingKind.ECCENTRIC_REDUCER,
    FittingKind.KNOWN_K,
    TEE,
)
"""What is put into a line that is there, and cuts it in two."""

FREE = (
    PUMP,
    IntakeKind.STRAINER,
    IntakeKind.WALL_NOZZLE,
    IntakeKind.BELL_MOUTH,
    IntakeKind.FOOT_VALVE,
    TANK,
)
"""What stands by itself until a line is drawn to it."""

LEAST_PIECE = 0.05
"""What is left of a line on either side of a part that is put into it, at least [m]."""

SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Built:
    """A layout with something new in it, the name of that, and what is to be said of it."""

    layout: Layout
    name: str
    text: str = ""


def free_name(layout: Layout, name: str) -> str:
    """The name itself, without a number, or with the first one that is free."""
    names = {name for group in _groups(layout).values() for name in group}
    stem = re.sub(r" \d+$", "", name)
    numbered = (stem if at == 1 else f"{stem} {at}" for at in count(1))
    return next(name for name in numbered if name not in names)


def _groups(layout: Layout) -> Mapping[str, Mapping[str, Any]]:
    names = ("reservoirs", "intakes", "fittings", "tees", "pumps", "runs")
    return {group: getattr(layout, group) for group in names}


def _checked(layout: Layout) -> Layout:
    """The layout, when it can be saved. Raises EditError with the first thing that is wrong."""
    for problem in file.check(layout):
        raise EditError(f"{problem.found}; allowed: {problem.allowed}")
    return layout


# Adding


def add(layout: Layout, what: str, x: float, y: float) -> Built:
    """One of `FREE` at (x, y) [m]; a reservoir stands with the middle of its floor there.

    Raises EditError where it cannot stand there.
    """
    name = free_name(layout, "tank" if what == TANK else what)
    if what == TANK:
        changed = replace(layout, reservoirs={**layout.reservoirs, name: stock.tank(layout, name, x, y)})
    elif what == PUMP:
        changed = replace(layout, pumps={**layout.pumps, name: stock.pump(layout, name, x, y)})
    elif what in tuple(IntakeKind):
        kind, tank = IntakeKind(what), tank_at(layout, x, y)
        screen = stock.screen(layout) if kind in SCREENED_INTAKES else None
        intake = Intake(name, tank, stock.point(layout, x, y), kind, stock.size(layout), screen=screen)
        changed = replace(layout, intakes={**layout.intakes, name: intake})
    else:
        raise EditError(f"{with_article(what)} is put into a line")
    return Built(_checked(changed), name)


def tank_at(layout: Layout, x: float, y: float) -> str:
    """The reservoir whose rectangle a point lies in, or else the nearest. Raises EditError without any."""
    if not layout.reservoirs:
        raise EditError("an intake stands in a reservoir, and there is none yet")

    def away(name: str) -> float:
        xs, ys = zip(*((px.si, py.si) for px, py in layout.reservoirs[name].outline), strict=True)
        return math.hypot(max(min(xs) - x, 0.0, x - max(xs)), max(min(ys) - y, 0.0, y - max(ys)))

    return min(layout.reservoirs, key=away)


def add_line(layout: Layout, start: str, end: str, via: Iterable[XY] = (), what: str = LINE) -> Built:
    """A line between two parts, over corners [m], in the size of the one it starts at. As a HOSE it has the
    size of the hose whose bore is nearest to that. No size of a part is changed: what does not fit is said.

    Raises EditError where a part is no end of a line, or has no end free.
    """
    if start == end:
        raise EditError("a line joins two parts")
    for name in (start, end):
        check_free_end(layout, name)
    model = end_sizes.free_end(layout, start)
    size = end_sizes.Size(sizes.hose_of_bore(model.width), None) if what == HOSE else model
    name = free_name(layout, what)
    run = Run(name, start, end, tuple(stock.point(layout, x, y) for x, y in via), *size)
    layout = _checked(replace(layout, runs={**layout.runs, name: run}))
    others = end_sizes.misfits(layout, run)
    text = f"{what.capitalize()} drawn in {size.text}; {others}: put in a reducer." if others else ""
    return Built(layout, name, text)


def nearest_joint(layout: Layout, x: float, y: float, reach: float) -> str:
    """The part that lines end on nearest to (x, y), within `reach` [m]; "" for none."""
    places = {
        name: (part.at[0].si, part.at[1].si)
        for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps)
        for name, part in group.items()
    }
    away = {name: math.dist(at, (x, y)) for name, at in places.items()}
    name = min(away, key=away.__getitem__, default="")
    return name if name and away[name] <= reach else ""


def check_free_end(layout: Layout, name: str) -> None:
    """Refuse a part that is no end of a line, or has no end free. Raises EditError."""
    try:
        part = layout.joint(name)
    except KeyError as error:
        raise EditError(f"a line cannot end on {name}") from error
    room = 3 if isinstance(part, Tee) else 2 if isinstance(part, Fitting) else 1
    if len(lines_on(layout, name)) >= room:
        raise EditError(f"{name} has no end free; put a tee into the line to branch off it")


def lines_on(layout: Layout, name: str) -> list[Run]:
    """The runs that end on a part."""
    return [run for run in layout.runs.values() if name in (run.start, run.end)]


def insert(layout: Layout, what: str, run: str, x: float, y: float) -> Built:
    """One of `IN_LINE` put into a run where it passes nearest to (x, y) [m], which cuts the run in two.

    Raises EditError where there is no room for it.
    """
    line = layout.runs[run]
    at, stretch = _nearest(layout, line, x, y)
    name, place = free_name(layout, what), _place(layout, line, stretch, at)
    first, second = _halves(layout, line, name, stretch)
    if what in REDUCER_KINDS:
        return _reduced(layout, Fitting(name, place, FittingKind(what)), line, (first, second))
    changed = _with_new(_with_halves(layout, first, second), what, name, place, line)
    return Built(_checked(replace(changed, readings=taps.cut(layout, changed, run, second.name))), name)


def _reduced(layout: Layout, reducer: Fitting, line: Run, halves: tuple[Run, Run]) -> Built:
    """A reducer put between the halves of a run, of which the one that ends on a part of another size, the
    pump's before the intake's, takes that size; the rest of the line stays as it is."""
    own, other = end_sizes.of_run(line), end_sizes.other_end(layout, line)
    at, given = 1, [own, own]
    if other is not None:
        at = 0 if other.part == line.start else 1
        given[at] = other.size
    runs = [replace(run, size=each.size, bore=each.bore) for run, each in zip(halves, given, strict=True)]
    one, two = given
    reducer = replace(reducer, size=one.size, bore=one.bore, other_size=two.size, other_bore=two.bore)
    changed = with_joint(_with_halves(layout, *runs), reducer)
    changed = _checked(replace(changed, readings=taps.cut(layout, changed, line.name, runs[1].name)))
    return Built(changed, reducer.name, end_sizes.reducer_text(layout, reducer.name, line, runs[at].name))


def put_in(layout: Layout, name: str, run: str) -> Layout:
    """The layout with a fitting or tee that no line is joined to put into a run, which is cut in two where it
    passes nearest to that part.

    Raises EditError where there is no room for it.
    """
    part, line = layout.joint(name), layout.runs[run]
    at, stretch = _nearest(layout, line, part.at[0].si, part.at[1].si)
    first, second = _halves(layout, line, name, stretch)
    changed = with_joint(
        _with_halves(layout, first, second), replace(part, at=_place(layout, line, stretch, at))
    )
    return _checked(replace(changed, readings=taps.cut(layout, changed, run, second.name)))


def _halves(layout: Layout, line: Run, name: str, stretch: int) -> tuple[Run, Run]:
    """A run cut in two by a part in one of its stretches."""
    first = replace(line, end=name, via=line.via[:stretch])
    other = free_name(layout, line.name)
    return first, replace(line, name=other, start=name, via=line.via[stretch:], out_of_plane=None)


def _with_halves(layout: Layout, first: Run, second: Run) -> Layout:
    """The layout with a run's halves in its place."""
    runs: dict[str, Run] = {}
    for each in layout.runs.values():
        halves = {first.name: first, second.name: second}
        runs |= halves if each.name == first.name else {each.name: each}
    return replace(layout, runs=runs)


def _with_new(layout: Layout, what: str, name: str, place: Point, line: Run) -> Layout:
    """A layout with a new part, as goes with a run."""
    if what == TEE:
        return with_joint(layout, Tee(name, place, line.size, line.bore))
    if what in tuple(FittingKind):
        return with_joint(layout, _fitting(layout, name, place, FittingKind(what), line))
    raise EditError(f"{with_article(what)} is not put into a line")


def _place(layout: Layout, line: Run, stretch: int, at: XY) -> Point:
    """A point of a stretch; a coordinate that it shares with an end of the stretch stays as typed there."""
    points = (layout.joint(line.start).at, *line.via, layout.joint(line.end).at)
    ends = points[stretch : stretch + 2]

    def figure(axis: int) -> Quantity:
        shared = (end[axis] for end in ends if abs(end[axis].si - at[axis]) < SAME)
        return next(shared, None) or stock.length(layout, at[axis])

    return figure(0), figure(1)


def _fitting(layout: Layout, name: str, place: Point, kind: FittingKind, line: Run) -> Fitting:
    fitting = Fitting(name, place, kind, line.size, line.bore)
    if kind == FittingKind.FILTER:
        return replace(fitting, screen=stock.screen(layout))
    if kind == FittingKind.KNOWN_K:
        return replace(fitting, k=1.0)
    return fitting


def place_on(layout: Layout, run: str, x: float, y: float) -> XY:
    """Where on a run a part put in at (x, y) would sit [m]. Raises EditError where there is no room."""
    return _nearest(layout, layout.runs[run], x, y)[0]


def _nearest(layout: Layout, line: Run, x: float, y: float) -> tuple[XY, int]:
    """The point of a run nearest to (x, y), on the grid along its stretch, and the number of that stretch."""
    points = outline.corners(layout, line)
    best: tuple[float, XY, int] | None = None
    for stretch, (a, b) in enumerate(pairwise(points)):
        length = math.dist(a, b)
        if length < 2 * LEAST_PIECE:
            continue
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        along = min(max((x - a[0]) * ux + (y - a[1]) * uy, LEAST_PIECE), length - LEAST_PIECE)
        at = _rounded(layout, a, (ux, uy), along, length)
        away = math.dist(at, (x, y))
        if best is None or away < best[0]:
            best = (away, at, stretch)
    if best is None:
        raise EditError(f"{line.name} is too short to be cut in two")
    return best[1], best[2]


def _rounded(layout: Layout, a: XY, way: XY, along: float, length: float) -> XY:
    """A place along a stretch, on the grid where the stretch is level or upright."""
    step = stock.GRID[layout.units]
    x, y = a[0] + way[0] * along, a[1] + way[1] * along
    level, upright = abs(way[1]) < SAME, abs(way[0]) < SAME
    if not (level or upright):
        return x, y
    on_grid = (round(x / step) * step, y) if level else (x, round(y / step) * step)
    inside = LEAST_PIECE / 2 < math.dist(a, on_grid) < length - LEAST_PIECE / 2
    return on_grid if inside else (x, y)


# Taking away


def remove(layout: Layout, name: str) -> Layout:
    """The layout without a part. A line heals where a part sat in it; what ends on it goes with it.

    Raises EditError where something else would be left hanging in a way that cannot be drawn.
    """
    group = part_raw(layout, name)[0]
    lines = lines_on(layout, name)
    cases = {each: with_part_named(case, name, None) for each, case in layout.cases.items()}
    layout = replace(layout, cases=cases, dimensions=remarks.without_part(layout, name))
    if group in ("fittings", "tees") and len(lines) == 2:
        return _healed(layout, group, name, lines[0], lines[1])
    if group == "tees" and len(lines) == 3:
        raise EditError(f"three lines meet in it: delete the one that branches off, then {name} heals")
    if group == "reservoirs":
        intakes = [intake.name for intake in layout.intakes.values() if intake.reservoir == name]
        if intakes:
            raise EditError(f"{', '.join(intakes)} stands in {name}: remove that first")
    gone = {name, *(run.name for run in lines)}
    kept = {
        group: {key: part for key, part in parts.items() if key not in gone}
        for group, parts in _groups(layout).items()
    }
    return _checked(replace(layout, **kept))  # type: ignore[arg-type]


def _healed(layout: Layout, group: str, name: str, one: Run, other: Run) -> Layout:
    """Two runs made one again. The part leaves a corner where they were not in line."""
    before, after = (one, other) if one.end == name else (other, one)
    first = before if before.end == name else _turned(before)
    second = after if after.start == name else _turned(after)
    a, b, c = outline.corners(layout, first)[-2], layout.joint(name), outline.corners(layout, second)[1]
    at = (b.at[0].si, b.at[1].si)
    corner = () if _in_line(a, at, c) else (b.at,)
    via, out = (*first.via, *corner, *second.via), _out_of_plane(first, second)
    whole = replace(first, end=second.end, via=via, out_of_plane=out)
    if first.end == second.end or whole.start == whole.end:
        raise EditError(f"without {name} its line would lead back to where it began")
    runs = {key: run for key, run in layout.runs.items() if key != second.name}
    runs[first.name] = whole
    parts = {key: part for key, part in _groups(layout)[group].items() if key != name}
    changed = replace(layout, runs=runs, **{group: parts})  # type: ignore[arg-type]
    pieces = ((before, before.end != name), (after, after.start != name))
    return _checked(replace(changed, readings=taps.readings_on_joined_run(layout, changed, pieces)))


def _out_of_plane(one: Run, other: Run) -> Quantity | None:
    """The length of two runs together that is not drawn."""
    if one.out_of_plane is None or other.out_of_plane is None:
        return one.out_of_plane or other.out_of_plane
    return in_unit_of(one.out_of_plane, one.out_of_plane.si + other.out_of_plane.si, Kind.LENGTH)


def _turned(run: Run) -> Run:
    return replace(run, start=run.end, end=run.start, via=run.via[::-1])


def _in_line(a: XY, b: XY, c: XY) -> bool:
    across = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    onward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return onward > 0 and abs(across) <= 1e-6 * max(onward, 1e-9) + 1e-9


# Names


def rename(layout: Layout, name: str, wanted: str) -> Layout:
    """The layout with a part under another name, and everything that speaks of it.

    Raises EditError for a name that is taken or that a file would refuse.
    """
    wanted = wanted.strip()
    if wanted == name or not any(name in parts for parts in _groups(layout).values()):
        return layout
    if any(wanted in parts for parts in _groups(layout).values()):
        raise EditError(f"there is a part named {wanted} already")

    def now(each: str) -> str:
        return wanted if each == name else each

    def one(part: Any) -> Any:
        part = replace(part, name=now(part.name))
        if isinstance(part, Run):
            return replace(part, start=now(part.start), end=now(part.end))
        return replace(part, reservoir=now(part.reservoir)) if isinstance(part, Intake) else part

    kept: dict[str, Any] = {
        group: {now(key): one(part) for key, part in parts.items()}
        for group, parts in _groups(layout).items()
    }
    cases = {each: with_part_named(case, name, wanted) for each, case in layout.cases.items()}
    kept["readings"] = taps.renamed(layout.readings, name, wanted)
    kept["dimensions"] = remarks.renamed(layout.dimensions, name, wanted)
    return _checked(replace(layout, **kept, cases=cases))
