"""A changed drawing in every case: the one that leaves a pump least decides."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes.judging import NotJudgedError, judge
from solver.layout.parts import Level
from solver.ledger.cases import solve_cases
from tests.drawings import RISER
from tests.solver.fixes.examples import judged, riser

CASES = """
[cases.cold]
fluid.temperature = "0 degC"

[cases.warm]
fluid.temperature = "60 degC"

[cases.rest]
pumps.carriage.at_rest = true
"""
COLD = riser(RISER.replace("format = 1", "format = 2") + CASES)


def test_the_case_with_the_least_margin_decides_and_one_at_rest_is_none() -> None:
    margins = {
        name: case.solution.pumps["carriage"].margin
        for name, case in solve_cases(COLD).items()
        if case.solution is not None and case.solution.pumps
    }
    judgement = judged(COLD)
    assert judgement.case == "cold"
    assert judgement.margin == pytest.approx(min(margins.values()))
    assert set(judgement.cases) == set(margins) == {"as drawn", "cold", "warm"}


def test_a_case_that_was_judged_must_still_be() -> None:
    with pytest.raises(NotJudgedError, match=r"carriage is not judged in .*rest"):
        judge(COLD, "carriage", Level.MINIMUM, ("cold", "rest"))
    assert judge(COLD, "carriage", Level.MINIMUM, ("cold",)).case == "cold"


def test_a_pump_that_runs_in_no_case_is_not_judged() -> None:
    layout = riser()
    rests = replace(layout, pumps={"carriage": replace(layout.pumps["carriage"], at_rest=True)})
    with pytest.raises(NotJudgedError, match="any case"):
        judge(rests, "carriage", Level.MINIMUM)


def test_what_is_to_spare_is_the_margin_over_the_criterion_for_a_thin_one() -> None:
    """A fifth of the budget unless the drawing says otherwise, and never less than 1.7 kPa."""
    judgement = judged(riser())
    assert judgement.ledger.budget > 8.5e3
    assert judgement.spare == pytest.approx(judgement.margin - 0.2 * judgement.ledger.budget)
    small = judged(riser(RISER.replace("7 inHg", "1 inHg")))
    assert small.spare == pytest.approx(small.margin - 1700.0)


def test_the_findings_are_those_of_the_case_that_decides() -> None:
    assert {finding.part for finding in judged(COLD).findings} & {"carriage", "strainer", "riser", ""}
    assert judged(COLD).solution.fluid.temperature == pytest.approx(273.15)
