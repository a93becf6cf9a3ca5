"""Nothing that the first page has no room for is lost: it stands whole right behind it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from sketch.page.blocks import Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet import _sheet
from sketch.page.sheet_first import TELLINGS, first_pages, shortest_page
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_rest import left_out_of, rest_part
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
    assert left_out_of(sheet, (*text, *foot)) == {"What it buys"}  # its bars
    work = next(block for block in text if isinstance(block, Paragraph) and "Order of work" in block.lead)
    torn = Paragraph(work.text.rpartition(". ")[0], work.lead)
    short = [torn if block is work else block for block in text]
    assert left_out_of(sheet, short) == {"What it buys", "Order of work"}
    assert "Recommendation" in left_out_of(sheet, foot)
    assert list(rest_part(sheet)) == []


def test_what_is_continued_is_whole_in_the_order_of_the_page() -> None:
    sheet = _press()
    cut = frozenset(["Order of work", "What it buys"])
    heading, columns = rest_part(replace(sheet, continued=cut))
    assert isinstance(heading, Heading)
    assert isinstance(columns, Columns)
    assert [block.text for block in columns.blocks if isinstance(block, Heading)] == sorted(cut, reverse=True)
    assert left_out_of(sheet, columns.blocks) & cut == set()
