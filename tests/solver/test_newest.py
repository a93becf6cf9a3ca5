"""What a terminal says of the newest readings before all else, and of a drawing without any."""

from __future__ import annotations

from dataclasses import replace

from solver.layout import file
from solver.newest import NewestInWords, newest_readings, stop_first, stop_line
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def test_without_readings_nothing_is_said() -> None:
    newest = newest_readings(replace(DRAWN, readings=()), None)
    assert newest == NewestInWords("", False)
    assert (stop_first(newest, "Within"), stop_line(newest)) == ("Within", "")


def test_a_reading_above_what_is_allowed_comes_first_and_one_not_compared_is_known() -> None:
    over = replace(DRAWN.readings[-1], vacuum=(quantity("26 kPa", Kind.VACUUM),))
    gone = replace(over, run="gone")
    newest = newest_readings(replace(DRAWN, readings=(over, gone)), "feed")
    assert newest.not_compared
    assert stop_line(newest).startswith("Stop the pump: 26.0 kPa read at the port of feed on ")
    assert stop_first(newest, "Within: 9.4 kPa").endswith("is allowed there. As drawn: within: 9.4 kPa")
