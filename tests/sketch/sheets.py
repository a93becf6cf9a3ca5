"""Sheets of the example drawings, each written once in a run, and their words."""

from __future__ import annotations

import datetime
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from pypdf import PdfReader

from sketch.page.options import Option, option_of
from sketch.page.sheet import write_sheet
from sketch.page.sheet_frame import Panel
from sketch.page.sheet_parts import SheetWish
from solver.layout import file
from solver.layout.file import Drawing
from solver.layout.parts import Level
from solver.ledger.solve import Solution, solve
from solver.quantities.units import System
from tests.drawings import RISER, SHIPPED

EXAMPLES = SHIPPED[0].parent
COMPARED = ["carriage-at-altitude", "winter-press", "header-two-pumps"]
"""Of these each run writes a sheet with an alternative beside the drawing."""

NAMES = [*COMPARED, *(path.stem for path in SHIPPED if path.stem not in COMPARED)]
ALL_PARTS = frozenset({"working", "curves", "reach map", "readings"})
"""Optional parts on one sheet; readings of a drawing that has none are no part of it."""

DAY = datetime.date(2026, 3, 31)
HYPHEN = "\ufffe"  # what a hyphen at the end of a line is read as


@cache
def drawing(name: str) -> Drawing:
    """An example drawing, read."""
    return file.read(EXAMPLES / f"{name}.toml")


@cache
def solution(name: str, alternative: str = "") -> Solution:
    """An example drawing or one of its alternatives, solved."""
    read = drawing(name)
    return solve(read.alternatives[alternative].layout if alternative else read.base)


@cache
def options_of(name: str, system: System | None = None) -> tuple[Option, ...]:
    """An example and its alternatives as its sheet takes them, judged by all cases."""
    read = drawing(name)
    shown = system or System(read.base.units)
    every = (
        ("", "", read.base),
        *((title, each.note, each.layout) for title, each in read.alternatives.items()),
    )
    return tuple(option_of(title, note, layout, Level.MINIMUM, shown) for title, note, layout in every)


def panel_of(option: Option) -> Panel:
    """A drawing in the worst of its cases, as a sheet shows it."""
    worst = option.worst()
    assert worst is not None
    worst_solution = option.solution(worst.case)
    assert worst_solution is not None
    return Panel(option, worst, worst_solution, None, "")


@cache
def small_options() -> tuple[Option, ...]:
    """A small drawing as its sheet takes it, for what is the same on any sheet."""
    return (option_of("", "", file.parse(RISER, "riser").base, Level.MINIMUM, System.SI),)


@cache
def _folder() -> tempfile.TemporaryDirectory[str]:
    return tempfile.TemporaryDirectory(prefix="liftledger-sheets-")


def written(name: str, *, system: System | None = None, **wished: Any) -> Path:
    """The PDF of an example, alone or beside the best of its alternatives. Only to be read."""
    own = system is None or system == drawing(name).base.units
    return _written(name, None if own else system, **wished)


@cache
def _written(
    name: str,
    system: System | None,
    *,
    pump: str = "",
    case: str = "",
    paper: str = "",
    upright: bool = False,
    compared: bool = False,
    parts: frozenset[str] = frozenset(),
    pages: int = 0,
) -> Path:
    path = Path(tempfile.mkdtemp(dir=_folder().name)) / "sheet.pdf"
    options = options_of(name, system)
    wish = SheetWish(paper=paper, upright=upright, parts=parts, pages=pages, pump=pump, case=case)
    write_sheet(
        options if compared else options[:1],
        path,
        wish,
        system=system,
        date=DAY,
        file=EXAMPLES / f"{name}.toml",
    )
    return path


def pages(path: Path) -> list[str]:
    """The words of each page of a PDF, one space between any two."""
    try:
        import pypdfium2
    except ImportError:  # twenty times slower, where the test extra has not been installed anew
        return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]
    with pypdfium2.PdfDocument(path) as document:
        texts = [page.get_textpage().get_text_range() for page in document]
    return [" ".join(text.replace(HYPHEN, "-").split()) for text in texts]


def words(path: Path) -> str:
    """The words of all pages of a PDF."""
    return " ".join(pages(path))
