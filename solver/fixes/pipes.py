"""Changes of pipe: the next sizes up, bends of longer radius, valves that let more through."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from solver.answers.variations import line_parts, with_bore
from solver.fixes.candidate import (
    Candidate,
    FixKind,
    NoRoomError,
    free_name,
    in_one_size,
    new_quantity,
    rewritten,
)
from solver.geometry import outline
from solver.layout.kinds import REDUCER_KINDS, VALVE_KINDS, Bend, FittingKind, IntakeKind, ValveState
from solver.layout.parts import Fitting, Layout, Run, Tee
from solver.ledger.solve import PumpLedger
from solver.properties import sizes
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import with_article

SLENDER = 4.0
"""Length of a slender cone, over the step from bore to bore; common practice, no source."""

LONGER: Mapping[Bend, tuple[Bend, ...]] = {
    kind: (Bend.LONG_RADIUS,) for kind in Bend if kind is not Bend.LONG_RADIUS
} | {Bend.THREADED_ELBOW: (Bend.THREADED_LONG_ELBOW, Bend.LONG_RADIUS)}
"""Kinds of bend that take less than another."""

BORES_ROUND = (3.0, 5.0)
"""Radii to which pipe and tube are commonly bent, in bores; common practice, no source."""

BENDS_IN_WORDS = {Bend.LONG_RADIUS: "long-radius bends", Bend.THREADED_LONG_ELBOW: "threaded long elbows"}

OF_ANOTHER_USE = (FittingKind.THREE_WAY_THROUGH, FittingKind.THREE_WAY_BRANCH, FittingKind.ANGLE_VALVE)
"""Valves that choose between two ways, or turn the line: no straight valve does what they are there for."""

BY_ITS_MAKER = (FittingKind.KNOWN_K, FittingKind.KNOWN_DROP)
"""Parts of which only their maker's figure is known, and not what they are."""

FULL_BORE: Mapping[FittingKind, FittingKind] = {
    **{
        kind: FittingKind.BALL_VALVE
        for kind in VALVE_KINDS
        if kind not in (FittingKind.BALL_VALVE, *OF_ANOTHER_USE)
    },
    FittingKind.LIFT_CHECK: FittingKind.SWING_CHECK,
    FittingKind.POPPET_FOOT_VALVE: FittingKind.FOOT_VALVE,
}
"""What lets more through in the place of a fitting."""


def candidates(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """Changes of pipe for one pump's line, but for its size."""
    runs = [name for name in line_parts(ledger) if name in layout.runs]
    if not runs:
        return
    for name in runs:
        yield from _longer_bends(layout, layout.runs[name])
        for joint in (layout.runs[name].start, layout.runs[name].end):
            yield from _cone_at(layout, layout.runs[name], joint)
    for name in line_parts(ledger):
        if name in layout.fittings and layout.fittings[name].kind in FULL_BORE:
            yield _fuller(name, layout.fittings[name].kind, FULL_BORE[layout.fittings[name].kind])
        if name in layout.fittings and layout.fittings[name].opening is not None:
            yield _fully_open(name)
        if name in layout.fittings:
            yield from _as_wide_as_its_line(layout, name)
            yield from _gradual(layout.fittings[name])


def wider(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """The whole line, its costliest run, and the run at the port with its reducer, in the next sizes up."""
    runs = [name for name in line_parts(ledger) if name in layout.runs]
    if not runs:
        return
    losses = {name: sum(e.loss for e in ledger.entries if e.part == name) for name in runs}
    costliest = max(runs, key=lambda name: losses[name])
    yield from _wider(layout, line_parts(ledger), costliest, "the whole line", ledger.pump)
    if len(runs) > 1:
        yield from _wider(layout, (costliest,), costliest, costliest)
        if runs[-1] != costliest:
            yield from _wider(
                layout, (runs[-1],), runs[-1], f"{runs[-1]}, at the port{_reducers(layout, runs[-1])},"
            )


def run_wider(layout: Layout, run: str) -> Iterator[Candidate]:
    """One run in the next sizes up."""
    return _wider(layout, (run,), run, run)


def bends_to(layout: Layout, run: str, least: float) -> Iterator[Candidate]:
    """The bends of a run with an inside radius [m] that its hose takes."""
    radius = math.ceil((least + outline.bore(layout.runs[run]) / 2) * 1000) / 1000

    def edit(drawing: Layout, _: float) -> Layout:
        changed = replace(drawing.runs[run], bend_radius=new_quantity(radius, Kind.LENGTH, drawing))
        return replace(drawing, runs={**drawing.runs, run: changed})

    def describe(_: float, system: System) -> str:
        return f"bend {run} to {typeset(radius, Kind.LENGTH, system)} at its middle"

    yield Candidate(FixKind.BENDS, run, edit, describe, "the room that a wider bend takes", sizes=(1.0,))


def foot_valve(name: str) -> Iterator[Candidate]:
    """A foot valve in the place of an intake, its screen round it."""

    def edit(drawing: Layout) -> Layout:
        part = replace(drawing.intakes[name], kind=IntakeKind.FOOT_VALVE)
        return replace(drawing, intakes={**drawing.intakes, name: part})

    order = f"put a foot valve in the place of {name}"
    yield in_one_size(FixKind.VALVE, name, edit, order, "a foot valve, kept tight")


def eccentric(name: str) -> Iterator[Candidate]:
    """An eccentric reducer in the place of a concentric one."""

    def edit(drawing: Layout) -> Layout:
        part = replace(drawing.fittings[name], kind=FittingKind.ECCENTRIC_REDUCER)
        return replace(drawing, fittings={**drawing.fittings, name: part})

    order = f"put an eccentric reducer, flat side up, in the place of {name}"
    yield in_one_size(FixKind.REDUCER, name, edit, order, "a reducer")


def _wider(
    layout: Layout, parts: tuple[str, ...], model: str, called: str, pump: str = ""
) -> Iterator[Candidate]:
    """Parts in the next sizes up; or, where another change has laid the line of `pump` again, all of that."""
    names = _sizes_up(layout.runs[model])
    if not names:
        return

    def edit(drawing: Layout, size: float) -> Layout:
        name = names[round(size)]
        width = sizes.bore(name)
        gone = pump and not any(part in drawing.runs for part in parts)
        line = _line_to(drawing, pump) if gone else parts
        narrower = tuple(part for part in line if _bore(drawing, part) < width)
        return _reducers_fitted(drawing, with_bore(drawing, narrower, size=name), narrower)

    def describe(size: float, system: System) -> str:
        return f"lay {called} in {names[round(size)]}".replace(",,", ",")

    yield Candidate(
        FixKind.SIZE,
        "" if len(parts) > 1 else model,
        edit,
        describe,
        "new pipe and fittings" if len(parts) > 1 else "new pipe, and a reducer at each end",
        sizes=tuple(float(i) for i in range(len(names))),
        names=names,
    )


def _reducers_at(layout: Layout, run: Run) -> Iterator[Fitting]:
    ends = (layout.fittings.get(joint) for joint in (run.start, run.end))
    return (part for part in ends if part is not None and part.kind in REDUCER_KINDS)


def _reducers(layout: Layout, run: str) -> str:
    names = " and ".join(part.name for part in _reducers_at(layout, layout.runs[run]))
    return f", with {names}" if names else ""


def _reducers_fitted(before: Layout, layout: Layout, widened: tuple[str, ...]) -> Layout:
    """The drawing with the end of each reducer at a run that became wider in the size of that run."""
    fittings = dict(layout.fittings)
    for old in (before.runs[name] for name in widened if name in before.runs):
        run, was = layout.runs[old.name], outline.bore(old)
        for drawn in _reducers_at(before, old):
            if drawn.name in widened:
                continue
            part, (one, other) = fittings[drawn.name], outline.ends(drawn)
            if abs(one - was) <= abs(other - was):
                part = replace(part, size=run.size, bore=run.bore)
            else:
                part = replace(part, other_size=run.size, other_bore=run.bore)
            fittings[drawn.name] = part
    return replace(layout, fittings=fittings)


def _line_to(layout: Layout, pump: str) -> tuple[str, ...]:
    """The runs and joints from a pump back to the first tee or intake, whichever way they are drawn."""
    parts: list[str] = []
    joint: str | None = pump
    while joint is not None and joint not in layout.tees:
        ends = (run for run in layout.runs.values() if joint in (run.start, run.end))
        run = next((run for run in ends if run.name not in parts), None)
        if run is None:
            break
        joint = run.start if run.end == joint else run.end
        parts += [run.name, joint]
    return tuple(parts)


def _bore(layout: Layout, part: str) -> float:
    if part in layout.runs:
        return outline.bore(layout.runs[part])
    try:
        return max(outline.ends(layout.joint(part)))
    except KeyError:
        return float("inf")  # a part that another change has taken out


def _sizes_up(run: Run) -> tuple[str, ...]:
    """The next standard sizes up, in the family of the run's own size, or of pipe."""
    family = sizes.family(run.size) if run.size is not None else "NPS schedule 40"
    width = outline.bore(run) * (1 + 1e-6)
    wider: list[str] = []
    for name in sizes.stocked():
        if sizes.family(name) == family and sizes.bore(name) > width:
            if wider and sizes.bore(name) < sizes.bore(wider[-1]) * 1.05:
                continue  # the same tube with a thinner wall is no size up
            wider.append(name)
    return tuple(wider)


def _as_wide_as_its_line(layout: Layout, name: str) -> Iterator[Candidate]:
    """A valve or other fitting that is narrower than a line it joins, in that line's size."""
    part = layout.fittings[name]
    joined = [run for run in layout.runs.values() if name in (run.start, run.end) and run.size is not None]
    if part.kind in REDUCER_KINDS or part.size is None or not joined:
        return
    widest = max(joined, key=outline.bore)
    if outline.bore(widest) <= sizes.bore(part.size) * (1 + 1e-6):
        return

    def edit(drawing: Layout) -> Layout:
        return with_bore(drawing, (name,), size=widest.size)

    order = f"make {name} as wide as its line, {widest.size}"
    larger = "a larger one, by its maker's figures" if part.kind in BY_ITS_MAKER else f"a larger {part.kind}"
    yield in_one_size(FixKind.VALVE, name, edit, order, larger)


def _gradual(part: Fitting) -> Iterator[Candidate]:
    """A reducer drawn out to a slender cone."""
    if part.kind not in REDUCER_KINDS:
        return
    slim, wide = sorted(outline.ends(part))
    length = round(SLENDER * (wide - slim), 3)
    if length <= 0 or (part.length is not None and part.length.si >= length):
        return

    def edit(drawing: Layout, _: float) -> Layout:
        longer = replace(drawing.fittings[part.name], length=new_quantity(length, Kind.BORE, drawing))
        return replace(drawing, fittings={**drawing.fittings, part.name: longer})

    def describe(_: float, system: System) -> str:
        return f"lengthen {part.name} to a cone {typeset(length, Kind.BORE, system)} long"

    yield Candidate(FixKind.REDUCER, part.name, edit, describe, "a longer reducer", sizes=(1.0,))


def _cone_at(layout: Layout, run: Run, joint: str) -> Iterator[Candidate]:
    """A reducer where a run meets a part of another bore without one."""
    part = layout.joint(joint)
    if isinstance(part, Tee) or (isinstance(part, Fitting) and part.kind in REDUCER_KINDS):
        return
    width, part_bore = outline.bore(run), outline.bore(part)
    length = round(SLENDER * abs(width - part_bore), 3)
    if abs(width - part_bore) < 0.02 * width:
        return

    def edit(drawing: Layout, _: float) -> Layout:
        return _with_cone(drawing, run.name, joint, length)

    def describe(_: float, system: System) -> str:
        return f"put a reducer {typeset(length, Kind.BORE, system)} long between {run.name} and {joint}"

    yield Candidate(FixKind.REDUCER, joint, edit, describe, "a reducer", sizes=(1.0,))


def _with_cone(layout: Layout, name: str, joint: str, length: float) -> Layout:
    """The run cut before a joint, with a reducer to the bore of the part that stands there.

    Raises NoRoomError where the straight before the part has no room for it.
    """
    run, part = layout.runs[name], layout.joint(joint)
    if isinstance(part, Tee):
        raise NoRoomError(f"{joint} has become a tee")
    points = outline.corners(layout, run)
    far, near = (points[1], points[0]) if run.start == joint else (points[-2], points[-1])
    leg = math.dist(far, near)
    back = length + outline.bore(part)
    if leg < 2 * back:
        raise NoRoomError(f"{name} is too short for a reducer at {joint}")
    x, z = (end + (begin - end) * back / leg for begin, end in zip(far, near, strict=True))
    level = abs(far[1] - near[1]) < 0.2 * leg
    cone = Fitting(
        free_name(layout, "reducer"),
        (rewritten(part.at[0], x), rewritten(part.at[1], z)),
        FittingKind.ECCENTRIC_REDUCER if level else FittingKind.CONCENTRIC_REDUCER,
        size=run.size,
        bore=run.bore,
        other_size=part.size,
        other_bore=part.bore,
        length=new_quantity(length, Kind.BORE, layout),
    )
    between = replace(
        run,
        name=free_name(layout, f"{joint} end"),
        start=cone.name,
        end=joint,
        via=(),
        size=part.size,
        bore=part.bore,
        out_of_plane=None,
    )
    shortened = replace(run, start=cone.name) if run.start == joint else replace(run, end=cone.name)
    if run.start == joint:
        between = replace(between, start=joint, end=cone.name)
    return replace(
        layout,
        runs={**layout.runs, name: shortened, between.name: between},
        fittings={**layout.fittings, cone.name: cone},
    )


def _longer_bends(layout: Layout, run: Run) -> Iterator[Candidate]:
    """Bends of a longer kind, and bends made to a radius of so many bores."""
    bends = len([piece for piece in outline.outline(layout, run) if piece.bend])
    if not bends:
        return
    kinds = LONGER.get(run.bend, ()) if run.bend_radius is None else ()
    radii = [
        n * outline.bore(run) for n in BORES_ROUND if n * outline.bore(run) > 1.05 * outline.bend_radius(run)
    ]
    shapes: tuple[Bend | float, ...] = (*kinds, *radii)
    if not shapes:
        return

    def edit(drawing: Layout, size: float) -> Layout:
        shape, old = shapes[round(size)], drawing.runs[run.name]
        if isinstance(shape, Bend):
            changed = replace(old, bend=shape)
        else:
            changed = replace(old, bend_radius=new_quantity(shape, Kind.BORE, drawing))
        return replace(drawing, runs={**drawing.runs, run.name: changed})

    def describe(size: float, system: System) -> str:
        shape = shapes[round(size)]
        if isinstance(shape, Bend):
            return f"give {run.name} {BENDS_IN_WORDS[shape]}"
        return f"bend {run.name} to a radius of {typeset(shape, Kind.BORE, system)}"

    yield Candidate(
        FixKind.BENDS,
        run.name,
        edit,
        describe,
        f"{bends} new bends, and the room they take" if bends > 1 else "a new bend, and the room it takes",
        sizes=tuple(float(i) for i in range(len(shapes))),
    )


def _fuller(name: str, old: str, kind: FittingKind) -> Candidate:
    def edit(drawing: Layout, _: float) -> Layout:
        part = replace(drawing.fittings[name], kind=kind, opening=None)
        return replace(drawing, fittings={**drawing.fittings, name: part})

    def describe(_: float, system: System) -> str:
        full = "full-bore ball valve" if kind == FittingKind.BALL_VALVE else kind
        return f"put {with_article(full)} in the place of {name}, {with_article(old)}"

    return Candidate(FixKind.VALVE, name, edit, describe, "a valve", sizes=(1.0,))


def _fully_open(name: str) -> Candidate:
    def edit(drawing: Layout) -> Layout:
        part = replace(drawing.fittings[name], opening=None, state=ValveState.OPEN)
        return replace(drawing, fittings={**drawing.fittings, name: part})

    order = f"open {name} all the way, and lock it open"
    return in_one_size(FixKind.VALVE, name, edit, order, "a lock")
