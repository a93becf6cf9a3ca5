"""What a closed valve parts: the dead line behind it, the pump it starves, and what is left to flow."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.network.build import NetworkError, build
from solver.network.dead_ends import dead_runs, sections, seed
from solver.network.flows import settle
from solver.properties.fluid import FluidState
from tests.drawings import drawing, fitting, intake, pump, run, tank, tee
from tests.solver.network.valves import crane_friction

OIL = FluidState("oil", 318.15, 870.0, 46e-6, 0.0, 0.09, {})


def shut(layout: Layout, *names: str) -> Layout:
    valves = {name: replace(layout.fittings[name], state="closed") for name in names}
    return replace(layout, fittings={**layout.fittings, **valves})


def crossover() -> Layout:
    """Two pumps on a suction line each, and a crossover with two valves between the lines."""
    return drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        intake("b", (3.5, 0.12)),
        tee("left", (0.5, 1.2)),
        tee("right", (3.5, 1.2)),
        fitting("near", (1.5, 1.2)),
        fitting("far", (2.5, 1.2)),
        pump("one", (0.5, 2.0), flow=0.002),
        pump("two", (3.5, 2.0), flow=0.001),
        run("a up", "a", "left"),
        run("b up", "b", "right"),
        run("a on", "left", "one"),
        run("b on", "right", "two"),
        run("to near", "left", "near"),
        run("between", "near", "far"),
        run("to far", "far", "right"),
    )


def flows(layout: Layout) -> dict[str, float]:
    settled = settle(build(layout), OIL)
    return dict(zip((row.key for row in settled.network.rows), settled.flows.tolist(), strict=True))


def refused(layout: Layout) -> dict[str, str]:
    with pytest.raises(NetworkError) as caught:
        build(layout)
    return dict(caught.value.problems)


def test_an_open_crossover_lets_the_lines_help_each_other() -> None:
    assert 0 < abs(flows(crossover())["between/straight 1"]) < 0.001
    assert build(crossover()).closures
    assert not build(crossover()).still


@pytest.mark.parametrize("valves", [("near",), ("far",), ("near", "far")])
def test_a_closed_crossover_leaves_two_lines_to_themselves(valves: tuple[str, ...]) -> None:
    row_flows = flows(shut(crossover(), *valves))
    assert row_flows["a up/straight 1"] == pytest.approx(0.002, rel=1e-12)
    assert row_flows["b up/straight 1"] == pytest.approx(0.001, rel=1e-12)
    for name in ("to near", "between", "to far"):
        assert row_flows[f"{name}/straight 1"] == 0.0
    assert not any(key.startswith(valve) for valve in valves for key in row_flows)


def test_what_stands_still_is_drawn_all_the_same() -> None:
    network = build(shut(crossover(), "near", "far"))
    assert network.cut_off == 1
    assert {network.rows[i].part for i in network.still} >= {"to near", "between", "to far"}
    assert {row.part for row in network.rows} >= {"to near", "between", "to far"}


def test_a_tee_with_one_dead_leg_costs_what_tables_give_its_run() -> None:
    """Crane TP-410, table of fittings: 20 f_T; Darby (2001), threaded: 200/Re."""
    alone = drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        pump("one", (0.5, 2.0), flow=0.002),
        run("up", "a", "one"),
    )
    one, straight = solve(shut(crossover(), "near")).pumps["one"], solve(alone).pumps["one"]
    (tee,) = (entry for entry in one.entries if entry.kind == "tee" and entry.loss)
    assert tee.reynolds
    assert tee.k == pytest.approx(20 * crane_friction(tee.bore) + 200 / tee.reynolds, rel=1e-4)
    assert one.spent == pytest.approx(straight.spent + tee.loss, rel=1e-3)


def test_a_dead_branch_in_a_network_of_loops_changes_nothing_else() -> None:
    """Twin strainers with a third, closed off: the split is that of the twins alone."""

    def lines(*more: object) -> Layout:
        return drawing(
            tank(size=(4.0, 0.7)),
            intake("a", (0.5, 0.12)),
            intake("b", (1.5, 0.12)),
            tee("joint", (0.5, 1.2)),
            run("a up", "a", "joint"),
            run("b up", "b", "joint", via=[(1.5, 1.2)]),
            pump("one", (0.5, 3.0), flow=0.002),
            *more,
        )

    plain = flows(lines(run("on", "joint", "one")))
    more = flows(
        shut(
            lines(
                tee("upper", (0.5, 2.0)),
                intake("c", (3.0, 0.12)),
                fitting("valve", (3.0, 1.0)),
                run("c up", "c", "valve"),
                run("c on", "valve", "upper", via=[(3.0, 2.0)]),
                run("on", "joint", "upper"),
                run("further", "upper", "one"),
            ),
            "valve",
        )
    )
    assert more["a up/straight 1"] == pytest.approx(plain["a up/straight 1"], rel=1e-9)
    assert more["c up/straight 1"] == more["c on/straight 1"] == more["c/entrance"] == 0.0


def test_an_isolated_loop_stands_still() -> None:
    """A ring behind two closed valves, which no reservoir holds a pressure in."""
    layout = drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        intake("b", (1.5, 0.12)),
        tee("joint", (0.5, 1.2)),
        tee("upper", (0.5, 2.0)),
        fitting("valve", (1.5, 2.0)),
        tee("west", (2.0, 2.0)),
        tee("east", (3.0, 2.0)),
        fitting("drain", (3.5, 2.0)),
        run("a up", "a", "joint"),
        run("b up", "b", "joint", via=[(1.5, 1.2)]),
        run("on", "joint", "upper"),
        run("further", "upper", "one"),
        run("to valve", "upper", "valve"),
        run("to ring", "valve", "west"),
        run("over", "west", "east", via=[(2.0, 2.5), (3.0, 2.5)]),
        run("under", "west", "east", via=[(2.0, 1.5), (3.0, 1.5)]),
        run("to drain", "east", "drain"),
        pump("one", (0.5, 3.0), flow=0.002),
    )
    row_flows = flows(shut(layout, "valve", "drain"))
    assert row_flows["further/straight 1"] == pytest.approx(0.002)
    assert {
        row_flows[key] for key in row_flows if key.split("/")[0] in ("to ring", "over", "under", "to drain")
    } == {0.0}
    assert np.isfinite(list(row_flows.values())).all()
    solve(shut(layout, "valve", "drain"))


def test_a_pump_behind_a_closed_valve_is_refused_by_both_names() -> None:
    layout = drawing(
        fitting("isolator", (0.9, 0.9)),
        run("riser", "strainer", "isolator"),
        run("lead", "isolator", "pump"),
    )
    assert refused(shut(layout, "isolator")) == {
        "pump": "no line from a reservoir reaches it: isolator is closed"
    }


def test_a_pump_shut_in_by_two_valves_names_both() -> None:
    layout = drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        intake("b", (1.5, 0.12)),
        tee("joint", (1.0, 1.2)),
        fitting("left", (0.7, 1.2)),
        fitting("right", (1.3, 1.2)),
        run("a up", "a", "left", via=[(0.5, 1.2)]),
        run("b up", "b", "right", via=[(1.5, 1.2)]),
        run("a on", "left", "joint"),
        run("b on", "right", "joint"),
        run("on", "joint", "pump"),
        pump(at=(1.0, 2.0)),
    )
    assert refused(shut(layout, "left", "right")) == {
        "pump": "no line from a reservoir reaches it: left and right are closed"
    }
    assert flows(shut(layout, "left"))["b up/straight 1"] == pytest.approx(0.002)


def test_a_double_inlet_with_one_side_shut_draws_through_the_other() -> None:
    layout = drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        intake("b", (3.5, 0.12)),
        fitting("valve", (3.5, 1.0)),
        run("a up", "a", "pump", via=[(0.5, 1.5)]),
        run("b up", "b", "valve"),
        run("b on", "valve", "pump", via=[(3.5, 1.5)]),
        pump(at=(2.0, 1.5)),
    )
    row_flows = flows(shut(layout, "valve"))
    assert row_flows["a up/straight 1"] == pytest.approx(0.002)
    assert row_flows["b on/straight 1"] == row_flows["b up/straight 1"] == 0.0
    assert solve(shut(layout, "valve")).pumps["pump"].flow == pytest.approx(0.002)


def test_a_closed_valve_may_end_a_line() -> None:
    layout = drawing(
        tee("drain tee", (0.9, 0.9)),
        fitting("drain", (1.4, 0.9)),
        run("riser", "strainer", "drain tee"),
        run("on", "drain tee", "pump"),
        run("stub", "drain tee", "drain"),
    )
    assert refused(layout)["stub"].startswith("ends in the air at drain")
    assert flows(shut(layout, "drain"))["stub/straight 1"] == 0.0


def test_an_intake_behind_a_closed_valve_may_stand_dry() -> None:
    layout = drawing(
        tank(size=(4.0, 0.7)),
        intake("a", (0.5, 0.12)),
        intake("high", (1.5, 0.5)),
        tee("joint", (0.5, 1.2)),
        fitting("valve", (1.5, 1.0)),
        run("a up", "a", "joint"),
        run("b up", "high", "valve"),
        run("b on", "valve", "joint", via=[(1.5, 1.2)]),
        run("on", "joint", "pump"),
        pump(at=(0.5, 2.0)),
    )
    with pytest.raises(NetworkError, match="above the minimum level"):
        solve(layout)
    assert solve(shut(layout, "valve")).pumps["pump"].reservoir == "tank"


def test_a_line_between_pumps_is_no_dead_end() -> None:
    layout = drawing(
        run("up", "strainer", "pump"),
        run("on", "pump", "other"),
        pump("other", (3.0, 1.5)),
        pump(at=(0.9, 1.5)),
    )
    assert "no line from a reservoir reaches it" in refused(layout)["other"]


def test_sections_are_bounded_by_pumps_and_closed_valves() -> None:
    layout = shut(crossover(), "near", "far")
    (between,) = sections(layout, ["between"])
    assert (between.runs, set(between.closed), between.pumps) == (("between",), {"near", "far"}, ())
    assert seed(between, ()) in ("near", "far")
    assert len(sections(layout, ["to near", "between", "to far"])) == 3
    (one,) = sections(crossover(), ["a on", "to near", "between", "to far", "b on"])
    assert set(one.pumps) == {"one", "two"}
    assert seed(one, ("one", "two")) is None


def test_stillness_spreads_from_a_closed_end_to_the_next_junction() -> None:
    layout = shut(crossover(), "near")
    assert dead_runs(layout, layout.runs) == {"to near", "between", "to far"}
    assert dead_runs(crossover(), crossover().runs) == frozenset()
