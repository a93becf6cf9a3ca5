"""What range a figure of a drawing may have, by itself and of its kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from solver.properties.atmosphere import HIGHEST_SITE, LOWEST_SITE
from solver.quantities.units import Kind


class Range(NamedTuple):
    """Which values are allowed, in words and as a condition."""

    text: str
    holds: Callable[[float], bool]


ANY = Range("any value", lambda value: True)
POSITIVE = Range("above zero", lambda value: value > 0.0)
NOT_NEGATIVE = Range("zero or above", lambda value: value >= 0.0)
BELOW_ONE = Range("from 0 to below 1", lambda value: 0.0 <= value < 1.0)
UP_TO_ONE = Range("above 0 and up to 1", lambda value: 0.0 < value <= 1.0)
OF_A_LIQUID = Range("of a liquid, from 100 to 5000 kg/m³", lambda value: 100.0 <= value <= 5000.0)
BELOW_SEA_LEVEL = Range(
    "from zero to below 29.92 inHg, a perfect vacuum at sea level", lambda value: 0.0 <= value < 101325.0
)
ABOVE_SEA_LEVEL = Range(
    f"from {LOWEST_SITE:.0f} m to {HIGHEST_SITE:.0f} m (below or above, give the barometer)",
    lambda value: LOWEST_SITE <= value <= HIGHEST_SITE,
)


OF_A_LINE = Range("from 0.1 mm to 20 m", lambda value: 1e-4 <= value <= 20.0)
BAROMETER = Range("from 100 to 2000 mbar", lambda value: 1e4 <= value <= 2e5)
OVER_A_FLUID = Range(
    "above a perfect vacuum, -1.01325 bar at sea level", lambda value: value > -101325.0
)  # where the site lies higher, the calculation says so

SMALLEST, LARGEST = 1e-15, 1e12
SIZES: Mapping[Kind, tuple[float, float, str]] = {
    Kind.LENGTH: (1e-6, 1e5, "0.001 mm to 100 km"),
    Kind.BORE: (1e-8, 20.0, "0.00001 mm to 20 m"),
    Kind.ELEVATION: (1e-6, 1e5, "0.001 mm to 100 km"),
    Kind.AREA: (1e-9, 1e6, "0.001 mm^2 to 1 km^2"),
    Kind.VOLUME: (1e-9, 1e9, "0.001 mL to 1 km^3"),
    Kind.PRESSURE: (1e-6, 1e9, "0.000001 Pa to 10000 bar"),
    Kind.VACUUM: (1e-6, 1e6, "0.000001 Pa to 10 bar"),
    Kind.HEAD: (1e-6, 1e5, "0.001 mm to 100 km"),
    Kind.FLOW: (1e-12, 1e3, "0.00000006 L/min to 1000 m^3/s"),
    Kind.FLOW_COEFFICIENT_KV: (1e-9, 1e3, "0.0000036 to 3600000 m^3/h"),
    Kind.FLOW_COEFFICIENT_CV: (1e-9, 1e3, "0.000016 to 16000000 gpm"),
    Kind.TEMPERATURE: (73.15, 1273.15, "-200 °C to 1000 °C"),
    Kind.VISCOSITY: (1e-8, 10.0, "0.01 cSt to 10000000 cSt"),
    Kind.DISPLACEMENT: (1e-12, 1e2, "0.000001 cm^3/rev to 100 m^3/rev"),
    Kind.SPEED: (1e-6, 1e4, "0.00006 rpm to 600000 rpm"),
    Kind.WIRES: (1.0, 1e6, "1 per m to 25400 per inch"),
    Kind.TIME: (1e-3, 3600.0, "1 ms to 60 min"),
}
"""Least and most of a quantity that is not zero [SI unit of the kind], and both in words: past them there is
no such line, fluid or machine, and what is worked out from such a figure says nothing."""
