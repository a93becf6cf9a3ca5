"""How an entry of the ledger comes about."""

from __future__ import annotations

import pytest

from solver.ledger import solve
from solver.ledger.solve import Solution
from solver.quantities.units import System
from solver.working import working
from solver.working.entry import placed_entries
from tests import drawings as parts
from tests.solver.working.lines import (
    CASES,
    PLAIN,
    SOLUTIONS,
    SYSTEMS,
    agree,
    check,
    derived,
    entry_of,
    found_in,
    line,
)


@pytest.mark.parametrize("system", SYSTEMS)
def test_lines_in_parallel_can_be_followed_on_the_walk_and_beside_it(system: System) -> None:
    solution = solve.solve(
        parts.drawing(
            parts.intake("left", (0.5, 0.12)),
            parts.intake("right", (0.9, 0.12)),
            parts.tee("join", (0.9, 1.0)),
            parts.pump(at=(2.0, 1.0), flow=0.003),
            parts.run("long way", "left", "join", via=[(0.5, 1.0)]),
            parts.run("short way", "right", "join"),
            parts.run("lead", "join", "pump"),
        )
    )
    pump_ledger = solution.pumps["pump"]
    assert pump_ledger.parallel_entries
    agree(solution, "pump")
    for section in working.calculation(solution, "pump", system):
        for step in section.steps:
            check(step)
    for entry in pump_ledger.parallel_entries:
        (flow,) = found_in(working.working(solution, "pump", entry.key, System.SI), "Q")
        assert flow.value == pytest.approx(abs(entry.flow))


def test_the_head_of_the_strokes_is_worked_out() -> None:
    section = entry_of(line(**CASES["reciprocating"]), "acceleration head")
    assert derived(section, "h_a", "Δp")


def test_no_step_calls_a_figure_by_its_key_in_the_file() -> None:
    rises = line(pump=PLAIN["pump"] + '\nflow_rise = "0.5 s"')
    section = next(
        each for each in working.calculation(rises, "pump", System.SI) if "flow rise" in each.title
    )
    assert any("rise of the flow of pump, as typed" in step.source for step in section.steps)
    assert not any("flow_rise" in step.source for step in section.steps)


def flowing(rate: str, **parts: str) -> Solution:
    return line(pump=PLAIN["pump"].replace("100 L/min", rate), **parts)


def test_a_transitional_flow_says_that_its_friction_is_uncertain() -> None:
    for rate, said in (("100 L/min", False), ("260 L/min", True), ("600 L/min", False)):
        section = entry_of(flowing(rate), "straight 1")
        assert any("uncertain" in caution for caution in section.cautions) is said, rate


def test_a_rough_narrow_pipe_lies_outside_colebrook() -> None:
    rough = 'bore = "50 mm"\nbend_radius = "90 mm"\nroughness = "{} mm"'
    inside, outside = (
        entry_of(flowing("900 L/min", riser=rough.format(r)), "straight 1") for r in (2.4, 2.6)
    )
    assert inside.cautions == ()
    (said,) = outside.cautions
    where = "it holds for Re from 4000, and ε/D up to 0.05."
    assert said == f"Outside its range: the relative roughness is 0.052; {where}"


def test_a_cloth_outside_the_tests_says_so() -> None:
    cloth = (
        'kind = "strainer"\nbore = "50 mm"\n'
        'screen = {{ mesh = "{} per inch", wire = "{} mm", area = "0.06 m^2" }}'
    )
    fine, coarse = (entry_of(line(mouth=cloth.format(*size)), "screen") for size in ((100, 0.11), (20, 0.4)))
    assert fine.cautions == ()
    assert any("opening" in said and "550 μm" in said for said in coarse.cautions)


def test_a_header_adds_the_flows_it_feeds() -> None:
    solution = SOLUTIONS["header-two-pumps"]
    key = next(e.key for e in solution.pumps["main"].entries if e.part == "header")
    (flow,) = found_in(working.working(solution, "main", key, System.SI), "Q")
    assert flow.worked is not None
    assert len(flow.worked.values) == 2


def test_what_is_lost_on_the_way_to_an_entry_is_all_before_it() -> None:
    solution = line()
    ledger = solution.pumps["pump"]
    in_order = list(placed_entries(solution, ledger))
    assert [place.entry for place in in_order] == list(ledger.entries)
    assert in_order[0].before == 0.0
    assert in_order[-1].before + in_order[-1].entry.loss == pytest.approx(sum(e.loss for e in ledger.entries))
    assert {place.fluid_level for place in in_order} == {ledger.fluid_level}
