"""Whether the latest visit, or an earlier one that still counts, says that a pump must stop."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from solver.field import states
from solver.field.compared import STOP, ComparedReading, Comparison, compare_one
from solver.field.states import NOT_NOTED, Reading
from solver.field.visits import visits
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import allowed_there, gauge_reading, is_over_atmosphere

Compare = Callable[[int], Comparison]
"""One reading by its place in the file, beside what the drawing expects."""


STILL_COUNTS = (
    "it still counts: no work is noted since, and no later reading there was within what is allowed with the "
    "fluid as thick, the pump as fast and the level as low, temperature and speed noted"
)
"""Why a reading of an earlier visit says stop now."""


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
    return Newest(
        latest, tuple(stop for each in every for stop in _earlier(layout, each, latest, compare or one))
    )


def _earlier(
    layout: Layout, every: Sequence[Sequence[int]], latest: Iterable[Comparison], compare: Compare
) -> Iterator[Comparison]:
    """The readings of a pump's earlier visits that say stop and still count. latest: those of the last one.

    A reading past what is allowed counts until work is noted after it with a reading of its pump, or a later
    reading shows that the line manages a state as demanding. One that was refused shows neither.
    """
    numbers = [number for visit in every[:-1] for number in visit if not _has_work_after(layout, number)]
    compared = [compare(number) for number in numbers]
    later = [*compared, *(each for each in latest if each.number in every[-1])]
    for at, comparison in enumerate(compared, start=1):
        since = [each for after in later[at:] for each in after.compared]
        above = (each for each in comparison.compared if each.above_allowed)
        if any(not any(_clears(each, stop) for each in since) for stop in above):
            yield comparison


def _has_work_after(layout: Layout, number: int) -> bool:
    """Whether work is noted with a later reading of the same pump that could be read whole."""
    stop = layout.readings[number]
    return any(
        each.pump == stop.pump and (each.moment, at) > (stop.moment, number)
        for at, each in enumerate(layout.readings)
        if each.work and not each.problems
    )


def _clears(later: ComparedReading, stop: ComparedReading) -> bool:
    """Whether a later reading at the place of one that says stop is within what is allowed, in a state at
    least as demanding: fluid as thick, a pump as fast, a level as low. What was not noted is not taken as so.
    """
    both = (later.reading, stop.reading)
    if later.reading.resting or later.near_allowed or later.reading.place != stop.reading.place:
        return False
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
        still = f"; {STILL_COUNTS}" if self.is_earlier else ""
        return f"{self.read} read {self.where}, {self.allowed} is allowed there{still}"


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
    return Above(figure, allowed_there(allowed, system), logged.place, logged.day)


def stop_text(readings: Newest, system: System) -> str:
    """What was read against what is allowed there, where that is farthest above; "" where none is above."""
    above = farthest_above(readings, system)
    return above.text if above is not None else ""


def stop_first(text: str, headline: str) -> str:
    """A headline with what was read before it, as `stop_text` has that; the headline alone where it is ""."""
    return f"{STOP}: {text}. As drawn: {headline[:1].lower()}{headline[1:]}" if text else headline


def stopped(outlook: Outlook, above: Above | None, note: str = "") -> Outlook:
    """What a drawing comes to where a newest reading says stop; as it is where none does.

    note: what is to be said of that reading besides.
    """
    if above is None:
        return outlook
    detail = "; ".join(each for each in (outlook.word, outlook.detail) if each)
    drawn = f"{outlook.headline[:1].lower()}{outlook.headline[1:]}"
    still = f"; {STILL_COUNTS}" if above.is_earlier else ""
    beneath = f"Read {above.where}{note}{still}. As drawn: {drawn}"
    return replace(
        outlook, severity=Grade.STOP, word=STOP, headline=above.short, beneath=beneath, detail=detail
    )
