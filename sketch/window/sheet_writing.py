"""What a document shows, written as a sheet."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sketch.model import disk
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import written_note
from sketch.page.sheet_parts import SheetWish
from solver.layout.file import LayoutErrors

if TYPE_CHECKING:
    from sketch.page.options import Option
    from sketch.page.paper import Page, Paper
    from sketch.page.sheet import Call


def write_sheet_of(
    document: Document,
    path: Path,
    wish: SheetWish | None = None,
    date: datetime.date | None = None,
    call: Call | None = None,
    report_omitted: Callable[[Sequence[str]], None] | None = None,
    report_pages: Callable[[int, Sequence[tuple[str, int]]], None] | None = None,
) -> tuple[Path, ...]:
    """Write what a document shows as a sheet; an alternative beside the drawing that it is one to.

    `call` calls what takes long; the drawing is written as it is now, whatever becomes of it meanwhile.
    `report_omitted` and `report_pages` as of `write_sheet`.
    It is drawn in the case that decides, whichever is in view, unless the wish names one.

    Returns the files written. Raises ValueError when nothing is calculated and for a wish that cannot be
    met, KeyError for an alternative or a pump that is not there, OSError when the file cannot be written or
    another drawing cannot be read.
    """
    from sketch.page.sheet import write_sheet

    asked = wish or SheetWish()
    return write_sheet(
        options_of(document, asked),
        path,
        asked,
        level=document.level,
        system=document.system,
        date=date,
        file=document.path,
        call=call,
        report_omitted=report_omitted,
        report_pages=report_pages,
    )


def pages_on_papers(
    document: Document, wish: SheetWish, call: Call | None = None
) -> Callable[[Paper], list[Page]]:
    """What lays the sheet of what a document shows out on a paper; the disk is asked here and not again.

    Errors as `write_sheet_of`.
    """
    from sketch.page.sheet import on_any_paper

    laid_out = on_any_paper(
        options_of(document, wish),
        wish,
        level=document.level,
        system=document.system,
        file=document.path,
        call=call,
    )
    return lambda on: laid_out(on)[0]


def options_of(document: Document, wish: SheetWish) -> list[Option]:
    """The drawing itself, then the alternative shown, those asked for, and another drawing; with any of them
    the other alternatives, to be named; the alternative shown alone where nothing is to be set beside it, or
    where the drawing itself cannot be calculated."""
    compared = compared_with(document, wish)
    names = [name for name in dict.fromkeys((document.alternative, *compared)) if name != BASE]
    others = [] if wish.other is None else [_of_file(document, wish.other)]
    is_asked = wish.compare == () or document.outcome_of(BASE).judgement is None
    alone = is_asked and document.alternative != BASE
    if alone and not compared and not others:
        return [_option(document, document.alternative)]
    shown = [_option(document, BASE), *(_option(document, name) for name in names), *others]
    if len(shown) == 1:
        return shown
    rest = [name for name in document.drawing.alternatives if name not in names]
    return [*shown, *(replace(_option(document, name), aside=True) for name in rest)]


def compared_with(document: Document, wish: SheetWish) -> tuple[str, ...]:
    """The names of the alternatives that a wish sets beside the drawing; where it names none, all of them,
    unless one of them or another drawing is on the sheet already."""
    if wish.compare is not None:
        return wish.compare
    return document.alternatives if document.alternative == BASE and wish.other is None else ()


def _of_file(document: Document, path: Path) -> Option:
    """Another drawing as an alternative, by its title and revision; by its file without a title of its own.

    Raises OSError where it cannot be read, ValueError with all that is wrong with it.
    """
    from sketch.page.options import option_of

    try:
        drawing = disk.drawing(path)
    except LayoutErrors as error:
        raise ValueError("; ".join(map(str, error.problems))) from error
    base, names = drawing.base, (*drawing.alternatives, *drawing.broken)
    revision = base.title_block.revision
    title, known = base.title.strip(), (document.drawing.base.title, *document.drawing.alternatives)
    name = title if title and title not in known else path.name
    name = f"{name}, revision {revision}" if revision else name
    option = option_of(name, "", base, document.level, document.system)
    return replace(option, file=path.name, file_alternatives=names)


def _option(document: Document, name: str) -> Option:
    from sketch.page.options import Option

    outcome = document.outcome_of(name)
    note = written_note(document.drawing.alternatives[name]) if name != BASE else ""
    why = "; ".join(f"{part}: {text}" for part, text in outcome.refusal)
    return Option(name, note, outcome.judgement, why if outcome.judgement is None else "")
