"""Values by the very things that they were worked out from, for one frame more."""

from __future__ import annotations

from sketch.drawing.memory import Memory


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
