"""The flow through every row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from solver.formulas.flow import GRAVITY
from solver.geometry import reservoirs
from solver.layout.parts import Level, Reservoir
from solver.network import line_fluid, parallel, tees
from solver.network.build import Floats, Network, NetworkError, joined, pump_flow
from solver.properties.fluid import FluidState
from solver.quantities import columns

STILL = 1e-9
"""Share of the largest flow that a search for a split leaves in the leg of a pump at rest."""


@dataclass(frozen=True, slots=True)
class Settled:
    """Flows, and the network whose tees have the coefficients of that split."""

    network: Network
    flows: Floats  # of each row [m³/s], negative where it runs against the row
    passes: int  # how often the split was worked out
    residual: float  # largest change of any flow in the last pass, as a share of the whole; 0 in a tree


def solve(network: Network, fluid: FluidState, level: Level = Level.MINIMUM) -> Floats:
    """The flow of each row [m³/s], shape (rows,). Parameters and errors as `settle`."""
    return settle(network, fluid, level).flows


def settle(
    network: Network,
    fluid: FluidState,
    level: Level = Level.MINIMUM,
    tank: FluidState | None = None,
    with_split: Callable[[Network, Floats, float], Network] = tees.with_split,
) -> Settled:
    """Share the pumps' flows over the rows.

    Up a tree the demands are summed; where lines run in parallel the split is sought (see `parallel`). The
    coefficients of a tee depend on how the flow splits there, so the network comes back with them put in;
    calculate drops with that one.

    network: as built. fluid: in the line. level: of the fluid in the reservoirs, a `Level`; it matters where
    two of them are joined. tank: the fluid in those, where it is another. with_split: gives what
    `tees.with_split` gives, where that may be known already.
    Raises NetworkError for a pump that takes in nothing, and for a split that does not settle.
    """
    demands = _demands(network)
    if not network.closures:
        flows = _up_the_tree(network, demands)
        return Settled(with_split(network, flows, fluid.viscosity), flows, 1, 0.0)
    surfaces = {
        f"reservoir:{name}": _surface(network, each, fluid, level, tank or fluid)
        for name, each in network.layout.reservoirs.items()
    }
    balance = parallel.balance(joined(network), fluid, demands, surfaces)
    flows = _with_rest(network, balance.flows)
    if any(pump.at_rest for pump in network.layout.pumps.values()):
        flows = np.where(np.abs(flows) > STILL * np.abs(flows).max(), flows, 0.0)
    return Settled(with_split(network, flows, fluid.viscosity), flows, balance.passes, balance.residual)


def _with_rest(network: Network, flows: Floats) -> Floats:
    """Flows of the rows that are joined to a reservoir, with those in which nothing flows put to rest."""
    if not network.still:
        return flows
    whole = np.zeros((len(network.rows), *flows.shape[1:]))
    whole[: len(flows)] = flows
    whole[list(network.still)] = 0.0
    return whole


def _surface(network: Network, tank: Reservoir, line: FluidState, level: Level, fluid: FluidState) -> float:
    """Total pressure of a reservoir's fluid, over the atmosphere and the datum, as the line has it [Pa]."""
    above = reservoirs.gauge(tank, level, network.layout.site)
    height = line_fluid.balanced_level(network.layout, tank.name, reservoirs.level(tank, level), fluid, line)
    return above + line.density * GRAVITY * height


def _demands(network: Network) -> dict[str, float]:
    """What each pump's node takes in [m³/s]."""
    demands: dict[str, float] = {}
    problems: list[tuple[str, str]] = []
    for name, pump in network.layout.pumps.items():
        try:
            demands[f"pump:{name}"] = 0.0 if pump.at_rest else pump_flow(pump)
        except NetworkError as error:
            problems += error.problems
            continue
        if not pump.at_rest and not demands[f"pump:{name}"] > 0:
            problems.append((name, "takes in no flow"))
    if problems:
        raise NetworkError(tuple(problems))
    return demands


def _up_the_tree(network: Network, demands: dict[str, float]) -> Floats:
    """Each row carries what its end needs."""
    if any(map(columns.is_column, demands.values())):
        return _summed(network, demands)
    return network.rows.joins.once(("flows", *demands.items()), lambda: _summed(network, demands))


def _summed(network: Network, demands: dict[str, float]) -> Floats:
    """Rows stand in walking order, so the last comes first."""
    needs = dict(demands)
    flows = [0.0] * len(network.rows)
    for i in range(len(flows) - 1, -1, -1):
        row = network.rows[i]
        flows[i] = needs.get(row.end, 0.0)
        needs[row.start] = needs[row.start] + flows[i] if row.start in needs else flows[i]
    return columns.table(flows)
