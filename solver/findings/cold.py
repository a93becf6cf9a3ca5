"""Checks of the ledger at the coldest start, one small function each."""

from __future__ import annotations

import math
from collections.abc import Iterator

from solver.findings.criteria import Case, Hit, percent
from solver.findings.kinds import Severity
from solver.ledger.solve import PumpLedger, trouble
from solver.quantities.units import Kind, said
from solver.quantities.wording import compared, degrees


def over_at_cold_start(case: Case) -> Iterator[Hit]:
    """More spent than there is to spend while the fluid is at its coldest."""
    cold = case.solution.cold(case.ledger.pump)
    if cold is None or cold.sound:
        return
    value, limit, kind = cold.vacuum, cold.allowed_vacuum, Kind.VACUUM
    numbers = f" ({compared(value, limit, case.system)})"
    if not math.isnan(cold.npsh_required):
        value, limit, kind = cold.npsh_available, cold.npsh_required, Kind.HEAD
        numbers = f" ({said(value, kind, case.system)} of NPSH, {said(limit, kind, case.system)} required)"
    if cold.limit_estimated:
        numbers = numbers[:-1] + "; limit estimated)"
    if cold.breaks:
        numbers = ""
    text = f"{_start(case)}: {trouble(cold, case.system)}{numbers}"
    yield Hit(Severity.STOP, cold.pump, case.port.key, value, limit, kind, text)


def thin_at_cold_start(case: Case) -> Iterator[Hit]:
    """Little left at the coldest start."""
    cold = case.solution.cold(case.ledger.pump)
    if cold is None or not cold.sound:
        return
    left, limit = _share(cold), case.criteria.thin_margin
    if 0 <= left < limit:
        text = f"{_start(case)}: {percent(left)} of the budget is left, under {percent(limit)}"
        yield Hit(Severity.CAUTION, cold.pump, case.port.key, left, limit, Kind.SHARE, text)


def start_warmer_than_the_fluid(case: Case) -> Iterator[Hit]:
    """A coldest start at which nothing is looked at, as the fluid is colder already."""
    start, now = case.layout.fluid.coldest_start, case.layout.fluid.temperature
    if start is not None and start.si > now.si:
        text = (
            f"the coldest start, {degrees(start.si, case.system)}, is warmer than the fluid at "
            f"{degrees(now.si, case.system)}: no start is looked at but this one"
        )
        yield Hit(Severity.NOTE, "", case.port.key, start.si, now.si, Kind.TEMPERATURE, text)


def _start(case: Case) -> str:
    found = case.solution.cold_start
    assert found is not None
    return f"{case.ledger.pump}: at a cold start of {degrees(found.temperature, case.system)}"


def _share(cold: PumpLedger) -> float:
    return cold.margin / cold.budget if cold.budget > 0 else math.nan
