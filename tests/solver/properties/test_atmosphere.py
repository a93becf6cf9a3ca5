"""Station pressure from the elevation or the barometer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.layout.parts import Site
from solver.properties import atmosphere
from solver.quantities.units import Kind, quantity


def test_sea_level_is_the_standard_atmosphere() -> None:
    assert atmosphere.standard_pressure(0.0) == 101325.0
    assert atmosphere.station_pressure(Site()) == 101325.0


@given(st.floats(-4900, 10900), st.floats(0.1, 100))
def test_pressure_falls_with_height_by_the_weight_of_the_air(z: float, step: float) -> None:
    below, above = atmosphere.standard_pressure(z), atmosphere.standard_pressure(z + step)
    lapse = 288.15 - 0.0065 * z
    density = below / (287.053 * lapse)
    assert below - above == pytest.approx(density * 9.80665 * step, rel=0.012)


def test_elevation_as_typed() -> None:
    site = Site(elevation=quantity("5280 ft", Kind.ELEVATION))
    assert atmosphere.station_pressure(site) == pytest.approx(83431.8, abs=0.1)


def test_a_barometer_is_taken_as_it_reads() -> None:
    site = Site(barometer=quantity("24.6 inHg", Kind.PRESSURE))
    assert atmosphere.station_pressure(site) == quantity("24.6 inHg", Kind.PRESSURE).si


@pytest.mark.parametrize("z", [-5001.0, 11001.0, float("nan"), float("inf")])
def test_outside_the_standard_is_refused(z: float) -> None:
    with pytest.raises(atmosphere.AtmosphereError):
        atmosphere.standard_pressure(z)
