"""Density, viscosity, vapour pressure and dissolved air of the fluid, from the catalogue or as typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FluidState:
    """The fluid at one temperature."""

    name: str
    temperature: float  # [K]
    density: float  # [kg/m³]
    viscosity: float  # kinematic [m²/s]
    vapor_pressure: float  # absolute [Pa]
    dissolved_air: float  # Bunsen coefficient
    sources: Mapping[str, str]  # of density, viscosity, vapor_pressure, dissolved_air
