"""How the coefficients of an element come about."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from solver.formulas.record import Recorder
from solver.quantities.units import System
from solver.working import working
from solver.working.element import WorkingError, record_coefficients
from tests.solver.working.lines import (
    CASES,
    SOLUTIONS,
    derived,
    entry_of,
    line,
)
from tests.thorough import one_in


@pytest.mark.parametrize("name", SOLUTIONS)
def test_coefficients_are_derived_wherever_a_formula_gives_them(name: str) -> None:
    solution = SOLUTIONS[name]
    for pump, ledger in solution.pumps.items():
        for entry in ledger.entries:
            section = working.working(solution, pump, entry.key, System.SI)
            if entry.kind in ("bend", "valve", "tee", "bore change"):
                assert derived(section, "K_∞"), entry.key
            if entry.kind == "screen":
                assert derived(section, "c_v"), entry.key


@pytest.mark.parametrize(
    ("case", "element", "symbols"),
    one_in(
        3,
        [
            ("Kv", "flow coefficient", ("c_v", "c_i")),
            ("Cv", "flow coefficient", ("K_v", "c_v", "c_i")),
            ("known drop", "known drop", ("μ_p", "c_μ", "Δp_0")),
            ("known drop at a flow", "known drop", ("c_μ", "c_Q", "Δp_0")),
            ("known head", "known drop", ("Δp_p", "c_μ", "Δp_0")),
            ("one point", "screen", ("c_v",)),
            ("one point, turbulent", "screen", ("c_v", "c_i")),
            ("points that bend the other way", "screen", ("c_v",)),
            ("bypass open", "screen", ("c_v", "c_i", "Δp_e", "B_b", "Δp")),
            ("narrow", "bore change at part", ("β", "λ", "K_∞", "K_1")),
            ("mitre", "bend 1", ("K_∞",)),
            ("butterfly", "butterfly valve", ("K_∞",)),
            ("foot valve", "foot valve", ("f_T", "K_∞")),
            ("poppet", "poppet foot valve", ("f_T", "K_∞")),
            ("connector", "flexible connector", ("K_∞", "K_1")),
            ("long connector", "flexible connector", ("K_∞", "K_1")),
            ("reducer", "concentric reducer", ("β", "K_∞", "K_1")),
            ("widening", "concentric reducer", ("β", "K_∞")),
            ("long reducer", "eccentric reducer", ("K_1",)),
            ("part-open", "ball valve", ("c_v", "c_i")),
            ("maker's curve", "maker's curve", ("c_v", "c_i")),
            ("foot valve for an intake", "entrance", ("f_T", "K_∞")),
            ("three welds", "bend 1", ("K_∞",)),
        ],
        several=True,
    ),
)
def test_the_coefficients_of_every_kind_are_derived(
    case: str, element: str, symbols: tuple[str, ...]
) -> None:
    assert derived(entry_of(line(**CASES[case]), element), *symbols)


def test_steps_that_arrive_elsewhere_are_refused() -> None:
    row = next(row for row in line().network.rows if row.recipe is not None and row.k_inf)
    record_coefficients(row, 0.001, Recorder())
    with pytest.raises(WorkingError, match=re.escape(row.key)):
        record_coefficients(replace(row, k_inf=row.k_inf * 1.001), 0.001, Recorder())
