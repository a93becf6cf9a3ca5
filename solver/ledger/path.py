"""The way of the fluid to a pump: the elements in walking order, with what each takes and leaves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from solver.formulas import flow as formulas
from solver.geometry import outline
from solver.layout.parts import Level, Pump
from solver.network import losses
from solver.network.build import Floats, Network, NetworkError, Row
from solver.network.rows import RowKind
from solver.properties.fluid import FluidState
from solver.quantities import columns as figures

Ints = NDArray[np.intp]


class HeadKind(StrEnum):
    """What an entry is that is no row: a head of the fluid itself."""

    FLOODED = "flooded head"  # of the fluid over the port
    ACCELERATION = "acceleration head"  # of a pump's strokes
    FLOW_RISE = "flow rise"  # what it takes to set the fluid in motion
    PORT = "port"  # the velocity head at it


EntryKind = RowKind | HeadKind


@dataclass(frozen=True, slots=True)
class Entry:
    """What one element takes from the inlet budget. Pressures [Pa], absolute."""

    key: str  # the row's key; "tank/flooded head" and "carriage/port" for the two that are no row
    part: str
    element: str
    kind: EntryKind
    flow: float  # [m³/s], negative where it runs against the row
    bore: float  # [m]
    length: float  # [m]
    velocity: float  # [m/s]
    reynolds: float
    friction_factor: float  # Darcy; nan where there is no length
    k: float  # k_inf + k_re/Re
    lift: float  # [Pa], negative for a credit
    loss: float  # [Pa]
    share: float  # (lift + loss) / budget; nan when the budget is not positive
    pressure: float  # static, at the end of the element, with its own velocity head taken off [Pa]
    distance: float  # developed length from the intake to the end of the element [m]
    z: float  # elevation of its end [m]


@dataclass(frozen=True, slots=True)
class Stream:
    """One solved network; its tables are (rows,), or (rows, variants)."""

    network: Network
    level: Level
    fluid: FluidState
    flow: Floats  # [m³/s]
    drops: losses.Drops  # with its velocity heads
    forward: list[bool]  # whether the flow runs along the row
    feeding: Mapping[str, list[int]]  # the rows that bring fluid to each node


@dataclass(frozen=True, slots=True)
class Taken:
    """What the elements on the way to a pump take, in walking order; tables as in a stream [Pa]."""

    lift: Floats
    loss: Floats
    pressure: Floats  # static, at the end of each, with its own velocity head taken off
    credit: float  # of the fluid standing over the port; 0 where the port is above the fluid
    spent: float  # all of it together, with the velocity head at the port


def gather(built: Network, level: Level, state: FluidState, flow: Floats, drops: losses.Drops) -> Stream:
    """Take the columns of a solved network apart.

    Parameters: `level`, a `Level`; `flow` of each row [m³/s]; `drops` at that flow.
    """
    forward = figures.agreed(flow >= 0)
    feeding: dict[str, list[int]] = {}
    for i, row in enumerate(built.rows):
        feeding.setdefault(row.end if forward[i] else row.start, []).append(i)
    return Stream(built, level, state, flow, drops, forward, feeding)


def route(stream: Stream, pump: str) -> tuple[str, list[int]]:
    """The reservoir, and the rows from there to a pump in walking order.

    Where several paths lead to the pump, the one that carries the largest flow. All of them take the same
    from the surface to the node where they meet, so the ledger's sums do not hang on the choice.
    Raises NetworkError where no fluid reaches the pump.
    """
    rows = stream.network.rows
    node = f"pump:{pump}"
    found: list[int] = []
    while not node.startswith("reservoir:"):
        feeding = stream.feeding.get(node)
        if not feeding or len(found) > len(rows):
            raise NetworkError(((pump, "no fluid reaches it from a reservoir"),))
        widest = feeding[0] if len(feeding) == 1 else max(feeding, key=lambda i: abs(_flow(stream, i)))
        found.append(widest)
        node = rows[widest].start if stream.forward[widest] else rows[widest].end
    return node.removeprefix("reservoir:"), found[::-1]


def _flow(stream: Stream, row: int) -> float:
    return figures.by_row(stream.flow[row : row + 1])[0]


def port(stream: Stream, pump: Pump) -> Entry:
    """The velocity head at the port, which no row holds. `entries` puts in its share and its place."""
    flow = sum(abs(_flow(stream, i)) for i in stream.feeding.get(f"pump:{pump.name}", ()))
    bore = outline.bore(pump)
    velocity = formulas.velocity.scalar(flow, bore)
    reynolds = formulas.reynolds.scalar(velocity, bore, stream.fluid.viscosity)
    alpha = losses.kinetic_factor(reynolds)
    velocity_pressure = formulas.velocity_pressure.scalar(stream.fluid.density, velocity)
    return Entry(
        key=f"{pump.name}/port",
        part=pump.name,
        element="port",
        kind=HeadKind.PORT,
        flow=flow,
        bore=bore,
        length=0.0,
        velocity=velocity,
        reynolds=reynolds,
        friction_factor=math.nan,
        k=alpha,
        lift=0.0,
        loss=formulas.velocity_head.scalar(alpha, velocity_pressure),
        share=math.nan,
        pressure=math.nan,
        distance=0.0,
        z=pump.at[1].si,
    )


def take(stream: Stream, route: list[int], port: Entry, surface: float, level: float) -> Taken:
    """What the elements of a route take.

    Parameters: `route`, row numbers in walking order; `port`, of `port`; `surface`, absolute pressure on the
    fluid [Pa]; `level` of the fluid [m].
    """
    at, columns, drops = _places(stream, route), stream.network.columns, stream.drops
    density, surface, level = (figures.as_array(x) for x in (stream.fluid.density, surface, level))
    z_in, z_out, loss, head = figures.aligned(
        (columns["z_in"][at], columns["z_out"][at], drops.loss[at], drops.velocity_head[at]),
        (density, surface, level),
    )
    if not all(stream.forward[i] for i in route):
        back = ~np.array([stream.forward[i] for i in route]).reshape(-1, *[1] * (loss.ndim - 1))
        z_in, z_out = np.where(back, z_out, z_in), np.where(back, z_in, z_out)
        loss = np.where(back, -loss, loss)
    lift = formulas.static_lift.array(density, formulas.rise.array(z_in, z_out, level))
    lost = figures.running(loss)
    pressure = formulas.static_pressure.array(surface, density, level, z_out, lost, head)
    credit = formulas.static_lift.scalar(density, figures.largest(level - port.z, 0.0))
    spent = figures.total(lift + loss) - credit + port.loss
    return Taken(np.asarray(lift), loss, np.asarray(pressure), credit, spent)


def _places(stream: Stream, route: list[int]) -> slice | Ints:
    """The rows of a route in a table; the table as it is where the route holds all of them in turn."""
    whole = len(stream.network.rows)
    return slice(None) if route == list(range(whole)) else np.array(route)


def entries(
    stream: Stream, route: list[int], taken: Taken, port: Entry, surface: float, level: float, budget: float
) -> tuple[Entry, ...]:
    """The entries of one pump: the flooded head if there is one, the rows, the port.

    Parameters: `route`, row numbers in walking order; `taken`, of `take`; `port`, of `port`; `surface`,
    absolute pressure on the fluid [Pa]; `level` of the fluid [m]; `budget` [Pa].
    """
    shared = budget if budget > 0 else math.nan
    made: list[Entry] = []
    if port.z < level:
        made.append(_flooded_head(port, surface, taken.credit, shared, _reservoir(stream, route)))
    rows = [stream.network.rows[i] for i in route]
    ends = [row.z_out if stream.forward[i] else row.z_in for i, row in zip(route, rows, strict=True)]
    distances = list(accumulate(row.length or drawn_length(row) for row in rows))
    columns = zip(rows, *_figures(stream, route, taken, shared), distances, ends, strict=True)
    made += [_entry(row, *given) for row, *given in columns]
    inlet = surface - taken.spent
    share = formulas.share.scalar(0.0, port.loss, shared)
    return (*made, replace(port, share=share, pressure=inlet, distance=distances[-1]))


def _reservoir(stream: Stream, route: list[int]) -> str:
    first = stream.network.rows[route[0]]
    return (first.start if stream.forward[route[0]] else first.end).removeprefix("reservoir:")


def _figures(stream: Stream, route: list[int], taken: Taken, budget: float) -> Iterator[list[float]]:
    """Flow to pressure of an entry, each for the whole route."""
    at, drops = _places(stream, route), stream.drops
    for table in (stream.flow, np.abs(drops.velocity), drops.reynolds, drops.friction_factor, drops.k):
        yield figures.by_row(table[at])
    yield figures.by_row(taken.lift)
    yield figures.by_row(taken.loss)
    lift, loss = figures.aligned((taken.lift, taken.loss), (budget,))
    yield figures.by_row(formulas.share.array(lift, loss, budget))
    yield figures.by_row(taken.pressure)


def _entry(
    row: Row,
    flow: float,
    velocity: float,
    reynolds: float,
    friction_factor: float,
    k: float,
    lift: float,
    loss: float,
    share: float,
    pressure: float,
    distance: float,
    z: float,
) -> Entry:
    return Entry(
        row.key,
        row.part,
        row.element,
        row.kind,
        flow,
        row.bore,
        row.length,
        velocity,
        reynolds,
        friction_factor if row.length else math.nan,
        k,
        lift,
        loss,
        share,
        pressure,
        distance,
        z,
    )


def drawn_length(row: Row) -> float:
    """The arc of a bend, whose friction its K already holds, so that the line's distances run on [m]."""
    return row.arc or sum(map(math.dist, row.path, row.path[1:]))


def _flooded_head(port: Entry, surface: float, credit: float, budget: float, tank: str) -> Entry:
    """What the fluid standing over the port gives."""
    return replace(
        port,
        key=f"{tank}/flooded head",
        part=tank,
        element="flooded head",
        kind=HeadKind.FLOODED,
        bore=0.0,
        velocity=0.0,
        reynolds=0.0,
        k=0.0,
        lift=-credit,
        loss=0.0,
        share=formulas.share.scalar(-credit, 0.0, budget),
        pressure=surface + credit,
    )
