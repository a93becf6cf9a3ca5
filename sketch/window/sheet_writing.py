"""What a document shows, written as a sheet."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sketch.model.document import BASE, Document
from sketch.page.sheet_parts import SheetWish
from solver.layout.cases import AS_DRAWN

if TYPE_CHECKING:
    from sketch.page.options import Option


def write_sheet_of(
    document: Document, path: Path, wish: SheetWish | None = None, date: datetime.date | None = None
) -> tuple[Path, ...]:
    """Write what a document shows as a sheet; an alternative beside the drawing that it is one to.

    Returns the files written. Raises ValueError when nothing is calculated and for a wish that cannot be
    met, KeyError for an alternative or a pump that is not there, OSError when the file cannot be written.
    """
    from sketch.page.sheet import write_sheet

    asked = wish or SheetWish()
    return write_sheet(
        _options(document, asked.compare),
        path,
        _shown(document, asked),
        level=document.level,
        system=document.system,
        date=date,
        file=document.path,
    )


def _shown(document: Document, wish: SheetWish) -> SheetWish:
    """The wish for the case in view, unless that is the drawing as it stands: then for the worst."""
    return wish if wish.case or document.case == AS_DRAWN else replace(wish, case=document.case)


def _options(document: Document, compare: Sequence[str]) -> list[Option]:
    """The drawing itself, then the alternative shown and those asked for; the alternative shown alone where
    the drawing itself cannot be calculated."""
    names = [name for name in dict.fromkeys((document.alternative, *compare)) if name != BASE]
    if document.outcome_of(BASE).judgement is None and document.alternative != BASE and not compare:
        return [_option(document, document.alternative)]
    return [_option(document, BASE), *(_option(document, name) for name in names)]


def _option(document: Document, name: str) -> Option:
    from sketch.page.options import Option

    outcome = document.outcome_of(name)
    note = document.drawing.alternatives[name].note if name != BASE else ""
    why = "; ".join(f"{part}: {text}" for part, text in outcome.refusal)
    return Option(name, note, outcome.judgement, why if outcome.judgement is None else "")
