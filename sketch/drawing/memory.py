"""What was worked out for the things of one frame, at hand in the next for those that are still the same."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, Protocol, TypeVar

PORTION = 16
"""Of many things that are asked for at once."""

MANY = 64
"""Things that are worth being asked for by portions."""

S = TypeVar("S")
T = TypeVar("T")


class Known(Protocol):
    """What gives again what was made for the very same things, as `Memory.of`."""

    def __call__(self, what: object, things: tuple[object, ...], make: Callable[[], T], /) -> T: ...


class Memory:
    """Values by the very objects that they were worked out from, which never change: a part, a row, a glyph.

    What one frame did not ask for is forgotten with the next.
    """

    def __init__(self, before: Memory | None = None) -> None:
        self._now: dict[object, tuple[tuple[object, ...], Any]] = {}  # the objects are held with their value
        self._before = before._now if before is not None else {}  # noqa: SLF001  its own kind

    def last(self, name: str) -> Any:
        """What the last frame kept by a name; None where it kept nothing."""
        return self._before.get(name, ((), None))[1]

    def keep(self, name: str, value: object) -> None:
        """Have a value at hand in the next frame."""
        self._now[name] = ((), value)

    def of(self, what: object, things: tuple[object, ...], make: Callable[[], T]) -> T:
        """What `make` gives, or gave for these things in the last frame.

        what: a name, with all plain figures that the value hangs on.
        """
        key = (what, *map(id, things))
        kept = self._now.get(key)
        if kept is None:
            kept = self._before.get(key)
            if kept is None:
                kept = (things, make())
            self._now[key] = kept
        value: T = kept[1]
        return value


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
