"""Where a trend's points lie in time."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from sketch.views.trend_scale import MOST_TICKS, name, scale_of, words
from solver.field.trend import Trend, TrendPoint


def trend(*days: str, earliest: str = "") -> Trend:
    points = tuple(
        TrendPoint(at, datetime.fromisoformat(day), 0.5, 0.4, 0.6, False) for at, day in enumerate(days)
    )
    due = datetime.fromisoformat(earliest) if earliest else None
    return Trend("p", "strainer", "A", "the port of p", points, 0.1, due, None, "" if due else "too few")


def test_the_span_holds_every_reading_and_a_date_that_is_near() -> None:
    near = trend("2026-01-01", "2026-03-01", earliest="2026-06-01")
    scale = scale_of(near)
    places = [scale.across(point.when) for point in near.points]
    assert near.earliest is not None
    assert 0.0 < places[0] < places[1] < scale.across(near.earliest) < 1.0
    far = scale_of(trend("2026-01-01", "2026-03-01", earliest="2036-06-01"))
    assert far.last < datetime(2026, 4, 1), "a date years away does not flatten the readings"
    assert far.across(datetime(2036, 6, 1)) == 1.0


@pytest.mark.parametrize("days", [3, 40, 400, 4000])
def test_ticks_are_few_and_in_order(days: int) -> None:
    first = datetime(2020, 1, 20)
    scale = scale_of(trend(f"{first:%Y-%m-%d}", f"{first + timedelta(days=days):%Y-%m-%d}"))
    ticks = list(scale.ticks())
    assert len(ticks) <= MOST_TICKS + 1
    assert [at for at, _ in ticks] == sorted(at for at, _ in ticks)


def test_it_is_named_and_said_as_in_the_terminal() -> None:
    assert name(trend("2026-01-01")) == "strainer: gauge A at the port of p"
    assert words(trend("2026-01-01")) == "No date: too few."
