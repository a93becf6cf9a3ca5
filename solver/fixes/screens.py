"""Changes of a screen: larger, coarser, cleaner, or none, with a filter in the return line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.answers.variations import line_parts
from solver.fixes.candidate import Candidate, FixKind, NoRoomError, in_one_size, rewritten, with_case_figure
from solver.fixes.joining import joined
from solver.layout.kinds import FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Screen
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, Quantity, System, quantity, typeset

LARGEST = 6.0
"""Times today's area; beyond it another strainer is a tank of its own."""

COARSER = {100.0: ("60 per inch", "0.0075 in"), 60.0: ("40 per inch", "0.010 in")}
"""Market-grade cloth, wires an inch to mesh and wire; from memory, unverified."""

SOONEST = 0.10
"""Blocked share before which nobody cleans a screen; ours."""

PER_INCH = 1 / 0.0254

RETURN_FILTER = "a return-line filter, fluid filtered as it is filled in, and the pump maker's consent"


def candidates(layout: Layout, ledger: PumpLedger, case: str) -> Iterator[Candidate]:
    """Changes of every screen on one pump's line."""
    for name in line_parts(ledger):
        screen = layout.screen(name)
        if screen is None:
            continue
        yield _larger(name, screen)
        if screen.blocked > 0:
            yield _cleaner(name, screen)
        yield from _cleaned_sooner(layout, name, case, screen.blocked)
        if screen.mesh is not None:
            yield from _coarser(name, screen.mesh)
        if name in layout.intakes:
            yield _without(name)
        elif layout.fittings[name].kind == FittingKind.FILTER:
            yield _filter_out(layout.fittings[name])


def _put(drawing: Layout, name: str, screen: Screen | None) -> Layout:
    layout = drawing
    if name in layout.intakes:
        intake: Intake = replace(layout.intakes[name], screen=screen)
        if screen is None and intake.kind == IntakeKind.STRAINER:
            intake = replace(intake, kind=IntakeKind.PLAIN_END)
        return replace(layout, intakes={**layout.intakes, name: intake})
    fitting: Fitting = replace(layout.fittings[name], screen=screen)
    return replace(layout, fittings={**layout.fittings, name: fitting})


def _screen(drawing: Layout, name: str) -> Screen:
    screen = drawing.screen(name)
    if screen is None:
        raise ValueError(f"{name} has no screen")
    return screen


def _larger(name: str, screen: Screen) -> Candidate:
    def edit(drawing: Layout, times: float) -> Layout:
        return _put(drawing, name, _times(_screen(drawing, name), times))

    def describe(times: float, system: System) -> str:
        if screen.area is None:
            return f"give {name} an element {times:.1f} times as large"
        return (
            f"give {name} {times:.1f} times the screen: {typeset(screen.area.si * times, Kind.AREA, system)}"
        )

    return Candidate(
        FixKind.SCREEN,
        name,
        edit,
        describe,
        "a larger strainer or element, and the room it takes in the tank",
        now=1.0,
        most=LARGEST,
        step=0.5,
        usual=2.0,
        enough_unit=Kind.NUMBER,
    )


def _times(screen: Screen, times: float) -> Screen:
    """The screen with its area, or the flows of its points, so many times as large."""
    if screen.area is not None:
        return replace(screen, area=rewritten(screen.area, screen.area.si * times, Kind.AREA))
    drops = tuple((rewritten(flow, flow.si * times, Kind.FLOW), drop) for flow, drop in screen.drops)
    return replace(screen, drops=drops)


def _cleaner(name: str, screen: Screen) -> Candidate:
    def edit(drawing: Layout) -> Layout:
        return _put(drawing, name, replace(_screen(drawing, name), blocked=0.0))

    order = f"clean {name}, {screen.blocked:.0%} of which is blocked".replace("%", " %")
    return in_one_size(FixKind.SCREEN, name, edit, order, "the work, and shorter intervals from then on")


def _cleaned_sooner(layout: Layout, name: str, case: str, drawn: float) -> Iterator[Candidate]:
    """Less blocked in the case that decides, where that case says how much."""
    group = "intakes" if name in layout.intakes else "fittings"
    path = (group, name, "screen", "blocked")
    blocked = layout.cases[case].figures.get(path) if case in layout.cases else None
    least = max(drawn, SOONEST)
    if blocked is None or blocked <= least:
        return

    def edit(drawing: Layout, share: float) -> Layout:
        return with_case_figure(drawing, case, path, share)

    def describe(share: float, system: System) -> str:
        return f"clean {name} before more than {share:.0%} of it is blocked".replace("%", " %")

    yield Candidate(
        FixKind.SCREEN,
        name,
        edit,
        describe,
        "shorter intervals, or a gauge that tells when",
        now=blocked,
        most=least,
        step=0.05,
        usual=(blocked + least) / 2,
        enough_unit=Kind.SHARE,
    )


def _coarser(name: str, mesh: Quantity) -> Iterator[Candidate]:
    grades = [grade for wires, grade in COARSER.items() if mesh.si / PER_INCH > wires * 0.99]
    if not grades:
        return

    def edit(drawing: Layout, size: float) -> Layout:
        text, wire = grades[round(size)]
        screen = _screen(drawing, name)
        if screen.mesh is None:
            raise ValueError(f"{name} is not drawn by its mesh")
        cloth = replace(screen, mesh=quantity(text, Kind.WIRES), wire=quantity(wire, Kind.BORE))
        return _put(drawing, name, cloth)

    def describe(size: float, system: System) -> str:
        return f"cover {name} with cloth of {grades[round(size)][0]}"

    yield Candidate(
        FixKind.SCREEN,
        name,
        edit,
        describe,
        "the pump maker's consent, for coarser dirt then reaches the pump",
        sizes=tuple(float(i) for i in range(len(grades))),
        names=tuple(text for text, _ in grades),
    )


def _without(name: str) -> Candidate:
    def edit(drawing: Layout) -> Layout:
        return _put(drawing, name, None)

    order = f"put a filter in the return line in the place of the screen of {name}"
    return in_one_size(FixKind.SCREEN, name, edit, order, RETURN_FILTER)


def _filter_out(filter_drawn: Fitting) -> Candidate:
    name = filter_drawn.name

    def edit(drawing: Layout) -> Layout:
        if name not in drawing.fittings:
            raise NoRoomError(f"{name} is gone by now")
        fittings = {each: part for each, part in drawing.fittings.items() if each != name}
        return joined(replace(drawing, fittings=fittings), name, filter_drawn.at)

    order = f"take {name} out of the suction line, with a filter in the return line in its place"
    return in_one_size(FixKind.SCREEN, name, edit, order, RETURN_FILTER)
