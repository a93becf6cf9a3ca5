"""Figures that a reader adds up come out as they are shown, and each is rounded from its own value."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities.adding import MOST, as_shown, in_sum, more_places, places_of_sums, written
from solver.quantities.units import Kind, System, number

INHG = 3386.389
SI = System.SI


def shown(si: float, more: int) -> Decimal:
    return Decimal(number(si, Kind.VACUUM, SI, more))


def test_figures_that_add_up_have_the_usual_decimals() -> None:
    assert more_places(Kind.VACUUM, SI, (19_200.0, -12_300.0, -6_900.0)) == 0


def test_where_they_differ_in_the_last_place_all_have_one_more() -> None:
    allowed, vacuum = 3.31 * INHG, 1.46 * INHG
    sums = (allowed, -vacuum, vacuum - allowed)
    assert [number(abs(each), Kind.VACUUM, System.US) for each in sums] == ["3.3", "1.5", "1.9"]
    assert more_places(Kind.VACUUM, System.US, sums) == 1
    assert [number(abs(each), Kind.VACUUM, System.US, 1) for each in sums] == ["3.31", "1.46", "1.85"]


@given(st.floats(-40_000.0, 60_000.0), st.floats(500.0, 90_000.0))
def test_what_is_left_is_the_difference_of_what_is_shown(vacuum: float, allowed: float) -> None:
    left = allowed - vacuum
    more = more_places(Kind.VACUUM, SI, (allowed, -vacuum, -left))
    assert 0 <= more <= MOST
    if more:  # else they do with the usual ones, or with none that were tried
        assert any(abs(each) < 99_950.0 for each in (vacuum, allowed, left))
        if max(allowed, abs(vacuum), abs(left)) < 9_900.0:  # all with as many decimals
            assert shown(allowed, more) - shown(vacuum, more) == shown(left, more)


def test_what_is_no_sum_and_what_is_not_known_ask_for_nothing() -> None:
    assert more_places(Kind.VACUUM, SI, (3_310.0, -1_460.0, -1_000.0)) == 0
    assert more_places(Kind.HEAD, SI, (math.nan, -3.0, math.nan)) == 0


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
