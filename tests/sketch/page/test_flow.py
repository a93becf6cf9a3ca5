"""Parts of a sheet follow one another in columns where they fit one, and across the page where not."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.columns import Columns, LeftAndRight
from sketch.page.flow import floats_ahead, flowed, inside, parts_on, single
from sketch.page.table import Row, Table

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

A4_ACROSS, A4_UPRIGHT, A3_ACROSS = 1047.0, 718.0, 1511.0


def _picture(least: float) -> Picture:
    return Picture(100.0, lambda *_: None, least)


def test_what_is_wider_than_a_column_goes_across_the_page_with_its_heading() -> None:
    text, heading, wide = Paragraph("text"), Heading("Wide"), _picture(800.0)
    flow = flowed([text, heading, wide, text], Ruler(), A4_ACROSS)
    assert [type(block) for block in flow] == [Columns, Heading, Picture, Columns]
    assert [inside(block) for block in flow] == [(text,), (heading,), (wide,), (text,)]


@pytest.mark.parametrize(("width", "count"), [(A4_UPRIGHT, 2), (A4_ACROSS, 2), (A3_ACROSS, 3)])
def test_a_wider_page_has_more_columns(width: float, count: int) -> None:
    (columns,) = flowed([Paragraph("text")], Ruler(), width)
    assert isinstance(columns, Columns)
    assert columns.count == count


def test_what_would_stand_beside_another_is_set_one_after_another_in_a_column() -> None:
    first, other = _picture(400.0), _picture(400.0)
    pair = LeftAndRight((first,), (other,), least=400.0)
    assert list(single([Columns((pair,))], Ruler(), 500.0, A4_ACROSS)) == [first, other]
    assert list(single([pair], Ruler(), 390.0, A4_ACROSS)) == [pair]  # neither fits
    assert list(single([pair], Ruler(), 390.0, A4_UPRIGHT)) == [first, other]  # nor do both across the page


def test_a_table_needs_its_figures_and_a_few_words_of_each_line() -> None:
    def table(words: str) -> Table:
        return Table(("Name", "Figure"), (Row((words, "12.5")),), frozenset((0,)))

    ruler, long = Ruler(), table("word " * 40)
    assert table("word").needs(ruler) < long.needs(ruler) < 200.0 < table("w" * 60).needs(ruler)
    high = long.height(ruler, long.needs(ruler))
    assert high < 45 * ruler.height() * 2


def test_a_picture_that_floats_fills_the_foot_of_a_column_before_what_it_follows() -> None:
    ruler, tall = Ruler(), Picture(180.0, lambda *_: None, 100.0)
    floating = Picture(90.0, lambda *_: None, 100.0, floats=True)
    blocks: list[Block] = [tall, tall, floating]
    columns = Columns(tuple(blocks)).split_to_fit(ruler, 600.0, 300.0)[0]
    assert columns is None  # nothing is left for another page
    _, arrangement = Columns(tuple(blocks)).arranged(ruler, 600.0)
    assert arrangement in (((tall,), (tall, floating)), ((tall, floating), (tall,)))


def test_a_table_that_grows_too_tall_in_a_column_goes_across_the_page_and_text_never_does() -> None:
    ruler = Ruler()
    texts = tuple(Row(("word " * 30, "word " * 30, "word " * 30, "1.5")) for _ in range(4))
    lines = tuple(Row(("word", "word", "word", "1.5")) for _ in range(4))
    words, headings = frozenset((0, 1, 2)), ("One", "Other", "Third", "Figure")
    tall, low = (Table(headings, rows, words, dense=True) for rows in (texts, lines))
    assert tall.needs(ruler) < A4_ACROSS / 2
    across = _picture(800.0)
    assert flowed([tall], ruler, A4_ACROSS) == [tall]
    assert [inside(block) for block in flowed([low, across], ruler, A4_ACROSS)] == [(low,), (across,)]
    line = Paragraph("word " * 25, tears=True)
    assert line.height(ruler, 513.0) > 1.5 * line.height(ruler, A4_ACROSS)
    assert isinstance(flowed([line], ruler, A4_ACROSS)[0], Columns)


def test_pictures_that_float_wait_for_one_another_behind_what_goes_across_the_page() -> None:
    ruler, wide = Ruler(), _picture(800.0)
    one, other = (Picture(high, lambda *_: None, 200.0, floats=True) for high in (90.0, 80.0))
    flow = flowed([one, wide, other], ruler, A4_UPRIGHT)
    assert [inside(block) for block in flow] == [(wide,), (one, other)]
    flow = flowed([one, Heading("Another section"), wide, other], ruler, A4_UPRIGHT)
    assert [type(block) for block in flow] == [Columns, Heading, Picture, Columns]


def test_pictures_that_float_come_first_in_their_own_section_alone() -> None:
    heading, other, text = Heading("One"), Heading("Other"), Paragraph("text")
    floating, caption = Picture(90.0, lambda *_: None, floats=True), Paragraph("caption", keep=True)
    still = Picture(90.0, lambda *_: None)
    order = floats_ahead([heading, text, caption, floating, other, still, text])
    assert order == [heading, caption, floating, text, other, still, text]


def test_a_table_that_would_stand_alone_in_a_column_goes_across_where_that_makes_it_lower() -> None:
    long = Table(("Name", "Figure"), (Row(("word " * 60, "1.5")),), frozenset((0,)), whole=True)
    short = Table(("Name", "Figure"), (Row(("word", "1.5")),), frozenset((0,)), whole=True)
    for table, alone in ((long, True), (short, False)):
        heading = Heading("Sums")
        flow = flowed([heading, table, Heading("Wide"), _picture(800.0)], Ruler(), A4_UPRIGHT)
        assert isinstance(flow[0], Heading if alone else Columns)
        several = flowed([heading, table, Paragraph("text"), _picture(800.0)], Ruler(), A4_UPRIGHT)
        assert isinstance(several[0], Columns)


def test_a_part_stands_on_every_page_from_its_first_block_to_the_first_of_the_next() -> None:
    one, more, two, three = (Paragraph(text) for text in ("one", "more", "two", "three"))
    firsts = {id(one): "One", id(two): "Two", id(three): "Three"}
    pages = [[[one]], [[Columns((more,))], [more]], [[more], [two]], [[three]]]
    assert parts_on(pages, firsts) == [("One",), ("One",), ("One", "Two"), ("Three",)]
