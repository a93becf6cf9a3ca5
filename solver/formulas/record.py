"""What a calculation is done with: a calculator that keeps nothing, or one that records every step.

A function that computes a figure takes a calculator. Called again with a recorder it leaves the steps behind
that led to its figure, so that a working is printed from the choices of the calculation itself.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from solver.formulas.formula import Floats, Relation, Symbol
from solver.formulas.worked import Worked, work


class Record(NamedTuple):
    """One step: a figure that is given (`worked` is None), or a formula with the numbers put in."""

    symbol: Symbol
    value: float  # SI, or in the symbol's own unit where it names one
    name: str
    source: str
    worked: Worked | None = None


class Calculator:
    """Computes and keeps nothing."""

    __slots__ = ()
    records = False
    """Whether the steps are kept."""

    def given(self, symbol: Symbol, value: float, source: str = "", name: str = "") -> float:
        """A figure as typed, drawn or read from a table; returns its value."""
        return value

    def work(self, relation: Relation, *values: float, name: str = "", symbol: Symbol | None = None) -> float:
        """A relation at values in the order of its symbols. `symbol` replaces that of its result."""
        return relation.scalar(*values)

    def array(self, relation: Relation, *values: Floats | float) -> Floats:
        """A relation at arrays, element by element."""
        return relation.array(*values)

    def keep(
        self,
        relation: Relation,
        values: tuple[Floats | float, ...],
        result: Floats,
        *,
        name: str = "",
        symbol: Symbol | None = None,
    ) -> Floats:
        """The result of a relation that is computed already; returns it."""
        return result

    def only(self, condition: Callable[[], object]) -> Calculator:
        """The calculator for a step that is worth recording where the condition holds."""
        return self


UNRECORDED = Calculator()


class Recorder(Calculator):
    """Computes one case and keeps every step in `steps`. Arrays hold a single element."""

    __slots__ = ("steps",)
    records = True

    def __init__(self) -> None:
        self.steps: list[Record] = []

    def given(self, symbol: Symbol, value: float, source: str = "", name: str = "") -> float:
        """Keep a figure that is given."""
        self.steps.append(Record(symbol, value, name or symbol.meaning, source))
        return value

    def work(self, relation: Relation, *values: float, name: str = "", symbol: Symbol | None = None) -> float:
        """Compute a relation and keep it."""
        return self.add(work(relation, *values), name, symbol)

    def add(self, worked: Worked, name: str = "", symbol: Symbol | None = None) -> float:
        """Keep a relation that is worked out already; returns its value."""
        relation = worked.relation
        record = Record(
            symbol or relation.result, worked.value, name or relation.name, relation.source, worked
        )
        self.steps.append(record)
        return worked.value

    def array(self, relation: Relation, *values: Floats | float) -> Floats:
        """Compute a relation at the one element of each array and keep it."""
        return np.array([self.work(relation, *map(_single, values))])

    def keep(
        self,
        relation: Relation,
        values: tuple[Floats | float, ...],
        result: Floats,
        *,
        name: str = "",
        symbol: Symbol | None = None,
    ) -> Floats:
        """Keep a relation with a result that is computed already."""
        self.add(Worked(relation, tuple(map(_single, values)), _single(result)), name, symbol)
        return result

    def only(self, condition: Callable[[], object]) -> Calculator:
        """Itself where the condition holds, else a calculator that records nothing."""
        return self if condition() else UNRECORDED


def _single(value: Floats | float) -> float:
    return float(np.asarray(value).reshape(-1)[0])
