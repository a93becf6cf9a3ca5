"""The pages behind the first one are few and full, nothing runs over their foot, and little is torn."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page import packing
from sketch.page.blocks import Block, Paragraph, Picture, total_height
from sketch.page.columns import Columns
from sketch.page.flow import inside
from sketch.page.options import Option, option_of
from sketch.page.paper import paper
from sketch.page.sheet_frame import later_body
from sketch.page.sheet_parts import PAPERS, SheetPart
from sketch.page.table import Row, Table
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.long_names import long_named
from tests.sketch.packed import Packed, packed
from tests.sketch.sheets import COMPARED, NAMES, drawing, options_of
from tests.thorough import first

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize(
    ("lines", "count", "size", "columns"),
    [
        (40, 1, 1.0, 1),
        (41, 1, 0.96, 1),
        (43, 1, 0.93, 1),
        (44, 1, 0.9, 1),
        (46, 1, 0.87, 1),
        (47, 1, 1.0, 2),
        (41, 2, 1.0, 2),
        (84, 2, 0.96, 2),
    ],
)
def test_type_is_smaller_only_where_that_saves_a_page(
    lines: int, count: int, size: float, columns: int
) -> None:
    line, dot, width = Paragraph("One line of text."), 10.0, 6000.0
    height = 40.5 * line.height(Ruler(dot), width)
    set_in = packing.sized([line] * lines, dot, width, height, count, flows=False)
    assert (set_in[0], len(set_in[1])) == (size, columns)


def test_nothing_is_packed_past_the_foot_to_save_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """What does not part in columns is painted over the edge where it stands alone on a page."""
    line, ruler, width = Paragraph("One line of text."), Ruler(10.0), 6000.0
    high = line.height(ruler, width)

    def flowed(blocks: list[Paragraph], *_: object) -> list[object]:
        closer = _[2] != 1.0
        return [replace(line, text="One line. " * 4000)] if closer else list(blocks)

    monkeypatch.setattr(packing, "flowed", flowed)
    size, columns = packing.sized([line] * 70, 10.0, width, 40.5 * high, 1, flows=True)
    assert [len(column) for column in columns] == [40, 30]
    assert size == 1.0


@pytest.mark.parametrize(("lines", "size"), [(100, 1.2), (128, 1.1), (140, 1.0)])
def test_type_is_larger_where_the_last_page_would_be_half_empty(lines: int, size: float) -> None:
    """In two columns of forty lines each, as many pages as in the usual type."""
    line, dot, width = Paragraph("One line of text."), 10.0, 6000.0
    height = 40.5 * line.height(Ruler(dot), width)
    set_in, pages = packing.sized([line] * lines, dot, width, height, 1, flows=True)
    assert (set_in, len(pages)) == (size, 2)
    assert sum(len(inside(block)) for page in pages for block in page) == lines


def test_the_packing_is_taken_that_leaves_no_large_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    """Among those of as many pages: here the closest one tears what follows half a page."""
    line, ruler, width = Paragraph("One line of text."), Ruler(10.0), 6000.0
    table = Table(
        ("Name",), tuple(Row((f"row {each}",)) for each in range(30)), frozenset((0,)),
        whole=True, may_tear=True, dense=True,
    )  # fmt: skip
    height, blocks = 1.2 * table.height(ruler, width), [*[line] * 9, table, *[line] * 3]
    whole = packing.packed(blocks, ruler, width, height, flows=False)
    assert any(isinstance(block, Table) and block.rest for page in whole for block in page)
    monkeypatch.setattr(packing, "MOSTLY_FULL", 0.0)
    gap = packing.packed(blocks, ruler, width, height, flows=False)
    assert len(gap) == len(whole)
    assert gap[1][0] == table


@pytest.mark.parametrize(("part", "after", "size"), [(1.05, 47, 0.93), (1.09, 47, 0.9), (1.19, 41, 0.96)])
def test_type_is_smaller_still_where_that_saves_the_page_and_tears_no_table(
    part: float, after: int, size: float
) -> None:
    """Where a table ends so far down a first page; the last of them is torn in the smallest type too."""
    line, ruler, width = Paragraph("One line of text."), Ruler(10.0), 6000.0
    table = Table(
        ("Name",), tuple(Row((f"row {each}",)) for each in range(30)), frozenset((0,)),
        whole=True, may_tear=True, dense=True,
    )  # fmt: skip
    high = line.height(ruler, width)
    before = int((part * 50.5 * high - table.height(ruler, width)) / high)
    blocks = [*[line] * before, table, *[line] * after]
    set_in, pages = packing.sized(blocks, 10.0, width, 50.5 * high, 1, flows=False)
    assert (set_in, len(pages)) == (size, 2)
    torn = any(isinstance(block, Table) and block.rest for page in pages for block in page)
    assert torn == (size == 0.96)


def test_a_part_that_fits_is_moved_forward_before_a_page_is_left_empty() -> None:
    """Only among the parts whose order does not matter, and only where that leaves less empty."""
    on = paper("A4", Path("sheet.pdf"))
    high = later_body(*on.size, on.dot).height / on.dot

    def part(title: str, share: float, *, moves: bool = True) -> tuple[SheetPart, list[Block]]:
        return SheetPart(title, "", "", moves=moves), [Picture(share * high, lambda *_: None)]

    usual = [part("a", 0.6, moves=False), part("b", 0.9), part("c", 0.35), part("d", 0.6)]
    drafts = packing.in_columns(usual, on, 1, flows=True)
    assert [draft.parts for draft in drafts] == [("a", "c"), ("b",), ("d",)]
    fixed = [(each._replace(moves=False), blocks) for each, blocks in usual]
    assert [draft.parts for draft in packing.in_columns(fixed, on, 1, flows=True)] == [
        ("a",), ("b",), ("c", "d"),
    ]  # fmt: skip


@pytest.mark.parametrize(("wholes", "pages"), [(5, 5), (4, 5)])
def test_parts_change_places_where_that_saves_a_long_sheet_a_page(wholes: int, pages: int) -> None:
    """In the smallest type each of the two low parts fits behind a high one, and both behind none."""
    on = paper("A4", Path("sheet.pdf"))
    high = later_body(*on.size, on.dot).height / on.dot
    shares = {**{f"whole {each}": 0.9 for each in range(wholes)}, "one": 0.24, "other": 0.24}
    parts = [
        (SheetPart(title, "", "", moves=True), list[Block]([Picture(share * high, lambda *_: None)]))
        for title, share in shares.items()
    ]
    drafts = packing.in_columns(parts, on, 1, flows=True)
    assert len(drafts) == pages
    moved = [title for draft in drafts for title in draft.parts] != list(shares)
    assert moved == (wholes == 5)


LIMIT, LONG_LIMIT = 0.4, 0.45
"""Of a page but the last one, that is empty at most; a quarter in most sheets. And where a table of many
cases of long names fits on a page of its own alone."""

SHEETS = [
    ("winter-press", "A4", True),
    ("header-two-pumps", "A3", False),
    *((name, paper, upright) for name in NAMES for paper in PAPERS for upright in (True, False)),
]


def _check(pages: Packed, limit: float = LIMIT, torn: tuple[str, ...] = ()) -> None:
    assert set(pages.torn) <= set(torn)
    assert (pages.alone, pages.silent, pages.over) == ((), (), 0)
    assert max(pages.empty[:-1], default=0.0) <= limit


@pytest.mark.parametrize("sheet", first(SHEETS, 2))
def test_little_is_empty_and_nothing_is_torn_that_fits(sheet: tuple[str, str, bool]) -> None:
    """Beside its alternatives and, in the thorough run, alone too."""
    name, paper, upright = sheet
    options, system = options_of(name), System(drawing(name).base.units)
    _check(packed(options, paper, system, upright=upright))


@pytest.mark.thorough
@pytest.mark.parametrize("upright", [True, False])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_nor_on_a_sheet_of_one_drawing(name: str, paper: str, *, upright: bool) -> None:
    for system in System:
        _check(packed(options_of(name, system)[:1], paper, system, upright=upright))


@cache
def _long_named(name: str, system: System) -> tuple[Option, ...]:
    read = file.parse(long_named(name), name)
    named = (("", read.base), *((title, each.layout) for title, each in read.alternatives.items()))
    return tuple(option_of(title, "", layout, Level.MINIMUM, system) for title, layout in named)


@pytest.mark.thorough
@pytest.mark.parametrize("upright", [True, False])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", COMPARED)
def test_nor_on_one_of_many_cases_and_long_names(name: str, paper: str, *, upright: bool) -> None:
    """The table of so many cases, or parts, goes on overleaf where that saves a page in the usual type."""
    for system in System:
        for options in (_long_named(name, system), _long_named(name, system)[:1]):
            _check(packed(options, paper, system, upright=upright), LONG_LIMIT, ("Every case", "Parts list"))


def test_a_picture_in_columns_takes_what_is_empty_under_them_and_nothing_changes_its_column() -> None:
    on = paper("A4", Path("sheet.pdf"))
    body = later_body(*on.size, on.dot)
    high = body.height / on.dot

    def parts(grows: float) -> list[tuple[SheetPart, list[Block]]]:
        blocks: list[Block] = [
            Picture(share * high, lambda *_: None, least=300.0, grows=each)
            for share, each in ((0.3, grows), (0.2, 1.0), (0.25, grows), (0.2, 1.0))
        ]
        return [(SheetPart("a", "", ""), blocks)]

    def columns(grows: float) -> list[list[float]]:
        (draft,) = packing.in_columns(parts(grows), on, 1, flows=True)
        ruler, (flow,) = Ruler(draft.size * on.dot), draft.columns[0]
        assert isinstance(flow, Columns)
        assert flow.height(ruler, body.width) <= body.height + ruler.dot
        return [[each.high / high for each in column if isinstance(each, Picture)]
                for column in flow.arranged(ruler, body.width)[1]]  # fmt: skip

    usual, higher, filled = columns(1.0), columns(1.5), columns(9.0)
    assert usual == [pytest.approx([0.3, 0.2]), pytest.approx([0.25, 0.2])]
    assert higher == [pytest.approx([0.45, 0.2]), pytest.approx([0.375, 0.2])]
    larger = packing.LARGER[0]  # the type of a last page that is half empty
    assert [larger * sum(column) for column in filled] == pytest.approx([1.0, 1.0], abs=0.01)


def test_the_rows_of_tables_take_what_is_empty_at_the_foot_of_a_page_but_the_last() -> None:
    """Whole ledgers on an upright page, where the next one has no room any more."""
    on = paper("A4", Path("sheet.pdf"), upright=True)
    body, ruler = later_body(*on.size, on.dot), Ruler(on.dot)
    rows = tuple(Row((f"row {each}", "1.0")) for each in range(24))
    table = Table(("Element", "Lift"), rows, frozenset((0,)), whole=True, dense=True)
    fit = int(body.height // table.height(ruler, body.width))
    high = Picture(0.9 * body.height / on.dot, lambda *_: None)
    parts = [(SheetPart("a", "", ""), list[Block]([table] * fit + [high]))]
    first, last = packing.in_columns(parts, on, 1)
    assert len(first.columns[0]) == fit
    before, after = table.height(ruler, body.width) * fit, total_height(first.columns[0], ruler, body.width)
    assert before < 0.9 * body.height
    assert after == pytest.approx(body.height, abs=on.dot) or first.columns[0][0].loose == packing.LOOSEST
    assert after > before
    loosened = packing._loosened([table], ruler, body.width, before / fit)
    assert loosened == (table,), "where the foot is full they stay as they are"
    assert not any(isinstance(each, Table) and each.loose > 1.0 for each in last.columns[0])
