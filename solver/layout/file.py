"""The drawing file: TOML in, alternatives laid over the base, every refusal with its place; TOML out.

Only a base that does not read is refused: an alternative or a case that does not hold is kept, with why.
"""

from __future__ import annotations

import os
import re
import stat
import tomllib
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any, BinaryIO

from solver.layout import block_order, cases, changes, reading_checks
from solver.layout import raw as layout_raw
from solver.layout import text as layout_text
from solver.layout.drawing import Alternative, BrokenAlternative, Drawing, drawing_of, layout_of, mended
from solver.layout.parts import Layout
from solver.layout.positions import Positions, dotted, has_long_chain
from solver.layout.raw import FORMATS, to_raw
from solver.layout.reading import KeyPlace, Raw, TooManyTroublesError, Trouble

__all__ = [
    "Alternative",
    "BrokenAlternative",
    "Drawing",
    "LayoutErrors",
    "Problem",
    "case_problems",
    "check",
    "contents",
    "from_raw",
    "parse",
    "placed_problems",
    "problems_in",
    "read",
    "read_stream",
    "reading_problems",
    "to_raw",
    "with_base",
    "with_mended",
    "write",
]

LARGEST_FILE = 8 * 1024 * 1024


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


def read(path: str | FilePath) -> Drawing:
    """Read a drawing file.

    path: of a regular file of at most 8 MiB.
    Raises LayoutErrors with every problem in it, also where it cannot be read at all.
    """
    return parse(contents(path), str(path))


def contents(path: str | FilePath) -> str:
    """The text of a drawing file. Parameters and errors as `read`."""
    name = str(path)
    try:
        return _contents(FilePath(path), name)
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
    except ValueError as error:
        if isinstance(error, LayoutErrors):
            raise
        reason = str(error)  # a path with a null character
    raise _whole(name, f"a file that cannot be opened: {reason}", "a drawing file that can be read")


def _contents(path: FilePath, name: str) -> str:
    status = path.stat()
    if not stat.S_ISREG(status.st_mode):
        what = "a directory" if stat.S_ISDIR(status.st_mode) else "something that is not a file"
        raise _whole(name, what, "a drawing, ending in .toml")
    if status.st_size > LARGEST_FILE:
        raise _whole(name, f"a file of {status.st_size / 2**20:.1f} MiB", "at most 8 MiB")
    # What has become a pipe since is opened without waiting for a writer, and then gives nothing.
    number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(number, "rb") as stream:
        return _decoded(stream.read(LARGEST_FILE + 1), name)


def read_stream(stream: BinaryIO, name: str) -> Drawing:
    """Read a drawing from what is left of a stream; name: for messages. Errors as `read`."""
    return parse(_decoded(stream.read(LARGEST_FILE + 1), name), name)


def _decoded(data: bytes, name: str) -> str:
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
    """Read a drawing from the text of a drawing file.

    text: TOML. name: of the file, for messages.
    Returns the drawing, which keeps the text. Raises LayoutErrors with every problem in it.
    """
    if len(text) > LARGEST_FILE or len(text.encode("utf-8", "replace")) > LARGEST_FILE:
        raise _whole(name, "a text over 8 MiB", "at most 8 MiB")
    body = text.removeprefix("\ufeff")
    raw = tables(body, name)
    troubles: list[Trouble] = []
    drawing = drawing_of(raw, text, troubles)
    if drawing is None:
        raise LayoutErrors(problems_in(troubles, body, name))
    return drawing


_AT = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


def tables(text: str, name: str = "text") -> dict[str, Any]:
    """Read a text as TOML, whatever its keys mean. Raises LayoutErrors."""
    if has_long_chain(text):
        raise _whole(name, "a dotted key of very many names", "a drawing, whose keys have at most six")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise _whole(name, "brackets nested too deeply", "a drawing, which needs five levels") from None
    except ValueError as error:  # also a whole number too long to convert
        match = _AT.fullmatch(str(error))
        message = match[1] if match else str(error)
        end = text.count("\n") + 1, len(text) - (text.rfind("\n") + 1) + 1
        line, column = (int(match[2]), int(match[3])) if match and match[2] else end
        if not isinstance(error, tomllib.TOMLDecodeError):
            line, column, message = 0, 0, "a number that is too long"
        problem = Problem(name, line, column, "", f"text that is not TOML ({message})", "TOML, each key once")
        raise LayoutErrors((problem,)) from None


def problems_in(troubles: Iterable[Trouble], text: str, name: str) -> tuple[Problem, ...]:
    """Troubles with their places in the text of the file of that name, in the order of the text."""
    return _placed_in(Positions(text), troubles, name)


def _placed_in(positions: Positions, troubles: Iterable[Trouble], name: str) -> tuple[Problem, ...]:
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
        layout = layout_of(raw, KeyPlace((), troubles), ())
    if layout is None:
        raise LayoutErrors(_unplaced(troubles, name))
    return layout


def write(drawing: Drawing) -> str:
    """Write a drawing as the text of a drawing file.

    Returns the drawing's own text where nothing changed; else that text with the changed values in it, its
    comments, order and figures as typed; a new text where there is none, or none that can take the change.
    """
    old, raw = _before(drawing.text)
    order = _order(drawing)
    if old is not None and replace(old, text=drawing.text) == drawing and order == _order(old):
        return drawing.text
    tables = _changed(raw, old, drawing)
    body = drawing.text.removeprefix("\ufeff")
    if old is not None:
        with suppress(ValueError):  # a layout of keys that cannot be kept is written again
            text = layout_text.rewrite(body, raw, tables)
            for group, names in order.items():
                text = block_order.in_order(text, group, names)
            return drawing.text[: len(drawing.text) - len(body)] + text
    return layout_text.fresh(tables)


@lru_cache(maxsize=8)
def _before(text: str) -> tuple[Drawing | None, Raw]:
    """The drawing and the tables that a text holds; none where it holds no drawing."""
    try:
        raw = tables(text.removeprefix("\ufeff"), "")
    except LayoutErrors:
        return None, {}
    drawing = drawing_of(raw, text, [])
    return drawing, raw if drawing else {}


def _order(drawing: Drawing) -> dict[str, list[str]]:
    """What two drawings may differ in that are equal as values."""
    return {"cases": list(drawing.base.cases), "alternatives": list(drawing.alternatives)}


def _changed(raw: Raw, old: Drawing | None, drawing: Drawing) -> dict[str, Any]:
    """The tables of a drawing; those of the file it was read from, changed where the drawing changed."""
    tables = to_raw(drawing.base) if old is None else changes.carried(raw, old.base, drawing.base)
    before = raw.get("alternatives", {})
    alternatives = {}
    for name, alternative in drawing.alternatives.items():
        partial = before.get(name, {})
        alternatives[name] = changes.partial(partial, drawing.base, alternative.layout, alternative.note)
    alternatives |= {name: dict(broken.table) for name, broken in drawing.broken.items()}
    ordered = {
        name: alternatives[name] for name in dict.fromkeys([*before, *alternatives]) if name in alternatives
    }
    tables.pop("alternatives", None)
    if "cases" in tables:
        tables["cases"] = {name: tables["cases"][name] for name in drawing.base.cases}
    needed = (layout_raw.format_of(each.layout) for each in drawing.alternatives.values())
    tables["format"] = max(tables["format"], *needed, FORMATS[0])
    return tables | ({"alternatives": ordered} if ordered else {})


def with_base(drawing: Drawing, base: Layout) -> Drawing:
    """Put another base under a drawing; its alternatives are laid over it again, those that broke among them.

    Raises LayoutErrors where the base is none that a file may hold.
    """
    old, raw = _before(drawing.text)
    tables = to_raw(base) | {"alternatives": _changed(raw, old, drawing).get("alternatives", {})}
    troubles: list[Trouble] = []
    changed = drawing_of(tables, drawing.text, troubles)
    if changed is None:
        raise LayoutErrors(_unplaced(troubles, "drawing"))
    return Drawing(base, changed.alternatives, drawing.text, changed.broken)


def with_mended(drawing: Drawing, name: str) -> Drawing:
    """A drawing with an alternative that did not hold, without the figures for which it did not.

    Raises KeyError where there is no such alternative, ValueError where it holds not even so.
    """
    alternative = mended(to_raw(drawing.base), drawing.broken[name], name)
    if alternative is None:
        raise ValueError(f"{name} does not hold on this drawing whatever is left out of it")
    broken = {each: other for each, other in drawing.broken.items() if each != name}
    return replace(drawing, alternatives={**drawing.alternatives, name: alternative}, broken=broken)


def check(layout: Layout) -> tuple[Problem, ...]:
    """What a file of this layout would be refused for, so that an edit can be refused before it is saved."""
    try:
        from_raw(to_raw(layout))
    except LayoutErrors as error:
        return error.problems
    return ()


def placed_problems(drawing: Drawing, troubles: Iterable[Trouble], name: str) -> tuple[Problem, ...]:
    """Troubles with their places in the text that a drawing was read from. `name` is that of its file."""
    return problems_in(troubles, drawing.text.removeprefix("\ufeff"), name)


def case_problems(
    drawing: Drawing, alternative: str = "", name: str = "drawing"
) -> dict[str, tuple[Problem, ...]]:
    """What keeps cases of the base, or of an alternative, from holding, by case, with places in the text.

    `name` is that of the file. Raises KeyError for an alternative that the drawing has not.
    """
    layout = drawing.alternatives[alternative].layout if alternative else drawing.base
    by_case = cases.troubles_of(layout)
    if not by_case:
        return {}
    positions = Positions(drawing.text.removeprefix("\ufeff"))
    own = ("alternatives", alternative)  # what it has of its own stands under it, all else in the base
    if alternative:
        by_case = {case: tuple(_moved(each, own, positions) for each in by_case[case]) for case in by_case}
    return {case: _placed_in(positions, troubles, name) for case, troubles in by_case.items()}


def reading_problems(drawing: Drawing, name: str = "drawing") -> tuple[Problem, ...]:
    """What keeps readings of a drawing from being compared with it, with places in the text.

    `name` is that of the file.
    """
    lines = {line: each.layout for line, each in drawing.alternatives.items()}
    troubles = reading_checks.troubles_of(drawing.base, lines)
    return placed_problems(drawing, troubles, name) if troubles else ()


def _moved(trouble: Trouble, table: tuple[str, ...], positions: Positions) -> Trouble:
    """A trouble at its place under a table, where the text has that."""
    path = (*table, *trouble.path)
    return trouble._replace(path=path) if path in positions.entries else trouble


def _unplaced(troubles: list[Trouble], name: str) -> tuple[Problem, ...]:
    return tuple(Problem(name, 0, 0, dotted(path), found, allowed) for path, found, allowed in troubles)
