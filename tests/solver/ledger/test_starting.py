"""What a pump that starts, or comes on stroke, takes of each row."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from solver.layout.cases import AS_DRAWN
from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import solve
from solver.ledger.starting import rises
from solver.network import build
from solver.quantities.units import Quantity
from tests.drawings import RISER, ring_text
from tests.solver.ledger.in_cases import layout_with, solved

STARTS = '[cases.start]\npumps.main.flow_rise = "0.5 s"\n'


def test_what_a_start_takes_is_that_of_each_row_with_the_flow_that_rises_in_it() -> None:
    """The pilot's own lead is not set in motion by the main pump, the header that both share is."""
    cases_solved = solved(STARTS)
    before, after = cases_solved[AS_DRAWN].solution, cases_solved["start"].solution
    assert before is not None
    assert after is not None
    network, ledgers = after.network, after.pumps
    rise = ledgers["main"].flow / 0.5
    on_way = {name: [e for e in ledgers[name].entries if e.key in network.index] for name in ledgers}
    for name in ("main", "pilot"):
        shared = [
            e for e in on_way[name] if e in on_way["main"] or e.part in {x.part for x in on_way["main"]}
        ]
        shared = [e for e in shared if name == "main" or e.flow > ledgers["pilot"].flow * 1.001]
        taken = sum(
            after.fluid.density * _length(network, e.key) / (math.pi / 4 * e.bore**2) * rise for e in shared
        )
        entry = next(e for e in ledgers[name].entries if e.kind == HeadEntryKind.FLOW_RISE)
        assert entry.loss == pytest.approx(taken, rel=1e-9)
        assert ledgers[name].spent == pytest.approx(before.pumps[name].spent + entry.loss, rel=1e-12)
        assert sum(e.lift + e.loss for e in ledgers[name].entries) == pytest.approx(ledgers[name].spent)
    assert ledgers["main"].lowest <= before.pumps["main"].lowest


def _length(network: build.Network, key: str) -> float:
    row = network.rows[network.index[key]]
    return row.length or row.arc or sum(map(math.dist, row.path, row.path[1:]))


def test_the_longer_the_rise_the_less_it_takes() -> None:
    text = "".join(f'[cases."{t}"]\npumps.carriage.flow_rise = "{t} s"\n' for t in (0.1, 0.5, 5, 3600))
    cases_solved = solved(text, RISER)
    margins = [each.solution.pumps["carriage"].margin for each in cases_solved.values() if each.solution]
    assert sorted(margins[1:]) == margins[1:]
    assert margins[-1] == pytest.approx(margins[0], abs=1.0)


def test_a_ring_shares_the_rise_as_it_shares_the_flow() -> None:
    layout = layout_with("", ring_text())
    pumps = {name: replace(pump, flow_rise=_seconds(1.0)) for name, pump in layout.pumps.items()}
    solution = solve(replace(layout, pumps=pumps))
    forward = [flow >= 0 for flow in solution.flows]
    row_rises = rises(solution.network, solution.flows, forward)
    assert row_rises == pytest.approx(abs(solution.flows), rel=1e-6), "all pumps rise in one second"


def _seconds(si: float) -> Quantity:
    return Quantity(f"{si!r} s", si)
