"""The readings of a drawing as rows of a table, and as marks on it. No Qt here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sketch.model.pins import Pin, PinKind
from sketch.model.read_marks import band_text, pin_text
from solver.field import places
from solver.field.compared import STOP, ComparedReading, Comparison
from solver.field.gauges import Band
from solver.findings.kinds import Severity
from solver.layout.logged import LoggedReading
from solver.ledger.solve import solve
from solver.quantities.units import System

HEADINGS = ("When", "What it says", "Where", "Read, at the tap", "Expected")
SAYS = 1
NOT_COMPARED, CHECK_IT = "not compared", "check its sign and unit"


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading as the table shows it."""

    number: int  # among the readings of the file
    cells: tuple[str, ...]  # as many as HEADINGS
    severity: Severity | None  # None where there is nothing to say against it
    words: tuple[str, ...]  # the sentences below the table
    compared: bool


def rows(
    readings: Sequence[LoggedReading], comparisons: Sequence[Comparison] | None, system: System
) -> tuple[ReadingRow, ...]:
    """The readings, the newest first; what they come to stands there once it is at hand."""
    known = {each.number: each for each in comparisons or ()}
    table = [_row(number, logged, known.get(number), system) for number, logged in enumerate(readings)]
    return tuple(sorted(table, key=lambda row: (readings[row.number].moment, row.number), reverse=True))


def _row(number: int, logged: LoggedReading, comparison: Comparison | None, system: System) -> ReadingRow:
    where = logged.place if logged.run else f"{logged.pump or 'no pump'}, port"
    if comparison is None:
        return ReadingRow(number, (logged.dated, "", where, as_typed(logged), ""), None, (), compared=False)
    if not comparison.compared:
        verdict_text = NOT_COMPARED if comparison.why_not else "no vacuum noted"
        verdict_text = CHECK_IT if comparison.asks else verdict_text
        cells = (logged.dated, verdict_text, where, as_typed(logged), "")
        grade = Severity.CAUTION if comparison.asks else Severity.NOTE
        return ReadingRow(number, cells, grade, comparison.words(system), compared=False)
    first = comparison.compared[0]
    cells = (
        logged.dated,
        verdict(comparison, system),
        where,
        "; ".join(_with_rest(each, each.read, system) for each in comparison.compared),
        "; ".join(_with_rest(each, each.expected.band, system) for each in comparison.compared),
    )
    severity = Severity.STOP if comparison.stop else None if first.inside else Severity.CAUTION
    if not comparison.stop and not all(each.inside for each in comparison.compared):
        severity = Severity.CAUTION
    if severity is None and any(each.undecided for each in comparison.compared):
        severity = Severity.NOTE
    return ReadingRow(number, cells, severity, comparison.words(system), compared=True)


def as_typed(logged: LoggedReading) -> str:
    """The figures of a reading as they were typed."""
    spans = [
        (" to ".join(each.text for each in shown), rest)
        for shown, rest in (
            (logged.vacuum, ""),
            (logged.pressure, ""),
            (logged.rest_vacuum, " at rest"),
            (logged.rest_pressure, " at rest"),
        )
        if shown
    ]
    return "; ".join(text + rest for text, rest in spans)


def _with_rest(each: ComparedReading, band: Band, system: System) -> str:
    return band_text(band, system) + (" at rest" if each.reading.resting else "")


def verdict(comparison: Comparison, system: System) -> str:
    """What a reading says, in a few words; the first is stop where it is past what is allowed."""
    if comparison.stop:
        return STOP
    words = [_against(each, system) for each in comparison.compared]
    return "; ".join(dict.fromkeys(words))


def _against(each: ComparedReading, system: System) -> str:
    rest = " at rest" if each.reading.resting else ""
    if each.undecided:
        return f"cannot tell{rest}"
    if each.inside:
        return f"as expected{rest}"
    return f"{each.difference(system).removesuffix(' than')}{rest}"


def pins(comparisons: Sequence[Comparison], chosen: int, system: System) -> tuple[Pin, ...]:
    """A gauge at every tap with its newest reading, or the one that is chosen, and what is expected."""
    newest: dict[tuple[str, str, float], Comparison] = {}
    for comparison in sorted(
        comparisons, key=lambda each: (each.number == chosen, each.logged.moment, each.number)
    ):
        if comparison.compared:
            place = comparison.compared[0].reading.place
            newest[place.pump, place.run, place.distance] = comparison
    days = dict[str, str]()
    for each in comparisons:
        days[each.logged.pump] = max(days.get(each.logged.pump, ""), each.logged.day)
    return tuple(_pin(comparison, days[comparison.logged.pump], system) for comparison in newest.values())


def _pin(comparison: Comparison, newest_day: str, system: System) -> Pin:
    first = comparison.compared[0]
    solution = solve(first.reading.layout, first.reading.level)
    x, z = places.position(solution, first.reading.place)
    expected = band_text(first.expected.band, system)
    rest = ", at rest" if first.reading.resting else ""
    short = pin_text(first.read, comparison.logged.when, newest_day, system)
    kind = PinKind.OVER if comparison.stop else PinKind.GAUGE
    return Pin(x, z, f"{short}, expected {expected}{rest}", kind, short=short, number=comparison.number)
