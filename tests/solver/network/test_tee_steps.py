"""The working of one leg of a tee."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas import symbols
from solver.formulas.record import Recorder
from solver.network.tee_steps import LegSteps
from solver.network.tees import coefficients
from tests.solver.network.test_tees import RUN_RUN_BRANCH, THIN


@pytest.mark.parametrize(
    "flows",
    [
        (1.0, 0.99, 0.01),
        (0.99, 1.0, -0.01),
        (-0.99, 0.01, -1.0),
        (1.0, 1.0, 0.0),
        (0.01, -0.99, 1.0),
        (0.4, -0.6, 1.0),
        (-0.4, 0.6, -1.0),
    ],
)
@pytest.mark.parametrize("leg", [0, 1, 2])
@pytest.mark.parametrize("viscosity", [THIN, 8e-3, 1.0])
def test_a_leg_about_to_turn_is_worked_out_from_the_published_curves(
    flows: tuple[float, float, float], leg: int, viscosity: float
) -> None:
    """The steps arrive at the figure; what stands as given is a table's, or the nothing of a leg at rest."""
    recorder = Recorder()
    k_inf, k_re = coefficients(RUN_RUN_BRANCH, np.array(flows), viscosity, LegSteps(recorder, leg))
    values = {step.symbol: step.value for step in recorder.steps}
    assert values.get(symbols.k_inf, 0.0) == pytest.approx(k_inf[0, leg], rel=1e-12)
    assert values.get(symbols.k_re, 0.0) == pytest.approx(k_re[0, leg], rel=1e-12)
    given_steps = [step for step in recorder.steps if step.worked is None]
    assert all(step.value == 0.0 or "Darby" in step.source for step in given_steps)
    for step in recorder.steps:
        if step.worked is not None:
            assert step.value == pytest.approx(step.worked.relation.scalar(*step.worked.values), rel=1e-12)
