"""The tables that stand inside a part: a screen, a curve, an opening, a baffle, a pump's limit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any, TypeVar

from solver.formulas.flow import SEA_LEVEL
from solver.layout.kinds import LimitForm
from solver.layout.parts import Baffle, Curve, Limit, Opening, Screen
from solver.layout.ranges import BELOW_ONE, BELOW_SEA_LEVEL, NOT_NEGATIVE, OF_A_LIQUID, POSITIVE
from solver.layout.reading import (
    Key,
    KeyPlace,
    Reader,
    Trouble,
    amount,
    describe,
    either,
    exactly_one,
    fields,
    flag,
    only_with,
    pairs,
    reader,
    share,
    table_schema,
    text,
)
from solver.properties import cloth
from solver.quantities import spelling, units
from solver.quantities.units import Kind, Quantity, UnitError

T = TypeVar("T")

_flow = amount(Kind.FLOW, POSITIVE)
_pressure = amount(Kind.PRESSURE, POSITIVE)
_viscosity = amount(Kind.VISCOSITY, POSITIVE)
_density = amount(Kind.DENSITY, OF_A_LIQUID)
_elevation = amount(Kind.ELEVATION)
_drop = amount(Kind.PRESSURE, NOT_NEGATIVE)

SCREEN = (
    Key("mesh", amount(Kind.WIRES, POSITIVE)),
    Key("wire", amount(Kind.LENGTH, POSITIVE)),
    Key("area", amount(Kind.AREA, POSITIVE)),
    Key("drops", pairs(_flow, _pressure)),
    Key("viscosity", _viscosity),
    Key("density", _density),
    Key("blocked", share(BELOW_ONE)),
    Key("bypass", _pressure),
    Key("bypass_flow", _flow),
    Key("bypass_drop", _pressure),
    Key("bypass_viscosity", _viscosity),
    Key("own_part", text),
    Key("assumed", flag),
)
CURVE = (
    Key("drops", pairs(_flow, _pressure), required=True),
    Key("viscosity", _viscosity, required=True),
    Key("density", _density, required=True),
)
OPENING = (
    Key("kv", amount(Kind.FLOW_COEFFICIENT_KV, POSITIVE)),
    Key("cv", amount(Kind.FLOW_COEFFICIENT_CV, POSITIVE)),
)
BAFFLE = (
    Key("x", amount(Kind.LENGTH), required=True),
    Key("top", _elevation, required=True),
    Key("bottom", _elevation),
)


@reader(table_schema(SCREEN))
def screen(value: Any, place: KeyPlace) -> Screen | None:
    """Read a strainer's or filter's element."""
    return _table(value, place, SCREEN, Screen, _check_screen)


@reader(_drop.schema)
def drop(value: Any, place: KeyPlace) -> Quantity | None:
    """Read the pressure that a device takes; of a head it says where that is typed."""
    try:
        units.quantity(value if isinstance(value, str) else "", Kind.HEAD)
    except UnitError:
        quantity: Quantity | None = _drop(value, place)
        return quantity
    return place.refuse(f"{describe(value)}, a head", 'a pressure, or "head" in place of "drop"')


@reader(table_schema(CURVE))
def curve(value: Any, place: KeyPlace) -> Curve | None:
    """Read a maker's points."""
    return _table(value, place, CURVE, Curve)


@reader(table_schema(OPENING))
def opening(value: Any, place: KeyPlace) -> Opening | None:
    """Read how far a valve stands open."""

    def check(raw: dict[str, Any], place: KeyPlace, values: dict[str, Any]) -> None:
        exactly_one(raw, place, "kv", "cv")

    return _table(value, place, OPENING, Opening, check)


@reader(table_schema(BAFFLE))
def baffle(value: Any, place: KeyPlace) -> Baffle | None:
    """Read a plate across a reservoir."""

    def check(raw: dict[str, Any], place: KeyPlace, values: dict[str, Any]) -> None:
        top, bottom = values.get("top"), values.get("bottom")
        if top and bottom and not bottom.si < top.si:
            place.to("bottom").refuse(f'"{bottom.text}", not below the top', f'below the top "{top.text}"')

    return _table(value, place, BAFFLE, Baffle, check)


def _table(
    value: Any,
    place: KeyPlace,
    keys: tuple[Key, ...],
    make: Callable[..., T],
    check: Callable[[dict[str, Any], KeyPlace, dict[str, Any]], None] | None = None,
) -> T | None:
    before = len(place.troubles)
    values = fields(value, place, keys)
    if isinstance(value, dict) and check is not None:
        check(value, place, values)
    return make(**values) if len(place.troubles) == before else None


def _check_screen(raw: dict[str, Any], place: KeyPlace, values: dict[str, Any]) -> None:
    exactly_one(raw, place, "mesh", "drops")
    if "drops" in raw:
        only_with(raw, place, ("wire", "area"), "mesh" in raw, "with mesh")
        needed: tuple[str, ...] = ("viscosity", "density")
    else:
        only_with(
            raw, place, ("viscosity", "density"), "drops" in raw, "with drops, as the maker measured them"
        )
        needed = ("wire", "area")
    mesh, wire = values.get("mesh"), values.get("wire")
    usual = cloth.typical_wire(mesh.si) if mesh else ""
    for name in needed if {"mesh", "drops"} & raw.keys() else ():
        if name not in raw:
            more = (
                f"; cloth of that mesh usually has {usual} (unverified)" if name == "wire" and usual else ""
            )
            place.to(name).refuse("nothing", f'the key "{name}", which is required here{more}')
    _check_bypass(raw, place, values)
    if mesh and wire and mesh.si * wire.si >= 1.0:
        place.to("wire").refuse(
            f'"{wire.text}" at "{mesh.text}", which leaves no opening', "a wire thinner than its pitch"
        )


_BYPASS_POINT = ("bypass_flow", "bypass_drop", "bypass_viscosity")


def _check_bypass(raw: dict[str, Any], place: KeyPlace, values: dict[str, Any]) -> None:
    """A point of the open bypass is whole, and above the pressure that opens it."""
    only_with(raw, place, _BYPASS_POINT, "bypass" in raw, "with bypass")
    if raw.keys() & set(_BYPASS_POINT):
        for name in _BYPASS_POINT:
            if name not in raw:
                place.to(name).refuse("nothing", f'the key "{name}", which a point of the open bypass needs')
    opens, drop = values.get("bypass"), values.get("bypass_drop")
    if opens and drop and not drop.si > opens.si:
        place.to("bypass_drop").refuse(
            f'"{drop.text}", not above the bypass', f'above the pressure that opens it, "{opens.text}"'
        )


_absolute = amount(Kind.PRESSURE, POSITIVE, absolute=True)
_FIGURE_AND_UNIT = re.compile(r"([-+−]?[0-9.]+(?:[eE][-+]?[0-9]+)?) ?(.*)")


@reader(_absolute.schema)
def _least_pressure(value: Any, place: KeyPlace) -> Quantity | None:
    """Read an absolute pressure; one over the atmosphere, or below it, is refused with what it comes to."""
    split = _FIGURE_AND_UNIT.fullmatch(value) if isinstance(value, str) else None
    over = None
    if split is not None:
        marked = spelling.gauge(split[2])
        with suppress(UnitError):
            over = units.quantity(f"{split[1]} {marked or split[2]}", Kind.PRESSURE)
    if split is None or over is None or not (marked or over.si < 0):
        read: Quantity | None = _absolute(value, place)
        return read
    what, allowed = describe(value), "pressure above zero, which is an absolute one"
    if over.si < 0:
        below = units.in_unit_of(over, -over.si, Kind.PRESSURE).text
        allowed += f'; below the atmosphere, in its place vacuum = "{below}"'
    elif marked:
        whole = units.in_unit_of(over, SEA_LEVEL + over.si, Kind.PRESSURE).text
        what, allowed = f"{what}, over the atmosphere", f'{allowed}: at sea level this is "{whole} abs"'
    place.refuse(what, allowed)
    return None


def _over(single: Reader[Any], *arguments: Kind) -> Reader[Any]:
    """Make a reader of one figure, or of figures over a speed or whatever else is among the arguments."""
    tables = [pairs(amount(argument, POSITIVE), single) for argument in arguments]

    def read(value: Any, place: KeyPlace) -> Any:
        if not isinstance(value, list):
            return single(value, place)
        tried: list[list[Trouble]] = []
        for argument, table in zip(arguments, tables, strict=True):
            tried.append([])
            points = table(value, KeyPlace(place.path, tried[-1]))
            if points is not None:
                return points, argument
        for trouble in min(tried, key=len):
            KeyPlace(trouble.path, place.troubles).refuse(trouble.found, trouble.allowed)
        return None

    return Reader(read, either(single.schema, *(table.schema for table in tables)))


LIMIT = (
    Key("vacuum", _over(amount(Kind.VACUUM, BELOW_SEA_LEVEL), Kind.SPEED)),
    Key("pressure", _over(_least_pressure, Kind.SPEED)),
    Key("npsh", _over(amount(Kind.HEAD, POSITIVE), Kind.SPEED, Kind.FLOW)),
)


@reader(table_schema(LIMIT))
def limit(value: Any, place: KeyPlace) -> Limit | None:
    """Read what a pump's maker allows at the port: one figure, or a table over speed or flow."""
    before = len(place.troubles)
    values = fields(value, place, LIMIT)
    if isinstance(value, dict):
        exactly_one(value, place, *LimitForm)
    if len(place.troubles) > before:
        return None
    name, figures = next(iter(values.items()))
    form = LimitForm(name)
    return Limit(form, *figures) if isinstance(figures, tuple) else Limit(form, ((None, figures),))


KEYS: Mapping[type, tuple[Key, ...]] = {Screen: SCREEN, Curve: CURVE, Opening: OPENING, Baffle: BAFFLE}
"""The keys of each of these tables but the limit, whose key says its form."""
