"""What binds an answer."""

from dataclasses import replace

import pytest

from solver.answers import reasons
from solver.answers.reasons import Reason
from solver.ledger.solve import solve
from tests.solver.checking import lifted


def boiling(solution, vapor_pressure):
    ledger = replace(solution.pumps["pump"], vapor_pressure=vapor_pressure)
    return replace(solution, pumps={"pump": ledger})


def test_the_lesser_of_margin_and_what_keeps_the_column_whole_is_left():
    solution = solve(lifted())
    ledger = solution.pumps["pump"]
    assert reasons.to_spare(solution, "pump") == ledger.margin
    assert reasons.reason_of(solution, "pump") == Reason.FLOOR
    hot = boiling(solution, ledger.lowest - 100.0)
    assert reasons.to_spare(hot, "pump") == pytest.approx(100.0)
    assert reasons.reason_of(hot, "pump") == Reason.VAPOR_PRESSURE


def test_the_case_with_least_left_decides():
    solution = solve(lifted())
    hot = boiling(solution, solution.pumps["pump"].lowest - 100.0)
    assert reasons.decisive({"as drawn": solution, "hot": hot}, "pump") == "hot"
    assert reasons.least_to_spare({"as drawn": solution, "hot": hot}, "pump") == pytest.approx(100.0)


def test_a_search_that_found_no_room_for_a_bend_says_so():
    assert reasons.refused_for(ValueError("riser: bend 1 needs 0.3 m")) == Reason.BEND_ROOM
    assert reasons.refused_for(ValueError("figures hold to 100 °C")) == Reason.SEARCH
    assert reasons.refused_for(None) == Reason.SEARCH


def test_a_vortex_is_looked_for_only_where_the_end_has_one():
    layout = lifted()

    assert reasons.vortex_begins(lambda x: {"as drawn": solve(layout)}, 0.4, 0.2, 1e-3) is None


def test_the_fastest_pipe_of_the_worst_case_is_held_against_the_velocity_stop():
    solution = solve(lifted())
    fastest = max(entry.velocity for entry in solution.pumps["pump"].entries)
    excess = reasons.excess_velocity({"as drawn": solution}, "pump")
    assert excess == (pytest.approx(fastest / 1.5 - 1.0), "riser", 1.5)
    both = {"as drawn": solution, "fast": solve(lifted(flow=0.004))}
    assert reasons.excess_velocity(both, "pump").share == pytest.approx(2 * fastest / 1.5 - 1.0)
