"""Layout -> graph and element table.

Everything the fluid passes through is one `Row`. A row carries the coefficients of the one drop expression
(see `losses.drop`) and where it is drawn, so that the calculation and the drawing share one key.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from operator import attrgetter
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from solver.formulas import flow, symbols
from solver.formulas.record import UNRECORDED, Calculator
from solver.geometry.outline import GeometryError, Joint, bore, bore_at
from solver.layout.kinds import REDUCER_KINDS
from solver.layout.parts import Fitting, Intake, Layout, Pump, Run, Tee
from solver.network import dead_ends, kept_trace, tracing
from solver.network import rows as making
from solver.network.coefficients import FittingError
from solver.network.dead_ends import is_closed
from solver.network.kept_trace import Trace
from solver.network.row_cache import RowCache
from solver.network.rows import Leg
from solver.network.rows import Row as Row
from solver.network.tracing import RunGraph, TracedStep
from solver.network.ways import Rows
from solver.quantities import columns as figures
from solver.quantities.wording import error_text

if TYPE_CHECKING:
    import networkx as nx

Floats = NDArray[np.float64]

NUMBERS = (
    "z_in",
    "z_out",
    "bore",
    "length",
    "roughness",
    "k_inf",
    "k_re",
    "viscous",
    "inertial",
    "read_drop",
    "read_flow",
    "read_mu",
    "read_density",
    "cap",
    "bypass_viscous",
    "k_slow",
    "slow_end",
    "k_inf_back",
    "k_re_back",
    "k_slow_back",
    "slow_end_back",
)
"""The fields of a row that become columns; nan where a row has None."""


@dataclass(frozen=True, slots=True)
class TeeLeg:
    """One of the three ways into a tee."""

    run: str  # the run that ends here
    element: Leg
    row: int | None  # its row; None for the leg that always carries the whole flow
    inward: bool  # the expected flow runs into the tee
    bore: float  # [m]


@dataclass(frozen=True, slots=True)
class Network:
    """The rows, as objects and as columns of the same order, and the graph they make.

    Nodes are "reservoir:tank", "pump:carriage" and inner ones; each edge carries `row`, an index into `rows`.
    """

    layout: Layout
    rows: Rows
    columns: Mapping[str, Floats]  # the numeric fields of Row, by their names
    elevation: Mapping[str, float]  # of every node [m]
    index: Mapping[str, int]  # row key -> row number
    tees: Mapping[str, tuple[TeeLeg, ...]] = field(default_factory=dict)
    closures: tuple[str, ...] = ()  # runs that close a parallel path; none in a tree
    cut_off: int = 0  # how many rows, the last ones, closed valves part from everything else
    still: frozenset[int] = (
        frozenset()
    )  # the rows in which nothing flows, those and what leads to a closed end

    joined: RunGraph | None = None  # which of its parts are joined
    begun: Floats | None = None  # flows of a network much like this one, for a search to begin with [m³/s]

    @property
    def graph(self) -> nx.MultiDiGraph:
        """The rows as edges from node to node, made again each time it is asked for."""
        import networkx as nx  # for whoever asks: the import takes a tenth of a second

        graph = nx.MultiDiGraph()
        graph.add_edges_from((row.start, row.end, i, {"row": i}) for i, row in enumerate(self.rows))
        return graph

    @property
    def still_parts(self) -> frozenset[str]:
        """The parts in which nothing flows."""
        return frozenset(self.rows[i].part for i in self.still)


class NetworkError(ValueError):
    """A drawing that holds no line to calculate. `problems` is ((part, what is wrong), ...)."""

    def __init__(self, problems: tuple[tuple[str, str], ...]) -> None:
        super().__init__("; ".join(f"{part}: {text}" for part, text in problems))
        self.problems = problems


def pump_flow(pump: Pump, calc: Calculator = UNRECORDED) -> float:
    """What a pump takes in [m³/s]: displacement × speed × efficiency, or the flow given in their place.

    Raises NetworkError when the pump has neither.
    """
    if pump.flow is not None:
        return calc.given(symbols.Q, pump.flow.si, f"the flow of {pump.name}, as typed")
    if pump.displacement is None or pump.speed is None:
        raise NetworkError(((pump.name, "has neither a flow nor a displacement and a speed"),))
    if pump.volumetric_efficiency is None:
        return calc.work(flow.pump_flow, pump.displacement.si, pump.speed.si)
    filling = pump.volumetric_efficiency
    return calc.work(flow.pump_flow_reduced, pump.displacement.si, pump.speed.si, filling)


def build(layout: Layout, cache: RowCache | None = None) -> Network:
    """The rows of a drawing and the graph they make, each row oriented from reservoir to pump.

    cache: rows of parts that did not change since an earlier call with it.

    Where lines run in parallel, a row points the way in which its line is first reached from a reservoir;
    the flow through it may then turn out negative.

    Raises NetworkError with everything that keeps the drawing from being calculated, part by part.
    """
    kept = cache if cache is not None else RowCache()
    trace = _traced(layout, kept)
    kept.make_room(len(layout.runs) + len(layout.fittings))
    table = _Table(trace, kept)
    for intake in layout.intakes.values():
        table.add(intake.name, table.cache.intake_rows, intake)
    for step in trace.steps:
        table.add_run(step)
    live = len(table.rows)
    for step in trace.cut_off:
        table.add_run(step)
    if table.problems:
        raise NetworkError(tuple(table.problems))
    kept.trace = trace
    return table.network(live)


def _traced(layout: Layout, kept: RowCache) -> Trace:
    """How a drawing is joined; where it is joined as the last one was, only what differs is looked at.

    Raises NetworkError with what keeps the fluid from being followed.
    """
    trace = kept.trace
    if trace is not None and trace.fits(layout):
        problems = [
            *kept.reservoir_problems(layout),
            *tracing.without_bore(layout, set(trace.changed(layout))),
        ]
        if not problems:
            return trace.followed(layout)
    if unknown := tuple(tracing.unknown_ends(layout)):
        raise NetworkError(unknown)
    graph = tracing.RunGraph(layout)
    problems = [
        *kept.reservoir_problems(layout),
        *tracing.loose(layout, graph),
        *tracing.without_bore(layout),
    ]
    walk = tracing.Walk(layout, graph)
    problems += tracing.unreached(layout, graph, walk)
    if problems:
        raise NetworkError(tuple(problems))
    return kept_trace.begun(layout, graph, walk)


def rebuilt(network: Network, layout: Layout, cache: RowCache) -> Network:
    """The network of a drawing that differs in figures alone: only the rows of parts that differ are made.

    network: as built. layout: with the same tees and runs as the network's own, or it is built as a whole.
    Errors as `build`.
    """
    old = network.layout
    if _needs_building(old, layout):
        return build(layout, cache)
    fresh: list[Row] = []
    if layout.intakes is not old.intakes:
        for name, intake in layout.intakes.items():
            if intake is not old.intakes[name]:
                fresh += making.intake_rows(intake)
    if layout.fittings is not old.fittings:
        for name, fitting in layout.fittings.items():
            if fitting is not old.fittings[name]:
                fresh += cache.fitting_rows(fitting, (bore(fitting),) * 2)
    return replace(network, layout=layout) if not fresh else _with_rows(network, layout, fresh)


def _needs_building(old: Layout, layout: Layout) -> bool:
    """Whether more than single rows differs between two drawings."""
    if not (old.runs is layout.runs and old.tees is layout.tees):
        return True
    if old.fittings is layout.fittings:
        return False
    for name, part in layout.fittings.items():
        if part is not old.fittings[name] and (
            part.closed is not old.fittings[name].closed or part.kind in REDUCER_KINDS
        ):
            return True
    return False


def _with_rows(network: Network, layout: Layout, fresh: Iterable[Row]) -> Network:
    """A network with rows in the place of those of the same keys."""
    rows, table = list(network.rows), {name: column.copy() for name, column in network.columns.items()}
    for row in fresh:
        at = network.index.get(row.key)
        if at is not None:  # a closed fitting has none
            rows[at] = replace(row, start=rows[at].start, end=rows[at].end)
            for name, column in columns((row,)).items():
                if name in table:
                    table[name][at] = column[0]
    return replace(network, layout=layout, rows=Rows(rows), columns=table)


class _Table:
    """Rows in the making, in walking order."""

    def __init__(self, trace: Trace, cache: RowCache) -> None:
        self.trace, self.cache = trace, cache
        self.layout = layout = trace.layout
        self.system = layout.units
        self.closures = trace.closures
        self.rows: list[Row] = []
        self.problems: list[tuple[str, str]] = []
        self.legs = {name: tracing.leg_names(layout, trace.graph, name) for name in layout.tees}
        self.tees: dict[str, list[TeeLeg]] = {name: [] for name in layout.tees}

    def add(self, part: str, make: Callable[..., Iterable[Row]], *given: object) -> None:
        """The rows that `make` returns, or what keeps that part from having any."""
        try:
            self.rows += make(*given)
        except (GeometryError, FittingError) as error:
            in_words = error.text if isinstance(error, GeometryError) else error_text(error, self.system)
            self.problems.append((part, in_words))

    def add_run(self, step: TracedStep) -> None:
        """The rows of one run, of its changes of bore, and of the part it leads to."""
        known = self.trace.rows_of(step)
        if known is not None:
            self.rows += known
            return
        first, problems = len(self.rows), len(self.problems)
        self._add_step(step)
        if len(self.problems) == problems:
            self.trace.keep(step, tuple(self.rows[first:]))

    def _add_step(self, step: TracedStep) -> None:
        run, near, far = step.run, self.layout.joint(step.near), self.layout.joint(step.far)
        start, end = self._leave(near, run), self._end(far, run)
        other = self._other(far, run) if isinstance(far, Fitting) else None
        widths = (self._width(near, run), bore(run), bore_at(far, run, other))
        inlet = making.bore_change(near.name, run.name, run, near, (start, f"{run.name}/in"), widths[:2])
        outlet = making.bore_change(run.name, far.name, run, far, (f"{run.name}/out", end), widths[1:])
        first, last = inlet.end if inlet else start, outlet.start if outlet else end
        self.rows += [inlet] if inlet else []
        self.add(run.name, self.cache.run_rows, self.layout, run, run.start == near.name, first, last)
        self.rows += [outlet] if outlet else []
        if is_closed(self.layout, far.name):
            return
        if isinstance(far, Fitting):
            both = (widths[2], bore_at(far, other or run, run if other else None))
            self.add(far.name, self.cache.joint_rows, self.layout, far, (run, other), both)
        elif isinstance(far, Tee):
            self._add_leg(far, run, inward=True)

    def _width(self, joint: Joint, run: Run) -> float:
        return bore_at(joint, run, self._other(joint, run) if isinstance(joint, Fitting) else None)

    def _other(self, fitting: Fitting, run: Run) -> Run | None:
        """The run on the other side of an in-line part."""
        others = (name for _, name in self.trace.graph.lines(fitting.name) if name != run.name)
        return next((self.layout.runs[name] for name in others), None)

    def _leave(self, near: Joint, run: Run) -> str:
        if isinstance(near, Tee):
            return self._add_leg(near, run, inward=False)
        if isinstance(near, Pump):
            return f"pump:{near.name}"
        return self._shut(near, run) or f"{near.name}/out"

    def _end(self, far: Joint, run: Run) -> str:
        if isinstance(far, Pump):
            return f"pump:{far.name}"
        if isinstance(far, Intake):
            return f"{far.name}/out"
        if isinstance(far, Fitting):
            return self._shut(far, run) or f"{far.name}/in"
        return f"{far.name}/{run.name}" if self.closures else f"{far.name}/centre"

    def _shut(self, joint: Joint, run: Run) -> str:
        """The node of a closed fitting on the side of a run; "" for an open one."""
        return f"{joint.name}/{run.name}" if is_closed(self.layout, joint.name) else ""

    def _add_leg(self, tee: Tee, run: Run, inward: bool) -> str:
        """A leg of a tee; its outer node. The leg into a tee of a tree carries the whole flow: no row."""
        names, note = self.legs[tee.name]
        element = names[run.name]
        centre, outer = f"{tee.name}/centre", f"{tee.name}/{run.name}"
        whole = inward and not self.closures
        if not whole:
            ways = (outer, centre) if inward else (centre, outer)
            self.rows.append(making.tee_row(tee, element, *ways, note))
        number = None if whole else len(self.rows) - 1
        self.tees[tee.name].append(TeeLeg(run.name, element, number, inward, bore(tee)))
        return outer

    def _still(self, live: int) -> frozenset[int]:
        """The rows in which nothing flows: those from `live` on, and what leads to a closed end."""
        if not any(fitting.closed for fitting in self.layout.fittings.values()):
            return frozenset()
        dead = dead_ends.dead_runs(self.layout, self.layout.runs)
        shut = {end for name in dead for end in (self.layout.runs[name].start, self.layout.runs[name].end)}
        parts = dead | {end for end in shut if end in self.layout.intakes or end in self.layout.fittings}
        still = {i for i, row in enumerate(self.rows) if row.part in parts}
        legs = (leg for legs in self.tees.values() for leg in legs)
        still |= {leg.row for leg in legs if leg.run in dead and leg.row is not None}
        return frozenset(still | set(range(live, len(self.rows))))

    def network(self, live: int) -> Network:
        """The finished table, of which the first `live` rows are joined to a reservoir."""
        rows = Rows(self.rows)
        self.trace.joins = rows.joined_as(self.trace.joins)
        elevation = {row.start: row.z_in for row in rows} | {row.end: row.z_out for row in rows}
        return Network(
            layout=self.layout,
            rows=rows,
            columns=columns(rows, both_ways=bool(self.closures)),
            elevation=elevation,
            index={row.key: i for i, row in enumerate(rows)},
            tees={name: tuple(legs) for name, legs in self.tees.items()},
            closures=self.closures,
            cut_off=len(rows) - live,
            still=self._still(live),
            joined=self.trace.graph,
        )


def joined(network: Network) -> Network:
    """The network without the rows that closed valves part from everything else."""
    if not network.cut_off:
        return network
    count = len(network.rows) - network.cut_off
    kept = {
        name: legs
        for name, legs in network.tees.items()
        if all(leg.row is None or leg.row < count for leg in legs)
    }
    table = {name: column[:count] for name, column in network.columns.items()}
    return replace(network, rows=Rows(network.rows[:count]), columns=table, tees=kept, cut_off=0)


def columns(rows: Iterable[Row], *, both_ways: bool = True) -> dict[str, Floats]:
    """The numeric fields of rows as one array each: (rows,), or (rows, variants) where a row has a column.

    both_ways: with those of flow the other way too, if there are variants; in a tree nothing flows so.
    """
    numbers = [_numbers(row) for row in rows]
    try:
        table = np.array(numbers, dtype=np.float64)
    except ValueError:  # a column among them
        by_name = {
            name: figures.table(values)
            for name, *values in zip(NUMBERS, *numbers, strict=True)
            if both_ways or not name.endswith("_back")
        }
    else:
        by_name = {name: np.ascontiguousarray(table[:, i]) for i, name in enumerate(NUMBERS)}
    return by_name


_numbers = attrgetter(*NUMBERS)
