"""The ledger and the whole calculation as the terminal prints them, for a file or the clipboard."""

from __future__ import annotations

from dataclasses import replace

from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.model.outcome import solve_layout
from solver.findings.judgement import Judgement, judged
from solver.fixes.remedies import with_remedies, without_remedies
from solver.quantities.units import System
from solver.report import records, text

ENDINGS = (".txt", ".csv", ".json")


WORKING_OUT = "Not worked out yet."
"""What to try, where the text is wanted before it is known."""


def ledger_text(document: Document, ending: str, *, waits: bool = True) -> str:
    """The ledger of every pump: text for a reader in the units shown, CSV or JSON in SI for a program.

    `waits`: what to try is worked out where it is not at hand; else the text says that it is not known yet.
    Raises ValueError when nothing is calculated, or for another ending than one of `ENDINGS`.
    """
    if ending not in ENDINGS:
        raise ValueError(f"a ledger is written as {', '.join(ENDINGS)}, not as {ending or 'a bare name'}")
    alternative = document.alternative or None
    if ending == ".txt":
        judgement = _judgement(document, document.system, waits=waits)
        return text.report(judgement, document.case, alternative, base=document.drawing.base)
    if ending == ".csv":
        name = document.path.name if document.path else ""
        return records.heading() + records.table(_shown(document, System.SI), name, alternative)
    judgement = _judgement(document, System.SI)
    others = {name: _alternative(document, name) for name in document.alternatives}
    others |= {name: each.why for name, each in document.drawing.broken.items()}
    return records.dumped(records.record(judgement, document.case, alternative, alternatives=others)) + "\n"


def calculation_page(document: Document) -> str:
    """The HTML page with verdicts, ledgers, findings, reach and every step, in the units shown.

    Raises ValueError when nothing is calculated.
    """
    from solver.answers import ask
    from solver.report import page

    judgement = _judgement(document, document.system)
    solution = judgement.cases[document.case].solution
    names = solution.pumps if solution else ()
    answers = {name: ask.ask_all(judgement.layout, name, document.level) for name in names}
    base = document.drawing.base
    return page.page(judgement, document.case, document.alternative or None, answers, base=base)


def _shown(document: Document, system: System) -> Judgement:
    """By all cases, every sentence in the units of a system."""
    judgement = document.outcome.judgement
    if document.solution is None or judgement is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    return judged(replace(document.layout, units=system), judgement.cases, system=system)


def _judgement(document: Document, system: System, *, waits: bool = True) -> Judgement:
    """With what to try against each finding, out of the fixes of the window where they are at hand."""
    known, judgement = advisor(document), _shown(document, system)
    at_hand = known.advice_by_pump if system is document.system else None
    if at_hand is None and not waits:
        why = f"Not worked out: {known.trouble}." if known.trouble else WORKING_OUT
        return without_remedies(judgement, why)
    return with_remedies(judgement, document.level, at_hand)


def _alternative(document: Document, name: str) -> Judgement | str:
    """An alternative judged, or why it was not; in SI."""
    outcome = document.outcome_of(name)
    layout = replace(outcome.layout, units=System.SI)
    if outcome.judgement is None:
        refusal = solve_layout(layout, document.level).refusal
        return "; ".join(f"{part}: {why}" for part, why in refusal)
    return judged(layout, outcome.judgement.cases, system=System.SI)
