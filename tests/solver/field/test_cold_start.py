"""A first start is seldom a warm one: what the coldest case says of it stands in the plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.cold_start import colder_case
from solver.field.plan import steps
from solver.field.priming import priming
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity, typeset
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}
SHEAR = LAYOUTS["shear-started-dry"]


def plan(layout: Layout, pump: str = "shear") -> tuple[str, ...]:
    solution = solve(layout)
    return steps(priming(solution, pump, System.SI), judge(layout), solution, System.SI)


def starting_at(temperature: str | None) -> Layout:
    coldest = None if temperature is None else quantity(temperature, Kind.TEMPERATURE)
    return replace(SHEAR, fluid=replace(SHEAR.fluid, coldest_start=coldest))


def test_the_gauge_of_the_coldest_case_stands_beside_that_of_the_warm_one() -> None:
    judgement = judge(SHEAR)
    cold = colder_case(judgement, solve(SHEAR), "shear")
    assert cold is not None
    assert cold.solution is not None
    shown = typeset(cold.solution.pumps["shear"].vacuum, Kind.VACUUM, System.SI)
    assert f'In "coldest start", at 5 °C, it shows {shown} of vacuum: stop there at ' in plan(SHEAR)[-1]


def test_a_line_that_is_over_when_cold_alone_is_not_started_cold() -> None:
    first, second = plan(starting_at("-9 degC"))[:2]
    assert first.startswith('Do not start shear with the fluid as cold as in "coldest start", ')
    assert "over by" in first
    assert second.startswith("Lower or prop the load. Stop the drive, lock it off")
    assert not plan(SHEAR)[0].startswith("Do not start")


def test_a_drawing_without_a_colder_case_says_that_it_knows_nothing_of_a_cold_start() -> None:
    text = plan(starting_at(None))[-1]
    assert "With the fluid colder than 40 °C it shows more vacuum: the drawing has no colder case" in text
    assert "no colder case" not in plan(SHEAR)[-1]


@pytest.mark.parametrize(("temperature", "scalds"), [("45 degC", False), ("60 degC", True)])
def test_a_hot_fluid_is_warned_of_once_the_drive_is_locked(temperature: str, scalds: bool) -> None:
    fluid = replace(SHEAR.fluid, temperature=quantity(temperature, Kind.TEMPERATURE))
    text = plan(replace(SHEAR, fluid=fluid))
    hot = [i for i, each in enumerate(text) if "scalds" in each]
    locked = next(i for i, each in enumerate(text) if "lock it off" in each)
    assert hot == ([locked + 1] if scalds else [])


def test_what_an_isolator_kept_from_the_pump_is_filled_up_before_the_line_is_closed() -> None:
    text = plan(LAYOUTS["over-the-bund-wall"], "transfer")
    (filling,) = (each for each in text if "Prove foot valve" in each)
    opened = filling.index("Open isolator, the drive still locked off")
    assert opened < filling.index("Close the filling place tight")
