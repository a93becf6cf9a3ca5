"""Splits between parallel lines: by symmetry, by hand, and against an independent solution."""

from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Screen
from solver.network import losses
from solver.network.build import NetworkError, build
from solver.network.flows import settle
from solver.properties.fluid import FluidState
from solver.quantities.units import Quantity
from tests.drawings import drawing, fitting, intake, metres, pump, run, tank, tee

OIL = FluidState("oil", 318.15, 870.0, 46e-6, 0.0, 0.09, {})
WATER = FluidState("water", 293.15, 998.0, 1e-6, 2339.0, 0.0, {})
WIDE = tank(size=(3.0, 0.7))


def twin(offset=0.0, bore=0.05, flow=0.002, screens=(None, None)):
    """Two strainers into one header; the second `offset` farther from it."""
    x = 1.5 + offset
    return drawing(
        WIDE,
        intake(at=(0.5, 0.12), screen=screens[0]),
        intake("second", (x, 0.12), bore=bore, screen=screens[1]),
        tee("header", (1.0, 1.2)),
        run("left", "strainer", "header", via=[(0.5, 1.2)]),
        run("right", "second", "header", via=[(x, 1.2)], bore=bore),
        run("up", "header", "pump"),
        pump(at=(1.0, 2.0), flow=flow),
    )


def ring(one, two, three):
    return drawing(
        WIDE,
        intake(at=(0.5, 0.12)),
        *(tee(n, at) for n, at in (("t0", (0.5, 2)), ("t1", (0.5, 4)), ("t2", (2.5, 4)), ("t3", (2.5, 2)))),
        run("riser", "strainer", "t0"),
        run("west", "t0", "t1"),
        run("north", "t1", "t2"),
        run("east", "t2", "t3"),
        run("south", "t3", "t0"),
        run("to one", "t1", "one"),
        run("to two", "t2", "two"),
        run("to three", "t3", "three"),
        pump("one", (0.5, 5), flow=one),
        pump("two", (2.5, 5), flow=two),
        pump("three", (4, 2), flow=three),
    )


def joined(low=0.0):
    """Two reservoirs with a balance line, a pump on each side of it; the second `low` lower."""
    return drawing(
        tank(size=(1.2, 1.0), normal=0.9, minimum=0.8),
        tank("far", (4.0, -low), size=(1.2, 1.0), normal=0.9, minimum=0.8),
        intake(at=(1.2, 0.2), kind="wall nozzle"),
        intake("nozzle", (4.0, 0.2), kind="wall nozzle", reservoir="far"),
        tee("mid", (2.6, 0.2)),
        run("near", "strainer", "mid"),
        run("farther", "mid", "nozzle"),
        run("down", "mid", "pump"),
        pump(at=(2.6, -0.5)),
    )


def by_key(layout, fluid=OIL, level="minimum"):
    settled = settle(build(layout), fluid, level)
    keys = [row.key for row in settled.network.rows]
    return dict(zip(keys, settled.flows.tolist(), strict=True)), settled


def assert_in_balance(settled, fluid, level="minimum"):
    """Flow in = flow out at every node, and one pressure at every node whatever way it is reached."""
    network, flows = settled.network, settled.flows
    loss = losses.drop(network.columns, flows, fluid.density, fluid.viscosity).loss
    net = dict.fromkeys(network.graph, 0.0)
    plain = nx.MultiGraph()
    for i, row in enumerate(network.rows):
        net[row.start] -= flows[i]
        net[row.end] += flows[i]
        plain.add_edge(row.start, row.end, row=i)
    largest = float(np.abs(flows).max())
    for node, gain in net.items():
        if node.startswith("pump:"):
            gain -= network.layout.pumps[node.removeprefix("pump:")].flow.si
        if not node.startswith("reservoir:"):
            assert abs(gain) <= 1e-9 * largest
    pressure = {}
    for name, held in network.layout.reservoirs.items():
        surface = (held.minimum_level if level == "minimum" else held.normal_level).si
        gauge = held.pressure.si if held.pressure is not None else 0.0
        pressure[f"reservoir:{name}"] = gauge + fluid.density * GRAVITY * surface
    scale = float(np.abs(loss).max())
    for source in list(pressure):
        for a, b, i in nx.edge_bfs(plain, source):
            row = network.rows[plain.edges[a, b, i]["row"]]
            there = pressure[a] + (-loss if row.start == a else loss)[plain.edges[a, b, i]["row"]]
            assert pressure.setdefault(b, there) == pytest.approx(there, abs=2e-6 * scale)


@pytest.mark.parametrize("fluid", [OIL, WATER])
def test_equal_strainers_share_equally(fluid):
    flows, settled = by_key(twin(), fluid)
    assert flows["left/straight 1"] == pytest.approx(0.001, rel=1e-12)
    assert flows["right/straight 1"] == pytest.approx(0.001, rel=1e-12)
    assert_in_balance(settled, fluid)


def test_laminar_lines_share_in_proportion_to_their_ease():
    """Hagen and Poiseuille by hand: two lines with nothing but friction share as 1 to their lengths."""
    thick = FluidState("thick", 300.0, 900.0, 0.2, 0.0, 0.0, {})
    layout = drawing(
        WIDE,
        intake(at=(0.1, 0.35), kind="wall nozzle"),
        tee("split", (0.6, 0.35)),
        tee("join", (600.6, 0.35)),
        run("lead", "strainer", "split"),
        run("short", "split", "join"),
        run("long", "split", "join", via=[(0.6, 300.35), (600.6, 300.35)], bend="mitre", bend_radius=None),
        run("on", "join", "pump"),
        pump(at=(602.0, 0.35), flow=1e-4),
    )
    flows, _ = by_key(layout, thick)
    assert flows["short/straight 1"] / flows["long/straight 1"] == pytest.approx(2.0, rel=5e-3)


@pytest.mark.parametrize("fluid", [OIL, WATER])
def test_unlike_suction_lines_against_a_bracketed_root(fluid):
    """Two lines, the split found by bisection on the difference of their drops."""
    flows, settled = by_key(twin(1.0, bore=0.04), fluid)
    network, index = settled.network, settled.network.index

    def difference(left):
        at = settled.flows.copy()
        for key, i in index.items():
            if key.startswith(("strainer", "left")):
                at[i] = left
            elif key.startswith(("second", "right")):
                at[i] = 0.002 - left
        loss = losses.drop(network.columns, at, fluid.density, fluid.viscosity).loss
        sides = (("strainer", "left"), ("second", "right"))
        one, two = (sum(loss[i] for key, i in index.items() if key.startswith(side)) for side in sides)
        legs = {row.start: i for row, i in zip(network.rows, range(len(loss)), strict=True)}
        return one + loss[legs["header/left"]] - two - loss[legs["header/right"]]

    # The legs of the tee keep the flows of the split found, so their part is a constant here.
    root = brentq(difference, 1e-6, 0.002 - 1e-6, xtol=1e-18, rtol=1e-15)
    assert flows["left/straight 1"] == pytest.approx(root, rel=1e-9)
    assert_in_balance(settled, fluid)


@pytest.mark.parametrize("fluid", [OIL, WATER])
def test_a_ring_header_feeds_from_both_sides(fluid):
    flows, settled = by_key(ring(0.002, 0.001, 0.003), fluid)
    assert flows["riser/straight 1"] == pytest.approx(0.006)
    assert flows["to two/straight 1"] == pytest.approx(0.001)
    assert_in_balance(settled, fluid)


def test_flow_may_run_against_the_row_it_was_drawn_for():
    flows, settled = by_key(ring(0.0005, 0.0005, 0.004))
    backwards = [key for key, flow in flows.items() if flow < 0]
    assert "east/straight 1" in backwards or "north/straight 1" in backwards
    assert_in_balance(settled, OIL)


def test_a_blocked_strainer_leaves_the_work_to_its_twin():
    def mesh(blocked):
        cloth = Quantity("100 per inch", 100 / 0.0254), metres(0.11e-3), Quantity("60 cm^2", 0.006)
        return Screen(*cloth, blocked=blocked)

    flows, settled = by_key(twin(screens=(mesh(0.95), mesh(0.0))))
    assert flows["left/straight 1"] < 0.8 * flows["right/straight 1"]
    assert_in_balance(settled, OIL)


def test_a_bypass_holds_a_strainer_and_the_split_still_settles():
    cloth = Quantity("100 per inch", 100 / 0.0254), metres(0.11e-3), Quantity("60 cm^2", 0.006)
    held = Screen(*cloth, blocked=0.99, bypass=Quantity("200 Pa", 200.0))
    flows, settled = by_key(twin(screens=(held, Screen(*cloth, blocked=0.9))), OIL)
    drops = losses.drop(settled.network.columns, settled.flows, OIL.density, OIL.viscosity)
    assert drops.bypassed[settled.network.index["strainer/screen"]]
    assert flows["left/straight 1"] + flows["right/straight 1"] == pytest.approx(0.002)
    assert_in_balance(settled, OIL)


@pytest.mark.parametrize(("opens", "flow"), [(500.0, 2e-5), (2e3, 2e-5), (20e3, 1e-4)])
def test_a_line_nearly_at_rest_behind_a_blocked_screen_settles(opens, flow):
    """The loss of such a screen rises like a wall until its bypass opens: the search jumped over it to and
    fro, and the drawing was refused."""
    cloth = Quantity("100 per inch", 100 / 0.0254), metres(0.11e-3), Quantity("110 cm^2", 0.011)
    held = Screen(*cloth, blocked=1 - 1e-6, bypass=Quantity("opens", opens))
    flows, settled = by_key(twin(flow=flow, screens=(held, None)), WATER)
    assert 0 < abs(flows["left/straight 1"]) < 1e-4 * flow
    assert flows["left/straight 1"] + flows["right/straight 1"] == pytest.approx(flow)
    assert_in_balance(settled, WATER)


def test_a_device_with_the_same_drop_at_any_flow():
    base = twin()
    spring = replace(fitting("spring", (0.5, 0.8), kind="known drop"), drop=Quantity("500 Pa", 500.0))
    runs = {
        "low": run("low", "strainer", "spring"),
        "left": run("left", "spring", "header", via=[(0.5, 1.2)]),
    }
    layout = replace(base, fittings={"spring": spring}, runs={**base.runs, **runs})
    flows, settled = by_key(layout)
    assert flows["left/straight 1"] < flows["right/straight 1"]
    assert_in_balance(settled, OIL)


def test_two_lines_into_one_pump():
    layout = drawing(
        WIDE,
        intake(at=(0.5, 0.12)),
        intake("second", (1.5, 0.12)),
        run("left", "strainer", "pump", via=[(0.5, 2.0)]),
        run("right", "second", "pump", via=[(1.5, 2.0)]),
        pump(at=(1.0, 2.0)),
    )
    flows, settled = by_key(layout)
    assert flows["left/straight 1"] == pytest.approx(0.001, rel=1e-12)
    assert_in_balance(settled, OIL)


def test_joined_reservoirs_at_one_level_share():
    flows, settled = by_key(joined())
    assert flows["near/straight 1"] == pytest.approx(0.001, rel=1e-9)
    assert_in_balance(settled, OIL)


def test_the_higher_reservoir_also_fills_the_lower():
    flows, settled = by_key(joined(low=0.4))
    assert flows["strainer/entrance"] > 0.002
    assert flows["nozzle/entrance"] < 0
    assert_in_balance(settled, OIL)
    row = settled.network.rows[settled.network.index["nozzle/entrance"]]
    assert row.k_inf_back == 1.0


def test_the_level_in_use_matters():
    lower = replace(joined(), reservoirs={**joined().reservoirs})
    far = replace(lower.reservoirs["far"], minimum_level=metres(0.6))
    layout = replace(lower, reservoirs={**lower.reservoirs, "far": far})
    at_minimum, _ = by_key(layout, level="minimum")
    at_normal, settled = by_key(layout, level="normal")
    assert at_minimum["nozzle/entrance"] < at_normal["nozzle/entrance"]
    assert_in_balance(settled, OIL, "normal")


def test_pressure_on_one_reservoir_pushes():
    base = joined()
    near = replace(base.reservoirs["tank"], pressure=Quantity("0.1 bar", 1e4))
    flows, settled = by_key(replace(base, reservoirs={**base.reservoirs, "tank": near}))
    assert flows["strainer/entrance"] > 0.002
    assert_in_balance(settled, OIL)


def test_the_split_does_not_hang_on_how_the_drawing_stands():
    layout = twin(1.0, 0.04)
    turned = {
        name: replace(one, start=one.end, end=one.start, via=one.via[::-1])
        for name, one in reversed(layout.runs.items())
    }
    flows, there = by_key(layout)[0], by_key(replace(layout, runs=turned))[0]
    for name in ("strainer/entrance", "second/entrance"):
        assert there[name] == pytest.approx(flows[name], rel=1e-9)


@given(
    st.tuples(*[st.floats(1e-5, 2e-2)] * 3),
    st.floats(1e-6, 1e-3),
    st.lists(st.sampled_from([0.03, 0.05, 0.08]), min_size=8, max_size=8),
)
def test_any_ring_settles_in_balance(pumps, viscosity, bores):
    base = ring(*pumps)
    runs = {
        name: replace(one, bore=metres(bore))
        for (name, one), bore in zip(base.runs.items(), bores, strict=True)
    }
    fluid = replace(OIL, viscosity=viscosity)
    settled = settle(build(replace(base, runs=runs)), fluid)
    assert settled.residual <= 1e-9
    assert_in_balance(settled, fluid)


def test_a_large_network_takes_the_sparse_way():
    """A ladder of two rails and many rungs; the same through either solver."""
    steps = 40
    parts = [WIDE, intake(at=(1.0, 0.12)), tee("foot", (1.0, 2.0)), run("riser", "strainer", "foot")]
    rails = {"a": "foot", "b": "foot"}
    for i in range(steps):
        for rail, side in (("a", -0.5), ("b", 0.5)):
            name = f"{rail}{i}"
            parts.append(tee(name, (1.0 + side, 3.0 + i)))
            via = [(1.0 + side, 2.0)] if i == 0 else []
            parts.append(run(f"rail {name}", rails[rail], name, via=via))
            rails[rail] = name
        parts.append(run(f"rung {i}", f"a{i}", f"b{i}"))
    top = 3.0 + steps
    parts += [run("one", rails["a"], "pump"), run("two", rails["b"], "other")]
    parts += [pump(at=(0.5, top)), pump("other", (1.5, top), flow=0.001)]
    _, settled = by_key(drawing(*parts))
    assert_in_balance(settled, OIL)


def test_flows_that_do_not_settle_are_refused_by_name(monkeypatch):
    monkeypatch.setattr("solver.network.parallel.TOLERANCE", -1.0)
    monkeypatch.setattr("solver.network.parallel.ENOUGH", -1.0)
    with pytest.raises(NetworkError, match="does not settle: it still changes by") as caught:
        by_key(ring(0.002, 0.001, 0.003))
    ((part, _),) = caught.value.problems
    drawn = build(ring(0.002, 0.001, 0.003)).layout
    assert part in {*drawn.runs, *drawn.tees, *drawn.intakes}


def test_a_loss_that_is_no_number_is_refused_by_name():
    with pytest.raises(NetworkError, match="no flow can be found here"):
        by_key(twin(), replace(OIL, viscosity=float("nan")))
