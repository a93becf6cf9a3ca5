"""Where parts are joined outside the fluid, and the pressure there."""

from __future__ import annotations

import pytest

from solver.ledger.joints import joints
from solver.ledger.solve import solve
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
