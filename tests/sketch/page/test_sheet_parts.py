"""The parts behind the first page: a table of names, read without Qt, whose functions are there."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module

import pytest

from sketch.page import sheet as client_sheet
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.paper import MILLIMETRES
from sketch.page.sheet_first import TELLINGS, first_pages
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_parts import OPTIONAL, PAPERS, SHEET_PARTS, SheetWish, parts_of
from sketch.page.table import Table
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import NAMES, drawing, options_of
from tests.thorough import first


@pytest.mark.parametrize("name", SHEET_PARTS)
def test_what_makes_a_part_is_there(name: str) -> None:
    module, _, function = SHEET_PARTS[name].blocks.partition(":")
    assert callable(getattr(import_module(module), function))


def test_optional_parts_stand_in_their_place_only_where_they_are_wanted() -> None:
    usual = parts_of(frozenset())
    assert not any(part.optional for part in usual)
    in_short = SHEET_PARTS["readings in short"]
    assert in_short in usual
    everything = parts_of(frozenset(OPTIONAL))
    assert everything == tuple(part for part in SHEET_PARTS.values() if part is not in_short)
    with pytest.raises(ValueError, match="working"):
        parts_of(frozenset(["weather"]))


def test_papers_are_those_that_can_be_written() -> None:
    assert set(PAPERS) == set(MILLIMETRES)


def test_the_table_is_read_without_qt() -> None:
    code = "import sys, sketch.page.sheet_parts; assert not any(m.startswith('PySide6') for m in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)


OF_THE_OTHER = {
    System.SI: r"\d\s?(?:in|ft|inHg|psi|gal|gpm|lbf|lb/ft³|ft/s|in²|ft²|in³)(?!\w)|°F|inHg",
    System.US: (
        r"\d\s?(?:mm|cm|m|km|kPa|Pa|bar|L|L/min|m³/h|kg/m³|kg/L|m/s|mm²|cm²|mm²/s|kN|cm³)(?![\w²³/])|°C|kPa"
    ),
}
"""What stands on no sheet of a system: units of the other one."""

AS_TYPED = r"\(typed as [^)]*\)"
"""What is quoted: how a limit is typed, in the maker's own units."""

IN_SI = ("working",)
"""Parts whose formulas are in SI whatever the units, as they say."""


def words_of(block: Block) -> Iterator[str]:
    if isinstance(block, Paragraph):
        yield f"{block.lead} {block.text}"
    elif isinstance(block, Heading):
        yield block.text
    elif isinstance(block, Columns):
        for each in block.blocks:
            yield from words_of(each)
    elif isinstance(block, Table):
        yield from block.headings
        for row in block.rows:
            yield from row.cells


def words_of_the_drawing(name: str) -> list[str]:
    """Names, notes and their sentences that are the drawing's own, the longest first."""
    read = drawing(name)
    layouts = [read.base, *(each.layout for each in read.alternatives.values())]
    every = [*read.alternatives, *(each.note for each in read.alternatives.values())]
    every += [text for each in layouts for text in (each.title, *each.notes.split("\n\n"), *each.cases)]
    every += [case.note for each in layouts for case in each.cases.values()]
    every += [reading.note for each in layouts for reading in each.readings]
    every += [sentence for text in every for sentence in " ".join(text.split()).split(". ")]
    return sorted(
        {" ".join(text.split()).rstrip(".") for text in every if text.strip()}, key=len, reverse=True
    )


def blocks_of(sheet: Sheet) -> Iterator[Block]:
    """Of the first page as it is where room is not short, and of every part behind it."""
    yield from next(first_pages(sheet, TELLINGS[0]))
    for name, part in SHEET_PARTS.items():
        if name not in IN_SI:
            module, _, function = part.blocks.partition(":")
            yield from getattr(import_module(module), function)(sheet)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", first(NAMES))
def test_nothing_on_a_sheet_is_in_the_other_units(name: str, system: System, qapp: object) -> None:
    """But names and notes, which are the drawing's own, and what is said to be as typed."""
    options = options_of(name, system)
    sheet = client_sheet._sheet(options, SheetWish(), Level.MINIMUM, system)
    own, texts = words_of_the_drawing(name), [text for each in blocks_of(sheet) for text in words_of(each)]
    assert len(texts) > 100
    for text in texts:
        left = re.sub(AS_TYPED, "", " ".join(text.split()))
        for each in own:
            left = left.replace(each, "")
        assert not re.search(OF_THE_OTHER[system], left), left


def test_what_begins_a_page_of_its_own_stands_behind_all_that_follow_one_another() -> None:
    """Or the last page of each run before it would be left half empty."""
    own = [part.own_page or part.columns > 1 for part in SHEET_PARTS.values()]
    assert own == sorted(own)
