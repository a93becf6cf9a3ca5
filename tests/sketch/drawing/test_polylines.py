"""Directions and places along a line from corner to corner."""

from __future__ import annotations

import pytest

from sketch.drawing import polylines


def test_the_tail_of_a_line() -> None:
    line = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    assert polylines.tail(line, 0.25) == ((5.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    assert polylines.tail(line, 0.75) == ((10.0, 5.0), (10.0, 10.0))
    assert polylines.tail(line, 0.0) == line


def test_a_share_of_a_line_is_a_place_and_a_direction() -> None:
    line = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    at, way = polylines.along(line, 0.75)
    assert at == pytest.approx((10.0, 5.0))
    assert way == (0.0, 1.0)


def test_no_way_leads_from_a_point_to_itself() -> None:
    assert polylines.toward((1.0, 1.0), (1.0, 1.0)) is None
    assert polylines.toward((1.0, 1.0), (1.0, 3.0)) == (0.0, 1.0)
