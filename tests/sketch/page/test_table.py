"""A table breaks its words, and itself only where it must."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Heading, Paragraph, paginate
from sketch.page.table import EDGE, Row, Table

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_words_too_long_for_their_column_are_broken_not_cut() -> None:
    ruler = Ruler()
    words = "a sentence that says where a figure comes from and what replaces it " * 2
    table = Table(("How", "Source", "kPa"), (Row((words, words, "1.25")),), frozenset((0, 1)))
    short = Table(("How", "Source", "kPa"), (Row(("short", "short", "1.25")),), frozenset((0, 1)))
    assert table.height(ruler, 500.0) > 2 * short.height(ruler, 500.0) - ruler.height()
    assert table.height(ruler, 4000.0) == short.height(ruler, 4000.0)


def test_a_heading_over_words_is_broken_as_they_are() -> None:
    ruler = Ruler()
    row = Row(("at rest, line full", "1.0"))
    heading = "State of the machine; vacuum at the port"
    table, short = (Table((text, "Clean"), (row,), frozenset((0,))) for text in (heading, "State"))
    widths = table._widths(ruler, 160.0)
    lines = table._head_lines(ruler, 0, widths[0])
    assert " ".join(lines) == heading
    assert all(ruler.width(line) <= widths[0] for line in lines)
    assert table.height(ruler, 160.0) > short.height(ruler, 160.0)


def test_a_narrow_column_keeps_its_longest_word_whole() -> None:
    """Beside a column of long words and more figures than there is room for."""
    ruler = Ruler()
    row = Row(("carriage", "a very cold morning after a weekend", *["-21.31"] * 5))
    table = Table(("Pump", "Case", *["Beside"] * 5), (row,), frozenset((0, 1)))
    for width in (420.0, 460.0, 600.0):
        widths = table._widths(ruler, width)
        assert widths[0] - EDGE >= ruler.width("carriage", bold=True)
        assert widths[1] - EDGE >= ruler.width("weekend", bold=True)


def test_a_table_that_fits_on_a_page_is_not_torn_for_a_little_room() -> None:
    ruler = Ruler()
    table = Table(("Name", "Figure"), tuple(Row((f"{k}", f"{k}.5")) for k in range(12)), frozenset((0,)))
    above = [Paragraph("a line") for _ in range(9)]
    pages = paginate([*above, Heading("Ledger"), table], ruler, 800.0, 400.0)
    assert [table in page for page in pages] == [False, True]
