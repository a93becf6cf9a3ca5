"""Checks of a pump against its budget, its fluid and its strainer, one small function each."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from solver.findings.criteria import Case, Hit, percent
from solver.findings.kinds import Severity
from solver.formulas import flow as formulas
from solver.layout.parts import Fitting, Intake, Screen
from solver.ledger.solve import Entry, shortage
from solver.network import losses
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.properties import fluid
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind
from solver.quantities.wording import ASK_THE_MAKER, allowance, broken, compared, degrees


def over_the_limit(case: Case) -> Iterator[Hit]:
    """More spent than there is to spend."""
    ledger = case.ledger
    if ledger.within:
        return
    value, limit, kind = ledger.vacuum, ledger.allowed_vacuum, Kind.VACUUM
    if not math.isnan(ledger.npsh_required):
        value, limit, kind = ledger.npsh_available, ledger.npsh_required, Kind.HEAD
    numbers = f" ({compared(value, limit, case.system)})"
    if kind is Kind.HEAD:
        numbers = f" ({case.show(value, kind)} of NPSH, {case.show(limit, kind)} required)"
    if ledger.breaks and ledger.budget > 0:
        numbers = f" ({allowance(ledger.allowed_vacuum, case.system)})"
    numbers = numbers[:-1] + ("; limit estimated)" if ledger.limit_estimated else ")")
    text = f"{ledger.pump}: {shortage(ledger, case.system)}{numbers}"
    yield _at_port(case, Severity.STOP, value, limit, kind, text)


def thin_margin(case: Case) -> Iterator[Hit]:
    """Little left for wear, dirt and a colder day."""
    left = case.share(case.ledger.margin)
    if 0 <= left < case.criteria.thin_margin:
        limit = case.criteria.thin_margin
        text = f"{case.ledger.pump}: {percent(left)} of the budget is left, under {percent(limit)}"
        yield _at_port(case, Severity.CAUTION, left, limit, Kind.SHARE, text)


def limit_estimated(case: Case) -> Iterator[Hit]:
    """A floor that is not the maker's own."""
    ledger = case.ledger
    if not ledger.limit_estimated:
        return
    steps = [line.name for line in ledger.floor_lines if line.estimated]
    how = " and ".join(steps) or ledger.floor_lines[0].note
    floor = case.show(ledger.floor, Kind.ABSOLUTE)
    maker = ledger.floor_lines[0].total
    text = (
        f"{ledger.pump}: the floor of {floor} is an estimate ({how}), "
        f"from the maker's {case.show(maker, Kind.ABSOLUTE)}"
    )
    severity = Severity.NOTE
    if not ledger.limit_reaches:
        severity = Severity.CAUTION
        text += f"; no estimate reaches {case.show(ledger.speed, Kind.SPEED)}: {ASK_THE_MAKER}"
    yield _at_port(case, severity, ledger.floor, maker, Kind.ABSOLUTE, text)


def near_vapor_pressure(case: Case) -> Iterator[Hit]:
    """Somewhere on the way the fluid is close to boiling."""
    (pressure, key), vapor = case.lowest, case.solution.fluid.vapor_pressure
    limit = vapor + case.criteria.vapor_margin
    if pressure >= limit:
        return
    severity = Severity.STOP if pressure <= vapor else Severity.CAUTION
    text = f"the column of fluid breaks at {case.where(key)}: {broken(pressure, vapor, case.system)}"
    if severity == Severity.CAUTION:
        lowest, boils = case.show(pressure, Kind.ABSOLUTE), case.show(vapor, Kind.ABSOLUTE)
        text = f"{lowest} at {case.where(key)}, where the fluid boils at {boils}"
    yield Hit(severity, case.entry(key).part, key, pressure, limit, Kind.ABSOLUTE, text)


def free_air(case: Case) -> Iterator[Hit]:
    """Dissolved air may come out as bubbles."""
    pressure, key = case.lowest
    if pressure <= 0:
        return
    share = formulas.free_air.scalar(case.solution.fluid.dissolved_air, case.ledger.surface, pressure)
    if share <= case.criteria.free_air:
        return
    text = (
        f"up to {share:.1%} of free air at {case.where(key)} "
        f"if all the excess came out (an upper bound), over {case.criteria.free_air:.1%}"
    ).replace("%", " %")
    yield Hit(Severity.NOTE, case.entry(key).part, key, share, case.criteria.free_air, Kind.SHARE, text)


def start_viscosity(case: Case) -> Iterator[Hit]:
    """Too thick to fill the pump at the coldest start."""
    coldest = case.layout.fluid.coldest_start
    if coldest is None or case.layout.fluid.has_one_viscosity:
        return
    try:
        thickest = fluid.state(case.layout.fluid, coldest.si).viscosity
    except FluidError:
        return
    maker = case.pump.start_viscosity
    limit = maker.si if maker is not None else _start_limit(case)
    if thickest <= limit:
        return
    whose = "the pump's start limit" if maker is not None else "the usual start limit of its type"
    text = (
        f"{case.pump.name}: {case.show(thickest, Kind.VISCOSITY)} "
        f"at {degrees(coldest.si, case.system)}, over {whose} of {case.show(limit, Kind.VISCOSITY)}"
    )
    yield _at_port(
        case, Severity.CAUTION if maker is None else Severity.STOP, thickest, limit, Kind.VISCOSITY, text
    )


def _start_limit(case: Case) -> float:
    if case.pump.type == "centrifugal":
        return math.inf
    return (
        case.criteria.start_viscosity_vane
        if case.pump.type == "vane"
        else case.criteria.start_viscosity_other
    )


def start_beyond_data(case: Case) -> Iterator[Hit]:
    """The coldest start lies outside what is known of the fluid."""
    coldest = case.layout.fluid.coldest_start
    if coldest is None:
        return
    start = case.solution.cold_start
    refusal = start.refused(case.system) if start is not None else ""
    try:
        fluid.state(case.layout.fluid, coldest.si)
    except FluidError as error:
        refusal = error.told(case.system)
    if refusal:
        text = f"the coldest start cannot be judged: {refusal}"
        yield _at_port(case, Severity.CAUTION, coldest.si, math.nan, Kind.TEMPERATURE, text)


def running_viscosity(case: Case) -> Iterator[Hit]:
    """Too thin to seal and lubricate the pump."""
    viscosity, limit = case.solution.fluid.viscosity, case.criteria.running_viscosity
    if case.pump.type == "centrifugal" or viscosity >= limit:
        return
    text = (
        f"{case.pump.name}: {case.show(viscosity, Kind.VISCOSITY)} at working temperature, "
        f"under the usual running limit of {case.show(limit, Kind.VISCOSITY)}"
    )
    yield _at_port(case, Severity.CAUTION, viscosity, limit, Kind.VISCOSITY, text)


def strainer_drop(case: Case) -> Iterator[Hit]:
    """A strainer that costs too much even when clean."""
    for entry, row, screen in _screens(case):
        share = case.share(_clean_drop(case, row, screen, entry.flow))
        if share > case.criteria.strainer_share:
            text = (
                f"{row.part}: clean, its drop takes {percent(share)} of the budget, "
                f"over {percent(case.criteria.strainer_share)}"
            )
            yield Hit(
                Severity.CAUTION, row.part, row.key, share, case.criteria.strainer_share, Kind.SHARE, text
            )


def strainer_at_cold_start(case: Case) -> Iterator[Hit]:
    """A strainer that would starve the pump on cold fluid, with no bypass to relieve it."""
    coldest = case.layout.fluid.coldest_start
    if coldest is None:
        return
    try:
        cold = fluid.state(case.layout.fluid, coldest.si)
    except FluidError:
        return
    for entry, row, screen in _screens(case):
        drop = _screen_drop(row, entry.flow, cold.density, cold.viscosity)
        if screen.bypass is None and drop > case.criteria.bypass_opening:
            text = (
                f"{row.part}: {case.show(drop, Kind.VACUUM)} at a start at "
                f"{degrees(coldest.si, case.system)} and no bypass; "
                f"bypasses open at {case.show(case.criteria.bypass_opening, Kind.VACUUM)}"
            )
            yield Hit(
                Severity.CAUTION, row.part, row.key, drop, case.criteria.bypass_opening, Kind.VACUUM, text
            )


def bypass_open(case: Case) -> Iterator[Hit]:
    """Fluid passes the strainer unstrained."""
    state = case.solution.fluid
    for entry, row, _ in _screens(case):
        drop = _screen_drop(row, entry.flow, state.density, state.viscosity)
        if drop > row.cap:
            text = (
                f"{row.part}: its bypass is open; it opens at {case.show(row.cap, Kind.VACUUM)} "
                f"and the screen alone would take {case.show(drop, Kind.VACUUM)}"
            )
            yield Hit(Severity.CAUTION, row.part, row.key, drop, row.cap, Kind.VACUUM, text)


def _screens(case: Case) -> Iterator[tuple[Entry, Row, Screen]]:
    for entry, row in case.everywhere:
        if row.kind == RowKind.SCREEN:
            part = case.layout.part(row.part)
            if isinstance(part, Intake | Fitting) and part.screen is not None:
                yield entry, row, part.screen


def _screen_drop(row: Row, flow: float, density: float, viscosity: float) -> float:
    """Drop of the screen itself, whatever its bypass does [Pa]."""
    return row.viscous * density * viscosity * abs(flow) + row.inertial * density * flow * flow


def _clean_drop(case: Case, row: Row, screen: Screen, flow: float) -> float:
    if screen.blocked:
        clean = losses.screen(dataclasses.replace(screen, blocked=0.0), row.bore)
        row = dataclasses.replace(row, viscous=clean.viscous, inertial=clean.inertial)
    return _screen_drop(row, flow, case.solution.fluid.density, case.solution.fluid.viscosity)


def _at_port(case: Case, severity: Severity, value: float, limit: float, kind: Kind, text: str) -> Hit:
    return Hit(severity, case.ledger.pump, case.port.key, value, limit, kind, text)
