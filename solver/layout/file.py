"""The layout file: TOML in, alternatives laid over the base, every refusal with its place; TOML out."""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any

from solver.layout import changes, checks, keys, limits
from solver.layout import raw as layout_raw
from solver.layout import text as layout_text
from solver.layout.parts import Layout
from solver.layout.positions import Positions, dotted, has_long_chain
from solver.layout.raw import FORMAT, to_raw
from solver.layout.reading import (
    MOST_TROUBLES,
    Place,
    Raw,
    TooManyTroublesError,
    Trouble,
    describe,
    fields,
    listed,
    near,
    text,
)

__all__ = [
    "Alternative",
    "Drawing",
    "LayoutErrors",
    "Problem",
    "check",
    "from_raw",
    "parse",
    "read",
    "to_raw",
    "with_base",
    "write",
]

LARGEST_FILE = 8 * 1024 * 1024
MOST_PARTS = 20_000
MOST_ALTERNATIVES = 100

_TOP_KEYS = (
    "format",
    "title",
    "notes",
    "units",
    "site",
    "fluid",
    "limits",
    *keys.PARTS,
    "alternatives",
)


@dataclass(frozen=True, slots=True)
class Problem:
    """One refusal. Line and column count from 1; 0 where the file as a whole is meant."""

    file: str
    line: int
    column: int
    key: str
    found: str
    allowed: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        key = f" {self.key}:" if self.key else ""
        return f"{place}:{key} found {self.found}; allowed: {self.allowed}"


class LayoutErrors(ValueError):  # noqa: N818 # it carries all the errors of a file
    """A file that is no drawing, with everything that is wrong in it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Alternative:
    """One drawing laid over the base, whole."""

    note: str
    layout: Layout


@dataclass(frozen=True, slots=True)
class Drawing:
    """A file: the base, its alternatives by name, and the text they were read from (empty for a new one)."""

    base: Layout
    alternatives: Mapping[str, Alternative] = field(default_factory=dict)
    text: str = ""


def read(path: str | FilePath) -> Drawing:
    """Read a layout file.

    path: of a regular file of at most 8 MiB.
    Raises LayoutErrors with every problem in it, also where it cannot be read at all.
    """
    name = str(path)
    try:
        return parse(_contents(FilePath(path), name), name)
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
    except ValueError as error:
        if isinstance(error, LayoutErrors):
            raise
        reason = str(error)  # a path with a null character
    raise _whole(name, f"a file that cannot be opened: {reason}", "a layout file that can be read")


def _contents(path: FilePath, name: str) -> str:
    status = path.stat()
    if not stat.S_ISREG(status.st_mode):
        what = "a directory" if stat.S_ISDIR(status.st_mode) else "something that is not a file"
        raise _whole(name, what, "a layout file, ending in .toml")
    if status.st_size > LARGEST_FILE:
        raise _whole(name, f"a file of {status.st_size / 2**20:.1f} MiB", "at most 8 MiB")
    with path.open("rb") as stream:
        data = stream.read(LARGEST_FILE + 1)
    if len(data) > LARGEST_FILE:
        raise _whole(name, "a file over 8 MiB", "at most 8 MiB")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line, column = before.count(b"\n") + 1, error.start - (before.rfind(b"\n") + 1) + 1
        byte = f"the byte 0x{data[error.start]:02x}, which is no UTF-8"
        raise LayoutErrors((Problem(name, line, column, "", byte, "text in UTF-8"),)) from None


def _whole(name: str, found: str, allowed: str) -> LayoutErrors:
    return LayoutErrors((Problem(name, 0, 0, "", found, allowed),))


def parse(text: str, name: str = "drawing") -> Drawing:
    """Read a drawing from the text of a layout file.

    text: TOML. name: of the file, for messages.
    Returns the drawing, which keeps the text. Raises LayoutErrors with every problem in it.
    """
    if len(text) > LARGEST_FILE or len(text.encode("utf-8", "replace")) > LARGEST_FILE:
        raise _whole(name, "a text over 8 MiB", "at most 8 MiB")
    body = text.removeprefix("\ufeff")
    raw = _toml(body, name)
    troubles: list[Trouble] = []
    drawing = _drawing(raw, text, troubles)
    if drawing is None:
        raise LayoutErrors(_placed(troubles, body, name))
    return drawing


_AT = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


def _toml(text: str, name: str) -> dict[str, Any]:
    if has_long_chain(text):
        raise _whole(name, "a dotted key of very many names", "a drawing, whose keys have at most six")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise _whole(name, "brackets nested too deeply", "a drawing, which needs five levels") from None
    except ValueError as error:  # also a whole number too long to convert
        found = _AT.fullmatch(str(error))
        message = found[1] if found else str(error)
        end = text.count("\n") + 1, len(text) - (text.rfind("\n") + 1) + 1
        line, column = (int(found[2]), int(found[3])) if found and found[2] else end
        if not isinstance(error, tomllib.TOMLDecodeError):
            line, column, message = 0, 0, "a number that is too long"
        problem = Problem(name, line, column, "", f"text that is not TOML ({message})", "TOML, each key once")
        raise LayoutErrors((problem,)) from None


def _drawing(raw: Raw, text: str, troubles: list[Trouble]) -> Drawing | None:
    try:
        base = _layout(raw, Place((), troubles), "alternatives")
        alternatives = _alternatives(raw, base, troubles)
    except TooManyTroublesError:
        troubles.append(Trouble((), f"{MOST_TROUBLES} problems and stopped there", "fewer to begin with"))
    return None if troubles or base is None else Drawing(base, alternatives, text)


def _layout(raw: Raw, place: Place, *more: str) -> Layout | None:
    """Read one whole drawing; returns None after refusing it."""
    before = len(place.troubles)
    _check_top(raw, place, more)
    top = {key: value for key, value in raw.items() if key in ("title", "notes", "units")}
    values: dict[str, Any] = {"title": "", **fields(top, place, keys.TOP)}
    values["site"] = keys.site(raw.get("site", {}), place.to("site"))
    values["fluid"] = keys.fluid(raw.get("fluid", {}), place.to("fluid"))
    values["limits"] = limits.limits(raw.get("limits", {}), place.to("limits"))
    parts = _parts(raw, place)
    checks.check(raw, parts, place)
    return Layout(**values | parts) if len(place.troubles) == before else None


def _check_top(raw: Raw, place: Place, more: tuple[str, ...]) -> None:
    allowed = [key for key in _TOP_KEYS if key != "alternatives" or key in more]
    for key in raw:
        if key not in allowed:
            hint = near(key, allowed) + f"keys {listed(allowed)}"
            place.to(key).refuse(f"the unknown key {describe(key)}", hint)
    number = raw.get("format")
    if number is None:
        place.to("format").refuse("nothing", f"format = {FORMAT}, which is required")
    elif isinstance(number, bool) or number != FORMAT:
        newer = " from a newer program" if isinstance(number, int) and number > FORMAT else ""
        place.to("format").refuse(describe(number) + newer, f"format = {FORMAT}")


def _parts(raw: Raw, place: Place) -> dict[str, dict[str, Any]]:
    parts: dict[str, dict[str, Any]] = {group: {} for group in keys.PARTS}
    tables = {group: raw[group] for group in parts if group in raw}
    count = sum(len(table) for table in tables.values() if isinstance(table, dict))
    if count > MOST_PARTS:
        place.refuse(f"{count} parts", f"at most {MOST_PARTS}")
        return parts
    for group, table in tables.items():
        here = place.to(group)
        if not isinstance(table, dict):
            here.refuse(describe(table), f"tables, one for each part: [{group}.NAME]")
            continue
        for name, value in table.items():
            part = keys.part(group, name, value, here.to(name))
            if part is not None:
                parts[group][name] = part
    return parts


def _alternatives(raw: Raw, base: Layout | None, troubles: list[Trouble]) -> dict[str, Alternative]:
    tables = raw.get("alternatives", {})
    place = Place(("alternatives",), troubles)
    if not isinstance(tables, dict):
        place.refuse(describe(tables), "tables, one for each alternative: [alternatives.NAME]")
        return {}
    if len(tables) > MOST_ALTERNATIVES:
        place.refuse(f"{len(tables)} alternatives", f"at most {MOST_ALTERNATIVES}")
        return {}
    in_base = set(troubles)
    found = {}
    for name, partial in tables.items():
        alternative = _alternative(raw, partial, place.to(name), in_base)
        if alternative is not None:
            found[name] = alternative
    return found


def _alternative(base: Raw, partial: Any, place: Place, in_base: set[Trouble]) -> Alternative | None:
    if not isinstance(partial, dict):
        return place.refuse(describe(partial), "a table of what differs from the base")
    before = len(place.troubles)
    note = text(partial.get("note", ""), place.to("note"))
    _check_without(base, partial.get("without", []), place.to("without"))
    for key in ("format", "alternatives"):
        if key in partial:
            place.to(key).refuse(f'the key "{key}"', "only in the base")
    if not place.path[-1].strip():  # type: ignore[union-attr] # the last step of this path is a name
        place.refuse("an empty name", "a name for the alternative")
    inner: list[Trouble] = []
    layout = _layout(layout_raw.lay_over(base, partial), Place((), inner))
    for trouble in inner:
        if trouble not in in_base:  # the base's own troubles are already told
            Place((*place.path, *trouble.path), place.troubles).refuse(trouble.found, trouble.allowed)
    return Alternative(note or "", layout) if layout is not None and len(place.troubles) == before else None


def _check_without(base: Raw, names: Any, place: Place) -> None:
    if not isinstance(names, list):
        return place.refuse(describe(names), "an array of names of parts")
    for index, name in enumerate(names):
        if not isinstance(name, str) or not layout_raw.paths_of(base, name):
            parts = [part for group in keys.PARTS for part in _names(base, group)]
            hint = near(name, parts) if isinstance(name, str) else ""
            place.to(index).refuse(
                describe(name), f'{hint}a part of the base, or a key of one such as "pumps.main.flow"'
            )
    return None


def _names(raw: Raw, group: str) -> list[str]:
    table = raw.get(group)
    return list(table) if isinstance(table, dict) else []


def _placed(troubles: list[Trouble], text: str, name: str) -> tuple[Problem, ...]:
    positions = Positions(text)
    problems = [
        Problem(name, *positions.line_and_column(trouble.path), dotted(trouble.path), *trouble[1:])
        for trouble in troubles
    ]
    return tuple(sorted(problems, key=lambda problem: (problem.line, problem.column)))


def from_raw(raw: Raw, name: str = "drawing") -> Layout:
    """Make a layout from plain tables, as `to_raw` makes them.

    Raises LayoutErrors; its problems have key paths and no lines.
    """
    troubles: list[Trouble] = []
    layout = None
    with suppress(TooManyTroublesError):  # what is listed by then is enough to tell
        layout = _layout(raw, Place((), troubles))
    if layout is None:
        raise LayoutErrors(_unplaced(troubles, name))
    return layout


def write(drawing: Drawing) -> str:
    """Write a drawing as the text of a layout file.

    Returns the drawing's own text where nothing changed; else that text with the changed values in it, its
    comments, order and figures as typed; a new text where there is none, or none that can take the change.
    """
    old, raw = _before(drawing.text)
    if old is not None and old.base == drawing.base and old.alternatives == drawing.alternatives:
        return drawing.text
    tables = _changed(raw, old, drawing)
    body = drawing.text.removeprefix("\ufeff")
    if old is not None:
        with suppress(ValueError):  # a layout of keys that cannot be kept is written anew
            return drawing.text[: len(drawing.text) - len(body)] + layout_text.rewrite(body, raw, tables)
    return layout_text.fresh(tables)


@lru_cache(maxsize=8)
def _before(text: str) -> tuple[Drawing | None, Raw]:
    """The drawing and the tables that a text holds; none where it holds no drawing."""
    try:
        raw = _toml(text.removeprefix("\ufeff"), "")
    except LayoutErrors:
        return None, {}
    drawing = _drawing(raw, text, [])
    return drawing, raw if drawing else {}


def _changed(raw: Raw, old: Drawing | None, drawing: Drawing) -> dict[str, Any]:
    """The tables of a drawing; those of the file it was read from, changed where the drawing changed."""
    tables = to_raw(drawing.base) if old is None else changes.carried(raw, old.base, drawing.base)
    before = raw.get("alternatives", {})
    alternatives = {}
    for name, alternative in drawing.alternatives.items():
        partial = before.get(name, {})
        alternatives[name] = changes.partial(partial, drawing.base, alternative.layout, alternative.note)
    tables.pop("alternatives", None)
    return tables | ({"alternatives": alternatives} if alternatives else {})


def with_base(drawing: Drawing, base: Layout) -> Drawing:
    """Put another base under a drawing; its alternatives are laid over it anew.

    Raises LayoutErrors where an alternative does not hold on the new base.
    """
    old, raw = _before(drawing.text)
    tables = to_raw(base) | {"alternatives": _changed(raw, old, drawing).get("alternatives", {})}
    troubles: list[Trouble] = []
    changed = _drawing(tables, drawing.text, troubles)
    if changed is None:
        raise LayoutErrors(_unplaced(troubles, "drawing"))
    return Drawing(base, changed.alternatives, drawing.text)


def check(layout: Layout) -> tuple[Problem, ...]:
    """What a file of this layout would be refused for, so that an edit can be refused before it is saved."""
    try:
        from_raw(to_raw(layout))
    except LayoutErrors as error:
        return error.problems
    return ()


def _unplaced(troubles: list[Trouble], name: str) -> tuple[Problem, ...]:
    return tuple(Problem(name, 0, 0, dotted(path), found, allowed) for path, found, allowed in troubles)
