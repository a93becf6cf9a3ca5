"""Shares and the floor on every way to a pump: the walk, and the lines in parallel with it."""

from __future__ import annotations

import pytest

from sketch.drawing import ways
from sketch.drawing.ways import crossings
from solver.ledger.solve import Solution, solve
from tests import drawings
from tests.sketch import samples


def test_the_floor_is_crossed_where_the_budget_is_used_up() -> None:
    entries = samples.ledger({"a/1": 0.5, "b/1": 1.0, "c/1": 0.2}).entries
    crossed = crossings(entries, samples.BUDGET)
    assert crossed == {"b/1": pytest.approx(0.5), "c/1": 0.0}


def test_a_budget_spent_to_the_last_is_not_overspent() -> None:
    assert not crossings(samples.ledger({"a/1": 0.7, "b/1": 0.3}).entries, samples.BUDGET)


def test_a_credit_anywhere_puts_the_crossing_further_on() -> None:
    entries = samples.ledger({"a/1": 1.2, "b/1": -0.4}).entries
    assert not crossings(entries, samples.BUDGET)


def test_every_row_that_feeds_the_pump_has_its_own_share() -> None:
    solution = solve(drawings.twins())
    shares = ways.shares(solution, "press")
    budget = solution.pumps["press"].budget
    for part in ("left", "left riser", "right", "right riser", "header", "lead"):
        rows = [row for row in solution.network.rows if row.part == part]
        assert rows
        assert {row.key for row in rows} <= shares.keys()
    loss = float(solution.drops[solution.network.index["left riser/straight 2"]])
    assert shares["left riser/straight 2"] == pytest.approx(loss / budget)
    assert not any(key.startswith("pilot leg") for key in shares)


def test_both_ways_to_a_node_take_the_same() -> None:
    solution = solve(drawings.twins())
    shares = ways.shares(solution, "press")
    left = sum(shares[key] for key in shares if key.split("/")[0] in ("left", "left riser"))
    right = sum(shares[key] for key in shares if key.split("/")[0] in ("right", "right riser"))
    assert left + shares["join/run 1"] == pytest.approx(right + shares["join/branch"], rel=1e-6)


@pytest.mark.parametrize(
    "solution", [solve(drawings.twins("14 kPa", "300 L/min")), solve(drawings.ring("22 kPa"))]
)
def test_the_floor_is_reached_once_on_every_way(solution: Solution) -> None:
    """Before the crossing the budget is not used up, after it it is, whichever way the fluid comes."""
    pump = next(iter(solution.pumps))
    ledger = solution.pumps[pump]
    assert ledger.margin < 0
    crossed = ways.beyond(solution, pump)
    partly = [key for key, at in crossed.items() if 0.0 < at < 1.0]
    beside = {entry.key for entry in ledger.parallel_entries}
    assert len([key for key in partly if key not in beside]) == 1
    assert len([key for key in partly if key in beside]) == 1


def test_the_floor_lies_at_the_same_pressure_on_both_ways() -> None:
    solution = solve(drawings.twins("14 kPa", "300 L/min"))
    ledger, network = solution.pumps["press"], solution.network
    crossed = ways.beyond(solution, "press")
    for parts in (("left", "left riser", "join"), ("right", "right riser", "join")):
        spent = 0.0
        for entry in (*ledger.entries, *ledger.parallel_entries):
            if entry.part in parts and entry.key not in ("join/branch", "join/run 2"):
                taken = entry.lift + entry.loss
                spent += taken * crossed.get(entry.key, 1.0)
        assert spent == pytest.approx(ledger.budget, rel=1e-9), parts
    assert set(network.index) >= crossed.keys() - {"press/port"}


def test_within_the_budget_nothing_is_past_the_floor() -> None:
    assert ways.beyond(solve(drawings.twins()), "press") == {}
    assert ways.beyond(None, "press") == {}
    assert ways.beyond(solve(drawings.twins()), "nobody") == {}
