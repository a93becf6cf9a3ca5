"""Every alternative in every case on the page, each margin the ledger's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.look.colours import LIGHT
from sketch.page.blocks import Paragraph
from sketch.page.options import Option, option_of
from sketch.page.sheet import _sheet
from sketch.page.sheet_cases import (
    DAGGER,
    NOT_FIT,
    after_other_conditions,
    case_blocks,
    of_one_file,
    unchanged_there,
)
from sketch.page.sheet_changes import figure, margin_gain
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_parts import SheetWish
from sketch.page.table import Table
from solver.findings.outlook import outlook
from solver.layout.file import parse
from solver.layout.parts import Case, Level
from solver.quantities.units import MINUS, Kind, System, quantity
from tests.drawings import SHIPPED
from tests.sketch.sheets import options_of, pages, panel_of, words, written
from tests.solver.checking import lifted
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("name", first(["winter-press", "header-two-pumps"]))
def test_every_margin_of_every_case_is_the_ledger_s(name: str) -> None:
    page = next(page for page in pages(written(name, compared=True)) if "Margin in inHg" in page)
    options = options_of(name)
    for option in options:
        judgement = option.judgement
        assert judgement is not None
        assert outlook(judgement, System.US).headline in page
        for case, solved in judgement.cases.items():
            assert case in page
            assert solved.solution is not None
            for ledger in solved.solution.pumps.values():
                assert figure(ledger.margin, System.US) in page
    if name == "header-two-pumps":
        assert (
            page.count("at rest") == 6
        )  # each pump alone, as drawn and with the larger header, and in words


def test_a_strainer_read_as_blocked_is_said_not_to_be_so_beside_its_alternatives() -> None:
    """The first page has it over as read."""
    options = options_of("strainer-over-a-year")
    sheet = _sheet(options, SheetWish(), Level.MINIMUM, System.SI)
    summary = next(block for block in case_blocks(sheet) if isinstance(block, Table))
    drawn, twice = (row.cells[1] for row in summary.rows)
    assert drawn.endswith(", strainer as drawn, not as read")
    assert "read" not in twice


def test_the_line_as_read_has_a_row_among_the_cases() -> None:
    """What the first page says of it stood nowhere behind it."""
    sheet = _sheet(options_of("strainer-over-a-year"), SheetWish(), Level.MINIMUM, System.SI)
    (table,) = (each for each in case_blocks(sheet) if isinstance(each, Table) and each.headings[0] == "Case")
    (row,) = (each for each in table.rows if each.cells[0].startswith("as read"))
    assert sheet.as_read is not None
    assert sheet.as_read.far is not None
    margin = figure(sheet.as_read.far.ledger.margin, System.SI)
    assert row.cells == ('as read, "cold morning"', "feed", margin, "\N{EN DASH}")
    plain = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.US)
    tables = (each for each in case_blocks(plain) if isinstance(each, Table))
    assert not any("as read" in str(row.cells) for each in tables for row in each.rows)


def test_what_an_alternative_has_otherwise_stands_with_its_note() -> None:
    text = words(written("winter-press", compared=True))
    assert "Tank heater to 10 °C changes: fluid: temperature 50.0 °F instead of 14.0 °F" in text
    assert "The same oil, warmed in the tank before the start, and not yet in the hose." in text


def test_a_case_that_is_warmer_in_an_alternative_has_its_temperature_beside_its_margin() -> None:
    name = "winter-press"
    page = next(page for page in pages(written(name, compared=True)) if "Margin in inHg" in page)
    base, _, heated = (option.worst() for option in options_of(name))
    assert base is not None
    assert heated is not None
    assert f"{figure(heated.ledger.margin, System.US)} at 50" in page
    assert f"{figure(base.ledger.margin, System.US)} at" not in page


def test_every_case_says_what_holds_in_it() -> None:
    text = words(written("winter-press", compared=True))
    assert "As drawn: fluid at 14 °F, every reservoir at its minimum level, 6.15 gpm into press" in text
    assert "Strainer due: fluid at 104 °F, strainer 60 % blocked. The last bales before" in text
    assert text.count("Strainer due:") == 1  # alike in every alternative
    assert "Hottest hour: fluid at 140 °F, 0.5 inHg off the air for a low-pressure day. August" in text


def test_why_an_alternative_buys_nothing_and_what_else_it_differs_by() -> None:
    """In the storm the fluid is what the case says, so that an alternative with warmer oil changes "
    "nothing."""
    layout = lifted()
    storm = Case({}, {("fluid", "temperature"): quantity("15 degC", Kind.TEMPERATURE)})
    drawn = replace(layout, cases={"cold": storm})
    warm = replace(drawn, fluid=replace(layout.fluid, temperature=quantity("60 degC", Kind.TEMPERATURE)))
    wider = replace(lifted(bore=0.06), cases={"cold": storm})
    cold = replace(
        lifted(bore=0.045), fluid=replace(layout.fluid, temperature=quantity("20 degC", Kind.TEMPERATURE))
    )
    base, *others = (
        option_of(name, "", each, Level.MINIMUM, System.SI)
        for name, each in (("", drawn), ("Warm", warm), ("Wider", wider))
    )
    sheet = Sheet(
        "", System.SI, Level.MINIMUM, LIGHT, "", (panel_of(base), panel_of(others[1])), (base, *others)
    )
    assert [bool(unchanged_there(sheet, each)) for each in sheet.options] == [False, True, False]
    assert after_other_conditions(sheet) == ""
    (summary,) = (
        each for each in case_blocks(sheet) if isinstance(each, Table) and each.headings[0] == "Drawing"
    )
    assert [row.cells[1].endswith(", where it changes nothing") for row in summary.rows] == [
        False,
        True,
        False,
    ]
    first_one, colder = (
        option_of(n, "", each, Level.MINIMUM, System.SI) for n, each in (("", layout), ("Cold", cold))
    )
    other = replace(sheet, panels=(panel_of(first_one), panel_of(colder)), options=(first_one, colder))
    assert after_other_conditions(other).startswith(
        " After it the conditions are others too: the fluid at 20 °C in "
    )


def test_alternatives_that_one_of_two_files_has_are_named_with_it() -> None:
    other = Option("b.toml", "", None, file="b.toml", file_alternatives=("Both", "New"))
    own = (Option("", "", None), Option("Both", "", None), Option("Old", "", None))
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", (), (*own, other), file="a.toml")
    assert of_one_file(sheet, other) == (
        ', not their alternatives; only a.toml has "Old"; only b.toml has "New"'
    )
    assert not of_one_file(replace(sheet, options=(own[0], other)), replace(other, file_alternatives=()))


def test_a_pump_that_is_within_and_must_not_run_so_says_so_beside_its_margin() -> None:
    """Terminal and window call it not fit to run; the figure alone reads as well within."""
    drawn, *_ = options_of("header-two-pumps")
    sheet = _sheet((drawn,), SheetWish(compare=()), Level.MINIMUM, System.US)
    blocks = list(case_blocks(sheet))
    (table,) = (each for each in blocks if isinstance(each, Table))
    cells = {(row.cells[1], row.cells[2]) for row in table.rows}
    assert any(pump == "pilot" and text.endswith(f", {NOT_FIT}") for pump, text in cells)
    assert not any(pump == "main" and text.startswith(MINUS) and NOT_FIT in text for pump, text in cells)
    texts = [each.text for each in blocks if isinstance(each, Paragraph)]
    assert any(f'Why a pump is {NOT_FIT} stands under "Findings"' in text for text in texts)


def test_beside_many_drawings_a_mark_says_so_that_takes_no_room() -> None:
    """In words the last columns of six ran over the edge of upright paper."""
    drawn, *_ = options_of("header-two-pumps")
    sheet = _sheet((drawn,), SheetWish(compare=()), Level.MINIMUM, System.US)
    many = replace(sheet, options=(drawn, *(replace(drawn, name=f"copy {each}") for each in range(4))))
    blocks = list(case_blocks(many))
    *_, table = (each for each in blocks if isinstance(each, Table))
    cells = [text for row in table.rows if row.cells[1] == "pilot" for text in row.cells[2:]]
    assert any(text.endswith(f" {DAGGER}") for text in cells)
    assert not any(NOT_FIT in text for text in cells)
    texts = [each.text for each in blocks if isinstance(each, Paragraph)]
    assert any(f"a pump marked {DAGGER} is {NOT_FIT}" in text for text in texts)


def test_what_an_alternative_buys_is_of_one_pump_which_is_named_where_another_stands_worst_in_it() -> None:
    drawn, *_ = options_of("header-two-pumps")
    text = next(each for each in SHIPPED if each.stem == "header-two-pumps").read_text()
    text = text.partition("\n[alternatives")[0].replace("NPS 2 schedule", "NPS 3 schedule")
    leg = text.index('[runs."pilot leg"]')
    wide = parse(text[:leg] + text[leg:].replace("NPS 1-1/2 schedule", "NPS 1-1/4 schedule", 1)).base
    other = option_of("B", "", wide, Level.MINIMUM, System.US)
    worst = other.worst()
    assert worst is not None
    assert (drawn.judgement.worst().pump, worst.pump) == ("main", "pilot")
    sheet = _sheet([drawn, other], SheetWish(), Level.MINIMUM, System.US)
    summary = next(block for block in case_blocks(sheet) if isinstance(block, Table))
    buys = margin_gain(drawn.worst("main").ledger, other.worst("main").ledger, System.US)
    assert [row.cells[3] for row in summary.rows] == ["", f"{buys} (main)"]
