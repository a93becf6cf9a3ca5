"""Nothing on paper is cut where there is room for it."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations, product, takewhile
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtGui import QPainter
from shapely import LineString
from shapely import box as rectangle

from sketch.drawing.labels import Box, Label, LabelKind
from sketch.drawing.painting import Drawn
from sketch.drawing.pencil import Pencil
from sketch.drawing.symbols import extent
from sketch.drawing.tags import percent
from sketch.drawing.view import View
from sketch.page import sheet_pages, sheet_panels
from sketch.page.options import option_of
from sketch.page.sheet import write_sheet
from sketch.page.sheet_frame import Panel, Sheet
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
    assert not _cut(first)


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


def _cut(page: str) -> bool:
    """Whether a text on a page is cut, but for a note of which the beginning is quoted."""
    return "…" in re.sub(r'"[^"]*"', "", page)


@pytest.mark.thorough
@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("laid_out", first(LAID_OUT))
def test_no_text_is_over_another_cut_or_past_the_edge(
    laid_out: tuple[str, str, bool], system: System
) -> None:
    name, paper, upright = laid_out
    sheet = written(name, paper=paper, upright=upright, system=system, compared=True)
    _check_boxes(sheet)
    assert not [number for number, page in enumerate(pages(sheet), 1) if _cut(page)]


def _over_in(drawn: Drawn, view: View) -> list[tuple[str, str]]:
    """What of a drawing lies over what, by the boxes that are painted, which are larger than their texts.

    Labels are levels, dimensions, tags and names; none lies on another, on a symbol, a pipe or the scale.
    """
    room = 0.5 * view.dot
    boxes = [(f"{each.kind} {each.text}", each.box.grown(-room)) for each in drawn.labels if each.text]
    shapes = [("scale", drawn.scale_bar)]
    shapes += [(each.key, extent(each, view.dot)) for each in drawn.glyphs if not each.is_pipe]
    pairs = [*combinations(boxes, 2), *product(boxes, shapes)]
    over = [(one, other) for (one, box), (other, second) in pairs if box.overlaps(second)]
    lines = [(each.key, LineString(each.points)) for each in drawn.glyphs if each.is_pipe]
    leaders = [(f"leader of {each.text}", LineString(each.leader)) for each in drawn.labels if each.leader]
    for name, box in boxes:
        shape = rectangle(box.x, box.y, box.right, box.bottom)
        own = f"leader of {name.partition(' ')[2]}"
        over += [(name, key) for key, line in (*lines, *leaders) if key != own and line.intersects(shape)]
    return over


def test_a_label_over_another_over_the_scale_or_over_a_leader_is_seen() -> None:
    lift = Label("lift", LabelKind.LIFT, "−64 %", Box(0.0, 0.0, 40.0, 10.0))
    level = Label("tank", LabelKind.LEVEL, "minimum 4.00 ft", Box(36.0, 0.0, 40.0, 10.0))
    apart = replace(level, box=Box(60.0, 0.0, 40.0, 10.0), leader=((20.0, 30.0), (60.0, 5.0)))
    crossing = replace(apart, leader=((5.0, -5.0), (60.0, 20.0)))
    bar, under = Box(0.0, 40.0, 90.0, 10.0), Box(0.0, 8.0, 20.0, 10.0)
    over = [
        len(_over_in(Drawn((), (lift, other), (), scale), View(1.0, 0.0, 0.0)))
        for other, scale in ((level, bar), (apart, bar), (apart, under), (crossing, bar))
    ]
    assert over == [1, 0, 1, 1]


@pytest.mark.parametrize("laid_out", first(product(LAID_OUT, System)))
def test_no_label_of_a_drawing_lies_on_another_or_on_the_line(
    laid_out: tuple[tuple[str, str, bool], System], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (name, paper, upright), system = laid_out
    drawings: list[tuple[Drawn, View]] = []
    paint = sheet_panels._paint

    def painted(
        onto: QPainter | Pencil, sheet: Sheet, panel: Panel, view: View, *args: Any, **named: Any
    ) -> Drawn:
        drawn = paint(onto, sheet, panel, view, *args, **named)
        drawings.extend([(drawn, view)] if isinstance(onto, QPainter) else [])
        return drawn

    monkeypatch.setattr(sheet_panels, "_paint", painted)
    wish = SheetWish(paper=paper, upright=upright, pages=1)
    write_sheet(options_of(name, system), tmp_path / "sheet.pdf", wish, system=system, date=DAY)
    assert drawings
    for drawn, view in drawings:
        assert _over_in(drawn, view) == []


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
    assert not [page for page in written_pages if _cut(page)]
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
