"""Checks of the line and its reservoir, one small function each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from operator import attrgetter

from solver.findings.criteria import Hit, Subject
from solver.findings.fluid import fire_resistant
from solver.findings.kinds import Severity
from solver.formulas import flow
from solver.geometry import outline, reservoirs
from solver.layout.kinds import PERHAPS_BENT, REDUCER_KINDS, THREADED, IntakeKind, PumpType
from solver.layout.parts import Intake, Pump
from solver.ledger.beside import LineBeside, lines_beside
from solver.ledger.dry_lift import dry_lift, held_full, too_slow
from solver.ledger.joints import LowJoints, low_joints
from solver.ledger.path import way_of
from solver.ledger.solve import Entry
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.network.ways import Way, crown
from solver.quantities.units import Kind

PRIMES_DRY = (PumpType.GEAR, PumpType.VANE, PumpType.SCREW)
"""Pumps of which some draw their own line empty of air at a small lift: their makers say which, and how high.
Common practice, no source."""

SAME = 1e-6
"""By how much two heights may differ that count as one [m]."""

WHY_NO_VENT = (
    "Air that gathers at a high point narrows the line, and reaches the pump as one slug: it knocks, runs "
    "dry for so long, and may not draw again. A vent there "
    "would draw air in where the line is below the atmosphere."
)
"""Why it matters, of a trapped high point."""


def suction_velocity(subject: Subject) -> Iterator[Hit]:
    """Fluid that runs too fast: losses grow and air comes out."""
    fastest = fastest_pipe(subject)
    if fastest is None:
        return
    for severity, threshold in velocity_criteria(subject):
        if fastest.velocity > threshold:
            velocity, most = (subject.show(each, Kind.VELOCITY) for each in (fastest.velocity, threshold))
            text = f"{fastest.part}: {velocity}, over {MOST_VELOCITY[severity]} {most}"
            yield Hit(severity, fastest.part, fastest.key, fastest.velocity, threshold, Kind.VELOCITY, text)
            return


MOST_VELOCITY = {Severity.STOP: "the utmost of", Severity.CAUTION: "the usual"}
"""What a velocity is called from which on a finding is a stop or a caution."""


def fastest_pipe(subject: Subject) -> Entry | None:
    """The entry of the pipe in which the fluid is fastest; None without a pipe."""
    return max(subject.pipes, key=attrgetter("velocity"), default=None)


def velocity_criteria(subject: Subject) -> tuple[tuple[Severity, float], ...]:
    """The velocities [m/s] that a pump and its fluid are held to, with how grave it is, the highest first."""
    if subject.pump.type == PumpType.CENTRIFUGAL:
        return ((Severity.CAUTION, subject.criteria.velocity_centrifugal),)
    if fire_resistant(subject.layout.fluid.name):
        return (
            (Severity.STOP, subject.criteria.velocity_stop_fire_resistant),
            (Severity.CAUTION, subject.criteria.velocity_caution_fire_resistant),
        )
    return (
        (Severity.STOP, subject.criteria.velocity_stop),
        (Severity.CAUTION, subject.criteria.velocity_caution),
    )


THROAT = (
    "submergence is worked out with its throat, and with a mouth of 1.5 throats where that asks for more, as "
    "in slow flow"
)
"""Of a bell-mouth the throat is typed, and ANSI/HI 9.8 means the mouth: at rest it asks for one bore."""


def intake_uncovered(subject: Subject) -> Iterator[Hit]:
    """An intake that the minimum level does not cover."""
    for entry, _, intake in subject.intakes:
        z, level = mouth_top(intake), subject.layout.reservoirs[intake.reservoir].minimum_level.si
        if z >= level:
            at, under = (subject.show(each, Kind.LENGTH) for each in (z, level))
            text = (
                f"{intake.name}: {edge(intake)}at {at}, not under the minimum level of {intake.reservoir} "
                f"at {under}"
            )
            yield Hit(Severity.STOP, intake.name, entry.key, z, level, Kind.LENGTH, text)


def mouth_top(intake: Intake) -> float:
    """Elevation of the highest place at which an intake draws [m]: a nozzle in a wall lies level, of any
    other no drawing says that it does."""
    return intake.at[1].si + (outline.bore(intake) / 2 if intake.kind == IntakeKind.WALL_NOZZLE else 0.0)


def edge(intake: Intake) -> str:
    """What of an intake that place is, in words."""
    return "its upper edge " if intake.kind == IntakeKind.WALL_NOZZLE else ""


def submergence(subject: Subject) -> Iterator[Hit]:
    """An intake so near the surface that a vortex may draw air."""
    for entry, _, intake in subject.intakes:
        depth, needed = depths(subject, entry, intake)
        if depth < needed:
            screen_note = "; its screen spreads the flow, which helps" if intake.screen is not None else ""
            text = (
                f"{intake.name}: {subject.show(depth, Kind.LENGTH)} under the level, "
                f"{subject.show(needed, Kind.LENGTH)} keeps a vortex away{screen_note}"
            )
            if intake.kind == IntakeKind.BELL_MOUTH:
                text = f"{text}; {THROAT}"
            severity = Severity.NOTE if intake.screen is not None else Severity.CAUTION
            yield Hit(severity, intake.name, entry.key, depth, needed, Kind.LENGTH, text)


def depths(subject: Subject, entry: Entry, intake: Intake) -> tuple[float, float]:
    """How deep an intake lies, and how deep it would have to lie so that no vortex draws air in [m]."""
    tank = subject.layout.reservoirs[intake.reservoir]
    depth = reservoirs.level(tank, subject.solution.level) - intake.at[1].si
    return depth, least_cover(intake, entry.bore, entry.velocity)


def least_cover(intake: Intake, bore: float, velocity: float) -> float:
    """How deep an intake has to lie so that no vortex draws air in [m], by bore [m] and velocity [m/s]."""
    law = flow.bell_submergence if intake.kind == IntakeKind.BELL_MOUTH else flow.submergence
    return law.scalar(bore, velocity)


def floor_clearance(subject: Subject) -> Iterator[Hit]:
    """An intake so near the floor that it chokes and draws sediment."""
    for entry, _, intake in subject.intakes:
        clear, bores = clearance(subject, intake)
        needed = bores * entry.bore
        if clear < needed * (1 - 1e-9):
            text = (
                f"{intake.name}: {subject.show(clear, Kind.LENGTH)} above the floor, "
                f"under {bores:g} bores ({subject.show(needed, Kind.LENGTH)})"
            )
            yield Hit(Severity.CAUTION, intake.name, entry.key, clear, needed, Kind.LENGTH, text)


def clearance(subject: Subject, intake: Intake) -> tuple[float, float]:
    """How far an intake stands above the floor [m], and how many bores it should."""
    criteria = subject.criteria
    bores = (
        criteria.floor_clearance_plain if intake.kind == IntakeKind.PLAIN_END else criteria.floor_clearance
    )
    floor = reservoirs.floor_under(subject.layout.reservoirs[intake.reservoir], intake.at[0].si)
    return intake.at[1].si - floor, bores


def trapped_high_point(subject: Subject) -> Iterator[Hit]:
    """A summit in the line where air gathers, as it can go neither back to the tank nor on to the pump."""
    for entry, row, fall in high_points(subject):
        threshold = row.bore / 2
        froude = entry.velocity / math.sqrt(flow.GRAVITY * row.bore)
        swept = froude >= subject.criteria.clearing_froude
        then = (
            "full flow should sweep it on, a start may not"
            if swept
            else "the flow is too slow to sweep it on"
        )
        drop = subject.show(fall, Kind.LENGTH)
        advice = (
            f"Take the fall of {drop} out: let the line rise all the way to the pump, or fall all the way "
            "from the reservoir."
        )
        text = f"{row.part}: the line falls {drop} after a high point, which traps air; {then}"
        yield Hit(
            Severity.NOTE if swept else Severity.CAUTION,
            row.part,
            row.key,
            fall,
            threshold,
            Kind.LENGTH,
            text,
            advice,
        )


def high_points(subject: Subject) -> Iterator[tuple[Entry, Row, float]]:
    """The high points of all lines to a pump, each with how far its line falls after it [m]."""
    elements, way = subject.walk
    yield from ((elements[place], way.rows[place], fall) for place, fall in way.high_points)
    tops = [_highest(way.rows[place]) for place, _ in way.high_points]
    for line in lines_beside(subject.solution, subject.pump.name):
        elements, way = way_of(subject.solution.network, line.entries)
        for place, fall in way.high_points:
            if elements[place].key in line.own and not _goes_on(way, elements, line, place, tops):
                yield elements[place], way.rows[place], fall


def _highest(row: Row) -> float:
    return max(z for _, z in row.path)


def _goes_on(
    way: Way, elements: Sequence[Entry], line: LineBeside, place: int, tops: Sequence[float]
) -> bool:
    """Whether a high point of a line beside is level with, and leads to, one of the walk [m]."""
    top = _highest(way.rows[place])
    rest = [row for row, entry in zip(way.rows, elements, strict=True) if entry.key in line.own]
    level = all(z >= top - SAME for row in rest[rest.index(way.rows[place]) + 1 :] for _, z in row.path)
    return level and any(abs(each - top) < SAME for each in tops)


def straight_before_port(subject: Subject) -> Iterator[Hit]:
    """A port that draws from disturbed flow."""
    (length, bore), needed = straight_bores(subject), subject.criteria.straight_before_port
    if length < needed * (1 - 1e-9):
        straight = f"{length:.1f} bores of straight pipe" if length >= 0.05 else "no straight pipe"
        text = f"{subject.pump.name}: {straight} before the port, under {needed:g} bores"
        whole, more = (subject.show(each * bore, Kind.LENGTH) for each in (needed, needed - length))
        advice = f"Leave {whole} straight before the port, {more} more than now, or turn the last bend away."
        port = subject.port.key
        yield Hit(Severity.CAUTION, subject.pump.name, port, length, needed, Kind.NUMBER, text, advice)


def straight_bores(subject: Subject) -> tuple[float, float]:
    """Straight line before the port, in its bores; reducers do not end it.

    With it the bore of the last straight, which a pump that is set away would lengthen [m].
    """
    length, bore = 0.0, 0.0
    for entry, row in reversed(subject.line):
        if row.kind == RowKind.STRAIGHT:
            length += entry.length / row.bore
            bore = bore or row.bore
        elif row.kind != RowKind.BORE_CHANGE and not _is_reducer(subject, row):
            break
    return length, bore or subject.port.bore


def _is_reducer(subject: Subject, row: Row) -> bool:
    part = subject.layout.fittings.get(row.part)
    return part is not None and part.kind in REDUCER_KINDS


def bore_under_port(subject: Subject) -> Iterator[Hit]:
    """A line narrower than the port it feeds."""
    if subject.way.narrowest is None:
        return
    entry, row = subject.line[subject.way.narrowest]
    if row.bore < subject.port.bore * (1 - subject.criteria.bore_tolerance):
        text = (
            f"{row.part}: bore {subject.show(row.bore, Kind.BORE)}, "
            f"under the port's {subject.show(subject.port.bore, Kind.BORE)}"
        )
        yield Hit(Severity.CAUTION, row.part, entry.key, row.bore, subject.port.bore, Kind.BORE, text)


def no_foot_valve(subject: Subject) -> Iterator[Hit]:
    """A lift that drains back when the pump stops, before a pump that cannot draw it up again."""
    lifts = dry_lift_and_allowed(subject)
    if lifts is None:
        return
    stated, (lift, threshold) = subject.pump.dry_lift, lifts
    if lift > threshold:
        why = (
            _not_stated(subject.pump)
            if stated is None
            else f"its maker lets it prime an empty line up to {subject.show(stated.si, Kind.LENGTH)} high"
        )
        if stated is not None and threshold < stated.si:
            left = subject.show(threshold, Kind.LENGTH)
            slow = too_slow(subject.solution, subject.ledger)
            why += (
                ", and it turns slower than that asks"
                if slow
                else f", of which its site and fluid leave {left}"
            )
        text = (
            f"{subject.pump.name}: the top of the line rises {subject.show(lift, Kind.LENGTH)} above the "
            f"level with no foot valve, and {why}"
        )
        down = subject.show(lift - threshold, Kind.LENGTH)
        advice = f"Set a foot valve, bring the line down by {down}, or fill it before every start."
        if stated is None and subject.pump.type in PRIMES_DRY:
            advice = f"Ask its maker, and type the height up to which it primes. {advice}"
        port = subject.port.key
        yield Hit(Severity.CAUTION, subject.pump.name, port, lift, threshold, Kind.LENGTH, text, advice)


def dry_lift_and_allowed(subject: Subject) -> tuple[float, float] | None:
    """How far the top of a line's bore rises above the level, and what its pump draws dry [m]; None where it
    is held full."""
    if held_full(subject.layout, subject.pump.name, subject.solution.network.joined):
        return None
    threshold = dry_lift(subject.solution, subject.ledger) or 0.0
    top = max(subject.way.crown, subject.port.z + subject.port.bore / 2)
    lifts = [top - subject.ledger.fluid_level, *_lifts_beside(subject)]
    return max(lifts), threshold


def _not_stated(pump: Pump) -> str:
    if pump.type in PRIMES_DRY:
        return f"its maker states no height up to which this {pump.type} pump draws an empty line full"
    return f"a {pump.type} pump does not prime itself dry"


def _lifts_beside(subject: Subject) -> Iterator[float]:
    """How far the tops of lines in parallel rise above the level of their own tank [m]."""
    rows, level = subject.solution.network.rows, subject.solution.level
    index = subject.solution.network.index
    for line in lines_beside(subject.solution, subject.pump.name):
        top = max(crown(rows[index[key]]) for key in line.own)
        yield top - reservoirs.level(subject.layout.reservoirs[line.reservoir], level)


def joint_below_atmosphere(subject: Subject) -> Iterator[Hit]:
    """Joints that would draw air where they leak."""
    low = low_joints(subject.solution, subject.ledger.pump, subject.walk)
    if low is None:
        return
    vacuum = subject.ledger.atmosphere - low.lowest.pressure
    many = f"{low.number} joints are" if low.number > 1 else "1 joint is"
    most = "at most " if low.number > 1 else ""
    place = low.lowest.bend or f"at {subject.where(low.lowest.key)}"
    breaks = low.lowest.pressure <= subject.ledger.vapor_pressure
    far = "and the column breaks" if breaks else f"{most}{subject.show_below_atmosphere(low.lowest.pressure)}"
    text = f"{subject.pump.name}: {many} under vacuum{_at_bends(low)}, {far} {place}"
    yield Hit(Severity.NOTE, low.lowest.part, low.lowest.key, vacuum, 0.0, Kind.VACUUM, text)


def _at_bends(low: LowJoints) -> str:
    """How many of some joints are at bends, and how these are taken to be made, in words."""
    if not low.at_bends:
        return ""
    number = f"{low.at_bends} of them " if low.number > 1 else ""
    if low.bend_kinds <= {*THREADED}:
        return f", {number}at {'a threaded elbow' if low.at_bends == 1 else 'threaded elbows'}"
    where = "a bend" if low.at_bends == 1 else "bends"
    return f", {number}at {where}" + (
        "" if low.bend_kinds.isdisjoint(PERHAPS_BENT) else " (unless bent in one piece)"
    )


def transitional_flow(subject: Subject) -> Iterator[Hit]:
    """A loss that counts, where nobody can say how large it is."""
    entries = (*subject.elements, *subject.ledger.parallel_entries)
    # First by what they take: of a long line few do, and every case of a drag is looked at.
    least = subject.criteria.transitional_share * subject.ledger.budget * (1 - 1e-9)
    dear = [entry for entry in entries if entry.loss >= least]
    for entry in dear:
        if not entry.transitional:
            continue
        share = subject.share(entry.loss)
        if share is not None and share > subject.criteria.transitional_share:
            text = (
                f"{subject.where(entry.key)}: Reynolds number {entry.reynolds:.0f} is transitional "
                f"and the element takes {share:.0%} of the budget"
            ).replace("%", " %")
            yield Hit(
                Severity.NOTE,
                entry.part,
                entry.key,
                share,
                subject.criteria.transitional_share,
                Kind.SHARE,
                text,
            )
