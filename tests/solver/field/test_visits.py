"""The newest visit says stop before any other headline, with what was read against what is allowed there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.compared import STOP
from solver.field.visits import newest, stop_first, stop_text, stopped, visit_names, visits
from solver.findings.judgement import judge
from solver.findings.kinds import Grade
from solver.findings.outlook import outlook
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def with_last(vacuum: str, **more: object) -> Layout:
    """The year of readings, and one of the day after."""
    last = replace(DRAWN.readings[-1], when="2026-02-24", vacuum=(quantity(vacuum, Kind.VACUUM),))
    return replace(DRAWN, readings=(*DRAWN.readings, replace(last, **more)))  # type: ignore[arg-type]


def test_readings_stand_day_by_day() -> None:
    days = visits(with_last("9 kPa"), "feed")
    assert days[-1] == (len(DRAWN.readings),)
    assert [len(day) for day in days[-3:]] == [1, 3, 1]


def test_work_on_the_line_parts_the_readings_of_a_day() -> None:
    before = LoggedReading("2026-03-04", "feed", vacuum=(quantity("26 kPa", Kind.VACUUM),))
    after = replace(before, vacuum=(quantity("8 kPa", Kind.VACUUM),), work=("strainer cleaned",))
    again = replace(after, work=())
    layout = replace(DRAWN, readings=(before, after, again))
    assert visits(layout, "feed") == ((0,), (1, 2))
    assert visit_names(layout, "feed") == ("2026-03-04", "2026-03-04, strainer cleaned")
    assert stop_text(newest(layout, ["feed"]), System.SI) == ""  # what said stop was mended
    timed = replace(layout, readings=(replace(after, when="2026-03-04 15:00"), before))
    assert visits(timed, "feed") == ((1,), (0,))  # by the time of day, whatever the order in the file


def test_a_newest_reading_above_what_is_allowed_comes_first() -> None:
    layout = with_last("26 kPa")
    text = stop_text(newest(layout, layout.pumps), System.SI)
    assert text == "26.0 kPa read at the port of feed on 2026-02-24, no more than 19.2 kPa is allowed there"
    drawn = outlook(judge(layout), System.SI)
    assert drawn.headline.startswith("Within")
    first = stopped(drawn, text)
    assert (first.severity, first.word) == (Grade.STOP, STOP)
    assert first.headline == f"{text}. As drawn: w{drawn.headline[1:]}"
    assert stop_first(text, drawn.headline) == f"{STOP}: {first.headline}"


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
    assert stopped(drawn, "") is drawn
    assert stop_first("", drawn.headline) == drawn.headline


def test_a_reading_above_that_a_later_visit_followed_is_of_the_past() -> None:
    layout = with_last("26 kPa")
    later = replace(layout.readings[-1], when="2026-03-02", vacuum=(quantity("9 kPa", Kind.VACUUM),))
    layout = replace(layout, readings=(*layout.readings, later))
    assert stop_text(newest(layout, layout.pumps), System.SI) == ""
