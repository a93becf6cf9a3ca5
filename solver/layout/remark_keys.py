"""[[texts]] and [[dimensions]] of a drawing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, TypeVar

from solver.layout.reading import (
    MOST_POINTS,
    TEXT,
    Key,
    KeyPlace,
    amount,
    choice,
    describe,
    either,
    fields,
    listed,
    point,
    reader,
    table_schema,
    text,
)
from solver.layout.remarks import Direction, End, OwnDimension, OwnText, TankCorner, TextAnchor, TextSize
from solver.layout.suggestions import suggestion
from solver.layout.title_keys import line
from solver.quantities.units import Kind

T = TypeVar("T")

MOST = 500
"""Texts, and dimensions, in one file."""


@reader(line.schema)
def _words(value: Any, place: KeyPlace) -> str | None:
    read = line(value, place)
    return place.refuse("no text", "a line of text") if read is not None and not read.strip() else read


@reader({"type": "integer", "minimum": 1, "maximum": MOST_POINTS})
def _corner(value: Any, place: KeyPlace) -> int | None:
    """Read the number of a corner, which counts from 1; it is kept from 0."""
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_POINTS:
        return place.refuse(describe(value), "the number of a corner in the outline, from 1 on")
    return value - 1


_TANK_CORNER = (Key("reservoir", text, required=True), Key("corner", _corner, required=True))


@reader(either(TEXT, point.schema, table_schema(_TANK_CORNER)))
def _end(value: Any, place: KeyPlace) -> End | None:
    """Read an end of a dimension: the name of a part, a place, or a corner of a reservoir."""
    if isinstance(value, dict):
        before = len(place.troubles)
        values = fields(value, place, _TANK_CORNER)
        return TankCorner(**values) if len(place.troubles) == before else None
    return value if isinstance(value, str) else point(value, place)


OWN_TEXT = (
    Key("at", point, required=True),
    Key("text", _words, required=True),
    Key("size", choice(TextSize)),
    Key("anchor", choice(TextAnchor)),
)
OWN_DIMENSION = (
    Key("from", _end, required=True, attribute="start"),
    Key("to", _end, required=True, attribute="end"),
    Key("direction", choice(Direction), required=True),
    Key("offset", amount(Kind.LENGTH), required=True),
)


def read_texts(value: Any, place: KeyPlace) -> tuple[OwnText, ...]:
    """Read the texts of a drawing."""
    return _read(value, place, "texts", OWN_TEXT, OwnText)


def read_dimensions(value: Any, place: KeyPlace) -> tuple[OwnDimension, ...]:
    """Read the dimensions of a drawing; whether it has the parts that they name is not asked."""
    values = _read(value, place, "dimensions", OWN_DIMENSION, OwnDimension)
    for number, each in enumerate(values):
        if each.start == each.end:
            place.to(number).to("to").refuse("the end that it begins at", "another")
    return values


def _read(
    value: Any, place: KeyPlace, what: str, keys: tuple[Key, ...], make: Callable[..., T]
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


def check_names(
    dimensions: Iterable[OwnDimension], known: Iterable[str], corners: Mapping[str, int], place: KeyPlace
) -> None:
    """Refuse an end that is the name of no part, neither of the drawing nor of an alternative of it, or a
    corner that no reservoir has. corners: how many a reservoir has at most, by its name."""
    names = list(dict.fromkeys(known))
    for number, each in enumerate(dimensions):
        for key, end in (("from", each.start), ("to", each.end)):
            if isinstance(end, TankCorner):
                _check_corner(end, corners, place.to(number).to(key))
            if isinstance(end, str) and end not in names:
                hint = f"{suggestion(end, names)}a place, or a part that lines end on: {listed(names)}"
                place.to(number).to(key).refuse(describe(end), hint)


def _check_corner(end: TankCorner, corners: Mapping[str, int], place: KeyPlace) -> None:
    if end.reservoir not in corners:
        hint = suggestion(end.reservoir, corners)
        place.to("reservoir").refuse(describe(end.reservoir), f"{hint}a reservoir: {listed(corners)}")
    elif end.corner >= corners[end.reservoir]:
        most = f"1 to {corners[end.reservoir]}, the corners of {end.reservoir}"
        place.to("corner").refuse(describe(end.corner + 1), most)


def text_raw(text: OwnText) -> dict[str, Any]:
    """A text as its table."""
    own = {"size": text.size != TextSize.SMALL, "anchor": text.anchor != TextAnchor.LEFT}
    more = {key: str(getattr(text, key)) for key, typed in own.items() if typed}
    return {"at": _end_raw(text.at), "text": text.text, **more}


def dimension_raw(dimension: OwnDimension) -> dict[str, Any]:
    """A dimension as its table."""
    ends = {"from": _end_raw(dimension.start), "to": _end_raw(dimension.end)}
    return {**ends, "direction": str(dimension.direction), "offset": dimension.offset.text}


def _end_raw(end: End) -> Any:
    if isinstance(end, TankCorner):
        return {"reservoir": end.reservoir, "corner": end.corner + 1}
    return end if isinstance(end, str) else [each.text for each in end]
