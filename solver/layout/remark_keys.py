"""[[texts]] and [[dimensions]] of a drawing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, TypeVar

from solver.layout.reading import (
    TEXT,
    Key,
    Place,
    amount,
    choice,
    describe,
    either,
    fields,
    listed,
    point,
    reader,
    suggestion,
)
from solver.layout.remarks import Direction, End, OwnDimension, OwnText
from solver.layout.title_keys import line
from solver.quantities.units import Kind, Quantity

T = TypeVar("T")

MOST = 500
"""Texts, and dimensions, in one file."""


@reader(line.schema)
def _words(value: Any, place: Place) -> str | None:
    read = line(value, place)
    return place.refuse("no text", "a line of text") if read is not None and not read.strip() else read


@reader(either(TEXT, point.schema))
def _end(value: Any, place: Place) -> End | None:
    """Read an end of a dimension: the name of a part, or a place."""
    return value if isinstance(value, str) else point(value, place)


OWN_TEXT = (Key("at", point, True), Key("text", _words, True))
OWN_DIMENSION = (
    Key("from", _end, True, "start"),
    Key("to", _end, True, "end"),
    Key("direction", choice(Direction), True),
    Key("offset", amount(Kind.LENGTH), True),
)


def read_texts(value: Any, place: Place) -> tuple[OwnText, ...]:
    """Read the texts of a drawing."""
    return _read(value, place, "texts", OWN_TEXT, OwnText)


def read_dimensions(value: Any, place: Place) -> tuple[OwnDimension, ...]:
    """Read the dimensions of a drawing; whether it has the parts that they name is not asked."""
    values = _read(value, place, "dimensions", OWN_DIMENSION, OwnDimension)
    for number, each in enumerate(values):
        if each.start == each.end:
            place.to(number).to("to").refuse("the end that it begins at", "another")
    return values


def _read(
    value: Any, place: Place, what: str, keys: tuple[Key, ...], make: Callable[..., T]
) -> tuple[T, ...]:
    if not isinstance(value, list):
        place.refuse(describe(value), f"tables, one for each: [[{what}]]")
        return ()
    if len(value) > MOST:
        place.refuse(f"{len(value)} {what}", f"at most {MOST}")
        return ()
    read = []
    for number, table in enumerate(value):
        before = len(place.troubles)
        values = fields(table, place.to(number), keys)
        if len(place.troubles) == before:
            read.append(make(**values))
    return tuple(read)


def check_names(dimensions: Iterable[OwnDimension], known: Iterable[str], place: Place) -> None:
    """Refuse an end that is the name of no part, neither of the drawing nor of an alternative of it."""
    names = list(dict.fromkeys(known))
    for number, each in enumerate(dimensions):
        for key, end in (("from", each.start), ("to", each.end)):
            if isinstance(end, str) and end not in names:
                hint = f"{suggestion(end, names)}a place, or a part that lines end on: {listed(names)}"
                place.to(number).to(key).refuse(describe(end), hint)


def text_raw(text: OwnText) -> dict[str, Any]:
    """A text as its table."""
    return {"at": _end_raw(text.at), "text": text.text}


def dimension_raw(dimension: OwnDimension) -> dict[str, Any]:
    """A dimension as its table."""
    ends = {"from": _end_raw(dimension.start), "to": _end_raw(dimension.end)}
    return {**ends, "direction": str(dimension.direction), "offset": dimension.offset.text}


def _end_raw(end: End | tuple[Quantity, Quantity]) -> Any:
    return end if isinstance(end, str) else [each.text for each in end]
