"""Values by the very things that they were worked out from, for one frame more."""

from __future__ import annotations

from functools import partial

from sketch.drawing.memory import MANY, PORTION, Memory, known_of_each


def test_a_value_is_made_once_for_the_same_things_and_a_frame_more() -> None:
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
    third = Memory(second)
    assert third.of("length", (thing,), make) == "value 1"
    assert third.of("width", (thing,), make) == "value 4", "not asked for in the second"


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
    for changed, expected in (((), list(range(MANY + 5))), ((3,), [3]), ((3,), [3]), ((3, MANY), [3, *last])):
        for at in changed:
            things[at] = [things[at][0] + 0.5]
        asked.clear()
        results = known_of_each(memory.of, "double", things, double, shared)
        assert results == [2.0 * each[0] for each in things]
        assert asked == expected, "what a frame did not ask for by itself is forgotten with the next"
        memory = Memory(memory)


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
