"""Checks of the line and its reservoir, one small function each."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import shapely

from solver.findings.criteria import Case, Hit
from solver.findings.kinds import Severity
from solver.formulas import flow
from solver.geometry import reservoirs
from solver.layout.parts import CHECK_KINDS, REDUCER_KINDS, Reservoir
from solver.ledger.solve import Entry
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.quantities.units import Kind

PRIMES_DRY = ("gear", "vane", "screw")
"""Pumps that draw their own line empty of air at a small lift. Common practice, no source."""


def suction_velocity(case: Case) -> Iterator[Hit]:
    """Fluid that runs too fast: losses grow and air comes out."""
    pipes = [entry for entry, row in case.everywhere if row.kind in (RowKind.STRAIGHT, RowKind.BEND)]
    if not pipes:
        return
    fastest = max(pipes, key=lambda entry: entry.velocity)
    for severity, limit in _velocity_limits(case):
        if fastest.velocity > limit:
            text = (
                f"{fastest.part}: {case.show(fastest.velocity, Kind.VELOCITY)}, "
                f"over {case.show(limit, Kind.VELOCITY)}"
            )
            yield Hit(severity, fastest.part, fastest.key, fastest.velocity, limit, Kind.VELOCITY, text)
            return


def _velocity_limits(case: Case) -> tuple[tuple[Severity, float], ...]:
    if case.pump.type == "centrifugal":
        return ((Severity.CAUTION, case.criteria.velocity_centrifugal),)
    return ((Severity.STOP, case.criteria.velocity_stop), (Severity.CAUTION, case.criteria.velocity_caution))


def intake_uncovered(case: Case) -> Iterator[Hit]:
    """An intake that the minimum level does not cover."""
    for entry, _, intake in case.intakes:
        z, level = intake.at[1].si, case.layout.reservoirs[intake.reservoir].minimum_level.si
        if z >= level:
            text = (
                f"{intake.name}: at {case.show(z, Kind.LENGTH)}, not under the minimum level of "
                f"{intake.reservoir} at {case.show(level, Kind.LENGTH)}"
            )
            yield Hit(Severity.STOP, intake.name, entry.key, z, level, Kind.LENGTH, text)


def submergence(case: Case) -> Iterator[Hit]:
    """An intake so near the surface that a vortex may draw air."""
    for entry, _, intake in case.intakes:
        tank = case.layout.reservoirs[intake.reservoir]
        depth = reservoirs.level(tank, case.solution.level) - intake.at[1].si
        needed = flow.submergence.scalar(entry.bore, entry.velocity)
        if depth < needed:
            spread = "; its screen spreads the flow, which helps" if intake.screen is not None else ""
            text = (
                f"{intake.name}: {case.show(depth, Kind.LENGTH)} under the level, "
                f"{case.show(needed, Kind.LENGTH)} keeps a vortex away{spread}"
            )
            severity = Severity.NOTE if intake.screen is not None else Severity.CAUTION
            yield Hit(severity, intake.name, entry.key, depth, needed, Kind.LENGTH, text)


def floor_clearance(case: Case) -> Iterator[Hit]:
    """An intake so near the floor that it chokes and draws sediment."""
    for entry, _, intake in case.intakes:
        plain = intake.kind == "plain end"
        bores = case.criteria.floor_clearance_plain if plain else case.criteria.floor_clearance
        needed = bores * entry.bore
        clear = intake.at[1].si - reservoirs.floor_under(
            case.layout.reservoirs[intake.reservoir], intake.at[0].si
        )
        if clear < needed * (1 - 1e-9):
            text = (
                f"{intake.name}: {case.show(clear, Kind.LENGTH)} above the floor, "
                f"under {bores:g} bores ({case.show(needed, Kind.LENGTH)})"
            )
            yield Hit(Severity.CAUTION, intake.name, entry.key, clear, needed, Kind.LENGTH, text)


def trapped_high_point(case: Case) -> Iterator[Hit]:
    """A summit in the line where air gathers, as it can go neither back to the tank nor on to the pump."""
    for entry, row, fall in _summits(case):
        limit = row.bore / 2
        froude = entry.velocity / math.sqrt(flow.GRAVITY * row.bore)
        swept = froude >= case.criteria.clearing_froude
        then = (
            "full flow should sweep it on, a start may not"
            if swept
            else "the flow is too slow to sweep it on"
        )
        drop = case.show(fall, Kind.LENGTH)
        text = f"{row.part}: the line falls {drop} after a high point, which traps air; {then}"
        yield Hit(
            Severity.NOTE if swept else Severity.CAUTION, row.part, row.key, fall, limit, Kind.LENGTH, text
        )


def _summits(case: Case) -> Iterator[tuple[Entry, Row, float]]:
    """Every point the line rises to and falls from by more than half its bore, with the fall after it."""
    points = [
        (z, entry, row)
        for entry, row in case.line
        for _, z in (row.path if entry.flow >= 0 else reversed(row.path))
    ]
    rising, low, top = False, math.inf, -math.inf
    at: tuple[Entry, Row] | None = None
    for z, entry, row in points:
        step = row.bore / 2
        if rising and z > top:
            top, at = z, (entry, row)
        elif rising and z < top - step:
            rising, low = False, z
        elif not rising and z > low + step:
            if at is not None:
                yield *at, top - low
            rising, top, at = True, z, (entry, row)
        elif not rising:
            low = min(low, z)
    if at is not None and not rising:
        yield *at, top - low


def straight_before_port(case: Case) -> Iterator[Hit]:
    """A port that draws from disturbed flow."""
    length = 0.0
    for entry, row in reversed(case.line):
        if row.kind == RowKind.STRAIGHT:
            length += entry.length / row.bore
        elif row.kind != RowKind.BORE_CHANGE and not _is_reducer(case, row):
            break
    needed = case.criteria.straight_before_port
    if length < needed * (1 - 1e-9):
        text = f"{case.pump.name}: {length:.1f} bores of straight line before the port, under {needed:g}"
        yield Hit(Severity.CAUTION, case.pump.name, case.port.key, length, needed, Kind.NUMBER, text)


def _is_reducer(case: Case, row: Row) -> bool:
    part = case.layout.fittings.get(row.part)
    return part is not None and part.kind in REDUCER_KINDS


def bore_under_port(case: Case) -> Iterator[Hit]:
    """A line narrower than the port it feeds."""
    pipes = [(entry, row) for entry, row in case.line if row.kind == "straight"]
    if not pipes:
        return
    entry, row = min(pipes, key=lambda pipe: pipe[1].bore)
    if row.bore < case.port.bore * (1 - case.criteria.bore_tolerance):
        text = (
            f"{row.part}: bore {case.show(row.bore, Kind.BORE)}, "
            f"under the port's {case.show(case.port.bore, Kind.BORE)}"
        )
        yield Hit(Severity.CAUTION, row.part, entry.key, row.bore, case.port.bore, Kind.BORE, text)


def no_foot_valve(case: Case) -> Iterator[Hit]:
    """A lift that drains back when the pump stops, before a pump that cannot draw it up again."""
    if case.pump.type in PRIMES_DRY or any(_holds_prime(case, row) for _, row in case.line):
        return
    top = max((z for _, row in case.line for _, z in row.path), default=case.port.z)
    lift = max(top, case.port.z) - case.ledger.level
    if lift > 0:
        text = (
            f"{case.pump.name}: the line rises {case.show(lift, Kind.LENGTH)} above the level "
            f"with no foot valve, and a {case.pump.type} pump does not prime itself dry"
        )
        yield Hit(Severity.CAUTION, case.pump.name, case.port.key, lift, 0.0, Kind.LENGTH, text)


def _holds_prime(case: Case, row: Row) -> bool:
    part = case.layout.fittings.get(row.part) or case.layout.intakes.get(row.part)
    return part is not None and part.kind in CHECK_KINDS


def joint_below_atmosphere(case: Case) -> Iterator[Hit]:
    """Joints that would draw air where they leak."""
    low = [entry for entry in _joints(case) if entry.pressure < case.ledger.atmosphere]
    if not low:
        return
    lowest = min(low, key=lambda entry: entry.pressure)
    vacuum = case.ledger.atmosphere - lowest.pressure
    many = f"{len(low)} joints are" if len(low) > 1 else "1 joint is"
    text = (
        f"{case.pump.name}: {many} below the atmosphere, "
        f"by {case.show(vacuum, Kind.VACUUM)} at {case.where(lowest.key)}"
    )
    yield Hit(Severity.NOTE, lowest.part, lowest.key, vacuum, 0.0, Kind.VACUUM, text)


def _joints(case: Case) -> Iterator[Entry]:
    """The last entry of each part, where the next part is joined on outside the fluid."""
    tank = case.layout.reservoirs[case.ledger.reservoir]
    beside = case.everywhere[len(case.line) :]
    ways = [[*case.line, (case.port, None)], [*beside, (case.port, None)]]
    for (entry, row), (following, _) in (pair for way in ways for pair in pairwise(way)):
        if row is not None and entry.part != following.part and row.path:
            x, z = row.path[-1 if entry.flow >= 0 else 0]
            if z > case.ledger.level or not _shape(tank).intersects(shapely.Point(x, z)):
                yield entry


@lru_cache(maxsize=64)
def _shape(reservoir: Reservoir) -> shapely.Polygon:
    return reservoirs.polygon(reservoir)


def transitional_flow(case: Case) -> Iterator[Hit]:
    """A loss that counts, where nobody can say how large it is."""
    for entry, _ in case.everywhere:
        between = flow.LAMINAR_END < entry.reynolds < flow.TURBULENT_START
        share = case.share(entry.loss)
        if between and share > case.criteria.transitional_share:
            text = (
                f"{case.where(entry.key)}: Reynolds number {entry.reynolds:.0f} is transitional "
                f"and the element holds {share:.0%} of the budget"
            ).replace("%", " %")
            yield Hit(
                Severity.NOTE,
                entry.part,
                entry.key,
                share,
                case.criteria.transitional_share,
                Kind.SHARE,
                text,
            )
