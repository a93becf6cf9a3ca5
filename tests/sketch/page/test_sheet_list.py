"""The parts list on the page: the drawing and the alternative beside it, then what the others change."""

from __future__ import annotations

import re

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Paragraph
from sketch.page.sheet import _sheet
from sketch.page.sheet_list import _table, items_of, list_part
from sketch.page.sheet_parts import SheetWish
from sketch.page.table import Table
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import options_of, words, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_every_item_of_the_drawing_stands_in_the_table_with_its_size() -> None:
    text = words(written("winter-press", compared=True))
    text = text[text.index("Parts list Pipe along") :]
    items = items_of(options_of("winter-press")[0])
    assert items
    for item in items:
        what = f"{item.what[0].upper()}{item.what[1:]}"
        assert f"{what} {item.size_in(System.US)} {item.amount_in(System.US)}" in text


def test_what_an_alternative_alone_has_stands_in_its_group() -> None:
    before, after = options_of("carriage-at-altitude")[:2]  # the wider line alone has changes of bore
    table = _table([(option, items_of(option)) for option in (before, after)], System.US)
    items = [row.cells[0] for row in table.rows]
    added = next(at for at, each in enumerate(items) if each.startswith("Bore change"))
    assert (
        items.index("Flexible connector") - 2
        < added
        < next(at for at, each in enumerate(items) if each.startswith("Vane pump"))
    )


def test_an_alternative_that_adds_no_part_names_what_is_to_be_provided() -> None:
    """A heater stands in no list of parts of the line; a wider line has nothing of the kind said of it."""
    before, _, warmed = options_of("winter-press")
    sheet = _sheet((before, warmed), SheetWish(), Level.MINIMUM, System.US)
    text = f"{warmed.title} adds no part of the line and takes none away; to be provided: a heater that holds"
    assert any(isinstance(each, Paragraph) and each.text.startswith(text) for each in list_part(sheet))
    sheet = _sheet(options_of("carriage-at-altitude")[:2], SheetWish(), Level.MINIMUM, System.US)
    assert not any(isinstance(each, Paragraph) and "adds no part" in each.text for each in list_part(sheet))


@pytest.mark.thorough
def test_no_line_ends_within_a_size() -> None:
    sheet = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.US)
    (table,) = (block for block in list_part(sheet) if isinstance(block, Table))
    ruler = Ruler()
    for width in (330.0, 440.0, 500.0):
        widths = table._widths(ruler, width)
        lines = [table._lines(ruler, row, 1, widths) for row in table.rows]
        assert all(not re.search("NPS$|schedule$|^schedule", line) for each in lines for line in each)
        assert {2} <= {len(each) for each in lines}, "what leads from one size to another is broken there"


@pytest.mark.thorough
def test_every_item_stands_in_the_table_with_its_amount_before_and_after() -> None:
    text = words(written("header-two-pumps", compared=True))
    text = text[text.index("Parts list Pipe along") :]
    base, alone, larger = options_of("header-two-pumps")
    after = {item.key: item for item in items_of(larger)}
    for item in items_of(base):
        then = after.get(item.key)
        amount = "\N{EN DASH}" if then is None else then.amount_in(System.US)
        what = f"{item.what[0].upper()}{item.what[1:]}"
        assert f"{what} {item.size_in(System.US)} {item.amount_in(System.US)} {amount}" in text
    assert f"{alone.title} takes away: 0.50 ft of commercial steel NPS 2 schedule 40" in text
