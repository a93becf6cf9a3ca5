"""A part of another line put back as the drawing itself has it: first where it has suffered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from solver.fixes.candidate import Candidate, FixKind, in_one_size
from solver.geometry import outline
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout, Run

COST = "a part as it was drawn, or the work on the one there is"


def candidates(layout: Layout, drawn: Layout) -> Iterator[Candidate]:
    """Each part that takes more than it does in the drawing itself, as it is drawn there.

    drawn: the drawing that `layout` is an alternative of.
    """
    if layout is drawn:
        return
    for name, run in layout.runs.items():
        own = drawn.runs.get(name)
        if own is not None and _is_narrower(run, own):
            size = own.size or (own.bore.text if own.bore is not None else "")
            yield _part_as_drawn(
                FixKind.SIZE, name, drawn, f"put {name} back as drawn: {size}, whole and clean"
            )
    longer = [name for name, run in layout.runs.items() if _is_longer(run, drawn.runs.get(name))]
    if longer:
        yield in_one_size(
            FixKind.ROUTE, "", lambda on: _with_runs(on, longer, drawn), "lay the line as long as drawn", COST
        )
    for name, fitting in layout.fittings.items():
        before = drawn.fittings.get(name)
        if before is not None and _is_worse(fitting, before):
            yield _part_as_drawn(
                FixKind.VALVE, name, drawn, f"put {name} back as drawn, {before.kind}: open, whole and free"
            )


def _is_narrower(run: Run, own: Run) -> bool:
    """Whether a run lies as drawn, in a smaller bore."""
    same = (run.start, run.end, run.via) == (own.start, own.end, own.via)
    return same and outline.bore(run) < outline.bore(own)


def _is_longer(run: Run, own: Run | None) -> bool:
    """Whether a run is the one drawn but for what it is longer out of the drawing's plane."""
    return own is not None and run != own and replace(run, out_of_plane=own.out_of_plane) == own


def _is_worse(fitting: Fitting, before: Fitting) -> bool:
    """Whether a fitting stands where it is drawn as another one of a known K, or in a smaller bore."""
    if fitting == before or fitting.at != before.at:
        return False
    known = fitting.kind is FittingKind.KNOWN_K and before.kind is not FittingKind.KNOWN_K
    narrower = fitting.kind is before.kind and outline.bore(fitting) < outline.bore(before)
    return known or narrower or (fitting.curve is not None and fitting.curve != before.curve)


def _part_as_drawn(kind: FixKind, name: str, drawn: Layout, order: str) -> Candidate:
    """One part as drawn; a change that gains nothing is offered by nobody."""

    def edit(layout: Layout) -> Layout:
        if name in layout.runs:
            return _with_runs(layout, [name], drawn)
        return replace(layout, fittings={**layout.fittings, name: drawn.fittings[name]})

    return in_one_size(kind, name, edit, order, COST)


def _with_runs(layout: Layout, names: Iterable[str], drawn: Layout) -> Layout:
    return replace(layout, runs={**layout.runs, **{name: drawn.runs[name] for name in names}})
