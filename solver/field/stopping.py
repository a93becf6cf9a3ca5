"""Whether the latest visit says that a pump must stop, before all else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from solver.field import states
from solver.field.compared import STOP, Comparison, compare_one
from solver.field.visits import visits
from solver.findings.kinds import Grade
from solver.findings.outlook import Outlook
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, typeset

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


def stop_text(comparisons: Iterable[Comparison], system: System) -> str:
    """What was read against what is allowed there, where that is farthest above; "" where none is above."""
    above = [
        (one.read.high - one.expected.allowed, one.expected.allowed, one.read.high, comparison.logged)
        for comparison in comparisons
        for one in comparison.compared
        if one.above_allowed and one.expected.allowed is not None
    ]
    if not above:
        return ""
    _, allowed, read, logged = max(above, key=lambda each: each[0])
    figure = typeset(read, Kind.VACUUM, system)
    most = typeset(allowed, Kind.VACUUM, system)
    return f"{figure} read at {logged.place} on {logged.day}, no more than {most} is allowed there"


def stop_first(text: str, headline: str) -> str:
    """A headline with what was read before it, as `stop_text` has that; the headline alone where it is ""."""
    return f"{STOP}: {text}. As drawn: {headline[:1].lower()}{headline[1:]}" if text else headline


def stopped(outlook: Outlook, text: str) -> Outlook:
    """What a drawing comes to where a newest reading says stop; as it is where the text is ""."""
    if not text:
        return outlook
    detail = "; ".join(each for each in (outlook.word, outlook.detail) if each)
    headline = stop_first(text, outlook.headline).removeprefix(f"{STOP}: ")
    return replace(outlook, severity=Grade.STOP, word=STOP, headline=headline, detail=detail)
