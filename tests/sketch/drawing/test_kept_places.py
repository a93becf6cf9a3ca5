"""Places that are kept from frame to frame are those that labels placed anew would get."""

from __future__ import annotations

import random

import pytest

from sketch.drawing.kept_places import HeldPlaces, KeptPlaces
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


def test_held_places_go_along_with_their_elements_and_none_is_looked_for() -> None:
    wanted, line = wishes(random.Random(5), 40), [(40.0, 300.0), (600.0, 90.0)]
    last = KeptPlaces(placer(line))
    given = [last.place(wish, anyway=False) for wish in wanted]
    assert any(place is None for place in given)
    assert any(place is not None and place.leader for place in given)
    shifted = [
        wish._replace(anchors=tuple(each._replace(x=each.x + 7.0, y=each.y - 5.0) for each in wish.anchors))
        if at % 2
        else wish
        for at, wish in enumerate(wanted)
    ]
    sheet = placer(line)
    held = HeldPlaces(sheet, last)
    for at, (wish, before) in enumerate(zip(shifted, given, strict=True)):
        patience, now = sheet.patience, held.place(wish, anyway=False)
        assert sheet.patience == patience
        if before is None or not at % 2:
            assert now is before
            continue
        assert now is not None
        assert now.box == pytest.approx(before.box.moved(7.0, -5.0))
        assert (now.leader is None) == (before.leader is None)
        assert not sheet.lines.free(now.box)
        assert not sheet.texts.free(now.box)
        if now.leader and before.leader:
            (x, y), _ = before.leader
            assert now.leader == ((x + 7.0, y - 5.0), now.box.nearest(x + 7.0, y - 5.0))


def test_held_places_are_found_in_any_order_and_a_new_label_gets_one_of_its_own() -> None:
    wanted, line = wishes(random.Random(6), 12), [(40.0, 300.0), (600.0, 90.0)]
    last = KeptPlaces(placer(line))
    given = {wish.key: last.place(wish, anyway=False) for wish in wanted}
    sheet = placer(line)
    held = HeldPlaces(sheet, last)
    assert all(held.place(wish, anyway=False) is given[wish.key] for wish in reversed(wanted))
    wider = wanted[0]._replace(width=wanted[0].width + 9.0)
    before, now = given[wider.key], HeldPlaces(placer(line), last).place(wider, anyway=False)
    assert before is not None
    assert now is not None
    assert now.box == before.box._replace(x=before.box.x - 4.5, width=before.box.width + 9.0)
    new = Wish("new", 30.0, 16.0, (Anchor(100.0, 350.0, 0.0, -1.0, 6.0),))
    place = held.place(new, anyway=False)
    assert place is not None
    assert place.key == "new"
    assert last.is_for(sheet)
    assert not last.is_for(Placer(WIDE / 2, HIGH))
