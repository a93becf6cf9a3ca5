"""How the figures of the fluid come about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.quantities.units import System
from solver.working import working
from solver.working.fluid import fluid_steps
from tests.solver.working.lines import (
    CASES,
    derived,
    line,
)


@pytest.mark.parametrize(
    ("case", "symbols"),
    [
        ("typed fluid", ("A_ν", "B_ν")),
        ("typed tables", ("ρ", "p_v")),
        ("index over 100", ("N_VI", "VI")),
        ("index elsewhere", ("VI", "A_ν")),
        ("family's density", ("ρ",)),
        ("heavy fluid", ("p_v",)),
        ("water", ("ρ", "p_v")),
    ],
)
def test_the_properties_of_every_fluid_are_derived(case: str, symbols: tuple[str, ...]) -> None:
    assert derived(working.working(line(**CASES[case]), "pump", "fluid", System.SI), *symbols)


def test_the_temperature_is_begun_with_as_it_is_read() -> None:
    """45 °C is 113 °F, and 318.15 K."""
    state = line().fluid
    for system, degrees in ((System.US, 113.0), (System.SI, 45.0)):
        first, second, *_ = fluid_steps(state, state, system)
        assert first.value == pytest.approx(degrees)
        assert second.value == pytest.approx(318.15)


def test_a_line_that_is_not_as_warm_has_steps_of_its_own() -> None:
    tank, line_state = line().fluid, replace(line().fluid, temperature=278.15)
    steps = fluid_steps(tank, line_state, System.SI)
    assert [step.source for step in steps if step.name == "temperature"] == [
        "in the tank, as typed",
        "in the line, as typed",
    ]
    assert [step.value for step in steps if step.name == "absolute temperature"] == [318.15, 278.15]
