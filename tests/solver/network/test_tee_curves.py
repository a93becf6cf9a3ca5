"""The published curves of a tee, and what it takes at least."""

from __future__ import annotations

import math

import numpy as np
import pytest

from solver.network.tee_curves import (
    FEW,
    TeeWay,
    counts,
    friction_in_fittings,
    table_row,
    tee_formula,
    tee_k_re,
)


@pytest.mark.parametrize("diverging", [True, False])
@pytest.mark.parametrize("leg", TeeWay)
def test_a_tee_leg_is_finite_at_every_split(leg: TeeWay, diverging: bool) -> None:
    assert tee_k_re(leg) in (200, 800)
    for share in (0.0, 1e-9, 0.2, 0.5, 0.9, 1.0):
        assert math.isfinite(tee_formula(leg, diverging=diverging, branch_share=share)(share))


def test_the_published_curves_have_nothing_for_all_the_flow_past_a_dead_leg() -> None:
    for diverging in (True, False):
        formula = tee_formula(TeeWay.RUN, diverging=diverging, branch_share=0.0)
        assert formula(0.0) == pytest.approx(0.0)


def test_the_table_takes_something_of_every_leg_but_of_one_that_is_dragged_along() -> None:
    for leg in TeeWay:
        assert table_row(leg)(0.019, 1.0) == pytest.approx(0.019 * (20 if leg == TeeWay.RUN else 60))
        assert table_row(leg)(0.019, 0.0) == 0.0
        assert counts(leg, splits=True, share=0.01)
        assert counts(leg, splits=False, share=0.41)
        assert counts(leg, splits=False, share=0.4) == (leg == TeeWay.RUN)


def test_a_friction_factor_looked_up_is_the_one_computed() -> None:
    bores = np.geomspace(0.01, 0.4, 3 * FEW).reshape(-1, 3)
    np.testing.assert_allclose(friction_in_fittings(bores)[:5], friction_in_fittings(bores[:5]), rtol=1e-12)
