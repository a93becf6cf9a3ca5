"""Nothing on paper is cut where there is room for it."""

from __future__ import annotations

import re
from itertools import takewhile
from pathlib import Path

import pypdfium2
import pytest

from sketch.drawing.tags import percent
from sketch.page import sheet_pages
from sketch.page.options import option_of
from sketch.page.sheet import write_sheet
from sketch.page.sheet_parts import OPTIONAL, PAPERS, SheetWish
from sketch.page.sheet_text import CAUTIONS
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.long_names import long_named
from tests.sketch.sheets import COMPARED, DAY, NAMES, options_of, pages, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_nothing_on_the_first_page_is_cut(name: str) -> None:
    first, *_ = pages(written(name, compared=True))
    assert "…" not in re.sub(r'"[^"]*"', "", first), "but for a note of which the beginning is quoted"


@pytest.mark.parametrize("upright", first([True, False]))
def test_the_largest_share_keeps_its_label_where_half_a_page_is_narrow(upright: bool) -> None:
    first, *_ = pages(written("carriage-at-altitude", upright=upright, paper="A4", compared=True, pages=1))
    worst = options_of("carriage-at-altitude")[0].worst()
    assert worst is not None
    largest = max(worst.ledger.entries, key=lambda entry: entry.share or 0.0)
    assert largest.share is not None
    assert percent(largest.share) in first


def _runs(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    """The boxes of every stretch of text on a page (left, bottom, right, top) [points]."""
    text = page.get_textpage()
    return [text.get_rect(number) for number in range(text.count_rects())]


def _over(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    across = min(one[2], other[2]) - max(one[0], other[0])
    up = min(one[3], other[3]) - max(one[1], other[1])
    return across > 2.0 and up > 1.5  # a pair such as "Tw" is set a point into one another


LAID_OUT = [
    ("winter-press", "", False),
    ("header-two-pumps", "", False),
    *((name, paper, upright) for name in NAMES for paper in PAPERS for upright in (True, False)),
]


def _check_boxes(path: Path) -> None:
    """By the boxes of the text in the file, on every page."""
    with pypdfium2.PdfDocument(path) as document:
        for number, page in enumerate(document, 1):
            wide, high = page.get_size()
            runs = sorted(_runs(page))
            assert all(left > 20 and right < wide - 20 and foot > 20 and top < high - 20
                       for left, foot, right, top in runs), number  # fmt: skip
            for at, one in enumerate(runs):
                beside = takewhile(lambda other, one=one: other[0] < one[2], runs[at + 1 :])
                assert not any(_over(one, other) for other in beside), (number, one)


@pytest.mark.thorough
@pytest.mark.parametrize("laid_out", first(LAID_OUT))
def test_no_text_is_over_another_or_past_the_edge(laid_out: tuple[str, str, bool]) -> None:
    name, paper, upright = laid_out
    _check_boxes(written(name, paper=paper, upright=upright, compared=True))


@pytest.mark.thorough
@pytest.mark.parametrize("upright", [True, False])
@pytest.mark.parametrize(("paper", "system"), [("A4", System.SI), ("Letter", System.US)])
@pytest.mark.parametrize("name", NAMES)
def test_nor_is_any_on_the_optional_parts(name: str, paper: str, system: System, upright: bool) -> None:
    wanted = frozenset(OPTIONAL) - {"working"}
    sheet = written(name, paper=paper, upright=upright, system=system, compared=True, parts=wanted)
    _check_boxes(sheet)


@pytest.mark.thorough
@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("upright", first([True, False]))
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", COMPARED)
def test_nothing_of_a_drawing_of_long_names_is_cut(
    name: str, paper: str, upright: bool, system: System, tmp_path: Path
) -> None:
    """Two to six alternatives by six cases, and a title block that is full."""
    path = tmp_path / f"{name}.toml"
    path.write_text(long_named(name), encoding="utf-8")
    read = file.read(path)
    named = (
        ("", "", read.base),
        *((name, each.note, each.layout) for name, each in read.alternatives.items()),
    )
    options = [option_of(*each, Level.MINIMUM, system) for each in named]
    sheet = tmp_path / "sheet.pdf"
    write_sheet(options, sheet, SheetWish(paper=paper, upright=upright), system=system, date=DAY, file=path)
    _check_boxes(sheet)
    written_pages = pages(sheet)
    cut = [page for page in written_pages if "…" in re.sub(r'"[^"]*"', "", page)]
    assert not cut, "but for a note of which the beginning is quoted"
    for expected in ("What it is based on", CAUTIONS[0].partition(". ")[0]):
        assert expected in written_pages[0]


def test_text_that_is_over_another_is_seen() -> None:
    assert _over((10, 10, 50, 20), (40, 12, 90, 22))
    assert not _over((10, 10, 50, 20), (51, 10, 90, 20))
    assert not _over((10, 10, 50, 20), (10, 20, 50, 30))


@pytest.mark.thorough
def test_the_first_page_has_room_for_what_belongs_to_the_alternative() -> None:
    """On the smallest paper; what holds of any calculation stands behind."""
    page, *_ = pages(written("carriage-at-altitude", compared=True, paper="Letter"))
    assert page.index("Cautions") < page.index("What it is based on")
    assert "for any calculation" not in page


@pytest.mark.parametrize("least", first([350.0, 420.0]))
def test_what_it_is_based_on_has_its_room_before_what_is_cut_off(
    least: float, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a page that leaves its text so little that not even the shortest fits."""
    monkeypatch.setattr(sheet_pages, "LEAST_DRAWING", least)
    write_sheet(options_of("winter-press"), tmp_path / "sheet.pdf", SheetWish(paper="A4"), date=DAY)
    page, behind, *_ = pages(tmp_path / "sheet.pdf")
    _check_boxes(tmp_path / "sheet.pdf")
    assert "Behind this page: Continued from the first page, " in page
    assert "Continued from the first page" in behind
    assert re.search(r"Order of work \d\. ", behind)
    release = CAUTIONS[0].partition(". ")[0]
    cut, based, caution = (
        page.index(text) for text in ("Continued on page 2.", "What it is based on: ", release)
    )
    assert cut < based < caution
