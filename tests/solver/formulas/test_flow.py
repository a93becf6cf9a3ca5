"""Formulas compute what they print, for floats and arrays alike."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas import fittings, flow, fluid, screens
from solver.formulas.formula import Constant, Formula
from solver.formulas.worked import written
from tests.solver.calculator import evaluate
from tests.thorough import one_in

FORMULAS = {
    f"{module.__name__}.{name}": value
    for module in (flow, fittings, screens, fluid)
    for name, value in vars(module).items()
    if isinstance(value, Formula)
}


def test_the_floor_as_it_is_printed() -> None:
    assert flow.floor.text() == "p_v + max(p_rated − p_v,rated, 0) · c_ρ · c_n"
    assert flow.density_factor.text() == "max(1, ρ/ρ_rated)"
    assert flow.speed_factor.text() == "max(1, (n/n_rated)²)"
    assert flow.colebrook.text() == "1/√f_t = −2 · log10(ε/(3.7 · D) + 2.51/(Re · √f_t))"


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_states_what_it_is(name: str) -> None:
    formula = FORMULAS[name]
    assert formula.name
    assert formula.source
    assert formula.text()
    for symbol in (formula.result, *formula.symbols):
        assert symbol.meaning
        assert symbol.kind is not None or symbol.unit


def _some_values(formula: Formula) -> dict[str, float]:
    """Values that the formula can take."""
    if formula is fluid.steam_pressure:
        return {"A_s": -6.4e5, "B_s": 3e6, "C_s": 4e5}
    if formula.name.startswith(("porosity", "opening")):
        return {"n_w": 3937.0, "w_d": 1.143e-4}
    if formula is fluid.steam_theta:
        return {"T": 300.0}
    return {symbol.symbol: 1.25 + 0.01 * i for i, symbol in enumerate(formula.symbols)}


def _printed_value(formula: Formula, values: dict[str, float]) -> float:
    """What the printed line gives on a calculator that knows the field's notation."""
    constants = {s.symbol: s.value for s in formula.expression.leaves() if isinstance(s, Constant)}
    numbers = {name: written(value, 15) for name, value in (constants | values).items()}
    return evaluate(formula.text(numbers))


@pytest.mark.parametrize("name", one_in(4, FORMULAS))
def test_what_is_printed_is_what_is_computed(name: str) -> None:
    formula = FORMULAS[name]
    values = _some_values(formula)
    assert _printed_value(formula, values) == pytest.approx(formula(**values), rel=1e-11)


@pytest.mark.parametrize("name", FORMULAS)
def test_arrays_give_what_floats_give(name: str) -> None:
    formula = FORMULAS[name]
    values = _some_values(formula)
    several = formula(**{name: np.array([value, value]) for name, value in values.items()})
    np.testing.assert_allclose(several, formula(**values), rtol=1e-13)
