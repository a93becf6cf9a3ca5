"""The friction of a wall: each law where it holds, no step between, and the unfavourable side in doubt."""

from __future__ import annotations

import numpy as np
import pytest
from fluids.friction import Churchill_1977
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import flow as formulas
from solver.formulas.record import Recorder
from solver.network.friction import friction


def test_friction_is_turbulent_from_where_it_may_be_so() -> None:
    """The unfavourable side, and in laminar flow the exact law; 0.1 % of flow move it by less than 1 %."""
    reynolds = np.geomspace(1900, 6000, 1200)
    f, _ = friction(reynolds, np.full(1200, 1e-3))
    turbulent = np.array([formulas.colebrook(each, 1e-3, 1.0) for each in reynolds])
    np.testing.assert_allclose(f[reynolds <= 2000], 64 / reynolds[reynolds <= 2000], rtol=1e-14)
    assert (f[reynolds >= 3000] >= turbulent[reynolds >= 3000] * (1 - 1e-12)).all()
    np.testing.assert_allclose(f[reynolds >= 5000], turbulent[reynolds >= 5000], rtol=1e-12)
    assert np.abs(np.diff(np.log(f))).max() < 0.01


@given(st.floats(2000, 6000), st.floats(0, 0.05))
def test_friction_in_doubt_lies_between_the_laws_or_is_churchill_s(reynolds: float, ratio: float) -> None:
    f, _ = friction(np.array([reynolds]), np.array([ratio]))
    ends = sorted([64 / reynolds, formulas.colebrook(reynolds, ratio, 1.0)])
    most = max(ends[1], 0.995 * Churchill_1977(reynolds, ratio) if reynolds < 5000 else 0.0)
    assert ends[0] * (1 - 1e-12) <= f[0] <= most * (1 + 1e-12)


@pytest.mark.parametrize("ratio", [0.0, 1e-4, 1e-3, 1e-2, 5e-2])
def test_friction_in_doubt_is_at_most_half_a_percent_kinder_than_churchill_s(ratio: float) -> None:
    """Source: Churchill (1977), one equation for all regimes, by the library `fluids`. Ours was 2.5 % below
    it at Re 2550 of a smooth pipe, and 1.3 to 3.1 % at Re 4000. From Re 5000 Colebrook's holds alone."""
    reynolds = np.geomspace(2000.0, 4000.0, 1500)
    f, _ = friction(reynolds, np.full(reynolds.shape, ratio))
    churchill = np.array([Churchill_1977(each, ratio) for each in reynolds])
    assert (f / churchill).min() >= 0.995 - 1e-12


@pytest.mark.parametrize("ratio", np.geomspace(1e-6, 0.05, 12))
def test_churchill_s_friction_is_gone_where_colebrook_s_holds_alone(ratio: float) -> None:
    """Else there were a step at Re 5000; and slower flow never loses more."""
    reynolds = np.geomspace(3900.0, 5200.0, 2000)
    f, _ = friction(reynolds, np.full(reynolds.shape, ratio))
    colebrook = np.array([formulas.colebrook(each, ratio, 1.0) for each in reynolds])
    np.testing.assert_allclose(f[reynolds >= 4950], colebrook[reynolds >= 4950], rtol=1e-12)
    assert (np.diff(f * reynolds**2) > 0).all()


@pytest.mark.parametrize("ratio", [0.0, 1e-3, 5e-2])
def test_friction_has_no_step_and_its_slope_is_the_derivative(ratio: float) -> None:
    log_re = np.linspace(np.log(1500.0), np.log(1e5), 200001)
    f, slope = friction(np.exp(log_re), np.full(log_re.shape, ratio))
    rise = np.diff(np.log(f)) / np.diff(log_re)
    between = 0.5 * (slope[1:] + slope[:-1])
    assert np.abs(np.diff(np.log(f))).max() < 1e-3
    assert (np.abs(rise - between) > 1e-4).sum() <= 8  # where one law takes over from another


def test_a_working_takes_the_steps_to_the_factor() -> None:
    """Between the laws by Churchill's and by the blend, and turbulent: the last step is the factor."""
    for reynolds, names in (
        (2600.0, {"friction factor by Churchill", "share of turbulence in the friction"}),
        (2950.0, {"share of turbulence in the friction", "turbulent friction factor"}),
        (3900.0, {"friction factor by Churchill", "share of Churchill's factor"}),
        (4100.0, {"friction factor by Churchill", "share of Churchill's factor"}),
        (4900.0, {"turbulent friction factor"}),
        (1e7, {"turbulent friction factor"}),
    ):
        recorder, one = Recorder(), np.array([reynolds])
        f, _ = friction(one, np.array([1e-4]), np.array([0.1]), recorder)
        assert recorder.steps[-1].value == pytest.approx(f[0], rel=1e-12)
        assert names <= {step.name for step in recorder.steps}
        for step in recorder.steps:
            assert step.worked is not None
            assert step.worked.relation(*step.worked.values) == pytest.approx(step.value, rel=1e-9)
