"""The way of the fluid to a pump: the elements in walking order, with what each takes and leaves."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from solver import formulas, geometry, losses
from solver.fluid import FluidState
from solver.layout import Pump
from solver.network import Floats, Network, NetworkError, Row


@dataclass(frozen=True, slots=True)
class Entry:
    """What one element takes from the inlet budget. Pressures [Pa], absolute."""

    key: str  # the row's key; "tank/flooded head" and "carriage/port" for the two that are no row
    part: str
    element: str
    kind: str  # a row kind, or "flooded head", "port"
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
    """One solved network as plain numbers by row, which a walk reads faster than arrays."""

    network: Network
    level: str
    fluid: FluidState
    flow: list[float]
    loss: list[float]
    velocity: list[float]
    reynolds: list[float]
    friction_factor: list[float]
    k: list[float]
    velocity_head: list[float]
    feeding: Mapping[str, list[int]]  # the rows that bring fluid to each node


def gather(built: Network, level: str, state: FluidState, flow: Floats, drops: losses.Drops) -> Stream:
    """Take the columns of a solved network apart.

    Parameters: `level`, "minimum" or "normal"; `flow` of each row [m³/s]; `drops` at that flow.
    """
    reynolds = np.abs(drops.reynolds)
    heads = losses.kinetic_factor(reynolds) * (0.5 * state.density) * drops.velocity**2
    flows: list[float] = flow.tolist()
    feeding: dict[str, list[int]] = {}
    for i, row in enumerate(built.rows):
        feeding.setdefault(row.end if flows[i] >= 0 else row.start, []).append(i)
    return Stream(
        network=built,
        level=level,
        fluid=state,
        flow=flows,
        loss=drops.loss.tolist(),
        velocity=np.abs(drops.velocity).tolist(),
        reynolds=reynolds.tolist(),
        friction_factor=drops.friction_factor.tolist(),
        k=drops.k.tolist(),
        velocity_head=heads.tolist(),
        feeding=feeding,
    )


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
        largest = max(feeding, key=lambda i: abs(stream.flow[i]))
        found.append(largest)
        node = rows[largest].start if stream.flow[largest] >= 0 else rows[largest].end
    return node.removeprefix("reservoir:"), found[::-1]


def port(stream: Stream, pump: Pump) -> Entry:
    """The velocity head at the port, which no row holds. `entries` puts in its share and its place."""
    flow = sum(abs(stream.flow[i]) for i in stream.feeding.get(f"pump:{pump.name}", ()))
    bore = geometry.bore(pump)
    velocity = formulas.velocity.scalar(flow, bore)
    reynolds = formulas.reynolds.scalar(velocity, bore, stream.fluid.viscosity)
    alpha = float(losses.kinetic_factor(reynolds))
    return Entry(
        key=f"{pump.name}/port",
        part=pump.name,
        element="port",
        kind="port",
        flow=flow,
        bore=bore,
        length=0.0,
        velocity=velocity,
        reynolds=reynolds,
        friction_factor=math.nan,
        k=alpha,
        lift=0.0,
        loss=formulas.port_velocity_head.scalar(alpha, stream.fluid.density, velocity),
        share=math.nan,
        pressure=math.nan,
        distance=0.0,
        z=pump.at[1].si,
    )


def entries(
    stream: Stream, route: list[int], port: Entry, surface: float, level: float, budget: float, tank: str
) -> tuple[Entry, ...]:
    """The entries of one pump: the flooded head if there is one, the rows, the port.

    Parameters: `route`, row numbers in walking order; `port`, of `port`; `surface`, absolute pressure on the
    fluid [Pa]; `level` of the fluid [m]; `budget` [Pa]; `tank`, name of the reservoir.
    """
    weight = formulas.static_lift.scalar(stream.fluid.density, 1.0)
    worth = 1 / budget if budget > 0 else math.nan
    made: list[Entry] = []
    if port.z < level:
        made.append(_flooded_head(port, surface, weight * (level - port.z), worth, tank))
    lost = distance = 0.0
    for i in route:
        row = stream.network.rows[i]
        forward = stream.flow[i] >= 0
        z_in, z_out = (row.z_in, row.z_out) if forward else (row.z_out, row.z_in)
        lift = weight * (max(z_out - level, 0.0) - max(z_in - level, 0.0))
        loss = stream.loss[i] if forward else -stream.loss[i]
        lost += loss
        distance += row.length or _drawn_length(row)
        pressure = surface + weight * (level - z_out) - lost - stream.velocity_head[i]
        made.append(_entry(stream, i, lift, loss, (lift + loss) * worth, pressure, distance, z_out))
    pressure = surface + weight * (level - port.z) - lost - port.loss
    made.append(replace(port, share=port.loss * worth, pressure=pressure, distance=distance))
    return tuple(made)


def _entry(
    stream: Stream,
    i: int,
    lift: float,
    loss: float,
    share: float,
    pressure: float,
    distance: float,
    z: float,
) -> Entry:
    row = stream.network.rows[i]
    return Entry(
        row.key,
        row.part,
        row.element,
        row.kind,
        stream.flow[i],
        row.bore,
        row.length,
        stream.velocity[i],
        stream.reynolds[i],
        stream.friction_factor[i] if row.length else math.nan,
        stream.k[i],
        lift,
        loss,
        share,
        pressure,
        distance,
        z,
    )


def _drawn_length(row: Row) -> float:
    """The arc of a bend, whose friction its K already holds, so that the line's distances run on [m]."""
    return sum(map(math.dist, row.path, row.path[1:]))


def _flooded_head(port: Entry, surface: float, credit: float, worth: float, tank: str) -> Entry:
    """What the fluid standing over the port gives."""
    return replace(
        port,
        key=f"{tank}/flooded head",
        part=tank,
        element="flooded head",
        kind="flooded head",
        bore=0.0,
        velocity=0.0,
        reynolds=0.0,
        k=0.0,
        lift=-credit,
        loss=0.0,
        share=-credit * worth,
        pressure=surface + credit,
    )
