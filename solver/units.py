"""Quantities as typed and as SI floats; the two display systems. The one strict door for units."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What a number measures; fixes the SI unit, what may be typed, and how it is shown."""

    LENGTH = "length"  # m; shown ft or m
    BORE = "bore"  # m; shown in or mm
    ELEVATION = "elevation"  # m; shown ft or m, whole
    AREA = "area"  # m²; in² or cm²
    VOLUME = "volume"  # m³; gal or L
    PRESSURE = "pressure"  # Pa; psi or kPa
    VACUUM = "vacuum"  # Pa, positive below the atmosphere; inHg or kPa
    HEAD = "head"  # m; ft or m
    FLOW = "flow"  # m³/s; gpm or L/min
    FLOW_COEFFICIENT_KV = "flow coefficient Kv"  # m³/h at 1 bar, as a flow [m³/s]
    FLOW_COEFFICIENT_CV = "flow coefficient Cv"  # gpm at 1 psi, as a flow [m³/s]
    VELOCITY = "velocity"  # m/s; ft/s or m/s
    TEMPERATURE = "temperature"  # K; degF or degC
    VISCOSITY = "kinematic viscosity"  # m²/s; cSt
    DENSITY = "density"  # kg/m³; lb/ft³ or kg/m³
    DISPLACEMENT = "displacement"  # m³ a revolution; in³/rev or cm³/rev
    SPEED = "speed"  # rev/s; rpm
    WIRES = "wires per length"  # 1/m; per inch
    NUMBER = "number"
    SHARE = "share"  # 0 to 1; %


@dataclass(frozen=True, slots=True)
class Quantity:
    """One number with its unit: the text as typed, and the value in the SI unit of its kind."""

    text: str
    si: float
