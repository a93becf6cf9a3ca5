"""How the inlet budget comes about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.parts import FluidChoice
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from solver.working import working
from solver.working.budget import budget_steps
from tests.drawings import stand
from tests.solver.working.lines import (
    CASES,
    SOLUTIONS,
    found_in,
    line,
)


def test_gas_that_is_shut_in_is_worked_out() -> None:
    solution = line(**CASES["sealed"], level="minimum")
    section = working.working(solution, "pump", "budget", System.SI)
    (gauge,) = (step for step in found_in(section, "p_g") if step.worked is not None)
    assert solution.pumps["pump"].surface == pytest.approx(solution.atmosphere + gauge.value)


def test_any_budget_line_can_be_asked_for() -> None:
    solution = SOLUTIONS["carriage-at-altitude"]
    for key in working.lines(solution, "carriage"):
        section = working.working(solution, "carriage", key, System.US)
        assert section.steps
        assert all(step.line == key for step in section.steps)
    assert {"altitude", "weather", "maker's limit", "density correction", "speed correction", "floor",
            "inlet budget", "allowed vacuum"} <= set(working.lines(solution, "carriage"))  # fmt: skip


def test_the_budget_is_what_is_left_of_the_atmosphere_over_the_floor() -> None:
    solution = line()
    ledger = solution.pumps["pump"]
    by_line = {step.line: step for step in budget_steps(solution, ledger, System.SI)}
    assert by_line["inlet budget"].value == pytest.approx(ledger.surface - ledger.floor)
    assert by_line["allowed vacuum"].value == pytest.approx(ledger.atmosphere - ledger.floor)
    assert "altitude" in by_line
    assert "barometer" not in by_line


def test_a_vapour_pressure_that_the_limit_counts_is_named_with_its_source() -> None:
    drawn = stand(port_height=0.6)
    press = replace(drawn.pumps["press"], rated_fluid="Water")
    hot = FluidChoice("Water", Quantity("80 degC", 353.15))
    solution = solve(replace(drawn, fluid=hot, pumps={"press": press}))
    section = working.working(solution, "press", "budget", System.SI)
    (given,) = found_in(section, "p_v,rated")
    assert "as warm as pumps are tested" in given.source
