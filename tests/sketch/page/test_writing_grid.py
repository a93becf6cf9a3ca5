"""Empty lines to write on take the room that a page has left, and no more."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.writing_grid import WritingGrid

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

GRID = WritingGrid((("Date", 1.0), ("Reading", 2.0)), 6, 2, 26.0)


def test_it_fills_the_room_that_is_left() -> None:
    ruler = Ruler()
    head = GRID.height(ruler, 500.0) - 6 * 26.0
    for lines in (2, 5, 14):
        room = head + (lines + 0.5) * 26.0
        filled = GRID.filling(ruler, 500.0, room)
        assert filled.lines == lines
        assert filled.height(ruler, 500.0) <= room
        assert GRID.fits(ruler, 500.0, room)
    assert not GRID.fits(ruler, 500.0, head + 1.5 * 26.0)
    assert GRID.filling(ruler, 500.0, head).lines == GRID.fewest


def test_a_heading_is_broken_into_lines_where_its_column_is_narrow() -> None:
    long = WritingGrid((("Speed of the pump", 1.0), ("Notes", 8.0)), 6, 2, 26.0)
    assert long.height(Ruler(), 500.0) > GRID.height(Ruler(), 500.0)
    assert long.height(Ruler(), 5000.0) == GRID.height(Ruler(), 5000.0)
