"""Cases that are offered ready made: each is one that a drawing takes, and asks for what it does not hold."""

from __future__ import annotations

import pytest

from solver.layout import file
from solver.layout.parts import Layout
from solver.layout.proposals import Proposal, proposals
from solver.ledger.cases import solve_cases
from solver.quantities.units import Kind
from tests import drawings

TYPED = {Kind.TEMPERATURE: "5 degC", Kind.PRESSURE: "960 mbar", Kind.TIME: "0.5 s"}


def _taken(layout: Layout, proposal: Proposal) -> Layout:
    table = proposal.with_answers({asked: TYPED[asked.kind] for asked in proposal.asks})
    raw = file.to_raw(layout)
    raw["cases"] = {**raw.get("cases", {}), proposal.name: table}
    return file.from_raw({**raw, "format": 2})


def _of(layout: Layout, name: str) -> Proposal:
    return next(each for each in proposals(layout) if each.name == name)


@pytest.mark.parametrize("path", drawings.SHIPPED, ids=lambda path: path.stem)
def test_every_proposal_reads_and_is_one_no_more_once_taken(path: object) -> None:
    layout = file.read(str(path)).base
    for proposal in proposals(layout):
        taken = _taken(layout, proposal)
        assert taken.cases[proposal.name].problems == (), proposal.name
        assert proposal.name not in [each.name for each in proposals(taken)]
        assert proposal.name in solve_cases(taken)


def test_each_pump_alone_rests_the_others() -> None:
    layout = drawings.twins()
    alone = [each for each in proposals(layout) if each.name.endswith(" alone")]
    assert len(alone) == len(layout.pumps) > 1
    for each in alone:
        solved = solve_cases(_taken(layout, each))[each.name]
        assert solved.solution is not None
        (running,) = solved.solution.pumps
        assert each.name == f"{running} alone"


def test_one_pump_is_never_offered_alone() -> None:
    layout = file.parse(drawings.RISER).base
    assert not [each for each in proposals(layout) if each.name.endswith(" alone")]


def test_cylinders_out_needs_a_tank_that_is_drawn_down() -> None:
    assert "cylinders out" not in [each.name for each in proposals(file.parse(drawings.RISER).base)]
    assert "cylinders out" in [each.name for each in proposals(file.parse(drawings.ARRANGEMENTS).base)]


def test_a_blocked_share_that_nobody_stated_is_marked_as_assumed() -> None:
    layout = file.parse(drawings.RISER).base
    assert any(part.screen for part in layout.intakes.values())
    assert "Assumed: 50 %" in _of(layout, "strainer due").table["note"]


def test_the_low_pressure_day_takes_the_place_of_the_allowance_for_weather() -> None:
    layout = file.parse(drawings.RISER).base
    proposal = _of(layout, "low-pressure day")
    assert [asked.kind for asked in proposal.asks] == [Kind.PRESSURE]
    solved = solve_cases(_taken(layout, proposal))["low-pressure day"]
    assert solved.solution is not None
    assert solved.solution.atmosphere == pytest.approx(96_000)


def test_what_the_drawing_does_not_hold_is_asked_for() -> None:
    layout = file.parse(drawings.RISER).base
    assert [asked.what for asked in _of(layout, "hottest hour").asks] == ["The hottest the fluid gets"]
    (asked,) = _of(layout, "coming on stroke").asks
    assert asked.kind is Kind.TIME
    assert asked.paths == (("pumps", next(iter(layout.pumps)), "flow_rise"),)
