"""Lines that may still be as cold as drawn where the fluid in their tank is warmed."""

from __future__ import annotations

from dataclasses import replace

from solver.layout.cases import cases_of
from solver.layout.parts import Case, Layout
from solver.quantities.units import Quantity

TEMPERATURE, LINE_TEMPERATURE = ("fluid", "temperature"), ("fluid", "line_temperature")

NOTICED = 0.5
"""Kelvin by which a tank has to be warmer to count as warmed; ours."""


def with_cold_lines(before: Layout, after: Layout) -> Layout:
    """A drawing that knows in which cases its line may still be as cold as in another, from which it is made.

    Those are the cases of both in which its tank is warmer, and no temperature of the line is typed.
    """
    same = after.fluid is before.fluid and after.cases is before.cases
    cold = {} if same and not before.lines_left_cold else _cold_lines(before, after)
    return after if cold == after.lines_left_cold else replace(after, lines_left_cold=cold)


def _cold_lines(before: Layout, after: Layout) -> dict[str, Quantity]:
    known, cold = cases_of(before), {}
    for name, case in cases_of(after).items():
        if name not in known or _typed(after, case, LINE_TEMPERATURE) is not None:
            continue
        drawn = _typed(before, known[name], LINE_TEMPERATURE) or _tank(before, known[name])
        least = min((drawn, before.lines_left_cold.get(name, drawn)), key=lambda each: each.si)
        if _tank(after, case).si > least.si + NOTICED:
            cold[name] = least
    return cold


def _typed(layout: Layout, case: Case, path: tuple[str, str]) -> Quantity | None:
    """The figure of a fluid in a case."""
    figure = case.figures.get(path, getattr(layout.fluid, path[1]))
    return figure if isinstance(figure, Quantity) else None


def _tank(layout: Layout, case: Case) -> Quantity:
    return _typed(layout, case, TEMPERATURE) or layout.fluid.temperature
