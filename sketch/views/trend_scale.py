"""Where the points of a trend lie in a plot of the open share of a screen over time. No Qt here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from solver.field.trend import Trend
from solver.report.readings import trend_words

MOST_TICKS = 6
BEYOND = timedelta(days=400)
"""How far past the last reading a date is still shown to scale."""


@dataclass(frozen=True, slots=True)
class TimeScale:
    """The span of time that is shown."""

    first: datetime
    last: datetime

    def across(self, when: datetime) -> float:
        """A moment as a share of the width, held to the span."""
        whole = (self.last - self.first).total_seconds()
        share = (when - self.first).total_seconds() / whole if whole > 0.0 else 0.5
        return min(max(share, 0.0), 1.0)

    def ticks(self) -> Iterator[tuple[float, str]]:
        """Beginnings of months, no more than can be read, with where they lie."""
        months = (self.last.year - self.first.year) * 12 + self.last.month - self.first.month
        step = max(1, -(-months // MOST_TICKS))
        for at in range(0, months + 1, step):
            number = self.first.month - 1 + at
            begin = datetime(self.first.year + number // 12, number % 12 + 1, 1)
            if self.first <= begin <= self.last:
                yield self.across(begin), f"{begin:%Y-%m}"


def scale_of(trend: Trend) -> TimeScale:
    """From the first reading to the last, and on to the dates that it leads to where they are near."""
    first, last = trend.points[0].when, trend.points[-1].when
    ends = [when for when in (trend.earliest, trend.latest) if when is not None and when - last < BEYOND]
    room = max((max([last, *ends]) - first) / 20, timedelta(days=1))
    return TimeScale(first - room, max([last, *ends]) + room)


def name(trend: Trend) -> str:
    """What it is a trend of."""
    gauge = f"gauge {trend.gauge}" if trend.gauge else "a gauge without a name"
    return f"{trend.screen}: {gauge} at {trend.place}"


def words(trend: Trend) -> str:
    """Where it leads."""
    return trend_words(trend)
