"""Checks of a pump against its budget, its fluid and its strainer, one small function each."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from solver.findings.criteria import Criteria, Hit, Subject, percent_and_limit
from solver.findings.kinds import Severity
from solver.formulas import flow as formulas
from solver.layout.kinds import FOR_WATER, LimitForm, PumpType
from solver.layout.parts import Pump, Screen
from solver.ledger.rounding import allowed_figure, shown_pressure
from solver.ledger.sentences import against_limit, figure_and_limit, out_of_reach, shortage
from solver.ledger.solve import Entry, Solution
from solver.network import screens
from solver.network.build import Row
from solver.network.line_fluid import at_intakes
from solver.properties.fluid import FluidState
from solver.quantities.units import Kind
from solver.quantities.wording import ASK_THE_MAKER, allowance, broken, degrees


def over_the_limit(subject: Subject) -> Iterator[Hit]:
    """More spent than there is to spend."""
    ledger = subject.ledger
    if ledger.within:
        return
    value, threshold, kind = figure_and_limit(ledger)
    numbers = against_limit(ledger, subject.system)
    if ledger.breaks:  # no gauge shows what no fluid can have
        numbers = allowance(allowed_figure(ledger, subject.system), subject.system)
    estimated = "; limit estimated" if ledger.limit_estimated else ""
    text = f"{ledger.pump}: {shortage(ledger, subject.system)} ({numbers}{estimated})"
    yield _at_port(subject, Severity.STOP, value, threshold, kind, text)


def thin_margin(subject: Subject) -> Iterator[Hit]:
    """Little left for wear, dirt and a worse day: a small share of the budget, or few pascals."""
    ledger, criteria = subject.ledger, subject.criteria
    left = subject.share(ledger.margin)
    if left is not None and 0 <= left < criteria.thin_margin:
        threshold = criteria.thin_margin
        left_shown, least = percent_and_limit(left, threshold)
        text = f"{ledger.pump}: {left_shown} of the budget is left, under {least}"
        yield _at_port(subject, Severity.CAUTION, left, threshold, Kind.SHARE, text)
    elif 0 <= ledger.margin < criteria.thin_pressure:
        threshold = criteria.thin_pressure
        left_shown, least = (subject.show(each, Kind.VACUUM) for each in (ledger.margin, threshold))
        amount = (
            f"{left_shown} is left, under {least}" if left_shown != least else f"just under {least} is left"
        )
        text = f"{ledger.pump}: {amount}"
        yield _at_port(subject, Severity.CAUTION, ledger.margin, threshold, Kind.VACUUM, text)


def limit_assumed(subject: Subject) -> Iterator[Hit]:
    """A limit that came with the pump from the shelf, and that no maker has stated."""
    ledger = subject.ledger
    if subject.pump.limit_assumed:
        figure = ledger.floor_lines[0].total
        text = (
            f"{ledger.pump}: its limit, {subject.show(figure, Kind.ABSOLUTE)} at the port, is assumed: "
            "no maker has stated it"
        )
        yield _at_port(subject, Severity.CAUTION, figure, None, Kind.ABSOLUTE, text)


LEAST_USUAL, LEAST_OF_WATER, LEAST_NPSH = 40e3, 20e3, 1.0
"""Absolute pressure at the port under which the limit of a pump for oil is doubted, and of one for water
[Pa]; NPSH required [m] under which that of a positive-displacement pump is. Common practice, no source:
makers of pumps for oil ask for 0.5 to 1 bar, and no positive-displacement pump gets by with less than 1 m."""


def limit_doubtful(subject: Subject) -> Iterator[Hit]:
    """A maker's limit so low that another form or unit of it may be meant."""
    pump, maker = subject.pump, subject.ledger.floor_lines[0].total
    if pump.limit.form == LimitForm.NPSH:
        yield from _npsh_doubtful(subject)
        return
    of_water = pump.type in FOR_WATER
    threshold = LEAST_OF_WATER if of_water else LEAST_USUAL
    if maker >= threshold:
        return
    least, figure, other = (
        subject.show(each, Kind.ABSOLUTE) for each in (threshold, maker, formulas.SEA_LEVEL - maker)
    )
    sheet = f"a vacuum of {subject.show(maker, Kind.VACUUM)}"
    if pump.limit.form == LimitForm.VACUUM:
        sheet = f"an absolute pressure of {subject.show(formulas.SEA_LEVEL - maker, Kind.VACUUM)}"
    text = (
        f"{pump.name}: its limit is {figure} at the port, under the {least} that pumps for "
        f"{'water' if of_water else 'oil'} ask for"
    )
    advice = f"Check whether the maker's sheet means {sheet}: then the limit is {other}."
    if pump.limit.form == LimitForm.PRESSURE:
        advice += " Or whether it is in bar: typed without a unit, a figure has the unit of the field."
    yield _at_port(subject, Severity.CAUTION, maker, threshold, Kind.ABSOLUTE, text)._replace(advice=advice)


def _npsh_doubtful(subject: Subject) -> Iterator[Hit]:
    pump, required = subject.pump, subject.ledger.npsh_required
    if pump.type == PumpType.CENTRIFUGAL or required is None or required >= LEAST_NPSH:
        return
    least, figure = (subject.show(each, Kind.HEAD) for each in (LEAST_NPSH, required))
    text = (
        f"{pump.name}: its NPSH required is {figure}, under the {least} that positive-displacement pumps "
        "ask for"
    )
    advice = (
        f"Check whether the maker's sheet means {figure} of NPSH: a least pressure in bar or a suction lift "
        "is another figure, and a least pressure has a field of its own."
    )
    yield _at_port(subject, Severity.CAUTION, required, LEAST_NPSH, Kind.HEAD, text)._replace(advice=advice)


def limit_estimated(subject: Subject) -> Iterator[Hit]:
    """A floor that is not the maker's own."""
    ledger = subject.ledger
    if not ledger.limit_estimated:
        return
    steps = [line.name for line in ledger.floor_lines if line.estimated]
    how = " and ".join(steps) or ledger.floor_lines[0].note
    floor = subject.show(ledger.floor, Kind.ABSOLUTE)
    maker = ledger.floor_lines[0].total
    text = (
        f"{ledger.pump}: the least inlet pressure of {floor} is an estimate ({how}), "
        f"from the maker's {subject.show(maker, Kind.ABSOLUTE)}"
    )
    severity = Severity.NOTE
    if not ledger.limit_reaches:
        severity = Severity.CAUTION
        text += f"; {out_of_reach(ledger, subject.system)}: {ASK_THE_MAKER}"
    yield _at_port(subject, severity, ledger.floor, maker, Kind.ABSOLUTE, text)


def near_vapor_pressure(subject: Subject) -> Iterator[Hit]:
    """Somewhere on the way the fluid is close to boiling."""
    (pressure, key), vapor = subject.lowest, subject.solution.fluid.vapor_pressure
    threshold = vapor + subject.criteria.vapor_margin
    if pressure >= threshold:
        return
    severity = Severity.STOP if pressure <= vapor else Severity.CAUTION
    shown = shown_pressure(pressure, subject.ledger, subject.system)
    text = f"the column of fluid breaks at {subject.where(key)}: {broken(shown, vapor, subject.system)}"
    if severity == Severity.CAUTION:
        lowest, boils = subject.show(shown, Kind.ABSOLUTE), subject.show(vapor, Kind.ABSOLUTE)
        text = f"{lowest} at {subject.where(key)}, where the fluid boils at {boils}"
    yield Hit(severity, subject.entry(key).part, key, pressure, threshold, Kind.ABSOLUTE, text)


def free_air(subject: Subject) -> Iterator[Hit]:
    """Dissolved air may come out as bubbles."""
    _, key = subject.lowest
    share = free_air_share(subject)
    if share is None or share <= subject.criteria.free_air:
        return
    text = (
        f"up to {share:.1%} of free air at {subject.where(key)} "
        f"if all the excess came out (an upper bound), over {subject.criteria.free_air:.1%}"
    ).replace("%", " %")
    yield Hit(Severity.NOTE, subject.entry(key).part, key, share, subject.criteria.free_air, Kind.SHARE, text)


def free_air_share(subject: Subject) -> float | None:
    """Volume of free air over that of the fluid, where pressure is lowest; None where the fluid boils."""
    pressure, _ = subject.lowest
    return free_air_at(subject.solution, subject.ledger.surface, pressure)


def free_air_at(solution: Solution, surface: float, pressure: float) -> float | None:
    """Volume of free air over that of the fluid at a pressure under that on its surface [Pa].

    A line may not be as warm as its tank, in which the air was dissolved: the larger of the two counts.
    None under a perfect vacuum, and where the fluid boils.
    """
    line, tank = solution.fluid, solution.tank_fluid
    if pressure <= line.vapor_pressure:
        return None
    dissolved = max(line.dissolved_air, tank.dissolved_air)
    return formulas.free_air.scalar(dissolved, surface, pressure, line.vapor_pressure, line.temperature)


def start_viscosity(subject: Subject) -> Iterator[Hit]:
    """Too thick to fill the pump."""
    thick, maker = thickest(subject.solution), subject.pump.start_viscosity
    threshold = start_limit(subject)
    if thick.viscosity <= threshold:
        return
    whose = "the pump's start limit" if maker is not None else "the usual start limit of its type"
    at = degrees(thick.temperature, subject.system)
    text = (
        f"{subject.pump.name}: {subject.show(thick.viscosity, Kind.VISCOSITY)} at {at}, "
        f"over {whose} of {subject.show(threshold, Kind.VISCOSITY)}"
    )
    severity = Severity.CAUTION if maker is None else Severity.STOP
    yield _at_port(subject, severity, thick.viscosity, threshold, Kind.VISCOSITY, text)


def start_limit(subject: Subject) -> float:
    """The thickest fluid with which a pump may start: its maker's figure, or the usual one of its type
    [m²/s]; infinite for a pump that has none."""
    return start_viscosity_of(subject.pump, subject.criteria)


def start_viscosity_of(pump: Pump, criteria: Criteria) -> float:
    """What a pump's maker states, or what is usual of its type [m²/s]; infinite of a type without one."""
    if pump.start_viscosity is not None:
        return pump.start_viscosity.si
    if pump.type == PumpType.CENTRIFUGAL:
        return math.inf
    return criteria.start_viscosity_vane if pump.type == PumpType.VANE else criteria.start_viscosity_other


def thickest(solution: Solution) -> FluidState:
    """The thicker of what the pump gets in turn: out of the line, then out of the tank."""
    return at_intakes(solution.tank_fluid, solution.fluid)


def thinnest_viscosity(solution: Solution) -> float:
    """Viscosity of the thinner of what the pump gets in turn [m²/s]."""
    return min(solution.tank_fluid.viscosity, solution.fluid.viscosity)


def running_viscosity(subject: Subject) -> Iterator[Hit]:
    """Too thin to seal and lubricate the pump."""
    viscosity, threshold = thinnest_viscosity(subject.solution), subject.criteria.running_viscosity
    if subject.pump.type in FOR_WATER or viscosity >= threshold:
        return
    text = (
        f"{subject.pump.name}: {subject.show(viscosity, Kind.VISCOSITY)} at working temperature, "
        f"under the usual running limit of {subject.show(threshold, Kind.VISCOSITY)}"
    )
    yield _at_port(subject, Severity.CAUTION, viscosity, threshold, Kind.VISCOSITY, text)


def screen_assumed(subject: Subject) -> Iterator[Hit]:
    """A screen whose figures came with it from the shelf."""
    for entry, row, screen in subject.screens:
        if screen.assumed:
            drop = screen_drop(subject, entry, row)
            text = (
                f"{row.part}: the figures of its screen are assumed: no maker has stated them; it takes "
                f"{subject.show(drop, Kind.VACUUM)}"
            )
            advice = (
                f"Type mesh, wire and area of the screen in {row.part}, or the maker's points, and set "
                "Screen is assumed to no."
            )
            hit = Hit(Severity.CAUTION, row.part, row.key, drop, None, Kind.VACUUM, text)
            yield hit._replace(advice=advice)


def strainer_drop(subject: Subject) -> Iterator[Hit]:
    """A strainer that costs too much even when clean."""
    for entry, row, screen in subject.screens:
        share = subject.share(clean_drop(subject, entry, row, screen))
        if share is not None and share > subject.criteria.strainer_share:
            shown, most = percent_and_limit(share, subject.criteria.strainer_share)
            text = f"{row.part}: clean, its drop takes {shown} of the budget, over {most}"
            yield Hit(
                Severity.CAUTION, row.part, row.key, share, subject.criteria.strainer_share, Kind.SHARE, text
            )


def strainer_without_bypass(subject: Subject) -> Iterator[Hit]:
    """A strainer that starves the pump, with no bypass to relieve it."""
    threshold = subject.criteria.bypass_opening
    for entry, row, screen in subject.screens:
        state = subject.solution.fluid_in(row.part)
        drop = screen_drop(subject, entry, row)
        if screen.bypass is None and drop > threshold:
            text = (
                f"{row.part}: {subject.show(drop, Kind.VACUUM)} at "
                f"{degrees(state.temperature, subject.system)} and no bypass; "
                f"bypasses open at {subject.show(threshold, Kind.VACUUM)}"
            )
            yield Hit(Severity.CAUTION, row.part, row.key, drop, threshold, Kind.VACUUM, text)


def bypass_open(subject: Subject) -> Iterator[Hit]:
    """Fluid passes the strainer unstrained."""
    for entry, row, _ in subject.screens:
        drop = screen_drop(subject, entry, row)
        if drop > row.cap:
            text = (
                f"{row.part}: its bypass is open; it opens at {subject.show(row.cap, Kind.VACUUM)} "
                f"and the screen alone would take {subject.show(drop, Kind.VACUUM)}"
            )
            yield Hit(Severity.CAUTION, row.part, row.key, drop, row.cap, Kind.VACUUM, text)


def screen_drop(subject: Subject, entry: Entry, row: Row) -> float:
    """Drop of the screen itself, whatever its bypass does [Pa]."""
    state, flow = subject.solution.fluid_in(row.part), entry.flow
    return (
        row.viscous * state.density * state.viscosity * abs(flow) + row.inertial * state.density * flow * flow
    )


def clean_drop(subject: Subject, entry: Entry, row: Row, screen: Screen) -> float:
    """`screen_drop` with nothing of the screen blocked [Pa]."""
    if screen.blocked:
        clean = screens.screen(dataclasses.replace(screen, blocked=0.0), row.bore)
        row = dataclasses.replace(row, viscous=clean.viscous, inertial=clean.inertial)
    return screen_drop(subject, entry, row)


def _at_port(
    subject: Subject, severity: Severity, value: float, threshold: float | None, kind: Kind, text: str
) -> Hit:
    return Hit(severity, subject.ledger.pump, subject.port.key, value, threshold, kind, text)
