"""How an entry of the ledger comes about, step by step: flow, velocity, friction, K, loss, lift, pressure."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from solver.formulas import flow as formulas
from solver.formulas import starting as starting_formulas
from solver.formulas import symbols
from solver.formulas.formula import Symbol
from solver.formulas.record import Recorder
from solver.formulas.steps import Step, steps
from solver.formulas.sums import sum_of, sum_of_flows
from solver.geometry import outline
from solver.layout.parts import Pump
from solver.ledger import acceleration, parallel_paths, starting
from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import Entry, PumpLedger, Solution, fluid_surface, level_in_line, solved_network
from solver.network import build, losses
from solver.network.line_fluid import DENSER, THICKER, deciding_intake_and_level
from solver.network.rows import Row, RowKind
from solver.quantities.units import System
from solver.working.element import record_coefficients


@dataclass(frozen=True, slots=True)
class PlacedEntry:
    """An entry of a ledger, with what stands before it on its line."""

    solution: Solution
    ledger: PumpLedger
    entry: Entry
    before: float  # losses on the way to it [Pa]
    surface: float  # absolute pressure on the fluid that it comes from [Pa]
    fluid_level: float  # up to where the fluid of the line would stand [m]

    @property
    def pump(self) -> Pump:
        """The pump whose ledger it is."""
        return self.solution.layout.pumps[self.ledger.pump]


def placed_entries(solution: Solution, ledger: PumpLedger) -> Iterator[PlacedEntry]:
    """The entries of a ledger in walking order, then those of the lines beside."""
    lost = 0.0
    for entry in ledger.entries:
        yield PlacedEntry(solution, ledger, entry, lost, ledger.surface, ledger.line_level)
        lost += entry.loss
    if ledger.parallel_entries:
        yield from _parallel_entries(solution, ledger)


def _parallel_entries(solution: Solution, ledger: PumpLedger) -> Iterator[PlacedEntry]:
    solved = solved_network(solution.network, solution.level)
    for entry in ledger.parallel_entries:
        tank, lost = parallel_paths.losses_before(solved, solution.network.index[entry.key])
        surface, level = fluid_surface(solved, tank)
        yield PlacedEntry(solution, ledger, entry, lost, surface.pressure, level_in_line(solved, tank, level))


def entry_steps(placed: PlacedEntry, system: System) -> tuple[Step, ...]:
    """The working of one entry. What two of its results hang on is worked out once."""
    recorder, kind = Recorder(), placed.entry.kind
    explain = _HEADS[kind] if isinstance(kind, HeadEntryKind) else _element
    explain(placed, recorder)
    once = {(record.name, record.value): record for record in recorder.steps}
    return steps(once.values(), system)


def _element(placed: PlacedEntry, recorder: Recorder) -> None:
    entry, solution = placed.entry, placed.solution
    network, fluid = solution.network, solution.fluid
    number = network.index[entry.key]
    row = network.rows[number]
    recorder.given(symbols.D, entry.bore, _bore_source(placed))
    if entry.length:
        recorder.given(symbols.L, entry.length, "as drawn, less what the bends take")
    _flow(placed, recorder)
    held = _held(placed)
    recorder.given(symbols.nu, held.viscosity, held.source)
    record_coefficients(row, entry.flow, recorder)
    losses.explain(network.columns, number, solution.flows, fluid.density, fluid.viscosity, recorder)
    _lift(placed, row.z_in, row.z_out, recorder)
    _share(placed, recorder)
    _pressure(placed, recorder)


class _Held(NamedTuple):
    """What an element holds."""

    density: float  # [kg/m³]
    viscosity: float  # [m²/s]
    source: str


def _held(placed: PlacedEntry) -> _Held:
    """The fluid in an element, as it was charged."""
    solution, key = placed.solution, placed.entry.key
    fluid, columns = solution.fluid, solution.network.columns
    if fluid is solution.tank_fluid:
        return _Held(fluid.density, fluid.viscosity, "of the fluid")
    if key not in solution.network.index or placed.entry.part not in solution.layout.intakes:
        return _Held(fluid.density, fluid.viscosity, "of the fluid in the line")
    denser, thicker = (float(columns[name][solution.network.index[key]]) for name in (DENSER, THICKER))
    source = "the larger of the two fluids, in the tank and in the line"
    return _Held(fluid.density * denser, fluid.viscosity * thicker, source)


def _bore_source(placed: PlacedEntry) -> str:
    size = getattr(placed.solution.layout.part(placed.entry.part), "size", None)
    return size if size and placed.entry.kind not in (RowKind.BORE_CHANGE, RowKind.CORNER) else "as typed"


def _flow(placed: PlacedEntry, recorder: Recorder) -> None:
    """The flow through the element: of one pump, or of all that it feeds."""
    solution, key, flow = placed.solution, placed.entry.key, abs(placed.entry.flow)
    ledgers = [p for p in solution.pumps.values() if any(entry.key == key for entry in p.entries)]
    if solution.network.closures:
        source = "its part of the flow, where all paths take the same between the places they join"
        recorder.given(symbols.Q, flow, source)
    elif len(ledgers) == 1:
        build.pump_flow(placed.pump, recorder)
    else:
        recorder.add(sum_of_flows([ledger.flow for ledger in ledgers]))


def _lift(placed: PlacedEntry, z_in: float, z_out: float, recorder: Recorder) -> None:
    _level(placed, recorder)
    start, end = (z_in, z_out) if placed.entry.flow >= 0 else (z_out, z_in)
    rise = recorder.work(formulas.rise, start, end, placed.fluid_level)
    if rise:
        recorder.work(formulas.static_lift, placed.solution.fluid.density, rise)


def _level(placed: PlacedEntry, recorder: Recorder) -> None:
    """Up to where the fluid of the line would stand, where that is not as warm as in the tank."""
    solution, ledger = placed.solution, placed.ledger
    fluid, line = solution.tank_fluid, solution.fluid
    if fluid is line:
        return
    z, level = deciding_intake_and_level(solution.layout, ledger.reservoir, ledger.fluid_level, fluid, line)
    if z is not None and level == placed.fluid_level:
        recorder.work(formulas.balanced_level, z, ledger.fluid_level, fluid.density, line.density)


def _share(placed: PlacedEntry, recorder: Recorder) -> None:
    entry, ledger = placed.entry, placed.ledger
    if ledger.budget > 0:
        recorder.work(formulas.share, entry.lift, entry.loss, ledger.budget)


def _pressure(placed: PlacedEntry, recorder: Recorder) -> None:
    """The static pressure at the end of an element, with its own velocity head taken off."""
    entry, density = placed.entry, placed.solution.fluid.density
    assert entry.reynolds is not None  # an element has one
    q = recorder.work(formulas.velocity_pressure, _held(placed).density, entry.velocity)
    head = losses.velocity_head(entry.reynolds, q, recorder)
    lost = recorder.work(formulas.losses_so_far, placed.before, entry.loss)
    recorder.work(formulas.static_pressure, placed.surface, density, placed.fluid_level, entry.z, lost, head)


def _port(placed: PlacedEntry, recorder: Recorder) -> None:
    entry, fluid = placed.entry, placed.solution.fluid
    recorder.given(symbols.D, outline.bore(placed.pump), placed.pump.size or "as typed")
    _flow(placed, recorder)
    velocity = recorder.work(formulas.velocity, abs(entry.flow), entry.bore)
    recorder.given(symbols.nu, fluid.viscosity, _held(placed).source)
    reynolds = recorder.work(formulas.reynolds, velocity, entry.bore, fluid.viscosity)
    q = recorder.work(formulas.velocity_pressure, fluid.density, velocity)
    losses.velocity_head(reynolds, q, recorder)
    _share(placed, recorder)
    recorder.given(symbols.p, entry.pressure, "static pressure at the port; see the outcome")


def _flooded_head(placed: PlacedEntry, recorder: Recorder) -> None:
    ledger, density = placed.ledger, placed.solution.fluid.density
    _level(placed, recorder)
    rise = recorder.work(formulas.port_rise, ledger.entries[-1].z, placed.fluid_level)
    recorder.work(formulas.static_lift, density, rise)
    _share(placed, recorder)


def _acceleration(placed: PlacedEntry, recorder: Recorder) -> None:
    """The head that the strokes of a reciprocating pump take."""
    pump, solution = placed.pump, placed.solution
    constants = acceleration.constants(pump, solution.layout.fluid)
    recorder.given(symbols.cylinders, constants.cylinders, constants.source)
    recorder.given(symbols.springiness, constants.fluid, constants.source)
    length, velocity = _length_and_velocity(placed, recorder)
    assert pump.speed is not None  # a pump with an acceleration head has one
    strokes = 60.0 * pump.speed.si
    head = recorder.work(
        formulas.acceleration_head, length, velocity, strokes, constants.cylinders, constants.fluid
    )
    recorder.work(formulas.acceleration_loss, solution.fluid.density, head)
    _share(placed, recorder)


def _length_and_velocity(placed: PlacedEntry, recorder: Recorder) -> tuple[float, float]:
    """Length of the way to a pump [m], and velocity of the pump's own flow over it [m/s]."""
    lengths, travels = [], []
    for row, number in _rows_on_the_way(placed):
        flow = min(abs(float(placed.solution.flows[number])), placed.ledger.flow)
        velocity = recorder.work(formulas.velocity, flow, row.bore)
        lengths.append(starting.length(row))
        travels.append(recorder.work(formulas.row_travel, lengths[-1], velocity))
    bends = "actual length of the way, its bends along their arcs"
    length = _sum(recorder, symbols.L, symbols.L, lengths, bends)
    travel = _sum(recorder, symbols.all_travel, symbols.row_travel, travels, "sum over the rows on the way")
    return length, recorder.work(formulas.mean_velocity, travel, length)


def _rows_on_the_way(placed: PlacedEntry) -> Iterator[tuple[Row, int]]:
    """The rows of a ledger that have any length, with their numbers."""
    network = placed.solution.network
    for entry in placed.ledger.entries:
        number = network.index.get(entry.key)
        if number is not None and starting.length(network.rows[number]):
            yield network.rows[number], number


def _sum(recorder: Recorder, result: Symbol, term: Symbol, values: list[float], source: str) -> float:
    total = sum_of(result, term, values, result.meaning, source)
    return recorder.given(result, sum(values), source) if total is None else recorder.add(total)


def _flow_rise(placed: PlacedEntry, recorder: Recorder) -> None:
    """What it takes to set the rows on the way in motion, with the pumps that start."""
    solution = placed.solution
    network = solution.network
    for name, pump in solution.layout.pumps.items():
        if pump.flow_rise is not None and name in solution.pumps:
            recorder.given(symbols.rise_time, pump.flow_rise.si, f"rise of the flow of {name}, as typed")
            recorder.work(starting_formulas.steepest_rise, solution.pumps[name].flow, pump.flow_rise.si)
    forward = [flow >= 0 for flow in solution.flows]
    rising = starting.rises(network, solution.flows, forward)
    rises = [
        recorder.work(starting_formulas.row_rise, starting.length(row), row.bore, float(rising[number]))
        for row, number in _rows_on_the_way(placed)
        if rising is not None
    ]
    total = _sum(recorder, symbols.column_rise, symbols.row_rise, rises, "sum over the rows on the way")
    recorder.work(starting_formulas.loss, solution.fluid.density, total)
    _share(placed, recorder)


_HEADS: Mapping[HeadEntryKind, Callable[[PlacedEntry, Recorder], None]] = {
    HeadEntryKind.FLOODED: _flooded_head,
    HeadEntryKind.ACCELERATION: _acceleration,
    HeadEntryKind.FLOW_RISE: _flow_rise,
    HeadEntryKind.PORT: _port,
}
