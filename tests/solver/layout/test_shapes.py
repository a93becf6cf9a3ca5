"""The outline of a reservoir as a polygon."""

from dataclasses import replace

import pytest

from solver.layout.shapes import MOST_KEPT, distance, made_once, polygon, sides
from tests.drawings import metres, tank


def test_a_polygon_is_made_once_for_an_outline() -> None:
    one = tank()
    assert polygon(one.outline) is polygon(replace(one, depth=metres(9.0)).outline)
    moved = tuple((x, metres(y.si + 1.0)) for x, y in one.outline)
    assert polygon(moved) is not polygon(one.outline)
    assert polygon(moved).area == pytest.approx(polygon(one.outline).area)


def test_how_far_a_point_lies_outside() -> None:
    corners = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 0.5), (0.0, 1.0))  # with a notch in its rim
    outline = tuple((metres(x), metres(y)) for x, y in corners)
    assert distance(outline, 1.0, 0.25) == distance(outline, 2.0, 0.5) == 0.0
    assert distance(outline, 3.0, 0.5) == pytest.approx(1.0)
    assert distance(outline, 1.0, 1.0) > 0.4


def test_the_sides_are_those_of_the_polygon() -> None:
    one = tank()
    assert sides(one.outline) == polygon(one.outline).bounds
    moved = tuple((x, metres(y.si + 1.0)) for x, y in one.outline)
    assert sides(moved)[1] == pytest.approx(sides(one.outline)[1] + 1.0)


def test_what_is_made_once_is_made_again_for_another_thing() -> None:
    """Things are told apart by identity, also where the memory of one is that of another gone before."""
    listing = made_once(lambda thing: list(thing))
    one = (1.0,)
    assert listing(one) is listing(one)
    for number in range(3 * MOST_KEPT):
        assert listing((float(number), number)) == [float(number), number]
