"""The ledger of each pump's inlet: what there is to spend, what spends it, what is left."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import partial
from operator import attrgetter
from typing import Any

from solver.formulas import flow as formulas
from solver.geometry import reservoirs
from solver.layout.parts import Layout, Level, Pump
from solver.ledger import acceleration, limit, parallel_paths, path, starting
from solver.ledger.acceleration import InertiaHead
from solver.ledger.limit import BudgetLine
from solver.ledger.path import Entry
from solver.ledger.resting import RestingPump, resting
from solver.network import build, line_fluid, losses, tees
from solver.network import flows as splitting
from solver.network.build import Floats, Network, NetworkError
from solver.network.row_cache import RowCache
from solver.properties import fluid
from solver.properties.fluid import FluidState
from solver.quantities import columns as figures
from solver.quantities.units import System
from solver.quantities.wording import ledger_absolute

__all__ = [
    "Balance",
    "BudgetLine",
    "Entry",
    "PumpLedger",
    "Solution",
    "balances",
    "pumps_in_turn",
    "solve",
    "solve_network",
]

EQUAL = 1e-6
"""Pressures this near are the same [Pa]."""

BOILS = 0.99
"""Share of the vapour pressure under which a fluid boils in its tank: one that is held at its boiling point
does not yet, nor where the two figures are rounded."""


@dataclass(frozen=True, slots=True)
class Balance:
    """What one pump has to spend and what is spent. Pressures [Pa], absolute unless named otherwise."""

    pump: str
    flow: float  # [m³/s]
    speed: float | None  # [rev/s]; None when only the flow is given
    atmosphere: float
    surface: float
    floor: float
    budget: float  # surface − floor
    spent: float
    margin: float  # budget − spent
    inlet: float  # static pressure at the port
    vacuum: float  # atmosphere − inlet: what a gauge at the port shows
    allowed_vacuum: float  # atmosphere − floor, the air above the standard left out
    npsh_available: float  # [m]; nan where nobody knows the fluid's vapour pressure
    npsh_required: float | None  # [m]; None unless the limit is given so
    lowest: float  # least static pressure anywhere on the way
    fluid_level: float  # elevation of the fluid's surface [m]
    line_level: float  # up to where the fluid of the line would stand [m]: as the surface, if as warm
    port_z: float  # elevation of the port [m]
    reservoir: str
    surface_lines: tuple[BudgetLine, ...]  # from the standard sea-level atmosphere to `surface`
    floor_lines: tuple[BudgetLine, ...]  # from the maker's figure to `floor`
    limit_estimated: bool
    density: float  # of the fluid [kg/m³]
    vapor_pressure: float  # of the fluid [Pa]
    limit_reaches: bool  # False where an estimate of the limit does not reach the pump's speed

    @property
    def within(self) -> bool:
        """True when what is spent stays within the budget. A port under enough fluid is within even where
        there is no budget above the fluid."""
        return self.margin >= 0

    @property
    def breaks(self) -> bool:
        """True when the fluid would boil somewhere on the way: its column breaks and does not flow so."""
        return self.lowest <= self.vapor_pressure

    @property
    def sound(self) -> bool:
        """True when it is within and its column holds."""
        return self.within and not self.breaks

    @property
    def shortfall(self) -> float:
        """Pressure that would bring the margin to zero [Pa]; 0 where it is within."""
        return max(-self.margin, 0.0)

    @property
    def flooded_head(self) -> float:
        """Height of the fluid level over the port [m]; negative for a lift."""
        return self.fluid_level - self.port_z


@dataclass(frozen=True, slots=True)
class PumpLedger(Balance):
    """One pump's inlet, from the surface to the port, element by element."""

    lowest_at: str  # key of the entry where `lowest` is
    entries: tuple[Entry, ...]  # walking order: flooded head if any, rows, acceleration head if any, port
    parallel_entries: tuple[Entry, ...]  # of lines in parallel with the walk; no part of its sum


@dataclass(frozen=True, slots=True)
class Solution:
    """Everything a view or a report shows of one drawing at one level."""

    layout: Layout
    level: Level
    atmosphere: float  # [Pa]
    elevation: float | None  # of the site [m], where it was given
    fluid: FluidState  # in the line
    tank_fluid: FluidState  # the same one where the line is as warm
    network: Network
    flows: Floats  # of each row [m³/s]
    drops: Floats  # of each row [Pa]
    pumps: Mapping[str, PumpLedger]  # those that run
    resting: Mapping[str, RestingPump] = field(default_factory=dict)

    def fluid_in(self, part: str) -> FluidState:
        """What a part of the line holds, on the unfavourable side where that is not clear."""
        if part in self.layout.intakes:
            return line_fluid.at_intakes(self.tank_fluid, self.fluid)
        return self.fluid


def solve(layout: Layout, level: Level = Level.MINIMUM, cache: RowCache | None = None) -> Solution:
    """From a drawing to its ledgers.

    Parameters: `layout`; `level`, a `Level`: where the fluid stands in every reservoir;
    `cache`, rows of parts that did not change since an earlier call with it.
    Raises NetworkError where there is no line to calculate, FluidError outside the fluid's data.
    """
    return solve_network(build.build(layout, cache), level)


def solve_network(
    built: Network, level: Level = Level.MINIMUM, alike: path.SharedResults | None = None
) -> Solution:
    """From a built network to its ledgers.

    Parameters and errors as `solve`; `alike`, what other cases of the drawing come to. The network's own
    layout says the site and the fluid, so that a change in those alone needs no new network. Its figures may
    be columns (see `columns`), and then so are those of the solution.
    """
    solved, layout = solved_network(built, level, alike), built.layout
    still = [pump for pump in layout.pumps.values() if pump.at_rest]
    return Solution(
        layout=layout,
        level=solved.level,
        atmosphere=limit.surface_pressure(layout.site).atmosphere,
        elevation=layout.site.elevation.si if layout.site.elevation is not None else None,
        fluid=solved.fluid,
        tank_fluid=solved.tank_fluid,
        network=solved.network,
        flows=solved.flow,
        drops=solved.drops.loss,
        pumps={name: _ledger(inlet) for name, inlet in _inlets(solved).items()},
        resting={pump.name: _resting(solved, pump) for pump in still},
    )


def balances(built: Network, level: Level = Level.MINIMUM, pump: str | None = None) -> Mapping[str, Balance]:
    """What each pump of a built network has to spend and spends, without the entries, which take longest.

    Parameters and errors as `solve_network`; `pump`, the only one that is wanted.
    """
    return {name: inlet.balance for name, inlet in _inlets(solved_network(built, level), pump).items()}


def pumps_in_turn(solved: path.SolvedNetwork) -> Iterator[PumpLedger | RestingPump]:
    """Each pump of a solved network, worked out when it is asked for. Raises NetworkError below a vacuum."""
    rising = starting.rises(solved.network, solved.flow, solved.forward)
    for pump in solved.network.layout.pumps.values():
        yield _resting(solved, pump) if pump.at_rest else _ledger(_inlet(solved, pump, rising))


def solved_network(
    built: Network, level: Level, alike: path.SharedResults | None = None
) -> path.SolvedNetwork:
    """A built network with its flows and what each row takes. Parameters and errors as `solve_network`."""
    alike = alike if alike is not None else path.SharedResults()
    layout = built.layout
    level = layout.level or level
    if above := reservoirs.intakes_above(layout, level, built.still_parts):
        raise NetworkError(above)
    tank = fluid.state(layout.fluid)
    state = fluid.line_state(layout.fluid, tank)
    held = line_fluid.with_fluids(built, tank, state)
    settled = splitting.settle(held, state, level, tank, partial(_with_split, alike, state))
    columns, flows = settled.network.columns, settled.flows
    fluid_of_line, once = (state.density, state.viscosity), settled.network.rows.joins.once
    drops = alike.of(
        "drops",
        (columns, flows, state),
        lambda: losses.drop(columns, flows, *fluid_of_line, slopes=False, heads=True, once=once),
    )
    return path.solved_network(settled.network, level, (state, tank), flows, drops, alike)


def _with_split(
    alike: path.SharedResults, state: FluidState, network: Network, flows: Floats, viscosity: float
) -> Network:
    """The network with the coefficients its tees have at these flows [m³/s] of a fluid [m²/s]."""
    if not network.tees:
        return network
    inputs = (network.rows, network.columns, flows, state)
    split = alike.of("split", inputs, lambda: tees.with_split(network, flows, viscosity))
    return replace(network, rows=split.rows, columns=split.columns)


@dataclass(frozen=True, slots=True)
class _Inlet:
    """One pump's way in, and what it comes to."""

    solved: path.SolvedNetwork
    route: list[int]
    port: path.Port
    charges: path.Charges
    inertia: tuple[InertiaHead, ...]
    balance: Balance


def _inlets(solved: path.SolvedNetwork, wanted: str | None = None) -> dict[str, _Inlet]:
    """The inlet of every pump that runs, or of the one that is wanted."""
    rising = starting.rises(solved.network, solved.flow, solved.forward)
    pumps = solved.network.layout.pumps
    return {
        name: _inlet(solved, pump, rising)
        for name, pump in pumps.items()
        if not pump.at_rest and wanted in (None, name)
    }


def _resting(solved: path.SolvedNetwork, pump: Pump) -> RestingPump:
    tank = path.route(solved, pump.name)[0]
    surface, fluid_level = fluid_surface(solved, tank)
    line_level = level_in_line(solved, tank, fluid_level)
    return resting(solved, pump, surface.pressure, (fluid_level, line_level), surface.atmosphere)


def _inlet(solved: path.SolvedNetwork, pump: Pump, rising: Floats | None) -> _Inlet:
    tank, route = path.route(solved, pump.name)
    surface, fluid_level = fluid_surface(solved, tank)
    inputs = (solved.feeding, solved.flow, solved.fluid, pump)
    port, floor = solved.alike.of("port and floor", inputs, lambda: _port_and_floor(solved, pump))
    line_level = level_in_line(solved, tank, fluid_level)
    charges = path.charges(solved, route, port, surface.pressure, line_level)
    heads = (
        acceleration.acceleration(solved, route, pump, port),
        starting.surge(solved, route, port, rising),
    )
    inertia = tuple(head for head in heads if head is not None)
    for head in inertia:
        charges = replace(charges, spent=charges.spent + head.loss)
    balance = _balance(
        solved.fluid, surface, floor, charges, port, inertia, pump, (fluid_level, line_level), tank
    )
    return _Inlet(solved, route, port, charges, inertia, balance)


def _port_and_floor(solved: path.SolvedNetwork, pump: Pump) -> tuple[path.Port, limit.Floor]:
    port, speed = path.port(solved, pump), pump.speed.si if pump.speed is not None else None
    dynamic = formulas.velocity_pressure.scalar(solved.fluid.density, port.velocity)
    return port, limit.floor(pump, solved.fluid, dynamic, speed, port.flow)


def fluid_surface(solved: path.SolvedNetwork, tank: str) -> tuple[limit.SurfacePressure, float]:
    """What stands on a reservoir's fluid, and the elevation of its surface [m].

    Raises NetworkError below a vacuum, and where the fluid boils in its tank.
    """
    reservoir, site = solved.network.layout.reservoirs[tank], solved.network.layout.site
    gauge = reservoir.pressure.si if reservoir.pressure is not None else 0.0
    change = reservoirs.pressure_change(reservoir, solved.level, site)
    surface = limit.surface_pressure(site, gauge, change)
    if surface.pressure <= 0.0:
        why = "site and pressure together leave less than a perfect vacuum over its fluid"
        raise NetworkError(((tank, why),))
    vapor = solved.tank_fluid.vapor_pressure
    if surface.pressure < vapor * BOILS:
        raise NetworkError(((tank, _boils(surface.pressure, vapor, solved.network.layout.units)),))
    return surface, reservoirs.level(reservoir, solved.level)


def _boils(surface: float, vapor: float, system: System) -> str:
    """Why there is no such state, with the figures of the first variant."""
    held, needed = (ledger_absolute(figures.first(each), system) for each in (surface, vapor))
    return f"its fluid boils: {held} is on it, and it boils under {needed}; cool it, or hold pressure on it"


def level_in_line(solved: path.SolvedNetwork, tank: str, fluid_level: float) -> float:
    """Up to where the fluid of the line would stand over a reservoir's intakes [m]."""
    layout = solved.network.layout
    return line_fluid.balanced_level(layout, tank, fluid_level, solved.tank_fluid, solved.fluid)


_sums = attrgetter(*(field.name for field in fields(Balance)))
"""The figures of a balance, which a ledger begins with."""


def _ledger(inlet: _Inlet) -> PumpLedger:
    solved, route, port, balance = inlet.solved, inlet.route, inlet.port, inlet.balance
    entries = path.entries(
        solved, route, inlet.charges, port, balance.surface, balance.line_level, balance.budget
    )
    lowest = _lowest_at(inlet, entries)
    for head in inlet.inertia:
        *before, last = entries
        entries = (*before, acceleration.entry(head, port, before[-1], balance.budget), last)

    def surface(tank: str) -> tuple[float, float]:
        above, level = fluid_surface(solved, tank)
        return above.pressure, level_in_line(solved, tank, level)

    others = parallel_paths.entries(solved, route, port, balance.budget, surface)
    values: Any = (*_sums(balance), lowest, entries, others)
    return PumpLedger(*values)


def _lowest_at(inlet: _Inlet, entries: tuple[Entry, ...]) -> str:
    """The key of the entry where the pressure is least, with what is missing there for inertia.

    Of equal ones the last: where nothing is lower than the port, the port is meant.
    """
    missing: dict[str, float] = {}
    for head in inlet.inertia:
        for i, loss in zip(inlet.route, figures.by_row(head.so_far), strict=True):
            key = inlet.solved.network.rows[i].key
            missing[key] = missing.get(key, 0.0) + loss
    least = inlet.balance.lowest + EQUAL
    return next(
        entry.key for entry in reversed(entries) if entry.pressure - missing.get(entry.key, 0.0) <= least
    )


def _npsh_available(inlet: float, velocity: float, state: FluidState) -> float:
    if "vapor_pressure" in state.unknown:
        return math.nan
    return formulas.npsh_available.scalar(inlet, state.density, velocity, state.vapor_pressure)


def _balance(
    state: FluidState,
    surface: limit.SurfacePressure,
    floor: limit.Floor,
    charges: path.Charges,
    port: path.Port,
    inertia: tuple[InertiaHead, ...],
    pump: Pump,
    levels: tuple[float, float],
    tank: str,
) -> Balance:
    budget = formulas.budget.scalar(surface.pressure, floor.pressure)
    inlet = formulas.inlet_pressure.scalar(surface.pressure, charges.spent)
    pressure = charges.pressure
    for head in inertia:
        pressure, so_far = figures.aligned((pressure, head.so_far), ())
        pressure = pressure - so_far
    return Balance(
        pump=port.pump,
        flow=port.flow,
        speed=pump.speed.si if pump.speed is not None else None,
        atmosphere=surface.atmosphere,
        surface=surface.pressure,
        floor=floor.pressure,
        budget=budget,
        spent=charges.spent,
        margin=formulas.margin.scalar(budget, charges.spent),
        inlet=inlet,
        vacuum=formulas.inlet_vacuum.scalar(surface.atmosphere, inlet),
        allowed_vacuum=limit.allowed_vacuum(pump).scalar(surface.atmosphere, floor.pressure),
        npsh_available=_npsh_available(inlet, port.velocity, state),
        npsh_required=floor.npsh_required,
        lowest=figures.least(figures.lowest(pressure), inlet),
        fluid_level=levels[0],
        line_level=levels[1],
        port_z=port.z,
        reservoir=tank,
        surface_lines=surface.lines,
        floor_lines=floor.lines,
        limit_estimated=floor.estimated,
        density=state.density,
        vapor_pressure=state.vapor_pressure,
        limit_reaches=floor.reaches,
    )
