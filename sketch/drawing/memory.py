"""What was worked out for the things of one frame, at hand in the next for those that are still the same."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import count
from operator import is_
from typing import Any, NamedTuple, Protocol, TypeVar

PORTION = 16
"""Of many things that are asked for at once."""

MANY = 64
"""Things that are worth being asked for by portions."""

SORTED_EVERY = 24
"""Frames after which what they did not ask for is forgotten; a look at all values takes a part of a frame."""

S = TypeVar("S")
T = TypeVar("T")


class Known(Protocol):
    """What gives again what was made for the very same things, as `Memory.of`."""

    def __call__(self, what: object, things: tuple[object, ...], make: Callable[[], T], /) -> T: ...


class Memory:
    """Values by the very objects that they were worked out from, which never change: a part, a row, a glyph.

    What no frame has asked for since values were last sorted out is forgotten with the next sorting. A frame
    takes up the values of the one before and marks those that it asks for: to hand each on would have its key
    looked up three times.
    """

    def __init__(self, before: Memory | None = None) -> None:
        self._frame = next(_FRAMES)
        self._sorted_out = self._frame  # the frame before which what is not marked was forgotten
        self._age = 0  # frames since then
        self._kept: dict[object, _Kept] = {}
        self._named: dict[str, Any] = {}
        self._named_before: dict[str, Any] = {}
        self._lists: dict[str, _List] = {}
        if before is not None:
            self._take_up(before)

    def _take_up(self, before: Memory) -> None:
        kept, age, sorted_out = before._kept, before._age + 1, before._sorted_out
        if age >= SORTED_EVERY:
            for key in [key for key, each in kept.items() if each.frame < sorted_out]:
                del kept[key]
            age, sorted_out = 0, self._frame
        self._kept, self._named_before = kept, before._named
        self._age, self._sorted_out, self._lists = age, sorted_out, before._lists

    def last(self, name: str) -> Any:
        """What the last frame kept by a name; None where it kept nothing."""
        return self._named_before.get(name)

    def keep(self, name: str, value: object) -> None:
        """Have a value at hand in the next frame."""
        self._named[name] = value

    def of(self, what: object, things: tuple[object, ...], make: Callable[[], T]) -> T:
        """What `make` gives, or gave for these things in a frame not long ago.

        what: a name, with all plain figures that the value hangs on.
        """
        key = (what, *map(id, things))
        kept = self._kept.get(key)
        if kept is None:
            kept = self._kept[key] = _Kept(things, make())
        kept.frame = self._frame
        value: T = kept.value
        return value

    def of_each(
        self,
        name: str,
        given: object,
        things: Sequence[tuple[object, ...]],
        make: Callable[..., T],
        *shared: object,
    ) -> list[T]:
        """What `make` gives, or gave, for the things of each place of a list.

        Most of a list is as it was in its last frame, place by place: that is compared, which takes a tenth
        of the time in which each is looked up. given: plain figures, and shared: things, that all values hang
        on.
        """

        def known(thing: tuple[object, ...]) -> T:
            return self.of((name, given), (*thing, *shared), partial(make, *thing))

        last = self._lists.get(name)
        if last is not None and last.is_of(given, shared) and len(last.things) == len(things):
            values: list[T] = [
                value if thing == was else known(thing)
                for thing, was, value in zip(things, last.things, last.values, strict=True)
            ]
        else:
            values = [known(thing) for thing in things]
        self._lists[name] = _List(given, shared, things, values)
        return values


class _List(NamedTuple):
    """The values of a list of things, as last asked for."""

    given: object
    shared: tuple[object, ...]
    things: Sequence[tuple[object, ...]]
    values: list[Any]

    def is_of(self, given: object, shared: tuple[object, ...]) -> bool:
        """Whether the values hang on the same besides their things."""
        return self.given == given and all(map(is_, self.shared, shared))


_FRAMES = count(1)


class _Kept:
    """A value, with the things that it was made for, so that no other gets the identity of one."""

    __slots__ = ("frame", "things", "value")

    def __init__(self, things: tuple[object, ...], value: Any) -> None:
        self.things, self.value = things, value
        self.frame = 0  # that asked for it last


def known_of_each(
    known: Known, what: object, things: Sequence[S], make: Callable[[S], T], *shared: object
) -> list[T]:
    """What `make` gives, or gave, for each thing; portion by portion, for most of a long line is as it was.

    what: a name, with all plain figures that the values hang on. shared: other things that they hang on.
    """
    if len(things) < MANY:
        return _each(known, what, things, make, shared)
    results: list[T] = []
    for at in range(0, len(things), PORTION):
        portion = tuple(things[at : at + PORTION])
        results += known((what,), (*portion, *shared), partial(_each, known, what, portion, make, shared))
    return results


def _each(
    known: Known, what: object, things: Sequence[S], make: Callable[[S], T], shared: tuple[object, ...]
) -> list[T]:
    return [known(what, (thing, *shared), partial(make, thing)) for thing in things]
