"""The ledger and the whole calculation as the terminal prints them, for a file or the clipboard."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

from sketch.model.document import Document
from solver.findings.judgement import Judgement, judged
from solver.fixes.remedies import with_remedies
from solver.ledger.solve import Solution
from solver.report import records, text

ENDINGS = (".txt", ".csv", ".json")


def ledger_text(document: Document, ending: str) -> str:
    """The ledger of every pump: text for a reader, CSV or JSON in SI for a program.

    Raises ValueError when nothing is calculated, or for another ending than one of `ENDINGS`.
    """
    solution, judgement = _calculated(document), _in_shown_units(document)
    alternative = document.alternative or None
    if ending == ".txt":
        return text.report(judgement, document.case, alternative)
    if ending == ".csv":
        name = document.path.name if document.path else ""
        return _heading() + records.table(solution, name, alternative, document.case)
    if ending == ".json":
        record = records.record(judgement, document.case, alternative)
        return json.dumps(record, ensure_ascii=False, indent=2, allow_nan=False) + "\n"
    raise ValueError(f"a ledger is written as {', '.join(ENDINGS)}, not as {ending or 'a bare name'}")


def calculation_page(document: Document) -> str:
    """Every step of the calculation of every pump, as an HTML page in the units shown.

    Raises ValueError when nothing is calculated.
    """
    from solver.working import working

    solution, judgement = _calculated(document), _in_shown_units(document)
    return working.as_html(solution, document.system, document.alternative, document.case, judgement)


def _calculated(document: Document) -> Solution:
    if document.solution is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    return document.solution


def _in_shown_units(document: Document) -> Judgement:
    layout, judgement = document.layout, document.outcome.judgement
    if judgement is None:
        raise ValueError("nothing is calculated while the drawing is incomplete")
    shown = replace(layout, units=str(document.system))
    return with_remedies(judged(shown, judgement.cases, system=document.system), document.level)


def _heading() -> str:
    buffer = io.StringIO()
    csv.writer(buffer, lineterminator="\n").writerow(records.CSV_COLUMNS)
    return buffer.getvalue()
