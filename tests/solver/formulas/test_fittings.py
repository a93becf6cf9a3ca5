"""Formulas of fittings against the library that has them as code, and their own limits."""

from __future__ import annotations

import math

import pytest
from fluids import fittings as library
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import fittings as formulas
from solver.network import coefficients

ratios = st.floats(0.1, 0.99)


@given(st.floats(0.01, 0.3), st.floats(0.6, 20), st.floats(1, 180), st.floats(0, 0.04))
def test_smooth_bends_are_those_of_rennels(
    bore: float, ratio: float, degrees: float, roughness: float
) -> None:
    ours = coefficients.bend_k("bent", ratio * bore, math.radians(degrees), bore, bore, roughness * bore)
    theirs = library.bend_rounded(
        Di=bore, angle=degrees, rc=ratio * bore, Re=1e5, roughness=roughness * bore, method="Rennels"
    )
    assert ours.k_inf == pytest.approx(theirs, rel=1e-10)


@given(ratios)
def test_changes_of_bore_are_those_of_rennels_or_hooper_s(beta: float) -> None:
    """His where it is more: a step to less than a third, or a slight one."""
    wide = coefficients.bore_change_k(0.1 * beta, 0.1)
    assert wide.k_inf == pytest.approx(library.diffuser_sharp(0.1 * beta, 0.1, method="Rennels"), rel=1e-10)
    narrow = coefficients.bore_change_k(0.1, 0.1 * beta)
    theirs = library.contraction_sharp(0.1, 0.1 * beta, method="Rennels")
    hooper = (0.6 + 0.48 * 0.0461) * (1 - beta**2)
    assert narrow.k_inf == pytest.approx(max(theirs, hooper), rel=1e-10)


@given(st.floats(0.02, 0.3))
def test_the_foot_valve_is_crane_s(bore: float) -> None:
    """By Crane's equation; the library's fit to the printed table, three decimals, is up to 1.3 % less."""
    ours = coefficients.fitting_k("foot valve", bore, bore).k_inf
    theirs = library.K_foot_valve_Crane(D=bore, style=1)
    assert theirs <= ours <= 1.013 * theirs


@given(st.floats(0.0, 1.0))
def test_tees_are_crane_s(y: float) -> None:
    pairs = [
        (library.K_branch_converging_Crane, formulas.tee_branch_joins[y > 0.4]),
        (library.K_run_converging_Crane, formulas.tee_run_joins),
        (library.K_branch_diverging_Crane, formulas.tee_branch_leaves),
        (library.K_run_diverging_Crane, formulas.tee_run_leaves[y > 0.5]),
    ]
    for theirs, ours in pairs:
        assert ours.scalar(y) == pytest.approx(theirs(1.0, 1.0, 1.0 - y, y), abs=1e-13)
