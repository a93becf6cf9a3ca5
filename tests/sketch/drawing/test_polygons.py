"""Hatching, clipping and ribbons of convex polygons."""

from __future__ import annotations

import math

import pytest

from sketch.drawing.labels import Box
from sketch.drawing.polygons import clipped, hatch, ribbon

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
DIAMOND = ((5.0, 0.0), (10.0, 5.0), (5.0, 10.0), (0.0, 5.0))


def area(polygon: tuple[tuple[float, float], ...]) -> float:
    closed = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in closed)) / 2


@pytest.mark.parametrize("rising", [True, False])
@pytest.mark.parametrize("polygon", [SQUARE, DIAMOND], ids=["upright", "turned"])
def test_hatching_runs_at_45_degrees_and_stays_inside(
    polygon: tuple[tuple[float, float], ...], rising: bool
) -> None:
    lines = hatch(polygon, 2.3, rising=rising)
    assert lines
    for (ax, ay), (bx, by) in lines:
        assert (by - ay) / (bx - ax) == pytest.approx(-1.0 if rising else 1.0)
        assert all(-1e-9 <= value <= 10 + 1e-9 for value in (ax, ay, bx, by))


def test_what_has_no_area_has_no_hatching() -> None:
    assert hatch(SQUARE[:2], 1.0) == []


def test_clipping_keeps_what_lies_in_the_box() -> None:
    assert clipped(SQUARE, Box(-1, -1, 20, 20)) == SQUARE
    assert area(clipped(SQUARE, Box(2, 3, 4, 20))) == pytest.approx(4 * 7)
    assert area(clipped(DIAMOND, Box(0, 0, 5, 10))) == pytest.approx(25)
    assert clipped(SQUARE, Box(20, 20, 5, 5)) == ()


def test_a_ribbon_covers_the_length_of_its_line_times_its_width() -> None:
    pieces = ribbon([(0.0, 0.0), (3.0, 4.0)], 2.0)
    assert sum(map(area, pieces)) == pytest.approx(math.hypot(3, 4) * 2.0)
