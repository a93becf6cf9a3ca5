"""Whether the latest visit, or an earlier one that still counts, says that a pump must stop."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple

import numpy as np

from solver.field import states
from solver.field.causes import CauseKind, causes
from solver.field.compared import STOP, ComparedReading, Comparison, compare_one, is_ahead
from solver.field.expected import is_past
from solver.field.prediction import ReadingNetworks
from solver.field.states import NOT_NOTED, Reading
from solver.field.visits import visits
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook, headline_as_drawn
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import allowed_there, gauge_reading, is_over_atmosphere

Compare = Callable[[int], Comparison]
"""One reading by its place in the file, beside what the drawing expects."""


STILL_COUNTS = (
    "it still counts: no later reading there was within what is allowed, either after work that can have "
    "removed the cause, or with the fluid as thick, the pump as fast and the level as low, temperature and "
    "speed noted"
)
"""Why a reading of an earlier visit says stop now."""

NOTHING_ENDS = "it is dated after today, so that no other reading can end this: check its date"
"""What is to be known of a reading that says stop on a day to come."""

REMOVES: Mapping[str, tuple[CauseKind, ...]] = {
    "strainer cleaned": (CauseKind.SCREEN, CauseKind.STUCK),
    "fluid changed": (CauseKind.FLUID, CauseKind.LEVEL),
    "fluid topped up": (CauseKind.LEVEL,),
    "breather changed": (CauseKind.SURFACE,),
    "line changed": (CauseKind.BORE, CauseKind.HOSE, CauseKind.RESISTANCE, CauseKind.AS_BUILT),
    "pump changed": (CauseKind.MORE_FLOW,),
}
"""Which causes of a deep vacuum each kind of work can have removed; common practice, no source."""


class Newest(NamedTuple):
    """What the readings of a drawing say of its pumps now, beside what it expects."""

    latest: tuple[Comparison, ...]  # of the latest visit to each pump
    earlier: tuple[Comparison, ...]  # of visits before those, that say stop and still count

    @property
    def stops(self) -> frozenset[int]:
        """The readings that say stop now, by their places in the file."""
        return frozenset(each.number for each in (*self.latest, *self.earlier) if each.stop)


def newest(layout: Layout, pumps: Iterable[str], line: str = "", compare: Compare | None = None) -> Newest:
    """What the latest visit to each pump says, and what an earlier one does that still counts.

    line: the alternative that `layout` is, "" for the drawing itself. compare: where some have been compared.
    """

    def one(number: int) -> Comparison:
        return compare_one(layout, states.prepared(layout, number, layout.readings[number], line))

    every = [each for pump in pumps if (each := visits(layout, pump, line))]
    latest = tuple((compare or one)(number) for each in every for number in each[-1])
    past = (
        each for each in every if compare or any(_is_past(layout, number, line) for number in _before(each))
    )
    return Newest(
        latest, tuple(stop for each in past for stop in _earlier(layout, each, latest, compare or one))
    )


def _before(every: Sequence[Sequence[int]]) -> list[int]:
    """The readings of the visits before the last one."""
    return [number for visit in every[:-1] for number in visit]


def _is_past(layout: Layout, number: int, line: str) -> bool:
    """Whether a reading may be past what is allowed: far less to solve than what is expected of it."""
    readings = states.prepared(layout, number, layout.readings[number], line).readings
    try:
        return any(map(is_past, readings))
    except ValueError:  # it cannot be compared
        return False


def _earlier(
    layout: Layout, every: Sequence[Sequence[int]], latest: Iterable[Comparison], compare: Compare
) -> Iterator[Comparison]:
    """The readings of a pump's earlier visits that say stop and still count. latest: those of the last one.

    A reading past what is allowed counts until a later one there is within it: after work that can have
    removed the cause, or in a state as demanding. One that was refused shows neither, nor does one that is
    dated after today.
    """
    compared = [compare(number) for number in _before(every)]
    later = [*compared, *(each for each in latest if each.number in every[-1])]
    for at, comparison in enumerate(compared, start=1):
        since = [each for each in later[at:] if not is_ahead(each.logged.when)]
        above = [each for each in comparison.compared if each.above_allowed]
        if any(not _is_over_since(layout, comparison, stop, since) for stop in above):
            yield comparison


def _is_over_since(
    layout: Layout, comparison: Comparison, stop: ComparedReading, since: Sequence[Comparison]
) -> bool:
    """Whether a later reading shows that what one that says stop found is no longer so."""
    within = [(each, one) for each in since for one in each.compared if _is_within(one, stop)]
    if any(_is_as_demanding(one, stop) for _, one in within):
        return True
    last = max((_order(each) for each, _ in within), default=None)
    work = _work_between(layout, _order(comparison), last) if last is not None else frozenset()
    return any(_can_have_removed(each, stop) for each in sorted(work))


def _order(comparison: Comparison) -> tuple[datetime, int]:
    return comparison.logged.moment, comparison.number


def _work_between(layout: Layout, after: tuple[datetime, int], until: tuple[datetime, int]) -> frozenset[str]:
    """What was done between two readings or just before the second, by whichever pump's reading notes it."""
    return frozenset(
        work
        for at, each in enumerate(layout.readings)
        if not each.problems and after < (each.moment, at) <= until
        for work in each.work
    )


def _can_have_removed(work: str, stop: ComparedReading) -> bool:
    """Whether a cause that such work removes can make a reading as deep, past what is allowed, as it was."""
    reading, allowed = stop.reading, stop.expected.allowed
    ledger = solve(reading.layout, reading.level).pumps[reading.place.pump]
    networks = ReadingNetworks((reading,))
    nothing, *listed = causes(reading.layout, ledger, (reading,))
    drawn = float(networks.predicted(nothing, 0)[0, 0])
    removed = [networks.predicted(each, 0)[0] for each in listed if each.kind in REMOVES[work]]
    deepest = max((float(np.nan_to_num(each, nan=math.inf).max()) for each in removed), default=drawn)
    return allowed is not None and deepest - drawn >= stop.read.high - allowed


def _is_within(later: ComparedReading, stop: ComparedReading) -> bool:
    """Whether a later reading with the pump running, at the place of one that says stop, is within what is
    allowed."""
    return not (later.reading.resting or later.near_allowed) and later.reading.place == stop.reading.place


def _is_as_demanding(later: ComparedReading, stop: ComparedReading) -> bool:
    """Whether a later reading was made with the fluid as thick, the pump as fast and the level as low as one
    that says stop. What was not noted is not taken as so."""
    both = (later.reading, stop.reading)
    if any(each.temperature == NOT_NOTED or not each.flow_noted for each in both):
        return False
    now, then = (_demand(each) for each in both)
    return all(a > b or math.isclose(a, b, rel_tol=1e-6) for a, b in zip(now, then, strict=True))


def _demand(reading: Reading) -> tuple[float, float, float]:
    """Viscosity [m²/s], flow [m³/s] and how far the fluid lies below zero level [m] in a reading's state."""
    solution = solve(reading.layout, reading.level)
    ledger = solution.pumps[reading.place.pump]
    return solution.fluid.viscosity, ledger.flow, -ledger.fluid_level


@dataclass(frozen=True, slots=True)
class Above:
    """A reading past what is allowed, in words."""

    read: str
    allowed: str  # "no more than 8.4 kPa", or "no less than" where it is a pressure above the atmosphere
    place: str
    day: str
    is_earlier: bool = False  # than the latest visit, and still counts
    is_ahead: bool = False  # dated after today

    @property
    def short(self) -> str:
        """The two figures alone."""
        return f"{self.read} read, {self.allowed.removeprefix('no more than ')} allowed there"

    @property
    def where(self) -> str:
        """Where and when it was read."""
        return f"at {self.place} on {self.day}"

    @property
    def text(self) -> str:
        """All of it in one sentence, without a full stop."""
        return f"{self.read} read {self.where}, {self.allowed} is allowed there{self.why_now}"

    @property
    def why_now(self) -> str:
        """Why an earlier one says stop now, and that nothing ends one of a day to come; "" of others."""
        reasons = {STILL_COUNTS: self.is_earlier, NOTHING_ENDS: self.is_ahead}
        return "".join(f"; {reason}" for reason, holds in reasons.items() if holds)


def farthest_above(readings: Newest, system: System) -> Above | None:
    """The reading of the latest visits that is farthest past what is allowed there, else of earlier ones that
    still count; None where none says stop."""
    above = _farthest(readings.latest, system)
    if above is not None:
        return above
    earlier = _farthest(readings.earlier, system)
    return None if earlier is None else replace(earlier, is_earlier=True)


def _farthest(comparisons: Iterable[Comparison], system: System) -> Above | None:
    above = [
        (one.read.high - one.expected.allowed, one.expected.allowed, one.read.high, comparison.logged)
        for comparison in comparisons
        for one in comparison.compared
        if one.above_allowed and one.expected.allowed is not None
    ]
    if not above:
        return None
    _, allowed, read, logged = max(above, key=lambda each: each[0])
    over = is_over_atmosphere(read, system)
    figure = gauge_reading(read, system) if over else typeset(abs(read), Kind.VACUUM, system)
    return Above(
        figure, allowed_there(allowed, system), logged.place, logged.day, is_ahead=is_ahead(logged.when)
    )


def stop_text(readings: Newest, system: System) -> str:
    """What was read against what is allowed there, where that is farthest above; "" where none is above."""
    above = farthest_above(readings, system)
    return above.text if above is not None else ""


def stop_first(text: str, headline: str) -> str:
    """A headline with what was read before it, as `stop_text` has that; the headline alone where it is ""."""
    return f"{STOP}: {text}. {headline_as_drawn(headline)}" if text else headline


def stopped(outlook: Outlook, above: Above | None, note: str = "") -> Outlook:
    """What a drawing comes to where a newest reading says stop; as it is where none does.

    note: what is to be said of that reading besides.
    """
    if above is None:
        return outlook
    detail = "; ".join(each for each in (outlook.word, outlook.detail) if each)
    beneath = f"Read {above.where}{note}{above.why_now}. {headline_as_drawn(outlook.headline)}"
    return replace(
        outlook, severity=Grade.STOP, word=STOP, headline=above.short, beneath=beneath, detail=detail
    )
