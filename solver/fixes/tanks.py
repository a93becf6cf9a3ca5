"""Changes of what lies in a tank, and of how a line leaves it: baffle, return, wall."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import shapely

from solver.fixes.candidate import Candidate, FixKind, free_name, in_one_size, rewritten
from solver.geometry import moving, outline, reservoirs
from solver.layout.kinds import IntakeKind, ValveState
from solver.layout.parts import Baffle, Intake, Layout, Reservoir, Run
from solver.layout.shapes import polygon
from solver.quantities.units import Kind, System, typeset

STEP = 0.01
"""In which baffles and returns are moved [m]."""

OFF_THE_FLOOR = 0.10
"""Room between the end of a return and the floor of its tank, or half the depth there [m]; ours."""

BAFFLE_HEIGHT = 2 / 3
"""Of the depth at the minimum level, the usual height of a baffle; common practice, no source."""

FROM_THE_WALL = 0.10
"""Share of a tank's width by which a return is kept from its wall; ours."""


def baffle_lower(layout: Layout, tank: str) -> Iterator[Candidate]:
    """The upper edge of a baffle lower, as far as its foot or the floor."""
    drawn = layout.reservoirs[tank].baffle
    if drawn is None:
        return
    foot = (
        reservoirs.floor_under(layout.reservoirs[tank], drawn.x.si)
        if drawn.bottom is None
        else drawn.bottom.si
    )

    def edit(drawing: Layout, height: float) -> Layout:
        lower = replace(drawn, top=rewritten(drawn.top, height))
        return _with(drawing, replace(drawing.reservoirs[tank], baffle=lower))

    yield from _height(tank, "lower the baffle of {} to", edit, drawn.top.si, foot + STEP, "a plate cut down")


def baffle_gap(layout: Layout, tank: str) -> Iterator[Candidate]:
    """A gap of a tenth of the depth between a baffle and the floor."""
    held = layout.reservoirs[tank]
    drawn = held.baffle
    if drawn is None:
        return
    floor = reservoirs.floor_under(held, drawn.x.si)
    gap = round((held.minimum_level.si - floor) / 10, 3)

    def edit(drawing: Layout, _: float) -> Layout:
        raised = replace(drawn, bottom=rewritten(drawn.top, floor + gap))
        return _with(drawing, replace(drawing.reservoirs[tank], baffle=raised))

    def describe(_: float, system: System) -> str:
        return f"leave {typeset(gap, Kind.LENGTH, system)} under the baffle of {tank}"

    if gap > reservoirs.ON_THE_FLOOR:
        yield Candidate(FixKind.TANK, tank, edit, describe, "a plate cut out at its foot", sizes=(1.0,))


def return_lower(layout: Layout, tank: str) -> Iterator[Candidate]:
    """The end of a return lower, under the fluid."""
    held = layout.reservoirs[tank]
    if held.return_at is None:
        return
    x, y = held.return_at
    floor = reservoirs.floor_under(held, x.si)
    lowest = floor + min(OFF_THE_FLOOR, (held.minimum_level.si - floor) / 2)

    def edit(drawing: Layout, height: float) -> Layout:
        return _with(drawing, replace(drawing.reservoirs[tank], return_at=(x, rewritten(y, height))))

    yield from _height(tank, "lead the return of {} down to", edit, y.si, lowest, "a longer return pipe")


def _height(
    tank: str, order: str, edit: Callable[[Layout, float], Layout], now: float, most: float, cost: str
) -> Iterator[Candidate]:
    def describe(height: float, system: System) -> str:
        return f"{order.format(tank)} {typeset(height, Kind.LENGTH, system)}"

    if now - most >= STEP:
        yield Candidate(
            FixKind.TANK, tank, edit, describe, cost, now=now, most=most, step=STEP, usual=most,
            enough_unit=Kind.LENGTH,
        )  # fmt: skip


def return_apart(layout: Layout, intake: str) -> Iterator[Candidate]:
    """A baffle between a return and an intake, or the return on the other side of the one that is there."""
    held = layout.reservoirs[layout.intakes[intake].reservoir]
    if held.return_at is None:
        return
    x, away = layout.intakes[intake].at[0].si, held.return_at[0].si
    if held.baffle is None:
        yield from _baffle_between(held, x, away)
    else:
        yield from _behind_the_baffle(held, held.baffle, x, intake)


def _baffle_between(held: Reservoir, x: float, away: float) -> Iterator[Candidate]:
    at = round((x + away) / 2, 2)
    floor = reservoirs.floor_under(held, at)
    top = round(floor + BAFFLE_HEIGHT * (held.minimum_level.si - floor), 2)

    def edit(drawing: Layout, _: float) -> Layout:
        model = held.outline[0]
        baffle = Baffle(rewritten(model[0], at), rewritten(model[1], top))
        return _with(drawing, replace(drawing.reservoirs[held.name], baffle=baffle))

    def describe(_: float, system: System) -> str:
        place, height = (typeset(each, Kind.LENGTH, system) for each in (at, top))
        return f"stand a baffle in {held.name} at x = {place}, {height} high, between intake and return"

    if min(x, away) < at < max(x, away) and top > floor:
        yield Candidate(FixKind.TANK, held.name, edit, describe, "a plate in the tank", sizes=(1.0,))


def _behind_the_baffle(held: Reservoir, baffle: Baffle, x: float, intake: str) -> Iterator[Candidate]:
    if held.return_at is None:
        return
    left, _, right, _ = polygon(held.outline).bounds
    from_wall = FROM_THE_WALL * (right - left)
    at = round(right - from_wall if x < baffle.x.si else left + from_wall, 2)
    old = held.return_at

    def edit(drawing: Layout, _: float) -> Layout:
        moved = (rewritten(old[0], at), old[1])
        return _with(drawing, replace(drawing.reservoirs[held.name], return_at=moved))

    def describe(_: float, system: System) -> str:
        place, between = (typeset(each, Kind.LENGTH, system) for each in (at, abs(at - x)))
        return f"lead the return into {held.name} at x = {place}, behind its baffle, {between} from {intake}"

    if (at < baffle.x.si) != (x < baffle.x.si):
        yield Candidate(FixKind.TANK, held.name, edit, describe, "another return pipe", sizes=(1.0,))


def on_the_lid(layout: Layout, pump: str) -> Iterator[Candidate]:
    """A pump out of the tank that it stands in, on its lid."""
    x, y = (coordinate.si for coordinate in layout.pumps[pump].at)
    rims = [
        bounds[3]
        for bounds in (polygon(tank.outline).bounds for tank in layout.reservoirs.values())
        if bounds[0] < x < bounds[2] and bounds[1] < y < bounds[3]
    ]
    if not rims:
        return
    height = round(max(rims) + reservoirs.OVER_A_LID, 3)

    def edit(drawing: Layout, _: float) -> Layout:
        return moving.move_part(drawing, pump, x, height)

    def describe(_: float, system: System) -> str:
        return f"stand {pump} on the lid, its port at {typeset(height, Kind.LENGTH, system)}"

    yield Candidate(FixKind.PLACE, pump, edit, describe, "a stand on the lid", sizes=(1.0,))


def nozzle_in_wall(layout: Layout, name: str) -> Iterator[Candidate]:
    """A wall nozzle where a run passes through the wall of the tank that it draws from."""
    run = layout.runs[name]
    intake = layout.intakes.get(run.start) or layout.intakes.get(run.end)
    if intake is None or intake.screen is not None:
        return
    through = [at for tank, at in reservoirs.wall_crossings(layout, run) if tank == intake.reservoir]
    if len(through) != 1:
        return
    at = round(through[0][0], 4), round(through[0][1], 4)

    def edit(drawing: Layout, _: float) -> Layout:
        return _from_wall(drawing, drawing.intakes[intake.name], drawing.runs[name], at)

    def describe(_: float, system: System) -> str:
        height = typeset(at[1], Kind.LENGTH, system)
        return f"begin {name} at a nozzle in the wall of {intake.reservoir} at {height}"

    yield Candidate(
        FixKind.ROUTE, name, edit, describe, "a nozzle, and no pipe inside the tank", sizes=(1.0,)
    )


def _from_wall(layout: Layout, intake: Intake, run: Run, wall: tuple[float, float]) -> Layout:
    """The drawing with a run that begins at a nozzle in a wall, the piece inside the tank left out."""
    inside = polygon(layout.reservoirs[intake.reservoir].outline)
    outer = tuple(at for at in run.via if inside.distance(shapely.Point(at[0].si, at[1].si)) > outline.NEAR)
    place = (rewritten(intake.at[0], wall[0]), rewritten(intake.at[1], wall[1]))
    nozzle = replace(
        intake, name=free_name(layout, "nozzle"), at=place, kind=IntakeKind.WALL_NOZZLE,
        size=run.size, bore=run.bore,
    )  # fmt: skip
    start, end = (nozzle.name if joint == intake.name else joint for joint in (run.start, run.end))
    return replace(
        layout,
        intakes={**{n: i for n, i in layout.intakes.items() if n != intake.name}, nozzle.name: nozzle},
        runs={**layout.runs, run.name: replace(run, via=outer, start=start, end=end)},
    )


def shut(name: str) -> Iterator[Candidate]:
    """A check valve drawn as it stands where the flow would run against it."""

    def edit(drawing: Layout) -> Layout:
        closed = replace(drawing.fittings[name], state=ValveState.CLOSED)
        return replace(drawing, fittings={**drawing.fittings, name: closed})

    order = f'draw {name} shut, state = "closed"'
    yield in_one_size(FixKind.VALVE, name, edit, order, "nothing: it is so already")


def _with(layout: Layout, tank: Reservoir) -> Layout:
    return replace(layout, reservoirs={**layout.reservoirs, tank.name: tank})
