"""Formulas of screens and of devices by their maker's points."""

from __future__ import annotations

import math

import pytest
from fluids import fittings as library
from hypothesis import given
from hypothesis import strategies as st

from solver.network.screens import fit, flow_coefficient


@given(st.floats(1e-6, 1e-3))
def test_a_flow_coefficient_is_that_of_the_library(kv: float) -> None:
    theirs = library.Kv_to_K(kv * 3600, 1.0) * 8 / math.pi**2
    assert flow_coefficient(kv=kv) == pytest.approx(theirs, rel=1e-12)


@given(st.floats(1e3, 1e6), st.floats(1e6, 1e9))
def test_points_on_a_curve_give_the_curve_back(viscous: float, inertial: float) -> None:
    mu, density = 0.03, 870.0
    points = [(q, viscous * mu * q + inertial * density * q**2) for q in (5e-4, 1e-3, 2e-3)]
    coefficients_fitted = fit(points, mu, density)
    assert coefficients_fitted == pytest.approx((viscous, inertial), rel=1e-6, abs=1e-3)
