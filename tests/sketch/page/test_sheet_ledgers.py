"""Every ledger on the page, with its sums and what its budget is made of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sketch.look.colours import LIGHT
from sketch.page.blocks import Paragraph
from sketch.page.columns import LeftAndRight
from sketch.page.options import option_of
from sketch.page.sheet import _sheet
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.sheet_ledgers import (
    _budget_rows,
    _budgets_heading,
    _LedgerName,
    _named,
    column_key,
    ledger_part,
    ledger_table,
)
from sketch.page.sheet_parts import SheetWish
from sketch.page.table import Table
from sketch.views import ledger_rows
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity, to_display, with_places
from tests import drawings
from tests.drawings import BENT, RISER
from tests.sketch.sheets import ALL_PARTS, NAMES, options_of, panel_of, words, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")

CARRIAGE = "carriage-at-altitude"


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_every_figure_of_the_page_is_the_ledger_s(name: str) -> None:
    """The rows of the ledger stand on the page in their order, each with its own figures."""
    judgement, text = options_of(name)[0].judgement, words(written(name, compared=True))
    assert judgement is not None
    system = System(judgement.layout.units)
    for pump in judgement.layout.pumps:
        place = judgement.worst(pump)
        assert place is not None
        solved = judgement.cases[place.case].solution
        assert solved is not None
        at = text.index(f"Ledger of {pump}")
        for row in ledger_rows.rows(solved, pump):
            if row.role == ledger_rows.Role.LINE:
                continue
            cells = [ledger_rows.text(row, column, system) for column in range(ledger_rows.ESSENTIAL)]
            said = " ".join(cell for cell in cells[2:] if cell)
            assert row.name in text[at:]
            assert _bare(said) in _bare(text[at:]), said


def test_the_budget_is_two_sums_and_their_difference() -> None:
    text = _bare(words(written(CARRIAGE)))
    at = text.index("Whatthereis")
    assert at < text.index("Sealevel29.92", at) < text.index("Whatmustremain", at)
    assert "Maker'slimit22.92" in text[at:].replace("\u2019", "'")
    assert "Inletbudget1.39whatthereislesswhatmustremain" in text[at:]


def test_a_budget_that_every_ledger_has_is_shown_without_their_names() -> None:
    text = words(written(CARRIAGE, compared=True))
    assert re.search("Inlet budget, alike in every ledger Step inHg abs Source What there is", text)


def _bare(text: str) -> str:
    """Without the spaces, which a file sets as it likes."""
    return "".join(text.split())


def test_lines_in_parallel_are_on_the_page_under_a_quiet_heading() -> None:
    solved = solve(drawings.ring())
    table = ledger_table(solved, "large", System.SI, LIGHT)
    at = next(at for at, row in enumerate(table.rows) if row.cells[0].startswith("In parallel with"))
    assert table.rows[at].quiet
    assert table.rows[at].cells[0] == "In parallel with this path, not in the sums"
    ledger = solved.pumps["large"]
    assert [row.cells[0] for row in table.rows[at + 1 : -2]] == [
        f"{entry.part}, {entry.element}" for entry in ledger.parallel_entries
    ]
    assert [row.rule for row in table.rows[-2:]] == [True, False]


def _ledgers(before: Layout, after: Layout) -> list[str]:
    """What the ledgers of two drawings beside one another are called."""
    options = [
        option_of(name, "", layout, Level.MINIMUM, System.SI)
        for name, layout in (("", before), ("Other", after))
    ]
    panels = []
    for option in options:
        place = option.worst()
        assert place is not None
        solution = option.solution(place.case)
        assert solution is not None
        panels.append(Panel(option, place, solution, None, ""))
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", tuple(panels), tuple(options))
    leads = (getattr(block, "lead", "") for block in ledger_part(sheet))
    return [lead for lead in leads if lead.startswith("Ledger of")]


def test_a_ledger_that_is_the_same_in_both_drawings_stands_once() -> None:
    layout = file.parse(RISER, "riser").base
    (pump,) = layout.pumps
    (once,) = _ledgers(layout, replace(layout, title="Other"))
    assert once.startswith(f"Ledger of {pump}, as drawn and Other, as drawn: ")
    before, after = _ledgers(layout, file.parse(BENT, "bent").base)
    assert before.startswith(f"Ledger of {pump}, as drawn: ")
    assert after.startswith(f"Ledger of {pump}, Other, as drawn: ")


def test_the_air_column_of_the_first_page_is_not_drawn_again_behind_it() -> None:
    """On a sheet of one drawing; that of any other pump stands beside its ledger."""
    option, *_ = options_of("header-two-pumps")
    panel = panel_of(option)
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", (panel,), (option,))
    blocks = list(ledger_part(sheet))
    own = next(block for block in blocks if isinstance(block, Table))
    assert own.name.startswith("Ledger of main")
    (pilot,) = (block.left[0] for block in blocks if isinstance(block, LeftAndRight))
    assert isinstance(pilot, Table)
    assert pilot.name.startswith("Ledger of pilot")
    texts = [block.text for block in blocks if isinstance(block, Paragraph)]
    assert any("The air column of main is on the first page." in text for text in texts)


def test_budgets_are_named_by_what_tells_them_apart() -> None:
    cold, warm = '"cold"', "as drawn"
    main, pilot = _LedgerName("As drawn", "main", cold), _LedgerName("As drawn", "pilot", cold)
    wider, other = _LedgerName("Wider", "main", cold), _LedgerName("Wider", "main", warm)
    assert _budgets_heading([main, wider], 1) == "Inlet budget, alike in every ledger"
    assert _named([main, wider], [main, wider]) == []
    every = [main, wider, pilot]
    assert _budgets_heading(every, 2) == 'Inlet budgets, "cold"'
    assert (_named([main, wider], every), _named([pilot], every)) == (["main"], ["pilot"])
    every = [main, other, pilot]
    assert _budgets_heading(every, 3) == "Inlet budgets"
    assert _named([main], every) == ["main, As drawn"]
    assert _named([other], every) == ["Wider"]
    assert _named([main, pilot], every) == ["As drawn"]
    assert _named([main], [main, wider]) == ["As drawn"]
    assert _named([wider], [wider, other]) == [cold]


def test_a_step_with_several_sources_names_each_by_its_figure() -> None:
    base = drawings.ring()
    low = replace(base, site=replace(base.site, weather_allowance=quantity("2 kPa", Kind.PRESSURE)))
    ledgers = [next(iter(solve(layout).pumps.values())) for layout in (base, low)]
    rows = {row.cells[0]: row.cells[-1] for row in _budget_rows(ledgers, System.SI)}
    assert rows["Weather"] == "0.00: none typed, counted as 0; \u22122.00: as typed"
    assert rows["Sea level"] == "U.S. Standard Atmosphere 1976"


def test_why_the_pressure_behind_an_element_is_no_running_sum_is_said_once_and_so() -> None:
    assert words(written("header-two-pumps", compared=True)).count("so it is no running sum of them") == 1
    solved = solve(file.parse(BENT, "bent").base)
    (ledger,) = solved.pumps.values()
    apart = []
    spent = 0.0
    for entry in ledger.entries:
        spent += entry.lift + entry.loss
        apart.append(abs(ledger.surface - spent - entry.pressure))
    assert max(apart) > 50.0  # of the velocity head, and of the depth under the level
    assert apart[-1] < 0.01


@pytest.mark.parametrize("compared", [False, True])
def test_what_a_pump_needs_at_its_port_has_one_name_on_the_whole_sheet(*, compared: bool) -> None:
    """In its ledgers, its profile, beside its air columns and in the working; a floor is one of a tank."""
    text = words(written(CARRIAGE, compared=compared, parts=ALL_PARTS if compared else frozenset()))
    assert "floor" not in text.replace("p_floor", "").casefold()
    assert "below the least inlet pressure" in text
    assert "Least inlet pressure 22.92 inHg abs" in text
    if compared:
        assert "least inlet pressure p_floor" in text.replace("\N{NO-BREAK SPACE}", " ")
    else:
        assert "least inlet 22.92 inHg abs" in text


def test_patterns_of_air_columns_are_explained_where_there_are_any() -> None:
    plain, over = (
        solve(drawings.twins("24 kPa", flow)).pumps["press"] for flow in ("100 L/min", "400 L/min")
    )
    assert column_key([plain]) == ""
    assert column_key([over]) == " Crossed, what is over budget."
    flooded = solve(file.read(drawings.SHIPPED[0].parent / "header-two-pumps.toml").base).pumps["pilot"]
    assert column_key([plain, flooded]) == " Hatched, what is given back."
    high = replace(over, budget=-1e3)
    assert "between red dashes, what the air lacks" in column_key([plain, high]).lower()


def test_where_readings_carry_the_headline_their_ledger_stands_first_and_ends_at_its_margin() -> None:
    """A client pays for what the gauge tells of the line now: its figures must be found behind page 1."""
    drawn = _sheet(options_of("strainer-over-a-year")[:1], SheetWish(), Level.MINIMUM, System.SI)
    read = drawn.panels[0].read_place(System.SI)
    assert read is not None
    leads = [each.lead for each in ledger_part(drawn) if isinstance(each, Paragraph)]
    ledgers = [lead for lead in leads if lead.startswith("Ledger of feed")]
    assert ledgers[0].startswith('Ledger of feed as read, "cold morning", with 83 % of strainer blocked')
    tables = [each for each in ledger_part(drawn) if isinstance(each, Table)]
    (margin,) = [row.cells for row in tables[0].rows if row.cells[0].startswith("Margin")]
    assert with_places(to_display(read.ledger.margin, Kind.VACUUM, System.SI), 2) in margin
    (texts,) = [each.text for each in ledger_part(drawn)
                if isinstance(each, Paragraph) and each.text.startswith("Air columns of feed")]  # fmt: skip
    assert "cold morning" in texts


def test_the_rounding_of_a_sheet_is_explained_where_two_of_its_ledgers_differ_by_it() -> None:
    told = "Each ledger adds up as shown: what is alike in two of them may differ by 0.01."
    assert words(written("over-the-bund-wall", compared=True)).count(told) == 1
