"""The visits to each pump: which readings belong together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout

APART = timedelta(hours=24)
"""Between two readings of one visit that are of two days, at most; common practice, no source."""


def visits(layout: Layout, pump: str, line: str = "") -> tuple[tuple[int, ...], ...]:
    """The readings of a pump visit by visit, the earliest first, by their places in the file.

    Those of one day are one visit, with those of the day before where the last of these was at most `APART`
    before the first of the day: two days at most, from the latest back. Only readings whose time of day was
    noted bring two days together. What was read before work on the line, or before it was built, is of
    another machine than what was read after: never one visit, whichever pump's reading notes the work.
    """
    days, breaks = _days(layout, pump, line), _breaks(layout, line)
    groups: list[tuple[int, ...]] = []
    while days:
        day = days.pop()
        together = bool(days) and _belong(layout, days[-1], day, breaks)
        groups.append((*days.pop(), *day) if together else day)
    return tuple(reversed(groups))


def visit_of(layout: Layout, number: int) -> tuple[int, ...]:
    """The readings of the visit that a reading is of, itself among them, by their places in the file."""
    every = visits(layout, layout.readings[number].pump, _line(layout, number))
    return next(visit for visit in every if number in visit)


def untimed_before(layout: Layout, number: int) -> str:
    """The visit of the day before that may belong to a reading's, were the time of day noted; "" for none."""
    line = _line(layout, number)
    every = visits(layout, layout.readings[number].pump, line)
    at = next(at for at, visit in enumerate(every) if number in visit)
    if at == 0:
        return ""
    earlier, later = ([layout.readings[each] for each in visit] for visit in (every[at - 1], every[at]))
    one_day_each = earlier[0].day == earlier[-1].day and later[0].day == later[-1].day
    apart = later[0].moment.date() - earlier[-1].moment.date()
    timed = all(any(each.has_time for each in group) for group in (earlier, later))
    work = any(earlier[-1].moment < each <= later[0].moment for each in _breaks(layout, line))
    if timed or work or not one_day_each or apart != timedelta(days=1):
        return ""
    return visit_name(earlier)


def _breaks(layout: Layout, line: str) -> list[datetime]:
    """When work was done on a line, by whichever reading notes it, and when it was built."""
    built = layout.built if not line else ""
    done = [each.moment for each in layout.readings if each.work]
    return [*done, datetime.fromisoformat(built).replace(tzinfo=None)] if built else done


def _days(layout: Layout, pump: str, line: str) -> list[tuple[int, ...]]:
    """The readings of a pump day by day, a day parted where work was done in it."""
    lines = (line,) if line else ("", layout.built)
    numbered = [
        (logged.moment, number)
        for number, logged in enumerate(layout.readings)
        if logged.pump == pump and logged.line in lines
    ]
    days: list[tuple[int, ...]] = []
    for _, number in sorted(numbered):
        logged = layout.readings[number]
        if days and not logged.work and layout.readings[days[-1][-1]].day == logged.day:
            days[-1] += (number,)
        else:
            days.append((number,))
    return days


def _belong(layout: Layout, before: Sequence[int], day: Sequence[int], breaks: Iterable[datetime]) -> bool:
    """Whether the readings of a day are one visit with those before it. breaks: when work was done."""
    earlier, later = ([layout.readings[number] for number in each] for each in (before, day))
    timed = [[each.moment for each in group if each.has_time] for group in (earlier, later)]
    if not all(timed) or timed[1][0] - timed[0][-1] > APART:
        return False
    return not any(earlier[-1].moment < each <= later[0].moment for each in breaks)


def visit_name(readings: Iterable[LoggedReading]) -> str:
    """The readings of one visit by their date, or by the first and the last."""
    days = sorted({each.day for each in readings})
    if not days:
        return ""
    return days[0] if len(days) == 1 else f"{days[0]} to {days[-1]}"


def read_running(layout: Layout, pump: str) -> str:
    """The dates between which a pump was read running, on whichever line; "" where it never was."""
    return visit_name(
        each for each in layout.readings if each.pump == pump and (each.vacuum or each.pressure)
    )


def visit_names(layout: Layout, pump: str, line: str = "") -> tuple[str, ...]:
    """A name for each visit: its date, and what was done before it where another is of that date too."""
    groups = [[layout.readings[number] for number in visit] for visit in visits(layout, pump, line)]
    days = Counter(day for group in groups for day in {each.day for each in group})
    done = [
        ", ".join((visit_name(group), *(group[0].work if days[group[0].day] > 1 else ()))) for group in groups
    ]
    return tuple(
        f"{name} ({done[:at].count(name) + 1})" if done[:at].count(name) else name
        for at, name in enumerate(done)
    )


def name_of(layout: Layout, number: int) -> str:
    """The name of the visit that a reading is of."""
    logged, line = layout.readings[number], _line(layout, number)
    every = zip(visit_names(layout, logged.pump, line), visits(layout, logged.pump, line), strict=True)
    return next(name for name, visit in every if number in visit)


def _line(layout: Layout, number: int) -> str:
    """The line that a reading was made on, as `visits` asks for it."""
    line = layout.readings[number].line
    return "" if line == layout.built else line
