"""Changes of bore and cones against the library that has them as code, and where formulas meet."""

from __future__ import annotations

import math

import pytest
from fluids import fittings as library
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import bores
from solver.network import coefficients

ratios, angles = st.floats(0.1, 0.99), st.floats(1.0, 179.0)


@given(ratios, angles)
def test_cones_are_those_of_rennels(beta: float, degrees: float) -> None:
    """The library is told the friction factor: its own is a coarser one."""
    wide, slim, angle = 0.1, 0.1 * beta, math.radians(degrees)
    friction = bores.cone_friction.scalar(coefficients.BEND_REYNOLDS, 0.0, wide)
    widening = library.diffuser_conical(slim, wide, angle=degrees, fd=friction, method="Rennels")
    assert coefficients.bore_change_k(slim, wide, angle).k_inf == pytest.approx(widening, rel=1e-9)
    narrowing = library.contraction_conical(wide, slim, angle=degrees, fd=friction, method="Rennels")
    hooper = library.contraction_conical(wide, slim, angle=degrees, Re=1e5, fd=0.0461, method="Hooper")
    larger = max(narrowing, hooper)
    assert coefficients.bore_change_k(wide, slim, angle).k_inf == pytest.approx(larger, rel=1e-9)


@given(ratios)
def test_a_cone_as_wide_as_a_step_narrows_as_one(beta: float) -> None:
    assert bores.cone_jet.scalar(math.pi, beta) == pytest.approx(bores.contracted_jet.scalar(beta))


@given(st.floats(0.02, 0.2), ratios, angles)
def test_the_angle_of_a_cone_is_that_of_its_walls(bore: float, ratio: float, degrees: float) -> None:
    slim, half = bore * ratio, math.radians(degrees) / 2
    length = (bore - slim) / 2 / math.tan(half)
    assert bores.cone_angle.scalar(bore, slim, length) == pytest.approx(2 * half)
