"""Fluids as a drawing would name them."""

from __future__ import annotations

from typing import Any

from solver.layout.parts import FluidChoice
from solver.properties import fluid
from solver.quantities.units import Kind, Quantity, quantity

OIL = "Mineral oil, ISO VG 46"


def pairs(kind: Kind, *points: tuple[str, str]) -> tuple[tuple[Quantity, Quantity], ...]:
    return tuple((quantity(at, Kind.TEMPERATURE), quantity(value, kind)) for at, value in points)


def choice(name: str = OIL, temperature: str = "40 degC", **typed: Any) -> FluidChoice:
    return FluidChoice(name, quantity(temperature, Kind.TEMPERATURE), **typed)


def state(name: str = OIL, temperature: str = "40 degC", **typed: Any) -> fluid.FluidState:
    return fluid.state(choice(name, temperature, **typed))
