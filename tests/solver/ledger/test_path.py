"""The way through a network: which rows, in which sense, and what they take."""

import math
from dataclasses import replace

import numpy as np
import pytest

from solver.formulas.flow import GRAVITY
from solver.ledger import path
from solver.network import build, losses
from solver.network.build import NetworkError
from solver.network.ways import Rows
from solver.properties.fluid import FluidState
from tests.drawings import drawing, intake, pump, run

OIL = FluidState("oil", 318.15, 870.0, 40e-6, 0.0, 0.09, {})


def built():
    return build.build(
        drawing(intake(), pump(at=(1.5, 1.2)), run("riser", "strainer", "pump", via=[(0.9, 1.2)]))
    )


def solved(rows, flow):
    base = built()
    columns = build.columns(rows)
    flows = np.array(flow)
    whole = replace(base, rows=Rows(rows), columns=columns, index={row.key: i for i, row in enumerate(rows)})
    drops = losses.drop(columns, flows, OIL.density, OIL.viscosity, heads=True)
    return path.solved_network(whole, "minimum", (OIL, OIL), flows, drops, path.SharedResults())


def row(key, start, end, z_in=0.0, z_out=0.0, **more):
    part, _, element = key.partition("/")
    return build.Row(key, part, element, "straight", start, end, z_in, z_out, 0.05, length=1.0, **more)


TWIN = [
    row("a/1", "reservoir:tank", "meet"),
    row("b/1", "reservoir:tank", "meet"),
    row("c/1", "meet", "pump:pump"),
]


@pytest.mark.parametrize(("flow", "chosen"), [((1e-3, 2e-3, 3e-3), "b/1"), ((2e-3, 1e-3, 3e-3), "a/1")])
def test_of_parallel_paths_the_one_with_the_largest_flow_is_walked(flow, chosen):
    reservoir, route = path.route(solved(TWIN, flow), "pump")
    assert reservoir == "tank"
    assert [TWIN[i].key for i in route] == [chosen, "c/1"]


def test_a_row_drawn_against_the_flow_is_walked_backwards():
    rows = [
        row("a/1", "meet", "reservoir:tank", z_in=1.0),
        row("c/1", "meet", "pump:pump", z_in=1.0, z_out=1.0),
    ]
    network = solved(rows, (-2e-3, 2e-3))
    _, route = path.route(network, "pump")
    port = path.port(network, network.network.layout.pumps["pump"])
    charges = path.charges(network, route, port, 101325.0, 0.4)
    first, second, _ = path.entries(network, route, charges, port, 101325.0, 0.4, 20e3)
    assert first.flow == pytest.approx(-2e-3)
    assert first.lift == pytest.approx(870.0 * GRAVITY * 0.6)
    assert first.loss > 0
    assert first.loss == pytest.approx(second.loss)
    assert first.velocity > 0
    assert (first.z, first.distance, second.distance) == (1.0, 1.0, 2.0)


def test_a_pump_that_nothing_reaches_is_refused_by_name():
    with pytest.raises(NetworkError) as caught:
        path.route(solved(TWIN[:2], (1e-3, 1e-3)), "pump")
    assert caught.value.problems[0][0] == "pump"


def test_flow_in_a_circle_is_refused():
    rows = [row("a/1", "x", "y"), row("b/1", "y", "x"), row("c/1", "y", "pump:pump")]
    with pytest.raises(NetworkError):
        path.route(solved(rows, (2e-3, 2e-3, 1e-3)), "pump")


def test_a_pump_with_two_suction_lines_has_the_flow_of_both_at_its_port():
    rows = [row("a/1", "reservoir:tank", "pump:pump"), row("b/1", "reservoir:tank", "pump:pump")]
    network = solved(rows, (1e-3, 3e-3))
    port = path.port(network, network.network.layout.pumps["pump"])
    assert port.flow == pytest.approx(4e-3)
    assert port.velocity == pytest.approx(4e-3 / (math.pi / 4 * 0.05**2))


def test_a_bend_counts_its_arc_in_the_distance_but_not_in_its_length():
    arc = row("a/1", "reservoir:tank", "pump:pump", path=((0.0, 0.0), (0.3, 0.4), (0.3, 1.4)))
    network = solved([replace(arc, length=0.0)], (2e-3,))
    port = path.port(network, network.network.layout.pumps["pump"])
    charges = path.charges(network, [0], port, 101325.0, 0.4)
    entry, _ = path.entries(network, [0], charges, port, 101325.0, 0.4, 20e3)
    assert entry.length == 0.0
    assert entry.distance == pytest.approx(1.5)
    assert entry.friction_factor is None


def test_what_cases_come_to_alike_is_told_by_the_very_things_it_follows_from():
    alike, thing, equal = path.SharedResults(), [1.0], [1.0]
    assert alike.of("sum", (thing,), lambda: "first") == "first"
    assert alike.of("sum", (thing,), lambda: "second") == "first"
    assert alike.of("sum", (equal,), lambda: "of another") == "of another"
    assert alike.of("size", (thing,), lambda: "of another name") == "of another name"
