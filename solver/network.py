"""Layout -> graph and element table.

Everything the fluid passes through is one `Row`. A row carries the coefficients of the one drop expression
(see `losses.drop`) and where it is drawn, so that the calculation and the drawing share one key.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from operator import attrgetter
from typing import NamedTuple

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from solver import figures, fluid
from solver import rows as making
from solver.fittings import FittingError
from solver.geometry import GeometryError, Joint, bore, corners, place, position
from solver.layout import Fitting, Intake, Layout, Pump, Run, Tee
from solver.reservoirs import reservoir_problems
from solver.rows import KINDS as KINDS
from solver.rows import Row as Row
from solver.sizes import SizeError

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
    "fixed",
    "cap",
    "k_inf_back",
)
"""The fields of a row that become columns. `k_inf_back` holds `k_inf` where a row gives none."""

COLLINEAR = math.radians(20)
"""Two legs of a tee this near to one straight line are its run."""


@dataclass(frozen=True, slots=True)
class TeeLeg:
    """One of the three ways into a tee."""

    run: str  # the run that ends here
    element: str  # "run 1", "run 2" or "branch"
    row: int | None  # its row; None for the leg that always carries the whole flow
    inward: bool  # the expected flow runs into the tee
    bore: float  # [m]


@dataclass(frozen=True, slots=True)
class Network:
    """The rows, as objects and as columns of the same order, and the graph they make.

    Nodes are "reservoir:tank", "pump:carriage" and inner ones; each edge carries `row`, an index into `rows`.
    """

    layout: Layout
    rows: tuple[Row, ...]
    columns: Mapping[str, Floats]  # the numeric fields of Row, by their names
    graph: nx.MultiDiGraph
    elevation: Mapping[str, float]  # of every node [m]
    index: Mapping[str, int]  # row key -> row number
    tees: Mapping[str, tuple[TeeLeg, ...]] = field(default_factory=dict)
    closures: tuple[str, ...] = ()  # runs that close a parallel path; none in a tree


class NetworkError(ValueError):
    """A drawing that holds no line to calculate. `problems` is ((part, what is wrong), ...)."""

    def __init__(self, problems: tuple[tuple[str, str], ...]) -> None:
        super().__init__("; ".join(f"{part}: {text}" for part, text in problems))
        self.problems = problems


class Step(NamedTuple):
    """One run of the walk, from the part nearer a reservoir to the part farther."""

    run: Run
    near: str
    far: str


def pump_flow(pump: Pump) -> float:
    """What a pump takes in [m³/s]: displacement × speed, or the flow given in their place.

    Raises NetworkError when the pump has neither.
    """
    if pump.flow is not None:
        return pump.flow.si
    if pump.displacement is None or pump.speed is None:
        raise NetworkError(((pump.name, "has neither a flow nor a displacement and a speed"),))
    return pump.displacement.si * pump.speed.si


def build(layout: Layout) -> Network:
    """The rows of a drawing and the graph they make, each row oriented from reservoir to pump.

    Where lines run in parallel, a row points the way in which its line is first reached from a reservoir;
    the flow through it may then turn out negative.

    Raises NetworkError with everything that keeps the drawing from being calculated, part by part;
    FluidError where a known drop needs the density of a fluid that has none.
    """
    if astray := tuple(_astray(layout)):
        raise NetworkError(astray)
    drawn = _drawn(layout)
    problems = [*reservoir_problems(layout), *_loose(layout, drawn), *_sizes(layout)]
    steps, closures = _walk(layout, drawn)
    problems += _unreached(layout, drawn, steps)
    if problems:
        raise NetworkError(tuple(problems))
    table = _Table(layout, drawn, closures)
    for intake in layout.intakes.values():
        table.add(intake.name, making.intake_rows, intake)
    for step in steps:
        table.add_run(step)
    if table.problems:
        raise NetworkError(tuple(table.problems))
    return table.network()


def _astray(layout: Layout) -> Iterable[tuple[str, str]]:
    """Runs that end on what is no part a line may end on."""
    groups = (layout.intakes, layout.fittings, layout.tees, layout.pumps)
    for name, run in layout.runs.items():
        for end in (run.start, run.end):
            if not any(end in group for group in groups):
                yield name, f"ends on {end}, which is not there"


def _drawn(layout: Layout) -> nx.MultiGraph:
    """Parts as nodes, runs as edges of their own name."""
    drawn = nx.MultiGraph()
    for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps):
        drawn.add_nodes_from(group)
    drawn.add_edges_from((run.start, run.end, name) for name, run in layout.runs.items())
    return drawn


def _loose(layout: Layout, drawn: nx.MultiGraph) -> Iterable[tuple[str, str]]:
    """Parts with too few or too many lines on them."""
    if not layout.pumps:
        yield layout.title, "has no pump"
    if not layout.intakes:
        yield layout.title, "has no intake"
    for run in layout.runs.values():
        if run.start == run.end:
            yield run.name, f"starts and ends on {run.start}"
    for name, lines in drawn.degree():
        part = layout.joint(name)
        if lines == 0:
            yield name, "no line is joined to it"
        elif isinstance(part, Fitting | Tee) and lines == 1:
            (run_name,) = (key for _, _, key in drawn.edges(name, keys=True))
            yield run_name, f"ends in the air at {name}, {place(layout, position(part))}"
        elif isinstance(part, Fitting) and lines > 2:
            yield name, f"joins {lines} lines; a {part.kind} sits between two"
        elif isinstance(part, Tee) and lines != 3:
            yield name, f"joins {lines} lines; a tee joins three"
        elif isinstance(part, Intake) and lines > 1:
            yield name, f"feeds {lines} lines; join them at a tee"


def _walk(layout: Layout, drawn: nx.MultiGraph) -> tuple[list[Step], tuple[str, ...]]:
    """Every run a reservoir reaches, from there outwards, a line between two junctions at a time.

    A line that ends on a part already reached closes a parallel path; its last run is returned by name.
    Nothing is walked through a pump.
    """
    steps: list[Step] = []
    closures: list[str] = []
    walked: set[str] = set()
    reached: set[str] = set(layout.intakes)
    waiting = deque(layout.intakes)
    while waiting:
        junction = waiting.popleft()
        for _, first, name in drawn.edges(junction, keys=True):
            if name in walked or first == junction:
                continue
            step = _along(layout, drawn, Step(layout.runs[name], junction, first), steps, walked)
            if step.far in reached:
                closures.append(step.run.name)
            elif step.far not in layout.pumps:
                waiting.append(step.far)
            reached.add(step.far)
    return steps, tuple(closures)


def _along(layout: Layout, drawn: nx.MultiGraph, step: Step, steps: list[Step], walked: set[str]) -> Step:
    """Walk a line through its in-line parts to the junction, pump or intake at its end."""
    while True:
        steps.append(step)
        walked.add(step.run.name)
        if step.far not in layout.fittings:
            return step
        onward = [(far, key) for _, far, key in drawn.edges(step.far, keys=True) if key not in walked]
        if not onward:
            return step
        step = Step(layout.runs[onward[0][1]], step.far, onward[0][0])


def _unreached(layout: Layout, drawn: nx.MultiGraph, steps: list[Step]) -> Iterable[tuple[str, str]]:
    """Pumps and lines without a way from a reservoir, and lines without a pump."""
    walked = {step.run.name for step in steps}
    reached = {step.far for step in steps}
    dry = [pump for pump in layout.pumps if pump not in reached and drawn.degree(pump)]
    for pump in dry:
        yield pump, "no line from a reservoir reaches it"
    for group in nx.connected_components(drawn):
        intakes = [name for name in layout.intakes if name in group]
        pumped = any(name in group for name in layout.pumps)
        if len(intakes) == 1 and not pumped and len(group) > 1:
            yield intakes[0], "its line leads to no pump"
    for name, run in layout.runs.items():
        ends = (run.start, run.end)
        if name not in walked and run.start != run.end and not any(end in dry for end in ends):
            yield name, "no fluid reaches it from a reservoir, except through a pump"


def _sizes(layout: Layout) -> Iterable[tuple[str, str]]:
    for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps, layout.runs):
        for name, part in group.items():
            try:
                width = bore(part)
            except SizeError as error:
                yield name, f"{error.found!r} is no known size; {error.allowed}"
                continue
            if not width > 0:
                yield name, "its bore is not above zero"


class _Table:
    """Rows in the making, in walking order."""

    def __init__(self, layout: Layout, drawn: nx.MultiGraph, closures: tuple[str, ...]) -> None:
        self.layout = layout
        self.closures = closures
        self.rows: list[Row] = []
        self.problems: list[tuple[str, str]] = []
        self.legs = {name: _leg_names(layout, drawn, name) for name in layout.tees}
        self.tees: dict[str, list[TeeLeg]] = {name: [] for name in layout.tees}

    def add(self, part: str, make: Callable[..., list[Row]], *given: object) -> None:
        """The rows that `make` returns, or what keeps that part from having any."""
        try:
            self.rows += make(*given)
        except (GeometryError, FittingError) as error:
            self.problems.append((part, error.text if isinstance(error, GeometryError) else str(error)))

    def add_run(self, step: Step) -> None:
        """The rows of one run, of its changes of bore, and of the part it leads to."""
        run, near, far = step.run, self.layout.joint(step.near), self.layout.joint(step.far)
        start, end = self._leave(near, run), self._end(far, run)
        widths = (bore(near), bore(run), bore(far))
        entry = making.bore_change(near.name, run.name, run, near, (start, f"{run.name}/in"), widths[:2])
        exit = making.bore_change(run.name, far.name, run, far, (f"{run.name}/out", end), widths[1:])
        first, last = entry.end if entry else start, exit.start if exit else end
        self.rows += [entry] if entry else []
        self.add(run.name, making.run_rows, self.layout, run, run.start == near.name, first, last)
        self.rows += [exit] if exit else []
        if isinstance(far, Fitting):
            self.add(far.name, making.fitting_rows, far, self._density(far))
        elif isinstance(far, Tee):
            self._add_leg(far, run, inward=True)

    def _density(self, fitting: Fitting) -> float:
        """Of the fluid drawn [kg/m³], where a fitting's figure hangs on it; else no number."""
        needed = fitting.drop is not None and fitting.flow is not None
        return fluid.state(self.layout.fluid).density if needed else math.nan

    def _leave(self, near: Joint, run: Run) -> str:
        if isinstance(near, Tee):
            return self._add_leg(near, run, inward=False)
        return f"{near.name}/out"

    def _end(self, far: Joint, run: Run) -> str:
        if isinstance(far, Pump):
            return f"pump:{far.name}"
        if isinstance(far, Intake):
            return f"{far.name}/out"
        if isinstance(far, Fitting):
            return f"{far.name}/in"
        return f"{far.name}/{run.name}" if self.closures else f"{far.name}/centre"

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

    def network(self) -> Network:
        """The finished table."""
        rows = tuple(self.rows)
        graph = nx.MultiDiGraph()
        graph.add_edges_from((row.start, row.end, i, {"row": i}) for i, row in enumerate(rows))
        elevation = {row.start: row.z_in for row in rows} | {row.end: row.z_out for row in rows}
        return Network(
            layout=self.layout,
            rows=rows,
            columns=columns(rows),
            graph=graph,
            elevation=elevation,
            index={row.key: i for i, row in enumerate(rows)},
            tees={name: tuple(legs) for name, legs in self.tees.items()},
            closures=self.closures,
        )


def columns(rows: Iterable[Row]) -> dict[str, Floats]:
    """The numeric fields of rows as one array each: (rows,), or (rows, variants) where a row has a column."""
    numbers = [_numbers(row) for row in rows]
    try:
        table = np.array(numbers, dtype=np.float64)
    except ValueError:  # a column among them
        made = {name: figures.table(values) for name, *values in zip(NUMBERS, *numbers, strict=True)}
    else:
        made = {name: np.ascontiguousarray(table[:, i]) for i, name in enumerate(NUMBERS)}
    forward, back = figures.spread((made["k_inf"], made["k_inf_back"]), ())
    made["k_inf_back"] = np.where(np.isnan(back), forward, back)
    return made


_numbers = attrgetter(*NUMBERS)


def _leg_names(layout: Layout, drawn: nx.MultiGraph, tee: str) -> tuple[dict[str, str], str]:
    """The legs of a tee by their runs: the two nearest to one line are its run, the third the branch.

    With it, what a reader should know where that is not plain from the drawing.
    """
    names = [name for _, _, name in drawn.edges(tee, keys=True)]
    ways = [_direction(layout, layout.runs[name], tee) for name in names]
    pairs = ((0, 1, 2), (0, 2, 1), (1, 2, 0))
    opposed = {p: ways[p[0]][0] * ways[p[1]][0] + ways[p[0]][1] * ways[p[1]][1] for p in pairs}
    a, b, c = straightest = min(pairs, key=opposed.__getitem__)
    askew = opposed[straightest] > -math.cos(COLLINEAR)
    note = (
        f"no two of its lines are in line: {names[a]} and {names[b]} are taken for its run" if askew else ""
    )
    return {names[a]: "run 1", names[b]: "run 2", names[c]: "branch"}, note


def _direction(layout: Layout, run: Run, tee: str) -> tuple[float, float]:
    """Unit direction in which a run leaves a tee; (0, 0) where it is not drawn, out of the plane."""
    points = corners(layout, run)
    if run.start != tee:
        points.reverse()
    for x, y in points[1:]:
        length = math.hypot(x - points[0][0], y - points[0][1])
        if length > 1e-6:
            return (x - points[0][0]) / length, (y - points[0][1]) / length
    return 0.0, 0.0
