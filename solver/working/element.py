"""How the coefficients of an element come about: its row computes them once more, and records the steps."""

from __future__ import annotations

import math

from solver.formulas import symbols
from solver.formulas.formula import Symbol
from solver.formulas.record import Recorder
from solver.network.build import Row

SAME = 1e-9
"""Figures this near, as a share of themselves, are one."""


class WorkingError(Exception):
    """The steps of a working do not arrive at the figure that the calculation used."""


def record_coefficients(row: Row, flow: float, recorder: Recorder) -> None:
    """Record the steps to the coefficients of a row, for flow [m³/s] that runs against it where below zero.

    Raises WorkingError where they do not arrive at what the row was solved with.
    """
    back = flow < 0
    recipe = row.recipe_back if back and row.recipe_back is not None else row.recipe
    if recipe is not None:
        recipe(recorder)
    reached = {step.symbol: step.value for step in recorder.steps}
    for symbol, value in _used(row, back).items():
        if value and not math.isclose(reached.get(symbol, math.nan), value, rel_tol=SAME):
            raise WorkingError(f"{row.key}: {symbol.meaning} is {value}, its steps say {reached.get(symbol)}")


def _used(row: Row, back: bool) -> dict[Symbol, float]:
    """What the row was solved with, of the way the fluid goes."""
    ways = ((row.k_inf, row.k_inf_back), (row.k_re, row.k_re_back), (row.k_slow, row.k_slow_back))
    k_inf, k_re, k_slow = (other if back and other is not None else own for own, other in ways)
    return {
        symbols.k_inf: k_inf or 0.0,
        symbols.k_re: k_re or 0.0,
        symbols.k_slow: 0.0 if k_slow is None or k_slow == k_inf else k_slow,
        symbols.viscous: row.viscous,
        symbols.inertial: row.inertial,
    }
