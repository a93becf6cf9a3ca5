"""Trees of symbols in writing."""

from __future__ import annotations

import pytest

from solver.formulas.formula import Node, Number, log10, sqrt
from tests.solver.formulas.test_formula import a, b, c


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
