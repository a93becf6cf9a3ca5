"""Places for labels: nothing covered, the same every time, and quick to ask for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing.labels import XY, Anchor, Box, Wish
from sketch.drawing.placer import Placer

coordinate = st.floats(0, 390)

anchors = st.builds(
    lambda x, y, turn, clear: Anchor(x, y, math.sin(turn), -math.cos(turn), clear),
    coordinate, coordinate, st.floats(0, 6.3), st.floats(0, 20),
)  # fmt: skip
wishes = st.lists(
    st.builds(
        lambda key, wide, high, anchor: Wish(key, wide, high, (anchor,)),
        st.text("ab", max_size=3), st.floats(10, 80), st.floats(8, 20), anchors,
    ),
    max_size=40,
)  # fmt: skip


def _placed(wanted: list[Wish]) -> list[object]:
    placer = Placer(400, 400)
    placer.lines.block_line(((0, 200), (400, 200)), 6)
    return [placer.place(wish) for wish in wanted]


@given(wishes)
def test_no_label_covers_another_nor_a_line_nor_a_leader_a_label(wanted: list[Wish]) -> None:
    placer = Placer(400, 400)
    placer.lines.block_line(((0, 200), (400, 200)), 6)
    placed = [place for wish in wanted if (place := placer.place(wish)) is not None]
    for number, place in enumerate(placed):
        assert place.box.bottom <= 197 or place.box.y >= 203
        for other in placed[number + 1 :]:
            assert not place.box.overlaps(other.box)
            for leader, box in ((place.leader, other.box), (other.leader, place.box)):
                assert leader is None or not any(
                    box.holds(
                        leader[0][0] + (leader[1][0] - leader[0][0]) * k / 20,
                        leader[0][1] + (leader[1][1] - leader[0][1]) * k / 20,
                    )
                    for k in range(20)
                )


@given(wishes)
def test_the_same_wishes_get_the_same_places(wanted: list[Wish]) -> None:
    assert _placed(wanted) == _placed(wanted)


def test_a_label_beside_its_element_needs_no_leader_and_one_that_stands_off_has_one() -> None:
    placer = Placer(400, 400)
    wish = Wish("a", 40, 16, (Anchor(200, 200, 1.0, 0.0, 5.0),))
    near = placer.place(wish)
    assert near is not None
    assert near.leader is None
    assert near.box.x == pytest.approx(209.0)
    placer.lines.block(Box(180, 185, 40, 30))
    far = placer.place(wish)
    assert far is not None
    assert far.leader is not None
    assert far.leader[1] == far.box.nearest(*far.leader[0])


def test_a_leader_runs_across_a_pipe_but_not_along_it() -> None:
    placer = Placer(400, 400)
    placer.lines.block_line(((40, 200), (360, 200)), 12)
    placer.lines.block(Box(0, 100, 400, 88))
    placer.lines.block(Box(0, 212, 400, 8))
    across = placer.place(Wish("a", 40, 16, (Anchor(200, 200, 0.0, -1.0, 6.0),)))
    assert across is not None
    assert across.leader is not None
    (_, y1), (_, y2) = across.leader
    assert abs(y2 - y1) > 10
    placer.block_text(Box(0, 220, 400, 180))
    placer.block_text(Box(0, 0, 400, 100))
    assert placer.place(Wish("b", 30, 16, (Anchor(60, 200, 0.0, -1.0, 6.0),))) is None


@given(wishes)
def test_no_leader_crosses_another(wanted: list[Wish]) -> None:
    placer = Placer(400, 400)
    placer.lines.block(Box(0, 150, 400, 100))
    placed = [placer.place(wish) for wish in wanted]
    leaders = [place.leader for place in placed if place is not None and place.leader is not None]
    for number, one in enumerate(leaders):
        for other in leaders[number + 1 :]:
            assert not (_parted(*one, *other) and _parted(*other, *one))


def _parted(a: XY, b: XY, p: XY, q: XY) -> bool:
    """Whether p and q lie on different sides of the line through a and b."""
    sides = [(b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) for x, y in (p, q)]
    return sides[0] * sides[1] < -1e-9


def test_a_label_that_may_not_stand_off_is_dropped() -> None:
    placer = Placer(400, 400)
    placer.block_text(Box(150, 150, 100, 100))
    assert placer.place(Wish("a", 40, 16, (Anchor(200, 200),), stand_off=False)) is None


def test_on_a_sheet_past_reading_the_search_ends() -> None:
    placer = Placer(4000, 4000)
    placer.block_text(Box(1000, 1000, 2000, 2000))
    wish = Wish("a", 40, 16, (Anchor(2000, 2000),))
    for _ in range(100):
        assert placer.place(wish) is None
    assert placer.patience == 0
    beside = placer.place(Wish("b", 40, 16, (Anchor(500, 500),)))
    assert beside is not None, "a label with room beside its element needs no search"


def test_a_label_that_must_be_told_finds_room_where_another_would_be_dropped() -> None:
    def crowded() -> Placer:
        placer = Placer(600, 400)
        placer.lines.block(Box(60, 60, 480, 280))
        return placer

    wish = Wish("dear", 60, 18, (Anchor(300, 200),))
    assert crowded().place(wish) is None
    place = crowded().place_anyway(wish)
    assert place is not None
    assert place.leader is not None
    assert not place.box.overlaps(Box(60, 60, 480, 280))
    free = Wish("dear", 60, 18, (Anchor(300, 30),))
    assert crowded().place_anyway(free) == crowded().place(free)
