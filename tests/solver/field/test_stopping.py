"""The latest visit says stop before any other headline, with what was read against what is allowed there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.compared import STOP
from solver.field.stopping import farthest_above, newest, stop_first, stop_text, stopped
from solver.findings.judgement import judge
from solver.findings.kinds import Grade
from solver.findings.outlook import outlook
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout, Limit, LimitForm
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def with_last(vacuum: str, **more: object) -> Layout:
    """The year of readings, and one of the day after."""
    last = replace(DRAWN.readings[-1], when="2026-02-24", vacuum=(quantity(vacuum, Kind.VACUUM),))
    return replace(DRAWN, readings=(*DRAWN.readings, replace(last, **more)))  # type: ignore[arg-type]


def test_a_newest_reading_above_what_is_allowed_comes_first() -> None:
    layout = with_last("26 kPa")
    text = stop_text(newest(layout, layout.pumps), System.SI)
    assert text == "26.0 kPa read at the port of feed on 2026-02-24, no more than 19.2 kPa is allowed there"
    drawn = outlook(judge(layout), System.SI)
    assert drawn.headline.startswith("Within")
    first = stopped(drawn, farthest_above(newest(layout, layout.pumps), System.SI), " (yesterday)")
    assert (first.severity, first.word) == (Grade.STOP, STOP)
    assert first.headline == "26.0 kPa read, 19.2 kPa allowed there"
    begin = "Read at the port of feed on 2026-02-24 (yesterday). As drawn: w"
    assert first.beneath == begin + drawn.headline[1:]
    assert first.sentence == f"{first.headline}. {first.beneath}"
    assert stop_first(text, drawn.headline) == f"{STOP}: {text}. As drawn: w{drawn.headline[1:]}"


def test_a_pressure_is_allowed_down_to_its_figure() -> None:
    layout = with_last("-5 kPa")
    limit = Limit(LimitForm.PRESSURE, ((None, quantity("112 kPa abs", Kind.ABSOLUTE)),))
    layout = replace(layout, pumps={"feed": replace(layout.pumps["feed"], limit=limit)})
    above = farthest_above(newest(layout, layout.pumps), System.SI)
    assert above is not None
    assert above.short.startswith("5.0 kPa above the atmosphere read, no less than ")
    assert above.short.endswith(" kPa above the atmosphere allowed there")


def test_of_several_the_one_farthest_above_is_named() -> None:
    layout = with_last("26 kPa")
    worse = replace(layout.readings[-1], vacuum=(quantity("30 kPa", Kind.VACUUM),))
    layout = replace(layout, readings=(*layout.readings, worse))
    assert stop_text(newest(layout, layout.pumps), System.SI).startswith("30.0 kPa read")


@pytest.mark.parametrize("readings", [(), DRAWN.readings])
def test_nothing_comes_first_where_no_newest_reading_is_above(readings: tuple[LoggedReading, ...]) -> None:
    layout = replace(DRAWN, readings=readings)
    assert stop_text(newest(layout, layout.pumps), System.SI) == ""
    drawn = outlook(judge(layout), System.SI)
    assert stopped(drawn, None) is drawn
    assert stop_first("", drawn.headline) == drawn.headline


def test_a_reading_above_that_a_later_visit_followed_is_of_the_past() -> None:
    layout = with_last("26 kPa")
    later = replace(layout.readings[-1], when="2026-03-02", vacuum=(quantity("9 kPa", Kind.VACUUM),))
    layout = replace(layout, readings=(*layout.readings, later))
    assert stop_text(newest(layout, layout.pumps), System.SI) == ""


def test_a_cold_reading_of_the_next_morning_makes_the_evening_before_no_kinder() -> None:
    evening = LoggedReading("2026-03-04 16:00", "feed", vacuum=(quantity("26 kPa", Kind.VACUUM),))
    morning = LoggedReading("2026-03-05 07:00", "feed", vacuum=(quantity("9 kPa", Kind.VACUUM),))
    later = replace(
        morning, when="2026-03-05 18:00"
    )  # more than a day after the evening, and of the same day
    layout = replace(DRAWN, readings=(evening, morning, later))
    stop = stop_text(newest(layout, ["feed"]), System.SI)
    assert stop.startswith("26.0 kPa read at the port of feed on 2026-03-04")
    cleaned = replace(layout, readings=(evening, replace(morning, work=("strainer cleaned",)), later))
    assert stop_text(newest(cleaned, ["feed"]), System.SI) == ""
