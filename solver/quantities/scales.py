"""What can be measured, the units in which it may be typed, and those in which it is shown."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """What a number measures; fixes the SI unit, what may be typed, and how it is shown."""

    LENGTH = "length"  # m; shown ft or m
    BORE = "bore"  # m; shown in or mm
    ELEVATION = "elevation"  # m; shown ft or m, whole
    AREA = "area"  # m²; in² or cm²
    VOLUME = "volume"  # m³; gal or L
    PRESSURE = "pressure"  # Pa; psi or kPa
    ABSOLUTE = "absolute pressure"  # Pa; inHg abs or kPa abs, so that what is taken from it adds up
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
    TIME = "time"  # s
    FORCE = "force"  # N
    NUMBER = "number"
    SHARE = "share"  # 0 to 1; %


class System(StrEnum):
    """The unit systems in which results are shown."""

    US = "US customary"
    SI = "SI"


class Linear(NamedTuple):
    """A unit in proportion to the SI unit, its zero moved by an offset."""

    factor: float
    offset: float = 0.0  # added before the factor: the zero of a temperature scale

    def to_si(self, value: float) -> float:
        """A value in this unit, in SI."""
        return (value + self.offset) * self.factor

    def from_si(self, si: float) -> float:
        """A value in SI, in this unit."""
        return si / self.factor - self.offset


class Saybolt(NamedTuple):
    """Saybolt Universal seconds at 100 degF, ASTM D2161; valid from 32 s (1.8 mm²/s) up."""

    lowest: float = 32.0

    def to_si(self, value: float) -> float:
        """Seconds as kinematic viscosity [m²/s]. Raises ValueError below the scale."""
        if not value >= self.lowest:
            raise ValueError(f"at least {self.lowest:g} SUS, where the Saybolt scale begins")
        centistokes = value / 4.6324
        for _ in range(50):
            step = (_saybolt_seconds(centistokes) - value) / 4.6324
            centistokes -= step
            if abs(step) <= 1e-15 * centistokes:
                break
        return centistokes * 1e-6

    def from_si(self, si: float) -> float:
        """Kinematic viscosity [m²/s] as seconds."""
        return _saybolt_seconds(si * 1e6)


def _saybolt_seconds(c: float) -> float:
    if c > 1e6:
        return 4.6324 * c  # the rest is below the last digit there, and its cube may overflow
    return 4.6324 * c + (1.0 + 0.03264 * c) / ((3930.2 + 262.7 * c + 23.97 * c * c + 1.646 * c**3) * 1e-5)


Scale = Linear | Saybolt

FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237
GALLON = 231.0 * INCH**3  # US
IMPERIAL_GALLON = 4.54609e-3
PSI = POUND * 9.80665 / INCH**2
MMHG = 133.322387415  # mercury at 0 °C, 13 595.1 kg/m³


def _linear(**factors: float) -> dict[str, Scale]:
    return {name: Linear(factor) for name, factor in factors.items()}


LENGTHS = _linear(m=1.0, mm=1e-3, cm=1e-2, km=1e3, um=1e-6, ft=FOOT, yd=0.9144) | {"in": Linear(INCH)}
PRESSURES = _linear(
    inHg=25.4 * MMHG,
    psi=PSI,
    bar=1e5,
    kPa=1e3,
    mbar=100.0,
    mmHg=MMHG,
    Pa=1.0,
    hPa=100.0,
    MPa=1e6,
    atm=101325.0,
)
FLOWS: dict[str, Scale] = {
    "gpm": Linear(GALLON / 60.0),
    "L/min": Linear(1e-3 / 60.0),
    "m^3/h": Linear(1.0 / 3600.0),
    "m^3/s": Linear(1.0),
    "L/s": Linear(1e-3),
    "ft^3/min": Linear(FOOT**3 / 60.0),
    "gal/min": Linear(GALLON / 60.0),
    "imp gpm": Linear(IMPERIAL_GALLON / 60.0),
}
SCALES: Mapping[Kind, Mapping[str, Scale]] = {
    Kind.LENGTH: LENGTHS,
    Kind.BORE: LENGTHS,
    Kind.ELEVATION: LENGTHS,
    Kind.HEAD: LENGTHS,
    Kind.AREA: {f"{name}^2": Linear(scale.to_si(1.0) ** 2) for name, scale in LENGTHS.items()},
    Kind.VOLUME: _linear(gal=GALLON, L=1e-3, mL=1e-6)
    | {"imp gal": Linear(IMPERIAL_GALLON)}
    | {f"{name}^3": Linear(scale.to_si(1.0) ** 3) for name, scale in LENGTHS.items()},
    Kind.PRESSURE: PRESSURES,
    Kind.ABSOLUTE: {f"{name} abs": scale for name, scale in PRESSURES.items()},
    Kind.VACUUM: PRESSURES,
    Kind.FLOW: FLOWS,
    Kind.FLOW_COEFFICIENT_KV: FLOWS,
    Kind.FLOW_COEFFICIENT_CV: FLOWS,
    Kind.VELOCITY: {"m/s": Linear(1.0), "ft/s": Linear(FOOT), "ft/min": Linear(FOOT / 60.0)},
    Kind.TEMPERATURE: {
        "degC": Linear(1.0, 273.15),
        "degF": Linear(5.0 / 9.0, 459.67),
        "K": Linear(1.0),
    },
    Kind.VISCOSITY: {
        "cSt": Linear(1e-6),
        "mm^2/s": Linear(1e-6),
        "m^2/s": Linear(1.0),
        "SUS": Saybolt(),
    },
    Kind.DENSITY: {
        "kg/m^3": Linear(1.0),
        "lb/ft^3": Linear(POUND / FOOT**3),
        "g/cm^3": Linear(1e3),
        "kg/L": Linear(1e3),
    },
    Kind.DISPLACEMENT: {
        "cm^3/rev": Linear(1e-6),
        "in^3/rev": Linear(INCH**3),
        "mL/rev": Linear(1e-6),
        "L/rev": Linear(1e-3),
        "gal/rev": Linear(GALLON),
    },
    Kind.SPEED: {"rpm": Linear(1.0 / 60.0), "rev/min": Linear(1.0 / 60.0), "rev/s": Linear(1.0)},
    Kind.WIRES: {
        "per inch": Linear(1.0 / INCH),
        "per cm": Linear(100.0),
        "per mm": Linear(1000.0),
        "per m": Linear(1.0),
    },
    Kind.TIME: _linear(s=1.0, ms=1e-3, min=60.0),
    Kind.FORCE: _linear(N=1.0, kN=1e3, lbf=POUND * 9.80665),
    Kind.NUMBER: {"": Linear(1.0)},
    Kind.SHARE: {"": Linear(1.0), "%": Linear(0.01)},
}
LENGTH_KINDS = (Kind.LENGTH, Kind.BORE, Kind.ELEVATION, Kind.HEAD)

ALIASES = {
    "foot": "ft", "feet": "ft", "FT": "ft", "inch": "in", "inches": "in", "IN": "in", "'": "ft", '"': "in",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "MM": "mm", "micron": "um", "microns": "um",
    "l": "L", "ml": "mL", "ml/rev": "mL/rev", "litre": "L", "litres": "L", "liter": "L", "liters": "L",
    "l/min": "L/min", "l/s": "L/s", "lpm": "L/min", "LPM": "L/min", "cfm": "ft^3/min", "CFM": "ft^3/min",
    "cfs": "ft^3/s", "GPM": "gpm", "US gpm": "gpm", "USgpm": "gpm", "USGPM": "gpm", "US gal/min": "gpm",
    "Imp gpm": "imp gpm", "igpm": "imp gpm", "IGPM": "imp gpm", "UK gpm": "imp gpm",
    "imp gal/min": "imp gpm", "UK gal/min": "imp gpm", "UK gal": "imp gal", "US gal": "gal",
    "in Hg": "inHg", "in.Hg": "inHg", "in-Hg": "inHg", '"Hg': "inHg", '" Hg': "inHg", "inch Hg": "inHg",
    "inches Hg": "inHg", "inches of mercury": "inHg", "mm Hg": "mmHg", "Torr": "mmHg", "torr": "mmHg",
    "inhg": "inHg", "InHg": "inHg", "INHG": "inHg", "kpa": "kPa", "KPa": "kPa", "KPA": "kPa", "Bar": "bar",
    "BAR": "bar", "cst": "cSt", "CST": "cSt", "sus": "SUS", "ssu": "SUS", "In": "in", "Ft": "ft",
    "Gpm": "gpm", "Lpm": "L/min", "Rpm": "rpm", "Psi": "psi",
    "PSI": "psi", "lb/in^2": "psi", "kg/cm^2": "kgf/cm^2", "PSIA": "psia",
    "C": "degC", "F": "degF", "celsius": "degC", "Celsius": "degC", "fahrenheit": "degF",
    "Fahrenheit": "degF", "SSU": "SUS", "centistokes": "cSt",
    "cc": "cm^3", "ccm": "cm^3", "cu in": "in^3", "cu in/rev": "in^3/rev", "cc/rev": "cm^3/rev",
    "cu ft": "ft^3", "gallon": "gal", "gallons": "gal",
    "sq in": "in^2", "sq ft": "ft^2", "sq cm": "cm^2", "sq m": "m^2",
    "RPM": "rpm", "r/min": "rpm", "1/min": "rpm", "min^-1": "rpm", "min-1": "rpm", "rps": "rev/s",
    "r/s": "rev/s", "fps": "ft/s", "fpm": "ft/min", "lbm": "lb",
    "sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hr": "h", "hour": "h",
    "hours": "h", "day": "d", "percent": "%",
    "per in": "per inch", "/in": "per inch", "mesh": "per inch", "/cm": "per cm",
}  # fmt: skip


class Shown(NamedTuple):
    """How a kind of quantity is shown in one system of units."""

    unit: str  # as shown
    key: str  # in the table of the kind
    places: int  # most decimals
    whole: bool = False  # all digits before the point, instead of three significant


def _same(shown: Shown) -> dict[System, Shown]:
    return {System.US: shown, System.SI: shown}


DISPLAY: Mapping[Kind, Mapping[System, Shown]] = {
    Kind.LENGTH: {System.US: Shown("ft", "ft", 2), System.SI: Shown("m", "m", 3)},
    Kind.BORE: {System.US: Shown("in", "in", 3), System.SI: Shown("mm", "mm", 1)},
    Kind.ELEVATION: {System.US: Shown("ft", "ft", 0, whole=True), System.SI: Shown("m", "m", 0, whole=True)},
    Kind.AREA: {System.US: Shown("in²", "in^2", 2), System.SI: Shown("cm²", "cm^2", 1)},
    Kind.VOLUME: {System.US: Shown("gal", "gal", 2), System.SI: Shown("L", "L", 2)},
    Kind.PRESSURE: {System.US: Shown("psi", "psi", 2), System.SI: Shown("kPa", "kPa", 2)},
    Kind.ABSOLUTE: {
        System.US: Shown("inHg abs", "inHg abs", 2),
        System.SI: Shown("kPa abs", "kPa abs", 2),
    },
    Kind.VACUUM: {System.US: Shown("inHg", "inHg", 1), System.SI: Shown("kPa", "kPa", 1)},
    Kind.HEAD: {System.US: Shown("ft", "ft", 2), System.SI: Shown("m", "m", 2)},
    Kind.FLOW: {System.US: Shown("gpm", "gpm", 2), System.SI: Shown("L/min", "L/min", 2)},
    Kind.FLOW_COEFFICIENT_KV: _same(Shown("m³/h", "m^3/h", 2)),
    Kind.FLOW_COEFFICIENT_CV: _same(Shown("gpm", "gpm", 2)),
    Kind.VELOCITY: {System.US: Shown("ft/s", "ft/s", 2), System.SI: Shown("m/s", "m/s", 2)},
    Kind.TEMPERATURE: {System.US: Shown("°F", "degF", 1), System.SI: Shown("°C", "degC", 1)},
    Kind.VISCOSITY: _same(Shown("cSt", "cSt", 2)),
    Kind.DENSITY: {
        System.US: Shown("lb/ft³", "lb/ft^3", 1),
        System.SI: Shown("kg/m³", "kg/m^3", 0, whole=True),
    },
    Kind.DISPLACEMENT: {
        System.US: Shown("in³/rev", "in^3/rev", 2),
        System.SI: Shown("cm³/rev", "cm^3/rev", 2),
    },
    Kind.SPEED: _same(Shown("rpm", "rpm", 0, whole=True)),
    Kind.WIRES: _same(Shown("per inch", "per inch", 0, whole=True)),
    Kind.TIME: _same(Shown("s", "s", 2)),
    Kind.FORCE: {System.US: Shown("lbf", "lbf", 0), System.SI: Shown("kN", "kN", 2)},
    Kind.NUMBER: _same(Shown("", "", 6)),
    Kind.SHARE: _same(Shown("%", "%", 0, whole=True)),
}
