"""What to try against a finding, in the figures of its ledger: what a missing figure may come to, and where.

What needs the drawing solved with a change made is worked out elsewhere; a finding of which nothing can be
said in figures has no advice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from operator import attrgetter

from solver.findings import isolating
from solver.findings.criteria import Criteria, Finding, Subject, subjects
from solver.findings.in_wall import UNNAMED, line_parts
from solver.findings.kinds import FindingId, Severity
from solver.formulas import flow as formulas
from solver.geometry.outline import bore, nominal, runs_by_end
from solver.layout.kinds import FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake
from solver.ledger.joints import joints
from solver.ledger.rounding import shown_pressure
from solver.ledger.sentences import left, sentence_of_pump, shortage, trouble
from solver.ledger.solve import Solution
from solver.network.coefficients import fitting_k
from solver.quantities.adding import gained
from solver.quantities.units import Kind, System, unit

COMMON_AIR = 0.09
"""Bunsen coefficient of air in mineral oil; common practice, no source."""

MOST_JOINTS = 3
"""Joints that are named, those of the largest vacuum."""

Words = Callable[[Subject, Finding, str], str]
"""Advice from a pump's ledger, a finding, and when it holds: "here", "in the case cold morning"."""


def worded(
    solution: Solution, findings: Iterable[Finding], criteria: Criteria, system: System, when: str = "here"
) -> tuple[Finding, ...]:
    """The findings of a solution, those that have none yet with their advice in figures."""
    if not (findings := tuple(findings)):
        return ()
    every = sorted(subjects(solution, criteria, system), key=lambda each: each.ledger.margin)
    return tuple(
        replace(each, advice=IN_FIGURES[each.finding](subject, each, when))
        if not each.advice and each.finding in IN_FIGURES and (subject := _of(each, every)) is not None
        else each
        for each in findings
    )


def _of(finding: Finding, every: list[Subject]) -> Subject | None:
    """The pump that a finding is about, or of those that it concerns the one with the least margin."""
    return next((each for each in every if _concerns(finding, each)), every[0] if every else None)


def _concerns(finding: Finding, subject: Subject) -> bool:
    parts = {entry.part for entry, _ in subject.everywhere}
    return finding.part in {subject.pump.name, subject.ledger.reservoir, *parts}


def _most_asked(subject: Subject, when: str) -> str:
    """Up to which figure of its maker's a pump is within."""
    ledger = subject.ledger
    if ledger.breaks:
        return f"no figure helps {when}, for {trouble(ledger, subject.system)}"
    at_port = shown_pressure(ledger.inlet, ledger, subject.system)
    asked, more = subject.show(at_port, Kind.ABSOLUTE), ledger.margin
    kind = Kind.VACUUM
    if ledger.npsh_required is not None:
        asked = f"{subject.show(ledger.npsh_available, Kind.HEAD)} of NPSH"
        more, kind = ledger.npsh_available - ledger.npsh_required, Kind.HEAD
    differs = f"{subject.show(abs(more), kind)} {'more' if more >= 0 else 'less'} than is counted"
    only = "as long as" if ledger.within else "only if"
    return f"{ledger.pump} is within {only} that is no more than {asked} at the port {when}, {differs}"


def _limit_assumed(subject: Subject, finding: Finding, when: str) -> str:
    return f"Type the limit from the pump maker's sheet: {_most_asked(subject, when)}."


def _limit_estimated(subject: Subject, finding: Finding, when: str) -> str:
    return f"Ask the pump maker for the limit on this fluid at this speed: {_most_asked(subject, when)}."


def _limit_of_another_fluid(subject: Subject, finding: Finding, when: str) -> str:
    return (
        "Ask the pump maker for the limit with this fluid, and enter it as a limit for this fluid: "
        f"{_most_asked(subject, when)}."
    )


def _loss_at_least(subject: Subject, finding: Finding, when: str) -> str:
    ledger, charged = subject.ledger, subject.show(finding.value or 0.0, Kind.VACUUM)
    if not ledger.sound:
        worse = f"{sentence_of_pump(ledger, subject.system)} {when} with the {charged} charged"
        return f"Ask its maker for the missing figure and type it: {worse}, and can only be worse off."
    more = subject.show(ledger.margin, Kind.VACUUM)
    return (
        f"Ask its maker for the missing figure and type it: {when} it may take {more} more than the "
        f"{charged} charged before {ledger.pump} is over."
    )


def _not_judged_for_boiling(subject: Subject, finding: Finding, when: str) -> str:
    pressure, key = subject.lowest
    lowest, warned = (
        subject.show(each, Kind.ABSOLUTE) for each in (pressure, pressure - subject.criteria.vapor_margin)
    )
    return (
        f"Type the vapour pressure from the supplier's sheet, at the hottest the fluid gets: over {lowest}, "
        f"the lowest on the way {when} ({subject.where(key)}), the column of fluid breaks; from {warned} on "
        "it is near."
    )


def _not_judged_for_air(subject: Subject, finding: Finding, when: str) -> str:
    pressure, key = subject.lowest
    fluid = subject.solution.fluid
    if pressure <= fluid.vapor_pressure:
        return ""
    given = COMMON_AIR, subject.ledger.surface, pressure, fluid.vapor_pressure, fluid.temperature
    share = formulas.free_air.scalar(*given)
    return (
        f"Type the dissolved air (Bunsen coefficient): with {COMMON_AIR:g}, common for mineral oil, up to "
        f"{share:.1%} would come out {when} at {subject.where(key)}."
    ).replace("%", " %")


def _joint_below_atmosphere(subject: Subject, finding: Finding, when: str) -> str:
    air = subject.ledger.atmosphere
    low = [each for each in joints(subject.solution, subject.ledger.pump) if each.pressure < air]
    if len(low) < 2:
        return ""
    vapor = subject.ledger.vapor_pressure
    lowest = sorted(low, key=attrgetter("pressure"))[:MOST_JOINTS]
    figures = [
        "breaks" if each.pressure <= vapor else subject.show_below_atmosphere(each.pressure)
        for each in lowest
    ]
    named = [f"{each.name} ({figure})" for each, figure in zip(lowest, figures, strict=True)]
    others = ", then at the others" if len(low) > MOST_JOINTS else ""
    return f"When the pump foams, look at the joints in this order: {', '.join(named)}{others}."


def _too_quick(subject: Subject, finding: Finding, when: str) -> str:
    now, least = finding.value or 0.0, finding.threshold or 0.0
    whole, more = (subject.show(each, Kind.TIME) for each in (least, least - now))
    return (
        f"Let the flow of {subject.pump.name} rise in {whole} or more, {more} longer than now, or have the "
        "line calculated with pressure waves."
    )


def _pump_at_rest(subject: Subject, finding: Finding, when: str) -> str:
    port = subject.solution.resting.get(finding.part)
    if port is None or finding.severity == Severity.NOTE:
        return ""
    drains = subject.show(port.z - port.fluid_level, Kind.LENGTH)
    vacuum = subject.show(port.vacuum, Kind.VACUUM)
    what = f"the {drains} of line above the level drain back once all stop"
    if port.z <= port.fluid_level:
        what = f"{vacuum} draw at its shaft seal {when}"
    return f"Set a check valve in the leg of {port.pump}, or a foot valve at the intake: without one {what}."


def _beyond_the_points(subject: Subject, finding: Finding, when: str) -> str:
    flow, last = finding.value or 0.0, finding.threshold or 0.0
    loss = subject.show(subject.entry(finding.key).loss, Kind.VACUUM)
    past = f"{flow / last - 1:.0%} past the last".replace("%", " %")
    return (
        f"Ask the maker of {finding.part} for a point at {subject.show(flow, Kind.FLOW)}, {past}: {loss} are "
        f"counted for it {when}, with which {sentence_of_pump(subject.ledger, subject.system)}."
    )


def _no_isolating_valve(subject: Subject, finding: Finding, when: str) -> str:
    layout, pump = subject.layout, finding.part
    every = [
        each for each in isolating.flooding(layout, pump, subject.solution.network.joined) if each.unshut
    ]
    intakes = [layout.intakes[name] for each in every for name in each.unshut]
    places = [
        f"right behind {each.name}, outside the wall of {each.reservoir}"
        if each.kind == IntakeKind.WALL_NOZZLE
        else f"in the line from {each.name}, where it has left {each.reservoir}"
        for each in intakes
    ]
    losses = [loss for each in intakes if (loss := _of_a_ball_valve(subject, each)) is not None]
    takes = (
        f" A ball valve there takes about {subject.show(max(losses), Kind.VACUUM)} {when}." if losses else ""
    )
    amounts = " and ".join(f"{subject.show(each.volume, Kind.VOLUME)} of {each.reservoir}" for each in every)
    names = dict.fromkeys(row.part for _, row in subject.others)
    devices = [
        part.name for part in line_parts(subject, names) if isinstance(part, Fitting) and part.kind in UNNAMED
    ]
    drawn = f" If {' or '.join(devices)} is such a valve, give it the kind of a valve." if devices else ""
    return (
        f"Set an isolating valve {' and '.join(places)}, within reach, and lock it open or let a position "
        f"switch on it hold the drive off.{takes} Without one up to {amounts} must be drained before {pump} "
        f"is opened.{drawn}"
    )


def _of_a_ball_valve(subject: Subject, intake: Intake) -> float | None:
    """What a ball valve, full open, takes right behind an intake [Pa]; None without flow there."""
    run = next(iter(runs_by_end(subject.layout).get(intake.name, ())), None)
    entry = next((each for each in subject.pipes if run is not None and each.part == run.name), None)
    if run is None or entry is None or not entry.reynolds:
        return None
    k = fitting_k(FittingKind.BALL_VALVE, nominal(run), bore(run))
    q = formulas.velocity_pressure.scalar(subject.ledger.density, entry.velocity)
    return formulas.fitting_coefficient.scalar(k.k_inf, k.k_re, entry.reynolds) * q


def _barometer_against_elevation(subject: Subject, finding: Finding, when: str) -> str:
    shown, standard = finding.value or 0.0, finding.threshold or 0.0
    air = subject.show(standard, Kind.ABSOLUTE)
    more = gained(shown, standard, Kind.ABSOLUTE, subject.system)
    return (
        "Read the barometer on the spot, or give an altimeter setting with the elevation instead: with "
        f"{air} there {_with_other_air(subject, more, when)}."
    )


def _no_weather_allowance(subject: Subject, finding: Finding, when: str) -> str:
    low, nothing = finding.threshold or 0.0, f"0 {unit(Kind.VACUUM, subject.system)}"
    return (
        f"State a weather allowance for the site: with {subject.show(low, Kind.VACUUM)} less air "
        f"{_with_other_air(subject, -low, when)}; state {nothing} where none is wanted."
    )


def _with_other_air(subject: Subject, more: float, when: str) -> str:
    """How a pump stands with more air pressure than is counted [Pa], in figures that add up as shown."""
    ledger, system = subject.ledger, subject.system
    if subject.lowest[0] + more <= ledger.vapor_pressure:
        return f"the column of fluid to {ledger.pump} breaks {when}"
    then = replace(
        ledger,
        budget=ledger.budget + more,
        margin=ledger.margin + more,
        npsh_available=ledger.npsh_available + more / formulas.static_lift.scalar(ledger.density, 1.0),
    )
    as_read = replace(then, margin=gained(-more, ledger.margin, Kind.VACUUM, system))
    as_said = as_read if as_read.within == then.within else then  # rounding clears no pump
    stands = f"has {left(as_said, system)}" if as_said.within else f"is {shortage(as_said, system)}"
    return f"{ledger.pump} {stands} {when}"


IN_FIGURES: Mapping[FindingId, Words] = {
    FindingId.LIMIT_ASSUMED: _limit_assumed,
    FindingId.LIMIT_ESTIMATED: _limit_estimated,
    FindingId.FLUID_FAMILY: _limit_of_another_fluid,
    FindingId.LOSS_AT_LEAST: _loss_at_least,
    FindingId.NOT_JUDGED_FOR_BOILING: _not_judged_for_boiling,
    FindingId.NOT_JUDGED_FOR_AIR: _not_judged_for_air,
    FindingId.JOINT_BELOW_ATMOSPHERE: _joint_below_atmosphere,
    FindingId.TOO_QUICK: _too_quick,
    FindingId.PUMP_AT_REST: _pump_at_rest,
    FindingId.BEYOND_THE_POINTS: _beyond_the_points,
    FindingId.NO_ISOLATING_VALVE: _no_isolating_valve,
    FindingId.BAROMETER_AGAINST_ELEVATION: _barometer_against_elevation,
    FindingId.NO_WEATHER_ALLOWANCE: _no_weather_allowance,
}
"""By finding, its words."""
