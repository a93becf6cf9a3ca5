"""Expression trees: printed with the brackets they need, compiled to what was written."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas.formula import Constant, Formula, Node, Number, Symbol, largest, least, log10, sqrt

a, b, c = (Symbol(name, None, name) for name in "abc")


@pytest.mark.parametrize(
    ("expression", "text"),
    [
        (a + b * c, "a + b · c"),
        ((a + b) * c, "(a + b) · c"),
        (a - (b - c), "a − (b − c)"),
        (a - b + c, "a − b + c"),
        (a / (b * c), "a/(b · c)"),
        (a * b / c, "a · b/c"),
        (a / b / c, "a/b/c"),
        (a / (b / c), "a/(b/c)"),
        ((a / b) ** 2, "(a/b)²"),
        (a**0.3, "a^0.3"),
        (a ** (b / c), "a^(b/c)"),
        (2**a, "2^a"),
        (-a * b, "−a · b"),
        (-(a + b), "−(a + b)"),
        (a * Number(-2), "a · (−2)"),
        (-2 * a, "−2 · a"),
        (sqrt(a), "√a"),
        (sqrt(a + b), "√(a + b)"),
        (1 / sqrt(a), "1/√a"),
        (log10(log10(a)), "log10(log10(a))"),
    ],
)
def test_printed_with_the_brackets_it_needs_and_no_more(expression: Node, text: str) -> None:
    assert expression.text() == text


def test_numbers_put_in_keep_their_brackets() -> None:
    assert (a * b).text({"a": "870", "b": "−1.2"}) == "870 · (−1.2)"
    assert (a * b).text({"a": "−1.2"}) == "−1.2 · b"
    assert (a**2).text({"a": "−1.2"}) == "(−1.2)²"
    assert (a * (b - c)).text({"b": "−3", "c": "4"}) == "a · (−3 − 4)"


def test_a_formula_whose_symbols_are_not_its_own_is_refused() -> None:
    with pytest.raises(ValueError, match="not those of its expression"):
        Formula("wrong", a, (b,), b * c, "none")


def test_called_by_place_or_by_symbol() -> None:
    formula = Formula("ratio", c, (a, b), a / b, "none")
    assert formula(1.0, 4.0) == formula(b=4.0, a=1.0) == 0.25
    with pytest.raises(TypeError):
        formula(1.0)


def test_a_constant_prints_as_its_symbol_and_computes_as_its_value() -> None:
    g = Constant("g", None, "gravity", "m/s²", 9.8)
    formula = Formula("head", c, (a,), a * g, "none")
    assert formula.text() == "a · g"
    assert formula(2.0) == 19.6


def test_larger_and_smaller_of_arrays_go_element_by_element() -> None:
    formula = Formula("clip", c, (a,), least(largest(a, 0), 1), "none")
    assert formula(0.3) == 0.3
    np.testing.assert_array_equal(formula(np.array([-1.0, 0.3, 2.0])), [0.0, 0.3, 1.0])
