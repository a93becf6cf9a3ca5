"""What has suffered put back as drawn: a part of another line, or what is wrong in a case that is a fault."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from solver.fixes.candidate import Candidate, FixKind, in_one_size
from solver.geometry import outline
from solver.layout.cases import cases_of
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout, Run
from solver.layout.raw import without_key

COST = "a part as it was drawn, or the work on the one there is"


MENDING = "the work, and finding out why it came to that"


def candidates(layout: Layout, drawn: Layout | None) -> Iterator[Candidate]:
    """What is wrong in cases that are faults put right, then each part as the drawing itself has it.

    drawn: the drawing that `layout` is an alternative of; None where it is none.
    """
    yield from _faults_mended(layout)
    if drawn is not None and layout is not drawn:
        yield from _parts_restored(layout, drawn)


def _faults_mended(layout: Layout) -> Iterator[Candidate]:
    """Each figure of the cases that are faults taken out of them; what another case has alike is no fault."""
    every = cases_of(layout)
    sound = [case.figures for case in every.values() if not case.is_fault]
    faulty = {path: value for case in every.values() if case.is_fault for path, value in case.figures.items()}
    for path, value in faulty.items():
        if any(figures.get(path) == value for figures in sound) or not (order := _order(layout, path)):
            continue
        kind = _KINDS[path[-1] if path[0] != "levels" else path[0]]
        name = "" if path[0] == "fluid" else path[1]
        yield in_one_size(kind, name, partial(_without_fault, path=path), order, MENDING)


_KINDS = {
    "blocked": FixKind.SCREEN,
    "levels": FixKind.LEVEL,
    "breather_drop": FixKind.PRESSURE,
    "pressure": FixKind.PRESSURE,
    "viscosity": FixKind.FLUID,
    "flow": FixKind.SPEED,
    "speed": FixKind.SPEED,
    "state": FixKind.VALVE,
    "opening": FixKind.VALVE,
}


def _order(layout: Layout, path: tuple[str, ...]) -> str:
    """What puts a figure of a fault right, as an order; "" of one that nobody mends, such as the weather."""
    match path:
        case (("intakes" | "fittings") as group, name, "screen", "blocked"):
            part = getattr(layout, group).get(name)
            drawn = part.screen.blocked if part is not None and part.screen is not None else 0.0
            left = f"until no more than {drawn * 100:.0f} % of it is blocked" if drawn else "until it is free"
            return f"clean {name} {left}, as drawn"
        case ("levels", tank):
            return f"fill {tank} up to its level as drawn"
        case ("reservoirs", tank, "breather_drop"):
            return f"clear the breather of {tank}, so that its drop is that drawn"
        case ("reservoirs", tank, "pressure"):
            return f"bring the pressure on the fluid of {tank} back to that drawn"
        case ("fluid", "viscosity"):
            return f"bring the fluid back to what is drawn, {layout.fluid.name}"
        case ("pumps", pump, ("flow" | "speed") as figure):
            return f"bring the {figure} of {pump} back to that drawn"
        case ("fittings", name, ("state" | "opening")):
            return f"set {name} as drawn"
    return ""


def _without_fault(layout: Layout, path: tuple[str, ...]) -> Layout:
    """A drawing with a figure taken out of every case that is a fault."""
    mended = {
        name: replace(
            case,
            table=without_key(case.table, path),
            figures={each: value for each, value in case.figures.items() if each != path},
        )
        for name, case in layout.cases.items()
        if case.is_fault
    }
    return replace(layout, cases={**layout.cases, **mended})


def _parts_restored(layout: Layout, drawn: Layout) -> Iterator[Candidate]:
    """Each part that takes more than it does in the drawing itself, as it is drawn there."""
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
