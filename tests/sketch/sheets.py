"""Sheets of the example drawings, each written once in a run, and their words."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from pypdf import PdfReader

from sketch.page.sheet import Option, write_sheet
from solver.findings.checks import check
from solver.layout import file
from solver.layout.file import Drawing
from solver.ledger.solve import Solution, solve
from solver.quantities.units import System
from tests.drawings import SHIPPED

EXAMPLES = SHIPPED[0].parent
NAMES = [path.stem for path in SHIPPED]
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
def options_of(name: str) -> tuple[Option, ...]:
    """The alternatives of an example as its sheet takes them."""
    found = []
    for title, alternative in drawing(name).alternatives.items():
        solved = solution(name, title)
        found.append(Option(title, alternative.note, solved, tuple(check(solved))))
    return tuple(found)


@cache
def _folder() -> tempfile.TemporaryDirectory[str]:
    return tempfile.TemporaryDirectory(prefix="liftledger-sheets-")


@cache
def written(
    name: str,
    *,
    pump: str = "",
    paper: str = "",
    system: System | None = None,
    compared: bool = False,
    working: bool = False,
) -> Path:
    """The PDF of an example; `compared` sets its last alternative beside it. Only to be read."""
    path = Path(tempfile.mkdtemp(dir=_folder().name)) / "sheet.pdf"
    options = options_of(name)[-1:] if compared else ()
    write_sheet(
        solution(name),
        path,
        pump,
        others={each.name: each.solution for each in options},
        options=options,
        paper=paper,
        system=system,
        working=working,
        file=f"{name}.toml",
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
