"""What a tee takes of laminar flow that splits: its limits, and where it meets the turbulent coefficient."""

from __future__ import annotations

import math

import pytest

from solver.formulas import flow, tees


def test_of_a_whole_flow_reynolds_number_and_turbulence_are_those_of_any_flow() -> None:
    speed = 0.002 / (math.pi / 4 * 0.05**2)
    reynolds = tees.whole_reynolds(0.002, 0.05, 2e-5)
    assert reynolds == pytest.approx(flow.reynolds(speed, 0.05, 2e-5))
    for of_whole in (100.0, 2000.0, 3000.0, 4000.0, 1e5):
        place = tees.whole_transition(of_whole)
        assert tees.whole_turbulence(place) == flow.turbulence(flow.transition(of_whole))


@pytest.mark.parametrize(("share", "least"), [(0.0, 2.0), (0.5, 1.5), (1.0, 0.0)])
def test_a_leg_gets_nothing_back_of_the_velocity_head_that_its_flow_loses(share: float, least: float) -> None:
    assert tees.tee_nothing_back(share) == pytest.approx(least)


def test_in_turbulent_flow_the_published_coefficient_stands_and_in_laminar_flow_the_larger() -> None:
    for published in (-0.06, 0.5, 1.7):
        assert tees.tee_slow(1.0, published, 1.5) == published
        assert tees.tee_slow(0.0, published, 1.5) == max(published, 1.5)
        assert tees.tee_slow(0.4, published, 1.5) == pytest.approx(
            0.4 * published + 0.6 * max(published, 1.5)
        )
        assert tees.tee_slow_against(0.4, published, 1.5) == -tees.tee_slow(0.4, published, 1.5)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.6, 0.601, 1.0])
def test_idelchiks_factor_of_laminar_flow_rises_to_six_tenths_and_falls_from_there(share: float) -> None:
    """From memory, equal to a public program's that quotes Idelchik's pages."""
    factor = 1.9 + share if share <= 0.6 else 2.5 - (share - 0.6) / 2
    assert tees.laminar_factor(share) == pytest.approx(factor)


def test_laminar_flow_takes_idelchiks_coefficient_less_what_darbys_term_takes_besides() -> None:
    assert tees.laminar_splits(2.0, 1500.0, 0.5) == pytest.approx(2 * 1.25 + 0.1 - 800 * 0.5 / 1500)
    assert tees.laminar_joins(0.4, 1500.0, 0.5) == pytest.approx(2 * 0.4 + 0.1 - 800 * 0.5 / 1500)
    assert tees.laminar_splits(2.0, 10.0, 1.0) < 0.0, "in creeping flow Darby's term is the larger"
    assert tees.laminar_alone(0.3) == 0.3
    assert tees.laminar_at_least(0.3, -1.0) == 0.3


def test_a_tee_takes_what_its_table_gives_at_least() -> None:
    assert tees.run_at_least(0.02, 0.5) == pytest.approx(0.1)
    assert tees.turn_at_least(0.02, 0.5) == pytest.approx(0.3)
    assert tees.tee_at_least(-0.1, 0.1) == 0.1
    assert tees.tee_at_least_against(0.4, 0.1) == -0.4
