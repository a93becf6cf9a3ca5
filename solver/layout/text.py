"""A TOML text changed to hold other values, with every other byte of it left alone."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from solver.layout.lists import matched
from solver.layout.positions import Entry, Path, Positions, key_text
from solver.layout.reading import Raw

WIDEST_LINE = 110
"""Characters beyond which a new array is broken into lines."""

_ORDER = (
    "site",
    "fluid",
    "sheet",
    "criteria",
    "limits",
    "levels",
    "reservoirs",
    "intakes",
    "fittings",
    "tees",
    "pumps",
    "runs",
    "cases",
    "readings",
    "texts",
    "dimensions",
    "alternatives",
)
_SINGLE = ("site", "fluid", "sheet", "criteria", "limits", "levels")
"""Tables that are no table of parts."""
_LISTED = ("readings", "texts", "dimensions")
"""Lists of tables, each under a header of its own: [[readings]]."""
_PARTIAL = ("cases", "readings", "alternatives")
"""Tables that are, or hold, partial drawings; they are written key by key."""

_BLANK_LINES = re.compile(r"(?:[ \t]*\r?\n)*")

Addition = tuple[Path, Any]


def rewrite(text: str, old: Raw, raw: Raw) -> str:
    """Change a TOML text that holds the tables `old` to hold `raw`, leaving alone all that does not differ.

    Raises ValueError where the text is laid out in a way that cannot take the change.
    """
    patch = _Patch(text)
    patch.table(old, raw, ())
    new = _with(patch.applied(), patch.additions)
    if _filled(tomllib.loads(new)) != _filled(raw):
        raise ValueError("the text cannot take the change")
    return new


def _filled(value: Any) -> Any:
    """Without empty tables, which say nothing and cannot always be kept."""
    if not isinstance(value, dict):
        return value
    tables = {key: _filled(item) for key, item in value.items()}
    return {key: item for key, item in tables.items() if item != {}}


def fresh(raw: Raw) -> str:
    """Write tables as a new TOML text."""
    top = [f"{key_text(key)} = {_value(value)}" for key, value in raw.items() if _is_figure(key, value)]
    blocks = ["\n".join(top) + "\n"]
    for key in _ORDER:
        if raw.get(key):
            blocks += _blocks(key, raw[key])
    return "\n".join(blocks)


def _is_figure(key: str, value: Any) -> bool:
    """Whether a key of the top stands in one line, before the first header."""
    return not isinstance(value, dict) and key not in _LISTED


def _blocks(key: str, table: Any) -> Iterator[str]:
    if key in _SINGLE:
        yield _block((key,), table)
    elif key in _LISTED:
        for number, item in enumerate(table):
            yield _block((key, number), item)
    else:
        for name, part in table.items():
            yield _block((key, name), part)


def _block(path: Path, table: Raw) -> str:
    lines = [_header(path)]
    for key, value in table.items():
        lines += _lines((key,), value, whole=path[0] not in _PARTIAL)
    return "\n".join(lines) + "\n"


def _header(path: Path) -> str:
    if isinstance(path[-1], int):
        return f"[[{key_text(str(path[0]))}]]"
    return f"[{'.'.join(key_text(str(step)) for step in path)}]"


def _lines(path: Path, value: Any, whole: bool) -> Iterator[str]:
    """Lines that set a key; in an alternative a table is written key by key, but for a part of its own."""
    part = isinstance(value, dict) and len(value) > 2 and not {"at", "from", "outline"}.isdisjoint(value)
    if isinstance(value, dict) and value and not whole and not part:
        for key, item in value.items():
            yield from _lines((*path, key), item, whole)
    else:
        yield f"{'.'.join(key_text(str(step)) for step in path)} = {_value(value)}"


def _value(value: Any) -> str:
    """One value as TOML."""
    import tomlkit

    if isinstance(value, dict):
        inner = ", ".join(f"{key_text(key)} = {_value(item)}" for key, item in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list):
        inner = ", ".join(_value(item) for item in value)
        return f"[{inner}]"
    if isinstance(value, str) and "\n" in value:
        return _block_text(value)
    return str(tomlkit.item(value).as_string())


def _block_text(value: str) -> str:
    """A text of several lines as it would be typed, where it can be."""
    import tomlkit

    literal = f'"""\n{value}"""'
    try:
        same = tomllib.loads(f"text = {literal}")["text"] == value
    except tomllib.TOMLDecodeError:
        same = False
    return literal if same else str(tomlkit.item(value).as_string())


class _Patch:
    """The changes to a text, collected by offset; `additions` are the keys that have no place in it yet."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._newline = _newline(text)
        self._positions = Positions(text)
        self._cuts: dict[int, tuple[int, str]] = {}  # start -> end, what goes there instead
        self.additions: list[Addition] = []

    def applied(self) -> str:
        """The text with everything changed and removed, and nothing added."""
        pieces, position = [], 0
        for start, (end, instead) in sorted(self._cuts.items()):
            pieces += [self._text[position:start], instead]
            position = max(position, end)
        return "".join(pieces) + self._text[position:]

    def table(self, old: Raw, new: Raw, path: Path) -> None:
        """Collect what differs between two tables at a path."""
        for key in old:
            if key not in new:
                self._remove((*path, key))
        for key, value in new.items():
            if key in old:
                self._value(old[key], value, (*path, key))
            else:
                self.additions.append(((*path, key), value))

    def _value(self, old: Any, new: Any, path: Path) -> None:
        if isinstance(old, dict) and isinstance(new, dict):
            inline = self._positions.entries[path].origin in ("key", "inner")
            if inline and old.keys() != new.keys():
                self._replace(path, new)
            else:
                self.table(old, new, path)
        elif isinstance(old, list) and isinstance(new, list) and (*path, 0) in self._positions.headers:
            self._tables(old, new, path)
        elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
            for index, (before, after) in enumerate(zip(old, new, strict=True)):
                self._value(before, after, (*path, index))
        elif old != new:
            self._replace(path, new)

    def _tables(self, old: list[Any], new: list[Any], path: Path) -> None:
        """A list of tables with headers: an addition is numbered by the tables that are left before it."""
        kept = 0
        for i, j in matched(old, new):
            if i is None and j is not None:
                self.additions.append(((*path, kept), new[j]))
                continue
            if j is None:
                self._remove((*path, i or 0))
                continue
            before = len(self.additions)
            self._value(old[i or 0], new[j], (*path, i or 0))
            self.additions[before:] = [
                ((*path, kept, *each[len(path) + 1 :]), value) for each, value in self.additions[before:]
            ]
            kept += 1

    def _replace(self, path: Path, new: Any) -> None:
        entry = self._positions.entries[path]
        old = self._text[entry.value : entry.end]
        code = _value(new)
        if isinstance(new, list) and new and ("\n" in old or len(code) > WIDEST_LINE):
            code = "[\n" + "".join(f"    {_value(item)},\n" for item in new) + "]"
        self._cuts[entry.value] = (entry.end, code.replace("\n", self._newline))

    def _remove(self, path: Path) -> None:
        entries = self._positions.entries
        for below, entry in entries.items() if entries[path].origin != "key" else [(path, entries[path])]:
            if below[: len(path)] != path:
                continue
            if entry.origin == "header":
                self._remove_lines(entry.start, self._positions.headers[below], blank=True)
            elif entry.origin == "key" and entry.table[: len(path)] != path:
                self._remove_lines(entry.start, entry.end)

    def _remove_lines(self, start: int, end: int, blank: bool = False) -> None:
        start = self._text.rfind("\n", 0, start) + 1
        end = _line_end(self._text, end)
        if blank:
            match = _BLANK_LINES.match(self._text, end)
            end = match.end() if match else end
        self._cuts[start] = (end, "")


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _line_end(text: str, offset: int) -> int:
    """Behind the line in which an offset stands."""
    return text.find("\n", offset) + 1 or len(text)


def _with(text: str, additions: list[Addition]) -> str:
    """Add keys and tables to a text, each beside its like."""
    if not additions:
        return text
    positions = Positions(text)
    last = positions.last()
    newline = _newline(text)
    keys: dict[int, list[str]] = {}
    blocks: dict[int, list[str]] = {}  # behind the keys: a header ends the table in which they stand
    for path, value in _split(additions):
        offset, lines = _insertion(positions, last, path, value)
        offset = _line_end(text, offset) if offset else 0
        (keys if lines[0] else blocks).setdefault(offset, []).extend("\n".join(lines).split("\n"))
    for offset in sorted({*keys, *blocks}, reverse=True):
        opening = newline if offset == len(text) and not text.endswith("\n") else ""
        piece = "".join(line + newline for line in (*keys.get(offset, ()), *blocks.get(offset, ())))
        text = text[:offset] + opening + piece + text[offset:]
    return text


def _split(additions: list[Addition]) -> Iterator[Addition]:
    """A table of parts, or of alternatives, is added part by part."""
    for path, value in additions:
        if len(path) == 1 and isinstance(value, dict) and path[0] not in _SINGLE:
            yield from (((*path, name), part) for name, part in value.items())
        elif len(path) == 1 and path[0] in _LISTED:
            yield from (((*path, number), item) for number, item in enumerate(value))
        else:
            yield path, value


def _insertion(
    positions: Positions, last: dict[Path, Entry], path: Path, value: Any
) -> tuple[int, list[str]]:
    """Behind which offset to add a key, and in which lines."""
    if path[0] in _LISTED and len(path) == 2:
        return _insertion_of_table(positions, last, path, value)
    parent = path[:-1]
    while parent and parent not in positions.entries:
        parent = parent[:-1]
    in_base = path[0] not in _PARTIAL
    origin = positions.entries[parent].origin if parent else ""
    if origin == "header":
        return positions.headers[parent], list(_lines(path[len(parent) :], value, in_base))
    if origin == "dotted":
        table = positions.entries[parent].table
        return last[parent].end, list(_lines(path[len(table) :], value, in_base))
    if not isinstance(value, dict):
        return positions.headers[()], list(_lines(path, value, in_base))
    before = parent or next((key for key in _before(str(path[0])) if key in last), ())
    offset = positions.headers[last[before].table] if before else positions.headers[()]
    return offset, ["", *_block(path, value).rstrip("\n").split("\n")]


def _insertion_of_table(
    positions: Positions, last: dict[Path, Entry], path: Path, value: Any
) -> tuple[int, list[str]]:
    """Behind which offset to add a table of a list, and in which lines: behind those before it."""
    group, number = str(path[0]), int(path[1])
    lines = _block(path, value).rstrip("\n").split("\n")
    below = [key for key in positions.headers if key[:2] == (group, number - 1)]
    if below:
        return max(positions.headers[key] for key in below), ["", *lines]
    first = positions.headers.get((group, 0))
    if first is not None:  # before the others, which keep their comments above them
        return max(positions.entries[(group, 0)].start - 1, 0), [*lines, ""]
    before = next((key for key in _before(group) if key in last), ())
    offset = positions.headers[last[before].table] if before else positions.headers[()]
    return offset, ["", *lines]


def _before(group: str) -> Iterator[Path]:
    for key in reversed(_ORDER[: _ORDER.index(group) + 1]):
        yield (key,)
