"""The blocked share at which cleaning is due: every case is within below it, and one is over above it."""

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field.cleaning import cleaning_due
from solver.layout.file import read
from solver.layout.parts import Layout, Level
from solver.ledger.cases import solve_cases
from solver.quantities.units import Kind, quantity
from tests import drawings


@pytest.fixture(scope="module")
def year() -> Layout:
    return read(next(path for path in drawings.SHIPPED if path.stem == "strainer-over-a-year")).base


def least_margin(layout: Layout, screen: str, share: float) -> float:
    """Of every pump in every case on a low-pressure day [Pa]."""
    low = replace(layout, site=replace(layout.site, weather_allowance=quantity("25 mbar", Kind.PRESSURE)))
    cases = solve_cases(inputs.blocked(low, (screen,), share, Level.MINIMUM), Level.MINIMUM)
    return min(
        ledger.margin for case in cases.values() if case.solution for ledger in case.solution.pumps.values()
    )


def test_the_first_case_is_over_just_past_it(year: Layout) -> None:
    due = cleaning_due(year, "feed")
    assert due.screen == "strainer"
    assert due.blocked is not None
    assert least_margin(year, "strainer", due.blocked - 0.002) > 0.0
    assert least_margin(year, "strainer", due.blocked + 0.002) < 0.0
    assert due.over_first == 'feed in "cold morning"'
    warm = cleaning_due(replace(year, cases={}), "feed")
    assert warm.over_first == "feed as drawn"
    assert warm.blocked is not None
    assert warm.blocked > due.blocked


def test_a_low_pressure_day_counts_whether_the_drawing_allows_for_one_or_not(year: Layout) -> None:
    shares = []
    for allowance in (None, "10 mbar", "25 mbar", "40 mbar"):
        weather = None if allowance is None else quantity(allowance, Kind.PRESSURE)
        layout = replace(year, site=replace(year.site, weather_allowance=weather))
        shares.append(cleaning_due(layout, "feed").blocked)
    assert shares[0] == shares[1] == shares[2]
    assert shares[3] is not None
    assert shares[2] is not None
    assert shares[3] < shares[2]


def test_it_does_not_hang_on_how_far_the_file_has_it_blocked(year: Layout) -> None:
    dirty = inputs.blocked(year, ("strainer",), 0.86, Level.MINIMUM)
    assert cleaning_due(dirty, "feed").blocked == pytest.approx(cleaning_due(year, "feed").blocked, abs=1e-4)


def test_a_limit_that_is_passed_when_clean_leaves_no_share(year: Layout) -> None:
    high = replace(year.pumps["feed"], at=(year.pumps["feed"].at[0], drawings.metres(9.0)))
    run = year.runs["lead"]
    via = tuple((x, drawings.metres(9.0)) for x, _ in run.via)
    moved = replace(year, pumps={"feed": high}, runs={**year.runs, "lead": replace(run, via=via)})
    due = cleaning_due(moved, "feed")
    assert due.blocked is None
    assert due.why_none
