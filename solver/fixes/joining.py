"""Runs that go on as one where a part between them is taken out."""

from __future__ import annotations

from dataclasses import replace

from solver.fixes.candidate import NoRoomError, free_name
from solver.geometry import outline
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout, Point, Run

ALIKE = 1e-6
"""Difference of two bores that pass for one [m]."""


def joined(layout: Layout, joint: str, at: Point) -> Layout:
    """The drawing with the two runs at a joint as one, or with a reducer at that place where they differ.

    The joint itself is left to the caller. Raises NoRoomError where more or fewer than two runs end there.
    """
    ends = [run for run in layout.runs.values() if joint in (run.start, run.end)]
    if len(ends) != 2:
        raise NoRoomError(f"{joint} does not lie between two runs")
    first, rest = _ending_at(ends[0], joint), _beginning_at(ends[1], joint)
    if abs(outline.bore(first) - outline.bore(rest)) <= ALIKE:
        whole = replace(first, end=rest.end, via=(*first.via, at, *rest.via))
        runs = {name: run for name, run in layout.runs.items() if name != rest.name}
        return replace(layout, runs={**runs, first.name: whole})
    cone = Fitting(
        free_name(layout, "reducer"),
        at,
        FittingKind.ECCENTRIC_REDUCER,
        size=first.size,
        bore=first.bore,
        other_size=rest.size,
        other_bore=rest.bore,
    )
    ended = {first.name: replace(first, end=cone.name), rest.name: replace(rest, start=cone.name)}
    fittings = {**layout.fittings, cone.name: cone}
    return replace(layout, fittings=fittings, runs={**layout.runs, **ended})


def _ending_at(run: Run, joint: str) -> Run:
    return run if run.end == joint else _turned(run)


def _beginning_at(run: Run, joint: str) -> Run:
    return run if run.start == joint else _turned(run)


def _turned(run: Run) -> Run:
    return replace(run, start=run.end, end=run.start, via=tuple(reversed(run.via)))
