"""Changes of place: the port lower, the pump beside or under its tank, the level higher, a corner less."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.answers import inputs
from solver.fixes.candidate import Candidate, FixKind, NoRoomError
from solver.geometry import moving, outline, reservoirs
from solver.geometry.followed import followed_text
from solver.layout.parts import Layout, Level, Pump, Run
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, System, typeset

LOWER = 0.05
"""Steps in which a port is lowered, and in which a level is raised [m]."""

CLEAR = 1.5
"""Bores between a lowered intake and the floor of its tank; common practice, no source."""


def candidates(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """Changes of place for one pump's line."""
    yield from port_lower(layout, layout.pumps[ledger.pump])
    yield from higher_level(layout, ledger.reservoir)
    for name in dict.fromkeys(entry.part for entry in ledger.entries if entry.part in layout.runs):
        yield from corners_out(layout, layout.runs[name])


def port_lower(layout: Layout, pump: Pump) -> Iterator[Candidate]:
    """The port of a pump lower, down to what stands under it.

    No lower than anything drawn: whether there is a floor below that, nobody has said.
    """
    now = pump.at[1].si
    lowest = reservoirs.lowest_port(layout, pump, reservoirs.lowest_drawn(layout))
    if now - lowest < LOWER:
        return

    def edit(drawing: Layout, height: float) -> Layout:
        return moving.move_part(drawing, pump.name, drawing.pumps[pump.name].at[0].si, height)

    def describe(height: float, system: System) -> str:
        lowered = f"lower {pump.name}'s port to {typeset(height, Kind.LENGTH, system)}"
        followed = followed_text(layout, edit(layout, height))
        return f"{lowered} ({followed})" if followed else lowered

    yield Candidate(
        FixKind.PLACE,
        pump.name,
        edit,
        describe,
        "a lower stand for the pump, and its other lines with it",
        now=now,
        most=lowest,
        step=LOWER,
        usual=max(now - 0.3, lowest),
        enough_unit=Kind.LENGTH,
    )


def intake_lower(layout: Layout, name: str) -> Iterator[Candidate]:
    """An intake deeper in its tank, as near to the floor as leaves it free."""
    intake = layout.intakes[name]
    floor = reservoirs.floor_under(layout.reservoirs[intake.reservoir], intake.at[0].si)
    yield from _intake_to(layout, name, floor + CLEAR * outline.bore(intake), "lower")


def intake_higher(layout: Layout, name: str) -> Iterator[Candidate]:
    """An intake further from the floor of its tank, no higher than half way to the level."""
    intake = layout.intakes[name]
    level = layout.reservoirs[intake.reservoir].minimum_level.si
    yield from _intake_to(layout, name, (intake.at[1].si + level) / 2, "raise")


def _intake_to(layout: Layout, name: str, most: float, verb: str) -> Iterator[Candidate]:
    x, now = (coordinate.si for coordinate in layout.intakes[name].at)
    if abs(most - now) < LOWER / 5 or (most > now) != (verb == "raise"):
        return

    def edit(drawing: Layout, height: float) -> Layout:
        return moving.move_part(drawing, name, x, height)

    def describe(height: float, system: System) -> str:
        return f"{verb} {name} to {typeset(height, Kind.LENGTH, system)}"

    yield Candidate(
        FixKind.ROUTE,
        name,
        edit,
        describe,
        "a longer pipe into the tank" if verb == "lower" else "a shorter pipe into the tank",
        now=now,
        most=most,
        step=LOWER / 5,
        usual=most,
        enough_unit=Kind.LENGTH,
    )


def higher_level(layout: Layout, reservoir: str) -> Iterator[Candidate]:
    """The minimum level of a tank higher, up to the normal one."""
    tank = layout.reservoirs[reservoir]
    low, high = tank.minimum_level.si, tank.normal_level.si
    if high - low < LOWER:
        return

    def edit(drawing: Layout, level: float) -> Layout:
        return inputs.fluid_level(drawing, (tank.name,), level, Level.MINIMUM)

    def describe(level: float, system: System) -> str:
        return f"keep the minimum level of {tank.name} at {typeset(level, Kind.LENGTH, system)}"

    yield Candidate(
        FixKind.LEVEL,
        tank.name,
        edit,
        describe,
        "a low-level switch set higher, and less fluid that may be drawn down",
        now=low,
        most=high,
        step=LOWER / 5,
        usual=high,
        enough_unit=Kind.LENGTH,
    )


def corners_out(layout: Layout, run: Run) -> Iterator[Candidate]:
    """Each corner of a line with two or more left out in turn, and each two that follow one another."""
    for number in (1, 2):
        for first in range(len(run.via) - number + 1 if len(run.via) > 1 else 0):
            if _clear_without(layout, run, first, number):
                yield _corner_out(run, first, number)


def port_away(layout: Layout, pump: Pump, more: float) -> Iterator[Candidate]:
    """A pump further along the last straight before its port, by so much more [m]."""
    run = next((run for run in layout.runs.values() if pump.name in (run.start, run.end)), None)
    if run is None:
        return
    back = outline.direction(layout, run, pump.name)
    if back == (0.0, 0.0):  # no straight of it lies in the plane
        return
    x, y = (end.si - way * more for end, way in zip(pump.at, back, strict=True))

    def edit(drawing: Layout, _: float) -> Layout:
        return moving.move_part(drawing, pump.name, x, y)

    def describe(_: float, system: System) -> str:
        return f"set {pump.name} {typeset(more, Kind.LENGTH, system)} further from the last bend"

    yield Candidate(FixKind.PLACE, pump.name, edit, describe, "room, and a longer pipe", sizes=(1.0,))


def _without_corners(run: Run, first: int, number: int) -> Run:
    return replace(run, via=run.via[:first] + run.via[first + number :])


def _corner_out(drawn: Run, first: int, number: int) -> Candidate:
    def edit(drawing: Layout, _: float) -> Layout:
        run = drawing.runs[drawn.name]
        if len(run.via) != len(drawn.via):
            raise NoRoomError(f"{run.name} has other corners by now")
        return replace(drawing, runs={**drawing.runs, run.name: _without_corners(run, first, number)})

    def describe(_: float, system: System) -> str:
        if number == len(drawn.via):
            return f"lay {drawn.name} straight, without a corner"
        corners = f"corner {first + 1}" if number == 1 else f"corners {first + 1} and {first + 2}"
        return f"lay {drawn.name} without its {corners}"

    pipe = "another piece of pipe, laid at a slope, with nothing in its way"
    return Candidate(FixKind.ROUTE, drawn.name, edit, describe, pipe, sizes=(1.0,))


def _clear_without(layout: Layout, run: Run, first: int, number: int) -> bool:
    """Whether a run without some of its corners passes no more walls of tanks, above or under the fluid."""
    shorter = _without_corners(run, first, number)
    pairs = zip(_crossings(layout, shorter), _crossings(layout, run), strict=True)
    return all(then <= now for then, now in pairs)


def _crossings(layout: Layout, run: Run) -> tuple[int, int]:
    """How often a run passes the wall of a tank, and how often of these under its highest fluid."""
    every = reservoirs.wall_crossings(layout, run)
    under = [at for name, at in every if at[1] < layout.reservoirs[name].normal_level.si - outline.NEAR]
    return len(every), len(under)
