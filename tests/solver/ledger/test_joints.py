"""Where parts are joined outside the fluid, and the pressure there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.kinds import Bend
from solver.layout.parts import Layout, Run
from solver.ledger.joints import joints, low_joints
from solver.ledger.path import way_of
from solver.ledger.solve import solve
from tests.drawings import drawing, intake, pump, run
from tests.solver.ledger.lines import flooded_line, lift_line


def test_every_joint_outside_the_fluid_is_named_in_walking_order() -> None:
    solution = solve(lift_line())
    joint_list = joints(solution, "pump")
    assert [(each.part, each.following) for each in joint_list] == [
        ("riser", "isolator"),
        ("isolator", "lead"),
        ("lead", "pump"),
    ]
    pressures = [each.pressure for each in joint_list]
    assert pressures == sorted(pressures, reverse=True)
    assert joint_list[-1].pressure == pytest.approx(solution.pumps["pump"].inlet, rel=0.01)


def test_a_joint_stands_where_it_is_drawn() -> None:
    (first, *_) = joints(solve(lift_line()), "pump")
    assert (first.x, first.z) == (pytest.approx(0.9), pytest.approx(0.9))


def test_a_joint_inside_the_fluid_is_none() -> None:
    assert "strainer" not in {each.part for each in joints(solve(lift_line()), "pump")}
    assert joints(solve(flooded_line()), "pump")[-1].following == "pump"


def test_an_unknown_pump_is_refused() -> None:
    with pytest.raises(KeyError):
        joints(solve(lift_line()), "other")


def screwed(at: tuple[float, float], *runs: Run) -> Layout:
    """A lift line whose elbows are threaded, made of those runs."""
    layout = drawing(intake(), pump(at=at), *runs)
    threaded = {
        name: replace(each, bend=Bend.THREADED_ELBOW, bend_radius=None) for name, each in layout.runs.items()
    }
    return replace(layout, runs=threaded)


@pytest.mark.parametrize("turned", [False, True])
def test_a_threaded_elbow_has_a_joint_at_either_end(turned: bool) -> None:
    """Elbows of ASME B16.3 are threaded at either end; with r/D 1 each end lies about a bore from the corner.
    A run that is drawn against the flow has the same two."""
    ends = ("pump", "strainer") if turned else ("strainer", "pump")
    via = [(0.9, 0.9)]
    solution = solve(screwed((1.8, 0.9), run("lead", *ends, via=via)))
    elbow = [each for each in joints(solution, "pump") if each.elbow]
    assert [each.name for each in elbow] == ["into bend 1 of lead", "out of bend 1 of lead"]
    bore = solution.layout.runs["lead"].bore.si
    assert [(each.x, each.z) for each in elbow] == [
        (pytest.approx(0.9), pytest.approx(0.9 - bore, abs=0.003)),
        (pytest.approx(0.9 + bore, abs=0.003), pytest.approx(0.9)),
    ]
    entries = solution.pumps["pump"].entries
    (bend,) = (i for i, each in enumerate(entries) if each.element == "bend 1")
    assert [each.pressure for each in elbow] == [entries[bend - 1].pressure, entries[bend].pressure]


def test_a_bend_of_a_radius_has_no_joint_of_its_own() -> None:
    solution = solve(
        drawing(intake(), pump(at=(1.8, 0.9)), run("lead", "strainer", "pump", via=[(0.9, 0.9)]))
    )
    assert not [each for each in joints(solution, "pump") if each.elbow]


@pytest.mark.parametrize(
    "layout",
    [lift_line(), flooded_line(), screwed((1.8, 0.9), run("lead", "strainer", "pump", via=[(0.9, 0.9)]))],
    ids=["lift", "flooded", "screwed"],
)
def test_the_low_joints_are_those_under_the_atmosphere(layout: Layout) -> None:
    solution = solve(layout)
    ledger = solution.pumps["pump"]
    low = [each for each in joints(solution, "pump") if each.pressure < ledger.atmosphere]
    answer = low_joints(solution, "pump", way_of(solution.network, ledger.entries))
    lowest = min(low, key=lambda each: each.pressure, default=None)
    elbows = len([each for each in low if each.elbow])
    assert answer == (None if lowest is None else (lowest, len(low), elbows))
