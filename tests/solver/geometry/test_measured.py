"""Where a dimension lies, worked out by hand."""

from __future__ import annotations

import math

import pytest

from solver.geometry import measured
from solver.layout.remarks import Direction, OwnDimension
from solver.quantities.units import Kind, quantity
from tests import drawings

A, B = (0.0, 0.0), (3.0, 4.0)


def test_each_direction_has_its_line_and_its_length() -> None:
    for direction, line, length in (
        (Direction.ACROSS, ((0.0, 2.0), (3.0, 2.0)), 3.0),
        (Direction.UP, ((2.0, 0.0), (2.0, 4.0)), 4.0),
        (Direction.STRAIGHT, ((-1.6, 1.2), (1.4, 5.2)), 5.0),
    ):
        ends = measured.line_between(A, B, direction, 2.0)
        for point, wanted in zip(ends, line, strict=True):
            assert point == pytest.approx(wanted)
        assert math.dist(*ends) == pytest.approx(length)
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        assert measured.offset_through(A, B, direction, *middle) == pytest.approx(2.0)


def test_where_a_line_is_put_down_says_what_it_measures() -> None:
    assert measured.direction_towards(A, B, 1.0, 6.0) is Direction.ACROSS
    assert measured.direction_towards(A, B, 5.0, 1.0) is Direction.UP
    assert measured.direction_towards(A, B, 1.0, 2.0) is Direction.STRAIGHT
    assert measured.direction_towards(A, B, 9.0, 9.0) is Direction.STRAIGHT
    assert measured.direction_towards(A, (3.0, 0.0), 9.0, 9.0) is Direction.ACROSS


def test_a_part_is_measured_at_its_port_and_none_where_it_is_not_drawn() -> None:
    layout = drawings.stand()
    zero = quantity("0 m", Kind.LENGTH)
    dimension = OwnDimension("press", (zero, zero), Direction.UP, zero)
    port = layout.pumps["press"].at
    assert measured.ends(layout, dimension) == ((port[0].si, port[1].si), (0.0, 0.0))
    assert measured.dimension_line(layout, dimension.with_part_named("press", "gone")) is None
    assert measured.place_of(layout, next(iter(layout.reservoirs))) is None, "no part that lines end on"
