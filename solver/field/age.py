"""How old the newest reading of a drawing is at a date, and whether that is too old to decide by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise
from statistics import median

from solver.field.trend import long_trends
from solver.field.visits import visits
from solver.layout.parts import Layout

ONE_VISIT = timedelta(days=31)
"""Age at which the readings of one visit alone are read again; ours."""

MONTH = 30.44
"""Days of a month in the mean."""


@dataclass(frozen=True, slots=True)
class ReadingDates:
    """When a drawing was read, and when its screens are due by that."""

    newest: date
    interval: timedelta | None  # between two visits to a pump, as a rule; None of one visit alone
    due: Mapping[str, tuple[date | None, date | None]]  # by screen, the earliest and the latest day

    def sentence(self, today: date) -> str:
        """That it is to be read again before anything is decided, and why; "" where it is not.

        It is where the newest reading is older than the readings are apart, or a screen may be due since.
        """
        age = today - self.newest
        passed = any(each is not None and self.newest < each <= today for each in self._days)
        if not (age > (self.interval or ONE_VISIT) or passed):
            return ""
        rule = "there was one visit alone, which does not say how fast the line changes"
        if self.interval is not None:
            rule = f"readings were {_long(self.interval)} apart as a rule"
        why = ", and ".join(filter(None, (rule, *(self._due(screen, today) for screen in self.due))))
        old = f"the newest reading, of {self.newest.isoformat()}, is {_long(age)} old"
        return f"Read again before deciding: {old}; {why}."

    @property
    def _days(self) -> tuple[date | None, ...]:
        return tuple(day for both in self.due.values() for day in both)

    def _due(self, screen: str, today: date) -> str:
        """Since when a screen is or may be due; "" where it is not."""
        earliest, latest = self.due[screen]
        if latest is not None and latest <= today:
            return f"{screen} was due by {latest.isoformat()}"
        if earliest is not None and earliest <= today:
            return f"{screen} may be due since {earliest.isoformat()}"
        return ""


def reading_dates(layout: Layout, line: str = "") -> ReadingDates | None:
    """When a drawing was read; None where it was not.

    line: the alternative that `layout` is, "" for the drawing itself.
    """
    days: dict[str, list[date]] = {}
    for pump in dict.fromkeys(each.pump for each in layout.readings if each.pump in layout.pumps):
        every = visits(layout, pump, line)
        read = [[layout.readings[number] for number in visit] for visit in every]
        dated = (visit for visit in read if all(each.when for each in visit))
        days[pump] = [max(each.moment for each in visit).date() for visit in dated]
    last = max((pump for pump in days if days[pump]), key=lambda pump: days[pump][-1], default=None)
    if last is None:
        return None
    gaps = [(later - earlier).days for earlier, later in pairwise(days[last])]
    due = {
        each.screen: (_day(each.earliest), _day(each.latest))
        for pump in days
        for each in long_trends(layout, pump, line)
    }
    return ReadingDates(days[last][-1], timedelta(days=median(gaps)) if gaps else None, due)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def _long(time: timedelta) -> str:
    """A length of time in words."""
    months = round(time.days / MONTH)
    if months >= 2:
        return f"{months} months"
    return "a day" if time.days == 1 else f"{time.days} days"
