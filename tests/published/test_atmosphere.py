"""Station pressure against standards and books.

US Standard Atmosphere 1976 (COESA), troposphere, geometric altitude: computed by fluids 1.3.1 and ambiance
1.3.1, which agree to 0.05 Pa; 500 to 3000 m also read in Davis, Water and Wastewater Engineering, Table 3-7.
"""

from __future__ import annotations

import ambiance
import pytest

from solver.atmosphere import standard_pressure

FOOT = 0.3048
INCH_OF_MERCURY = 3386.38864
PSI = 6894.757293

US_1976 = {-1000: 113931.2, -500: 107478.0, 0: 101325.0, 500: 95461.3, 1000: 89876.3, 1500: 84559.7,
           1609.344: 83431.8, 2000: 79501.4, 2500: 74691.8, 3000: 70121.2, 4000: 61660.4,
           5000: 54048.3}  # fmt: skip


@pytest.mark.parametrize(("z", "pascals"), US_1976.items())
def test_us_standard_atmosphere_1976(z: float, pascals: float) -> None:
    assert standard_pressure(z) == pytest.approx(pascals, abs=0.5)


@pytest.mark.parametrize("z", range(-1000, 10001, 500))
def test_against_ambiance(z: int) -> None:
    assert standard_pressure(z) == pytest.approx(float(ambiance.Atmosphere(z).pressure[0]), rel=2e-6)


def test_sea_level_in_the_trades_units() -> None:
    """29.92 inHg and 14.7 psi: common practice; the definition of the standard atmosphere."""
    assert standard_pressure(0) / INCH_OF_MERCURY == pytest.approx(29.92, abs=0.005)
    assert standard_pressure(0) / PSI == pytest.approx(14.7, abs=0.05)


def test_mile_high() -> None:
    """US Standard Atmosphere 1976 at 5280 ft: 24.637 inHg, 12.101 psi, 5.284 inHg short of sea level."""
    pressure = standard_pressure(5280 * FOOT)
    assert pressure / INCH_OF_MERCURY == pytest.approx(24.637, abs=0.002)
    assert pressure / PSI == pytest.approx(12.101, abs=0.002)
    assert (101325 - pressure) / INCH_OF_MERCURY == pytest.approx(5.284, abs=0.002)


@pytest.mark.parametrize(
    ("feet", "deficit"), [(1000, 1.066), (3000, 3.104), (5000, 5.024), (7000, 6.831), (10000, 9.340)]
)
def test_one_inch_of_mercury_per_thousand_feet_is_a_rule_not_a_law(feet: float, deficit: float) -> None:
    """The trade's rule (NWCG fire-water course, Table 3.1) against the standard: too kind near 3000 ft."""
    pressure = standard_pressure(feet * FOOT)
    assert (101325 - pressure) / INCH_OF_MERCURY == pytest.approx(deficit, abs=0.003)


@pytest.mark.parametrize(("feet", "head"), [(0, 33.9), (1000, 32.8), (7000, 26.2)])
def test_atmosphere_in_feet_of_water(feet: float, head: float) -> None:
    """Bachus and Custodio, Know and Understand Centrifugal Pumps, ch. 2 (7000 ft); a public best-practice
    sheet no. 25 (1000 ft); water of 62.4 lbf/ft³. The tables round to 0.1 ft."""
    assert standard_pressure(feet * FOOT) / PSI * 144 / 62.4 == pytest.approx(head, abs=0.11)
