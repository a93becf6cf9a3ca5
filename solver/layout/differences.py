"""How one drawing differs from another, in the words of their parts."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from solver.layout import criteria, keys
from solver.layout.parts import Layout
from solver.layout.raw import OF_THE_FILE, same, to_full_raw
from solver.layout.reading import Raw, Schema, table_schema
from solver.quantities import units
from solver.quantities.units import Kind, System

PLACES = ("at", "via", "outline")
"""Keys that say where a part stands: pairs of coordinates, which nobody reads in a sentence."""

UNSAID = ("format", "title", "notes", "units", "built", *OF_THE_FILE)
"""Keys that change nothing of what is calculated."""

CLOSE = 0.005
"""Of a figure: it stays as typed where the unit asked for would show it further off than that."""

FLUID, PUMPS, RESERVOIRS, SIZES = "fluid", "pumps", "reservoirs", ("size", "bore")
"""What decides most, in this order: fluid and heating, where a pump stands, levels; then sizes."""


def differences(before: Layout, after: Layout, system: System | None = None) -> tuple[str, ...]:
    """What is new, gone or other in `after`, a sentence a part or table.

    Such as "riser: size NPS 3 instead of NPS 2". Parts that are changed alike share a sentence.
    What decides most comes first: the fluid, the pumps, the reservoirs, then sizes, then all else.
    system: of the figures; that of `after` unless given.
    """
    system = system or System(after.units)
    old, new = to_full_raw(before), to_full_raw(after)
    lines: list[_Line] = []
    for group in keys.PARTS:
        lines += _parts(group, _table(old.get(group)), _table(new.get(group)), system)
    for key in dict.fromkeys([*old, *new]):
        if key not in keys.PARTS and key not in UNSAID:
            tables = _one(key, old.get(key)), _one(key, new.get(key))
            sentences = list(_figures(*tables, (), _schemas().get(key, {}), system))
            lines += [_Line(key, f"{key}: ", ", ".join(sentences))] if sentences else []
    return _sentences(sorted(lines, key=_importance))


class _Line(NamedTuple):
    """How one part or table differs: lines that say the same of parts go into one sentence."""

    group: str
    before: str  # what stands before the names of parts, or in their place
    change: str
    name: str = ""  # of a part that shares its sentence


def _sentences(lines: Sequence[_Line]) -> tuple[str, ...]:
    shared: dict[tuple[str, str], list[str]] = {}
    for line in lines:
        shared.setdefault((line.before, line.change), []).append(line.name)
    return tuple(
        f"{before}{', '.join(filter(None, names))}{': ' if names[0] and change else ''}{change}"
        for (before, change), names in shared.items()
    )


def _importance(line: _Line) -> int:
    """Sorts what decides most first."""
    if line.group in (FLUID, PUMPS, RESERVOIRS):
        return (FLUID, PUMPS, RESERVOIRS).index(line.group)
    return 3 if any(each.startswith(SIZES) for each in line.change.split(", ")) else 4


@functools.cache
def _schemas() -> Mapping[str, Schema]:
    """What is read in each table of a drawing, which says of what kind a figure is."""
    tables: dict[str, Schema] = {
        "site": table_schema(keys.SITE),
        "fluid": table_schema(keys.FLUID),
        **dict.fromkeys(criteria.TABLES, table_schema(criteria.CRITERIA)),
        **{name: {"additionalProperties": table_schema(table.keys)} for name, table in keys.PARTS.items()},
    }
    return {**tables, "cases": {"additionalProperties": {"properties": tables}}}


def _within(schema: Schema, key: str) -> Schema:
    """The schema of a key of a table; empty where nothing is known of it."""
    inner = schema.get("properties", {}).get(key) or schema.get("additionalProperties")
    return inner if isinstance(inner, dict) else {}


def _kind(schema: Schema) -> Kind | None:
    """The kind of quantity that a schema reads, or one of several does."""
    for each in (schema, *schema.get("anyOf", ())):
        name = each.get("$ref", "").rpartition("/")[2].upper()
        if name in Kind.__members__:
            return Kind[name]
    return None


def _parts(group: str, old: Raw, new: Raw, system: System) -> Iterator[_Line]:
    for name, part in new.items():
        if name not in old:
            kind = part.get("kind") or part.get("size") or _shown(part.get("bore", ""), Kind.BORE, system)
            yield _Line(group, f"new: {name}" + (f", {kind}" if kind and kind != name else ""), "")
        elif sentences := list(_figures(old[name], part, (), _within(_schemas()[group], name), system)):
            yield _Line(group, "", ", ".join(sentences), name)
    yield from (_Line(group, "without ", "", name) for name in old if name not in new)


def _figures(old: Raw, new: Raw, path: tuple[str, ...], schema: Schema, system: System) -> Iterator[str]:
    """Keys with other values, deepest first called by their own names."""
    for key in dict.fromkeys([*old, *new]):
        before, after, key_path = old.get(key), new.get(key), (*path, key)
        if isinstance(before, dict) and isinstance(after, dict):
            yield from _figures(before, after, key_path, _within(schema, key), system)
        elif key in old and key in new and same(before, after):
            continue
        elif key == "at":
            yield f"moved, {_place(before, after, system)}"
        elif key in PLACES:
            yield {"via": "other corners", "outline": "another outline"}[key]
        else:
            kind = Kind.VACUUM if key == "weather_allowance" else _kind(_within(schema, key))
            shown = tuple(_shown(each, kind, system) for each in (before, after))
            before, after = shown if shown[0] != shown[1] else (before, after)
            yield _figure(" ".join(key_path).replace("_", " "), before, after)


def _place(before: Any, after: Any, system: System) -> str:
    """Where a part stands and stood: its height, and how far along where that alone is another."""
    (x, y), (was_x, was_y) = after, before
    called, place, was = ("x", x, was_x) if same(y, was_y) else ("height", y, was_y)
    lengths = (units.quantity(each, Kind.LENGTH).si for each in (was, place))
    shown = tuple(units.typeset(si, Kind.LENGTH, system) for si in lengths)
    return _figure(called, *(shown if shown[0] != shown[1] else (was, place)))


def _shown(value: Any, kind: Kind | None, system: System) -> Any:
    """A quantity in the units asked for; anything else as it stands, and so what they would round away."""
    if kind is None or not isinstance(value, str) or not value:
        return value
    try:
        si = units.quantity(value, kind).si
    except units.UnitError:
        return value
    for shown in (kind, Kind.LENGTH) if kind is Kind.ELEVATION else (kind,):  # a site's, or a level's
        near = units.quantity(units.show(si, shown, system), shown).si
        if abs(near - si) <= CLOSE * abs(si):
            return units.typeset(si, shown, system)
    return value


def _figure(called: str, before: Any, after: Any) -> str:
    if before is None:
        return f"{called} {_text(after)}" if _is_short(after) else f"with {called}"
    if after is None:
        return f"without {called}"
    if _is_short(before) and _is_short(after):
        return f"{called} {_text(after)} instead of {_text(before)}"
    return f"other {called}"


def _is_short(value: Any) -> bool:
    return isinstance(value, str | float | int)


def _text(value: Any) -> str:
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)


def _one(key: str, value: Any) -> Raw:
    """A table as it is, cases by their names in quotes; a value of the top as a table of its own."""
    if key == "cases":
        return {f'"{name}"': case for name, case in _table(value).items()}
    return value if isinstance(value, dict) else {} if value is None else {key: value}


def _table(value: Any) -> Raw:
    return value if isinstance(value, dict) else {}
