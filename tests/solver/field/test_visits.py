"""Readings that belong together: of a day, and of the day before within 24 hours, never across work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.visits import (
    name_of,
    read_running,
    untimed_before,
    visit_names,
    visit_of,
    visits,
)
from solver.layout import file
from solver.layout.logged import WORK, LoggedReading
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base
READ = LoggedReading("2026-03-04", "feed")


def visited(*readings: str | LoggedReading, built: str = "") -> tuple[tuple[int, ...], ...]:
    """Readings visit by visit, given in full or by when they were read."""
    return visits(read(*readings, built=built), "feed")


def read(*readings: str | LoggedReading, built: str = "") -> Layout:
    logged = (replace(READ, when=each) if isinstance(each, str) else each for each in readings)
    return replace(DRAWN, readings=tuple(logged), built=built)


def test_a_hot_afternoon_and_the_cold_morning_after_it_are_one_visit() -> None:
    layout = read("2026-02-01 10:00", "2026-03-04 15:00", "2026-03-05 07:00")
    assert visits(layout, "feed") == ((0,), (1, 2))
    assert visit_names(layout, "feed") == ("2026-02-01", "2026-03-04 to 2026-03-05")


@pytest.mark.parametrize(("morning", "together"), [("09:30", True), ("09:31", False)])
def test_two_days_are_one_visit_up_to_24_hours(morning: str, together: bool) -> None:
    assert (len(visited("2026-03-04 09:30", f"2026-03-05 {morning}")) == 1) is together


def test_a_day_is_never_parted_and_a_visit_has_two_days_at_most() -> None:
    assert visited("2026-03-04 07:00", "2026-03-04 23:00", "2026-03-05 06:00") == ((0, 1, 2),)
    days = [f"2026-03-0{day} {hour}:00" for day in (3, 4, 5) for hour in ("07", "16")]
    assert visited(*days) == ((0, 1), (2, 3, 4, 5)), "from the latest back, so that this is never alone"


def test_a_date_alone_brings_no_two_days_together() -> None:
    assert visited("2026-03-04", "2026-03-05") == ((0,), (1,))
    assert visited("2026-03-04 15:00", "2026-03-05") == ((0,), (1,))
    assert visited("2026-03-04", "2026-03-04 15:00", "2026-03-05", "2026-03-05 07:00") == ((0, 1, 2, 3),)


@pytest.mark.parametrize("work", WORK)
def test_no_visit_goes_across_work_that_is_noted(work: str) -> None:
    evening, morning = (replace(READ, when=when) for when in ("2026-03-04 15:00", "2026-03-05 07:00"))
    assert visited(evening, replace(morning, work=(work,))) == ((0,), (1,))
    other = replace(READ, pump="pilot", when="2026-03-04 19:00", work=(work,))
    assert visited(evening, morning, other) == ((0,), (1,)), "done on the line of another pump"
    assert visited(evening, morning, replace(other, when="2026-03-04 09:00")) == ((0, 1),)
    assert visited(evening, morning, built="2026-03-05") == ((0,), (1,)), "and the line built anew"


def test_work_parts_the_readings_of_a_day_and_each_part_has_a_name() -> None:
    cleaned = replace(READ, work=("strainer cleaned",))
    layout = read(READ, cleaned, READ, cleaned)
    assert visits(layout, "feed") == ((0,), (1, 2), (3,))
    names = ("2026-03-04", "2026-03-04, strainer cleaned", "2026-03-04, strainer cleaned (2)")
    assert visit_names(layout, "feed") == names
    timed = read(replace(cleaned, when="2026-03-04 15:00"), READ)
    assert visits(timed, "feed") == ((1,), (0,)), "by the time of day, whatever the order in the file"


def test_a_visit_after_work_is_named_by_it_where_its_day_is_of_another_too() -> None:
    after = replace(READ, when="2026-03-05 11:00", work=("breather changed",))
    layout = read("2026-03-04 15:00", "2026-03-05 07:00", after)
    names = ("2026-03-04 to 2026-03-05", "2026-03-05, breather changed")
    assert visit_names(layout, "feed") == names
    assert [name_of(layout, number) for number in range(3)] == [names[0], names[0], names[1]]


def test_readings_of_other_pumps_and_lines_are_of_no_visit() -> None:
    layout = read(READ, replace(READ, pump="pilot"), replace(READ, line="old"))
    assert visits(layout, "feed") == ((0,),)
    assert visits(layout, "feed", "old") == ((2,),)


def test_every_reading_is_of_one_visit() -> None:
    earlier, evening, morning = "2026-02-01", "2026-03-04 15:00", "2026-03-05 07:00"
    layout = read(earlier, evening, morning, replace(READ, line="old"), replace(READ, pump="gone"))
    assert [visit_of(layout, number) for number in range(5)] == [(0,), (1, 2), (1, 2), (3,), (4,)]


@pytest.mark.parametrize(
    ("readings", "before"),
    [
        (("2026-03-04 15:00", "2026-03-05"), "2026-03-04"),
        (("2026-03-04", "2026-03-05 07:00"), "2026-03-04"),
        (("2026-03-04 15:00", "2026-03-05 07:00"), ""),
        (("2026-03-04 05:00", "2026-03-05 07:00"), ""),
        (("2026-03-03", "2026-03-05"), ""),
        (("2026-03-05",), ""),
        (("2026-03-04", replace(READ, when="2026-03-05", work=("line changed",))), ""),
    ],
)
def test_the_day_before_is_named_that_only_lacks_its_time(
    readings: tuple[str | LoggedReading, ...], before: str
) -> None:
    assert untimed_before(read(*readings), len(readings) - 1) == before


def test_a_pump_was_read_running_where_a_gauge_showed_something_with_it_running() -> None:
    shown = (quantity("8 kPa", Kind.VACUUM),)
    running = [replace(READ, when=day, vacuum=shown) for day in ("2026-03-06", "2026-03-04")]
    resting = replace(READ, when="2026-03-08", rest_vacuum=shown)
    assert read_running(read(*running, resting), "feed") == "2026-03-04 to 2026-03-06"
    assert read_running(read(resting), "feed") == ""
    assert read_running(read(*running), "other") == ""
