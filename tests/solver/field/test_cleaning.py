"""The blocked share at which cleaning is due: every case is within below it, and one is over above it."""

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field.cleaning import cleaning_due
from solver.layout.file import read
from solver.layout.parts import Layout, Level
from solver.ledger.cases import solve_cases
from tests import drawings


@pytest.fixture(scope="module")
def year() -> Layout:
    return read(next(path for path in drawings.SHIPPED if path.stem == "strainer-over-a-year")).base


def least_margin(layout: Layout, screen: str, share: float) -> float:
    """Of every pump in every case [Pa]."""
    cases = solve_cases(inputs.blocked(layout, (screen,), share, Level.MINIMUM), Level.MINIMUM)
    return min(
        ledger.margin for case in cases.values() if case.solution for ledger in case.solution.pumps.values()
    )


def test_the_first_case_is_over_just_past_it(year: Layout) -> None:
    due = cleaning_due(year, "feed")
    assert due.screen == "strainer"
    assert due.blocked is not None
    assert least_margin(year, "strainer", due.blocked - 0.002) > 0.0
    assert least_margin(year, "strainer", due.blocked + 0.002) < 0.0


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
