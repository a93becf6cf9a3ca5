"""A table breaks its words, and itself only where it must."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Ruler
from sketch.drawing.recorder import Recorder
from sketch.look.colours import LIGHT
from sketch.page.blocks import LEADING, Heading, Paragraph
from sketch.page.columns import paginate
from sketch.page.table import EDGE, Row, Table, in_lines, tearable

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_words_too_long_for_their_column_are_broken_not_cut() -> None:
    ruler = Ruler()
    words = "a sentence that says where a figure comes from and what replaces it " * 2
    table = Table(("How", "Source", "kPa"), (Row((words, words, "1.25")),), frozenset((0, 1)))
    short = Table(("How", "Source", "kPa"), (Row(("short", "short", "1.25")),), frozenset((0, 1)))
    assert table.height(ruler, 500.0) > 2 * short.height(ruler, 500.0) - ruler.height()
    assert table.height(ruler, 4000.0) == short.height(ruler, 4000.0)


def test_a_table_without_headings_keeps_no_room_for_them() -> None:
    ruler, rows, words = Ruler(), (Row(("Fluid", "oil")),), frozenset((0, 1))
    headed, unheaded = (Table(headings, rows, words) for headings in (("Name", "Figure"), ("", "")))
    saved = headed.height(ruler, 400.0) - unheaded.height(ruler, 400.0)
    assert saved == pytest.approx(ruler.height() * LEADING)


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


@pytest.mark.parametrize("wide", range(300, 620, 40))
def test_bars_keep_their_side_of_zero_where_room_is_short(
    monkeypatch: pytest.MonkeyPatch, wide: float
) -> None:
    rows = (
        Row(("Inlet budget", "38.20", "11.05", "\N{MINUS SIGN}27.15", ""), bar=-27.15),
        Row(("2 new and 3 other parts", "19.28", "\N{MINUS SIGN}6.67", "25.95", ""), bar=25.95),
    )
    headings = ("Entry", "Before\nkPa", "After\nkPa", "Buys\nkPa", "")
    table, recorder = Table(headings, rows, frozenset((0, 4)), bar=4), Recorder()
    bars, zeros = list[Box](), set[float]()
    monkeypatch.setattr(recorder, "box", lambda box, *_: bars.append(box))
    monkeypatch.setattr(
        recorder, "lines", lambda lines, *_: zeros.update(x for (x, _), (end, _) in lines if end == x)
    )
    table.paint(recorder, LIGHT, 0.0, 0.0, float(wide))
    cost, gain = bars
    (zero,) = zeros
    assert cost.right == pytest.approx(zero)
    assert gain.x == pytest.approx(zero)
    assert min(cost.width, gain.width) > 16.0


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
    above = [Paragraph("a line") for _ in range(16)]
    pages = paginate([*above, Heading("Ledger"), table], ruler, 800.0, 400.0)
    assert [table in page for page in pages] == [False, True]


def test_words_run_on_over_empty_cells_and_widen_no_column() -> None:
    ruler, words = Ruler(), "In parallel with this path, not in the sums"
    plain = Row(("riser", "1.5", "2.5"))
    long, full = Row((words, "", "")), Row((words, "1.5", ""))
    tables = [Table(("Name", "One", "Two"), (plain, row), frozenset((0,))) for row in (plain, long, full)]
    short, running, broken = tables
    wide = ruler.width(words) + EDGE + 1.0
    assert running.natural(ruler) == short.natural(ruler) < broken.natural(ruler)
    assert running.height(ruler, wide) == short.height(ruler, wide) < broken.height(ruler, wide)


def test_headings_take_fewer_lines_where_there_is_room() -> None:
    ruler, row = Ruler(), Row(("riser", "1.5"))
    short, roomy = ("Name", "Lift +\nloss\nkPa"), ("Name", "Lift + loss\nkPa")
    table = Table(short, (row,), frozenset((0,)), roomy)
    wide, narrow = (Table(headings, (row,), frozenset((0,))) for headings in (roomy, short))
    assert table.height(ruler, 400.0) == wide.height(ruler, 400.0) < narrow.height(ruler, 400.0)
    least = narrow.natural(ruler)
    assert table.height(ruler, least) == narrow.height(ruler, least)


def test_a_heading_and_what_a_first_cell_names_are_not_torn_apart() -> None:
    ruler = Ruler()
    rows = [Row((f"case {k // 2}" if k % 2 == 0 else "", f"{k}.5")) for k in range(12)]
    rows[6:6] = [Row(("What must remain", ""), bold=True)]
    table = Table(("Case", "Figure"), tuple(rows), frozenset((0,)), whole=True, may_tear=True)
    high = table.height(ruler, 400.0)
    one = high - replace(table, rows=table.rows[:-1]).height(ruler, 400.0)
    assert table.split_to_fit(ruler, 400.0, high / 2) == (None, table)
    heads = set()
    for number in range(13):
        head, tail = tearable(table).split_to_fit(ruler, 400.0, high - number * one)
        if isinstance(head, Table) and isinstance(tail, Table):
            assert (*head.rows, *tail.rows) == table.rows
            assert tail.headings == table.headings
            heads.add(len(head.rows))
    assert heads == {4, 6, 9}  # before a case, and before the heading; three rows at least on either side


def test_columns_of_words_share_what_room_there_is_by_their_text() -> None:
    ruler = Ruler()
    rows = (Row(("valve", "a size that is long to say in every row", "1.5")),) * 6
    once = Row(("a name that is as long as it is rare to be", "short", "2.5"))
    table = Table(("Item", "Size", "How much"), (*rows, once), frozenset((0, 1)), dense=True)
    width = 0.8 * table.natural(ruler)
    assert table.height(ruler, width) <= table.height(ruler, table.natural(ruler)) + 2 * ruler.height()


def test_the_rest_of_a_torn_table_says_whose_it_is_above_its_headings() -> None:
    ruler, rows = Ruler(), tuple(Row((f"{k}", f"{k}.5")) for k in range(12))
    table = Table(("Part", "Loss"), rows, frozenset((0,)), name="Ledger of press")
    first, rest = table.split_to_fit(ruler, 300.0, 0.6 * table.height(ruler, 300.0))
    assert isinstance(first, Table)
    assert isinstance(rest, Table)
    widths = rest._widths(ruler, 300.0)
    assert first._name_lines(ruler, widths) == []
    assert rest._name_lines(ruler, widths) == ["Ledger of press (continued)"]
    assert rest.headings == table.headings
    above = rest.height(ruler, 300.0) - replace(rest, name="").height(ruler, 300.0)
    assert above == pytest.approx(ruler.height() * LEADING)


def test_figures_under_one_point_and_words_behind_them_touch_no_column_beside_them() -> None:
    ruler = Ruler()
    rows = (Row(("press", "-1.10", "-10.25")), Row(("press", "1.74 at 82.4 °F", "2.53 at 96.8 °F")))
    table = Table(("Pump", "Warm", "Warmer"), rows, frozenset((0,)), dense=True)
    widths = table._widths(ruler, table.natural(ruler))
    for column in (1, 2):
        whole = max(ruler.width(row.cells[column].partition(".")[0], bold=True) for row in rows)
        assert widths[column] - whole - table._point(ruler, column) >= 2 * EDGE


def test_a_heading_is_broken_neither_in_a_figure_nor_in_a_word() -> None:
    assert in_lines("Tank heater to 70 °F", 14) == "Tank heater to\n70 °F"
    assert in_lines("Long-radius elbows", 8) == "Long-\nradius\nelbows"
    assert in_lines("Recommended", 8) == "Recommended"


def test_the_height_that_is_kept_is_that_of_the_very_table_and_type() -> None:
    rows = (Row(("a name of several words", "1.5"), chip=QColor("red")), Row(("riser", "2.5")))
    table = Table(("Part", "Loss"), rows, frozenset((0,)), name="Ledger")
    for each in (table, replace(table, rest=True), replace(table, dense=True), replace(table, rows=rows[1:])):
        for ruler in (Ruler(), Ruler(2.0)):
            for width in (120.0, 300.0, 120.0):
                assert each.height(ruler, width) == each.set_height(ruler, width)


def test_heading_and_words_end_over_figures_that_have_words_behind_them() -> None:
    rows = (Row(("one", "3.6")), Row(("two", "\N{MINUS SIGN}1.9 at 45 °F")), Row(("three", "rest")))
    table, ruler = Table(("Case", "Was"), rows, frozenset((0,))), Ruler(1.0)
    of_figures = table._right_of_figures(ruler, 1, 0.0, 200.0)
    plain = replace(table, rows=(rows[0], rows[2]))
    assert plain._right_of_figures(ruler, 1, 0.0, 200.0) == pytest.approx(200.0 - EDGE)
    behind = ruler.width(".9 at 45 °F", bold=True) - max(
        ruler.width(each, bold=True) for each in (".6", ".9")
    )
    assert of_figures == pytest.approx(200.0 - EDGE - behind)
