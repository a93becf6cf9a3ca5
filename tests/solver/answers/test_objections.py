"""An answer that another finding speaks against says so, and names none that stands already."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from solver.answers.answer import Status, in_short
from solver.answers.ask import ask
from solver.answers.objections import findings_above_note, objection
from solver.answers.reasons import Reason, Solutions
from solver.answers.variations import with_bore
from solver.findings.checks import check
from solver.findings.kinds import FindingId
from solver.geometry.moving import move_part
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.kinds import PumpType
from solver.layout.parts import Layout
from solver.ledger.sentences import clause
from solver.ledger.solve import solve
from solver.properties import fluid
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED, twins
from tests.solver.answers.test_ask import lifted
from tests.solver.checking import with_floor
from tests.solver.geometry.test_leads import fed_from_below


def alone(layout: Layout) -> Solutions:
    return {AS_DRAWN: solve(layout)}


def narrow(bore: str) -> Layout:
    layout = lifted()
    names = (*layout.runs, *layout.intakes, *layout.fittings)
    return with_bore(layout, names, bore=quantity(bore, Kind.BORE))


def test_a_velocity_that_begins_is_an_objection_and_one_that_was_there_is_none() -> None:
    wide, slim, slimmer = (alone(narrow(bore)) for bore in ("60 mm", "30 mm", "29.5 mm"))
    reason = objection([*findings_above_note(wide, "pump")], slim, "pump")
    assert reason is not None
    assert reason.finding in (FindingId.SUCTION_VELOCITY, FindingId.BORE_UNDER_PORT)
    assert objection([*findings_above_note(slim, "pump")], slimmer, "pump") is None
    assert objection([*findings_above_note(slim, "pump")], wide, "pump") is None


def test_a_finding_that_the_answer_speaks_of_is_no_objection() -> None:
    answer = ask("smallest bore", narrow("60 mm"), "pump")
    assert (answer.status, answer.reason) == (Status.FOUND, Reason.VELOCITY)
    before, there = [*findings_above_note(alone(narrow("60 mm")), "pump")], alone(narrow("30 mm"))
    spoken = FindingId.SUCTION_VELOCITY, FindingId.SUBMERGENCE
    reason = objection(before, there, "pump", spoken)
    assert reason is not None
    assert reason.finding == FindingId.BORE_UNDER_PORT
    assert "; but then: " in answer.text
    assert ", over the utmost" not in answer.text


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_what_speaks_against_an_answer_is_told_at_the_very_figure_that_is_said(
    path: Path, units: System
) -> None:
    """A bore of 60.7 mm was said, and against it one of 60.6 mm: the answer is rounded to the side within."""
    drawn = file.read(path)
    for layout in (drawn.base, *(each.layout for each in drawn.alternatives.values())):
        for pump in layout.pumps:
            text = ask("smallest bore", replace(layout, units=units), pump).text
            objected = re.search(r"; but then: .*: bore ([\d.]+ \w+), under", text)
            assert objected is None or text.startswith(f"Smallest bore: {objected[1]}")


def test_the_highest_port_has_nothing_against_it_where_no_finding_begins() -> None:
    assert "against it" not in ask("highest port", lifted(), "pump").text


def test_the_hottest_fluid_is_the_one_that_still_carries_the_pump() -> None:
    layout = lifted(z=0.6, flow=1e-4)
    answer = ask("hottest fluid", layout, "pump")
    assert answer.reason == Reason.VISCOSITY
    assert answer.text.startswith("Hottest fluid: ")
    assert ", by the usual running viscosity; by the margin enough is left up to " in answer.text
    assert answer.value is not None
    assert abs(fluid.state(layout.fluid, answer.value).viscosity - 10e-6) < 1e-10
    (pump,) = layout.pumps.values()
    centrifugal = replace(layout, pumps={"pump": replace(pump, type=PumpType.CENTRIFUGAL)})
    assert ask("hottest fluid", centrifugal, "pump").reason != Reason.VISCOSITY


def test_a_vortex_that_may_draw_already_is_said_first() -> None:
    layout = lifted()
    (intake,) = layout.intakes.values()
    (tank,) = layout.reservoirs.values()
    low = quantity(f"{intake.at[1].si + 0.03} m", Kind.LENGTH)
    shallow = replace(layout, reservoirs={tank.name: replace(tank, minimum_level=low)})
    answer = ask("lowest fluid level", shallow, "pump")
    vortex = re.match(
        r"Lowest fluid level: at 0.150 m a vortex may draw air in already, up to (0\.\d+) m; ", answer.text
    )
    assert vortex is not None
    for height, draws in ((float(vortex[1]) + 0.001, False), (float(vortex[1]) - 0.001, True)):
        filled = replace(tank, minimum_level=quantity(f"{height} m", Kind.LENGTH))
        there = check(solve(replace(layout, reservoirs={tank.name: filled})))
        assert (FindingId.SUBMERGENCE in {each.finding for each in there}) == draws


def test_another_pump_that_is_over_is_named_by_how_much_alone() -> None:
    there = alone(twins("24 kPa", "400 L/min"))
    ledger = there[AS_DRAWN].pumps["press"]
    assert ledger.margin < 0.0
    reason = objection([], there, "pilot")
    assert reason is not None
    assert reason.finding == FindingId.OVER_THE_LIMIT
    assert reason.text == f"press: {clause(ledger, System.SI)}"


def test_a_level_over_the_normal_one_is_said_to_be_one_and_does_not_go_for_a_level_that_the_tank_has() -> (
    None
):
    layout = lifted()
    ledger = solve(layout).pumps["pump"]
    for lacks, over in ((400.0, False), (2.5e3, True)):
        answer = ask("lowest fluid level", with_floor(layout, ledger.inlet + lacks), "pump")
        assert answer.status == Status.ALREADY_OVER
        assert answer.value is not None
        (tank,) = layout.reservoirs.values()
        assert (answer.value > tank.normal_level.si) == over
        assert (answer.no_place == "over the normal level") == over
        assert ("up to" in in_short(answer, System.SI)) == over


def test_a_line_that_cannot_be_built_speaks_against_every_answer() -> None:
    folded = move_part(fed_from_below(), "pump", 2.4, 0.9, alone=True)
    answer = ask("lowest fluid level", folded, "pump")
    assert "doubles back" in answer.text
    assert "doubles back" not in ask("lowest fluid level", fed_from_below(), "pump").text
