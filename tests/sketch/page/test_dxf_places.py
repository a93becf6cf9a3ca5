"""Places on a DXF: a figure over its line, read from below or the right; a text on nothing else."""

from __future__ import annotations

import pytest

from sketch.drawing.labels import Anchor, Box
from sketch.page.dxf_places import OFF, FreePlaces, dimension_line, figure_box, measured, text_size
from solver.layout.remarks import TextAnchor
from tests.solver.checking import lifted

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize(
    ("a", "b", "line", "middle"),
    [
        ((0.0, 0.0), (200.0, 0.0), ((0.0, -60.0), (200.0, -60.0)), (100.0, -72.0)),
        ((200.0, 0.0), (0.0, 0.0), ((0.0, -60.0), (200.0, -60.0)), (100.0, -72.0)),
        ((0.0, 0.0), (0.0, 200.0), ((-60.0, 200.0), (-60.0, 0.0)), (-72.0, 100.0)),
        ((0.0, 200.0), (0.0, 0.0), ((-60.0, 200.0), (-60.0, 0.0)), (-72.0, 100.0)),
    ],
)
def test_a_figure_lies_over_its_line_whichever_way_that_is_drawn(
    a: tuple[float, float], b: tuple[float, float], line: object, middle: tuple[float, float]
) -> None:
    """From left to right, or upwards: y runs down here."""
    of = measured(a, b, "1234")
    assert dimension_line(of, 60.0) == line
    box = figure_box(of, 60.0)
    assert (box.x + box.width / 2, box.y + box.height / 2) == pytest.approx(middle)
    assert (box.width > box.height) is (a[1] == b[1])


def test_the_next_dimension_of_the_line_lies_farther_off_or_on_the_other_side() -> None:
    places = FreePlaces(lifted(), 100.0)
    of = measured((300.0, 300.0), (340.0, 300.0), "12345678")
    first, second, third = (places.dimension(of) for _ in range(3))
    assert first == OFF[0]
    assert second == -OFF[0]
    assert third == OFF[1]
    boxes = [figure_box(of, each) for each in (first, second, third)]
    assert not any(one.overlaps(other) for one in boxes for other in boxes if one is not other)


def test_on_the_right_it_is_as_far_off_as_it_must_be() -> None:
    of = measured((300.0, 300.0), (300.0, 100.0), "12")
    assert FreePlaces(lifted(), 100.0).dimension(of, 50.0, right=True) == -(OFF[0] + 50.0)


def test_a_text_keeps_off_the_line_and_comes_nearest_to_its_own_part() -> None:
    places = FreePlaces(lifted(), 100.0)
    places.keep_off(Box(220.0, 260.0, 80.0, 300.0))
    ((beside, end),) = places.best([("strainer", [Anchor(300.0, 400.0, 1.0, 0.0)])])
    assert (beside.leader, end) == (None, TextAnchor.LEFT)
    assert beside.box.x > 300.0
    ((other, end),) = places.best([("strainer", [Anchor(220.0, 400.0, 1.0, 0.0)])])
    assert (other.leader, end) == (None, TextAnchor.RIGHT)
    assert other.box.right < 220.0
    ((off, _),) = places.best([("strainer", [Anchor(260.0, 400.0, 1.0, 0.0)])])
    assert off.leader is None or off.box.right < 220.0 or off.box.x > 300.0


def test_a_text_is_as_high_as_its_letters_and_their_tails() -> None:
    (wide, high), (wider, higher) = text_size("abc"), text_size("abc", 2.0)
    assert wide < wider
    assert higher == 2 * high
    assert text_size("abcd")[0] - wide == 14.0


def test_the_first_free_box_is_given_out_once() -> None:
    places = FreePlaces(lifted(), 100.0)
    boxes = [Box(100.0, 100.0, 50.0, 20.0), Box(100.0, 200.0, 50.0, 20.0)]
    given = [places.first("name", boxes) for _ in range(3)]
    assert [each and each.box for each in given] == [*boxes, None]
