"""Nothing that the first page has no room for is lost: it stands right behind it, and that alone."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from sketch.page.blocks import Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet import _sheet
from sketch.page.sheet_advice import work
from sketch.page.sheet_first import TELLINGS, first_pages, shortest_page
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_rest import left_out_of, rest_part
from sketch.page.table import Table
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import options_of

pytestmark = pytest.mark.usefixtures("qapp")


@cache
def _press() -> Sheet:
    return _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.US)


def test_what_is_cut_off_is_known_however_it_is_set() -> None:
    sheet = _press()
    for whole in first_pages(sheet, TELLINGS[0]):
        assert left_out_of(sheet, whole) == frozenset()
    text, foot = shortest_page(sheet)
    assert left_out_of(sheet, (*text, *foot)) == frozenset()
    work = next(block for block in text if isinstance(block, Paragraph) and "Order of work" in block.lead)
    torn = Paragraph(work.text.rpartition(". ")[0], work.lead)
    short = [torn if block is work else block for block in text]
    (step,) = left_out_of(sheet, short)
    assert step.startswith("Order of work: "), "its last step"
    assert any(each.startswith("Recommendation: ") for each in left_out_of(sheet, foot))
    assert list(rest_part(sheet)) == []


def test_what_is_continued_is_what_was_cut_off_in_the_order_of_the_page() -> None:
    """Whole sections stood twice on a sheet where one step had no room on its first page."""
    sheet = _press()
    last = [block for block in work(sheet, 6) if isinstance(block, Paragraph)][-1]
    cut = frozenset([f"Order of work: {last.text}", "What it buys: Table"])
    heading, columns = rest_part(replace(sheet, continued=cut))
    assert isinstance(heading, Heading)
    assert isinstance(columns, Columns)
    leads = [block.text for block in columns.blocks if isinstance(block, Heading)]
    assert leads == ["What it buys", "Order of work"]
    assert columns.blocks[-1] == last
    caption, table = columns.blocks[1:3]
    assert isinstance(caption, Paragraph), "of which pump and case its bars are"
    assert isinstance(table, Table)
    assert len(columns.blocks) == 5
    assert left_out_of(sheet, columns.blocks) & cut == set()


def test_what_names_a_page_is_known_by_its_words_alone() -> None:
    """Which page it is hangs on what is continued: a note was continued though it stood on the page."""
    plain = _press()
    sheet = replace(plain, behind={"Findings": 3})
    for telling in TELLINGS[2:]:
        for whole, unnamed in zip(first_pages(sheet, telling), first_pages(plain, telling), strict=True):
            assert any("page 3" in each.text for each in whole if isinstance(each, Paragraph))
            assert left_out_of(sheet, whole) == left_out_of(plain, unnamed)
