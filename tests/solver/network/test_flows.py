"""Flows against demands summed by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.network.build import NetworkError, build
from solver.network.flows import settle, solve
from solver.properties.fluid import FluidState
from tests.drawings import drawing, intake, pump, run, tee

OIL = FluidState("oil", 318.15, 870.0, 46e-6, 0.0, 0.09, {})


def header(one, two):
    return build(
        drawing(
            intake(bore=0.06),
            tee("header", (0.9, 1.2), bore=0.06),
            run("riser", "strainer", "header", bore=0.06),
            run("up", "header", "top"),
            run("across", "header", "side"),
            pump("top", (0.9, 2.0), flow=one),
            pump("side", (2.0, 1.2), flow=two),
        )
    )


def test_one_pump_draws_its_flow_through_every_row():
    network = build(drawing(run("riser", "strainer", "pump")))
    assert solve(network, OIL).tolist() == [0.002] * len(network.rows)


@given(st.floats(1e-6, 0.1), st.floats(1e-6, 0.1))
def test_flow_into_a_junction_equals_flow_out(one, two):
    network = header(one, two)
    flows = solve(network, OIL)
    balance = dict.fromkeys(network.graph, 0.0)
    for row, flow in zip(network.rows, flows, strict=True):
        balance[row.start] -= flow
        balance[row.end] += flow
    ends = {"reservoir:tank": -(one + two), "pump:top": one, "pump:side": two}
    for node, net in balance.items():
        assert net == pytest.approx(ends.get(node, 0.0), abs=1e-15)


def test_each_leg_carries_its_own_pump():
    network = header(0.002, 0.001)
    by_key = dict(zip((row.key for row in network.rows), solve(network, OIL), strict=True))
    assert by_key["riser/straight 1"] == pytest.approx(0.003)
    assert by_key["up/straight 1"] == by_key["header/run 2"] == 0.002
    assert by_key["across/straight 1"] == by_key["header/branch"] == 0.001


def test_a_tree_is_settled_at_once():
    settled = settle(header(0.002, 0.001), OIL)
    assert (settled.passes, settled.residual) == (1, 0.0)
    assert np.all(settled.flows > 0)


def test_a_pump_that_takes_in_nothing_is_refused_by_name():
    with pytest.raises(NetworkError, match="side: takes in no flow"):
        solve(header(0.002, 0.0), OIL)
