"""What the air presses on the fluid with."""

from __future__ import annotations

from typing import Protocol

from solver.formulas import flow, symbols
from solver.formulas.record import UNRECORDED, Calculator
from solver.quantities.units import Quantity

SEA_LEVEL = flow.SEA_LEVEL
"""Standard sea-level atmosphere [Pa]."""

LOWEST, HIGHEST = -5000.0, 11000.0
"""Elevations the standard's troposphere equations hold for [m]."""

LOWEST_SITE, HIGHEST_SITE = -500.0, 9000.0
"""Elevations that a site may be given by [m]: below the lowest shores to above the highest summits; common
practice, no source. In a deep mine a barometer says more than the standard does."""


LOW_PRESSURE_DAY = 2500.0
"""What a low-pressure day takes off a standard one [Pa], wherever a drawing gives no larger allowance. Common
practice, no source."""


class AtmosphereError(ValueError):
    """An elevation outside the standard's equations."""


class Site(Protocol):
    """Where the pump stands, as the drawing gives it."""

    @property
    def elevation(self) -> Quantity | None: ...

    @property
    def barometer(self) -> Quantity | None: ...

    @property
    def altimeter_setting(self) -> Quantity | None: ...


def standard_pressure(elevation: float, calc: Calculator = UNRECORDED) -> float:
    """Pressure of the standard atmosphere [Pa].

    elevation: geometric, above sea level [m].
    Raises AtmosphereError outside -5000 to 11 000 m.
    Source: U.S. Standard Atmosphere 1976, troposphere.
    """
    if not LOWEST <= elevation <= HIGHEST:
        raise AtmosphereError(
            f"elevation {elevation:.0f} m: the standard atmosphere holds from {LOWEST:.0f} to {HIGHEST:.0f} m"
        )
    return calc.work(flow.standard_pressure, calc.work(flow.geopotential, elevation))


def station_pressure(site: Site, calc: Calculator = UNRECORDED) -> float:
    """Pressure of the air at the site [Pa], before any allowance for a low-pressure day.

    site: with its barometer, read on the spot and not reduced to sea level; else its elevation, with the
    altimeter setting where there is one; sea level when it gives neither.
    Raises AtmosphereError for an elevation outside the standard.
    """
    if site.barometer is not None:
        source = "the site's barometer, not reduced to sea level"
        return calc.given(symbols.p_station, site.barometer.si, source)
    elevation = site.elevation.si if site.elevation is not None else 0.0
    source = "as typed" if site.elevation is not None else "not given"
    if site.altimeter_setting is not None:
        height = calc.work(flow.geopotential, calc.given(symbols.z, elevation, source))
        setting = calc.given(symbols.p_altimeter, site.altimeter_setting.si, "as typed")
        return calc.work(flow.pressure_by_altimeter, setting, height)
    return standard_pressure(calc.given(symbols.z, elevation, source), calc)
