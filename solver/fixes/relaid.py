"""A pump on a stand of its own, flooded: its line re-laid through the wall of the tank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import shapely

from solver.fixes.candidate import Candidate, FixKind, NoRoomError, free_name, in_one_size, rewritten
from solver.fixes.joining import ALIKE, joined
from solver.geometry import outline, reservoirs
from solver.layout.kinds import CHECK_KINDS, REDUCER_KINDS, VALVE_KINDS, Bend, FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Level, Point, Pump, Run, Tee
from solver.layout.shapes import polygon
from solver.ledger.solve import PumpLedger

SPACING = 0.30
"""Between the parts of a line that is re-laid, or six bores where that is more [m]."""

APART = 0.05
"""Across, from where on two nozzles sit in different walls [m]."""

STRAIGHT_AFTER_BEND = 7.0
"""Bores by which the straight between a bend and a port is longer, so that pipe two sizes wider has five of
its own there; ours."""

UNDER = 0.40
"""From the floor of a raised tank down to the port of a pump that stands under it [m]."""

ROOM_UNDER = 0.70
"""Height of a tank's floor, above the lowest thing drawn, from which a pump finds room under it [m]."""

FLOODED = "a stand, a wall nozzle, and an isolating valve locked open, for the tank's content stands over it"
NO_STRAINER = "; the strainer goes, so a filter in the return line, with the pump maker's consent"


def candidates(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """The pump beside its tank or under it; on a header, with a line of its own."""
    yield from _beside_tank(layout, ledger)
    yield from _off_the_header(layout, ledger)


def _beside_tank(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    pump = layout.pumps[ledger.pump]
    top = pump.at[1].si + outline.bore(pump) / 2
    flooded_now = top < ledger.fluid_level and not _over_the_level(layout, ledger)
    if not flooded_now:
        yield from through_wall(layout, ledger)


def through_wall(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """The pump beside its tank or under it, its line re-laid through the wall."""
    chain = chain_of(layout, ledger)
    if chain is None:
        return
    tank = layout.reservoirs[ledger.reservoir]
    screened = any(name in layout.intakes and layout.intakes[name].screen is not None for name in chain)
    cost = FLOODED + other_valves(layout, chain) + (NO_STRAINER if screened else "")
    yield _moved(ledger.pump, tank.name, chain, cost, under=False)
    if polygon(tank.outline).bounds[1] - reservoirs.ground(layout) >= ROOM_UNDER:
        yield _moved(ledger.pump, tank.name, chain, cost, under=True)


def _over_the_level(layout: Layout, ledger: PumpLedger) -> bool:
    runs = (layout.runs[entry.part] for entry in ledger.entries if entry.part in layout.runs)
    return any(y.si + outline.bore(run) / 2 > ledger.fluid_level for run in runs for _, y in run.via)


def chain_of(layout: Layout, ledger: PumpLedger) -> tuple[str, ...] | None:
    """The parts from intake to pump, when they serve this pump alone and nothing lies in parallel."""
    if any(entry.part in layout.tees for entry in ledger.entries):
        return None
    names = dict.fromkeys(entry.part for entry in ledger.entries if entry.part != ledger.reservoir)
    names.pop(ledger.pump, None)
    return tuple(names)


def other_valves(layout: Layout, chain: tuple[str, ...]) -> str:
    """Which valves of a line have to be others where it is re-laid, as the end of a cost; "" for none."""
    if not any(name in layout.runs for name in chain):
        return ""
    model, _ = _models(layout, chain)
    kept = [part for part in _kept_fittings(layout, chain, model) if part.name in layout.fittings]
    others = [part.name for part in kept if part != layout.fittings[part.name]]
    return f"; {' and '.join(others)} in {model.size or 'the bore of the line'}" if others else ""


def _moved(pump: str, tank: str, chain: tuple[str, ...], cost: str, *, under: bool) -> Candidate:
    where = "under" if under else "beside"

    def edit(drawing: Layout) -> Layout:
        return _relaid(drawing, pump, tank, chain, under=under)

    order = f"put {pump} {where} {tank}, flooded through its wall"
    return in_one_size(FixKind.PLACE, pump, edit, order, cost)


def _relaid(layout: Layout, pump: str, tank: str, chain: tuple[str, ...], *, under: bool) -> Layout:
    floor = polygon(layout.reservoirs[tank].outline).bounds[1]
    return with_line(layout, pump, tank, chain, floor - UNDER if under else None)


def nozzle_place(layout: Layout, tank: str, pump: str, chain: tuple[str, ...]) -> tuple[float, float]:
    """Where the line of a pump would pass through the wall of its tank [m]. Raises NoRoomError."""
    return _nozzle(layout, tank, layout.pumps[pump], outline.bore(_models(layout, chain)[0]))


def _models(layout: Layout, chain: tuple[str, ...]) -> tuple[Run, Run]:
    """The run that a new line is like, the widest of the old one, and the one that leads to the port.

    Raises NoRoomError.
    """
    lines = [layout.runs[name] for name in chain if name in layout.runs]
    if not lines:
        raise NoRoomError("there is no line")
    widest, last = max(lines, key=outline.bore), lines[-1]
    return (widest if outline.bore(widest) > outline.bore(last) + ALIKE else last), last


def with_line(
    layout: Layout, pump: str, tank: str, chain: tuple[str, ...], height: float | None, least: float = 0.0
) -> Layout:
    """The drawing with a pump beside its tank, or with its port under the nozzle there.

    Parameters: `chain`, the parts of its line as it is; `height` of the port [m], None for that of the
    nozzle; `least` that the nozzle must be over the port [m]. Raises NoRoomError.
    """
    intakes = [layout.intakes[name] for name in chain if name in layout.intakes]
    if len(intakes) > 1:
        raise NoRoomError("the line does not begin at one intake")
    model, last = _models(layout, chain)
    old, width = intakes[0] if intakes else layout.pumps[pump], outline.bore(model)
    x, y = _nozzle(layout, tank, layout.pumps[pump], width)
    sign = 1.0 if x >= polygon(layout.reservoirs[tank].outline).centroid.x else -1.0
    gap = sign * max(SPACING, 6 * width)
    kept, cone = _kept_fittings(layout, chain, model), _cone(layout, chain, model, last)
    placed = [
        replace(part, at=_point((x + gap * number, y), old.at)) for number, part in enumerate(kept, start=1)
    ]
    corner, low, straight = x + gap * (len(kept) + 1), y if height is None else height, 0.0
    via: tuple[Point, ...] = ()
    if height is not None:
        if y - height < least:
            raise NoRoomError(f"{tank} stands too low for a port under its nozzle")
        via = (_point((corner, y), old.at), _point((corner, low), old.at))
        straight = gap + sign * STRAIGHT_AFTER_BEND * width
    if cone is not None:
        placed.append(replace(cone, at=_point((corner + straight, low), old.at)))
        straight += gap
    port = replace(layout.pumps[pump], at=_point((corner + straight, low), layout.pumps[pump].at))
    nozzle = _nozzle_like(layout, tank, model, _point((x, y), old.at))
    return _joined(layout, chain, _NewLine(nozzle, placed, port, model, last, via))


def _nozzle_like(layout: Layout, tank: str, model: Run, at: Point) -> Intake:
    name = free_name(layout, "nozzle")
    return Intake(name, tank, at, IntakeKind.WALL_NOZZLE, size=model.size, bore=model.bore)


def _cone(layout: Layout, chain: tuple[str, ...], model: Run, last: Run) -> Fitting | None:
    """The reducer in front of the port, that of the old line where it had one; None where none is needed."""
    if model is last:
        return None
    inline = [layout.fittings[name] for name in chain if name in layout.fittings]
    reducers = [part for part in inline if part.kind in REDUCER_KINDS]
    any_place = next(iter(layout.pumps.values())).at
    new = Fitting(free_name(layout, "reducer"), any_place, FittingKind.ECCENTRIC_REDUCER)
    return replace(
        reducers[-1] if reducers else new,
        kind=FittingKind.ECCENTRIC_REDUCER,
        size=model.size,
        bore=model.bore,
        other_size=last.size,
        other_bore=last.bore,
    )


class _NewLine(NamedTuple):
    """What a line is re-laid from, in the order of the flow."""

    nozzle: Intake
    fittings: list[Fitting]
    pump: Pump
    model: Run  # what its runs are like
    last: Run  # what the one that leads to the port is like
    via: tuple[Point, ...]  # corners of the first run behind the valves and what sits there


def _joined(layout: Layout, chain: tuple[str, ...], line: _NewLine) -> Layout:
    """The drawing with a line from nozzle to pump in the place of the old one."""
    names = [line.nozzle.name, *(part.name for part in line.fittings), line.pump.name]
    gone = {*chain} - {*names}
    runs = {name: run for name, run in layout.runs.items() if name not in gone}
    shortened = replace(layout, runs=runs)
    bent = names[-1 if line.model is line.last else -2]
    for start, end in pairwise(names):
        name, model = free_name(shortened, f"{start} to {end}"), line.last if end == names[-1] else line.model
        laid = replace(
            model,
            name=name,
            start=start,
            end=end,
            via=line.via if end == bent else (),
            bend=Bend.LONG_RADIUS if model.bend_radius is None else model.bend,
            out_of_plane=None,
        )
        runs = {**runs, name: laid}
        shortened = replace(shortened, runs=runs)
    fittings = {name: part for name, part in layout.fittings.items() if name not in chain}
    return replace(
        shortened,
        intakes={**{n: i for n, i in layout.intakes.items() if n not in chain}, names[0]: line.nozzle},
        fittings={**fittings, **{part.name: part for part in line.fittings}},
        pumps={**layout.pumps, line.pump.name: line.pump},
    )


def _kept_fittings(layout: Layout, chain: tuple[str, ...], model: Run) -> list[Fitting]:
    """An isolating valve first, as wide as the line; then what sits in the line today, but for what only a
    lifted line needs. A valve with its maker's curve stays as it is."""
    inline = [layout.fittings[name] for name in chain if name in layout.fittings]
    valves = [
        replace(part, size=model.size, bore=model.bore) if part.curve is None else part
        for part in inline
        if part.kind in VALVE_KINDS
    ]
    rest = [part for part in inline if part.kind not in (*VALVE_KINDS, *CHECK_KINDS, *REDUCER_KINDS)]
    if valves:
        return [*valves, *rest]
    origin = layout.pumps[next(iter(layout.pumps))].at
    valve = Fitting(
        free_name(layout, "isolator"), origin, FittingKind.BALL_VALVE, size=model.size, bore=model.bore
    )
    return [valve, *rest]


def _nozzle(layout: Layout, tank: str, pump: Pump, width: float) -> tuple[float, float]:
    """A place in the wall that is nearer to the pump, low but clear of the floor and of other nozzles [m]."""
    reservoir = layout.reservoirs[tank]
    shape = polygon(reservoir.outline)
    left, floor, right, _ = shape.bounds
    height = floor + max(2.0 * width, 0.12)
    lowest = min(reservoir.minimum_level.si, reservoirs.level(reservoir, Level.DRAWN_DOWN))
    others = [intake.at for intake in layout.intakes.values() if intake.reservoir == tank]
    while height <= lowest - 2.5 * width:
        line = shapely.LineString([(left - 1.0, height), (right + 1.0, height)]).intersection(shape)
        xs = [x for x, _ in shapely.get_coordinates(line)]
        sides = sorted({min(xs), max(xs)}, key=lambda x: abs(x - pump.at[0].si)) if xs else []
        for x in sides:
            if all(abs(x - at[0].si) > APART or abs(height - at[1].si) > 4 * width for at in others):
                return round(x, 6), round(height, 3)
        height += width
    raise NoRoomError(f"{tank} is too shallow for a nozzle under its lowest level")


def _point(place: tuple[float, float], model: Point) -> Point:
    return rewritten(model[0], place[0]), rewritten(model[1], place[1])


# A pump off the header it shares, on a line of its own


def _off_the_header(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """The pump taken off the last tee on its way, beside its tank or under it."""
    tees = [entry.part for entry in ledger.entries if entry.part in layout.tees]
    if len(layout.pumps) < 2 or not tees or ledger.parallel_entries:
        return
    names = list(dict.fromkeys(entry.part for entry in ledger.entries))
    leg = tuple(names[names.index(tees[-1]) + 1 : -1])
    cost = FLOODED + other_valves(layout, leg)
    yield _own_line(ledger.pump, ledger.reservoir, tees[-1], leg, cost, under=False)
    tank = polygon(layout.reservoirs[ledger.reservoir].outline)
    if tank.bounds[1] - reservoirs.ground(layout) >= ROOM_UNDER:
        yield _own_line(ledger.pump, ledger.reservoir, tees[-1], leg, cost, under=True)


def _own_line(pump: str, tank: str, tee: str, leg: tuple[str, ...], cost: str, *, under: bool) -> Candidate:
    where = "under" if under else "beside"

    def edit(drawing: Layout) -> Layout:
        if tee not in drawing.tees or not set(leg) <= {*drawing.runs, *drawing.fittings}:
            raise NoRoomError(f"{pump} is on no header by now")
        return _healed(_relaid(drawing, pump, tank, leg, under=under), drawing.tees[tee])

    order = f"put {pump} {where} {tank} on a line of its own, flooded through its wall"
    return in_one_size(FixKind.PLACE, pump, edit, order, cost)


def _healed(layout: Layout, tee: Tee) -> Layout:
    """The drawing without a tee that one of three lines has left: the other two go on as one.

    Raises NoRoomError where more or fewer are left.
    """
    without = replace(layout, tees={name: each for name, each in layout.tees.items() if name != tee.name})
    return joined(without, tee.name, tee.at)
