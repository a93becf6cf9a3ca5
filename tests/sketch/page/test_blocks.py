"""Blocks of a page are set so that nothing is lost and no heading stands alone."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Heading, Paragraph, paginate
from sketch.page.table import Row, Table
from solver.quantities.units import System
from tests.sketch.sheets import NAMES, pages, written
from tests.thorough import first

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def _height(blocks: list[Block], ruler: Ruler) -> float:
    return sum(block.height(ruler, 800.0) for block in blocks)


def test_pages_hold_what_fits_and_lose_nothing() -> None:
    ruler = Ruler()
    rows = tuple(Row((f"row {number}", f"{number}.5")) for number in range(100))
    blocks: list[Block] = [Heading("One"), Table(("Name", "Figure"), rows, frozenset((0,)))]
    blocks += [Paragraph("word " * 60) for _ in range(20)]
    pages = paginate(blocks, ruler, 800.0, 500.0)
    assert all(_height(page, ruler) <= 500.0 for page in pages)
    tables = [block for page in pages for block in page if isinstance(block, Table)]
    assert [row for table in tables for row in table.rows] == list(rows)
    assert sum(isinstance(block, Paragraph) for page in pages for block in page) == 20


def test_no_heading_ends_a_page() -> None:
    ruler = Ruler()
    for count in range(1, 40):
        blocks: list[Block] = [Paragraph("a line") for _ in range(count)]
        blocks += [Heading("Next"), Paragraph("its text"), Paragraph("more")]
        for page in paginate(blocks, ruler, 800.0, 300.0):
            assert not isinstance(page[-1], Heading)


def test_a_heading_stays_with_what_is_tied_to_what_it_heads() -> None:
    ruler = Ruler()
    for count in range(1, 40):
        blocks: list[Block] = [Paragraph("a line") for _ in range(count)]
        blocks += [Heading("Next"), Paragraph("lead", keep=True), Paragraph("its text " * 60)]
        pages = paginate(blocks, ruler, 800.0, 300.0)
        assert not any(isinstance(page[-1], Heading) or page[-1].keep for page in pages[:-1])


def test_a_block_taller_than_a_page_is_not_waited_for_for_ever() -> None:
    tall = Paragraph("word " * 2000)
    pages = paginate([Heading("One"), tall, Paragraph("after")], Ruler(), 800.0, 200.0)
    assert [block for page in pages for block in page if block is tall] == [tall]


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


@pytest.mark.parametrize("paper", first(["A4", "Letter"]))
def test_no_heading_stands_apart_from_its_table(paper: str) -> None:
    for name in NAMES:
        for page in compared(name, paper, System.US):
            for heading in ("Ledger of", "Budget", "Alternatives side by side"):
                if heading in page:
                    assert page.index(heading) < len(page) - 200, (name, heading)
