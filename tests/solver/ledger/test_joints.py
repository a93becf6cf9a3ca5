"""Where parts are joined outside the fluid, and the pressure there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.kinds import Bend
from solver.layout.parts import Layout, Run
from solver.ledger.joints import joints, low_joints
from solver.ledger.path import way_of
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, intake, pump, ring, run, twins
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


def test_a_nozzle_in_the_wall_is_joined_to_its_line_outside() -> None:
    """Its flange stands in the air, however high the fluid is behind it: it was in no list."""
    first, *_ = joints(solve(flooded_line()), "pump")
    assert first.name == "nozzle to lead"


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
    elbow = [each for each in joints(solution, "pump") if each.bend]
    assert [each.name for each in elbow] == ["before bend 1 of lead", "after bend 1 of lead"]
    bore = solution.layout.runs["lead"].bore.si
    assert [(each.x, each.z) for each in elbow] == [
        (pytest.approx(0.9), pytest.approx(0.9 - bore, abs=0.003)),
        (pytest.approx(0.9 + bore, abs=0.003), pytest.approx(0.9)),
    ]
    entries = solution.pumps["pump"].entries
    (bend,) = (i for i, each in enumerate(entries) if each.element == "bend 1")
    assert [each.pressure for each in elbow] == [entries[bend - 1].pressure, entries[bend].pressure]


def bent(how: Bend | None) -> Layout:
    """A lift line whose bends are made like that; None: bent to a radius."""
    layout = drawing(intake(), pump(at=(1.8, 0.9)), run("lead", "strainer", "pump", via=[(0.9, 0.9)]))
    if how is None:
        assert layout.runs["lead"].bend_radius is not None
        return layout
    return replace(layout, runs={"lead": replace(layout.runs["lead"], bend=how, bend_radius=None)})


@pytest.mark.parametrize(
    ("how", "names"),
    [
        (None, []),
        (Bend.LONG_RADIUS, ["before bend 1 of lead", "after bend 1 of lead"]),
        (Bend.SHORT_RADIUS, ["before bend 1 of lead", "after bend 1 of lead"]),
        (Bend.MITRE, ["in bend 1 of lead"]),
        (Bend.TWO_WELD_MITRE, ["before bend 1 of lead", "after bend 1 of lead"]),
        (Bend.THREE_WELD_MITRE, ["before bend 1 of lead", "in bend 1 of lead", "after bend 1 of lead"]),
    ],
)
def test_a_bend_has_the_joints_that_it_is_made_with(how: Bend | None, names: list[str]) -> None:
    """A bend that is a fitting is joined at either end, a mitre where it is welded, a bent pipe nowhere."""
    at_bends = [each for each in joints(solve(bent(how)), "pump") if each.bend]
    assert [each.name for each in at_bends] == names
    assert all(each.bend_kinds == (how,) for each in at_bends)


def test_bends_that_meet_have_one_joint_between_them() -> None:
    lead = run(
        "lead", "strainer", "pump", via=[(0.9, 0.9), (1.0524, 0.9)], bend_radius=None
    )  # 2 x 1.5 x 2 in
    sized = replace(lead, size="NPS 2 schedule 40", bore=None)
    names = [each.name for each in joints(solve(drawing(intake(), pump(at=(1.0524, 2.0)), sized)), "pump")]
    assert names == [
        "before bend 1 of lead",
        "between bend 1 and bend 2 of lead",
        "after bend 2 of lead",
        "lead to pump",
    ]


def test_a_joint_with_a_change_of_bore_stands_at_the_lowest_pressure_on_either_side() -> None:
    """A narrower pipe after a wider valve, and before a wider port: in it the fluid is faster."""
    layout = lift_line()
    lead = replace(layout.runs["lead"], bore=quantity("30 mm", Kind.BORE))
    solution = solve(replace(layout, runs={**layout.runs, "lead": lead}))
    by_key = {each.key: each.pressure for each in solution.pumps["pump"].entries}
    into, port = (each for each in joints(solution, "pump") if "lead" in (each.part, each.following))
    assert into.name == "isolator to lead"
    assert into.pressure == by_key["isolator>lead/bore change"] < by_key["isolator/ball valve"]
    assert into.key == "isolator>lead/bore change"
    assert port.pressure == min(
        by_key["lead/straight 1"], by_key["lead>pump/bore change"], by_key["pump/port"]
    )


def test_joints_of_lines_in_parallel_are_those_of_its_own_parts() -> None:
    """The end of such a line in a tee was told as one more joint, to the port."""
    names = [each.name for each in joints(solve(twins()), "press")]
    assert names == [
        *("right riser to join", "join to header", "header to split", "split to lead", "lead to press"),
        *("before bend 1 of left riser", "after bend 1 of left riser", "left riser to join"),
    ]
    assert not [each for each in joints(solve(ring()), "large") if each.name == "north west to large"]


@pytest.mark.parametrize(
    "layout",
    [
        lift_line(),
        flooded_line(),
        screwed((1.8, 0.9), run("lead", "strainer", "pump", via=[(0.9, 0.9)])),
        bent(Bend.LONG_RADIUS),
    ],
    ids=["lift", "flooded", "screwed", "bends"],
)
def test_the_low_joints_are_those_under_the_atmosphere(layout: Layout) -> None:
    solution = solve(layout)
    ledger = solution.pumps["pump"]
    low = [each for each in joints(solution, "pump") if each.pressure < ledger.atmosphere]
    answer = low_joints(solution, "pump", way_of(solution.network, ledger.entries))
    lowest = min(low, key=lambda each: each.pressure, default=None)
    at_bends = [each.bend_kinds for each in low if each.bend]
    bend_kinds = frozenset(each for kinds in at_bends for each in kinds)
    assert answer == (None if lowest is None else (lowest, len(low), len(at_bends), bend_kinds))
