"""The way of the fluid through a drawing, from its reservoirs outwards, and what bars it from the pumps."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Container, Hashable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple, TypeVar

from solver.geometry.outline import direction, ends, place_text, position
from solver.layout.parts import Fitting, Intake, Layout, Pump, Run, Tee
from solver.network import dead_ends
from solver.network.dead_ends import is_closed
from solver.network.rows import Leg
from solver.properties.sizes import SizeError
from solver.quantities.wording import with_article

MOST_KEPT = 64
"""Results for pumps and cases of a drawing, before those of earlier figures are forgotten."""

T = TypeVar("T")

DRAWING = "drawing"
"""Stands where a part does before what the drawing as a whole lacks."""


COLLINEAR = math.radians(20)
"""Two legs of a tee this near to one straight line are its run."""


class TracedStep(NamedTuple):
    """One run of the walk, from the part nearer a reservoir to the part farther."""

    run: Run
    near: str
    far: str


def unknown_ends(layout: Layout) -> Iterable[tuple[str, str]]:
    """Runs that end on what is no part a line may end on."""
    groups = (layout.intakes, layout.fittings, layout.tees, layout.pumps)
    for name, run in layout.runs.items():
        for end in (run.start, run.end):
            if not any(end in group for group in groups):
                yield name, f"ends on {end}, which is not there"


class RunGraph:
    """Which parts are joined by which runs, without a library: its import takes longer than a small drawing.

    It keeps what hangs on that and on little else, for the next drawing that is joined alike.
    """

    def __init__(self, layout: Layout) -> None:
        # With the very objects that it follows from, so that no other gets the identity of one.
        self._kept: dict[tuple[Hashable, ...], tuple[tuple[object, ...], Any]] = {}
        groups = (layout.intakes, layout.fittings, layout.tees, layout.pumps)
        self.parts: dict[str, dict[str, list[str]]] = {name: {} for group in groups for name in group}
        for name, run in layout.runs.items():
            self.parts[run.start].setdefault(run.end, []).append(name)
            if run.end != run.start:
                self.parts[run.end].setdefault(run.start, []).append(name)

    def once(self, what: Hashable, things: tuple[object, ...], work_out: Callable[[], T]) -> T:
        """What follows from these joints and some things, which are distinguished by identity."""
        key = (what, *map(id, things))
        kept = self._kept.get(key)
        if kept is None:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            kept = self._kept[key] = things, work_out()
        value: T = kept[1]
        return value

    def lines(self, part: str) -> list[tuple[str, str]]:
        """The runs on a part: (the part at its other end, the run)."""
        return [(far, name) for far, names in self.parts[part].items() for name in names]

    def count(self, part: str) -> int:
        """How many ends of runs are joined to a part."""
        joined = self.parts[part]
        return sum(map(len, joined.values())) + len(joined.get(part, ()))

    def groups(self) -> Iterator[list[str]]:
        """The parts that hang together, one group after the other."""
        seen: set[str] = set()
        for first in self.parts:
            if first not in seen:
                seen.add(first)
                group = [first]
                for part in group:
                    fresh = [far for far in self.parts[part] if far not in seen]
                    seen.update(fresh)
                    group += fresh
                yield group


def loose(layout: Layout, graph: RunGraph) -> Iterable[tuple[str, str]]:
    """Parts with too few or too many lines on them."""
    if not layout.pumps:
        yield DRAWING, "no pump on it yet"
    if not layout.intakes:
        yield DRAWING, "no intake on it yet"
    for run in layout.runs.values():
        if run.start == run.end:
            yield run.name, f"starts and ends on {run.start}"
    for name in graph.parts:
        part, lines = layout.joint(name), graph.count(name)
        if isinstance(part, Fitting | Tee) and lines == 1 and not is_closed(layout, name):
            ((_, run_name),) = graph.lines(name)
            yield run_name, f"ends in the air at {name}, {place_text(layout, position(part))}"
        else:
            yield from _miscounted(part, lines)
            if isinstance(part, Tee) and lines == 2:
                yield name, _of_two_lines(*(layout.runs[run] for _, run in graph.lines(name)))


def _miscounted(part: Intake | Fitting | Tee | Pump, lines: int) -> Iterable[tuple[str, str]]:
    """A part on which that many lines cannot end."""
    name = part.name
    if lines == 0:
        yield name, "no line is joined to it"
    elif isinstance(part, Fitting) and lines > 2:
        yield name, f"joins {lines} lines; {with_article(part.kind)} sits between two"
    elif isinstance(part, Tee) and lines not in (2, 3):
        yield name, f"joins {lines} lines; a tee joins three"
    elif isinstance(part, Intake) and lines > 1:
        yield name, f"feeds {lines} lines; join them at a tee"


UNLIKE: Mapping[str, str] = {
    "size": "size", "bore": "bore", "material": "material", "roughness": "roughness", "bend": "bends",
    "bend_radius": "bend radius", "out_of_plane": "length out of the plane",
}  # fmt: skip
"""Keys of a run that make one line of two hard to tell, in words."""


def _of_two_lines(one: Run, other: Run) -> str:
    """Why a tee with two lines on it is refused, and how to go on."""
    text = (
        f"joins 2 lines, {one.name} and {other.name}; a tee joins three: join a third to it, or take it out"
    )
    unlike = [word for key, word in UNLIKE.items() if getattr(one, key) != getattr(other, key)]
    if not unlike:
        return f"{text}, and let the two be one line"
    named = " and ".join(filter(None, (", ".join(unlike[:-1]), unlike[-1])))
    return f"{text}. The two differ in {named}: make them alike and one line, or put in what joins them"


class Walk:
    """Every run a reservoir reaches, from there outwards, a line between two junctions at a time.

    A line that ends on a part already reached closes a parallel path; its last run is kept by name. Nothing
    is walked through a pump or a closed fitting. What closed fittings cut off is walked last, by itself.
    """

    def __init__(self, layout: Layout, graph: RunGraph) -> None:
        self.layout, self.graph = layout, graph
        self.walked: set[str] = set()
        self.reached: set[str] = set(layout.intakes)
        self.steps, closures = self._from(layout.intakes)
        self.closures = tuple(closures)
        self.left = [name for name in layout.runs if name not in self.walked]
        sections = dead_ends.sections(layout, self.left) if self.left else ()
        seeds = [seed for section in sections if (seed := dead_ends.seed(section, self.reached)) is not None]
        self.cut_off, _ = self._from(seeds)

    def _from(self, begin: Iterable[str]) -> tuple[list[TracedStep], list[str]]:
        steps: list[TracedStep] = []
        closures: list[str] = []
        waiting = deque(begin)
        while waiting:
            junction = waiting.popleft()
            for first, name in self.graph.lines(junction):
                if name in self.walked or first == junction:
                    continue
                step = self._along(TracedStep(self.layout.runs[name], junction, first), steps)
                if is_closed(self.layout, step.far):
                    continue
                if step.far in self.reached:
                    closures.append(step.run.name)
                elif step.far not in self.layout.pumps:
                    waiting.append(step.far)
                self.reached.add(step.far)
        return steps, closures

    def _along(self, step: TracedStep, steps: list[TracedStep]) -> TracedStep:
        """Walk a line through its in-line parts to the junction, pump, intake or closed end."""
        while True:
            steps.append(step)
            self.walked.add(step.run.name)
            if step.far not in self.layout.fittings or is_closed(self.layout, step.far):
                return step
            onward = [(far, name) for far, name in self.graph.lines(step.far) if name not in self.walked]
            if not onward:
                return step
            step = TracedStep(self.layout.runs[onward[0][1]], step.far, onward[0][0])


def unreached(layout: Layout, graph: RunGraph, walk: Walk) -> Iterable[tuple[str, str]]:
    """Pumps and lines without a way from a reservoir, and lines without a pump."""
    dry = [pump for pump in layout.pumps if pump not in walk.reached and graph.count(pump)]
    for pump in dry:
        yield (
            pump,
            f"no line from a reservoir reaches it{dead_ends.closed_fittings_text(layout, pump, walk.left)}",
        )
    for group in graph.groups():
        intakes = [name for name in group if name in layout.intakes]
        pumped = any(name in layout.pumps for name in group)
        if len(intakes) == 1 and not pumped and len(group) > 1:
            yield intakes[0], "its line leads to no pump"
    for section in dead_ends.sections(layout, [name for name in walk.left if name not in walk.walked]):
        if not any(pump in dry for pump in section.pumps):
            for name in section.runs:
                if layout.runs[name].start != layout.runs[name].end:
                    yield name, "no fluid reaches it from a reservoir, except through a pump"


def without_bore(layout: Layout, only: Container[str] | None = None) -> Iterable[tuple[str, str]]:
    """What has no bore, of all parts or of some."""
    for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps, layout.runs):
        for name, part in group.items():
            if only is not None and name not in only:
                continue
            try:
                width = min(ends(part))
            except SizeError as error:
                yield name, f"{error.found!r} is no known size; {error.allowed}"
                continue
            if not width > 0:
                yield name, "its bore is not above zero"


def leg_names(layout: Layout, graph: RunGraph, tee: str) -> tuple[dict[str, Leg], str]:
    """The legs of a tee by their runs: the two nearest to one line are its run, the third the branch.

    With it, what a reader should know where that is not plain from the drawing.
    """
    names = [name for _, name in graph.lines(tee)]
    ways = [direction(layout, layout.runs[name], tee) for name in names]
    pairs = ((0, 1, 2), (0, 2, 1), (1, 2, 0))
    opposed = {p: ways[p[0]][0] * ways[p[1]][0] + ways[p[0]][1] * ways[p[1]][1] for p in pairs}
    a, b, c = straightest = min(pairs, key=opposed.__getitem__)
    askew = opposed[straightest] > -math.cos(COLLINEAR)
    note = (
        f"no two of its lines are in line: {names[a]} and {names[b]} are taken for its run" if askew else ""
    )
    return {names[a]: Leg.RUN_1, names[b]: Leg.RUN_2, names[c]: Leg.BRANCH}, note
