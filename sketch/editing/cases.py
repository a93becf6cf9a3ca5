"""What the hand does to the cases of a drawing, as pure functions Layout -> Layout.

A case is kept as the table that a file would have. What a file would refuse of it is refused here
(`EditError`), so that a drawing can always be saved and opened again.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Any

from sketch.editing import taps
from sketch.editing.edits import EditError, read_typed
from solver.layout import keys, raw
from solver.layout.cases import AS_DRAWN, LONGEST_NAME, MOST_CASES, RESERVED, cases_of, read_case
from solver.layout.kinds import VALVE_KINDS, LimitForm, ValveState
from solver.layout.parts import SHORT_CASE, Case, Layout, Level
from solver.layout.positions import dotted
from solver.layout.reading import Path
from solver.quantities import units
from solver.quantities.spelling import with_unit
from solver.quantities.units import Kind, System

YES, NO = "yes", "no"
TEMPERATURE = ("fluid", "temperature")


@dataclass(frozen=True, slots=True)
class CaseFigure:
    """One figure that a case may put in the place of the drawing's own."""

    path: Path
    words: str
    kind: Kind | None = None  # what a bare number is read as
    choices: tuple[str, ...] = ()  # all there is to choose from; empty where it is typed


def add(layout: Layout, name: str, table: Mapping[str, Any] | None = None) -> Layout:
    """A new case behind the others. Raises EditError for its name, or for a figure that does not hold."""
    name = _free_name(layout, name)
    if len(cases_of(layout)) > MOST_CASES:
        raise EditError(f"a drawing has at most {MOST_CASES} cases")
    return _put(layout, name, table or {})


def rename(layout: Layout, name: str, wanted: str) -> Layout:
    """A case under another name, in its place. Raises EditError."""
    if wanted.strip() == name:
        return layout
    free = _free_name(layout, wanted)
    full = _typed(layout, name)
    named = {
        free if each == name else each: _renamed(case, free) if each == name else case
        for each, case in full.cases.items()
    }
    return replace(full, cases=named, readings=taps.case_renamed(full.readings, name, free))


def _renamed(case: Case, name: str) -> Case:
    problems = tuple((("cases", name, *path[2:]), found, allowed) for path, found, allowed in case.problems)
    return replace(case, problems=problems)


def remove(layout: Layout, name: str) -> Layout:
    """The drawing without that case. Raises EditError."""
    full = _typed(layout, name)
    return replace(full, cases={each: case for each, case in full.cases.items() if each != name})


def move(layout: Layout, name: str, step: int) -> Layout:
    """A case so many places further down the list, or up for a step below zero. Raises EditError."""
    full = _typed(layout, SHORT_CASE) if SHORT_CASE in cases_of(layout) else layout
    names = [each for each in cases_of(layout) if each != AS_DRAWN]
    at = _index(names, name)
    names.insert(min(max(at + step, 0), len(names) - 1), names.pop(at))
    return replace(full, cases={each: full.cases[each] for each in names})


def set_note(layout: Layout, name: str, note: str) -> Layout:
    """What stands beside a case in words; "" for nothing. Raises EditError."""
    return _with_value(layout, name, ("note",), note.strip() or None)


def set_figure(layout: Layout, name: str, figure: CaseFigure, text: str, system: System) -> Layout:
    """A figure of a case as typed; "" takes it off. A bare number is in the unit shown. Raises EditError."""
    value = _value(figure, text.strip(), system)
    if figure.path == TEMPERATURE and name == SHORT_CASE and layout.fluid.coldest_start:
        own = layout.cases.get(name)
        if value is not None and (own is None or _at(own.table, TEMPERATURE) is None):
            start = read_typed(value, Kind.TEMPERATURE, system)
            return replace(layout, fluid=replace(layout.fluid, coldest_start=start))
        layout = _typed(layout, name)
    return _with_value(layout, name, figure.path, value)


def table_of(layout: Layout, name: str) -> Mapping[str, Any]:
    """A case as the table a file has of it. Raises KeyError."""
    return cases_of(layout)[name].table


def shown_figures(layout: Layout, name: str) -> tuple[tuple[CaseFigure, str], ...]:
    """Every figure that a case has, with its text. Raises KeyError."""
    table = table_of(layout, name)
    known = figures(layout)
    read = {figure.path for figure in known}
    unread = (figure for figure in _unread(layout, name) if figure.path not in read)
    every = ((figure, _at(table, figure.path)) for figure in (*known, *unread))
    return tuple((figure, _text(value)) for figure, value in every if value is not None)


def _unread(layout: Layout, name: str) -> list[CaseFigure]:
    """What could not be read of a case, under its key path, so that it can be typed again or taken off."""
    paths = dict.fromkeys(path[2:] for path, _, _ in cases_of(layout)[name].problems)
    return [CaseFigure(path, dotted(path)) for path in paths if path]


def drawn_text(layout: Layout, figure: CaseFigure) -> str:
    """The drawing's own figure, as typed; "" where it has none."""
    if figure.path[0] in ("level", "levels"):
        return _drawn_level(layout, figure)
    value = _at(raw.to_full_raw(layout), figure.path)
    if figure.kind is Kind.SHARE and isinstance(value, float):
        return f"{value * 100:g} %"
    return _text(value) if value is not None else ""


def _drawn_level(layout: Layout, figure: CaseFigure) -> str:
    if figure.path[0] == "level":
        return str(layout.level) if layout.level is not None else ""
    level = layout.reservoirs[str(figure.path[1])].level
    return level.text if level is not None else ""


LIMIT_KINDS = {
    LimitForm.VACUUM: Kind.VACUUM,
    LimitForm.PRESSURE: Kind.ABSOLUTE,
    LimitForm.NPSH: Kind.HEAD,
}


def figures(layout: Layout) -> tuple[CaseFigure, ...]:
    """Everything that a case of this drawing may change, in the order in which it is offered."""
    return (
        CaseFigure(("level",), "Fluid level", choices=tuple(Level)),
        *(
            CaseFigure(("levels", name), f"{name}: fluid level at", Kind.ELEVATION)
            for name in layout.reservoirs
        ),
        CaseFigure(("fluid", "temperature"), "Fluid temperature", Kind.TEMPERATURE),
        CaseFigure(("fluid", "line_temperature"), "Temperature in the line", Kind.TEMPERATURE),
        *_of_screens(layout),
        *_of_pumps(layout),
        *_of_valves(layout),
        *_of_reservoirs(layout),
        CaseFigure(("site", "elevation"), "Site elevation", Kind.ELEVATION),
        CaseFigure(("site", "barometer"), "Station pressure", Kind.ABSOLUTE),
        CaseFigure(("site", "weather_allowance"), "Allowance for weather", Kind.VACUUM),
        CaseFigure(("fluid", "density"), "Fluid density", Kind.DENSITY),
        CaseFigure(("fluid", "viscosity"), "Fluid viscosity", Kind.VISCOSITY),
        CaseFigure(("fluid", "vapor_pressure"), "Vapour pressure", Kind.ABSOLUTE),
        CaseFigure(("fluid", "dissolved_air"), "Dissolved air", Kind.SHARE),
        CaseFigure(("fault",), "A fault, to be put right", choices=(YES, NO)),
        CaseFigure(("start_not_counted",), "A start that is not counted", choices=(YES, NO)),
    )


def _of_screens(layout: Layout) -> list[CaseFigure]:
    return [
        CaseFigure((group, name, "screen", "blocked"), f"{name}: blocked", Kind.SHARE)
        for group in ("intakes", "fittings")
        for name, part in getattr(layout, group).items()
        if part.screen is not None
    ]


def _of_pumps(layout: Layout) -> list[CaseFigure]:
    return [
        figure
        for name, pump in layout.pumps.items()
        for figure in (
            CaseFigure(("pumps", name, "at_rest"), f"{name}: at rest", choices=(YES, NO)),
            CaseFigure(("pumps", name, "flow_rise"), f"{name}: flow rises in", Kind.TIME),
            CaseFigure(("pumps", name, "speed"), f"{name}: speed", Kind.SPEED),
            CaseFigure(("pumps", name, "flow"), f"{name}: flow", Kind.FLOW),
            CaseFigure(("pumps", name, "limit", pump.limit.form), f"{name}: maker's limit, {pump.limit.form}",
                   LIMIT_KINDS[pump.limit.form]),
        )
    ]  # fmt: skip


def _of_valves(layout: Layout) -> list[CaseFigure]:
    return [
        CaseFigure(("fittings", name, "state"), f"{name}: open or closed", choices=tuple(ValveState))
        for name, part in layout.fittings.items()
        if part.kind in VALVE_KINDS
    ]


def _of_reservoirs(layout: Layout) -> list[CaseFigure]:
    return [
        figure
        for name in layout.reservoirs
        for figure in (
            CaseFigure(("reservoirs", name, "draw_down"), f"{name}: drawn down by", Kind.VOLUME),
            CaseFigure(("reservoirs", name, "pressure"), f"{name}: pressure on the fluid", Kind.PRESSURE),
            CaseFigure(("reservoirs", name, "breather_drop"), f"{name}: drop of the breather", Kind.VACUUM),
        )
    ]


def _value(figure: CaseFigure, text: str, system: System) -> Any:
    """What a file would have for a text; None for no text. Raises EditError."""
    if not text:
        return None
    if figure.choices:
        if text not in figure.choices:
            raise EditError(f"{text}. Allowed: {', '.join(figure.choices)}")
        return text == YES if figure.choices == (YES, NO) else text
    return text if figure.kind is None else with_unit(text, units.unit(figure.kind, system))


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, list):
        return "; ".join(", ".join(map(str, row)) for row in value)
    return str(value)


def _at(table: Any, path: Path) -> Any:
    for step in path:
        if not isinstance(table, Mapping) or step not in table:
            return None
        table = table[step]
    return table


def _with_value(layout: Layout, name: str, path: Path, value: Any) -> Layout:
    """The drawing with a value in the table of a case, or without it for None; rivals give way."""
    if name == AS_DRAWN:
        raise EditError(f'"{AS_DRAWN}" is the drawing itself')
    under = layout.cases.get(name, Case()).table
    if value is None:
        return _put(layout, name, raw.without_key(deepcopy(dict(under)), path) if _at(under, path) is not None
                    else under)  # fmt: skip
    patch: dict[str, Any] = {}
    inner = patch
    for step in path[:-1]:
        inner = inner.setdefault(str(step), {})
    inner[str(path[-1])] = value
    whole = raw.lay_over({"cases": {name: dict(under)}}, {"cases": {name: patch}})["cases"][name]
    if path == ("note",):
        whole = {**dict(under), "note": value}
    elif "note" in under:
        whole = {"note": under["note"], **whole}
    return _put(layout, name, _pruned(whole))


def _pruned(table: Mapping[str, Any]) -> dict[str, Any]:
    """Without tables that have become empty."""
    inner = {key: _pruned(value) if isinstance(value, Mapping) else value for key, value in table.items()}
    return {key: value for key, value in inner.items() if value != {}}


def _put(layout: Layout, name: str, table: Mapping[str, Any]) -> Layout:
    """The drawing with that table as one of its cases. Raises EditError where it cannot be read whole."""
    known = {(group, part) for group in keys.PARTS for part in getattr(layout, group)}
    before = layout.cases.get(name)
    # What an alternative has taken out, a case may still have a figure for: it is passed over.
    known |= {(path[0], path[1]) for path in (before.figures if before else ()) if len(path) > 1}
    known |= {("reservoirs", path[1]) for path in (before.figures if before else ()) if path[0] == "levels"}
    case = read_case(_pruned(table), ("cases",), name, known)
    as_before = before.problems if before else ()  # one after the other can be mended
    for problem in case.problems:
        if problem not in as_before:
            raise EditError(f"{problem[1]}. Allowed: {problem[2]}")
    return replace(layout, cases={**layout.cases, name: case})


def _typed(layout: Layout, name: str) -> Layout:
    """The drawing with that case among those typed: `fluid.coldest_start` is only short for one."""
    if name == AS_DRAWN:
        raise EditError(f'"{AS_DRAWN}" is the drawing itself')
    if name not in cases_of(layout):
        raise EditError(f'there is no case "{name}"')
    if name != SHORT_CASE or layout.fluid.coldest_start is None:
        return layout
    whole = cases_of(layout)[SHORT_CASE]
    others = {each: case for each, case in layout.cases.items() if each != SHORT_CASE}
    fluid = replace(layout.fluid, coldest_start=None)
    return replace(layout, fluid=fluid, cases={SHORT_CASE: whole, **others})


def _index(names: list[str], name: str) -> int:
    if name not in names:
        raise EditError(f'there is no case "{name}" to move')
    return names.index(name)


def _free_name(layout: Layout, name: str) -> str:
    name = name.strip()
    if not (0 < len(name) <= LONGEST_NAME and name.isprintable()):
        raise EditError(f"a name has 1 to {LONGEST_NAME} printable characters")
    if name in RESERVED:
        raise EditError(f'the name "{name}" is reserved')
    if name in cases_of(layout):
        raise EditError(f'there is a case "{name}" already')
    return name
