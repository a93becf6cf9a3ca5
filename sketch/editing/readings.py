"""Readings of a gauge typed, added and dropped: pure functions on a drawing's list of them.

What is typed goes the way a file goes: laid over the reading's table and read again, so that it is taken and
refused as in a file, in the same words.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

import shapely

from sketch.editing import edits, reading_names, stock
from sketch.editing.edits import EditError
from sketch.editing.reading_figures import figures
from solver.geometry import outline
from solver.layout import logged
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout, Level
from solver.layout.reading_checks import state_troubles
from solver.layout.readings import read_reading, reading_raw
from solver.quantities import units
from solver.quantities.spelling import is_number, with_unit
from solver.quantities.units import Kind, System

AT_PORT = "at the port"
ON_SHELF = "gauge"
YES_NO = ("yes", "no")
PUMP, TANK = "<pump>", "<tank>"
"""Stand in a path for the pump of a reading and for the reservoir that it draws from."""

OTHERS, SHUT = ("strokes", "<others>"), ("state", "fittings")
"""Paths of fields that hold several things: strokes of the other pumps, and valves that were shut."""

FALL, LINE = ("fall_time",), ("line",)
LEVEL, MARK = ("state", "levels", TANK), ("state", "level")
"""Paths of a level as a height, and as the mark that it stands at."""


@dataclass(frozen=True, slots=True)
class ReadingField:
    """One thing that may be noted: where it stands in the table, and what is typed there."""

    label: str
    path: tuple[str, ...]
    group: str
    kind: Kind | None = None  # of a quantity; a bare number is in the unit of results
    options: tuple[str, ...] = ()  # to choose from; empty: typed
    spans: bool = False  # takes "5 to 6 inHg" as well
    flag: bool = False
    several: bool = False  # a list of words, parted by commas
    number: bool = False
    tip: str = ""


VISIT, WHERE, STATE = "The visit", "Where and how it was read", "State of the machine"
SEEN, GAUGE = "Seen and heard", "The gauge"

FIELDS: tuple[ReadingField, ...] = (
    ReadingField("When", ("when",), VISIT,
        tip="2026-03-04, or 2026-03-04 09:30: with the time, readings of two days that are at most 24 hours "
        "apart are explained together"),
    ReadingField("Pump", ("pump",), VISIT),
    ReadingField("Vacuum, running", ("vacuum",), VISIT, Kind.VACUUM, spans=True,
        tip="5.5 inHg, or 5 to 6 inHg of a needle that swings"),
    ReadingField("Vacuum at rest", ("rest_vacuum",), VISIT, Kind.VACUUM, spans=True,
        tip="With the pump stopped and the line full: the cheapest reading of all"),
    ReadingField("Fluid temperature", ("state", "fluid", "temperature"), VISIT, Kind.TEMPERATURE),
    ReadingField("Fluid level", LEVEL, VISIT, Kind.LENGTH,
        tip=f"Its height, or the mark that it stands at: {', '.join(Level)}"),
    ReadingField("Speed", ("state", "pumps", PUMP, "speed"), VISIT, Kind.SPEED),
    ReadingField("Case", ("case",), VISIT, tip="The case whose figures apply where none is typed here"),
    ReadingField("Tap on", ("run",), WHERE,
        tip="The run that has the tap, the hole to which the gauge is connected; or the pump's port"),
    ReadingField("Distance from its start", ("distance",), WHERE, Kind.LENGTH, tip="Along the run"),
    ReadingField("Or pressure, running", ("pressure",), WHERE, Kind.VACUUM, spans=True,
        tip="Over the atmosphere, below zero for a vacuum; 80 kPa abs for an absolute one"),
    ReadingField("Vacuum gone after", FALL, WHERE, Kind.TIME,
        tip="Time from the stop until it shows nothing, such as 40 s; holds, where it stays from then on"),
    ReadingField("Line", LINE, WHERE, tip="An alternative's name, or the date that the line was built"),
    ReadingField("Measured in the", ("measured_at",), STATE, options=logged.MEASURED_AT),
    ReadingField("Stroke", ("strokes", PUMP), STATE, options=logged.STROKES),
    ReadingField("Other pumps", OTHERS, STATE, tip="pilot: at rest; main: full flow, standby or at rest"),
    ReadingField("Running for", ("running",), STATE, Kind.TIME),
    ReadingField("Cylinders", ("cylinders",), STATE, options=logged.CYLINDERS),
    ReadingField("Valves shut", SHUT, STATE, tip="Their names, separated by commas"),
    ReadingField("Barometer", ("state", "site", "barometer"), STATE, Kind.ABSOLUTE),
    ReadingField("Sound", ("sound",), SEEN, options=logged.SOUNDS),
    ReadingField("Sound comes", ("sound_when",), SEEN, several=True, tip=", ".join(logged.SOUND_WHEN)),
    ReadingField("Foam", ("foam",), SEEN, flag=True),
    ReadingField("Milky", ("milky",), SEEN, flag=True),
    ReadingField("Jar test", ("jar",), SEEN, options=logged.JARS),
    ReadingField("Slow cylinder", ("slow_cylinder",), SEEN, flag=True),
    ReadingField("Filler cap opened", ("filler_cap",), SEEN, options=logged.CAP,
        tip="Slowly, and never on a pressurised tank: did the reading change?"),
    ReadingField("Joints wetted", ("joints_wetted",), SEEN, options=logged.WETTED,
        tip="One at a time, with the system's own fluid, guards on, hands clear: did the noise change?"),
    ReadingField("Fluid's surface", ("in_tank",), SEEN, several=True, tip=", ".join(logged.IN_TANK)),
    ReadingField("Age", ("age",), SEEN, options=logged.AGES),
    ReadingField("Work done before", ("work",), SEEN, several=True, tip=", ".join(logged.WORK)),
    ReadingField("Note", ("note",), SEEN),
    ReadingField("Name", ("gauge", "name"), GAUGE,
        tip="Of a gauge that was read before the name is enough: what was noted of it then holds here too"),
    ReadingField("Height over the port", ("gauge", "over_port"), GAUGE, Kind.LENGTH),
    ReadingField("Tube to the gauge", ("gauge", "tube"), GAUGE, options=logged.TUBES),
    ReadingField("Class", ("gauge", "class"), GAUGE, number=True,
                 tip="Largest error in percent of its range: 1.6"),
    ReadingField("Range", ("gauge", "range"), GAUGE, Kind.VACUUM),
    ReadingField("Reads when vented", ("gauge", "zero"), GAUGE, Kind.VACUUM),
    ReadingField("Measured against", ("gauge", "reference"), GAUGE, options=logged.REFERENCES,
        tip="The atmosphere here (site), or that at sea level"),
)  # fmt: skip
"""In the order in which they are typed: first what every visit needs."""


def options(layout: Layout, field: ReadingField) -> tuple[str, ...]:
    """What may be chosen in a field; empty where it is typed."""
    match field.path:
        case ("pump",):
            return tuple(layout.pumps)
        case ("run",):
            return (AT_PORT, *layout.runs)
        case ("case",):
            return ("", *layout.cases)
    if field.flag:
        return ("", *YES_NO)
    return ("", *field.options) if field.options else ()


def shown(reading: LoggedReading, field: ReadingField) -> str:
    """What a field holds of a reading, as typed; "" for nothing."""
    raw = reading_raw(reading)
    value: Any = raw
    if field.path == OTHERS:
        return "; ".join(f"{name}: {each}" for name, each in reading.strokes.items() if name != reading.pump)
    if field.path == SHUT:
        return ", ".join(name for name, each in _fittings(value).items() if each.get("state") == "closed")
    for step in path_of(reading, field):
        value = value.get(step) if isinstance(value, Mapping) else None
    if field.path == ("run",) and value is None:
        return AT_PORT
    if field.path == LEVEL and value is None:
        return str(_inner(raw, "state").get("level", ""))
    if isinstance(value, bool):
        return YES_NO[0] if value else YES_NO[1]
    if isinstance(value, list | tuple):
        return (" to " if field.spans else ", ").join(str(each) for each in value)
    return "" if value is None else str(value)


def _fittings(raw: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """The fittings in the state of a reading's table."""
    fittings = _inner(_inner(raw, "state"), "fittings")
    return {name: each for name, each in fittings.items() if isinstance(each, dict)}


def _inner(table: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    """The table that stands at a key; empty where none does."""
    inner = table.get(key)
    return inner if isinstance(inner, Mapping) else {}


def path_of(reading: LoggedReading, field: ReadingField, tank: str = "") -> tuple[str, ...]:
    """Where a field stands in the table of that reading."""
    names = {PUMP: reading.pump, TANK: tank or _tank(reading)}
    return tuple(names.get(step, step) for step in field.path)


def _tank(reading: LoggedReading) -> str:
    levels = reading.state.get("levels", {})
    return next(iter(levels), "") if isinstance(levels, Mapping) else ""


def typed(
    layout: Layout,
    reading: LoggedReading,
    field: ReadingField,
    text: str,
    system: System,
    tank: str = "",
    alternatives: Mapping[str, Layout] | None = None,
) -> LoggedReading:
    """The reading with something typed into a field. Raises EditError with what is allowed there.

    tank: the reservoir that its pump draws from. alternatives: of the drawing, by their names. A bare number
    is in the units of `system`.
    """
    raw = deepcopy(reading_raw(reading))
    mark = _mark(text.strip()) if field.path == LEVEL else ""
    value = _value(field, "" if mark else text.strip(), system, alternatives or {})
    if field.path[0] == "state" and field.kind is not None and value is not None:
        _check_state(field, str(value), system)
    if field.path == OTHERS:
        raw["strokes"] = reading_names.strokes(layout, reading, text)
    elif field.path == SHUT:
        _shut(layout, raw, text)
    elif field.path == ("run",):
        _place(layout, raw, value)
    elif value is None:
        _drop(raw, path_of(reading, field, tank))
    else:
        _put(raw, path_of(reading, field, tank), value)
        for rival in _RIVALS.get(field.path[0], ()):
            raw.pop(rival, None)
    if field.path == LEVEL:
        _set_mark(raw, mark, value is not None and len(layout.reservoirs) > 1)
    read = read_reading(raw)
    if new := [each for each in read.problems if each not in reading.problems]:
        raise EditError("; ".join(_refusal(field, text.strip(), *each) for each in new))
    if field.path[0] == "state":
        _check_in_state(layout, reading, read, alternatives or {})
    return read


def _check_in_state(
    layout: Layout, before: LoggedReading, after: LoggedReading, alternatives: Mapping[str, Layout]
) -> None:
    """Refuse a figure with which the drawing cannot be in that state. Raises EditError."""
    known = state_troubles(before, layout, alternatives)
    if new := [each for each in state_troubles(after, layout, alternatives) if each not in known]:
        raise EditError("; ".join(f"found {each.found}; allowed: {each.allowed}" for each in new))


def _check_state(field: ReadingField, text: str, system: System) -> None:
    """Read a figure of a state, which is kept as typed and read only once it is solved. Raises EditError."""
    assert field.kind is not None  # of all figures of a state
    absolute = field.kind is Kind.ABSOLUTE  # a barometer need not say so
    try:
        edits.read_typed(text, Kind.PRESSURE if absolute else field.kind, system)
    except EditError as error:
        marks = f"; or a mark: {', '.join(Level)}" if field.path == LEVEL else ""
        raise EditError(f"{error}{marks}") from error


def _set_mark(raw: dict[str, Any], mark: str, of_others: bool) -> None:
    """Keep the mark that was typed, or drop the old one; `of_others`, it still holds for other tanks."""
    if mark:
        _put(raw, MARK, mark)
    elif not of_others:
        _drop(raw, MARK)


def _mark(text: str) -> str:
    """The mark that a word names or begins; "" for none."""
    return next((mark for mark in Level if text and mark.startswith(text.lower())), "")


_ONLY_WITH = {
    "distance": 'only where "Tap on" names the run that it is measured along',
    "sound_when": 'only with a sound: choose one in "Sound" first',
}


def _refusal(field: ReadingField, text: str, path: tuple[str | int, ...], refused: str, allowed: str) -> str:
    """What is refused in the words of the card; a key by the label of its field."""
    label = next((each.label for each in FIELDS if path and each.path == (path[-1],)), "")
    if label and refused == f'the key "{path[-1]}"':
        return f"{label}, {_ONLY_WITH.get(str(path[-1]), allowed)}"
    if field.number:
        return f'found "{text}"; allowed: {allowed.removesuffix(", without quotes")}'
    return f"found {refused}; allowed: {allowed}"


def _place(layout: Layout, raw: dict[str, Any], run: Any) -> None:
    """Put a tap at the beginning of another run, or at the port."""
    for key in ("run", "distance", "joint"):
        raw.pop(key, None)
    if run not in (None, AT_PORT):
        raw |= {"run": run, "distance": stock.length(layout, 0.0).text}


def _shut(layout: Layout, raw: dict[str, Any], text: str) -> None:
    """Put into a reading's table which valves were shut."""
    names = reading_names.shut_valves(layout, text)
    kept = {
        name: {key: value for key, value in each.items() if key != "state"}
        for name, each in _fittings(raw).items()
    }
    shut: dict[str, dict[str, Any]] = {name: {**kept.get(name, {}), "state": "closed"} for name in names}
    fittings = {**{name: each for name, each in kept.items() if each}, **shut}
    if fittings:
        _put(raw, SHUT, fittings)
    else:
        _drop(raw, SHUT)


_RIVALS = {
    "vacuum": ("pressure",),
    "pressure": ("vacuum",),
    "rest_vacuum": ("rest_pressure",),
    "distance": ("joint",),
}


def _put(raw: dict[str, Any], path: tuple[str, ...], value: Any) -> None:
    table = raw
    for step in path[:-1]:
        inner = table.get(step)
        table[step] = inner if isinstance(inner, dict) else {}
        table = table[step]
    table[path[-1]] = value


def _drop(raw: dict[str, Any], path: tuple[str, ...]) -> None:
    """Take a key out, and every table that it leaves empty."""
    tables: list[dict[str, Any]] = [raw]
    for step in path[:-1]:
        inner = tables[-1].get(step)
        if not isinstance(inner, dict):
            return
        tables.append(inner)
    tables[-1].pop(path[-1], None)
    for table, step in zip(reversed(tables[:-1]), reversed(path[:-1]), strict=True):
        if not table[step]:
            del table[step]


def _value(field: ReadingField, text: str, system: System, lines: Iterable[str]) -> Any:
    """What was typed as the file would have it; None where the field was emptied."""
    if not text:
        return None
    if field.path == LINE:
        return reading_names.line(text, lines)
    if field.flag:
        return {YES_NO[0]: True, YES_NO[1]: False}.get(text, text)
    if field.several:
        return [each.strip() for each in re.split("[,;]", text) if each.strip()]
    if field.number:
        number = text.removesuffix("%").strip()
        return float(number) if is_number(number) else text
    if field.kind is None:
        return text
    if field.path == FALL and text.lower() == logged.HOLDS:
        return logged.HOLDS
    if not field.spans:
        return with_unit(text, units.unit(field.kind, system))
    shown_between = figures(text, field.kind, system)
    return shown_between[0] if len(shown_between) == 1 else list(shown_between)


def new(layout: Layout, pump: str, when: str, run: str = "", distance: float = 0.0) -> LoggedReading:
    """A reading that holds no figure yet, at a pump's port or on a run so far from its start [m]."""
    if not run:
        return LoggedReading(when, pump)
    return LoggedReading(when, pump, run=run, distance=stock.length(layout, distance))


def with_reading(
    readings: tuple[LoggedReading, ...], number: int, reading: LoggedReading | None
) -> tuple[LoggedReading, ...]:
    """The list with one reading replaced, or dropped for None; one past the end is added."""
    kept = list(readings)
    kept[number : number + 1] = [] if reading is None else [reading]
    return tuple(kept)


def distance_of(layout: Layout, run: str, x: float, y: float) -> float:
    """How far from a run's start, along it, the place nearest to (x, y) lies [m]."""
    drawn, place = layout.runs[run], shapely.Point(x, y)
    radius, so_far, best = outline.bend_radius(drawn), 0.0, (math.inf, 0.0)
    for piece in outline.outline(layout, drawn):
        long, path = piece.length + radius * piece.angle, shapely.LineString(piece.path)
        share = path.project(place, normalized=True) if path.length else 0.0
        best = min(best, (path.distance(place), so_far + long * share))
        so_far += long
    return best[1]
