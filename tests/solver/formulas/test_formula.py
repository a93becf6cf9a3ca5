"""Expression trees: printed with the brackets they need, compiled to what was written."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas.formula import Constant, Formula, Symbol, largest, least

a, b, c = (Symbol(name, None, name) for name in "abc")


def test_a_formula_whose_symbols_are_not_its_own_is_refused() -> None:
    with pytest.raises(ValueError, match="not those of its expression"):
        Formula("wrong", a, (b,), b * c, "none")


def test_called_by_place_or_by_symbol() -> None:
    formula = Formula("ratio", c, (a, b), a / b, "none")
    assert formula(1.0, 4.0) == formula(b=4.0, a=1.0) == 0.25
    with pytest.raises(TypeError):
        formula(1.0)


def test_a_constant_prints_as_its_symbol_and_computes_as_its_value() -> None:
    g = Constant("g", None, "gravity", "m/s²", value=9.8)
    formula = Formula("head", c, (a,), a * g, "none")
    assert formula.text() == "a · g"
    assert formula(2.0) == 19.6


def test_larger_and_smaller_of_arrays_go_element_by_element() -> None:
    formula = Formula("clip", c, (a,), least(largest(a, 0), 1), "none")
    assert formula(0.3) == 0.3
    np.testing.assert_array_equal(formula(np.array([-1.0, 0.3, 2.0])), [0.0, 0.3, 1.0])
