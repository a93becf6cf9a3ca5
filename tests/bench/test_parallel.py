"""How long a split between parallel lines takes, and a drag of a drawing with many parts."""

from __future__ import annotations

import itertools

import pytest

from solver.geometry import outline
from solver.layout.parts import Fitting, Layout, Run, Tee
from solver.network import build as network
from solver.network import flows, losses
from solver.properties.fluid import FluidState
from tests import drawings
from tests.bench.clock import medians, tell
from tests.drawings import drawing, fitting, intake, pump, run, tank, tee
from tests.solver.network.test_parallel import OIL, WATER, assert_in_balance, ring

pytestmark = pytest.mark.bench

SIDES = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}


def grid(side: int, flow: float) -> Layout:
    """Lines that cross at side x side places, a pair of tees at each; in and out at opposite corners."""
    parts: list[Tee | Fitting | Run] = []
    port: dict[tuple[int, int, str], str] = {}
    for i, j in itertools.product(range(side), repeat=2):
        x, y = 1.0 + 2.0 * i, 2.0 + 2.0 * j
        ways = [w for w, (a, b) in SIDES.items() if 0 <= i + a < side and 0 <= j + b < side]
        ways += ["in"] if i == j == 0 else ["out"] if i == j == side - 1 else []
        place = f"{i},{j}"
        if len(ways) == 4:
            parts += [tee(f"a{place}", (x - 0.3, y)), tee(f"b{place}", (x + 0.3, y))]
            parts.append(run(f"x{place}", f"a{place}", f"b{place}"))
            port |= {(i, j, w): f"{'b' if w in ('right', 'down') else 'a'}{place}" for w in ways}
            continue
        parts.append(tee(f"a{place}", (x, y)) if len(ways) == 3 else fitting(f"a{place}", (x, y)))
        port |= {(i, j, w): f"a{place}" for w in ways}
    mitred = {"bend": "mitre", "bend_radius": None}
    for i, j in itertools.product(range(side), repeat=2):
        if i + 1 < side:
            parts.append(run(f"h{i},{j}", port[i, j, "right"], port[i + 1, j, "left"], **mitred))
        if j + 1 < side:
            parts.append(run(f"v{i},{j}", port[i, j, "up"], port[i, j + 1, "down"], **mitred))
    far = 3.0 + 2 * side
    parts += [run("in", "strainer", port[0, 0, "in"], **mitred)]
    parts += [run("out", port[side - 1, side - 1, "out"], "pump", **mitred)]
    return drawing(
        tank(size=(3.0, 0.7)), intake(at=(0.5, 0.12), bore=0.1), pump(at=(far, far), flow=flow), *parts
    )


@pytest.mark.parametrize("fluid", [OIL, WATER], ids=["oil", "water"])
def test_a_grid_of_loops(fluid: FluidState) -> None:
    built = network.build(grid(30, 0.01))
    settled = flows.settle(built, fluid)
    solve, once = medians(
        lambda: flows.settle(built, fluid),
        lambda: losses.drop(built.columns, settled.flows, fluid.density, fluid.viscosity),
        repeats=5,
    )
    tell(f"30 x 30 loops, {len(built.rows)} rows, {settled.passes} passes: the split", solve, "s", 1.0)
    tell("ratio to one evaluation of every row's drop", solve / once, "x")
    assert_in_balance(settled, fluid)


def test_a_ring_header() -> None:
    built = network.build(ring(0.002, 0.001, 0.003))
    (solve,) = medians(lambda: flows.settle(built, OIL))
    tell(f"ring header of {len(built.rows)} rows: the split", solve * 1e3, "ms")


@pytest.mark.parametrize("elements", [20, 200, 2000])
def test_a_moved_pump(elements: int) -> None:
    layout = drawings.steps(elements)
    x, y = outline.position(layout.pumps["pump"])
    steps = itertools.count(1)
    move, build = medians(
        lambda: outline.move_part(layout, "pump", x + 1e-3 * next(steps), y + 0.01),
        lambda: network.build(layout),
    )
    tell(f"{elements} elements: lines follow a moved pump", move * 1e3, "ms")
    tell("ratio to building the network", move / build, "x")
