"""Places on paper: the largest shares keep their labels, and each stands by its own part."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.labels import Anchor, Box, Wish
from sketch.drawing.paper_places import NEARER, TIGHT, PaperPlacer, Wanted, best_places


def _wanted(key: str, x: float, y: float, wide: float = 40.0, *, name: float = 0.0) -> Wanted:
    anchors = (Anchor(x, y, 0.0, -1.0, 6.0),)
    shorter = Wish(key, wide, 16.0, anchors) if name else None
    return Wanted(Wish(key, wide + name, 16.0, anchors), shorter, share=True)


def _strip(high: float) -> PaperPlacer:
    """A sheet with one free strip of that height over a pipe."""
    placer = PaperPlacer(400.0, 200.0)
    placer.lines.block(Box(0.0, 0.0, 400.0, 92.0 - high))
    placer.lines.block(Box(0.0, 92.0, 400.0, 108.0))
    placer.texts.block(Box(0.0, 112.0, 400.0, 88.0))
    return placer


def test_where_one_must_go_it_is_the_smallest() -> None:
    placer = PaperPlacer(60.0, 60.0)
    wanted = [_wanted("dear", 30.0, 30.0), _wanted("cheap", 30.0, 30.0), _wanted("least", 30.0, 30.0)]
    placer.lines.block(Box(0.0, 24.0, 60.0, 12.0))
    places = best_places(placer, wanted).places
    assert [place is not None for place in places] == [True, True, False]


def test_a_name_goes_before_a_share_does() -> None:
    wanted = [_wanted(key, 40.0 + 64.0 * at, 100.0, name=160.0) for at, key in enumerate("abcdef")]
    result = best_places(_strip(20.0), wanted)
    assert all(place is not None for place in result.places)
    assert result.shorter


def test_a_label_that_was_left_without_a_place_comes_sooner_in_the_next_order() -> None:
    """The large one may stand in either of two places, the small one in one of them, which is the nearer."""
    placer = PaperPlacer(200.0, 100.0)
    placer.lines.block(Box(0.0, 0.0, 200.0, 100.0))
    rows = placer.lines.rows
    for left in (20, 120):
        mask = ((1 << 11) - 1) << (left // 4)
        for row in range(10, 14):
            rows[row] &= ~mask
    near, far = Anchor(42.0, 70.0, 0.0, -1.0, 8.0), Anchor(142.0, 70.0, 0.0, -1.0, 8.0)
    large = Wanted(Wish("large", 40.0, 12.0, (near, far)), share=True)
    small = Wanted(Wish("small", 40.0, 12.0, (near,), stand_off=False), share=True)
    places = best_places(placer, [large, small]).places
    assert all(place is not None for place in places)


def test_a_tight_place_is_left_for_a_leader() -> None:
    """Between two pipes it would be taken for either's."""
    placer = PaperPlacer(400.0, 400.0)
    wish = Wish("a", 40.0, 16.0, (Anchor(200.0, 200.0, 0.0, -1.0, 4.0),))
    placer.lines.block_line(((100.0, 200.0), (300.0, 200.0)), 8.0)
    placer.lines.block_line(((190.0, 174.0), (210.0, 174.0)), 4.0)
    placer.lines.block_line(((190.0, 226.0), (210.0, 226.0)), 4.0)
    place = placer.place(wish)
    assert place is not None
    assert place.leader is not None
    assert placer.cost < TIGHT


placed = st.lists(
    st.tuples(st.floats(20.0, 380.0), st.floats(20.0, 380.0), st.floats(0.0, 80.0)), min_size=1, max_size=16
)


@pytest.mark.parametrize("dot", [1.0, 2.0])
@given(each=placed)
def test_no_label_on_paper_covers_another_nor_a_pipe_nor_a_leader(
    dot: float, each: list[tuple[float, float, float]]
) -> None:
    placer = PaperPlacer(400.0 * dot, 400.0 * dot, dot)
    placer.lines.block_line(((0.0, 200.0 * dot), (400.0 * dot, 200.0 * dot)), 6.0 * dot)
    wanted = [_wanted(str(at), x * dot, y * dot, name=name) for at, (x, y, name) in enumerate(each)]
    given = [place for place in best_places(placer, wanted).places if place is not None]
    for number, place in enumerate(given):
        assert place.box.bottom <= 197.0 * dot or place.box.y >= 203.0 * dot
        if place.leader is not None:
            (ax, ay), (bx, by) = place.leader
            assert abs(ax - bx) + abs(ay - by) <= 2.0 * (NEARER.far[-1] + 60.0) * dot
        for other in given[number + 1 :]:
            assert not place.box.overlaps(other.box)


def test_a_share_with_no_room_near_it_stands_far_off() -> None:
    """Where a name is left out."""
    placer = PaperPlacer(800.0, 800.0)
    for y in range(200, 600, 12):
        placer.lines.block_line(((200.0, float(y)), (600.0, float(y))))
    wanted = _wanted("share", 400.0, 400.0)
    name = Wanted(wanted.wish._replace(key="name"), name=True)
    placed, missing = best_places(placer, [wanted, name]).places
    assert missing is None
    assert placed is not None
    assert placed.leader is not None


def test_shares_of_a_crowded_line_stand_in_a_row_where_they_bar_one_another() -> None:
    placer = PaperPlacer(500.0, 300.0)
    placer.lines.block_line(((180.0, 150.0), (300.0, 150.0)), 6.0)
    placer.block_text(Box(60.0, 112.0, 400.0, 18.0))
    placer.block_text(Box(60.0, 170.0, 60.0, 18.0))
    wanted = [_wanted(str(at), 184.0 + 13.0 * at, 150.0) for at in range(8)]
    assert all(best_places(placer, wanted).places)
