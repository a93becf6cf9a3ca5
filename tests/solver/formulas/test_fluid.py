"""Formulas of fluid properties: limits and directions; their values stand in tests/published."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import fluid


@given(st.floats(2.0, 2000.0), st.floats(50.0, 200.0))
def test_the_index_that_gave_a_viscosity_is_found_in_it(at_100: float, index: float) -> None:
    at_100 = 2.0 + at_100 % 60.0
    assert fluid.viscosity_index(fluid.at_40(at_100, index), at_100) == pytest.approx(index, abs=1.0)


def test_water_boils_at_one_atmosphere_near_100_degrees() -> None:
    """By definition of the scale, to a tenth of a per cent of an atmosphere in 0.03 K: NIST, ITS-90."""
    assert fluid.water_vapor_pressure(373.124) == pytest.approx(101_325.0, rel=1e-3)


def test_vapour_pressure_rises_with_temperature() -> None:
    pressures = [fluid.water_vapor_pressure(273.15 + celsius) for celsius in range(1, 200, 5)]
    assert pressures == sorted(pressures)
