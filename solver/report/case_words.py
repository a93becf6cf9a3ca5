"""What holds in each case of a drawing, in words for a reader who has not seen its file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from solver.layout.cases import AS_DRAWN, cases_of, passed_over
from solver.layout.parts import SHORT_CASE, Case, Layout, Level
from solver.layout.positions import dotted
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import degrees

_Words = tuple[str, Kind | None]
"""A sentence for a name and a figure, and the kind of the figure; None for one that is no quantity."""

_TABLES: Mapping[tuple[str, str], _Words] = {
    ("fluid", "name"): ("the fluid is {figure}", None),
    ("fluid", "temperature"): ("fluid at {figure}", Kind.TEMPERATURE),
    ("fluid", "line_temperature"): ("fluid in the line at {figure}", Kind.TEMPERATURE),
    ("fluid", "density"): ("density of the fluid {figure}", Kind.DENSITY),
    ("fluid", "viscosity"): ("viscosity of the fluid {figure}", Kind.VISCOSITY),
    ("fluid", "viscosity_index"): ("viscosity index of the fluid {figure}", None),
    ("fluid", "vapor_pressure"): ("vapour pressure of the fluid {figure}", Kind.ABSOLUTE),
    ("fluid", "dissolved_air"): ("air dissolved in the fluid {figure}", Kind.SHARE),
    ("fluid", "pour_point"): ("pour point of the fluid {figure}", Kind.TEMPERATURE),
    ("site", "elevation"): ("the site at {figure}", Kind.ELEVATION),
    ("site", "barometer"): ("the barometer at {figure}", Kind.ABSOLUTE),
    ("site", "weather_allowance"): ("{figure} off the air for a low-pressure day", Kind.VACUUM),
}
_PARTS: Mapping[str, _Words] = {
    "pressure": ("{figure} held on the fluid in {name}", Kind.PRESSURE),
    "breather_drop": ("{figure} lost in the breather of {name}", Kind.VACUUM),
    "draw_down": ("cylinders draw {figure} out of {name}", Kind.VOLUME),
    "state": ("{name} {figure}", None),
    "blocked": ("{name} {figure} blocked", Kind.SHARE),
    "speed": ("{name} at {figure}", Kind.SPEED),
    "flow": ("{figure} into {name}", Kind.FLOW),
    "flow_rise": ("the flow of {name} comes up in {figure}", Kind.TIME),
    "opening": ("another opening of {name}", None),
    "limit": ("another limit of {name}", None),
}
_REST = {True: "{name} at rest", False: "{name} runs"}


def case_words(layout: Layout, system: System) -> Iterator[tuple[str, str]]:
    """The cases of a drawing by name but for that as it stands, each with what it has otherwise."""
    for name, case in cases_of(layout).items():
        if name != AS_DRAWN:
            yield name, ", ".join(_held(layout, case, system)) or "as drawn so far, with no figure of its own"


def unlike_cases(before: Layout, after: Layout, system: System) -> tuple[tuple[str, str, str], ...]:
    """The cases that two drawings have under one name with other figures for what both have: the name, and
    what holds in it in either, in words."""
    first, second = cases_of(before), cases_of(after)
    unlike = []
    short = (SHORT_CASE,) if before.fluid.coldest_start and after.fluid.coldest_start else ()
    for name in first.keys() & second.keys() - {*short}:  # how cold a start is, a heater is asked for
        was, now = _known(before, first[name], after), _known(after, second[name], before)
        paths = [path for path in {**was, **now} if _si(was.get(path)) != _si(now.get(path))]
        if paths:
            words = (
                ", ".join(_figure(path, figures[path], system) for path in paths if path in figures)
                for figures in (was, now)
            )
            unlike.append((name, *words))
    order = list(first)
    return tuple(
        (name, was or "no figure of its own", now or "no figure of its own")
        for name, was, now in sorted(unlike, key=lambda each: order.index(each[0]))
    )


def _known(layout: Layout, case: Case, other: Layout) -> dict[tuple[str, ...], Any]:
    """The figures of a case for what both drawings have; a level only of a tank that is one in both."""
    absent = {*passed_over(layout, case), *passed_over(other, case)}
    return {
        path: value
        for path, value in case.figures.items()
        if dotted(path) not in absent
        and (path[0] != "levels" or layout.reservoirs.get(path[1]) == other.reservoirs.get(path[1]))
    }


def _si(value: Any) -> Any:
    return value.si if isinstance(value, Quantity) else value


def as_drawn_words(solution: Solution, system: System) -> str:
    """What holds in a drawing as it stands, of all that cases change."""
    return ", ".join(_as_drawn(solution, system))


def _as_drawn(solution: Solution, system: System) -> Iterator[str]:
    """What most cases change: how warm the fluid is and how high it stands, the flows, the screens."""
    layout = solution.layout
    yield f"fluid at {degrees(solution.tank_fluid.temperature, system)}"
    yield _level(solution.level)
    for name in layout.pumps:
        ledger = solution.pumps.get(name)
        if ledger is None:
            yield _REST[True].format(name=name)
            continue
        at = "" if ledger.speed is None else f" at {typeset(ledger.speed, Kind.SPEED, system)}"
        yield f"{typeset(ledger.flow, Kind.FLOW, system)} into {name}{at}"
    screens = [(name, each.screen) for name, each in layout.intakes.items()]
    screens += [(name, each.screen) for name, each in layout.fittings.items()]
    for name, screen in screens:
        if screen is not None:
            yield _blocked(name, screen.blocked, system)


def _held(layout: Layout, case: Case, system: System) -> Iterator[str]:
    """What a case has otherwise; figures for parts that are not drawn change nothing."""
    absent = passed_over(layout, case)
    for path, value in case.figures.items():
        if dotted(path) not in absent:
            yield _figure(path, value, system)


def _figure(path: tuple[str, ...], value: Any, system: System) -> str:
    """A figure of a case, by its key path."""
    match path:
        case ("level",):
            return _level(value)
        case ("levels", name):
            return f"the fluid of {name} at {typeset(value.si, Kind.LENGTH, system)}"
        case (_, name, "at_rest"):
            return _REST[bool(value)].format(name=name)
        case (_, name, "screen", "blocked"):
            return _blocked(name, value, system)
        case ("fluid" | "site", key):
            words, kind = _TABLES[path[0], key]
            return words.format(figure=_shown(value, kind, system))
        case (_, name, key):
            words, kind = _PARTS[key]
            return words.format(name=name, figure=_shown(value, kind, system))
    raise AssertionError(path)


def _level(level: Level) -> str:
    if level is Level.DRAWN_DOWN:
        return "every reservoir drawn down by its cylinders"
    return f"every reservoir at its {level} level"


def _blocked(name: str, share: float, system: System) -> str:
    words, _ = _PARTS["blocked"]
    return words.format(name=name, figure=typeset(share, Kind.SHARE, system)) if share else f"{name} clean"


def _shown(value: Any, kind: Kind | None, system: System) -> str:
    """A figure in the units asked for; several, by temperature, are not listed."""
    if kind is Kind.SHARE and isinstance(value, int | float):
        return typeset(value, kind, system)
    if kind is Kind.TEMPERATURE:
        return degrees(value.si, system)
    if isinstance(value, Quantity):
        assert kind is not None  # a quantity is of a kind
        return typeset(value.si, kind, system)
    return str(value) if isinstance(value, str | int | float) else "by a table of its own"
