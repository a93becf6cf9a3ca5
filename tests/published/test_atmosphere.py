"""Station pressure against standards and books.

US Standard Atmosphere 1976 (COESA), troposphere, geometric altitude: computed by fluids 1.3.1 and ambiance
1.3.1, which agree to 0.05 Pa; 500 to 3000 m also read in Davis, Water and Wastewater Engineering, Table 3-7.
"""

from __future__ import annotations

import ambiance
import pytest

from solver.layout.parts import FluidChoice
from solver.properties import fluid
from solver.properties.atmosphere import standard_pressure
from solver.quantities.units import Quantity
from tests.published.comparing import Published

FOOT = 0.3048
INCH_OF_MERCURY = 3386.38864
PSI = 6894.757293

US_1976 = {-1000: 113931.2, -500: 107478.0, 0: 101325.0, 500: 95461.3, 1000: 89876.3, 1500: 84559.7,
           1609.344: 83431.8, 2000: 79501.4, 2500: 74691.8, 3000: 70121.2, 4000: 61660.4,
           5000: 54048.3}  # fmt: skip


@pytest.mark.parametrize(("z", "pascals"), US_1976.items())
def test_us_standard_atmosphere_1976(z: float, pascals: float, published: Published) -> None:
    """Tolerance 0.5 Pa: ten times what the libraries differ by."""
    published("U.S. Standard Atmosphere 1976", f"{z:g} m", pascals, standard_pressure(z), "Pa", abs=0.5)


@pytest.mark.parametrize("z", range(-1000, 10001, 500))
def test_against_ambiance(z: int) -> None:
    assert standard_pressure(z) == pytest.approx(float(ambiance.Atmosphere(z).pressure[0]), rel=2e-6)


ICAO = {1000: 89874.6, 2000: 79495.2, 3000: 70108.5, 4000: 61640.2, 5000: 54019.9}


@pytest.mark.parametrize(("geopotential", "pascals"), ICAO.items())
def test_icao_standard_atmosphere(geopotential: float, pascals: float, published: Published) -> None:
    """ICAO Doc 7488 and ISO 2533 at geopotential altitude (from memory; computed outside to 0.1 Pa), which is
    a little under the elevation of the site: r h/(r − h) turns one into the other."""
    site = 6356766 * geopotential / (6356766 - geopotential)
    case = f"{geopotential} m geopotential"
    published("ICAO Doc 7488, ISO 2533", case, pascals, standard_pressure(site), "Pa", abs=0.5)


def test_mile_high(published: Published) -> None:
    """US Standard Atmosphere 1976 at 5280 ft: 24.637 inHg, 12.101 psi, 5.284 inHg short of sea level. Last
    digits."""
    pressure = standard_pressure(5280 * FOOT)
    source = "U.S. Standard Atmosphere 1976"
    published(source, "5280 ft", 24.637, pressure / INCH_OF_MERCURY, "inHg", abs=0.002)
    published(source, "5280 ft", 12.101, pressure / PSI, "psi", abs=0.002)
    short = (101325 - pressure) / INCH_OF_MERCURY
    published(source, "5280 ft, short of sea level", 5.284, short, "inHg", abs=0.002)


@pytest.mark.parametrize(
    ("feet", "deficit"), [(1000, 1.066), (3000, 3.104), (5000, 5.024), (7000, 6.831), (10000, 9.340)]
)
def test_one_inch_of_mercury_per_thousand_feet_is_a_rule_not_a_law(
    feet: float, deficit: float, published: Published
) -> None:
    """The trade's rule (NWCG fire-water course, Table 3.1) against the standard: too kind near 3000 ft. The
    deficits were computed outside, to 0.003 inHg."""
    short = (101325 - standard_pressure(feet * FOOT)) / INCH_OF_MERCURY
    case = f"{feet} ft, short of sea level"
    published("U.S. Standard Atmosphere 1976", case, deficit, short, "inHg", abs=0.003)


@pytest.mark.parametrize(
    ("source", "feet", "head"),
    [
        ("Bachus and Custodio", 0, 33.9),
        ("Public best-practice sheet no. 25", 1000, 32.8),
        ("Bachus and Custodio", 7000, 26.2),
    ],
)
def test_atmosphere_in_feet_of_water(source: str, feet: float, head: float, published: Published) -> None:
    """Bachus and Custodio, Know and Understand Centrifugal Pumps, ch. 2 (7000 ft); a public best-practice
    sheet no. 25 (1000 ft); water of 62.4 lbf/ft³. The tables round to 0.1 ft."""
    ours = standard_pressure(feet * FOOT) / PSI * 144 / 62.4
    published(source, f"atmosphere at {feet} ft", head, ours, "ft", abs=0.11)


@pytest.mark.parametrize(("elevation", "pressure", "celsius"), [(2000, 79.50, 93.3), (5000, 54.05, 83.3)])
def test_where_water_boils(elevation: int, pressure: float, celsius: float, published: Published) -> None:
    """Çengel and Boles, Thermodynamics, table of the standard atmosphere and the boiling temperature of water
    over altitude (from memory). Tolerance: 0.01 kPa, and what 0.05 °C makes of the vapour pressure."""
    source = "Çengel and Boles, Thermodynamics"
    published(source, f"{elevation} m", pressure, standard_pressure(elevation) / 1e3, "kPa", abs=0.01)
    water = FluidChoice("Water", Quantity("boiling", celsius + 273.15))
    vapor = fluid.state(water).vapor_pressure / 1e3
    published(source, f"water boils at {celsius} °C, {elevation} m", pressure, vapor, "kPa", rel=2e-3)
