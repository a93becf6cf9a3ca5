"""What it takes to set a column of fluid in motion, by hand."""

from __future__ import annotations

import math

import pytest

from solver.formulas import starting


def test_a_slug_is_set_in_motion_by_its_mass_times_its_acceleration() -> None:
    """Newton's second law by hand: p = m a / A, of 3 m of oil in a bore of 50 mm."""
    length, bore, density, rise = 3.0, 0.05, 870.0, 0.004
    area = math.pi * bore**2 / 4
    mass, acceleration = density * area * length, rise / area
    row = starting.row_rise.scalar(length, bore, rise)
    assert starting.loss.scalar(density, row) == pytest.approx(mass * acceleration / area)


def test_the_flow_rises_by_all_of_it_in_its_time() -> None:
    assert starting.steepest_rise.scalar(0.002, 0.5) == 0.004
    assert starting.row_rise.scalar(0.0, 0.05, 0.004) == 0.0


def test_the_shortest_rise_is_ten_lengths_at_a_thousand_metres_a_second() -> None:
    assert starting.shortest.scalar(5.0) == pytest.approx(0.05)
