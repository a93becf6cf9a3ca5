"""What cleaning the screens that were read as blocked comes to, before anything is built."""

from __future__ import annotations

from collections.abc import Iterator

from solver.field.as_read import takes_out
from solver.findings.judgement import PumpState
from solver.layout.parts import Layout
from solver.quantities.units import System
from solver.report.as_built import ordered_fix
from solver.report.choices import lacks, worst_places
from solver.report.choosing import JudgedDrawing, advised_on, is_enough_cleaned, is_replaced
from solver.report.recommendation import state_then

ENOUGH = "That is enough: for the margin nothing has to be built."


def cleaning_first(
    before: JudgedDrawing, after: JudgedDrawing | None, system: System, *, stated: bool = True
) -> Iterator[str]:
    """Which screens to clean, how the drawing stands then, and whether that is enough, a sentence each.

    Parameters as `recommendation`; `stated`, whether how it stands then is said here too. Nothing where no
    screen was read as blocked.
    """
    if before.as_read is None:
        return
    gone = removed_screens(before, after, system)
    named = " and ".join(name for name in before.as_read.names if name not in gone)
    shares = " and ".join(f"{each.name} as drawn ({each.drawn})" for each in before.as_read.screens)
    if named:
        yield f"Clean {named} first."
    if stated:
        yield f"With {shares}, in the worst case {state_then(before.judgement, system)}"
    yield ENOUGH if is_enough_cleaned(before) else _not_enough(before)
    if gone:
        yield f"What is recommended takes out {' and '.join(gone)}, so that it is not cleaned first."


def _not_enough(before: JudgedDrawing) -> str:
    places = before.judgement.pumps_in_cases
    if any(lacks(place) and place.pump_state is not PumpState.THIN for place in places):
        return "Cleaning alone is not enough."
    if before.judgement.not_judged or not places:
        return "Whether cleaning is enough is not known, as not every case is judged."
    return "Cleaning alone leaves a thin margin."


def cleaning_order(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> str:
    """What to do about the screens before all other work; "" where none was read as blocked."""
    return "" if before.as_read is None else before.as_read.order(removed_screens(before, after, system))


def removed_screens(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> tuple[str, ...]:
    """The screens read as blocked that what is recommended takes out."""
    if before.as_read is None:
        return ()
    built = list(_ordered(before, after, system))
    drawn = before.judgement.layout
    return tuple(name for name in before.as_read.names if any(takes_out(each, drawn, name) for each in built))


def _ordered(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> Iterator[Layout]:
    """The drawing with each of the changes that are ordered."""
    chosen = advised_on(before, after, system)
    if chosen is after and not is_replaced(chosen):
        yield chosen.judgement.layout
    for pump, place in worst_places(chosen.judgement):
        if (fix := ordered_fix(chosen, pump, place)) is not None:
            yield fix.layout
