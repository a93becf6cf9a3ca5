"""Labels in a column, moved apart."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.separation import separated

heights = st.lists(st.tuples(st.floats(0, 300), st.floats(5, 20)), min_size=1, max_size=15)


@given(heights)
def test_spread_labels_do_not_overlap_and_stay_inside(wanted: list[tuple[float, float]]) -> None:
    wanted.sort()
    centres, tall = [c for c, _ in wanted], [h for _, h in wanted]
    apart = separated(centres, tall, 0.0, 300.0)
    edges = [(y - h / 2, y + h / 2) for y, h in zip(apart, tall, strict=True)]
    for (_, low), (high, _) in pairwise(edges):
        assert high >= low - 1e-9
    assert edges[0][0] >= -1e-9
    assert edges[-1][1] <= 300.0 + 1e-9


def test_labels_with_room_stay_where_they_belong() -> None:
    assert separated([10.0, 50.0, 90.0], [10.0] * 3, 0.0, 100.0) == pytest.approx([10.0, 50.0, 90.0])


def test_two_that_touch_give_way_alike() -> None:
    assert separated([50.0, 52.0], [10.0, 10.0], 0.0, 100.0) == pytest.approx([46.0, 56.0])
