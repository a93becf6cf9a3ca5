"""Sums with as many terms as there are, as formulas."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, reduce
from operator import add

from solver.formulas import symbols
from solver.formulas.formula import Formula, Node, Symbol
from solver.formulas.worked import Worked, work

MOST_TERMS = 60
"""Of a sum that is written out."""


@cache
def _sum(result: Symbol, term: Symbol, count: int, name: str, source: str) -> Formula:
    terms = [Symbol(f"{term.symbol}_{i}", term.kind, term.meaning, term.unit) for i in range(1, count + 1)]
    nodes: list[Node] = list(terms)
    return Formula(name, result, tuple(terms), reduce(add, nodes), source)


def sum_of_flows(flows: Sequence[float]) -> Worked:
    """The flow through an element that feeds several pumps."""
    formula = _sum(symbols.Q, symbols.Q, len(flows), "flow", "what the pumps behind it take in, together")
    return work(formula, *flows)


def sum_of(
    result: Symbol, term: Symbol, values: Sequence[float], name: str, source: str = "sum over the entries"
) -> Worked | None:
    """The sum over the values that count; None where there are too many to write out, or none."""
    counted = [value for value in values if value]
    if not 0 < len(counted) <= MOST_TERMS:
        return None
    return work(_sum(result, term, len(counted), name, source), *counted)
