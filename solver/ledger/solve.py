"""The ledger of each pump's inlet: what there is to spend, what spends it, what is left."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from solver.formulas import flow as formulas
from solver.formulas.flow import GRAVITY
from solver.geometry import reservoirs
from solver.layout.parts import FluidChoice, Layout, Level, Pump
from solver.ledger import acceleration, limit, parallel_paths, path, starting
from solver.ledger.limit import BudgetLine
from solver.ledger.path import Entry
from solver.ledger.resting import RestingPump, resting
from solver.network import build, losses
from solver.network import flows as splitting
from solver.network.build import Floats, Network, NetworkError
from solver.network.row_cache import RowCache
from solver.properties import fluid
from solver.properties.fluid import FluidError, FluidState
from solver.quantities import columns as figures
from solver.quantities.units import Kind, Quantity, System, number, said
from solver.quantities.wording import broken, gauge, is_none, not_none, told

__all__ = [
    "BudgetLine",
    "ColdStart",
    "Entry",
    "PumpLedger",
    "Solution",
    "shortage",
    "solve",
    "solve_network",
    "trouble",
    "verdict",
]

EQUAL = 1e-6
"""Pressures this near are the same [Pa]."""


@dataclass(frozen=True, slots=True)
class PumpLedger:
    """One pump's inlet, from the surface to the port. Pressures [Pa], absolute unless named otherwise."""

    pump: str
    flow: float  # [m³/s]
    speed: float  # [rev/s]; nan when only the flow is given
    atmosphere: float
    surface: float
    floor: float
    budget: float  # surface − floor
    spent: float
    margin: float  # budget − spent
    inlet: float  # static pressure at the port
    vacuum: float  # atmosphere − inlet: what a gauge at the port shows
    allowed_vacuum: float  # atmosphere − floor
    npsh_available: float  # [m]
    npsh_required: float  # [m]; nan unless the limit is given so
    lowest: float  # least static pressure anywhere on the way
    lowest_at: str  # key of the entry where it is
    level: float  # fluid level used [m]
    reservoir: str
    surface_lines: tuple[BudgetLine, ...]  # from the standard sea-level atmosphere to `surface`
    floor_lines: tuple[BudgetLine, ...]  # from the maker's figure to `floor`
    limit_estimated: bool
    entries: tuple[Entry, ...]  # walking order: flooded head if any, rows, acceleration head if any, port
    density: float = math.nan  # of the fluid [kg/m³]
    beside: tuple[Entry, ...] = ()  # of lines in parallel with the walk; no part of its sum
    vapor_pressure: float = 0.0  # of the fluid [Pa]
    limit_reaches: bool = True  # False where an estimate of the limit does not reach the pump's speed

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
        return self.level - self.entries[-1].z

    @property
    def flooded_head_needed(self) -> float:
        """The same at which the margin is zero, the line staying as it is [m]."""
        return self.flooded_head - self.margin / (self.density * GRAVITY)


@dataclass(frozen=True, slots=True)
class ColdStart:
    """The same drawing at its coldest start: at full flow, and at the same level."""

    temperature: float  # of the fluid [K]
    pumps: Mapping[str, PumpLedger]  # empty where it cannot be calculated
    error: FluidError | NetworkError | None = None  # why it cannot

    @property
    def refusal(self) -> str:
        """Why it cannot be calculated; empty where it can."""
        return "" if self.error is None else str(self.error)

    def refused(self, system: System) -> str:
        """The same, its figures in the units of a system."""
        return "" if self.error is None else told(self.error, system)


@dataclass(frozen=True)  # without slots: the cold start is kept with it
class Solution:
    """Everything a view or a report shows of one drawing at one level."""

    layout: Layout
    level: Level
    atmosphere: float  # [Pa]
    elevation: float | None  # of the site [m], where it was given
    fluid: FluidState
    network: Network
    flows: Floats  # of each row [m³/s]
    drops: Floats  # of each row [Pa]
    pumps: Mapping[str, PumpLedger]  # those that run
    resting: Mapping[str, RestingPump] = field(default_factory=dict)

    @cached_property
    def cold_start(self) -> ColdStart | None:
        """The ledgers at the coldest start; None where none is given that is colder than the fluid now."""
        return _cold_start(self)

    def cold(self, pump: str) -> PumpLedger | None:
        """One pump's ledger at the coldest start, where there is one and it can be calculated."""
        return self.cold_start.pumps.get(pump) if self.cold_start is not None else None


def _cold_start(solution: Solution) -> ColdStart | None:
    layout = solution.layout
    coldest = layout.fluid.coldest_start
    if coldest is None or not coldest.si < solution.fluid.temperature:
        return None
    if layout.fluid.has_one_viscosity:
        return ColdStart(coldest.si, {}, _one_viscosity(layout.fluid))
    cold = replace(layout, fluid=replace(layout.fluid, temperature=coldest))
    try:
        solved = solve_network(replace(solution.network, layout=cold), solution.level)
    except (FluidError, NetworkError) as error:
        return ColdStart(coldest.si, {}, error)
    return ColdStart(coldest.si, {name: solved.pumps[name] for name in solution.pumps})


def _one_viscosity(choice: FluidChoice) -> FluidError:
    assert isinstance(choice.viscosity, Quantity)
    return FluidError(
        "the one viscosity typed, {viscosity}, is that at {now}; type it at two temperatures",
        viscosity=(choice.viscosity.si, Kind.VISCOSITY),
        now=(choice.temperature.si, Kind.TEMPERATURE),
    )


def solve(layout: Layout, level: Level = Level.MINIMUM, cache: RowCache | None = None) -> Solution:
    """From a drawing to its ledgers.

    Parameters: `layout`; `level`, a `Level`: where the fluid stands in every reservoir;
    `cache`, rows of parts that did not change since an earlier call with it.
    Raises NetworkError where there is no line to calculate, FluidError outside the fluid's data.
    """
    return solve_network(build.build(layout, cache), level)


def solve_network(built: Network, level: Level = Level.MINIMUM, *, itemised: bool = True) -> Solution:
    """From a built network to its ledgers.

    Parameters and errors as `solve`. The network's own layout says the site and the fluid, so that a change
    in those alone needs no new network. Its figures may be columns (see `figures`), and then so are those of
    the solution. Not `itemised`: ledgers without entries, which spares the making of them.
    """
    layout = built.layout
    level = layout.level or level
    if above := reservoirs.intakes_above(layout, level, built.still_parts):
        raise NetworkError(above)
    state = fluid.state(layout.fluid)
    settled = splitting.settle(built, state, level)
    columns, flows = settled.network.columns, settled.flows
    drops = losses.drop(columns, flows, state.density, state.viscosity, slopes=False, heads=True)
    stream = path.gather(settled.network, level, state, flows, drops)
    rising = starting.rises(settled.network, flows, stream.forward)
    running = {name: pump for name, pump in layout.pumps.items() if not pump.at_rest}
    still = {name: pump for name, pump in layout.pumps.items() if pump.at_rest and itemised}
    return Solution(
        layout=layout,
        level=level,
        atmosphere=limit.surface(layout.site).atmosphere,
        elevation=layout.site.elevation.si if layout.site.elevation is not None else None,
        fluid=state,
        network=settled.network,
        flows=flows,
        drops=drops.loss,
        pumps={name: _pump_ledger(stream, pump, itemised, rising) for name, pump in running.items()},
        resting={name: _resting(stream, pump) for name, pump in still.items()},
    )


Extra = acceleration.Acceleration | starting.Surge
"""What is missing at a port because the fluid has to follow the pump."""


def _resting(stream: path.Stream, pump: Pump) -> RestingPump:
    site, level = _above(stream, path.route(stream, pump.name)[0])
    return resting(stream, pump, site.pressure, level, site.atmosphere)


def _pump_ledger(stream: path.Stream, pump: Pump, itemised: bool, rising: Floats | None) -> PumpLedger:
    tank, route = path.route(stream, pump.name)
    site, level = _above(stream, tank)
    port = path.port(stream, pump)
    speed = pump.speed.si if pump.speed is not None else math.nan
    floor = limit.floor(pump, stream.fluid, port.loss, speed, port.flow)
    taken = path.take(stream, route, port, site.pressure, level)
    both = (
        acceleration.acceleration(stream, route, pump, port),
        starting.surge(stream, route, port, rising),
    )
    extra = tuple(each for each in both if each is not None)
    for each in extra:
        taken = replace(taken, spent=taken.spent + each.loss)
    found = _balance(stream.fluid, site, floor, taken, port, extra, speed=speed, level=level, tank=tank)
    return _itemised(found, stream, route, taken, port, extra) if itemised else found


def _above(stream: path.Stream, tank: str) -> tuple[limit.Surface, float]:
    """What stands on a reservoir's fluid, and its level [m]. Raises NetworkError below a vacuum."""
    reservoir, site = stream.network.layout.reservoirs[tank], stream.network.layout.site
    gauge = reservoir.pressure.si if reservoir.pressure is not None else 0.0
    change = reservoirs.pressure_change(reservoir, stream.level, site)
    found = limit.surface(site, gauge, change)
    if found.pressure <= 0.0:
        why = "site and pressure together leave less than a perfect vacuum over its fluid"
        raise NetworkError(((tank, why),))
    return found, reservoirs.level(reservoir, stream.level)


def _itemised(
    found: PumpLedger,
    stream: path.Stream,
    route: list[int],
    taken: path.Taken,
    port: Entry,
    extra: tuple[Extra, ...],
) -> PumpLedger:
    entries = path.entries(stream, route, taken, port, found.surface, found.level, found.budget)
    least = {entry.key: entry.pressure for entry in entries}
    for each in extra:
        entries = _with_extra(entries, each, found.budget)
        for i, taken_there in zip(route, figures.by_row(each.so_far), strict=True):
            least[stream.network.rows[i].key] -= taken_there
    # Of equal ones the last: where nothing is lower than the port, the port is meant.
    lowest = next(key for key in reversed(least) if least[key] <= found.lowest + EQUAL)

    def surface(tank: str) -> tuple[float, float]:
        site, level = _above(stream, tank)
        return site.pressure, level

    others = parallel_paths.entries(stream, route, port, found.budget, surface)
    return replace(found, entries=entries, beside=others, lowest_at=lowest)


def _with_extra(entries: tuple[Entry, ...], extra: Extra, budget: float) -> tuple[Entry, ...]:
    """The entries with what the fluid's own motion takes before the port."""
    *rest, before, port = entries
    share = extra.loss / budget if budget > 0 else math.nan
    pressure = before.pressure - extra.loss
    entry = replace(extra.entry, share=share, pressure=pressure, distance=before.distance)
    return (*rest, before, entry, port)


def _balance(
    state: FluidState,
    site: limit.Surface,
    floor: limit.Floor,
    taken: path.Taken,
    port: Entry,
    extra: tuple[Extra, ...],
    *,
    speed: float,
    level: float,
    tank: str,
) -> PumpLedger:
    budget = formulas.budget.scalar(site.pressure, floor.pressure)
    inlet = formulas.inlet_pressure.scalar(site.pressure, taken.spent)
    pressure = taken.pressure
    for each in extra:
        pressure, so_far = figures.aligned((pressure, each.so_far), ())
        pressure = pressure - so_far
    return PumpLedger(
        pump=port.part,
        flow=port.flow,
        speed=speed,
        atmosphere=site.atmosphere,
        surface=site.pressure,
        floor=floor.pressure,
        budget=budget,
        spent=taken.spent,
        margin=formulas.margin.scalar(budget, taken.spent),
        inlet=inlet,
        vacuum=formulas.inlet_vacuum.scalar(site.atmosphere, inlet),
        allowed_vacuum=formulas.allowed_vacuum.scalar(site.atmosphere, floor.pressure),
        npsh_available=formulas.npsh_available.scalar(
            inlet, port.k, state.density, port.velocity, state.vapor_pressure
        ),
        npsh_required=floor.npsh_required,
        lowest=figures.least(figures.lowest(pressure), inlet),
        lowest_at="",
        level=level,
        reservoir=tank,
        surface_lines=site.lines,
        floor_lines=floor.lines,
        limit_estimated=floor.estimated,
        limit_reaches=floor.reaches,
        entries=(),
        density=state.density,
        vapor_pressure=state.vapor_pressure,
    )


def verdict(ledger: PumpLedger, system: System) -> str:
    """One sentence: within or over, and by how much.

    Parameters: `ledger`; `system`, in whose units. A limit given as NPSH is judged in head, any other as
    the vacuum that a gauge at the port shows.
    """
    if ledger.breaks and (ledger.budget > 0 or ledger.within):
        return _capital(trouble(ledger, system))
    if ledger.budget <= 0:
        return _without_budget(ledger, system)
    if not ledger.within:
        return _capital(trouble(ledger, system))
    if _by_head(ledger):
        available = said(ledger.npsh_available, Kind.HEAD, system)
        return f"Within: {available} of NPSH, {said(ledger.npsh_required, Kind.HEAD, system)} required"
    at_rest = is_none(ledger.vacuum, Kind.VACUUM, system)
    if ledger.vacuum >= 0 and not at_rest:
        spent = number(ledger.vacuum, Kind.VACUUM, system)
        return f"Within: {spent} of {said(ledger.allowed_vacuum, Kind.VACUUM, system)} allowed here"
    reading = gauge(ledger.vacuum, system) + (" at the port" if at_rest else "")
    if ledger.allowed_vacuum < 0:
        return f"Within: {reading}, {said(-ledger.allowed_vacuum, Kind.VACUUM, system)} needed here"
    return f"Within: {reading}, {not_none(ledger.allowed_vacuum, Kind.VACUUM, system)} of vacuum allowed here"


def trouble(ledger: PumpLedger, system: System) -> str:
    """What is wrong with a pump that is not sound, as the end of a sentence: "over by 1.2 inHg"."""
    if ledger.breaks:
        at_port = ledger.inlet <= ledger.vapor_pressure
        where = "before the port" if at_port else "on the way"
        pressure = ledger.inlet if at_port else ledger.lowest
        return f"the column of fluid breaks {where}: {broken(pressure, ledger.vapor_pressure, system)}"
    return shortage(ledger, system)


def shortage(ledger: PumpLedger, system: System) -> str:
    """How far a pump is past its budget, as the end of a sentence, whether its column holds or not."""
    if ledger.budget <= 0:
        return f"{not_none(ledger.shortfall, Kind.VACUUM, system)} short of what it needs"
    if _by_head(ledger):
        short = ledger.shortfall / (ledger.density * GRAVITY)
        return f"over by {not_none(short, Kind.HEAD, system)} of NPSH"
    return f"over by {not_none(ledger.shortfall, Kind.VACUUM, system)}"


def _by_head(ledger: PumpLedger) -> bool:
    return not math.isnan(ledger.npsh_required)


def _capital(sentence: str) -> str:
    return sentence[0].upper() + sentence[1:]


def _without_budget(ledger: PumpLedger, system: System) -> str:
    needed = not_none(ledger.flooded_head_needed, Kind.HEAD, system)
    if ledger.within:
        head = said(ledger.flooded_head, Kind.HEAD, system)
        return f"Within: {head} of flooded head, {needed} needed here"
    pressure = not_none(ledger.shortfall, Kind.VACUUM, system)
    return f"No lift works here: it takes {needed} of flooded head, or {pressure} more on the reservoir"
