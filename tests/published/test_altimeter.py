"""An airport's altimeter setting with the elevation, and a barometer that was reduced to sea level."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.file import LayoutErrors, parse
from solver.layout.parts import Layout, Limit, Site
from solver.ledger.sentences import verdict
from solver.properties.atmosphere import standard_pressure, station_pressure
from solver.quantities.units import Kind, System, quantity
from tests.drawings import RISER
from tests.published.comparing import Published
from tests.solver.checking import found, ledger, lifted, with_pump

INCH_OF_MERCURY = 3386.389


def site(elevation: str, setting: str) -> Site:
    return Site(
        elevation=quantity(elevation, Kind.ELEVATION), altimeter_setting=quantity(setting, Kind.PRESSURE)
    )


@pytest.mark.parametrize(
    ("elevation", "setting", "station"),
    [
        ("0 ft", "29.92 inHg", 29.92),
        ("1000 ft", "29.92 inHg", 28.856),
        ("3000 ft", "29.92 inHg", 26.817),
        ("5000 ft", "29.92 inHg", 24.896),
        ("7000 ft", "29.92 inHg", 23.088),
        ("10000 ft", "29.92 inHg", 20.577),
    ],
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
    """Smithsonian Meteorological Tables (1951), p. 269, as the manual of a weather library prints it: station
    pressure in hPa is (A^n - k h)^(1/n) + 0.3, n = 0.190284, k = 1013.25^n 0.0065/288; within 0.5 hPa."""
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
    height = quantity("5000 ft", Kind.ELEVATION)

    def at(pressure: float) -> object:
        barometer = quantity(f"{pressure!r} Pa", Kind.PRESSURE)
        return replace(layout, site=Site(elevation=height, barometer=barometer))

    assert found(at(29.92 * INCH_OF_MERCURY), "barometer against elevation")
    standard = standard_pressure(height.si)
    for off, seen in ((3990.0, False), (4010.0, True), (-3990.0, False), (-4010.0, True)):
        assert bool(found(at(standard + off), "barometer against elevation")) is seen
    assert ledger(at(standard + 1000.0)).atmosphere == pytest.approx(standard + 1000.0)


@pytest.mark.parametrize("key", ["sea_level_pressure", "slp", "qff"])
def test_a_pressure_reduced_with_the_day_s_temperature_is_refused_with_the_reason(key: str) -> None:
    text = RISER.replace("[site]", f'[site]\n{key} = "1013 hPa"', 1)
    with pytest.raises(LayoutErrors) as caught:
        parse(text)
    (problem,) = caught.value.problems
    assert problem.key == f"site.{key}"
    assert "reduced to sea level with the day's temperature" in problem.found
    assert "the temperature it was reduced with is not known" in problem.allowed


def in_air(pressure: float, **more: object) -> Layout:
    barometer = quantity(f"{pressure!r} Pa", Kind.PRESSURE)
    return replace(with_pump(lifted(), **more), site=Site(barometer=barometer))


def test_air_above_the_standard_counts_and_raises_no_reading_called_allowed() -> None:
    """A maker's vacuum is a reading at the standard atmosphere (common practice, no source)."""
    standard, high, low = (ledger(in_air(air)) for air in (101_325.0, 104_325.0, 98_325.0))
    assert high.budget == pytest.approx(standard.budget + 3000.0)
    assert high.margin == pytest.approx(standard.margin + 3000.0)
    assert high.allowed_vacuum == standard.allowed_vacuum == pytest.approx(23705.0)
    assert low.allowed_vacuum == pytest.approx(standard.allowed_vacuum - 3000.0)
    with_credit = ledger(in_air(104_325.0, credit=True))
    assert with_credit.allowed_vacuum == pytest.approx(standard.allowed_vacuum + 3000.0)


def test_reservoir_pressure_is_untouched_by_that() -> None:
    layout = in_air(104_325.0)
    tank = replace(layout.reservoirs["tank"], pressure=quantity("5 kPa", Kind.PRESSURE))
    pressed = ledger(replace(layout, reservoirs={"tank": tank}))
    assert pressed.budget == pytest.approx(ledger(layout).budget + 5000.0)
    assert pressed.allowed_vacuum == ledger(layout).allowed_vacuum


def test_a_reading_past_the_maker_s_is_said_with_the_air_that_it_takes() -> None:
    at_sea_level = ledger(in_air(101_325.0))
    typed = quantity(f"{at_sea_level.vacuum - 500.0!r} Pa", Kind.VACUUM)
    tight = {"limit": Limit("vacuum", ((None, typed),))}
    assert not ledger(in_air(101_325.0, **tight)).within
    high = ledger(in_air(103_000.0, **tight))
    assert high.within
    assert high.vacuum > high.allowed_vacuum
    sentence = verdict(high, System.SI)
    assert sentence.startswith("Within at 103")
    assert sentence.endswith("is allowed with the standard atmosphere")
