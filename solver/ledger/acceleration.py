"""The acceleration head of a reciprocating pump: what it takes to make the line follow the strokes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from solver.formulas import flow as formulas
from solver.formulas.worked import Worked, work
from solver.layout.kinds import PumpType
from solver.layout.parts import FluidChoice, Pump
from solver.ledger.path import Entry, HeadEntryKind, Port, SolvedNetwork
from solver.network.build import Floats, NetworkError
from solver.network.ways import drawn_length
from solver.properties.families import catalogue
from solver.quantities import columns

# Hydraulic Institute, reciprocating pumps: by the number of cylinders, single- and double-acting.
_CYLINDERS: Mapping[int, tuple[float, float]] = {
    1: (0.400, 0.200),
    2: (0.200, 0.115),
    3: (0.066, 0.066),
    5: (0.040, 0.040),
    7: (0.028, 0.028),
    9: (0.022, 0.022),
}

# K by the fluid: Gas Processors Suppliers Association (GPSA), Engineering Data Book, section 12, factor for
# the fluid's compressibility; unverified, equal to a public program's table. Hot oil 2.5, most hydrocarbons
# 2.0, amine, glycol and water 1.5, water without air 1.4, a liquid with a little entrained gas 1.0.

RIGID = 1.0
"""K of that table for a liquid with a little entrained gas, its least, as of a rigid column; taken of what
it does not name."""
OF_WATER, OF_GLYCOL, OF_OILS = 1.4, 1.5, 2.0
"""Of water the lower of the two in that table: how much air is in it nobody knows. No credit for hot oil."""


class Constants(NamedTuple):
    """C and K of the acceleration head, and where they come from."""

    cylinders: float
    fluid: float
    source: str


@dataclass(frozen=True, slots=True)
class InertiaHead:
    """What is missing at a port because the fluid has to follow the pump, at the worst moment."""

    kind: HeadEntryKind
    loss: float  # [Pa]
    so_far: Floats  # up to the end of each row on the way [Pa]
    length: float  # of the line [m]
    velocity: float  # mean over that length [m/s]
    steps: tuple[Worked, ...]  # head, then loss
    source: str


def constants(pump: Pump, choice: FluidChoice) -> Constants:
    """C and K of a reciprocating pump: as typed, or by its cylinders and by the fluid.

    Raises NetworkError for a number of cylinders that has no constant.
    Source: Hydraulic Institute, C as printed; K of the GPSA's table. A fluid that it does not name counts as
    a rigid column.
    """
    c, whence = pump.cylinder_constant, "C as typed"
    if c is None:
        count = pump.cylinders or 0
        if count not in _CYLINDERS:
            listed = ", ".join(map(str, _CYLINDERS))
            text = f"has no acceleration constant: cylinders are {listed}, or give cylinder_constant"
            raise NetworkError(((pump.name, text),))
        c = _CYLINDERS[count][bool(pump.double_acting)]
        acting = "double-acting" if pump.double_acting else "single-acting"
        whence = f"C of {count} {acting} cylinder{'s' if count > 1 else ''}"
    k, why = pump.fluid_constant, "K as typed"
    if k is None:
        k, why = _springiness(choice.name)
    return Constants(c, k, f"Hydraulic Institute, reciprocating pumps; {whence}, {why}")


def _springiness(name: str) -> tuple[float, str]:
    known = catalogue().get(name)
    if known is not None and (known.is_water or known.fluid_class == "HFA"):
        return OF_WATER, "K (GPSA, unverified) of water without air"
    if known is not None and known.fluid_class == "HFC":
        return OF_GLYCOL, "K (GPSA, unverified) of glycol"
    if known is not None and not known.fluid_class:
        return OF_OILS, "K (GPSA, unverified) of hydrocarbons"
    which = "is not in the catalogue" if known is None else "is not in its table"
    return RIGID, f"K (GPSA, unverified) of a rigid column, as this fluid {which}"


def acceleration(solved: SolvedNetwork, route: list[int], pump: Pump, port: Port) -> InertiaHead | None:
    """The acceleration head on the way to a pump; None for a pump whose flow does not pulse.

    Parameters: `route`, row numbers in walking order; `port`, of `path.port`.
    Raises NetworkError for a reciprocating pump without its speed or its constants.
    Source: Hydraulic Institute, with actual lengths. Where a line carries other flow too, the velocity is
    that of this pump's own flow.
    """
    if pump.type != PumpType.RECIPROCATING:
        return None
    if pump.speed is None:
        raise NetworkError(((pump.name, "needs its speed: its strokes set the acceleration head"),))
    c, k, source = constants(pump, solved.network.layout.fluid)
    products = _length_times_velocity(solved, route, port)
    whole = columns.total(products)
    length = columns.total(_lengths(solved, route))
    head = work(formulas.acceleration_head, length, whole / length, 60.0 * pump.speed.si, c, k)
    loss = work(formulas.acceleration_loss, solved.fluid.density, head.value)
    loss_per_product = loss.value / whole
    (so_far,) = columns.aligned((columns.running_total(products),), (loss_per_product,))
    so_far = so_far * columns.as_array(loss_per_product)
    return InertiaHead(
        HeadEntryKind.ACCELERATION, loss.value, so_far, length, whole / length, (head, loss), source
    )


def entry(head: InertiaHead, port: Port, before: Entry, budget: float) -> Entry:
    """The entry of such a head, after the last one on the way."""
    return Entry(
        key=f"{port.pump}/{head.kind}",
        part=port.pump,
        element=head.kind.value,
        kind=head.kind,
        flow=port.flow,
        bore=0.0,
        length=head.length,
        velocity=head.velocity,
        reynolds=None,
        friction_factor=None,
        k=None,
        lift=0.0,
        loss=head.loss,
        share=head.loss / budget if budget > 0 else None,
        pressure=before.pressure - head.loss,
        distance=before.distance,
        z=port.z,
    )


def _lengths(solved: SolvedNetwork, route: list[int]) -> Floats:
    """Actual length of each row on the way [m]."""
    rows = [solved.network.rows[i] for i in route]
    return columns.table([row.length or drawn_length(row) for row in rows])


def _length_times_velocity(solved: SolvedNetwork, route: list[int], port: Port) -> Floats:
    """Length times velocity of each row on the way, at the pump's own flow [m²/s]."""
    at = np.array(route)
    flow, bore, length = columns.aligned(
        (np.abs(solved.flow[at]), solved.network.columns["bore"][at], _lengths(solved, route)),
        (port.flow,),
    )
    products: Floats = length * formulas.velocity.array(np.minimum(flow, port.flow), bore)
    return products
