"""Checks of the ledger at the coldest start, one small function each."""

from __future__ import annotations

import math
from collections.abc import Iterator

from solver.findings.criteria import Hit, Subject, percent
from solver.findings.kinds import Severity
from solver.ledger.sentences import against_limit, judged, trouble
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind
from solver.quantities.wording import degrees


def over_at_cold_start(subject: Subject) -> Iterator[Hit]:
    """More spent than there is to spend while the fluid is at its coldest."""
    cold = subject.solution.cold(subject.ledger.pump)
    if cold is None or cold.sound:
        return
    value, limit, kind = judged(cold)
    estimated = "; limit estimated" if cold.limit_estimated else ""
    numbers = "" if cold.breaks else f" ({against_limit(cold, subject.system)}{estimated})"
    text = f"{_start(subject)}: {trouble(cold, subject.system)}{numbers}"
    yield Hit(Severity.STOP, cold.pump, subject.port.key, value, limit, kind, text)


def thin_at_cold_start(subject: Subject) -> Iterator[Hit]:
    """Little left at the coldest start."""
    cold = subject.solution.cold(subject.ledger.pump)
    if cold is None or not cold.sound:
        return
    left, limit = _share(cold), subject.criteria.thin_margin
    if 0 <= left < limit:
        text = f"{_start(subject)}: {percent(left)} of the budget is left, under {percent(limit)}"
        yield Hit(Severity.CAUTION, cold.pump, subject.port.key, left, limit, Kind.SHARE, text)


def start_warmer_than_the_fluid(subject: Subject) -> Iterator[Hit]:
    """A coldest start at which nothing is looked at, as the fluid is colder already."""
    start, now = subject.layout.fluid.coldest_start, subject.layout.fluid.temperature
    if start is not None and start.si > now.si:
        text = (
            f"the coldest start, {degrees(start.si, subject.system)}, is warmer than the fluid at "
            f"{degrees(now.si, subject.system)}: no start is looked at but this one"
        )
        yield Hit(Severity.NOTE, "", subject.port.key, start.si, now.si, Kind.TEMPERATURE, text)


def _start(subject: Subject) -> str:
    found = subject.solution.cold_start
    assert found is not None
    return f"{subject.ledger.pump}: at a cold start of {degrees(found.temperature, subject.system)}"


def _share(cold: PumpLedger) -> float:
    return cold.margin / cold.budget if cold.budget > 0 else math.nan
