"""Places that are kept from frame to frame are those that labels placed anew would get."""

from __future__ import annotations

import random

import pytest

from sketch.drawing.kept_places import KeptPlaces
from sketch.drawing.labels import Anchor, LabelPlace, Wish
from sketch.drawing.placer import Placer

WIDE, HIGH = 640.0, 400.0


def wishes(choose: random.Random, count: int) -> list[Wish]:
    """Labels along a line, some with two anchors and some that may not stand off."""
    return [
        Wish(
            f"part {k}",
            choose.uniform(20, 90),
            16.0,
            tuple(
                Anchor(choose.uniform(20, WIDE - 20), choose.uniform(20, HIGH - 20), nx, ny, 6.0)
                for nx, ny in ((0.0, -1.0), (1.0, 0.0))[: choose.randint(1, 2)]
            ),
            stand_off=choose.random() < 0.7,
        )
        for k in range(count)
    ]


def moved(choose: random.Random, wanted: list[Wish]) -> list[Wish]:
    """One or two elsewhere; now and then one gone, one new, two in the other order."""
    changed = list(wanted)
    for at in choose.sample(range(len(changed)), choose.randint(0, 2)):
        x, y, *rest = changed[at].anchors[0]
        anchor = Anchor(x + choose.uniform(-12, 12), y + choose.uniform(-12, 12), *rest)
        changed[at] = changed[at]._replace(anchors=(anchor, *changed[at].anchors[1:]))
    if choose.random() < 0.3:
        changed.pop(choose.randrange(len(changed)))
    if choose.random() < 0.3:
        (added,) = wishes(choose, 1)
        changed.insert(choose.randrange(len(changed)), added._replace(key=f"new {choose.random()}"))
    if choose.random() < 0.3:
        at = choose.randrange(len(changed) - 1)
        changed[at], changed[at + 1] = changed[at + 1], changed[at]
    return changed


def placer(line: list[tuple[float, float]]) -> Placer:
    fresh = Placer(WIDE, HIGH)
    fresh.lines.block_line(line, 8.0)
    return fresh


def anew(wanted: list[Wish], line: list[tuple[float, float]]) -> list[LabelPlace | None]:
    fresh = placer(line)
    return [fresh.place_anyway(wish) if not at else fresh.place(wish) for at, wish in enumerate(wanted)]


@pytest.mark.parametrize("count", [6, 25, 60])
def test_kept_places_are_those_of_a_frame_placed_anew(count: int) -> None:
    choose = random.Random(count)
    wanted, line = wishes(choose, count), [(40.0, 300.0), (320.0, 300.0), (320.0, 90.0), (600.0, 90.0)]
    before: KeptPlaces | None = None
    searches = 0
    for _ in range(12):
        if choose.random() < 0.5:
            x, y = line[-1]
            line = [*line[:-1], (x + choose.uniform(-9, 9), y + choose.uniform(-9, 9))]
        places = KeptPlaces(placer(line), before)
        given = [places.place(wish, not at) for at, wish in enumerate(wanted)]
        assert given == anew(wanted, line)
        old = {id(each.place) for each in before.kept if each.place} if before is not None else set()
        searches += sum(place is not None and id(place) not in old for place in given)
        before, wanted = places, moved(choose, wanted)
    assert searches < 0.8 * 12 * count, "most places are looked for again"


def test_nothing_is_looked_for_again_where_nothing_has_changed() -> None:
    wanted, line = wishes(random.Random(3), 20), [(40.0, 300.0), (600.0, 90.0)]
    first = KeptPlaces(placer(line))
    given = [first.place(wish, anyway=False) for wish in wanted]
    second = KeptPlaces(placer(line), first)
    assert all(one is second.place(wish, anyway=False) for one, wish in zip(given, wanted, strict=True))
    smaller = KeptPlaces(Placer(WIDE / 2, HIGH), second)
    assert [smaller.place(wish, anyway=False) for wish in wanted] != given
