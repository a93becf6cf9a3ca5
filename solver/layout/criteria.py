"""The keys of [criteria]: the figures that findings are held to, where a drawing has its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.layout.ranges import NOT_NEGATIVE, POSITIVE, Range
from solver.layout.reading import Key, KeyPlace, Raw, Reader, amount, describe, either, fields
from solver.quantities.units import Kind, Quantity

_SHARE = Range("from 0 to 1", lambda value: 0.0 <= value <= 1.0)

_NUMBERS = (Kind.NUMBER, Kind.SHARE)
"""Kinds that may be typed as a number without quotes."""


def _setting(kind: Kind, allowed: Range) -> Reader[Any]:
    typed = amount(kind, allowed)

    def read(value: Any, place: KeyPlace) -> Quantity | None:
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not (number and kind in _NUMBERS):
            quantity: Quantity | None = typed(value, place)
            return quantity
        # A whole number may be too long for a float: compare before converting.
        if not abs(value) < 1e300 or not allowed.holds(float(value)):
            return place.refuse(describe(value), f"{kind} {allowed.text}")
        return Quantity(repr(value), float(value))

    return Reader(read, either(typed.schema, {"type": "number"}) if kind in _NUMBERS else typed.schema)


def _key(name: str, kind: Kind, allowed: Range = NOT_NEGATIVE) -> Key:
    return Key(name, _setting(kind, allowed))


CRITERIA = (
    _key("thin_margin", Kind.SHARE, _SHARE),
    _key("thin_pressure", Kind.PRESSURE),
    _key("vapor_margin", Kind.PRESSURE),
    _key("free_air", Kind.SHARE, _SHARE),
    _key("velocity_caution", Kind.VELOCITY, POSITIVE),
    _key("velocity_stop", Kind.VELOCITY, POSITIVE),
    _key("velocity_caution_fire_resistant", Kind.VELOCITY, POSITIVE),
    _key("velocity_stop_fire_resistant", Kind.VELOCITY, POSITIVE),
    _key("velocity_centrifugal", Kind.VELOCITY, POSITIVE),
    _key("floor_clearance", Kind.NUMBER),
    _key("floor_clearance_plain", Kind.NUMBER),
    _key("running_viscosity", Kind.VISCOSITY, POSITIVE),
    _key("start_viscosity_vane", Kind.VISCOSITY, POSITIVE),
    _key("start_viscosity_other", Kind.VISCOSITY, POSITIVE),
    _key("strainer_share", Kind.SHARE, _SHARE),
    _key("bypass_opening", Kind.PRESSURE, POSITIVE),
    _key("straight_before_port", Kind.NUMBER),
    _key("bore_tolerance", Kind.SHARE, _SHARE),
    _key("transitional_share", Kind.SHARE, _SHARE),
    _key("reservoir_minutes", Kind.NUMBER),
    _key("clearing_froude", Kind.NUMBER),
    _key("acceleration_share", Kind.SHARE, _SHARE),
)
"""Each bears the name of a figure of `findings.criteria.Criteria`."""

TABLES = ("criteria", "limits")
"""What their table may be called; the second is its name in format 1."""


def table_of(raw: Raw) -> str:
    """What the table of the criteria is called in a drawing, one of `TABLES`; the first where it has none."""
    return next((name for name in TABLES if name in raw), TABLES[0])


def read(raw: Any, place: KeyPlace) -> Mapping[str, Quantity]:
    """Read the table of the criteria; figures that are refused are absent."""
    figures: dict[str, Quantity] = fields(raw, place, CRITERIA)
    for fluids in ("", "_fire_resistant"):
        slow, fast = (figures.get(f"velocity_{name}{fluids}") for name in ("caution", "stop"))
        if slow is not None and fast is not None and fast.si < slow.si:
            place.to(f"velocity_stop{fluids}").refuse(
                f'"{fast.text}", below the caution at "{slow.text}"', f"at least velocity_caution{fluids}"
            )
    return figures


def raw(typed: Mapping[str, Quantity]) -> dict[str, Any]:
    """The figures as they stand in a file: bare numbers as numbers, the rest as text."""
    return {name: _number_or_text(quantity.text) for name, quantity in typed.items()}


def _number_or_text(text: str) -> str | int | float:
    for number in (int, float):
        try:
            return number(text)
        except ValueError:
            continue
    return text
