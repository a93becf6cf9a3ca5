"""[[readings]] of a drawing: what was read at a gauge, when, in which state, and what was seen and heard."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import MISSING, fields
from datetime import date, datetime
from typing import Any

from solver.layout import logged
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.ranges import ANY, NOT_NEGATIVE, POSITIVE, Range
from solver.layout.reading import (
    TEXT,
    Key,
    KeyPlace,
    Reader,
    TooManyTroublesError,
    Trouble,
    amount,
    array,
    at_most_one,
    choice,
    describe,
    either,
    figure,
    flag,
    only_with,
    reader,
    table_schema,
    text,
)
from solver.layout.reading import fields as read_fields
from solver.quantities import spelling
from solver.quantities.units import Kind, Quantity

MOST_READINGS = 2000
"""In one file."""

_A_DATE = 'a date such as "2026-03-04", or with the time "2026-03-04 09:30"'
_DATE = re.compile(r"\d{4}-\d\d-\d\d([ T]\d\d:\d\d(:\d\d)?)?")
_RUNNING = Range("from zero to 30 days", lambda value: 0.0 <= value <= 30 * 86400.0)
_VACUUM = Range("of at most 2 bar, or below zero, down to -10 bar, where the gauge shows a pressure",
    lambda value: -1e6 <= value <= 2e5)  # fmt: skip
_PRESSURE = Range("from -2 bar, a vacuum, to 10 bar", lambda value: -2e5 <= value <= 1e6)


@reader({**TEXT, "description": _A_DATE})
def moment(value: Any, place: KeyPlace) -> str | None:
    """Read a date, with or without the time of day."""
    if isinstance(value, date):
        if isinstance(value, datetime):  # by the clock there, as one would type it
            return value.replace(tzinfo=None).isoformat(" ", "minutes")
        return value.isoformat()
    if not isinstance(value, str) or not _DATE.fullmatch(value):
        return place.refuse(describe(value), _A_DATE)
    try:
        datetime.fromisoformat(value)
    except ValueError:
        return place.refuse(f"{describe(value)}, which is no day of the calendar", _A_DATE)
    return value


def is_moment(text: str) -> bool:
    """Whether a text is a date, with or without the time of day."""
    troubles: list[Trouble] = []
    return moment(text, KeyPlace((), troubles)) is not None


@reader(moment.schema)
def moment_or_nothing(value: Any, place: KeyPlace) -> str | None:
    """Read a date; the empty text where an alternative is not of its base's."""
    return "" if value == "" else moment(value, place)


def _shown(kind: Kind, allowed: Range, absolute: bool) -> Reader[Any]:
    """Make a reader of one figure, or of the least and the most of a needle that swings."""
    one = amount(kind, allowed, absolute=absolute)

    def read(value: Any, place: KeyPlace) -> tuple[Quantity, ...] | None:
        if kind is Kind.VACUUM and isinstance(value, str) and spelling.is_absolute(value):
            instead = str(place.path[-1]).replace("vacuum", "pressure") if place.path else "pressure"
            return place.refuse(
                f"{describe(value)}, an absolute pressure", f"a vacuum, or that pressure under {instead}"
            )
        if not isinstance(value, list):
            single = one(value, place)
            return None if single is None else (single,)
        if len(value) != 2:
            return place.refuse(f"{len(value)} figures", "one figure, or two in brackets: from, to")
        both = tuple(one(each, place.to(index)) for index, each in enumerate(value))
        return None if None in both else both

    return Reader(read, either(one.schema, array(one.schema, 2, 2)))


def _words(options: tuple[str, ...]) -> Reader[Any]:
    """Make a reader of a list of words out of several, or of one of them alone."""
    word = choice(options)

    def read(value: Any, place: KeyPlace) -> tuple[str, ...] | None:
        if isinstance(value, str):
            single = word(value, place)
            return None if single is None else (single,)
        if not isinstance(value, list):
            return place.refuse(describe(value), "one of its words in quotes, or an array of them")
        read_words = tuple(word(each, place.to(index)) for index, each in enumerate(value))
        return None if None in read_words else read_words

    return Reader(read, either(word.schema, array(word.schema)))


_time = amount(Kind.TIME, POSITIVE)


@reader(either(_time.schema, {"const": logged.HOLDS}))
def _fall_time(value: Any, place: KeyPlace) -> Any:
    return value if value == logged.HOLDS else _time(value, place)


_running = amount(Kind.TIME, _RUNNING, sized=False)
_stroke = choice(logged.STROKES)


@reader({"type": "object", "additionalProperties": _stroke.schema})
def _strokes(value: Any, place: KeyPlace) -> Mapping[str, str] | None:
    if not isinstance(value, dict):
        return place.refuse(describe(value), 'a stroke by the name of its pump: { main = "full flow" }')
    strokes = {name: _stroke(each, place.to(name)) for name, each in value.items()}
    return None if None in strokes.values() else strokes


@reader({"$ref": "#/$defs/state"})
def _state(value: Any, place: KeyPlace) -> Mapping[str, Any] | None:
    """Keep a state as typed; it is looked at where it is laid over the drawing, as a case is."""
    if not isinstance(value, dict):
        return place.refuse(describe(value), "a table with the keys of a case")
    return value


GAUGE = (
    Key("name", text),
    Key("over_port", amount(Kind.LENGTH, ANY)),
    Key("tube", choice(logged.TUBES)),
    Key("class", figure(Range("above 0 and up to 10 (percent of the range)", lambda v: 0 < v <= 10)),
        attribute="accuracy"),
    Key("range", amount(Kind.VACUUM, POSITIVE)),
    Key("zero", amount(Kind.VACUUM, ANY)),
    Key("reference", choice(logged.REFERENCES)),
)  # fmt: skip


@reader(either(TEXT, table_schema(GAUGE)))
def _gauge(value: Any, place: KeyPlace) -> LoggedGauge | None:
    if isinstance(value, str):
        name = text(value, place)
        return None if name is None else LoggedGauge(name)
    before = len(place.troubles)
    values = read_fields(value, place, GAUGE)
    return LoggedGauge(**values) if len(place.troubles) == before else None


READING = (
    Key("when", moment, required=True),
    Key("pump", text, required=True),
    Key("run", text),
    Key("distance", amount(Kind.LENGTH, NOT_NEGATIVE)),
    Key("joint", text),
    Key("line", text),
    Key("vacuum", _shown(Kind.VACUUM, _VACUUM, absolute=False)),
    Key("pressure", _shown(Kind.PRESSURE, _PRESSURE, absolute=True)),
    Key("rest_vacuum", _shown(Kind.VACUUM, _VACUUM, absolute=False)),
    Key("rest_pressure", _shown(Kind.PRESSURE, _PRESSURE, absolute=True)),
    Key("fall_time", _fall_time),
    Key("gauge", _gauge),
    Key("case", text),
    Key("state", _state),
    Key("measured_at", choice(logged.MEASURED_AT)),
    Key("running", _running),
    Key("strokes", _strokes),
    Key("cylinders", choice(logged.CYLINDERS)),
    Key("sound", choice(logged.SOUNDS)),
    Key("sound_when", _words(logged.SOUND_WHEN)),
    Key("foam", flag),
    Key("milky", flag),
    Key("jar", choice(logged.JARS)),
    Key("slow_cylinder", flag),
    Key("filler_cap", choice(logged.CAP)),
    Key("joints_wetted", choice(logged.WETTED)),
    Key("in_tank", _words(logged.IN_TANK)),
    Key("age", choice(logged.AGES)),
    Key("work", _words(logged.WORK)),
    Key("note", text),
)


_ELSEWHERE = {
    "date": "when",
    "time": "when",
    "temperature": "state.fluid.temperature",
    "speed": "state.pumps.NAME.speed, by the name of the pump",
    "level": "state.level, or by its tank as state.levels.NAME",
    "barometer": "state.site.barometer",
    **{key.name: f"gauge.{key.name}" for key in GAUGE if key.name != "name"},
}
"""Keys that one may look for in a reading, and where they stand in it."""


def read_readings(value: Any, place: KeyPlace) -> tuple[LoggedReading, ...]:
    """Read the readings of a drawing. One that cannot be read whole keeps what is wrong with it.

    value: the list of tables as typed.
    """
    if not isinstance(value, list):
        place.refuse(describe(value), "tables, one for each reading: [[readings]]")
        return ()
    if len(value) > MOST_READINGS:
        place.refuse(f"{len(value)} readings", f"at most {MOST_READINGS}")
        return ()
    for index, each in enumerate(value):
        if not isinstance(each, dict):
            place.to(index).refuse(describe(each), "a table")
    return tuple(read_reading(each) for each in value if isinstance(each, dict))


def read_reading(table: Mapping[str, Any]) -> LoggedReading:
    """Read one reading, with what is wrong with it and the keys that cannot be read as typed."""
    troubles: list[Trouble] = []
    values: dict[str, Any] = {}
    with suppress(TooManyTroublesError):  # what is listed by then is enough to tell
        place = KeyPlace((), troubles)
        values = read_fields(table, place, READING, _ELSEWHERE)
        _check_together(table, place)
    unread = {key: value for key, value in table.items() if key not in values}
    return LoggedReading(**{"when": "", "pump": "", **values, "unread": unread, "problems": tuple(troubles)})


def _check_together(table: Mapping[str, Any], place: KeyPlace) -> None:
    """Refuse keys that rule each other out, or that need another."""
    at_most_one(table, place, "vacuum", "pressure")
    at_most_one(table, place, "rest_vacuum", "rest_pressure")
    at_most_one(table, place, "distance", "joint")
    only_with(table, place, ("distance", "joint"), "run" in table, "with run: the tap is on it")
    if "run" in table and not table.keys() & {"distance", "joint"}:
        place.refuse("a run without a place on it", '"distance" from its start, or "joint"')
    only_with(table, place, ("sound_when",), "sound" in table, "with sound")


def reading_raw(reading: LoggedReading) -> dict[str, Any]:
    """A reading as its table, without keys that only say their default; what cannot be read as typed."""
    table = {key: value for key, value in _table(reading, READING).items() if value != ""}
    return {**table, **reading.unread}


def _table(owner: Any, keys: tuple[Key, ...]) -> dict[str, Any]:
    defaults = {
        item.name: item.default_factory() if item.default_factory is not MISSING else item.default
        for item in fields(owner)
    }
    values = {key.name: (getattr(owner, key.attribute or key.name), key) for key in keys}
    return {
        name: _value(value)
        for name, (value, key) in values.items()
        if value != defaults[key.attribute or key.name]
    }


def _value(value: Any) -> Any:
    if isinstance(value, LoggedGauge):
        return _table(value, GAUGE)
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, tuple):
        single = len(value) == 1 and isinstance(value[0], Quantity)
        return value[0].text if single else [_value(each) for each in value]
    if isinstance(value, Mapping):
        return {key: _value(each) for key, each in value.items()}
    return value
