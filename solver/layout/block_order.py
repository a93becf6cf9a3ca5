"""The tables of a TOML text put in another order, each with its comments and every byte of it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from solver.layout.positions import Path, Positions


class _Block(NamedTuple):
    path: Path  # of its header
    text: str


def in_order(text: str, group: str, names: Sequence[str]) -> str:
    """A TOML text with the tables [group.NAME] in the order of `names`.

    What stands before the first header stays, and so does the place of every table of another group. Raises
    ValueError where a table that would have to move has no header of its own.
    """
    present = list(tomllib.loads(text).get(group, {}))
    ordered = [name for name in names if name in present]
    if [name for name in present if name in ordered] == ordered:
        return text
    head, blocks = _blocks(text)
    places = [at for at, block in enumerate(blocks) if _name(block, group) in ordered]
    if {_name(blocks[at], group) for at in places} != set(ordered):
        raise ValueError(f"a table of {group} has no header of its own")
    moved = sorted((blocks[at] for at in places), key=lambda block: ordered.index(_name(block, group)))
    for at, block in zip(places, moved, strict=True):
        blocks[at] = block
    new = head + "".join(_lines(block.text for block in blocks))
    if tomllib.loads(new) != tomllib.loads(text):
        raise ValueError(f"the tables of {group} cannot be put in another order")
    return new


def _name(block: _Block, group: str) -> str:
    """Which table of a group a block belongs to; "" for none."""
    return str(block.path[1]) if len(block.path) > 1 and block.path[0] == group else ""


def _lines(texts: Iterable[str]) -> Iterator[str]:
    """Blocks that end with their lines, also the one that stood last in a text without a last newline."""
    for text in texts:
        yield text if text.endswith("\n") else f"{text}\n"


def _blocks(text: str) -> tuple[str, list[_Block]]:
    """What stands before the first header, and from there on a block for every header."""
    entries = Positions(text).entries.items()
    headers = sorted((entry.start, path) for path, entry in entries if entry.origin == "header")
    starts = [_with_comments(text, offset) for offset, _ in headers]
    ends = [*starts[1:], len(text)]
    blocks = [
        _Block(path, text[start:end]) for (_, path), start, end in zip(headers, starts, ends, strict=True)
    ]
    return text[: starts[0]] if starts else text, blocks


def _with_comments(text: str, offset: int) -> int:
    """The start of a line, or of the comments right above it."""
    start = text.rfind("\n", 0, offset) + 1
    while start:
        above = text.rfind("\n", 0, start - 1) + 1
        if not text[above:start].lstrip().startswith("#"):
            break
        start = above
    return start
