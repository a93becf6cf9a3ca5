"""Causes of a reading, each as a change of the machine in one size, and the sizes that are tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

import numpy as np

from solver.answers.variations import line_parts
from solver.formulas.flow import GRAVITY
from solver.geometry import outline
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger
from solver.network.build import Network, build, columns, pump_flow
from solver.properties import fluid
from solver.quantities.units import Kind, Quantity


class CauseKind(StrEnum):
    """What may be wrong."""

    NOTHING = "nothing wrong"
    SCREEN = "screen blocked"
    BORE = "bore narrowed"
    RESISTANCE = "valve half shut, or a rag"
    FLUID = "fluid thicker than drawn"
    LEVEL = "level lower than drawn"
    OFFSET = "gauge off, or fluid in its tube"
    SURFACE = "breather plugged"
    LESS_FLOW = "pump takes in less"
    UNLISTED = "none of these"


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong, in any of its sizes; the smallest first."""

    kind: CauseKind
    part: str  # where it is; "" where it is in no one part
    sizes: tuple[float, ...]
    unit: Kind
    network: Callable[[Layout, float], Network]  # the machine with it, in one size
    offset: Callable[[float, bool], float] = lambda size, resting: 0.0  # what it adds to a reading [Pa]

    @property
    def name(self) -> str:
        """What it is, and where."""
        return f"{self.kind}: {self.part}" if self.part else str(self.kind)


def causes(layout: Layout, ledger: PumpLedger) -> Iterator[Cause]:
    """Everything that may be wrong with one pump's line."""
    yield Cause(CauseKind.NOTHING, "", (0.0,), Kind.NUMBER, lambda drawn, size: build(drawn))
    for name in line_parts(ledger):
        part = layout.intakes.get(name) or layout.fittings.get(name)
        if part is not None and part.screen is not None:
            yield _screen(name, part.screen.blocked)
    runs = [name for name in line_parts(ledger) if name in layout.runs]
    for name in runs:
        yield _narrowed(name)
    for name in line_parts(ledger):
        if name in layout.fittings:
            yield _resistance(name)
    yield _thicker()
    yield _lower(ledger.reservoir, ledger)
    yield Cause(
        CauseKind.OFFSET,
        "",
        tuple(float(size) for size in (*-np.geomspace(30e3, 500.0, 14), *np.geomspace(500.0, 30e3, 14))),
        Kind.VACUUM,
        lambda drawn, size: build(drawn),
        offset=lambda size, resting: size,
    )
    yield Cause(
        CauseKind.SURFACE,
        ledger.reservoir,
        tuple(map(float, np.geomspace(500.0, 30e3, 20))),
        Kind.VACUUM,
        lambda drawn, size: build(drawn),
        offset=lambda size, resting: 0.0 if resting else size,
    )
    yield _less_flow(ledger.pump)


def _length(si: float) -> Quantity:
    return Quantity(f"{si!r} m", si)


def _screen(name: str, blocked: float) -> Cause:
    def network(layout: Layout, size: float) -> Network:
        group: Mapping[str, Any] = layout.intakes if name in layout.intakes else layout.fittings
        part = group[name]
        changed = {**group, name: replace(part, screen=replace(part.screen, blocked=size))}
        if name in layout.intakes:
            return build(replace(layout, intakes=changed))
        return build(replace(layout, fittings=changed))

    open_shares = np.geomspace(1.0 - blocked, 0.01, 25)[1:]
    return Cause(
        CauseKind.SCREEN, name, tuple(float(1.0 - share) for share in open_shares), Kind.SHARE, network
    )


def _narrowed(name: str) -> Cause:
    def network(layout: Layout, size: float) -> Network:
        run = layout.runs[name]
        narrow = replace(run, bore=_length(outline.bore(run) * size), size=None)
        return build(replace(layout, runs={**layout.runs, name: narrow}))

    return Cause(CauseKind.BORE, name, tuple(map(float, np.linspace(0.96, 0.4, 22))), Kind.SHARE, network)


def _resistance(name: str) -> Cause:
    def network(layout: Layout, size: float) -> Network:
        return with_resistance(build(layout), name, size)

    return Cause(
        CauseKind.RESISTANCE, name, tuple(map(float, np.geomspace(0.5, 400.0, 24))), Kind.NUMBER, network
    )


def with_resistance(network: Network, part: str, k: float) -> Network:
    """A network with so much more K in one part."""
    rows = list(network.rows)
    number = next(i for i, row in enumerate(rows) if row.part == part)
    back = rows[number].k_inf_back
    rows[number] = replace(
        rows[number], k_inf=rows[number].k_inf + k, k_inf_back=None if back is None else back + k
    )
    return replace(network, rows=tuple(rows), columns=columns(rows))


def _thicker() -> Cause:
    def network(layout: Layout, size: float) -> Network:
        return build(thicker(layout, size))

    return Cause(CauseKind.FLUID, "", tuple(map(float, np.geomspace(1.06, 8.0, 22))), Kind.NUMBER, network)


def thicker(layout: Layout, times: float) -> Layout:
    """A drawing whose fluid is so many times as thick at its temperature."""
    state = fluid.state(layout.fluid)
    value = Quantity(f"{state.viscosity * times!r} m^2/s", state.viscosity * times)
    choice = replace(layout.fluid, viscosity=value, viscosity_index=None, coldest_start=None)
    return replace(layout, fluid=choice)


def _lower(tank: str, ledger: PumpLedger) -> Cause:
    def network(layout: Layout, size: float) -> Network:
        return build(layout)

    weight = ledger.density * GRAVITY
    return Cause(
        CauseKind.LEVEL,
        tank,
        tuple(map(float, np.geomspace(0.02, 1.0, 20))),
        Kind.LENGTH,
        network,
        offset=lambda size, resting: weight * size,
    )


def _less_flow(name: str) -> Cause:
    def network(layout: Layout, size: float) -> Network:
        pump = layout.pumps[name]
        flow = pump_flow(pump) * size
        less = replace(pump, flow=Quantity(f"{flow!r} m^3/s", flow))
        return build(replace(layout, pumps={**layout.pumps, name: less}))

    return Cause(
        CauseKind.LESS_FLOW, name, tuple(map(float, np.linspace(0.96, 0.3, 20))), Kind.SHARE, network
    )
