"""How thick a fluid may be: two grades, and as cold as its line may have been; beyond that seldom."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field import thickness
from solver.field.causes import CauseKind, causes
from solver.field.states import IN_LINE, IN_TANK, JUST_STARTED, NOT_NOTED
from solver.ledger.solve import solve
from solver.properties import fluid
from tests.solver.field.carriage_bench import COLD, DRAWN, READINGS

WARM = replace(READINGS[0], layout=DRAWN, temperature=IN_TANK)


def times_as_thick(cold: float) -> float:
    drawn = DRAWN.fluid
    return fluid.state(drawn, cold).viscosity / fluid.state(drawn).viscosity


def test_a_warm_line_whose_temperature_was_noted_allows_two_grades_and_little_cold() -> None:
    most = thickness.thickest((WARM,))
    assert most == pytest.approx(1.5**2 * times_as_thick(DRAWN.fluid.temperature.si - 5.0))
    assert 2.25 < most < 3.0
    assert thickness.thickest((replace(WARM, temperature=IN_LINE),)) < most


@pytest.mark.parametrize("temperature", [JUST_STARTED, NOT_NOTED])
def test_a_line_of_which_little_is_known_may_be_as_cold_as_its_site(temperature: float) -> None:
    cold = replace(WARM, temperature=temperature, coldest=263.15)
    assert thickness.thickest((cold,)) == pytest.approx(2.25 * times_as_thick(263.15))
    assert thickness.thickest((replace(cold, coldest=None),)) == pytest.approx(
        2.25 * times_as_thick(thickness.AMBIENT)
    )


def test_the_warmest_state_decides_and_a_line_at_rest_says_nothing() -> None:
    unknown = replace(WARM, layout=COLD, temperature=NOT_NOTED)
    assert thickness.thickest((unknown, WARM)) == thickness.thickest((WARM,))
    assert thickness.thickest((replace(WARM, resting=True),)) == float("inf")


def test_five_to_seven_times_as_thick_is_seldom_met_on_a_warm_day() -> None:
    listed = causes(DRAWN, solve(DRAWN).pumps["carriage"], (WARM,))
    thick = next(each for each in listed if each.kind is CauseKind.FLUID)
    odds = dict(zip(thick.sizes, thick.odds_of, strict=True))
    assert all(share == 1.0 for size, share in odds.items() if size < 2.25)
    assert all(share < 0.35 for size, share in odds.items() if size > 5.0)
    assert list(odds.values()) == sorted(odds.values(), reverse=True)


def test_a_fluid_whose_figures_do_not_reach_so_far_is_taken_to_double_every_ten_kelvin() -> None:
    short = replace(DRAWN, fluid=replace(DRAWN.fluid, pour_point=DRAWN.fluid.temperature))
    assert thickness.thickest((replace(WARM, layout=short),)) == pytest.approx(2.25 * 2**0.5)
