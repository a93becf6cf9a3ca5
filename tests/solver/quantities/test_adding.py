"""Figures that a reader adds up come out as they are shown, and each is rounded from its own value."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities.adding import (
    PLACES,
    as_shown,
    gained,
    in_sum,
    places_of,
    places_of_sums,
    shown_value,
    written,
)
from solver.quantities.units import Kind, System, number

INHG = 3386.389
SI = System.SI


def test_what_is_gained_is_the_difference_of_what_is_shown() -> None:
    before, after = -5.5849 * INHG, 0.5251 * INHG
    shown = [number(each, Kind.VACUUM, System.US, PLACES) for each in (before, after)]
    assert shown == ["-5.58", "0.53"]
    bought = gained(before, after, Kind.VACUUM, System.US)
    assert number(bought, Kind.VACUUM, System.US, PLACES) == "6.11"
    assert number(after - before, Kind.VACUUM, System.US, PLACES) == "6.11"
    other = gained(0.004 * INHG, 1.0051 * INHG, Kind.VACUUM, System.US)
    assert number(other, Kind.VACUUM, System.US, PLACES) == "1.01" != "1.00"


@given(st.floats(-90_000.0, 60_000.0), st.floats(-90_000.0, 90_000.0))
def test_gains_add_up_as_shown(before: float, after: float) -> None:
    was, now = (as_shown(each, Kind.VACUUM, SI) for each in (before, after))
    assert as_shown(gained(before, after, Kind.VACUUM, SI), Kind.VACUUM, SI) == now - was


@given(st.floats(-90_000.0, 90_000.0))
def test_a_shown_value_is_shown_alike(si: float) -> None:
    for system in System:
        again = shown_value(si, Kind.VACUUM, system)
        assert as_shown(again, Kind.VACUUM, system) == as_shown(si, Kind.VACUUM, system)


def test_what_is_not_known_stays_so() -> None:
    assert math.isnan(gained(math.nan, 3.0, Kind.HEAD, SI))


def test_pressures_and_heads_have_the_decimals_of_a_ledger() -> None:
    assert [places_of(each) for each in (Kind.VACUUM, Kind.ABSOLUTE, Kind.HEAD)] == [PLACES] * 3
    assert places_of(Kind.VELOCITY) is None


@pytest.mark.parametrize(("value", "text"), [(-4.0, "0.00"), (-1_234.0, "−1.23"), (2_500.0, "2.50")])
def test_a_figure_to_be_reckoned_with_is_what_is_shown(value: float, text: str) -> None:
    assert written(as_shown(value, Kind.VACUUM, SI)) == text


def test_sums_of_equally_many_decimals_come_out_to_the_last_of_them() -> None:
    sea, altitude, fluid = 101_325.0, 3_552.0, 97_773.0
    sums = (sea, -altitude, -fluid)
    assert sum(as_shown(each, Kind.VACUUM, SI) for each in sums) == Decimal("0.01")
    assert places_of_sums(Kind.VACUUM, SI, 2, sums) == 3
    assert places_of_sums(Kind.VACUUM, SI, 2, (2_000.0, -1_250.0, -750.0)) == 2
    assert places_of_sums(Kind.VACUUM, SI, 2, (2_000.0, -1_000.0)) == 2  # come to something: no sum


@given(st.lists(st.floats(-50.0, 50.0), min_size=1, max_size=40))
def test_figures_of_a_sum_come_to_it_as_shown_and_stay_near_their_own_values(figures: list[float]) -> None:
    whole = round(sum(figures), 2)
    shown = in_sum(figures, whole)
    if any(figures):
        assert round(sum(shown), 6) == whole
    assert all(one == 0.0 for one, own in zip(shown, figures, strict=True) if own == 0.0)
    assert all(abs(one - own) < 0.0151 for one, own in zip(shown, figures, strict=True))


def test_of_a_sum_the_figure_nearest_to_the_other_one_takes_what_is_left() -> None:
    assert in_sum([1.004, 2.0045, 3.0, 0.0], 7 - 0.99) == [1.0, 2.01, 3.0, 0.0]
    assert in_sum([1.006, 2.0055, 3.0], 6.01) == [1.01, 2.0, 3.0]
    assert in_sum([1.004, 2.004], 9.0) == [1.0, 2.0], "no sum of theirs"
