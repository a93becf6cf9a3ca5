"""Values by the very things that they were worked out from, for some frames more."""

from __future__ import annotations

from functools import partial

from sketch.drawing.memory import MANY, PORTION, SORTED_EVERY, Memory, known_of_each


def test_a_value_is_made_once_for_the_same_things_and_some_frames_more() -> None:
    calls: list[str] = []

    def make() -> str:
        calls.append("made")
        return f"value {len(calls)}"

    thing, alike = [1.0], [1.0]
    first = Memory()
    assert first.of("length", (thing,), make) == first.of("length", (thing,), make) == "value 1"
    assert first.of("length", (alike,), make) == "value 2", "alike is not the same"
    assert first.of("width", (thing,), make) == "value 3"
    second = Memory(first)
    assert second.of("length", (thing,), make) == "value 1"
    later = second
    for _ in range(2 * SORTED_EVERY):
        later = Memory(later)
        assert later.of("length", (thing,), make) == "value 1"
    assert later.of("width", (thing,), make) == "value 4", "not asked for in all of them"


def test_no_more_is_kept_than_some_frames_have_asked_for() -> None:
    memory = Memory()
    for at in range(10 * SORTED_EVERY):
        memory = Memory(memory)
        memory.of("length", ([float(at)],), str)
    assert len(memory._kept) <= 2 * SORTED_EVERY + 1


def test_a_named_value_is_at_hand_in_the_next_frame_alone() -> None:
    first = Memory()
    assert first.last("places") is None
    first.keep("places", 7)
    second = Memory(first)
    assert second.last("places") == 7
    assert Memory(second).last("places") is None


def test_of_many_things_only_those_near_a_new_one_are_asked_for_one_by_one() -> None:
    things = [[float(at)] for at in range(MANY + 5)]
    shared, asked = [2.0], list[int]()

    def double(thing: list[float]) -> float:
        asked.append(things.index(thing))
        return thing[0] * shared[0]

    memory = Memory()
    last = list(range(MANY, MANY + 5))
    assert MANY % PORTION == 0
    for changed, expected in (((), list(range(MANY + 5))), ((3,), [3]), ((3,), [3]), ((3, MANY), [3, MANY])):
        for at in changed:
            things[at] = [things[at][0] + 0.5]
        asked.clear()
        results = known_of_each(memory.of, "double", things, double, shared)
        assert results == [2.0 * each[0] for each in things]
        assert asked == expected, "what the last frames did not ask for by itself is at hand for some more"
        memory = Memory(memory)
    for _ in range(2 * SORTED_EVERY):
        known_of_each(memory.of, "double", things, double, shared)
        memory = Memory(memory)
    things[MANY], asked = [-1.0], []
    known_of_each(memory.of, "double", things, double, shared)
    assert asked == last, "and then forgotten"


def test_a_frame_that_comes_to_nothing_loses_no_value() -> None:
    calls = list[str]()

    def make(name: str) -> str:
        calls.append(name)
        return name

    thing = [1.0]
    first = Memory()
    for name in ("length", "width"):
        first.of(name, (thing,), partial(make, name))
    for _ in range(3):  # as only a headline is painted
        Memory(first).of("length", (thing,), partial(make, "length"))
    second = Memory(first)
    assert second.of("width", (thing,), partial(make, "width")) == "width"
    assert second.of("length", (thing,), partial(make, "length")) == "length"
    assert calls == ["length", "width"]


def test_of_a_list_only_what_differs_from_the_last_one_is_asked_for() -> None:
    things, shared, asked = [(each, each * 2) for each in (1.0, 2.0, 3.0)], [5.0], list[float]()

    def total(one: float, other: float) -> float:
        asked.append(one)
        return one + other + shared[0]

    first = Memory()
    assert first.of_each("total", "plain", things, total, shared) == [8.0, 11.0, 14.0]
    second, asked = Memory(first), []
    things = [things[0], (7.0, 1.0), (3.0, 6.0)]
    assert second.of_each("total", "plain", things, total, shared) == [8.0, 13.0, 14.0]
    assert asked == [7.0], "what is equal hangs on nothing that differs"
    third, asked = Memory(second), []
    assert third.of_each("total", "plain", things[1:], total, shared) == [13.0, 14.0]
    for given, with_them in (("bold", shared), ("plain", [5.0])):
        asked = []
        assert len(third.of_each("total", given, things, total, with_them)) == 3
        assert asked == [1.0, 7.0, 3.0], "all hang on what differs"
