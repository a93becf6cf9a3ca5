"""The way of the fluid to a pump: the elements in walking order, with what each takes and leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from itertools import repeat
from typing import Any, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from solver.formulas import flow as formulas
from solver.formulas.flow import LAMINAR_END, TURBULENT_START
from solver.geometry import outline
from solver.layout.parts import Level, Pump
from solver.network import losses
from solver.network.build import Floats, Network, NetworkError, Row
from solver.network.fittings import takes_more
from solver.network.rows import RowKind
from solver.network.ways import Way
from solver.properties.fluid import FluidState
from solver.quantities import columns as figures

Ints = NDArray[np.intp]
T = TypeVar("T")


class HeadEntryKind(StrEnum):
    """What an entry is that is no row: a head of the fluid itself."""

    FLOODED = "flooded head"  # of the fluid over the port
    ACCELERATION = "acceleration head"  # of a pump's strokes
    FLOW_RISE = "flow rise"  # what it takes to set the fluid in motion
    PORT = "port"  # the velocity head at it


EntryKind = RowKind | HeadEntryKind


class Entry(NamedTuple):
    """What one element takes from the inlet budget. Pressures [Pa], absolute."""

    key: str  # the row's key; "tank/flooded head" and "carriage/port" for the two that are no row
    part: str
    element: str
    kind: EntryKind
    flow: float  # [m³/s], negative where it runs against the row
    bore: float  # [m]
    length: float  # [m]
    velocity: float  # [m/s]
    reynolds: float | None  # None of a head that no one place of the line takes
    friction_factor: float | None  # Darcy; None where there is no length
    k: float | None  # k_inf + k_re/Re; None of a head that no one place takes
    lift: float  # [Pa], negative for a credit
    loss: float  # [Pa]
    share: float | None  # (lift + loss) / budget; None when the budget is not positive
    pressure: float  # static, at the end of the element, with its own velocity head taken off [Pa]
    distance: float  # developed length from the intake to the end of the element [m]
    z: float  # elevation of its end [m]
    at_least: str = ""  # what is missing of it, so that it takes at least `loss`; empty: nothing

    @property
    def transitional(self) -> bool:
        """Whether its flow is neither laminar nor turbulent."""
        return self.reynolds is not None and LAMINAR_END < self.reynolds < TURBULENT_START


_entry: Callable[[tuple[Any, ...]], Entry] = partial(tuple.__new__, Entry)
"""An entry of its figures in order: what `Entry._make` gives, which takes several times as long."""


@dataclass(frozen=True, slots=True)
class Port:
    """A pump's inlet port, and the velocity head at it, which no row holds."""

    pump: str
    flow: float  # [m³/s]
    bore: float  # [m]
    velocity: float  # [m/s]
    reynolds: float
    kinetic_factor: float
    loss: float  # the velocity head [Pa]
    z: float  # [m]


class SharedResults:
    """What cases of one drawing come to alike, worked out for the first of them."""

    def __init__(self) -> None:
        # With the very objects that it follows from, so that no other gets the identity of one.
        self._kept: dict[tuple[object, ...], tuple[tuple[object, ...], Any]] = {}

    def of(self, what: str, inputs: tuple[object, ...], work_out: Callable[[], T]) -> T:
        """What follows from some inputs, which are distinguished by identity."""
        key = (what, *map(id, inputs))
        kept = self._kept.get(key)
        if kept is None:
            kept = self._kept[key] = inputs, work_out()
        value: T = kept[1]
        return value


@dataclass(frozen=True, slots=True)
class SolvedNetwork:
    """A network with its flows; its tables are (rows,), or (rows, variants)."""

    network: Network
    level: Level
    fluid: FluidState  # in the line
    tank_fluid: FluidState
    flow: Floats  # [m³/s]
    drops: losses.Drops  # with its velocity heads
    forward: tuple[bool, ...]  # whether the flow runs along the row
    feeding: Mapping[str, list[int]]  # the rows that bring fluid to each node
    alike: SharedResults  # with other cases of the drawing


@dataclass(frozen=True, slots=True)
class Charges:
    """What the elements on the way to a pump take, in walking order; tables as in a solved network [Pa]."""

    lift: Floats
    loss: Floats
    pressure: Floats  # static, at the end of each, with its own velocity head taken off
    credit: float  # of the fluid standing over the port; 0 where the port is above the fluid
    spent: float  # all of it together, with the velocity head at the port


def solved_network(
    built: Network,
    level: Level,
    fluids: tuple[FluidState, FluidState],
    flow: Floats,
    drops: losses.Drops,
    alike: SharedResults,
) -> SolvedNetwork:
    """A network with its flows, and which rows bring fluid to each node.

    Parameters: `level`, a `Level`; `fluids` in the line and in the tank; `flow` of each row [m³/s]; `drops`
    at that flow; `alike`, what other cases of the drawing come to.
    """
    forward = tuple(figures.agreed(flow >= 0))
    feeding = built.rows.joins.once(("feeding", forward), lambda: _feeding(built.rows, forward))
    return SolvedNetwork(built, level, *fluids, flow, drops, forward, feeding, alike)


def _feeding(rows: Sequence[Row], forward: Sequence[bool]) -> Mapping[str, list[int]]:
    feeding: dict[str, list[int]] = {}
    for i, row in enumerate(rows):
        feeding.setdefault(row.end if forward[i] else row.start, []).append(i)
    return feeding


def route(solved: SolvedNetwork, pump: str) -> tuple[str, list[int]]:
    """The reservoir, and the rows from there to a pump in walking order.

    Where several paths lead to the pump, the one that carries the largest flow. All of them take the same
    from the surface to the node where they meet, so the ledger's sums do not hang on the choice.
    Raises NetworkError where no fluid reaches the pump.
    """
    if solved.network.closures:
        return _route(solved, pump)
    return solved.network.rows.joins.once(("route", pump, solved.forward), lambda: _route(solved, pump))


def _route(solved: SolvedNetwork, pump: str) -> tuple[str, list[int]]:
    rows, forward, feeding_of, most = solved.network.rows, solved.forward, solved.feeding, len(solved.forward)
    node = f"pump:{pump}"
    upstream: list[int] = []
    while not node.startswith("reservoir:"):
        feeding = feeding_of.get(node)
        if not feeding or len(upstream) > most:
            raise NetworkError(((pump, "no fluid reaches it from a reservoir"),))
        widest = feeding[0] if len(feeding) == 1 else max(feeding, key=lambda i: abs(_flow(solved, i)))
        upstream.append(widest)
        node = rows[widest].start if forward[widest] else rows[widest].end
    return node.removeprefix("reservoir:"), upstream[::-1]


def _flow(solved: SolvedNetwork, row: int) -> float:
    return figures.by_row(solved.flow[row : row + 1])[0]


def port(solved: SolvedNetwork, pump: Pump) -> Port:
    """The port of a pump, and the velocity head at it."""
    flow = sum(abs(_flow(solved, i)) for i in solved.feeding.get(f"pump:{pump.name}", ()))
    given = flow, outline.bore(pump), solved.fluid.density, solved.fluid.viscosity
    if any(map(figures.is_column, given)):  # a column is no key
        motion = _port_motion(*given)
    else:
        motion = solved.network.rows.joins.once(("port", *given), partial(_port_motion, *given))
    return Port(pump.name, *given[:2], *motion, z=pump.at[1].si)


def _port_motion(
    flow: float, bore: float, density: float, viscosity: float
) -> tuple[float, float, float, float]:
    """Velocity, Reynolds number, kinetic factor and velocity head at a port, wherever it stands."""
    velocity = formulas.velocity.scalar(flow, bore)
    reynolds = formulas.reynolds.scalar(velocity, bore, viscosity)
    alpha = losses.kinetic_factor(reynolds)
    velocity_pressure = formulas.velocity_pressure.scalar(density, velocity)
    return velocity, reynolds, alpha, formulas.velocity_head.scalar(alpha, velocity_pressure)


def charges(
    solved: SolvedNetwork, route: list[int], port: Port, surface: float, fluid_level: float
) -> Charges:
    """What the elements of a route take.

    Parameters: `route`, row numbers in walking order; `port`, of `port`; `surface`, absolute pressure on the
    fluid [Pa]; `level` of the fluid [m].
    """
    at, columns, drops = _places(solved, route), solved.network.columns, solved.drops
    density, surface, fluid_level = (
        figures.as_array(x) for x in (solved.fluid.density, surface, fluid_level)
    )
    z_in, z_out, loss, head = figures.aligned(
        (columns["z_in"][at], columns["z_out"][at], drops.loss[at], drops.velocity_head[at]),
        (density, surface, fluid_level),
    )
    if not all(solved.forward) and not all(solved.forward[i] for i in route):
        back = ~np.array([solved.forward[i] for i in route]).reshape(-1, *[1] * (loss.ndim - 1))
        z_in, z_out = np.where(back, z_out, z_in), np.where(back, z_in, z_out)
        loss = np.where(back, -loss, loss)
    lift = _lift(density, z_in, z_out, fluid_level)
    lost = figures.running_total(loss)
    pressure = formulas.static_pressure.array(surface, density, fluid_level, z_out, lost, head)
    credit = formulas.static_lift.scalar(density, figures.largest(fluid_level - port.z, 0.0))
    spent = figures.total(lift + loss) - credit + port.loss
    return Charges(np.asarray(lift), loss, np.asarray(pressure), credit, spent)


def _lift(density: float, z_in: Floats, z_out: Floats, fluid_level: float) -> Floats:
    """Lift of every row; of variants of one shape, worked out for those alone that rise or fall [Pa]."""
    if z_in.ndim == 1 or z_in.shape[1] > 1 or z_out.shape[1] > 1:
        return formulas.static_lift.array(density, formulas.rise.array(z_in, z_out, fluid_level))
    rows = np.flatnonzero((z_in != z_out).any(axis=1))
    rise = formulas.rise.array(z_in[rows], z_out[rows], fluid_level)
    lift_of_rows = formulas.static_lift.array(density, rise)
    lift = np.zeros((len(z_in), lift_of_rows.shape[1]))
    lift[rows] = lift_of_rows
    return lift


def _places(solved: SolvedNetwork, route: list[int]) -> slice | Ints:
    """The rows of a route in a table; the table as it is where the route holds all of them in turn."""
    whole = len(solved.network.rows)
    in_turn = len(route) == whole and route == list(range(whole))
    return slice(None) if in_turn else np.array(route)


def entries(
    solved: SolvedNetwork,
    route: list[int],
    charges: Charges,
    port: Port,
    surface: float,
    fluid_level: float,
    budget: float,
) -> tuple[Entry, ...]:
    """The entries of one pump: the flooded head if there is one, the rows, the port.

    Parameters: `route`, row numbers in walking order; `charges`, of `charges`; `port`, of `port`; `surface`,
    absolute pressure on the fluid [Pa]; `level` of the fluid [m]; `budget` [Pa].
    """
    shared = budget if budget > 0 else None
    flooded: list[Entry] = []
    if port.z < fluid_level:
        flooded.append(_flooded_head(port, surface, charges.credit, shared, _reservoir(solved, route)))
    way = solved.network.rows.way(route, [solved.forward[i] for i in route])
    figures_of_rows = _entry_figures(solved, route, charges, shared, way)
    rows = zip(
        *way.name_columns, *figures_of_rows, way.distances, way.end_elevations, repeat(""), strict=False
    )
    elements = list(map(_entry, rows))
    for place in way.lacking:
        elements[place] = _reserved(elements[place], way.rows[place], solved.drops.bypassed[route[place]])
    port_entry = _port_entry(port, surface - charges.spent, shared, way.distances[-1])
    return (*flooded, *elements, port_entry)


Walk = tuple[tuple[Entry, ...], Way]
"""The entries of a walk that are rows, and the way that these rows make."""


def way_of(network: Network, entries: Sequence[Entry]) -> Walk:
    """The entries of a walk that are rows, and the way that these rows make."""
    elements = tuple([entry for entry in entries if entry.key in network.index])
    route = [network.index[entry.key] for entry in elements]
    return elements, network.rows.way(route, [entry.flow >= 0 for entry in elements])


def _reservoir(solved: SolvedNetwork, route: list[int]) -> str:
    first = solved.network.rows[route[0]]
    return (first.start if solved.forward[route[0]] else first.end).removeprefix("reservoir:")


def _entry_figures(
    solved: SolvedNetwork, route: list[int], charges: Charges, budget: float | None, way: Way
) -> Iterator[Sequence[float | None]]:
    """Flow to pressure of an entry, each for the whole route."""
    inputs = (solved.flow, solved.drops, way)
    yield from solved.alike.of("figures of the flow", inputs, lambda: _figures_of_flow(solved, route, way))
    yield figures.by_row(charges.lift)
    yield figures.by_row(charges.loss)
    if budget is None:
        yield [None] * len(route)
    else:
        lift, loss = figures.aligned((charges.lift, charges.loss), (budget,))
        yield figures.by_row(formulas.share.array(lift, loss, budget))
    yield figures.by_row(charges.pressure)


def _figures_of_flow(solved: SolvedNetwork, route: list[int], way: Way) -> list[Sequence[float | None]]:
    """Flow to K of an entry, each for the whole route."""
    at, drops = _places(solved, route), solved.drops
    friction: list[float | None] = [*figures.by_row(drops.wall_friction[at])]
    for place in way.lengthless:
        friction[place] = None
    return [
        figures.by_row(solved.flow[at]),
        *way.size_columns,
        figures.by_row(np.abs(drops.velocity[at])),
        figures.by_row(drops.reynolds[at]),
        friction,
        figures.by_row(drops.k[at]),
    ]


def _reserved(entry: Entry, row: Row, bypassed: np.bool_) -> Entry:
    """An entry that says what is missing of its row, where that counts."""
    reynolds, parts, opened = (
        entry.reynolds or 0.0,
        _viscous_over_inertial(entry, row),
        bool(bypassed.any()),
    )
    missing = [lack for lack in row.lacks if takes_more(lack, reynolds, opened, parts)]
    return entry._replace(at_least="; ".join(missing)) if missing else entry


def _viscous_over_inertial(entry: Entry, row: Row) -> float:
    """The viscous part of a row's drop over the inertial part; 1 where it has not both, or nothing flows."""
    if not (row.viscous and row.inertial and entry.reynolds and entry.velocity and entry.flow):
        return 1.0
    viscosity = entry.velocity * row.bore / entry.reynolds
    return abs(row.viscous * viscosity / (row.inertial * entry.flow))


def _port_entry(port: Port, inlet: float, budget: float | None, distance: float) -> Entry:
    """The velocity head at the port."""
    return Entry(
        key=f"{port.pump}/port",
        part=port.pump,
        element="port",
        kind=HeadEntryKind.PORT,
        flow=port.flow,
        bore=port.bore,
        length=0.0,
        velocity=port.velocity,
        reynolds=port.reynolds,
        friction_factor=None,
        k=port.kinetic_factor,
        lift=0.0,
        loss=port.loss,
        share=None if budget is None else formulas.share.scalar(0.0, port.loss, budget),
        pressure=inlet,
        distance=distance,
        z=port.z,
    )


def _flooded_head(port: Port, surface: float, credit: float, budget: float | None, tank: str) -> Entry:
    """What the fluid standing over the port gives."""
    return Entry(
        key=f"{tank}/flooded head",
        part=tank,
        element="flooded head",
        kind=HeadEntryKind.FLOODED,
        flow=port.flow,
        bore=0.0,
        length=0.0,
        velocity=0.0,
        reynolds=0.0,
        friction_factor=None,
        k=0.0,
        lift=-credit,
        loss=0.0,
        share=None if budget is None else formulas.share.scalar(-credit, 0.0, budget),
        pressure=surface + credit,
        distance=0.0,
        z=port.z,
    )
