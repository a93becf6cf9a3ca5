"""Places off an element are those that the grids themselves call free, cheapest first."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.labels import Anchor, Box, Grid, Wish
from sketch.drawing.stand_offs import CROSSING, SIDES, Bounds, StandOffs

BOUNDS = Bounds((12.0, 30.0, 72.0, 140.0), crossed=6)

points = st.tuples(st.floats(-20.0, 320.0), st.floats(-20.0, 240.0))
strokes = st.lists(st.tuples(points, points, st.floats(0.0, 12.0)), max_size=6)
angles = st.floats(0.0, math.tau)


def _grids(lines: list[tuple[tuple[float, float], tuple[float, float], float]]) -> tuple[Grid, Grid]:
    drawn, texts = Grid(301.0, 219.0, 4.0), Grid(301.0, 219.0, 4.0)
    for a, b, width in lines:
        drawn.block_line((a, b), width)
    text = Box(40.0, 60.0, 70.0, 14.0)
    drawn.block(text)
    texts.block(text)
    return drawn, texts


@pytest.mark.parametrize("dot", [1.0, 1.7])
@given(lines=strokes, at=points, angle=angles, clear=st.floats(0.0, 12.0))
def test_each_is_free_and_costs_what_its_leader_crosses(
    dot: float,
    lines: list[tuple[tuple[float, float], tuple[float, float], float]],
    at: tuple[float, float],
    angle: float,
    clear: float,
) -> None:
    drawn, texts = _grids(lines)
    wish = Wish("a", 50.0, 15.0, (Anchor(*at, math.cos(angle), math.sin(angle), clear),))
    places = StandOffs(drawn, texts, dot).cheapest_first(wish, BOUNDS)
    for each in places:
        crossed = drawn.crossed(*each.leader)
        assert drawn.free(each.box)
        assert texts.free_line(*each.leader)
        assert crossed <= BOUNDS.crossed
        assert each.cost == each.distance + CROSSING * crossed
    assert [each.cost for each in places] == sorted(each.cost for each in places)


@given(lines=strokes, at=points, angle=angles)
def test_none_that_the_grids_call_free_is_passed_over(
    lines: list[tuple[tuple[float, float], tuple[float, float], float]], at: tuple[float, float], angle: float
) -> None:
    drawn, texts = _grids(lines)
    nx, ny = math.cos(angle), math.sin(angle)
    wish = Wish("a", 50.0, 15.0, (Anchor(*at, nx, ny, 3.0),))
    expected = 0
    for distance in BOUNDS.far:
        for turn in range(SIDES):
            sine, cosine = math.sin(math.tau * turn / SIDES), math.cos(math.tau * turn / SIDES)
            x, y = nx * cosine - ny * sine, nx * sine + ny * cosine
            reach = 3.0 + distance + (abs(x) * 50.0 + abs(y) * 15.0) / 2
            box = Box(at[0] + x * reach - 50.0 / 2, at[1] + y * reach - 15.0 / 2, 50.0, 15.0)
            foot = at[0] + x * 3.0, at[1] + y * 3.0
            leader = foot, box.nearest(*foot)
            well = drawn.crossed(*leader) <= BOUNDS.crossed and texts.free_line(*leader)
            expected += drawn.free(box) and well
    assert len(StandOffs(drawn, texts, 1.0).cheapest_first(wish, BOUNDS)) == expected


def test_an_element_with_nothing_round_it_has_its_label_square_to_it_and_near() -> None:
    drawn, texts = Grid(400.0, 400.0, 4.0), Grid(400.0, 400.0, 4.0)
    first, *_ = StandOffs(drawn, texts, 1.0).cheapest_first(
        Wish("a", 40.0, 16.0, (Anchor(200.0, 200.0, 0.0, -1.0, 6.0),)), BOUNDS
    )
    assert (first.cost, first.box.x) == (12.0, 180.0)
    assert first.box.bottom == pytest.approx(200.0 - 6.0 - 12.0)


def test_what_is_taken_later_is_not_asked_for() -> None:
    """The placer asks again for the labels that came since; the places are those of the bare sheet."""
    drawn, texts = Grid(400.0, 400.0, 4.0), Grid(400.0, 400.0, 4.0)
    wish = Wish("a", 40.0, 16.0, (Anchor(200.0, 200.0, 0.0, -1.0, 6.0),))
    places = StandOffs(drawn, texts, 1.0)
    before = places.cheapest_first(wish, BOUNDS)
    drawn.block(Box(0.0, 0.0, 400.0, 400.0))
    assert places.cheapest_first(wish, BOUNDS) == before != []
    assert not StandOffs(drawn, texts, 1.0).cheapest_first(wish, BOUNDS)
