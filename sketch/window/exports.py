"""The ledger and the whole calculation as the terminal prints them, for a file or the clipboard."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeVar

from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.model.outcome import solve_layout
from solver.findings.judgement import Judgement, judged
from solver.fixes.remedies import with_remedies, without_remedies
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout, Level
from solver.quantities.units import System
from solver.report import records, text

Of = TypeVar("Of")

ENDINGS = (".txt", ".csv", ".json")


WORKING_OUT = "Not worked out yet."
"""What to try, where the text is wanted before it is known."""


Writer = Callable[[], str]
"""Works a text out of values alone, so that it may be called on another thread than the hand's."""


def ledger_text(document: Document, ending: str, *, waits: bool = True) -> str:
    """What the writer of `ledger_writer` works out, on the thread that asks."""
    return ledger_writer(document, ending, waits=waits)()


def ledger_writer(document: Document, ending: str, *, waits: bool = True) -> Writer:
    """The ledger of every pump: text for a reader in the units shown, CSV or JSON in SI for a program.

    `waits`: what to try is worked out where it is not at hand; else the text says that it is not known yet.
    Raises ValueError when nothing is calculated, or for another ending than one of `ENDINGS`.
    """
    if ending not in ENDINGS:
        raise ValueError(f"a ledger is written as {', '.join(ENDINGS)}, not as {ending or 'a bare name'}")
    alternative, case, drawing = document.alternative or None, document.case, document.drawing
    if ending == ".txt":
        shown = _with_advice(document, document.system, waits=waits)
        pump = document.pump
        return lambda: text.report(_pump_first(shown(), pump), case, alternative, base=drawing.base)
    if ending == ".csv":
        name = document.path.name if document.path else ""
        judgement = _calculated(document)
        return lambda: records.heading() + records.table(_in_system(judgement, System.SI), name, alternative)
    shown = _with_advice(document, System.SI)
    layouts, level = {name: each.layout for name, each in drawing.alternatives.items()}, document.level
    broken = {name: each.why for name, each in drawing.broken.items()}

    def write() -> str:
        others = {name: _judged_alternative(layout, level) for name, layout in layouts.items()} | broken
        return records.dumped(records.record(shown(), case, alternative, alternatives=others)) + "\n"

    return write


def page_writer(document: Document) -> Writer:
    """The HTML page with verdicts, ledgers, findings, reach and every step, in the units shown.

    It is of the case in view, or of the one that its headline names where that is the drawing itself.
    Raises ValueError when nothing is calculated.
    """
    alternative, case, level = document.alternative or None, document.case, document.level
    shown, base = _with_advice(document, document.system), document.drawing.base

    def write() -> str:
        from solver.answers import ask
        from solver.report import page

        judgement = shown()
        worst = judgement.worst() if case == AS_DRAWN else None
        worked = case if worst is None else worst.case
        solution = judgement.cases[worked].solution
        names = solution.pumps if solution else ()
        answers = {name: ask.ask_all(judgement.layout, name, level) for name in names}
        today = f"{datetime.date.today():%Y-%m-%d}"
        return page.page(judgement, worked, alternative, answers, base=base, date=today)

    return write


def _calculated(document: Document) -> Judgement:
    """What the drawing comes to in all its cases, as it is shown. Raises ValueError."""
    judgement = document.outcome.judgement
    if document.solution is None or judgement is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    return judgement


def _pump_first(judgement: Judgement, pump: str) -> Judgement:
    """With the pump that is shown before the others, in the verdicts as in the ledgers."""

    def first(pumps: Mapping[str, Of]) -> dict[str, Of]:
        return dict(sorted(pumps.items(), key=lambda each: each[0] != pump))

    cases = {
        name: case
        if case.solution is None
        else replace(case, solution=replace(case.solution, pumps=first(case.solution.pumps)))
        for name, case in judgement.cases.items()
    }
    return replace(
        judgement, layout=replace(judgement.layout, pumps=first(judgement.layout.pumps)), cases=cases
    )


def _in_system(judgement: Judgement, system: System) -> Judgement:
    """Every sentence in the units of a system."""
    return judged(replace(judgement.layout, units=system), judgement.cases, system=system)


def _with_advice(document: Document, system: System, *, waits: bool = True) -> Callable[[], Judgement]:
    """With what to try against each finding, out of the fixes of the window where they are at hand."""
    known, judgement, level = advisor(document), _calculated(document), document.level
    at_hand = known.advice_by_pump if system is document.system else None
    drawn = document.drawing.base if document.alternative else None
    if at_hand is None and not waits:
        why = f"Not worked out: {known.trouble}." if known.trouble else WORKING_OUT
        return lambda: without_remedies(_in_system(judgement, system), why)
    return lambda: with_remedies(_in_system(judgement, system), level, at_hand, drawn)


def _judged_alternative(layout: Layout, level: Level) -> Judgement | str:
    """An alternative judged, or why it was not; in SI."""
    outcome = solve_layout(replace(layout, units=System.SI), level)
    if outcome.judgement is None:
        return "; ".join(f"{part}: {why}" for part, why in outcome.refusal)
    return _in_system(outcome.judgement, System.SI)
