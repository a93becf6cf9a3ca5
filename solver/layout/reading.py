"""One raw table at a time into frozen values: every key known by name, every refusal with its key path."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise
from types import MappingProxyType
from typing import Any, Generic, NamedTuple, TypeVar

from solver.layout.ranges import ANY, LARGEST, SIZES, SMALLEST, Range
from solver.layout.suggestions import suggestion
from solver.properties import sizes
from solver.quantities import spelling, units
from solver.quantities.units import Kind, Quantity, UnitError

LONGEST_TEXT = 64 * 1024
MOST_POINTS = 1000
"""Bends of a run, corners of an outline, pairs of a table."""
MOST_TROUBLES = 1000
"""Refusals that are listed; a file with more has one cause, not a thousand."""

Path = tuple[str | int, ...]
Raw = Mapping[str, Any]


class Trouble(NamedTuple):
    """One refusal: the key path, what was found there, what is allowed there."""

    path: Path
    found: str
    allowed: str


class TooManyTroublesError(Exception):
    """Raised to stop reading once `MOST_TROUBLES` refusals are listed."""


class KeyPlace(NamedTuple):
    """Where in a file a value stands, by its keys, and the list that takes its refusals."""

    path: Path
    troubles: list[Trouble]

    def to(self, key: str | int) -> KeyPlace:
        """The place of a key, or of an item by its number, within the value here."""
        return KeyPlace((*self.path, key), self.troubles)

    def refuse(self, found: str, allowed: str) -> None:
        """List a refusal of the value here. Raises TooManyTroublesError at the last that is listed."""
        self.troubles.append(Trouble(self.path, found, allowed))
        if len(self.troubles) >= MOST_TROUBLES:
            raise TooManyTroublesError


Schema = Mapping[str, Any]
"""What may be typed, as JSON Schema has it (draft 2020-12)."""

T = TypeVar("T")


class Reader(NamedTuple, Generic[T]):
    """Turns a raw value into a frozen one; gives None after refusing it at its place.

    schema: what the raw value may be.
    """

    read: Callable[[Any, KeyPlace], T]
    schema: Schema

    def __call__(self, value: Any, place: KeyPlace) -> T:
        return self.read(value, place)


def reader(schema: Schema) -> Callable[[Callable[[Any, KeyPlace], T]], Reader[T]]:
    """Make a reader of a function."""
    return lambda read: Reader(read, schema)


def array(items: Schema, least: int = 0, most: int | None = None) -> Schema:
    """The schema of an array of that many items, each of one schema."""
    ends = {"minItems": least} if least else {}
    return {"type": "array", "items": items, **ends, **({} if most is None else {"maxItems": most})}


def either(*schemas: Schema) -> Schema:
    """The schema of a value that keeps to one of several."""
    return {"anyOf": list(schemas)}


TEXT: Schema = {"type": "string"}


def quantity_schema(kind: Kind, allowed: Range) -> Schema:
    """The schema of a quantity as text; what its units are stands among the definitions."""
    return {"$ref": f"#/$defs/{kind.name.lower()}", "description": allowed.text}


def describe(value: object) -> str:
    """Name a raw value as a person would who looks at the file."""
    if isinstance(value, str):
        short = value if len(value) <= 60 else value[:57] + "..."
        return f'"{short}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) > 10**15:
        return "a very long number"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, list):
        return "an array" if value else "an empty array"
    return "a table" if isinstance(value, dict) else f"a {type(value).__name__}"


def listed(options: Iterable[str]) -> str:
    """The words in quotes, with commas between."""
    return ", ".join(f'"{option}"' for option in options)


@reader(TEXT)
def text(value: Any, place: KeyPlace) -> str | None:
    """Read a text within the limit of length."""
    if not isinstance(value, str):
        return place.refuse(describe(value), "text in quotes")
    size = len(value.encode())
    if size > LONGEST_TEXT:
        return place.refuse(f"a text of {size} bytes", f"at most {LONGEST_TEXT} bytes")
    return value


@reader({"type": "boolean"})
def flag(value: Any, place: KeyPlace) -> bool | None:
    """Read true or false."""
    if not isinstance(value, bool):
        return place.refuse(describe(value), "true or false")
    return value


def choice(options: Iterable[str]) -> Reader[Any]:
    """Make a reader of one word out of several; of an enumeration's words it gives the member."""
    words = tuple(options)

    def read(value: Any, place: KeyPlace) -> str | None:
        if value in words and isinstance(value, str):
            return words[words.index(value)]
        hint = suggestion(value, words) if isinstance(value, str) else ""
        return place.refuse(describe(value), f"{hint}one of {listed(words)}")

    return Reader(read, {"enum": [str(word) for word in words]})


def figure(allowed: Range) -> Reader[Any]:
    """Make a reader of a bare number within a range."""

    def read(value: Any, place: KeyPlace) -> float | None:
        number = isinstance(value, int | float) and not isinstance(value, bool)
        # A whole number may be too long for a float: compare before converting.
        if not number or not abs(value) < 1e300 or not allowed.holds(float(value)):
            which = "" if allowed is ANY else f" {allowed.text}"
            return place.refuse(describe(value), f"a number{which}, without quotes")
        return float(value)

    return Reader(read, {"type": "number", "description": allowed.text})


def share(allowed: Range) -> Reader[Any]:
    """Make a reader of a share within a range: a bare number, or text such as "60 %"."""

    def read(value: Any, place: KeyPlace) -> float | None:
        typed = value
        if isinstance(value, str):
            try:
                typed = units.quantity(value, Kind.SHARE).si
            except UnitError as error:
                return place.refuse(error.found, error.allowed)
        number = isinstance(typed, int | float) and not isinstance(typed, bool)
        if not number or not abs(typed) < 1e300 or not allowed.holds(float(typed)):
            return place.refuse(describe(value), f'a share {allowed.text}, such as 0.2 or "20 %"')
        return float(typed)

    return Reader(read, either(figure(allowed).schema, quantity_schema(Kind.SHARE, allowed)))


def count(options: tuple[int, ...], instead: str) -> Reader[Any]:
    """Make a reader of one whole number out of several; `instead` is the key that may stand in its place."""

    def read(value: Any, place: KeyPlace) -> int | None:
        if isinstance(value, bool) or not isinstance(value, int) or value not in options:
            listed = ", ".join(map(str, options))
            return place.refuse(
                describe(value), f"one of {listed}, without quotes, or {instead} in its place"
            )
        return value

    return Reader(read, {"enum": list(options)})


def amount(kind: Kind, allowed: Range = ANY, *, absolute: bool = False, sized: bool = True) -> Reader[Any]:
    """Make a reader of a quantity within a range, and within `SIZES` too where `sized`.

    absolute: a pressure that may say so in its unit.
    """

    def read(value: Any, place: KeyPlace) -> Quantity | None:
        if not isinstance(value, str):
            return place.refuse(describe(value), f"text in quotes: {units.allowed(kind)}")
        try:
            quantity = units.quantity(value, kind)
        except UnitError as error:
            return place.refuse(error.found, error.allowed)
        if kind is Kind.PRESSURE and not absolute and spelling.is_absolute(value):
            return place.refuse(
                f"{describe(value)}, an absolute pressure", f"{kind} over the atmosphere or a drop"
            )
        if not allowed.holds(quantity.si):
            return place.refuse(describe(value), f"{kind} {allowed.text}")
        least, most, between = SIZES.get(kind, (SMALLEST, LARGEST, "an ordinary size"))
        if sized and (quantity.si or kind is Kind.TEMPERATURE) and not least <= abs(quantity.si) <= most:
            refused = f"{describe(value)}, beyond anything built"
            return place.refuse(refused, f"{kind} {allowed.text}, {between}")
        return quantity

    return Reader(read, quantity_schema(kind, allowed))


_length = amount(Kind.LENGTH)


@reader(array(_length.schema, 2, 2))
def point(value: Any, place: KeyPlace) -> tuple[Quantity, Quantity] | None:
    """Read a pair of lengths [x, y]."""
    if not isinstance(value, list) or len(value) != 2:
        return place.refuse(describe(value), 'a point of two lengths such as ["1.2 m", "0.7 m"]')
    x, y = _length(value[0], place.to(0)), _length(value[1], place.to(1))
    return None if x is None or y is None else (x, y)


def several(value: Any, place: KeyPlace, least: int, what: str) -> bool:
    """Whether a raw value is an array of a length within the limits; refuses it where not."""
    if not isinstance(value, list):
        place.refuse(describe(value), f"an array of {what}")
    elif len(value) < least:
        place.refuse(f"{len(value)} {what}", f"{least} or more")
    elif len(value) > MOST_POINTS:
        place.refuse(f"{len(value)} {what}", f"at most {MOST_POINTS}")
    else:
        return True
    return False


def points(least: int, what: str) -> Reader[Any]:
    """Make a reader of a sequence of points."""

    def read(value: Any, place: KeyPlace) -> tuple[Any, ...] | None:
        if not several(value, place, least, what):
            return None
        corners = tuple(point(item, place.to(index)) for index, item in enumerate(value))
        return None if None in corners else corners

    return Reader(read, array(point.schema, least, MOST_POINTS))


def pairs(argument: Reader[Any], figure: Reader[Any], *, falling: bool = False) -> Reader[Any]:
    """Make a reader of figures over a rising argument: [[argument, figure], ...]."""

    def read(value: Any, place: KeyPlace) -> tuple[Any, ...] | None:
        if not several(value, place, 1, "pairs"):
            return None
        pairs = []
        for index, item in enumerate(value):
            pair_place = place.to(index)
            if not isinstance(item, list) or len(item) != 2:
                pair_place.refuse(describe(item), "a pair in brackets")
                continue
            pairs.append((argument(item[0], pair_place.to(0)), figure(item[1], pair_place.to(1))))
        if len(pairs) < len(value) or any(None in pair for pair in pairs):
            return None
        return tuple(pairs) if _ordered(pairs, falling, place) else None

    pair_schema = {"prefixItems": [argument.schema, figure.schema], **array({}, 2, 2)}
    return Reader(read, array(pair_schema, 1, MOST_POINTS))


def _ordered(pairs: list[tuple[Any, Any]], falling: bool, place: KeyPlace) -> bool:
    for index, (one, other) in enumerate(pairwise(pairs), start=1):
        if not other[0].si > one[0].si:
            found_text = f'"{other[0].text}" after "{one[0].text}"'
            place.to(index).to(0).refuse(found_text, "rising from pair to pair")
            return False
        if falling and not other[1].si < one[1].si:
            found_text = f'"{other[1].text}" after "{one[1].text}"'
            place.to(index).to(1).refuse(found_text, "falling as the temperature rises")
            return False
    return True


def amount_or_pairs(
    kind: Kind, allowed: Range, *, falling: bool = False, absolute: bool = False
) -> Reader[Any]:
    """Make a reader of one quantity, or of pairs over temperature, also "46 cSt at 40 °C, 6.8 cSt at …"."""
    single = amount(kind, allowed, absolute=absolute)
    table = pairs(amount(Kind.TEMPERATURE), single, falling=falling)

    def read(value: Any, place: KeyPlace) -> Any:
        if isinstance(value, str) and " at " in value:
            value = [part.strip().split(" at ", 1)[::-1] for part in value.split(",")]
        return table(value, place) if isinstance(value, list) else single(value, place)

    return Reader(read, either(single.schema, table.schema))


@reader(TEXT)
def size(value: Any, place: KeyPlace) -> str | None:
    """Read the name of a standard pipe, tube or hose size."""
    if text(value, place) is None:
        return None
    try:
        sizes.bore(value)
    except sizes.SizeError as error:
        return place.refuse(describe(error.found), error.allowed)
    return sizes.full_name(value)


class Key(NamedTuple):
    """One key of a table: its name, how it is read, and the attribute it fills."""

    name: str
    read: Reader[Any]
    required: bool = False
    attribute: str = ""


def table_schema(keys: Iterable[Key]) -> Schema:
    """The schema of a table with such keys and no others."""
    properties = {key.name: key.read.schema for key in keys}
    required = [key.name for key in keys if key.required]
    table = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**table, "required": required} if required else table


def fields(
    raw: Any, place: KeyPlace, keys: tuple[Key, ...], elsewhere: Mapping[str, str] = MappingProxyType({})
) -> dict[str, Any]:
    """Read the keys of one table. elsewhere: for keys one may look for here, where they stand.

    Refuses unknown and missing keys by name; a key that was refused is absent from the result, which is
    keyed by attribute.
    """
    if not isinstance(raw, dict):
        place.refuse(describe(raw), "a table")
        return {}
    known = {key.name: key for key in keys}
    for name in raw:
        if name not in known:
            other = elsewhere.get(name)
            hint = suggestion(name, known) if other is None else f"it is written as {other}; here "
            place.to(name).refuse(f'the unknown key "{name[:60]}"', f"{hint}keys {listed(known)}")
    values = {}
    for key in keys:
        if key.name in raw:
            value = key.read(raw[key.name], place.to(key.name))
            if value is not None:
                values[key.attribute or key.name] = value
        elif key.required:
            place.to(key.name).refuse("nothing", f'the key "{key.name}", which is required')
    return values


def exactly_one(raw: Any, place: KeyPlace, *names: str) -> None:
    """Refuse a table that has none, or more than one, of some keys."""
    present = [name for name in names if name in raw]
    if len(present) != 1:
        spot = place.to(present[1]) if present else place
        several = f"both {' and '.join(map(describe, present))}" if present else "nothing"
        spot.refuse(several, f"exactly one of {listed(names)}")


def at_most_one(raw: Any, place: KeyPlace, *names: str) -> None:
    """Refuse more than one of these keys in a table."""
    if any(name in raw for name in names):
        exactly_one(raw, place, *names)


def only_with(raw: Any, place: KeyPlace, names: Iterable[str], condition: bool, when: str) -> None:
    """Refuse keys that would have no meaning: nothing that is typed is silently ignored."""
    for name in names:
        if name in raw and not condition:
            place.to(name).refuse(f'the key "{name}"', f"only {when}")
