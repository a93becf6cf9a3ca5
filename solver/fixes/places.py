"""Changes of place: the port lower, the pump beside or under its tank, the level higher, a corner less."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import shapely

from solver.answers import inputs
from solver.fixes.candidate import Candidate, FixKind, free_name, rewritten
from solver.geometry import moving, outline, reservoirs
from solver.layout.kinds import CHECK_KINDS, REDUCER_KINDS, VALVE_KINDS, Bend, FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Level, Point, Pump, Run
from solver.layout.shapes import polygon
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, System, typeset

OVER_THE_LID = 0.10
"""Room between a tank's rim and the port of a pump that stands on it [m]."""

LOWER = 0.05
"""Steps in which a port is lowered, and in which a level is raised [m]."""

SPACING = 0.30
"""Between the parts of a line that is laid anew, or six bores where that is more [m]."""

UNDER = 0.40
"""From the floor of a raised tank down to the port of a pump that stands under it [m]."""

ROOM_UNDER = 0.70
"""Height of a tank's floor, above the lowest thing drawn, from which a pump finds room under it [m]."""

CLEAR = 1.5
"""Bores between a lowered intake and the floor of its tank; common practice, no source."""

FLOODED = "a stand, a wall nozzle, and an isolating valve locked open, for the tank's content stands over it"
NO_STRAINER = "; the strainer goes, so a filter in the return line, with the pump maker's consent"


class NoPlaceError(ValueError):
    """A change that finds no room in this drawing."""


def candidates(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """Changes of place for one pump's line."""
    yield from _port_lower(layout, layout.pumps[ledger.pump], ledger)
    yield from _beside_tank(layout, ledger)
    yield from higher_level(layout, ledger.reservoir)
    yield from _corners_out(layout, ledger)


def _port_lower(layout: Layout, pump: Pump, ledger: PumpLedger) -> Iterator[Candidate]:
    now, lowest = pump.at[1].si, _lowest_port(layout, pump)
    if now - lowest < LOWER:
        return

    def edit(drawing: Layout, height: float) -> Layout:
        return moving.move_part(drawing, pump.name, drawing.pumps[pump.name].at[0].si, height)

    def describe(height: float, system: System) -> str:
        return f"lower {pump.name}'s port to {typeset(height, Kind.LENGTH, system)}"

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


def _lowest_port(layout: Layout, pump: Pump) -> float:
    """How low the port may come: down to the lid under it, else to the lowest thing drawn [m]."""
    x, y = (coordinate.si for coordinate in pump.at)
    floor = _lowest_drawn(layout)
    for tank in layout.reservoirs.values():
        shape = polygon(tank.outline)
        left, _, right, rim = shape.bounds
        if left <= x <= right and y >= rim:
            floor = max(floor, rim + OVER_THE_LID)
    return floor


def _lowest_drawn(layout: Layout) -> float:
    tanks = [y.si for tank in layout.reservoirs.values() for _, y in tank.outline]
    return min(tanks + [pump.at[1].si for pump in layout.pumps.values()])


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


def _corners_out(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """Lines with two or more corners: each left out in turn, and each two that follow one another."""
    names = dict.fromkeys(entry.part for entry in ledger.entries if entry.part in layout.runs)
    for run in (layout.runs[name] for name in names):
        for number in (1, 2):
            for first in range(len(run.via) - number + 1 if len(run.via) > number else 0):
                if _clear_without(layout, run, first, number):
                    yield _corner_out(run, first, number)


def _without_corners(run: Run, first: int, number: int) -> Run:
    return replace(run, via=run.via[:first] + run.via[first + number :])


def _corner_out(drawn: Run, first: int, number: int) -> Candidate:
    def edit(drawing: Layout, _: float) -> Layout:
        run = drawing.runs[drawn.name]
        if len(run.via) != len(drawn.via):
            raise NoPlaceError(f"{run.name} has other corners by now")
        return replace(drawing, runs={**drawing.runs, run.name: _without_corners(run, first, number)})

    def describe(_: float, system: System) -> str:
        corners = f"corner {first + 1}" if number == 1 else f"corners {first + 1} and {first + 2}"
        return f"lay {drawn.name} without its {corners}"

    return Candidate(
        FixKind.ROUTE, drawn.name, edit, describe, "another piece of pipe, laid aslant", sizes=(1.0,)
    )


def _clear_without(layout: Layout, run: Run, first: int, number: int) -> bool:
    """Whether a run without some of its corners passes no more walls of tanks than it does now."""
    shorter = _without_corners(run, first, number)
    return len(reservoirs.wall_crossings(layout, shorter)) <= len(reservoirs.wall_crossings(layout, run))


# The pump on a stand of its own, its line laid anew through the wall of the tank


def _beside_tank(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    chain = _chain(layout, ledger)
    if chain is None:
        return
    pump, tank = layout.pumps[ledger.pump], layout.reservoirs[ledger.reservoir]
    flooded_now = pump.at[1].si < ledger.fluid_level and not _over_the_level(layout, ledger)
    if flooded_now:
        return
    screened = any(name in layout.intakes and layout.intakes[name].screen is not None for name in chain)
    yield _moved(ledger.pump, tank.name, chain, under=False, screened=screened)
    if polygon(tank.outline).bounds[1] - min(0.0, _lowest_drawn(layout)) >= ROOM_UNDER:
        yield _moved(ledger.pump, tank.name, chain, under=True, screened=screened)


def _over_the_level(layout: Layout, ledger: PumpLedger) -> bool:
    runs = (layout.runs[entry.part] for entry in ledger.entries if entry.part in layout.runs)
    return any(y.si > ledger.fluid_level for run in runs for _, y in run.via)


def _chain(layout: Layout, ledger: PumpLedger) -> tuple[str, ...] | None:
    """The parts from intake to pump, when they serve this pump alone and nothing lies in parallel."""
    if len(layout.pumps) > 1 and any(entry.part in layout.tees for entry in ledger.entries):
        return None
    if any(entry.part in layout.tees for entry in ledger.entries):
        return None
    names = dict.fromkeys(entry.part for entry in ledger.entries if entry.part != ledger.reservoir)
    names.pop(ledger.pump, None)
    return tuple(names)


def _moved(pump: str, tank: str, chain: tuple[str, ...], *, under: bool, screened: bool) -> Candidate:
    where = "under" if under else "beside"

    def edit(drawing: Layout, _: float) -> Layout:
        return _laid_anew(drawing, pump, tank, chain, under=under)

    def describe(_: float, system: System) -> str:
        return f"put {pump} {where} {tank}, flooded through its wall"

    return Candidate(
        FixKind.PLACE,
        pump,
        edit,
        describe,
        FLOODED + (NO_STRAINER if screened else ""),
        sizes=(1.0,),
    )


def _laid_anew(layout: Layout, pump: str, tank: str, chain: tuple[str, ...], *, under: bool) -> Layout:
    intakes = [layout.intakes[name] for name in chain if name in layout.intakes]
    lines = [layout.runs[name] for name in chain if name in layout.runs]
    if len(intakes) != 1 or not lines:
        raise NoPlaceError("the line does not begin at one intake")
    old, model = intakes[0], lines[-1]
    width = outline.bore(model)
    nozzle_at = _nozzle(layout, tank, layout.pumps[pump], width)
    sign = 1.0 if nozzle_at[0] >= polygon(layout.reservoirs[tank].outline).centroid.x else -1.0
    gap = max(SPACING, 6 * width)
    nozzle = Intake(
        free_name(layout, "nozzle"),
        tank,
        _point(nozzle_at, old.at),
        IntakeKind.WALL_NOZZLE,
        size=model.size,
        bore=model.bore,
    )
    inline = _kept_fittings(layout, chain, model)
    placed = [
        replace(part, at=_point((nozzle_at[0] + sign * gap * number, nozzle_at[1]), old.at))
        for number, part in enumerate(inline, start=1)
    ]
    last = nozzle_at[0] + sign * gap * (len(inline) + 1)
    drop = _depth_under(layout, tank, nozzle_at[1]) if under else 0.0
    port = _point((last + (sign * gap if under else 0.0), nozzle_at[1] - drop), layout.pumps[pump].at)
    via = (_point((last, nozzle_at[1]), old.at), _point((last, nozzle_at[1] - drop), old.at)) if under else ()
    names = [nozzle.name, *(part.name for part in placed), pump]
    return _joined(layout, chain, nozzle, placed, pump, port, names, model, via)


def _joined(
    layout: Layout,
    chain: tuple[str, ...],
    nozzle: Intake,
    placed: list[Fitting],
    pump: str,
    port: Point,
    names: list[str],
    model: Run,
    via: tuple[Point, ...],
) -> Layout:
    """The drawing with a line from nozzle to pump in the place of the old one."""
    gone = set(chain) - {part.name for part in placed}
    runs = {name: run for name, run in layout.runs.items() if name not in gone}
    shortened = replace(layout, runs=runs)
    for start, end in pairwise(names):
        name = free_name(shortened, f"{start} to {end}")
        laid = replace(
            model,
            name=name,
            start=start,
            end=end,
            via=via if end == pump else (),
            bend=Bend.LONG_RADIUS if model.bend_radius is None else model.bend,
            out_of_plane=None,
        )
        runs = {**runs, name: laid}
        shortened = replace(shortened, runs=runs)
    fittings = {name: part for name, part in layout.fittings.items() if name not in chain}
    return replace(
        shortened,
        intakes={**{n: i for n, i in layout.intakes.items() if n not in chain}, nozzle.name: nozzle},
        fittings={**fittings, **{part.name: part for part in placed}},
        pumps={**layout.pumps, pump: replace(layout.pumps[pump], at=port)},
    )


def _kept_fittings(layout: Layout, chain: tuple[str, ...], model: Run) -> list[Fitting]:
    """An isolating valve first; then what sits in the line today, but for what only a lifted line needs."""
    inline = [layout.fittings[name] for name in chain if name in layout.fittings]
    valves = [part for part in inline if part.kind in VALVE_KINDS]
    rest = [part for part in inline if part.kind not in (*VALVE_KINDS, *CHECK_KINDS, *REDUCER_KINDS)]
    if valves:
        return [*valves, *rest]
    origin = layout.pumps[next(iter(layout.pumps))].at
    valve = Fitting(
        free_name(layout, "isolator"), origin, FittingKind.BALL_VALVE, size=model.size, bore=model.bore
    )
    return [valve, *rest]


def _nozzle(layout: Layout, tank: str, pump: Pump, width: float) -> tuple[float, float]:
    """A place in the wall that is nearer to the pump, low but clear of the floor [m]."""
    reservoir = layout.reservoirs[tank]
    shape = polygon(reservoir.outline)
    left, floor, right, _ = shape.bounds
    height = floor + max(2.0 * width, 0.12)
    lowest = min(reservoir.minimum_level.si, reservoirs.level(reservoir, Level.DRAWN_DOWN))
    if height > lowest - 2.5 * width:
        raise NoPlaceError(f"{tank} is too shallow for a nozzle under its lowest level")
    line = shapely.LineString([(left - 1.0, height), (right + 1.0, height)]).intersection(shape)
    xs = [x for x, _ in shapely.get_coordinates(line)]
    if not xs:
        raise NoPlaceError(f"{tank} has no wall at that height")
    middle = (left + right) / 2
    x = max(xs) if pump.at[0].si >= middle else min(xs)
    return round(x, 6), round(height, 3)


def _depth_under(layout: Layout, tank: str, height: float) -> float:
    floor = polygon(layout.reservoirs[tank].outline).bounds[1]
    return float(height - (floor - UNDER))


def _point(place: tuple[float, float], model: Point) -> Point:
    return rewritten(model[0], place[0]), rewritten(model[1], place[1])
