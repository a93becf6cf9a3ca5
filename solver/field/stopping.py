"""Whether the latest visit says that a pump must stop, before all else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from solver.field import states
from solver.field.compared import STOP, Comparison, compare_one
from solver.field.visits import visits
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import allowed_there, gauge_reading, is_over_atmosphere

Compare = Callable[[int], Comparison]
"""One reading by its place in the file, beside what the drawing expects."""


def newest(
    layout: Layout, pumps: Iterable[str], line: str = "", compare: Compare | None = None
) -> tuple[Comparison, ...]:
    """The readings of the latest visit to each pump beside what the drawing expects.

    line: the alternative that `layout` is, "" for the drawing itself. compare: where some have been compared.
    """

    def one(number: int) -> Comparison:
        return compare_one(layout, states.prepared(layout, number, layout.readings[number], line))

    every = [visits(layout, pump, line) for pump in pumps]
    return tuple((compare or one)(number) for each in every if each for number in each[-1])


@dataclass(frozen=True, slots=True)
class Above:
    """A reading past what is allowed, in words."""

    read: str
    allowed: str  # "no more than 8.4 kPa", or "no less than" where it is a pressure above the atmosphere
    place: str
    day: str

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
        return f"{self.read} read {self.where}, {self.allowed} is allowed there"


def farthest_above(comparisons: Iterable[Comparison], system: System) -> Above | None:
    """The reading that is farthest past what is allowed there; None where none is above."""
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


def stop_text(comparisons: Iterable[Comparison], system: System) -> str:
    """What was read against what is allowed there, where that is farthest above; "" where none is above."""
    above = farthest_above(comparisons, system)
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
    beneath = f"Read {above.where}{note}. As drawn: {drawn}"
    return replace(
        outlook, severity=Grade.STOP, word=STOP, headline=above.short, beneath=beneath, detail=detail
    )
