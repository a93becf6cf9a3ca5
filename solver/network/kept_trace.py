"""How the parts of a drawing are joined, with the rows of each line, kept while no line is joined anew.

A drag moves one part of many.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from solver.layout.parts import Layout, Run, Tee
from solver.network.rows import Row
from solver.network.tracing import RunGraph, TracedStep, Walk
from solver.network.ways import Joins


class Trace:
    """The way of the fluid through a drawing, with the rows of its steps as far as they are made.

    Threads may share one that is made; one in the making belongs to whoever builds its drawing.
    """

    def __init__(
        self,
        layout: Layout,
        graph: RunGraph,
        steps: tuple[list[TracedStep], list[TracedStep]],
        closures: tuple[str, ...],
        rows: dict[str, tuple[Row, ...]],
        joins: Joins | None = None,
    ) -> None:
        """steps: of a walk, those that fluid reaches and those cut off; rows: of a step, by its run; joins:
        of the rows of a drawing that this one followed."""
        self.layout, self.graph, self.closures = layout, graph, closures
        self.steps, self.cut_off = steps
        self._rows, self.joins = rows, joins

    def followed(self, layout: Layout) -> Trace:
        """That of another drawing which this one `fits`, with the rows that it has too."""
        runs = [run for name, run in layout.runs.items() if run is not self.layout.runs[name]]
        rows = dict(self._rows)
        for name in self._hang_on(runs, self.changed_parts(layout)):
            rows.pop(name, None)
        steps = self.steps, self.cut_off
        if runs:
            steps = _with_runs(self.steps, layout.runs), _with_runs(self.cut_off, layout.runs)
        return Trace(layout, self.graph, steps, self.closures, rows, self.joins)

    def _hang_on(self, runs: Iterable[Run], parts: Iterable[str]) -> Iterator[str]:
        """The runs whose steps have other rows where these differ: a corner looks to the far end of each run
        on it, a change of bore to the next run."""
        near = {end for run in runs for end in (run.start, run.end)}
        for part in parts:
            near |= {part, *self.graph.parts[part]}
        for part in near:
            for names in self.graph.parts[part].values():
                yield from names

    def changed_parts(self, layout: Layout) -> Iterator[str]:
        """The parts that runs may end on and that differ in another drawing."""
        for now, then in zip(_groups(layout), _groups(self.layout), strict=True):
            if now is not then:
                yield from (name for name, part in now.items() if part is not then[name])

    def changed(self, layout: Layout) -> Iterator[str]:
        """Those, and the runs that differ."""
        yield from self.changed_parts(layout)
        then = self.layout.runs
        yield from (name for name, run in layout.runs.items() if run is not then[name])

    def rows_of(self, step: TracedStep) -> tuple[Row, ...] | None:
        """The rows of a step, where they are known."""
        return self._rows.get(step.run.name)

    def keep(self, step: TracedStep, rows: tuple[Row, ...]) -> None:
        """Have the rows of a step at hand; those of a tee hang on where its other lines stand."""
        if not any(isinstance(self.layout.joint(end), Tee) for end in (step.near, step.far)):
            self._rows[step.run.name] = rows

    def fits(self, layout: Layout) -> bool:
        """Whether in another drawing the same runs join the same parts, and the same of these are closed."""
        for now, then in zip(_groups(layout), _groups(self.layout), strict=True):
            if now is not then and list(now) != list(then):
                return False
        runs, before = layout.runs, self.layout.runs
        if runs is not before:
            if list(runs) != list(before):
                return False
            for name, run in runs.items():
                was = before[name]
                if run is not was and (run.start, run.end) != (was.start, was.end):
                    return False
        fittings, before_them = layout.fittings, self.layout.fittings
        return fittings is before_them or all(
            part.closed is before_them[name].closed for name, part in fittings.items()
        )


def begun(layout: Layout, graph: RunGraph, walk: Walk) -> Trace:
    """The trace of a drawing joined anew. walk: with nothing that bars the fluid from a pump."""
    return Trace(layout, graph, (walk.steps, walk.cut_off), walk.closures, {})


def _groups(layout: Layout) -> tuple[Mapping[str, object], ...]:
    return layout.intakes, layout.fittings, layout.tees, layout.pumps


def _with_runs(steps: list[TracedStep], runs: Mapping[str, Run]) -> list[TracedStep]:
    return [
        step if runs[step.run.name] is step.run else step._replace(run=runs[step.run.name]) for step in steps
    ]
