"""What of the sheet is taken: no more and no less than what stands there."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.labels import Box, Grid

coordinate = st.floats(0, 390)


def test_a_box_is_taken_whole_and_its_neighbours_stay_free() -> None:
    grid = Grid(100, 100, 4)
    grid.block(Box(20, 20, 20, 8))
    assert not grid.free(Box(18, 18, 4, 4))
    assert not grid.free(Box(39, 27, 10, 10))
    assert grid.free(Box(40, 20, 10, 10))
    assert grid.free(Box(20, 28, 10, 10))
    touching, right, under = Box(18, 18, 4, 4), Box(40, 20, 10, 10), Box(20, 28, 10, 10)
    assert grid.first_free((touching, right, under)) == right
    assert grid.first_free((touching,)) is None


def test_nothing_beyond_the_sheet_is_free() -> None:
    grid = Grid(100, 100, 4)
    for box in (Box(-1, 10, 5, 5), Box(10, -1, 5, 5), Box(97, 10, 5, 5), Box(10, 97, 5, 5)):
        assert not grid.free(box)


@given(coordinate, coordinate, coordinate, coordinate, st.floats(0, 1))
def test_no_point_of_a_line_is_free(x1: float, y1: float, x2: float, y2: float, share: float) -> None:
    grid = Grid(400, 400, 4)
    grid.block_line(((x1, y1), (x2, y2)), 6)
    x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share
    assert not grid.free(Box(x, y, 0.5, 0.5))


def test_a_slanting_line_takes_little_more_than_itself() -> None:
    grid = Grid(400, 400, 4)
    grid.block_line(((0, 0), (400, 400)), 4)
    assert grid.free(Box(40, 60, 8, 8))
    assert sum(row.bit_count() for row in grid.rows) < 100 * 5


def test_how_much_of_a_strip_is_taken() -> None:
    grid = Grid(100, 100, 4)
    grid.block(Box(0, 0, 100, 52))
    assert grid.occupied_share(Box(10, 0, 4, 99)) == pytest.approx(0.52, abs=0.03)


def test_how_far_a_level_line_gets() -> None:
    grid = Grid(400, 100, 4)
    grid.block(Box(100, 40, 20, 8))
    assert grid.clear_to(200, 10, 42) == 120
    assert grid.clear_to(10, 200, 42) == 100
    assert grid.clear_to(200, 10, 60) == 10
    assert grid.clear_to(110, 10, 42) == 110
    assert grid.clear_to(10, 200, -5) == 200


def test_a_level_line_leaves_out_what_is_written_on_it() -> None:
    grid = Grid(400, 100, 4)
    grid.block(Box(100, 40, 60, 16))
    assert grid.clear_spans(20, 400, 48, 4) == [(20, 100), (160, 400)]
    assert grid.clear_spans(20, 400, 38, 4) == [(20, 100), (160, 400)]
    assert grid.clear_spans(20, 400, 20, 4) == [(20, 400)]
    assert grid.clear_spans(100, 160, 48, 4) == []
