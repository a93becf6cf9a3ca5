"""What is typed on the part card, held until it makes a valid drawing. No Qt here.

A change goes the way a layout file goes: laid over the part's table and read again, so that the card takes
and refuses just what a file would, in the same words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from sketch.card.card_lines import CardLine
from sketch.card.part_lines import group_of, lines_of
from sketch.card.typed_flow import with_displacement
from sketch.card.typed_size import choice_text, sizes_beside, sizes_meant
from sketch.editing import edits, stock
from sketch.editing.placing import RETURN, is_place, set_places
from solver.geometry.outline import GeometryError
from solver.layout import file
from solver.layout import raw as layout_raw
from solver.layout.file import LayoutErrors, Problem
from solver.layout.keys import SCREENED, idle_keys
from solver.layout.kinds import LimitForm
from solver.layout.parts import Layout
from solver.layout.positions import dotted
from solver.layout.reading import Path, Raw
from solver.quantities import units
from solver.quantities.spelling import is_number, with_unit
from solver.quantities.units import Quantity, System

Typed = str | bool
"""What a field holds: text, or yes or no."""


@dataclass(frozen=True, slots=True)
class Refused(Exception):  # noqa: N818 - it is what the card shows, not a fault
    """Why what is typed makes no valid drawing: by the key of a line, and what belongs to none."""

    by_line: Mapping[str, str]
    rest: tuple[str, ...]


def table_of(layout: Layout, name: str) -> dict[str, Any]:
    """The table of a part, or what the drawing says besides its parts. Raises KeyError."""
    return layout_raw.part_raw(layout, name)[1] if name else layout_raw.top_raw(layout)


def drafted(layout: Layout, name: str, draft: Mapping[str, Typed], system: System) -> dict[str, Any]:
    """The table as it would be with everything in the draft typed into it, right or wrong."""
    group, table = group_of(layout, name), table_of(layout, name)
    known = {line.key: line for line in lines_of(group, {**table, **draft})}
    for key, typed in draft.items():
        if key in known and not is_place(key):
            table = _with(table, known[key], typed, system)
            table = {each: value for each, value in table.items() if each not in _PUT_OUT.get(key, ())}
            if key == "screen.drops" and _holds(table, ASSUMED_SCREEN):
                table = layout_raw.without_key(table, ASSUMED_SCREEN)
    idle = idle_keys(group, table) if group else frozenset()
    if group in ("intakes", "fittings") and "kind" in draft and table.get("kind") in SCREENED:
        table.setdefault("screen", layout_raw.screen_raw(stock.screen(layout)))
    return {key: value for key, value in table.items() if key not in idle}


ASSUMED_SCREEN = ("screen", "assumed")
_PUT_OUT = {
    "flow": ("displacement", "volumetric_efficiency"),
    "displacement": ("flow",),
    **{f"limit.{form}": ("limit_assumed",) for form in LimitForm},
}
"""Of a pump, whose flow comes from the one or the other, and whose limit is assumed until it is typed."""


def _with(table: Raw, line: CardLine, typed: Typed, system: System) -> dict[str, Any]:
    value = raw_value(line, typed, system)
    if value is None:
        left = layout_raw.without_key(table, line.path) if _holds(table, line.path) else dict(table)
        return {key: value for key, value in left.items() if value != {}}
    patch: Any = value
    for step in reversed(line.path):
        patch = {step: patch}
    return layout_raw.over_part(table, patch)


def _holds(table: Any, path: Path) -> bool:
    for step in path:
        if not isinstance(table, dict) or step not in table:
            return False
        table = table[step]
    return True


def raw_value(line: CardLine, typed: Typed, system: System) -> Any:
    """What was typed as the file would have it; None where the field was emptied.

    A bare number is in the unit that the window shows, which the field shows while it is typed.
    """
    if isinstance(typed, bool):
        return typed or None
    text = typed.strip()
    if not text:
        return None
    if line.words or (line.options and line.kind is None and not text.isdigit()):
        return text
    if line.kind is None:
        return _number(text)
    if ":" in text:
        pairs = [pair.partition(":") for pair in text.split(";") if pair.strip()]
        return [[argument.strip(), figure.strip()] for argument, _, figure in pairs]
    return with_unit(text, units.unit(line.kind, system))


def _number(text: str) -> float | int | str:
    share = text.removesuffix("%").strip()
    if not is_number(share):
        return text
    if share != text:
        return round(float(share) / 100.0, 9)
    return int(text) if text.isdigit() else float(text)


def shown(table: Raw, line: CardLine) -> Typed:
    """What the field of a line shows of a part's table: the figure as typed, or whether a flag is set."""
    value: Any = table
    for step in line.path:
        value = value.get(step) if isinstance(value, dict) else None
    if line.flag:
        return bool(value)
    if isinstance(value, list):
        return "; ".join(f"{argument}: {figure}" for argument, figure in value)
    if isinstance(value, float):
        return f"{value:g}"
    return "" if value is None else str(value)


def changed(layout: Layout, name: str, draft: Mapping[str, Typed], system: System) -> Layout:
    """The layout with everything in the draft done.

    Raises Refused where that makes no valid drawing.
    """
    draft = with_displacement(layout, name, _with_sizes_meant(layout, name, draft), system)
    places = any(map(is_place, draft))
    try:
        return _placed(_tabled(layout, layout, name, draft, system), name, draft, system)
    except Refused as refused:
        if not places or all(map(is_place, draft)):
            raise
        first = refused
    # A level that the tank has no room for as it is may have it at the height that is typed.
    try:
        placed = _placed(layout, name, draft, system, checked=False)
    except Refused:
        raise first from None
    return _tabled(layout, placed, name, draft, system)


SIZES = ("size", "other_size")


def _with_sizes_meant(layout: Layout, name: str, draft: Mapping[str, Typed]) -> dict[str, Typed]:
    """What is typed, a nominal size alone as the one of the list of the part's own size. Raises Refused where
    it may be several.
    """
    full = dict(draft)
    for key in (key for key in SIZES if isinstance(draft.get(key), str)):
        text, own = str(draft[key]), table_of(layout, name).get(key) or table_of(layout, name).get("size")
        meant = sizes_meant(text, own, sizes_beside(layout, name))
        if len(meant) > 1:
            raise Refused({key: choice_text(text, meant)}, ())
        full[key] = meant[0] if meant else text
    return full


def _tabled(layout: Layout, placed: Layout, name: str, draft: Mapping[str, Typed], system: System) -> Layout:
    """A layout whose part is placed, with what is typed into its table; parts equal to those of `layout` are
    the very same. Raises Refused.
    """
    group = group_of(placed, name)
    root: Path = (group, name) if name else ()
    raw = layout_raw.to_raw(placed)
    if not all(map(is_place, draft)):
        table = drafted(placed, name, draft, system)
        raw = {**raw, group: {**raw[group], name: table}} if name else {**raw, **table}
    try:
        edited = file.from_raw(raw)
    except LayoutErrors as error:
        lines = lines_of(group, {**table_of(placed, name), **draft})
        raise _refused(error, root, lines) from error
    return _same_parts(layout, edited)


def _same_parts(layout: Layout, edited: Layout) -> Layout:
    """`edited`, with the very parts of `layout` wherever they are equal."""
    groups = ("reservoirs", "intakes", "pumps", "runs", "fittings", "tees")
    kept: dict[str, Any] = {
        group: {
            name: old if (old := getattr(layout, group).get(name)) == part else part
            for name, part in getattr(edited, group).items()
        }
        for group in groups
    }
    return replace(edited, **kept)


def _placed(
    layout: Layout, name: str, draft: Mapping[str, Typed], system: System, *, checked: bool = True
) -> Layout:
    """The layout with the part where it is typed to be; unless `checked`, what else is typed may be needed
    for it to be valid. Raises Refused.
    """
    lines = {line.key: line for line in lines_of(group_of(layout, name), table_of(layout, name))}
    values: dict[str, Quantity | None] = {}
    for key in (key for key in draft if is_place(key) and key in lines):
        try:
            wanted = raw_value(lines[key], str(draft[key]), system)
            value = None if wanted is None else edits.read_typed(str(wanted), units.Kind.LENGTH, system)
            values[key] = value
            edited = set_places(layout, name, values)
        except (edits.EditError, GeometryError) as error:
            if key in RETURN and any(half in draft and half not in values for half in RETURN):
                continue  # the other half of it is still to come
            raise Refused({key: str(error)}, ()) from error
        for problem in file.check(edited) if checked else ():
            raise Refused({key: _in_words(problem)}, ())
    return set_places(layout, name, values)


def _refused(error: LayoutErrors, root: Path, lines: tuple[CardLine, ...]) -> Refused:
    by_line: dict[str, str] = {}
    rest: list[str] = []
    ways = {dotted((*root, *line.path)): line.key for line in lines}
    for problem in error.problems:
        text = _in_words(problem)
        place = max((way for way in ways if _within(problem.key, way)), key=len, default="")
        if place:
            by_line.setdefault(ways[place], text)
        else:
            key = problem.key.removeprefix(dotted(root)).strip(".")
            rest.append(f"{key}: {text}" if key else text)
    return Refused(by_line, tuple(rest))


def _in_words(problem: Problem) -> str:
    """What a file would be told, without what concerns files alone."""
    if problem.found == "nothing" and problem.allowed.startswith("the key"):
        _, _, usual = problem.allowed.partition("; ")
        return f"needed here; {usual}" if usual else "needed here"
    allowed = problem.allowed.replace(", without quotes", "").replace("text in quotes: ", "")
    return f"found {problem.found}; allowed: {_MANY.sub('one of the list', allowed)}"


_MANY = re.compile(r'(?<!exactly )one of "[^"]+"(?:, "[^"]+")+')


def _within(key: str, way: str) -> bool:
    return key == way or key.startswith((f"{way}.", f"{way}["))
