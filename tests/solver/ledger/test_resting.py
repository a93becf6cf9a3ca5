"""The port of a pump that stands still."""

from __future__ import annotations

from solver.layout.file import parse
from solver.ledger.solve import pumps_in_turn, solve, solved_network
from tests.drawings import twins_text
from tests.solver.ledger.in_cases import layout_with, solved

RESTS = "[cases.rest]\npumps.main.at_rest = true\n"


def test_a_pump_at_rest_takes_nothing_and_has_no_margin() -> None:
    solution = solved(RESTS)["rest"].solution
    assert solution is not None
    assert set(solution.pumps) == {"pilot"}
    port = solution.resting["main"]
    rows = [solution.network.index[row.key] for row in solution.network.rows if row.end == "pump:main"]
    assert all(solution.flows[i] == 0 for i in rows)
    # What is lost on the way of the other pump, up to where the leg leaves it, is all that is missing.
    still = solve(layout_with(""))
    hydrostatic = solution.pumps["pilot"].surface + solution.fluid.density * 9.80665 * (
        port.fluid_level - port.z
    )
    assert port.inlet < hydrostatic
    assert still.pumps["main"].inlet < port.inlet


def test_a_lifted_port_at_rest_draws_air_unless_its_leg_has_a_check_valve() -> None:
    text = twins_text()
    names = list(parse(text).base.pumps)
    solution = solved(f"[cases.rest]\npumps.{names[0]}.at_rest = true\n", text)["rest"].solution
    assert solution is not None
    port = solution.resting[names[0]]
    assert port.draws_air is (port.vacuum > 0 and not port.check_valve)


def test_pumps_in_turn_are_those_of_the_whole_solution() -> None:
    solution = solved(RESTS)["rest"].solution
    assert solution is not None
    in_turn = {each.pump: each for each in pumps_in_turn(solved_network(solution.network, solution.level))}
    assert in_turn == {**solution.pumps, **solution.resting}
