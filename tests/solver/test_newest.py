"""What a terminal says of the newest readings before all else, and of a drawing without any."""

from __future__ import annotations

from dataclasses import replace

from solver.field.as_read import as_read
from solver.layout import file
from solver.newest import NewestInWords, first_line, newest_readings, read_first
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def test_without_readings_nothing_is_said() -> None:
    newest = newest_readings(replace(DRAWN, readings=()), None)
    assert newest == NewestInWords("", False)
    assert (read_first(newest, "Within"), first_line(newest)) == ("Within", "")


def test_a_reading_above_what_is_allowed_comes_first_and_one_not_compared_is_known() -> None:
    over = replace(DRAWN.readings[-1], vacuum=(quantity("26 kPa", Kind.VACUUM),))
    gone = replace(over, run="gone")
    newest = newest_readings(replace(DRAWN, readings=(over, gone)), "feed")
    assert newest.not_compared
    assert first_line(newest).startswith("Stop the pump: 26.0 kPa read at the port of feed on ")
    assert read_first(newest, "Within: 9.4 kPa").endswith("is allowed there. As drawn: within: 9.4 kPa")


def test_a_strainer_as_blocked_as_it_was_read_comes_before_within() -> None:
    newest = newest_readings(DRAWN, None)
    read = as_read(DRAWN)
    assert read is not None
    assert (newest.stop, newest.as_read_text, newest.over_as_read) == ("", read.text(System.SI), True)
    assert first_line(newest) == f"{read.text(System.SI)}.\n\n"
    words = read_first(newest, "Within: 9.4 kPa")
    assert words.startswith("As read on 2026-02-23: feed is over by ")
    assert words.endswith("; strainer is due for cleaning. As drawn: within: 9.4 kPa")


def test_an_alternative_is_judged_as_read_where_it_keeps_the_screen_that_was_read() -> None:
    layout = file.read(PATH).alternatives["Twice the strainer"].layout
    line, keeps = "Twice the strainer", replace(layout, intakes=DRAWN.intakes)
    assert newest_readings(layout, None, line, base=DRAWN).as_read_text == ""
    assert newest_readings(keeps, None, line, base=DRAWN).over_as_read
    assert not newest_readings(keeps, None, line).over_as_read
