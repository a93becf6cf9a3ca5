"""An airport's altimeter setting with the elevation, and a barometer that was reduced to sea level."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.parts import Site
from solver.properties.atmosphere import standard_pressure, station_pressure
from solver.quantities.units import Kind, quantity
from tests.published.comparing import Published
from tests.solver.checking import found, ledger, lifted

INCH_OF_MERCURY = 3386.389


def site(elevation: str, setting: str) -> Site:
    return Site(
        elevation=quantity(elevation, Kind.ELEVATION), altimeter_setting=quantity(setting, Kind.PRESSURE)
    )


@pytest.mark.parametrize(
    ("elevation", "setting", "station"),
    [("0 ft", "29.92 inHg", 29.92), ("5000 ft", "29.92 inHg", 24.896), ("10000 ft", "29.92 inHg", 20.577)],
)
def test_at_the_standard_setting_it_is_the_standard_atmosphere(
    elevation: str, setting: str, station: float, published: Published
) -> None:
    """U.S. Standard Atmosphere 1976, table of pressure over altitude: 24.896 inHg at 5 000 ft, 20.577 at
    10 000 ft."""
    ours = station_pressure(site(elevation, setting)) / INCH_OF_MERCURY
    published("U.S. Standard Atmosphere 1976", f"altimeter at {elevation}", station, ours, "inHg", rel=3e-4)


@pytest.mark.parametrize(("elevation", "setting"), [(1609.3, 30.15), (2500.0, 29.4), (300.0, 29.0)])
def test_the_weather_service_s_equation(elevation: float, setting: float, published: Published) -> None:
    """The altimeter equation of the U.S. National Weather Service (from memory): station pressure in hPa is
    (A^n - k h)^(1/n) + 0.3 with n 0.190284 and k = 1013.25^n 0.0065/288; within 0.5 hPa."""
    n = 0.190284
    hecto = setting * INCH_OF_MERCURY / 100
    theirs = (hecto**n - 1013.25**n * 0.0065 / 288 * elevation) ** (1 / n) + 0.3
    ours = station_pressure(site(f"{elevation} m", f"{setting} inHg")) / 100
    published("National Weather Service", f"altimeter at {elevation} m", theirs, ours, "hPa", abs=0.5)


def test_a_higher_setting_and_a_lower_site_have_more_air() -> None:
    at = [station_pressure(site("1500 m", f"{setting} inHg")) for setting in (28.9, 29.92, 30.8)]
    assert at == sorted(at)
    assert station_pressure(site("1400 m", "29.92 inHg")) > at[1]


def test_a_barometer_reduced_to_sea_level_is_a_caution() -> None:
    """29.92 inHg at 5 000 ft: 17 kPa more than any weather brings about."""
    layout = lifted()
    here = quantity("5000 ft", Kind.ELEVATION)

    def at(pressure: float) -> object:
        barometer = quantity(f"{pressure!r} Pa", Kind.PRESSURE)
        return replace(layout, site=Site(elevation=here, barometer=barometer))

    assert found(at(29.92 * INCH_OF_MERCURY), "barometer against elevation")
    standard = standard_pressure(here.si)
    for off, seen in ((3990.0, False), (4010.0, True), (-3990.0, False), (-4010.0, True)):
        assert bool(found(at(standard + off), "barometer against elevation")) is seen
    assert ledger(at(standard + 1000.0)).atmosphere == pytest.approx(standard + 1000.0)
