"""The column's place on its panel."""

from __future__ import annotations

import math

import pytest

from sketch.air_column.frame import corners, foot_of_lane, frame_of
from sketch.drawing.labels import Box
from tests.sketch import samples


@pytest.mark.parametrize("dot", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("size", [(340.0, 500.0), (220.0, 300.0)])
def test_the_column_stays_on_its_panel(size: tuple[float, float], dot: float) -> None:
    area = Box(0.0, 0.0, size[0] * dot, size[1] * dot)
    frame = frame_of(area, dot, 60.0 * dot)
    assert area.x < frame.x
    assert area.y + 60.0 * dot < frame.y
    assert frame.right < area.right
    assert frame.bottom <= area.bottom


def test_the_lane_is_there_where_something_is_given() -> None:
    assert foot_of_lane(samples.ledger(samples.SHARES)) == math.inf
    flooded = samples.ledger({"tank/flooded head": -0.4, **samples.SHARES})
    assert foot_of_lane(flooded) == min(flooded.surface, flooded.atmosphere)
    pressed = samples.ledger(samples.SHARES, surface=120_000.0, atmosphere=95_000.0)
    assert foot_of_lane(pressed) == 95_000.0


def test_corners_go_round() -> None:
    assert corners(Box(1, 2, 3, 4)) == ((1, 2), (4, 2), (4, 6), (1, 6))
