"""A reading that is older than readings are apart, or than a day on which a screen is due, is taken again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from solver.field.age import ONE_VISIT, reading_dates
from solver.layout import file

YEAR = file.read(Path(__file__).parents[3] / "layouts" / "strainer-over-a-year.toml").base


def test_dates_are_those_of_the_readings_and_of_their_trend() -> None:
    dates = reading_dates(YEAR)
    assert dates is not None
    days = sorted({each.moment.date() for each in YEAR.readings})
    assert dates.newest == days[-1]
    assert dates.interval == timedelta(days=35)
    assert dates.due == {"strainer": (date(2026, 1, 11), date(2026, 1, 31))}
    assert reading_dates(replace(YEAR, readings=())) is None


def test_an_old_reading_is_said_with_its_age_and_what_it_is_held_against() -> None:
    dates = reading_dates(YEAR)
    assert dates is not None
    assert dates.sentence(date(2026, 11, 27)) == (
        "Read again before deciding: the newest reading, of 2026-02-23, is 9 months old; readings were "
        "35 days apart as a rule, and strainer was due by 2026-01-31."
    )
    rule = timedelta(days=35)
    assert dates.sentence(dates.newest + rule) == ""
    assert "is 36 days old" in dates.sentence(dates.newest + rule + timedelta(days=1))
    assert dates.sentence(dates.newest - rule) == "", "read after the date of the sheet"


def test_a_day_on_which_a_screen_may_be_due_makes_a_younger_reading_old() -> None:
    dates = reading_dates(YEAR)
    assert dates is not None
    soon = dates.newest + timedelta(days=5)
    ahead = replace(dates, due={"strainer": (soon, None)})
    assert ahead.sentence(soon - timedelta(days=1)) == ""
    assert f"and strainer may be due since {soon.isoformat()}." in ahead.sentence(soon)


@pytest.mark.parametrize("days", [0, 1])
def test_one_visit_alone_is_old_after_a_month(days: int) -> None:
    last = max(YEAR.readings, key=lambda each: each.moment)
    dates = reading_dates(replace(YEAR, readings=(last,)))
    assert dates is not None
    assert dates.interval is None
    text = dates.sentence(dates.newest + ONE_VISIT + timedelta(days=days))
    assert bool(text) is bool(days)
    assert not text or "one visit alone, which does not say how fast the line changes" in text


def test_a_reading_without_a_date_gives_none() -> None:
    undated = tuple(replace(each, when="") for each in YEAR.readings)
    assert reading_dates(replace(YEAR, readings=undated)) is None
