"""Labels in rows: none over another, their leaders in the order of their elements."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.label_rows import DOWN, LEFT, RIGHT, ROWS, UP, Row, in_rows
from sketch.drawing.labels import XY, Anchor, Box, Grid, Wish

SHEET = Box(0.0, 0.0, 900.0, 900.0)


def _wishes(feet: list[XY]) -> dict[int, Wish]:
    return {at: Wish(str(at), 40.0, 16.0, (Anchor(x, y, 0.0, -1.0, 4.0),)) for at, (x, y) in enumerate(feet)}


@pytest.mark.parametrize("row", ROWS)
@given(feet=st.lists(st.tuples(st.floats(300, 600), st.floats(300, 600)), min_size=1, max_size=9))
def test_no_label_of_a_row_covers_another_nor_the_line(row: Row, feet: list[XY]) -> None:
    places = in_rows(row, _wishes(feet), Grid(900.0, 900.0, 4.0), SHEET, 1.0)
    assert set(places) == set(range(len(feet)))
    for one, other in combinations([place.box for place in places.values()], 2):
        assert not one.grown(-0.01).overlaps(other)
    for place in places.values():
        assert not any(place.box.grown(row.gap - 0.01).holds(x, y) for x, y in feet)


@pytest.mark.parametrize("side", [UP, DOWN, LEFT, RIGHT])
def test_labels_stand_in_the_order_of_their_elements(side: XY) -> None:
    upright = side[0] != 0.0
    feet = [(400.0, 400.0 + 9.0 * at) if upright else (400.0 + 9.0 * at, 400.0) for at in range(6)]
    places = in_rows(Row((side,), 20.0), _wishes(feet), Grid(900.0, 900.0, 4.0), SHEET, 1.0)
    along = [places[at].box.y if upright else places[at].box.x for at in range(6)]
    assert along == sorted(along)
    for at, place in places.items():
        box, ((x, y), end) = place.box, place.leader
        assert (box.x - feet[at][0]) * side[0] + (box.y - feet[at][1]) * side[1] > 0.0
        assert (x, y) != feet[at]  # it begins at the edge of the element
        assert box.nearest(*feet[at]) == end


def test_each_stands_on_the_side_where_its_leader_crosses_least() -> None:
    grid = Grid(900.0, 900.0, 4.0)
    grid.block(Box(380.0, 380.0, 40.0, 8.0))
    places = in_rows(Row((UP, DOWN), 44.0), _wishes([(400.0, 400.0), (500.0, 400.0)]), grid, SHEET, 1.0)
    assert places[0].box.y > 400.0
    assert places[1].box.y < 400.0
