"""One drawing out of the tables of a file: the base with its cases, and the alternatives laid over it.

Only a base that does not read is refused: an alternative or a case that does not hold is kept, with why.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from copy import deepcopy
from dataclasses import dataclass, field, replace
from itertools import takewhile
from typing import Any

from solver.layout import cases, checks, criteria, keys, readings, remark_keys, title_keys
from solver.layout import raw as layout_raw
from solver.layout.cold_lines import with_cold_lines
from solver.layout.parts import SHORT_CASE, Layout
from solver.layout.positions import dotted
from solver.layout.raw import FORMATS
from solver.layout.reading import (
    MOST_TROUBLES,
    KeyPlace,
    Path,
    Raw,
    TooManyTroublesError,
    Trouble,
    at_most_one,
    describe,
    fields,
    listed,
    text,
)
from solver.layout.suggestions import suggestion

JOINTS = ("intakes", "fittings", "tees", "pumps")
"""Groups of parts that lines end on."""
MOST_PARTS = 20_000
MOST_ALTERNATIVES = 100

_TOP_KEYS = (
    "format",
    "title",
    "notes",
    "units",
    "site",
    "fluid",
    *criteria.TABLES,
    "level",
    "built",
    "sheet",
    "levels",
    *keys.PARTS,
    "cases",
    "readings",
    "texts",
    "dimensions",
    "alternatives",
)


@dataclass(frozen=True, slots=True)
class Alternative:
    """One drawing laid over the base, whole."""

    note: str
    layout: Layout


@dataclass(frozen=True, slots=True)
class BrokenAlternative:
    """An alternative that does not hold on its base: its table as typed, and what is wrong with it."""

    table: Raw
    troubles: tuple[Trouble, ...]

    @property
    def why(self) -> str:
        """Its refusals in one sentence, each with its key."""
        return "; ".join(
            f"{dotted(each.path)}: found {each.found}; allowed: {each.allowed}" for each in self.troubles
        )


@dataclass(frozen=True, slots=True)
class Drawing:
    """A file: the base, its alternatives by name, and the text they were read from (empty for a new one).

    `broken` are the alternatives that do not hold, which are kept as they are typed.
    """

    base: Layout
    alternatives: Mapping[str, Alternative] = field(default_factory=dict)
    text: str = ""
    broken: Mapping[str, BrokenAlternative] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Let every alternative know how cold the drawing itself has the line, whatever was edited."""
        base = replace(self.base, lines_left_cold={}) if self.base.lines_left_cold else self.base
        known = {name: _with_cold_lines(base, each) for name, each in self.alternatives.items()}
        if base is not self.base:
            object.__setattr__(self, "base", base)
        if any(known[name] is not each for name, each in self.alternatives.items()):
            object.__setattr__(self, "alternatives", known)


def _with_cold_lines(base: Layout, alternative: Alternative) -> Alternative:
    layout = with_cold_lines(base, alternative.layout)
    return alternative if layout is alternative.layout else replace(alternative, layout=layout)


def drawing_of(raw: Raw, text: str, troubles: list[Trouble]) -> Drawing | None:
    """The drawing that the tables of a file make; None where its base is refused.

    troubles: takes what is wrong, with its place.
    """
    try:
        base = layout_of(raw, KeyPlace((), troubles), (), "alternatives")
        _check_short_case(raw, KeyPlace((), troubles))
        tables = _tables_of_alternatives(raw, KeyPlace(("alternatives",), troubles))
        if base is not None and base.dimensions:
            joints = [
                name for each in (raw, *tables.values()) for group in JOINTS for name in _names(each, group)
            ]
            corners = _corners((raw, *tables.values()))
            remark_keys.check_names(base.dimensions, joints, corners, KeyPlace(("dimensions",), troubles))
    except TooManyTroublesError:
        troubles.append(_too_many())
    if troubles or base is None:
        return None
    alternatives, broken = {}, {}
    for name, partial in tables.items():
        alternative = _alternative(raw, partial, name)
        if isinstance(alternative, Alternative):
            alternatives[name] = alternative
        else:
            broken[name] = alternative
    return Drawing(base, alternatives, text, broken)


def _corners(tables: Iterable[Raw]) -> dict[str, int]:
    """How many corners each reservoir has, where it has the most of them."""
    counts: dict[str, int] = {}
    for table in tables:
        for name in _names(table, "reservoirs"):
            tank = table["reservoirs"][name]
            outline = tank.get("outline") if isinstance(tank, dict) else None
            counts[name] = max(counts.get(name, 0), len(outline) if isinstance(outline, list) else 0)
    return counts


def _too_many() -> Trouble:
    return Trouble((), f"{MOST_TROUBLES} problems and stopped there", "fewer to begin with")


def _check_short_case(raw: Raw, place: KeyPlace) -> None:
    """Refuse two temperatures for one case: the short form gives one, and its table another."""
    inner: Any = raw
    for key in ("cases", SHORT_CASE, "fluid"):
        inner = inner.get(key) if isinstance(inner, dict) else None
    fluid = raw.get("fluid")
    both = isinstance(inner, dict) and "temperature" in inner
    if both and isinstance(fluid, dict) and "coldest_start" in fluid:
        refused = "a second temperature, after fluid.coldest_start"
        place.to("cases").to(SHORT_CASE).to("fluid").to("temperature").refuse(refused, "one of the two")


def layout_of(raw: Raw, place: KeyPlace, known: Iterable[tuple[str, str]], *more: str) -> Layout | None:
    """Read one whole drawing; returns None after refusing it.

    known: (group, name) of parts that the drawing has not, and for which its cases may have figures.
    """
    before = len(place.troubles)
    _check_top(raw, place, more)
    top = {key: value for key, value in raw.items() if key in ("title", "notes", "units", "level", "built")}
    values: dict[str, Any] = {"title": "", **fields(top, place, keys.TOP)}
    values["site"] = keys.site(raw.get("site", {}), place.to("site"))
    values["fluid"] = keys.fluid(raw.get("fluid", {}), place.to("fluid"))
    at_most_one(raw, place, *criteria.TABLES)
    table = values["criteria_table"] = criteria.table_of(raw)
    values["criteria"] = criteria.read(raw.get(table, {}), place.to(table))
    parts = _parts(raw, place)
    checks.check(raw, parts, place)
    levels = checks.read_levels(raw.get("levels", {}), parts, place.to("levels"))
    for name, level in levels.items():
        parts["reservoirs"][name] = replace(parts["reservoirs"][name], level=level)
    own = ((group, name) for group in keys.PARTS for name in _names(raw, group))
    values["cases"] = cases.read_cases(raw.get("cases", {}), place.to("cases"), (*known, *own))
    values["title_block"] = title_keys.read_title_block(raw.get("sheet", {}), place.to("sheet"))
    values["readings"] = readings.read_readings(raw.get("readings", []), place.to("readings"))
    values["texts"] = remark_keys.read_texts(raw.get("texts", []), place.to("texts"))
    values["dimensions"] = remark_keys.read_dimensions(raw.get("dimensions", []), place.to("dimensions"))
    return Layout(**values | parts) if len(place.troubles) == before else None


def _check_top(raw: Raw, place: KeyPlace, more: tuple[str, ...]) -> None:
    allowed = [key for key in _TOP_KEYS if key != "alternatives" or key in more]
    for key in raw:
        if key not in allowed:
            hint = suggestion(key, allowed) + f"keys {listed(allowed)}"
            place.to(key).refuse(f"the unknown key {describe(key)}", hint)
    number = raw.get("format")
    if number is None:
        place.to("format").refuse("nothing", f"format = {FORMATS[0]}, which is required")
    elif isinstance(number, bool) or number not in FORMATS:
        newer = " from a newer program" if isinstance(number, int) and number > FORMATS[-1] else ""
        place.to("format").refuse(
            describe(number) + newer,
            "format = 1, or 2 with cases, readings, texts, dimensions, [sheet] or [criteria]",
        )


def _parts(raw: Raw, place: KeyPlace) -> dict[str, dict[str, Any]]:
    parts: dict[str, dict[str, Any]] = {group: {} for group in keys.PARTS}
    tables = {group: raw[group] for group in parts if group in raw}
    count = sum(len(table) for table in tables.values() if isinstance(table, dict))
    if count > MOST_PARTS:
        place.refuse(f"{count} parts", f"at most {MOST_PARTS}")
        return parts
    for group, table in tables.items():
        group_place = place.to(group)
        if not isinstance(table, dict):
            group_place.refuse(describe(table), f"tables, one for each part: [{group}.NAME]")
            continue
        for name, value in table.items():
            part = keys.part(group, name, value, group_place.to(name))
            if part is not None:
                parts[group][name] = part
    return parts


def _tables_of_alternatives(raw: Raw, place: KeyPlace) -> Mapping[str, Raw]:
    tables = raw.get("alternatives", {})
    if not isinstance(tables, dict):
        place.refuse(describe(tables), "tables, one for each alternative: [alternatives.NAME]")
        return {}
    if len(tables) > MOST_ALTERNATIVES:
        place.refuse(f"{len(tables)} alternatives", f"at most {MOST_ALTERNATIVES}")
        return {}
    for name, partial in tables.items():
        if not isinstance(partial, dict):
            place.to(name).refuse(describe(partial), "a table of what differs from the base")
    return tables


def _alternative(base: Raw, partial: Raw, name: str) -> Alternative | BrokenAlternative:
    """Read one alternative on a base that holds."""
    troubles: list[Trouble] = []
    inner: list[Trouble] = []
    layout = note = None
    with suppress(TooManyTroublesError):  # what is listed by then is enough to tell
        place = KeyPlace(("alternatives", name), troubles)
        note = text(partial.get("note", ""), place.to("note"))
        _check_without(base, partial.get("without", []), place.to("without"))
        _check_without_cases(base, partial.get("cases"), place.to("cases"))
        for key in ("format", "alternatives", *layout_raw.OF_THE_FILE):
            if key in partial:
                place.to(key).refuse(f'the key "{key}"', "only in the base")
        if not name.strip():
            place.refuse("an empty name", "a name for the alternative")
        known = ((group, part) for group in keys.PARTS for part in _names(base, group))
        layout = layout_of(layout_raw.lay_over(base, partial), KeyPlace((), inner), known)
    troubles += (Trouble((*place.path, *each.path), each.found, each.allowed) for each in inner)
    if layout is None or troubles:
        return BrokenAlternative(partial, tuple(troubles))
    return Alternative(note or "", cases.of_alternative(layout, base))


def mended(base: Raw, broken: BrokenAlternative, name: str) -> Alternative | None:
    """An alternative without what keeps it from holding; None where it holds not even so.

    base: the tables of the drawing itself. name: of the alternative.
    """
    table = deepcopy(dict(broken.table))
    alternative = _alternative(base, table, name)  # the drawing itself may have been mended meanwhile
    while isinstance(alternative, BrokenAlternative):
        paths = [_of_whole_value(each.path[2:]) for each in alternative.troubles]
        last_first = sorted(dict.fromkeys(paths), key=str, reverse=True)
        if not [path for path in last_first if _drop(table, path) or _drop(table, path[:2])]:
            return None
        alternative = _alternative(base, table, name)
    return alternative


def _of_whole_value(path: Path) -> Path:
    """The path of the value that a trouble is within: all of a point, but one name out of a list."""
    whole = tuple(takewhile(lambda step: isinstance(step, str), path))
    return path if whole[-1:] == ("without",) else whole


def _drop(table: Any, path: Path) -> bool:
    """Take the value at a path out of tables; whether there was one."""
    *before, last = path
    for step in before:
        table = table.get(step) if isinstance(table, dict) else None
    present = (
        isinstance(last, int) and last < len(table) if isinstance(table, list) else last in (table or ())
    )
    if present:
        del table[last]
    return present


def _check_without_cases(base: Raw, table: Any, place: KeyPlace) -> None:
    """Refuse what an alternative would drop, and is no case of its base."""
    names = table.get("without", []) if isinstance(table, dict) else []
    place = place.to("without")
    known = _names(base, "cases")
    fluid = base.get("fluid")
    if isinstance(fluid, dict) and "coldest_start" in fluid:
        known.append(SHORT_CASE)
    if not isinstance(names, list):
        return place.refuse(describe(names), "an array of names of cases")
    for index, name in enumerate(names):
        if name not in known:
            hint = suggestion(name, known) if isinstance(name, str) else ""
            place.to(index).refuse(describe(name), f"{hint}a case of the base by name")
    return None


def _check_without(base: Raw, names: Any, place: KeyPlace) -> None:
    if not isinstance(names, list):
        return place.refuse(describe(names), "an array of names of parts")
    for index, name in enumerate(names):
        if not isinstance(name, str) or not layout_raw.paths_of(base, name):
            parts = [part for group in keys.PARTS for part in _names(base, group)]
            hint = suggestion(name, parts) if isinstance(name, str) else ""
            place.to(index).refuse(
                describe(name), f'{hint}a part of the base, or a key of one such as "pumps.main.flow"'
            )
    return None


def _names(raw: Raw, group: str) -> list[str]:
    table = raw.get(group)
    return list(table) if isinstance(table, dict) else []
