"""Which elements of a list became which of another, where some were changed, added or taken out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from difflib import SequenceMatcher
from itertools import zip_longest
from typing import Any

Pair = tuple[int | None, int | None]


def matched(old: Sequence[Any], new: Sequence[Any]) -> list[Pair]:
    """Pairs of indices in the order of `new`; None where an element was added or taken out.

    Equal elements go together; between them tables that begin with the same value, and then what is left, in
    its order.
    """
    return list(_matched(old, new, range(len(old)), range(len(new)), (repr, _first)))


def _matched(
    old: Sequence[Any], new: Sequence[Any], olds: range, news: range, keys: tuple[Callable[[Any], str], ...]
) -> Iterator[Pair]:
    if not keys:
        yield from zip_longest(olds, news)
        return
    key, *others = keys
    texts = [key(old[i]) for i in olds], [key(new[j]) for j in news]
    for how, i, i_end, j, j_end in SequenceMatcher(None, texts[0], texts[1], autojunk=False).get_opcodes():
        if how == "equal":
            yield from zip(olds[i:i_end], news[j:j_end], strict=True)
        else:
            yield from _matched(old, new, olds[i:i_end], news[j:j_end], tuple(others))


def _first(value: Any) -> str:
    """The first value of a table; the value itself of anything else."""
    return repr(next(iter(value.values()), None)) if isinstance(value, dict) else repr(value)
