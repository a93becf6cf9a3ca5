"""Where every key and value of a TOML text stands. Reads text that a TOML parser has already accepted."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from typing import NamedTuple

DEEPEST = 8
"""Levels of brackets that are looked into; a drawing needs five."""

LONGEST_CHAIN = 32
"""Names in a dotted key; a drawing needs six."""

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r"[A-Za-z0-9_-]+|\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'")
_STRING_CODE = (
    r'"""(?:[^"\\]++|\\[\s\S]|"(?!""))*+"{3,5}'
    r"|'''(?:[^']++|'(?!''))*+'{3,5}"
    r'|"(?:[^"\\\n]++|\\.)*+"'
    r"|'[^'\n]*+'"
)
_STRING = re.compile(_STRING_CODE)
_BARE = re.compile(r"[^\s,\]}#]+(?: [0-9:.+-]+Z?)?")
_PLAIN = re.compile(r"[^\"'#\[\]{}]+|#[^\n]*")


_STRING_OR_COMMENT = re.compile(rf"{_STRING_CODE}|#[^\n]*+")
_LONG_CHAIN = re.compile(rf"(?<![A-Za-z0-9_-])(?:[A-Za-z0-9_-]++[ \t]*+\.[ \t]*+){{{LONGEST_CHAIN}}}")


def has_long_chain(text: str) -> bool:
    """Whether a text, TOML or not, has a dotted key that takes a parser time by the square of its length."""
    return bool(_LONG_CHAIN.search(_STRING_OR_COMMENT.sub("x", text)))


class Entry(NamedTuple):
    """One key or array element: offsets into the text, and how it came about.

    `origin` is "header" for [a.b], "implied" for the a in it; "key" for a.b = ..., "dotted" for the a in it;
    "inner" for what stands inside the value of a key.
    """

    start: int  # of its key, or of the element itself
    value: int  # of its value
    end: int  # behind its value, or behind the header
    origin: str
    table: Path  # the table header under which it stands


class Positions:
    """The entries of a text by key path; a path of its own holds the keys that lead to it."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._counts: dict[Path, int] = {}  # of tables in a list, by its key
        self._lines = [0, *(newline.end() for newline in re.finditer("\n", text))]
        self.entries: dict[Path, Entry] = {}
        self.headers: dict[Path, int] = {}  # table header -> behind its last key, or behind itself
        self._read()

    def last(self) -> dict[Path, Entry]:
        """For every path, the entry in or under it that ends furthest down."""
        entries: dict[Path, Entry] = {}
        for path, entry in self.entries.items():
            for length in range(1, len(path) + 1):
                if path[:length] not in entries or entries[path[:length]].end < entry.end:
                    entries[path[:length]] = entry
        return entries

    def line_and_column(self, path: Path) -> tuple[int, int]:
        """Line and column [from 1] of a path, or of the nearest table around it."""
        while path and path not in self.entries:
            path = path[:-1]
        return self.at(self.entries[path].start) if path else (1, 1)

    def at(self, offset: int) -> tuple[int, int]:
        """Line and column [from 1] of an offset."""
        line = bisect_right(self._lines, offset)
        return line, offset - self._lines[line - 1] + 1

    def _read(self) -> None:
        text, position = self._text, 0
        table: Path = ()
        self.headers[()] = 0
        while (position := _match(_BLANK, text, position)) < len(text):
            if text[position] == "[":
                table, position = self._header(position)
            else:
                position = self._pair(position, table, table, 0)
            self.headers[table] = position

    def _header(self, start: int) -> tuple[Path, int]:
        of_list = self._text.startswith("[[", start)
        position = start + (2 if of_list else 1)
        keys, position = self._keys(position)
        end = self._text.index("]", position)
        end += 2 if self._text.startswith("]]", end) else 1
        path = self._numbered(keys, of_list)
        for depth in range(1, len(path)):
            self.entries.setdefault(path[:depth], Entry(start, end, end, "implied", path))
        self.entries[path] = Entry(start, end, end, "header", path)
        return path, end

    def _numbered(self, keys: Path, of_list: bool) -> Path:
        """The path of a header, with the number of the table that it means wherever a key holds a list."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            if path in self._counts and not (of_list and len(path) == len(keys)):
                path = (*path, self._counts[path] - 1)
        if of_list:
            number = self._counts.get(path, 0)
            self._counts[path] = number + 1
            path = (*path, number)
        return path

    def _keys(self, position: int) -> tuple[Path, int]:
        keys: list[str] = []
        while True:
            position = _match(_SPACE, self._text, position)
            match = _KEY.match(self._text, position)
            if match is None:
                raise ValueError(f"no key at {position}")
            keys.append(_unquoted(match[0]))
            position = _match(_SPACE, self._text, match.end())
            if self._text[position] != ".":
                return tuple(keys), position
            position += 1

    def _pair(self, start: int, prefix: Path, table: Path, depth: int) -> int:
        keys, position = self._keys(start)
        value = _match(_SPACE, self._text, position + 1)
        path = (*prefix, *keys)
        end = self._value(value, path, table, depth)
        for length in range(len(prefix) + 1, len(path)):
            self.entries.setdefault(path[:length], Entry(start, value, end, "dotted", table))
        self.entries[path] = Entry(start, value, end, "inner" if depth else "key", table)
        return end

    def _value(self, position: int, path: Path, table: Path, depth: int) -> int:
        opening = self._text[position]
        if opening not in "[{":
            match = (_STRING if opening in "\"'" else _BARE).match(self._text, position)
            if match is None:
                raise ValueError(f"no value at {position}")
            return match.end()
        if depth >= DEEPEST:
            return self._skip(position)
        closing = "]" if opening == "[" else "}"
        position = _match(_BLANK, self._text, position + 1)
        index = 0
        while self._text[position] != closing:
            if opening == "[":
                start = position
                position = self._value(start, (*path, index), table, depth + 1)
                self.entries[(*path, index)] = Entry(start, start, position, "inner", table)
                index += 1
            else:
                position = self._pair(position, path, table, depth + 1)
            position = _match(_BLANK, self._text, position)
            if self._text[position] == ",":
                position = _match(_BLANK, self._text, position + 1)
        return position + 1

    def _skip(self, position: int) -> int:
        depth = 0
        while True:
            character = self._text[position]
            if character in "\"'":
                match = _STRING.match(self._text, position)
            else:
                match = _PLAIN.match(self._text, position)
                depth += (character in "[{") - (character in "]}")
            position = match.end() if match else position + 1
            if depth == 0:
                return position


def _match(pattern: re.Pattern[str], text: str, position: int) -> int:
    match = pattern.match(text, position)
    return match.end() if match else position


_ESCAPE = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))")
_ESCAPES: Mapping[str, str] = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


def _unquoted(key: str) -> str:
    if key[0] == "'":
        return key[1:-1]
    if key[0] != '"':
        return key
    return _ESCAPE.sub(_character, key[1:-1])


def _character(escape: re.Match[str]) -> str:
    return _ESCAPES[escape[3]] if escape[3] else chr(int(escape[1] or escape[2], 16))


def dotted(path: Path) -> str:
    """Write a key path as a person would type it: pumps.carriage.at[0]."""
    return "".join(_steps(path)).removeprefix(".")


def _steps(path: Path) -> Iterator[str]:
    for step in path:
        yield f"[{step}]" if isinstance(step, int) else "." + key_text(step)


def key_text(name: str) -> str:
    """Write one key, in quotes where TOML wants them."""
    if re.fullmatch(r"[A-Za-z0-9_-]+", name):
        return name
    escaped = "".join(_escaped(character) for character in name)
    return f'"{escaped}"'


def _escaped(character: str) -> str:
    if character in '"\\':
        return "\\" + character
    return character if character.isprintable() else f"\\U{ord(character):08x}"
