"""Cases: what happens to a drawing, as figures laid over it; read, and put in the place of the drawing's own.

What one builds is an alternative, what happens to it is a case: a case changes no part's place or size.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from solver.layout import keys, raw, tables
from solver.layout.checks import level_problem
from solver.layout.kinds import VALVE_KINDS
from solver.layout.parts import SHORT_CASE, Case, Layout
from solver.layout.positions import dotted
from solver.layout.reading import (
    KeyPlace,
    Path,
    Reader,
    Trouble,
    amount,
    describe,
    flag,
    listed,
    text,
)
from solver.layout.suggestions import suggestion
from solver.quantities.units import Kind, Quantity
from solver.quantities.wording import with_article

AS_DRAWN = "as drawn"
"""The case of a drawing as it stands, which every drawing has."""

MARKS = ("fault", "start_not_counted")
RESERVED = (AS_DRAWN, "without")
MOST_CASES = 30
LONGEST_NAME = 200


class CaseError(ValueError):
    """A case that does not hold on its drawing: the key path, what was found there, what is allowed there."""

    def __init__(self, path: Path, found: str, allowed: str) -> None:
        super().__init__(f"{dotted(path)}: {found}; allowed: {allowed}")
        self.path, self.found, self.allowed = path, found, allowed


def _readers(table: tuple[Any, ...], *names: str) -> dict[str, Reader[Any]]:
    return {key.name: key.read for key in table if key.name in names}


_SCREEN = {"screen": _readers(tables.SCREEN, "blocked")}
TABLE_KEYS: Mapping[str, Mapping[str, Any]] = {
    "site": _readers(keys.SITE, "elevation", "barometer", "weather_allowance"),
    "fluid": {key.name: key.read for key in keys.FLUID if key.name != "coldest_start"},
}
PART_KEYS: Mapping[str, Mapping[str, Any]] = {
    "reservoirs": _readers(keys.RESERVOIR, "pressure", "breather_drop", "draw_down"),
    "intakes": _SCREEN,
    "fittings": {**_readers(keys.FITTING, "state", "opening"), **_SCREEN},
    "pumps": _readers(keys.PUMP, "speed", "flow", "at_rest", "flow_rise", "limit"),
}
_elevation = amount(Kind.ELEVATION)

_RIVALS: Mapping[str, Mapping[str, Any]] = {
    "elevation": {"barometer": None},
    "barometer": {"elevation": None},
    "pressure": {"breather_drop": None},
    "breather_drop": {"pressure": None, "sealed": False},
    "state": {"opening": None},
    "opening": {"state": None, "curve": None},
    "speed": {"flow": None},
}
"""What a figure takes the place of: attribute -> the attributes that give way, with what they become."""


def read_cases(value: Any, place: KeyPlace, known: Iterable[tuple[str, str]]) -> dict[str, Case]:
    """Read the cases of a drawing. A case that cannot be read whole keeps what is wrong with it.

    Parameters: `value`, the table as typed; `known`, (group, name) of every part that a figure may be for.
    """
    if not isinstance(value, dict):
        place.refuse(describe(value), "tables, one for each case: [cases.NAME]")
        return {}
    if len(value) > MOST_CASES:
        place.refuse(f"{len(value)} cases", f"at most {MOST_CASES}")
        return {}
    for name in value:
        if name in RESERVED:
            place.to(name).refuse(f'the name "{name}"', f"a name other than {listed(RESERVED)}")
        elif not (0 < len(name.strip()) <= LONGEST_NAME and name.isprintable()):
            allowed = f"a name of 1 to {LONGEST_NAME} printable characters"
            place.to(name).refuse(f"the name {describe(name)}", allowed)
    parts = set(known)
    return {name: read_case(table, place.path, name, parts) for name, table in value.items()}


def read_case(value: Any, path: Path, name: str, known: set[tuple[str, str]]) -> Case:
    """Read one case. Parameters as `read_cases`; `path` of the table that holds it."""
    troubles: list[Trouble] = []
    place = KeyPlace((*path, name), troubles)
    if not isinstance(value, dict):
        place.refuse(describe(value), "a table of what differs from the drawing")
        return Case(problems=tuple(troubles))
    figures: dict[tuple[str, ...], Any] = {}
    for key, inner in value.items():
        _read_key(key, inner, place.to(key), known, figures)
    return Case(value, figures, tuple(troubles))


def _read_key(
    key: str, value: Any, place: KeyPlace, known: set[tuple[str, str]], figures: dict[tuple[str, ...], Any]
) -> None:
    if key == "note":
        text(value, place)
    elif key in MARKS and place.path[0] != "readings":  # what was read is no fault, but may show one
        flag(value, place)
    elif key == "level":
        _put(figures, (key,), keys.level(value, place))
    elif key == "levels":
        for name, inner, inner_place in _named(value, place, "reservoirs", known):
            _put(figures, (key, name), _elevation(inner, inner_place))
    elif key in TABLE_KEYS:
        _read_table(value, place, TABLE_KEYS[key], (key,), figures)
    elif key in PART_KEYS:
        for name, inner, inner_place in _named(value, place, key, known):
            _read_table(inner, inner_place, PART_KEYS[key], (key, name), figures)
    else:
        marks = MARKS if place.path[0] != "readings" else ()
        allowed = ("note", *marks, "level", "levels", *TABLE_KEYS, *PART_KEYS)
        hint = suggestion(key, allowed) + f"keys {listed(allowed)}: what can change without rebuilding"
        place.refuse(f"the key {describe(key)}, which no case may have", hint)


def _put(figures: dict[tuple[str, ...], Any], path: tuple[str, ...], value: Any) -> None:
    if value is not None:
        figures[path] = value


def _named(
    value: Any, place: KeyPlace, group: str, known: set[tuple[str, str]]
) -> Iterator[tuple[str, Any, KeyPlace]]:
    """The tables of named parts; refuses a name that no part has."""
    if not isinstance(value, dict):
        place.refuse(describe(value), "figures by the name of a part")
        return
    for name, inner in value.items():
        if (group, name) in known:
            yield name, inner, place.to(name)
        else:
            names = [other for kind, other in known if kind == group]
            place.to(name).refuse(
                f"{describe(name)}, which is none of the {group}", allowed_names(name, names)
            )


def allowed_names(name: str, names: Sequence[str]) -> str:
    """What is allowed in place of a name that no part has: the likeliest, and all of them."""
    return suggestion(name, names) + (
        f"one of {listed(names[:12])}" if names else "none: the drawing has no such part"
    )


def _read_table(
    value: Any,
    place: KeyPlace,
    readers: Mapping[str, Any],
    path: tuple[str, ...],
    figures: dict[tuple[str, ...], Any],
) -> None:
    if not isinstance(value, dict):
        place.refuse(describe(value), f"a table with keys {listed(readers)}")
        return
    for key, inner in value.items():
        key_place, reader = place.to(key), readers.get(key)
        if reader is None:
            refused = f"the key {describe(key)}, which no case may have here"
            key_place.refuse(refused, suggestion(key, readers) + f"keys {listed(readers)}")
        elif isinstance(reader, Mapping):
            _read_table(inner, key_place, reader, (*path, key), figures)
        else:
            _put(figures, (*path, key), reader(inner, key_place))


def cases_of(layout: Layout) -> dict[str, Case]:
    """Every case of a drawing by name: as drawn, the coldest start where one is given, and those typed."""
    cases = {AS_DRAWN: Case()}
    if layout.fluid.coldest_start is not None:
        cases[SHORT_CASE] = _short(layout.fluid.coldest_start)
    for name, case in layout.cases.items():
        under = cases.get(name)
        cases[name] = case if under is None else _over(under, case)
    return cases


def _short(temperature: Quantity) -> Case:
    """The case that `fluid.coldest_start` is the short form of."""
    return Case({"fluid": {"temperature": temperature.text}}, {("fluid", "temperature"): temperature})


def _over(under: Case, case: Case) -> Case:
    merged = raw.lay_over(under.table, case.table)
    if case.note:
        merged["note"] = case.note
    return replace(case, table=merged, figures={**under.figures, **case.figures})


def troubles_of(layout: Layout) -> dict[str, tuple[Trouble, ...]]:
    """What keeps cases of a drawing from holding, by their names; those that hold are left out."""
    by_case = {name: _troubles(layout, name, case) for name, case in cases_of(layout).items()}
    return {name: troubles for name, troubles in by_case.items() if troubles}


def _troubles(layout: Layout, name: str, case: Case) -> tuple[Trouble, ...]:
    try:
        layout_in_case(layout, name, case)
    except CaseError as error:
        return tuple(Trouble(*each) for each in case.problems) or (
            Trouble(error.path, error.found, error.allowed),
        )
    return ()


def passed_over(layout: Layout, case: Case) -> tuple[str, ...]:
    """The figures of a case that are for parts or screens which the drawing has not, as key paths."""
    return tuple(
        dotted(path) for path in case.figures if not _has(layout, path) or path in case.without_screen
    )


def _has(layout: Layout, path: tuple[str, ...]) -> bool:
    if path[0] == "levels":
        return path[1] in layout.reservoirs
    return path[0] not in PART_KEYS or path[1] in getattr(layout, path[0])


def of_alternative(layout: Layout, base: Mapping[str, Any]) -> Layout:
    """An alternative whose cases pass over the screens that it has taken out of parts of its base.

    base: the tables that it is laid over.
    """
    named = {
        name: replace(case, without_screen=frozenset(gone))
        for name, case in layout.cases.items()
        if (gone := [path for path in case.figures if _screen_is_gone(layout, base, path)])
    }
    return replace(layout, cases={**layout.cases, **named}) if named else layout


def only_changes_missing_parts(layout: Layout, base: Layout, case: Case) -> bool:
    """Whether every figure of a case is for a part or a screen of `base` that `layout` has not."""
    screened = {
        group: {name: {"screen": part.screen} for name, part in parts.items() if part.screen is not None}
        for group, parts in (("intakes", base.intakes), ("fittings", base.fittings))
    }
    return bool(case.figures) and all(
        _has(base, path) and (not _has(layout, path) or _screen_is_gone(layout, screened, path))
        for path in case.figures
    )


def _screen_is_gone(layout: Layout, base: Mapping[str, Any], path: tuple[str, ...]) -> bool:
    if path[2:3] != ("screen",) or not _has(layout, path):
        return False
    group, name = path[:2]
    table = base.get(group)
    before = table.get(name) if isinstance(table, dict) else None
    has_gone: bool = getattr(layout, group)[name].screen is None
    return has_gone and isinstance(before, dict) and "screen" in before


def layout_in_case(layout: Layout, name: str, case: Case) -> Layout:
    """The drawing with the figures of one of its cases in place of its own, and without cases.

    The drawing itself where the case is that of the drawing as it stands. Figures for parts that it has not
    are passed over. Raises CaseError where the case could not be read whole, or does not hold.
    """
    if name == AS_DRAWN:
        return layout
    for problem in case.problems:
        raise CaseError(*problem)
    at, cold = ("cases", name), layout.lines_left_cold.get(name)
    left = {AS_DRAWN: cold} if cold is not None else {}
    changed: dict[str, Any] = {"cases": {}, "fluid": _fluid(layout, case, at), "lines_left_cold": left}
    for path, value in case.figures.items():
        if path[0] in ("fluid", "levels") or path in case.without_screen or not _has(layout, path):
            continue
        group = path[0]
        changed[group] = _with(changed.get(group, getattr(layout, group)), path, value, at)
    out = replace(layout, **changed)
    return _with_levels(out, case, at)


def only_case(layout: Layout, name: str) -> Layout:
    """The drawing as it is in one of its cases, and with no other. Raises KeyError, CaseError."""
    laid = layout_in_case(layout, name, cases_of(layout)[name])
    return replace(laid, cases={}, fluid=replace(laid.fluid, coldest_start=None))


def _with(group: Any, path: tuple[str, ...], value: Any, at: Path) -> Any:
    """The level, the site or the parts of one kind of a drawing with one figure in place."""
    if path == ("level",):
        return value
    if path[0] == "site":
        return _replaced(group, path[1], value)
    parts: Mapping[str, Any] = group
    _, name, *inner = path
    if inner[0] == "screen":
        if parts[name].screen is None:
            raise CaseError(
                (*at, *path), f"a figure of a screen, which {name} has not", "a part with a screen"
            )
        part = replace(parts[name], screen=replace(parts[name].screen, blocked=value))
    else:
        part = _replaced(parts[name], inner[0], value)
    _PART_CHECKS.get(inner[0], _holds)(part, (*at, *path))
    return {**parts, name: part}


def _replaced(owner: Any, attribute: str, value: Any) -> Any:
    return replace(owner, **{attribute: value, **_RIVALS.get(attribute, {})})


def _holds(part: Any, path: Path) -> None:
    """Nothing of a part can speak against most figures."""


def _check_speed(pump: Any, path: Path) -> None:
    if pump.displacement is None and pump.flow is None:
        raise CaseError(path, f"a speed, but no displacement of {pump.name}", "its flow, or its displacement")


def _check_opening(fitting: Any, path: Path) -> None:
    if fitting.kind not in VALVE_KINDS:
        raise CaseError(path, f"an opening of {with_article(fitting.kind)}", "an opening of a valve")


_PART_CHECKS: Mapping[str, Callable[[Any, Path], None]] = {"speed": _check_speed, "opening": _check_opening}


def _with_levels(layout: Layout, case: Case, at: Path) -> Layout:
    """The drawing with the fluid where a case has it: a level it names takes the place of figures."""
    given, named = {p[1]: v for p, v in case.figures.items() if p[0] == "levels"}, ("level",) in case.figures
    if not given and not named:
        return layout
    tanks = {}
    for name, tank in layout.reservoirs.items():
        level = given.get(name, None if named else tank.level)
        if name in given and (problem := level_problem(tank.outline, given[name])):
            raise CaseError((*at, "levels", name), *problem)
        tanks[name] = tank if level is tank.level else replace(tank, level=level)
    return replace(layout, reservoirs=tanks)


def _fluid(layout: Layout, case: Case, at: Path) -> Any:
    """The fluid of a drawing with the figures of a case. Raises CaseError."""
    given = {path[1]: value for path, value in case.figures.items() if path[0] == "fluid"}
    own = layout.fluid
    if not given and own.coldest_start is None:
        return own
    changed, warmer = replace(own, **{"coldest_start": None, **given}), given.get("temperature")
    if warmer is not None and warmer.si != own.temperature.si and "viscosity" not in given:
        viscosity = own.viscosity
        if isinstance(viscosity, Quantity):
            refused = f'"{warmer.text}", where the one viscosity typed, "{viscosity.text}", says nothing'
            raise CaseError(
                (*at, "fluid", "temperature"),
                refused,
                "a viscosity at two temperatures, or one for this case",
            )
    if given.keys() - {"temperature"}:
        troubles: list[Trouble] = []
        keys.fluid(raw.fluid_raw(changed), KeyPlace((*at, "fluid"), troubles))
        for trouble in troubles:
            raise CaseError(*trouble)
    return changed


def with_part_named(case: Case, name: str, wanted: str | None) -> Case:
    """A case whose figures for a part are under another name of it; without them where `wanted` is None."""
    groups = (*PART_KEYS, "levels")
    table: dict[str, Any] = {}
    for key, inner in case.table.items():
        if key in groups and isinstance(inner, dict):
            named = {wanted if each == name else each: value for each, value in inner.items()}
            inner = {each: value for each, value in named.items() if each is not None}
            if not inner:
                continue
        table[key] = inner
    figures = {}
    for path, value in case.figures.items():
        if path[0] in groups and path[1] == name:
            if wanted is None:
                continue
            path = (path[0], wanted, *path[2:])
        figures[path] = value
    return replace(case, table=table, figures=figures)
