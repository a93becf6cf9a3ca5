"""From a network or a drawing to its ledger, against the plain scalar loop a person would write first."""

from __future__ import annotations

import functools
import itertools
import math
from dataclasses import replace

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.friction import friction_factor

from solver.findings import checks
from solver.layout.cases import layout_in_case
from solver.layout.parts import Case, Layout
from solver.ledger import solve
from solver.network import build as network
from solver.network.build import Network
from solver.network.row_cache import RowCache
from solver.network.ways import Rows
from solver.properties.fluid import FluidState
from solver.quantities import units
from tests import drawings
from tests.bench.clock import medians, tell

pytestmark = pytest.mark.bench


def plain_loop(built: Network, fluid: FluidState, flow: float) -> list[tuple[float, ...]]:
    """The baseline: atmosphere, then one row at a time its friction, drop, lift, pressure and share, all in
    floats, with the same library's calls and coefficients. Everything a ledger states, but no object, no unit
    and no text.
    """
    surface = ATMOSPHERE_1976(built.layout.site.elevation.si).P
    budget = surface - (101325.0 - 30e3)
    density, viscosity = fluid.density, fluid.viscosity
    level, spent, entries = 1.2, 0.0, []
    for row in built.rows:
        velocity = flow / (math.pi / 4 * row.bore**2)
        reynolds = velocity * row.bore / viscosity
        factor = friction_factor(Re=reynolds, eD=row.roughness / row.bore) if row.length else 0.0
        k = row.k_inf + row.k_re / reynolds
        q = density * velocity**2 / 2
        loss = (factor * row.length / row.bore + k) * q
        loss += min(row.viscous * viscosity * density * flow + row.inertial * density * flow**2, row.cap)
        lift = density * 9.80665 * (max(row.z_out - level, 0.0) - max(row.z_in - level, 0.0))
        spent += lift + loss
        outside = density * 9.80665 * max(level - row.z_out, 0.0)
        pressure = surface + outside - spent - (2.0 if reynolds < 2000 else 1.05) * q
        entries.append((velocity, reynolds, factor, k, lift, loss, (lift + loss) / budget, pressure))
    return entries


def raised(layout: Layout, by: float) -> Layout:
    """The pump and the last corner a little higher: a real change, never the same twice."""
    pump = layout.pumps["pump"]
    x, y = pump.at
    higher = units.in_unit_of(y, y.si + by, units.Kind.LENGTH)
    last = list(layout.runs)[-1]
    via = ((layout.runs[last].via[0][0], higher),)
    return replace(
        layout,
        pumps={**layout.pumps, "pump": replace(pump, at=(x, higher))},
        runs={**layout.runs, last: replace(layout.runs[last], via=via)},
    )


def test_twenty_elements_from_a_network_to_a_ledger() -> None:
    built = network.build(drawings.steps(20))
    solved = solve.solve_network(built)
    flow = solved.pumps["pump"].flow
    ours, plain = medians(
        lambda: solve.solve_network(built), lambda: plain_loop(built, solved.fluid, flow), repeats=301
    )
    print()
    tell(f"network of {len(built.rows)} rows to ledger", ours * 1e6, "µs")
    tell("plain scalar loop over the same rows", plain * 1e6, "µs")
    tell("ratio", ours / plain, "x", 15)
    assert ours / plain <= 15


@pytest.mark.parametrize("elements", [20, 200, 2000])
def test_a_changed_drawing_to_everything(elements: int) -> None:
    base = drawings.steps(elements)
    steps, cache = itertools.count(1), RowCache()

    def everything() -> None:
        checks.check(solve.solve(raised(base, 0.001 * next(steps)), cache=cache))

    def build() -> None:
        network.build(base, cache)

    built = network.build(base)
    solved = solve.solve_network(built)
    flow = solved.pumps["pump"].flow
    ours, building, plain = medians(
        everything,
        build,
        lambda: plain_loop(built, solved.fluid, flow),
        repeats=101 if elements < 2000 else 11,
    )
    print()
    tell(f"changed drawing of {len(built.rows)} rows to ledger and findings", ours * 1e3, "ms")
    tell("  of it the network", building * 1e3, "ms")
    tell("ratio to the plain scalar loop", ours / plain, "x")


COLD = units.quantity("5 degC", units.Kind.TEMPERATURE)
LESS = units.quantity("20 L/min", units.Kind.FLOW)


@pytest.mark.parametrize("elements", [200, 2000])
@pytest.mark.parametrize(
    ("change", "most"),
    [
        pytest.param({("fluid", "temperature"): COLD}, 1.1, id="fluid"),
        pytest.param({("pumps", "pump", "flow"): LESS}, 1.1, id="pump"),
        pytest.param({("fittings", "VALVE", "state"): "open"}, 1.3, id="valve"),
    ],
)
def test_a_case_costs_hardly_more_than_its_ledger(
    elements: int, change: dict[tuple[str, ...], object], most: float
) -> None:
    """Against solving the network of the case, built beforehand: what it takes to put the case in place."""
    base, cache = drawings.steps(elements), RowCache()
    valve, name = next(iter(base.fittings)), next(iter(base.pumps))
    figures = {tuple({"VALVE": valve, "pump": name}.get(k, k) for k in key): v for key, v in change.items()}
    case = Case({}, figures)
    built = network.build(base, cache)
    typed = layout_in_case(base, "one", case)
    whole = network.build(typed)
    ours, once = medians(
        lambda: solve.solve_network(network.rebuilt(built, layout_in_case(base, "one", case), cache)),
        lambda: solve.solve_network(replace(whole, rows=Rows(whole.rows))),  # with nothing known of its ways
        repeats=101 if elements < 2000 else 21,
    )
    print()
    tell(f"a case of {len(whole.rows)} rows", ours * 1e6, "µs")
    tell("ratio to its ledger alone", ours / once, "x", most)
    assert ours / once <= most


def test_cost_grows_no_faster_than_the_line() -> None:
    """Time per row, from a network to its ledger and from a drawing to its network."""
    print()
    solving, making = [], []
    for elements in (10, 100, 1_000, 10_000):
        base = drawings.steps(elements)
        built = network.build(base)
        rows = len(built.rows)
        solved, build_time = medians(
            functools.partial(solve.solve_network, built),
            functools.partial(network.build, base),
            repeats=max(5, 2_000 // elements),
        )
        solving.append(solved / rows)
        making.append(build_time / rows)
        tell(f"{rows} rows: network to ledger, per row", solving[-1] * 1e6, "µs")
        tell(f"{rows} rows: drawing to network, per row", making[-1] * 1e6, "µs")
    assert solving[-1] < 2 * solving[1]
    assert making[-1] < 2 * making[1]
