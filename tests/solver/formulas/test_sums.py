"""Sums of as many terms as there are."""

from __future__ import annotations

import pytest

from solver.formulas import sums, symbols


def test_a_sum_of_flows_writes_a_term_for_each_pump() -> None:
    total = sums.sum_of_flows([0.001, 0.002, 0.0005])
    assert total.value == pytest.approx(0.0035)
    assert "Q_1 + Q_2 + Q_3" in total.relation.text()


def test_what_is_nothing_is_no_term() -> None:
    total = sums.sum_of(symbols.dp, symbols.dp, [100.0, 0.0, 50.0], "loss")
    assert total is not None
    assert total.value == 150.0
    assert len(total.relation.symbols) == 2


@pytest.mark.parametrize("values", [[], [0.0, 0.0], [1.0] * (sums.MOST_TERMS + 1)])
def test_no_terms_and_too_many_are_not_written_out(values: list[float]) -> None:
    assert sums.sum_of(symbols.dp, symbols.dp, values, "loss") is None
    assert sums.sum_of(symbols.dp, symbols.dp, [1.0] * sums.MOST_TERMS, "loss") is not None
