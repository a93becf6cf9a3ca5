"""The turbulent friction factor satisfies its own equation."""

from __future__ import annotations

import pytest

from solver.formulas import flow, symbols
from solver.formulas.formula import Formula, Implicit


def test_the_turbulent_friction_factor_satisfies_the_equation_it_prints() -> None:
    factor = flow.colebrook(1e5, 4.57e-5, 0.0525)
    assert isinstance(flow.colebrook, Implicit)
    left = Formula("left", symbols.f, (symbols.f_t,), flow.colebrook.left, "the equation itself")
    right = Formula(
        "right",
        symbols.f,
        (symbols.roughness, symbols.D, symbols.Re, symbols.f_t),
        flow.colebrook.right,
        "the equation itself",
    )
    assert left(factor) == pytest.approx(right(4.57e-5, 0.0525, 1e5, factor), rel=1e-14)
