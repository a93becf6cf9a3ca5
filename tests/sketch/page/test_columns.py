"""Blocks stand on pages and in columns so that nothing is lost and no heading stands alone."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Heading, Paragraph, Picture, total_height
from sketch.page.columns import Columns, LeftAndRight, paginate
from sketch.page.table import Row, Table
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


def test_text_in_columns_begins_sooner_where_less_room_is_asked_for() -> None:
    ruler, line = Ruler(), Paragraph("a line")
    high = line.height(ruler, 800.0)
    above, text = [line] * 90, Columns((line,) * 40)
    usual, closer = (paginate([*above, text], ruler, 800.0, 100 * high, least) for least in (1.0, 0.25))
    assert [len(page) for page in usual] == [len(above), 1]
    assert [len(page) for page in closer] == [len(above) + 1, 1]


@pytest.mark.parametrize(("lines", "torn"), [(64, True), (70, False)])
def test_what_fits_one_page_whole_is_torn_only_where_a_third_of_another_would_be_empty(
    lines: int, torn: bool
) -> None:
    ruler, line = Ruler(), Paragraph("a line")
    page = 100 * line.height(ruler, 800.0)
    rows = tuple(Row((f"row {number}",)) for number in range(60))
    table = Table(("Name",), rows, frozenset((0,)), dense=True, name="Names")
    assert 0.5 * page < table.height(ruler, 800.0) < page
    one, other = paginate([line] * lines + [table], ruler, 800.0, page)
    assert (len(one) > lines) == torn
    (rest,) = other
    assert isinstance(rest, Table)
    assert rest.rest == torn


def test_no_table_is_torn_to_even_out_columns() -> None:
    ruler = Ruler()
    table = Table(("Name",), tuple(Row((f"row {number}",)) for number in range(20)), frozenset((0,)))
    short, page = Paragraph("a line"), 3 * table.height(ruler, 390.0)
    for blocks in ([table], [short, table, short]):
        columns = Columns(tuple(blocks), page=page)
        assert [each for column in columns.arranged(ruler, 800.0)[1] for each in column] == blocks


def test_a_heading_at_the_foot_has_three_lines_of_what_it_heads_or_all_of_it() -> None:
    ruler, line = Ruler(), Paragraph("a line")
    for count in range(1, 40):
        for under in (
            [line, line, line, line],
            [Paragraph("its text " * 60, tears=True)],
            [line, Heading("Last")],
        ):
            blocks = [*[line] * count, Heading("Next"), *under, line]
            for page in paginate(blocks, ruler, 400.0, 300.0)[:-1]:
                heads = [number for number, block in enumerate(page) if block == Heading("Next")]
                for at in heads:
                    below = [each for each in page[at + 1 :] if isinstance(each, Paragraph)]
                    assert sum(each.lines(ruler, 400.0) for each in below) >= (1 if under[-1].keep else 3)


def test_what_is_torn_between_pages_ends_with_a_sentence_and_goes_on_by_its_name() -> None:
    ruler = Ruler()
    sentences = "The first of several sentences is of some length. " * 30
    line = Paragraph(sentences.strip(), "Reach:", tears=True)
    page, rest = Columns((line,)).split_to_fit(ruler, 600.0, 150.0)
    assert isinstance(page, Columns)
    assert isinstance(rest, Columns)
    last, (tail,) = page.full[-1][-1], rest.blocks
    assert isinstance(last, Paragraph)
    assert isinstance(tail, Paragraph)
    assert last.text.endswith("length.")
    assert (tail.lead, tail.text[:9]) == ("Reach (continued):", "The first")
    texts = [
        each.text for column in (*page.full, rest.blocks) for each in column if isinstance(each, Paragraph)
    ]
    assert " ".join(texts) == line.text


def test_a_block_taller_than_a_page_is_not_waited_for_for_ever() -> None:
    tall = Paragraph("word " * 2000)
    pages = paginate([Heading("One"), tall, Paragraph("after")], Ruler(), 800.0, 200.0)
    assert [block for page in pages for block in page if block is tall] == [tall]


@pytest.mark.thorough
@pytest.mark.parametrize("name", first(NAMES))
def test_no_heading_stands_apart_from_its_table(name: str) -> None:
    for page in pages(written(name, compared=True)):
        for heading in ("Ledger of", "Inlet budgets", "Alternatives side by side"):
            if heading in page:
                assert page.index(heading) < len(page) - 200, heading


def _paragraphs(count: int) -> tuple[Paragraph, ...]:
    return tuple(Paragraph(f"number {number} " * 12) for number in range(count))


def test_columns_are_no_higher_than_they_must_be_and_lose_nothing() -> None:
    ruler, columns = Ruler(), Columns(_paragraphs(20))
    high, arrangement = columns.arranged(ruler, 800.0)
    assert len(arrangement) == 2
    assert [block for column in arrangement for block in column] == list(columns.blocks)
    assert high < 0.65 * total_height(columns.blocks, ruler, 390.0)
    assert columns.height(ruler, 800.0) == high


def test_a_single_finding_is_not_parted_from_what_explains_it() -> None:
    ruler = Ruler()
    finding = Paragraph("three joints are below the atmosphere", "Note:", keep=True)
    why = Paragraph("When the pump foams, look at the joints in this order. " * 2, quiet=True, tears=True)
    _, columns = Columns((finding, why)).arranged(ruler, 600.0)
    assert finding in columns[0]
    assert len(columns[0]) > 1


def test_a_page_full_of_findings_stays_as_it_was_filled() -> None:
    """No arrangement without a parting may be left of the first part of what goes on overleaf."""
    ruler, findings = Ruler(), []
    for number in range(30):
        findings.append(Paragraph(f"finding {number}", "Note:", keep=True))
        findings.append(Paragraph("why it matters and what to try " * (1 + number % 4), tears=True))
    for room in range(150, 300, 7):
        page, rest = Columns(tuple(findings)).split_to_fit(ruler, 600.0, float(room))
        assert isinstance(page, Columns)
        assert isinstance(rest, Columns)
        high, columns = page.arranged(ruler, 600.0)
        assert high <= room
        assert len(columns) == 2
        assert not any(column[-1].keep for column in columns)


def test_columns_that_what_follows_leaves_half_empty_are_evened_out() -> None:
    """No column of a few lines beside a full one, where a table goes on to the next page."""
    ruler = Ruler()
    rows = tuple(Row((f"row {number}",)) for number in range(12))
    table = Table(("Name",), rows, frozenset((0,)), whole=True)
    room, line = table.height(ruler, 390.0) - 10.0, Paragraph("A line.").height(ruler, 390.0)
    lines = tuple(Paragraph(f"Line {number}.") for number in range(int(room / line) + 2))
    page, rest = Columns((*lines, table)).split_to_fit(ruler, 800.0, room)
    assert isinstance(page, Columns)
    left, right = page.arranged(ruler, 800.0)[1]
    assert (*left, *right) == lines
    assert abs(len(left) - len(right)) <= 1
    assert isinstance(rest, Columns)
    assert rest.blocks == (table,)


def test_columns_are_torn_where_a_page_ends() -> None:
    ruler, columns = Ruler(), Columns(_paragraphs(40))
    laid_pages = paginate([columns], ruler, 800.0, 400.0)
    assert len(laid_pages) > 1
    assert [each for page in laid_pages for block in page for each in block.blocks] == list(columns.blocks)
    assert all(total_height(page, ruler, 800.0) <= 400.0 for page in laid_pages)


def test_what_stands_beside_goes_below_where_room_is_short() -> None:
    ruler, picture = Ruler(), Picture(100.0, lambda *_: None)
    beside = LeftAndRight(_paragraphs(3), (picture,), share=0.7, least=500.0)
    left = total_height(beside.left, ruler, 0.7 * 980.0)
    assert beside.height(ruler, 1000.0) == pytest.approx(max(left, 100.0))
    assert beside.height(ruler, 600.0) == pytest.approx(total_height(beside.left, ruler, 600.0) + 100.0)


def test_a_ledger_longer_than_a_page_is_torn_and_its_column_stays_with_the_first_part() -> None:
    ruler, picture = Ruler(), Picture(100.0, lambda *_: None)
    laid_pages = paginate([LeftAndRight(_paragraphs(40), (picture,))], ruler, 800.0, 300.0)
    assert len(laid_pages) > 1
    assert [bool(block.right) for page in laid_pages for block in page] == [True] + [False] * (
        len(laid_pages) - 1
    )


def test_what_is_left_for_the_next_page_is_not_torn_before_it_gets_there() -> None:
    ruler = Ruler()
    rows = tuple(Row((f"row {number}", f"{number}.5")) for number in range(120))
    table = Table(("Name", "Figure"), rows, frozenset((0,)))
    part, rest = Columns((table,)).split_to_fit(ruler, 800.0, 300.0)
    assert isinstance(part, Columns)
    assert isinstance(rest, Columns)
    assert len(rest.blocks) == 1
    shown = [row for block in (*part.blocks, *rest.blocks) if isinstance(block, Table) for row in block.rows]
    assert tuple(shown) == rows
