"""How an entry of the ledger comes about, step by step: flow, velocity, friction, K, loss, lift, pressure."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from solver.formulas import flow as formulas
from solver.formulas import starting as starting_formulas
from solver.formulas import symbols
from solver.formulas.steps import Maker, Step
from solver.formulas.sums import sum_of_flows
from solver.formulas.worked import work
from solver.geometry import outline
from solver.layout.parts import Fitting, Intake, Pump, Run
from solver.ledger import acceleration, starting
from solver.ledger.path import HeadKind
from solver.ledger.solve import Entry, PumpLedger, Solution
from solver.network import losses
from solver.network.rows import RowKind
from solver.working.element import Element, coefficient_steps, known_drop_steps
from solver.working.screen import bypass_steps

NEAR = 1e-3
"""Pressures this near are the same [Pa]."""


@dataclass(frozen=True, slots=True)
class Place:
    """An entry in its ledger."""

    solution: Solution
    ledger: PumpLedger
    entry: Entry
    before: float  # losses on the way to it [Pa]

    @property
    def pump(self) -> Pump:
        """The pump whose ledger it is."""
        return self.solution.layout.pumps[self.ledger.pump]


def places(solution: Solution, ledger: PumpLedger) -> Iterator[Place]:
    """The entries of a ledger in walking order, then those of the lines beside."""
    lost = 0.0
    for entry in ledger.entries:
        yield Place(solution, ledger, entry, lost)
        lost += entry.loss
    for entry in ledger.beside:
        yield Place(solution, ledger, entry, math.nan)


def entry_steps(place: Place, make: Maker) -> list[Step]:
    """The working of one entry. What two of its results hang on is worked out once."""
    kind = place.entry.kind
    steps = _HEADS[kind](place, make) if isinstance(kind, HeadKind) else _element(place, make)
    return list({(step.name, step.value): step for step in steps}.values())


def _element(place: Place, make: Maker) -> Iterator[Step]:
    entry, network = place.entry, place.solution.network
    row = network.rows[network.index[entry.key]]
    element = Element(place.solution, row, entry.flow)
    yield from _given(place, make)
    yield from _motion(place, make)
    if entry.length:
        yield from _friction(entry, row.roughness, make)
    yield from coefficient_steps(element, make)
    yield from _loss(place, element, make)
    yield from _lift(place, row.z_in, row.z_out, make)
    yield from _taken(entry, place.ledger, make)
    yield from _pressure(place, make)


def _given(place: Place, make: Maker) -> Iterator[Step]:
    entry, layout = place.entry, place.solution.layout
    part = layout.part(entry.part)
    size = getattr(part, "size", None)
    source = f"{size}" if size and entry.kind != RowKind.BORE_CHANGE else "as drawn"
    yield make.given(symbols.D, entry.bore, source)
    if entry.length and isinstance(part, Run):
        yield make.given(symbols.L, entry.length, "as drawn, less what the bends take")
        row = place.solution.network.rows[place.solution.network.index[entry.key]]
        wall = part.material or ("as drawn" if part.roughness is not None else "commercial steel")
        yield make.given(symbols.roughness, row.roughness, wall)


def _motion(place: Place, make: Maker) -> Iterator[Step]:
    entry, nu = place.entry, place.solution.fluid.viscosity
    flow = abs(entry.flow)
    yield from _flow(place, flow, make)
    velocity = make.work(formulas.velocity, flow, entry.bore)
    yield velocity
    yield make.given(symbols.nu, nu, "of the fluid")
    yield make.work(formulas.reynolds, velocity.value, entry.bore, nu)
    yield make.work(formulas.velocity_pressure, place.solution.fluid.density, entry.velocity)


def _flow(place: Place, flow: float, make: Maker) -> Iterator[Step]:
    """The flow through the element: of one pump, or of all that it feeds."""
    solution, key = place.solution, place.entry.key
    ledgers = [p for p in solution.pumps.values() if any(entry.key == key for entry in p.entries)]
    if solution.network.closures:
        source = "its part of the flow, where all paths take the same between the places they join"
        yield make.given(symbols.Q, flow, source)
    elif len(ledgers) > 1 and math.isclose(sum(p.flow for p in ledgers), flow, rel_tol=1e-9):
        yield make.take(sum_of_flows([p.flow for p in ledgers]))
    elif math.isclose(place.ledger.flow, flow, rel_tol=1e-9):
        yield from _pump_flow(place.pump, flow, make)
    else:
        yield make.given(symbols.Q, flow, "what the pumps behind it take in")


def _pump_flow(pump: Pump, flow: float, make: Maker) -> Iterator[Step]:
    if pump.flow is not None or pump.displacement is None or pump.speed is None:
        yield make.given(symbols.Q, flow, f"the flow of {pump.name}, as drawn")
    elif pump.volumetric_efficiency is None:
        yield make.work(formulas.pump_flow, pump.displacement.si, pump.speed.si)
    else:
        given = pump.displacement.si, pump.speed.si, pump.volumetric_efficiency
        yield make.work(formulas.pump_flow_reduced, *given)


def _friction(entry: Entry, wall: float, make: Maker) -> Iterator[Step]:
    if entry.reynolds <= formulas.LAMINAR_END:
        yield make.work(formulas.laminar_friction, entry.reynolds)
        return
    turbulent = make.work(formulas.colebrook, max(entry.reynolds, formulas.LAMINAR_END), wall, entry.bore)
    if entry.reynolds >= formulas.TURBULENT_START:
        yield turbulent
        return
    yield from _turbulence(entry.reynolds, make)
    share = losses.turbulence(entry.reynolds)
    yield replace(turbulent, outside="")  # the blend says what is uncertain
    yield make.work(formulas.friction, entry.reynolds, share, turbulent.value)


def _turbulence(reynolds: float, make: Maker) -> Iterator[Step]:
    """How turbulent the flow is."""
    if not formulas.LAMINAR_END < reynolds < formulas.TURBULENT_START:
        laminar = reynolds <= formulas.LAMINAR_END
        where = "laminar: Re up to 2000" if laminar else "turbulent: Re 4000 or more"
        yield make.given(symbols.w, 0.0 if laminar else 1.0, where)
        return
    transition = make.work(formulas.transition, reynolds)
    yield transition
    yield make.work(formulas.turbulence, transition.value)


def _loss(place: Place, element: Element, make: Maker) -> Iterator[Step]:
    entry, row, fluid = place.entry, element.row, place.solution.fluid
    if element.k_slow is None or element.k_slow == element.k_inf:
        k = make.work(formulas.fitting_coefficient, element.k_inf, element.k_re, entry.reynolds)
    else:
        yield from _turbulence(entry.reynolds, make)
        share = losses.turbulence(entry.reynolds)
        both = element.k_slow, element.k_inf
        k = make.work(formulas.widening_between, share, *both, element.k_re, entry.reynolds)
    if k.value:
        yield k
    mu = make.work(formulas.dynamic_viscosity, fluid.viscosity, fluid.density)
    if row.viscous:
        yield mu
    q = make.work(formulas.velocity_pressure, fluid.density, entry.velocity)
    device = list(known_drop_steps(element, make))
    yield from device
    f = entry.friction_factor if entry.length else 0.0
    given = f, entry.length, entry.bore, k.value, q.value, row.viscous, mu.value, abs(entry.flow)
    known = device[-1].value if device else 0.0
    loss = work(formulas.element_loss, *given, row.inertial, fluid.density, known)
    if loss.value <= row.cap:
        yield make.take(loss)
        return
    yield make.take(loss, "loss of the element itself", symbol=symbols.dp_element)
    part = place.solution.layout.part(row.part)
    if isinstance(part, Intake | Fitting) and part.screen is not None:
        yield from bypass_steps(part.screen, row, abs(entry.flow), mu.value, loss.value, make)


def _lift(place: Place, z_in: float, z_out: float, make: Maker) -> Iterator[Step]:
    start, end = (z_in, z_out) if place.entry.flow >= 0 else (z_out, z_in)
    rise = make.work(formulas.rise, start, end, place.ledger.level)
    yield rise
    if rise.value:
        yield make.work(formulas.static_lift, place.solution.fluid.density, rise.value)


def _taken(entry: Entry, ledger: PumpLedger, make: Maker) -> Iterator[Step]:
    if ledger.budget > 0:
        yield make.work(formulas.share, entry.lift, entry.loss, ledger.budget)


def _pressure(place: Place, make: Maker) -> Iterator[Step]:
    """The static pressure at the end of an element, with its own velocity head taken off."""
    entry, ledger, fluid = place.entry, place.ledger, place.solution.fluid
    head = list(_velocity_head(entry, fluid.density, make))
    lost = make.work(formulas.losses_so_far, place.before, entry.loss)
    there = work(
        formulas.static_pressure,
        ledger.surface,
        fluid.density,
        ledger.level,
        entry.z,
        lost.value,
        head[-1].value,
    )
    if abs(there.value - entry.pressure) <= NEAR:
        yield from (*head, lost, make.take(there))
    else:
        yield make.given(symbols.p, entry.pressure, "along the path that this element lies in")


def _velocity_head(entry: Entry, density: float, make: Maker) -> Iterator[Step]:
    yield from _turbulence(entry.reynolds, make)
    alpha = make.work(formulas.kinetic_factor, losses.turbulence(entry.reynolds))
    yield alpha
    pressure = make.work(formulas.velocity_pressure, density, entry.velocity)
    yield make.work(formulas.velocity_head, alpha.value, pressure.value)


def _port(place: Place, make: Maker) -> Iterator[Step]:
    entry, ledger = place.entry, place.ledger
    yield make.given(symbols.D, outline.bore(place.pump), place.pump.size or "as drawn")
    yield from _motion(place, make)
    head = list(_velocity_head(entry, place.solution.fluid.density, make))
    yield from head
    yield from _taken(entry, ledger, make)
    yield make.given(symbols.p, entry.pressure, "static pressure at the port; see the outcome")


def _flooded_head(place: Place, make: Maker) -> Iterator[Step]:
    entry, ledger, density = place.entry, place.ledger, place.solution.fluid.density
    rise = make.work(formulas.port_rise, ledger.entries[-1].z, ledger.level)
    yield rise
    yield make.work(formulas.static_lift, density, rise.value)
    yield from _taken(entry, ledger, make)
    yield make.work(
        formulas.static_pressure, ledger.surface, density, ledger.level, ledger.entries[-1].z, 0.0, 0.0
    )


def _acceleration(place: Place, make: Maker) -> Iterator[Step]:
    """The head that the strokes of a reciprocating pump take."""
    entry, pump, solution = place.entry, place.pump, place.solution
    found = acceleration.constants(pump, solution.layout.fluid)
    yield make.given(symbols.cylinders, found.cylinders, found.source)
    yield make.given(symbols.springiness, found.fluid, found.source)
    yield make.given(symbols.L, entry.length, "actual length of the way, its bends along their arcs")
    yield make.given(symbols.v, entry.velocity, "of this pump's flow, over the length of the way")
    strokes = 60.0 * (pump.speed.si if pump.speed is not None else math.nan)
    head = make.work(
        formulas.acceleration_head, entry.length, entry.velocity, strokes, found.cylinders, found.fluid
    )
    yield head
    yield make.work(formulas.acceleration_loss, solution.fluid.density, head.value)
    yield from _taken(entry, place.ledger, make)


def _flow_rise(place: Place, make: Maker) -> Iterator[Step]:
    """What it takes to set the rows on the way in motion, with the pumps that start."""
    solution, total = place.solution, 0.0
    network = solution.network
    for name, pump in solution.layout.pumps.items():
        if pump.flow_rise is not None and name in solution.pumps:
            yield make.given(symbols.rise_time, pump.flow_rise.si, f"flow_rise of {name}, as typed")
            yield make.work(starting_formulas.steepest_rise, solution.pumps[name].flow, pump.flow_rise.si)
    forward = [flow >= 0 for flow in solution.flows]
    rising = starting.rises(network, solution.flows, forward)
    for entry in place.ledger.entries if rising is not None else ():
        row = network.rows[network.index[entry.key]] if entry.key in network.index else None
        length = starting.length(row) if row is not None else 0.0
        if row is not None and rising is not None and length:
            step = make.work(
                starting_formulas.row_rise, length, row.bore, float(rising[network.index[entry.key]])
            )
            yield step
            total += step.value
    yield make.given(symbols.column_rise, total, "sum over the rows on the way")
    yield make.work(starting_formulas.loss, solution.fluid.density, total)
    yield from _taken(place.entry, place.ledger, make)


_HEADS: Mapping[HeadKind, Callable[[Place, Maker], Iterator[Step]]] = {
    HeadKind.FLOODED: _flooded_head,
    HeadKind.ACCELERATION: _acceleration,
    HeadKind.FLOW_RISE: _flow_rise,
    HeadKind.PORT: _port,
}
