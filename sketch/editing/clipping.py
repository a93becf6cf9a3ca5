"""Parts as text and back: what is copied is a piece of a drawing file, and what is pasted reads as one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import count
from typing import Any

import shapely
import shapely.ops

from sketch.editing import building, copies, edits, selection
from sketch.editing.edits import EditError
from solver.layout import file, keys
from solver.layout import raw as layout_raw
from solver.layout.file import LayoutErrors
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout, Reservoir, Run
from solver.layout.positions import dotted
from solver.layout.reading import KeyPlace, TooManyTroublesError, Trouble
from solver.layout.shapes import polygon
from solver.layout.text import fresh
from solver.properties import sizes

XY = tuple[float, float]

LONGEST = 2_000_000
"""Characters of a text that is tried to be read as parts."""

HEAD = "# Parts of a drawing. Paste them into one, or into its file.\n\n"


@dataclass(frozen=True, slots=True)
class Pasted:
    """A layout with parts pasted into it, and the names that they have there."""

    layout: Layout
    names: tuple[str, ...]
    copies: Mapping[
        str, str
    ]  # those of parts that are in the layout as the text has them, by the names of these


def copied(layout: Layout, names: Collection[str]) -> str:
    """The parts as a piece of a drawing file; "" for none.

    A line comes with the parts that it ends on, and every line between two of the parts with them.
    """
    runs = [layout.runs[name] for name in names if name in layout.runs]
    kept = set(names) | {end for run in runs for end in (run.start, run.end)}
    kept |= {run.name for run in layout.runs.values() if run.start in kept and run.end in kept}
    raw = layout_raw.to_raw(layout)
    tables = {
        group: {name: part for name, part in raw[group].items() if name in kept}
        for group in keys.PARTS
        if group in raw
    }
    tables = {group: parts for group, parts in tables.items() if parts}
    return HEAD + fresh(tables).lstrip("\n") if tables else ""


def names_in(text: str) -> tuple[str, ...]:
    """The names of the parts in a text. Raises EditError where it holds none."""
    return tuple(name for parts in _tables(text).values() for name in parts)


def paste_offset(layout: Layout, text: str, step: float) -> tuple[float, float]:
    """How far a text's parts are to be moved so as not to lie on those they were copied from [m].

    Nowhere where none of their names is taken; a tank goes past itself, other parts one `step`.
    """
    tables = _tables(text)
    if not set(selection.everything(layout)) & set(names_in(text)):
        return 0.0, 0.0
    tanks = [layout.reservoirs[name] for name in tables.get("reservoirs", ()) if name in layout.reservoirs]
    if not tanks:
        return step, -step
    xs = [x.si for tank in tanks for x, _ in tank.outline]
    others = [x.si for tank in layout.reservoirs.values() for x, _ in tank.outline]
    return max(others) - min(xs) + 2 * step, 0.0


def pasted(layout: Layout, text: str, dx: float, dy: float) -> Pasted:
    """The layout with the parts of a text, moved by (dx, dy) [m], under names that are free.

    An intake whose tank is not among them stands in the tank of that name, or in the nearest. A tee on which
    two lines came becomes a line through, with a reducer where they are of two sizes. Raises EditError for a
    text that holds no parts, or parts that the drawing cannot take.
    """
    tables = _tables(text)
    renamed = _free_names(layout, tables)
    merged = _with_parts(layout, _read(tables, renamed))
    way = _into_tanks(layout, merged, (dx, dy), set(renamed.values()))
    places = dict.fromkeys((name for name in renamed.values() if name not in merged.runs), way)
    whole = _in_their_tanks(layout, selection.moved(merged, places), renamed.values())
    for problem in file.check(whole):
        raise EditError(f"{problem.key}: {problem.found}; allowed: {problem.allowed}")
    whole = _without_idle_tees(whole, renamed.values())
    new_names = {name: new for name, new in renamed.items() if selection.has_part(whole, new)}
    copied_from = {
        name: new for name, new in new_names.items() if name != new and _is_in(layout, tables, name)
    }
    return Pasted(copies.with_case_figures(whole, copied_from), tuple(new_names.values()), copied_from)


def _without_idle_tees(layout: Layout, new: Collection[str]) -> Layout:
    """The lines joined through where a new tee came without its third; one with a single line is an open end.

    Lines of two sizes are joined by a reducer. A tee stays where they are unlike in something else: which of
    them is meant nobody has stated.
    """
    for name in [name for name in layout.tees if name in new]:
        lines = building.lines_on(layout, name)
        if len(lines) == 2 and _alike(*lines):
            with suppress(EditError):  # a line that would lead back to where it began
                layout = building.remove(layout, name)
        elif len(lines) == 2:
            layout = _with_reducer(layout, name, *lines)
    return layout


def _with_reducer(layout: Layout, name: str, one: Run, other: Run) -> Layout:
    """A concentric reducer in the place of a tee, where the lines on it have standard sizes of two bores."""
    by_bore = {sizes.bore(run.size): run.size for run in (one, other) if run.size is not None}
    if len(by_bore) < 2:
        return layout
    wide, narrow = by_bore[max(by_bore)], by_bore[min(by_bore)]
    kind = FittingKind.CONCENTRIC_REDUCER
    reducer = Fitting(name, layout.tees[name].at, kind, size=wide, other_size=narrow)
    tees = {key: tee for key, tee in layout.tees.items() if key != name}
    return replace(layout, tees=tees, fittings={**layout.fittings, name: reducer})


def _alike(one: Run, other: Run) -> bool:
    """Whether two runs differ in nothing but where they lie."""
    place: dict[str, Any] = {"name": "", "start": "", "end": "", "via": ()}
    has_more = one.out_of_plane is not None or other.out_of_plane is not None  # lost in a run made of both
    return not has_more and replace(one, **place) == replace(other, **place)


def _is_in(layout: Layout, tables: Mapping[str, Mapping[str, Any]], name: str) -> bool:
    """Whether a layout has a part as the tables have it."""
    group = next(group for group, parts in tables.items() if name in parts)
    drawn: Any = layout_raw.to_raw(layout).get(group, {}).get(name)
    return bool(drawn == tables[group][name])


def _read(tables: Mapping[str, Mapping[str, Any]], renamed: Mapping[str, str]) -> dict[str, dict[str, Any]]:
    """The parts of the tables under their new names. Raises EditError for what is no part."""
    troubles: list[Trouble] = []
    parts: dict[str, dict[str, Any]] = {}
    with suppress(TooManyTroublesError):  # the first is enough to tell
        for group, named_parts in tables.items():
            for name, part in named_parts.items():
                place = KeyPlace((group, name), troubles)
                pasted_part = keys.part(group, renamed[name], _with_names(part, renamed), place)
                parts.setdefault(group, {})[renamed[name]] = pasted_part
    for trouble in troubles:
        raise EditError(f"{dotted(trouble.path)}: {trouble.found}; allowed: {trouble.allowed}")
    return parts


def _with_parts(layout: Layout, parts: Mapping[str, Mapping[str, Any]]) -> Layout:
    """The layout with more parts in it. Raises EditError for a line of which an end is missing."""
    merged: dict[str, Any] = {
        group: {**getattr(layout, group), **parts.get(group, {})} for group in keys.PARTS
    }
    whole = replace(layout, **merged)
    for run in parts.get("runs", {}).values():
        for end in (run.start, run.end):
            if not selection.has_part(whole, end):
                raise EditError(f"{run.name} ends on {end}, which is not among the parts")
    return whole


def _into_tanks(layout: Layout, merged: Layout, way: XY, new: Collection[str]) -> XY:
    """The way by which the parts are moved, so that an intake that came without its tank lies in one [m]."""
    for intake in merged.intakes.values():
        if intake.name in new and intake.reservoir not in new and layout.reservoirs:
            x, y = selection.moved_by(edits.place(merged, intake.name), way)
            tank = _tank_of(layout, intake.reservoir, x, y)
            (near, _) = shapely.ops.nearest_points(polygon(tank.outline), shapely.Point(x, y))
            return selection.moved_by(way, (near.x - x, near.y - y))
    return way


def _tank_of(layout: Layout, name: str, x: float, y: float) -> Reservoir:
    """The tank of that name, or else the one nearest to a place [m]."""
    return layout.reservoirs.get(name) or layout.reservoirs[building.tank_at(layout, x, y)]


def _in_their_tanks(layout: Layout, merged: Layout, new: Collection[str]) -> Layout:
    """The new intakes each in a tank that is there. Raises EditError without any."""
    intakes = {
        name: replace(intake, reservoir=building.tank_at(layout, *edits.place(merged, name)))
        if name in new and intake.reservoir not in merged.reservoirs
        else intake
        for name, intake in merged.intakes.items()
    }
    return replace(merged, intakes=intakes)


def _tables(text: str) -> dict[str, Mapping[str, Any]]:
    """The tables of parts in a text. Raises EditError where there are none."""
    if len(text) > LONGEST:
        raise EditError(f"the text on the clipboard is longer than {LONGEST} characters")
    try:
        raw = file.tables(text)
    except LayoutErrors as error:
        raise EditError("what is on the clipboard is not part of a drawing") from error
    groups = {group: raw[group] for group in keys.PARTS if isinstance(raw.get(group), dict) and raw[group]}
    if not groups:
        raise EditError("what is on the clipboard has no parts of a drawing in it")
    for group, parts in groups.items():
        for name, part in parts.items():
            if not isinstance(part, dict):
                raise EditError(f"{group}.{name} is no table of a part")
    return groups


def _free_names(layout: Layout, tables: Mapping[str, Mapping[str, Any]]) -> dict[str, str]:
    """What every part of the tables is to be called: as it is, or with the first number that is free."""
    in_use = set(selection.everything(layout))
    names = dict.fromkeys(name for parts in tables.values() for name in parts)
    numbers: dict[str, Iterator[int]] = {}  # those of a stem that were not tried yet
    renamed: dict[str, str] = {}
    for name in names:
        free = name
        stem = re.sub(r" \d+$", "", name)
        if name in in_use:
            tried = numbers.setdefault(stem, count(2))
            free = next(each for at in tried if (each := f"{stem} {at}") not in in_use and each not in names)
        in_use.add(free)
        renamed[name] = free
    return renamed


_NAMED = ("from", "to", "reservoir")


def _with_names(part: Mapping[str, Any], renamed: Mapping[str, str]) -> dict[str, Any]:
    return {
        key: renamed.get(value, value) if key in _NAMED and isinstance(value, str) else value
        for key, value in part.items()
    }
