"""A Layout as plain tables, and one drawing laid over another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import MISSING
from dataclasses import fields as attributes
from enum import StrEnum
from typing import Any

from solver.layout import criteria, readings, remark_keys, tables, title_keys
from solver.layout import keys as layout_keys
from solver.layout.kinds import Bend
from solver.layout.parts import SHORT_CASE, FluidChoice, Layout, Limit, Screen
from solver.layout.reading import Key, Path, Raw
from solver.layout.title_block import TitleBlock
from solver.quantities.units import Kind, Quantity, UnitError, quantity

FORMATS = (1, 2)
"""Those that are read. The second is written where a drawing holds what a program of the first refuses."""

OF_THE_FILE = ("readings", "sheet", "texts", "dimensions")
"""Tables that stand in the base alone; its alternatives have them too."""

_EXCLUSIVE: Mapping[str, tuple[tuple[tuple[str, ...], ...], ...]] = {
    "site": ((("elevation", "altimeter_setting"), ("barometer",)),),
    "part": (
        (("size",), ("bore",)),
        (("material",), ("roughness",)),
        (("bend",), ("bend_radius",)),
        (("kv",), ("cv",)),
        (("drop", "density"), ("head",)),
        (("other_size",), ("other_bore",)),
        (("state",), ("opening",)),
        (("opening",), ("curve",)),
        (("cylinders", "double_acting"), ("cylinder_constant",)),
        (("pressure", "sealed"), ("breather_drop",)),
    ),
    "opening": ((("kv",), ("cv",)),),
    "limit": ((("vacuum",), ("pressure",), ("npsh",)),),
    "screen": ((("mesh", "wire", "area"), ("drops", "viscosity", "density")),),
}
"""Keys that stand in each other's place: laying one over a base takes its rivals off the base."""


def exclusive_sides() -> Iterator[tuple[tuple[str, ...], ...]]:
    """Names of figures of which those on one side stand in the place of those on another."""
    return (sides for groups in _EXCLUSIVE.values() for sides in groups)


def to_raw(layout: Layout) -> dict[str, Any]:
    """A layout as the tables of a file, without keys that only say their default."""
    return _tables(layout, full=False)


def to_full_raw(layout: Layout) -> dict[str, Any]:
    """A layout as the tables of a file, with every key that has a value."""
    return _tables(layout, full=True)


def _tables(layout: Layout, full: bool) -> dict[str, Any]:
    raw: dict[str, Any] = {"format": format_of(layout), **_table(layout, layout_keys.TOP, full)}
    raw.setdefault("title", layout.title)
    if not layout.built:
        raw.pop("built", None)  # a date that is not noted is no date
    raw["site"] = _table(layout.site, layout_keys.SITE, full)
    raw["fluid"] = _table(layout.fluid, layout_keys.FLUID, full)
    if sheet := title_keys.title_block_raw(layout.title_block):
        raw["sheet"] = sheet
    if layout.criteria:
        raw[layout.criteria_table] = criteria.raw(layout.criteria)
    levels = {name: tank.level.text for name, tank in layout.reservoirs.items() if tank.level is not None}
    if levels:
        raw["levels"] = levels
    for group, table in layout_keys.PARTS.items():
        parts = getattr(layout, group)
        if parts:
            raw[group] = {name: _table(part, table.keys, full) for name, part in parts.items()}
    if layout.cases:
        raw["cases"] = {name: deepcopy(dict(case.table)) for name, case in layout.cases.items()}
    return raw | _lists(layout)


def _lists(layout: Layout) -> dict[str, Any]:
    """What stands in lists of tables, where there is any."""
    lists = {
        "readings": [readings.reading_raw(each) for each in layout.readings],
        "texts": [remark_keys.text_raw(each) for each in layout.texts],
        "dimensions": [remark_keys.dimension_raw(each) for each in layout.dimensions],
    }
    return {name: rows for name, rows in lists.items() if rows}


def format_of(layout: Layout) -> int:
    """The format that a file of this layout needs, one of `FORMATS`."""
    criteria_of_2 = layout.criteria and layout.criteria_table == "criteria"
    sheet = layout.title_block != TitleBlock() or layout.texts or layout.dimensions
    return 2 if layout.cases or layout.readings or layout.built or sheet or criteria_of_2 else 1


def part_raw(layout: Layout, name: str) -> tuple[str, dict[str, Any]]:
    """One part: the group it stands in and its table. Raises KeyError."""
    for group, table in layout_keys.PARTS.items():
        part = getattr(layout, group).get(name)
        if part is not None:
            return group, _table(part, table.keys, full=False)
    raise KeyError(name)


def screen_raw(screen: Screen) -> dict[str, Any]:
    """A screen as its table."""
    return _table(screen, tables.SCREEN, full=False)


def fluid_raw(fluid: FluidChoice) -> dict[str, Any]:
    """A choice of fluid as its table."""
    return _table(fluid, layout_keys.FLUID, full=False)


def top_raw(layout: Layout) -> dict[str, Any]:
    """What a layout says besides its parts: title, notes, units, site and fluid."""
    return {
        **_table(layout, layout_keys.TOP, full=False),
        "site": _table(layout.site, layout_keys.SITE, full=False),
        "fluid": _table(layout.fluid, layout_keys.FLUID, full=False),
    }


def _table(owner: Any, keys: tuple[Key, ...], full: bool) -> dict[str, Any]:
    defaults = {item.name: item.default for item in attributes(owner)}
    raw = {}
    for key in keys:
        attribute = key.attribute or key.name
        value = getattr(owner, attribute)
        stated = value is not None and (
            full or value != defaults[attribute] or defaults[attribute] is MISSING
        )
        if stated and not (key.name == "drops" and not value):
            raw[key.name] = _value(value, full)
    if raw.get("bend") and "bend_radius" in raw:
        del raw["bend"]
    return raw


def _value(value: Any, full: bool) -> Any:
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, tuple):
        return [_value(item, full) for item in value]
    if type(value) in tables.KEYS:
        return _table(value, tables.KEYS[type(value)], full)
    if isinstance(value, Limit):
        single = len(value.table) == 1 and value.table[0][0] is None
        return {str(value.form): value.table[0][1].text if single else _value(value.table, full)}
    return str(value) if isinstance(value, StrEnum) else value


_DEFAULTS: Mapping[tuple[str, str], Any] = {
    ("runs", "via"): [],
    ("runs", "bend"): str(Bend.LONG_RADIUS),
    ("pumps", "credit"): False,
    ("pumps", "limit_assumed"): False,
    ("reservoirs", "sealed"): False,
}


def default(path: Path) -> Any:
    """What an absent key of a part means; None where nothing."""
    if len(path) == 3:
        return _DEFAULTS.get((str(path[0]), str(path[2])))
    return {"blocked": 0.0, "assumed": False}.get(str(path[-1]))


def lay_over(base: Raw, partial: Raw) -> dict[str, Any]:
    """Lay a partial drawing over a base.

    Takes off the base what `without` names (a part, or a key path such as "pumps.carriage.flow"), then
    merges table by table; any other value replaces (RFC 7396, JSON Merge Patch).
    """
    trimmed = dict(base)
    for name in _texts(partial.get("without", ())):
        for path in paths_of(base, name):
            trimmed = without_key(trimmed, path)
    trimmed.pop("alternatives", None)
    patch = {key: value for key, value in partial.items() if key not in ("note", "without")}
    if isinstance(patch.get("cases"), dict):
        patch["cases"], dropped = _split_cases(patch["cases"])
        for path in dropped:
            trimmed = without_key(trimmed, path)
    return _merged(_with_criteria_as_in(trimmed, patch), patch, ())


def _with_criteria_as_in(base: Raw, patch: Raw) -> Raw:
    """The base with its criteria under the name that the patch has for them: the two merge key by key."""
    name = criteria.table_of(patch)
    if name not in patch:
        return base
    return {name if key in criteria.TABLES else key: value for key, value in base.items()}


def _split_cases(cases: Raw) -> tuple[Raw, list[Path]]:
    """The cases that a partial drawing changes or adds, and the key paths of those that it drops."""
    names = _texts(cases.get("without", ()))
    dropped: list[Path] = [("cases", name) for name in names]
    if SHORT_CASE in names:
        dropped.append(("fluid", "coldest_start"))
    return {name: case for name, case in cases.items() if name != "without"}, dropped


def same(one: Any, other: Any) -> bool:
    """Whether two values of a file mean one thing: a share may be typed as 0.6 or as "60 %"."""
    if isinstance(one, str) and isinstance(other, float):
        try:
            return quantity(one, Kind.SHARE).si == other
        except UnitError:
            return False
    return bool(one == other)


def over_part(table: Raw, patch: Raw) -> dict[str, Any]:
    """Lay figures over the table of one part, or of the drawing as a whole: rivals give way."""
    if patch.keys() & {"site", "fluid"}:
        return _merged(table, patch, ())
    return _merged(table, patch, (next(iter(layout_keys.PARTS)), ""))


def _texts(names: Any) -> list[str]:
    return [name for name in names if isinstance(name, str)] if isinstance(names, list) else []


def paths_of(raw: Raw, name: str) -> list[Path]:
    """The key paths that a name in `without` stands for; none where it stands for nothing."""
    parts: list[Path] = [(group, name) for group in layout_keys.PARTS if name in _dict(raw.get(group))]
    table, _, figure = name.partition(".")
    if not parts and table in criteria.TABLES:
        name = f"{criteria.table_of(raw)}.{figure}"
    return parts or list(_key_paths(raw, name, ()))


def _key_paths(raw: Raw, dotted_name: str, path: Path) -> Iterator[Path]:
    """Part names may hold dots themselves, so every key that fits is tried."""
    for key, value in raw.items():
        if key == dotted_name and path:
            yield (*path, key)
        elif dotted_name.startswith(f"{key}.") and isinstance(value, dict):
            yield from _key_paths(value, dotted_name[len(key) + 1 :], (*path, key))


def _dict(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else {}


def without_key(raw: Raw, path: Path) -> dict[str, Any]:
    """The tables without the key at a path."""
    head = str(path[0])
    if len(path) == 1:
        return {key: value for key, value in raw.items() if key != head}
    return {key: without_key(value, path[1:]) if key == head else value for key, value in raw.items()}


def _merged(base: Raw, patch: Raw, path: Path) -> dict[str, Any]:
    result = {key: value for key, value in base.items() if key not in _rivals(patch, path)}
    for key, value in patch.items():
        if isinstance(value, dict):
            result[key] = _merged(_dict(result.get(key)), value, (*path, key))
        else:
            result[key] = value
    return result


def _rivals(patch: Raw, path: Path) -> set[str]:
    in_case = path[:1] == ("cases",) and len(path) > 1
    if in_case:
        path = path[2:]
    in_part = len(path) == 2 and path[0] in layout_keys.PARTS
    where = "part" if in_part else str(path[-1]) if path else ""
    gone: set[str] = set()
    if not path and "level" in patch:
        gone.add("levels")
    if in_case and path[:1] == ("pumps",) and "speed" in patch:
        gone.add("flow")
    for sides in _EXCLUSIVE.get(where, ()):
        given = [side for side in sides if not patch.keys().isdisjoint(side)]
        gone.update(key for side in sides if given and side not in given for key in side)
    return gone
