"""The first page is enough to decide on: what it says is what the ledgers say."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sketch.drawing.pencil import Ruler
from sketch.look.colours import LIGHT
from sketch.page.blocks import Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.options import option_of
from sketch.page.paper import paper
from sketch.page.sheet import _dressed, _first_folio, _kept_blocks, _listed, _settled, _sheet, write_sheet
from sketch.page.sheet_advice import advice, work
from sketch.page.sheet_band import GUTTER, Room, set_band
from sketch.page.sheet_changes import figure, margin_gain
from sketch.page.sheet_first import (
    ENDED,
    NO_ROOM,
    NOTHING_BUILT,
    TELLINGS,
    _where,
    bought,
    cautions_of_built,
    first_pages,
)
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_halves import SHORT
from sketch.page.sheet_pages import text_of_first
from sketch.page.sheet_panels import key_figures
from sketch.page.sheet_parts import PAPERS, SheetWish, parts_of
from sketch.page.sheet_text import CAUTIONS
from sketch.page.table import Table
from solver.__main__ import main
from solver.field.as_read import as_read
from solver.findings.outlook import outlook
from solver.layout import file
from solver.layout.differences import differences
from solver.layout.parts import Level
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.sentences import at_port, brief
from solver.quantities.units import Kind, System, quantity
from solver.quantities.wording import ESTIMATED
from solver.report.cautions import cautions
from tests.drawings import RISER
from tests.sketch.sheets import DAY, EXAMPLES, NAMES, drawing, options_of, pages, panel_of, written
from tests.solver.checking import lifted
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_verdict_change_and_gain_stand_on_it_alike(name: str) -> None:
    first, *_ = pages(written(name, compared=True))
    options = options_of(name)
    base = options[0]
    assert base.judgement is not None
    headline = outlook(base.judgement, System(drawing(name).base.units)).headline
    assert headline[1:] in first, "its first letter is small where what was read comes before it"
    for expected in ("Recommendation", "What it is based on", CAUTIONS[0].partition(". ")[0]):
        assert expected in first
    if len(options) > 1:
        best = max(options[1:], key=lambda option: option.order)
        _says_what_it_buys(first, base, best, System(drawing(name).base.units))


def _says_what_it_buys(first: str, base, best, system: System) -> None:
    assert f"What changes: {best.name}" in first
    assert outlook(best.judgement, system).headline in first
    read = as_read(base.judgement.layout)
    worst = base.worst() if read is None else read.far
    assert worst is not None
    after = (best if read is None else base).ledger(worst.pump, worst.case)  # cleaned, where that is enough
    assert after is not None
    gained = margin_gain(worst.ledger, after, system)
    was, then = (figure(each, system) for each in (worst.ledger.margin, after.margin))
    assert f"Margin {was} {then} {gained}" in first
    assert f"Inlet budget {in_writing(RoundedLedger(worst.ledger, system).budget)}" in first


def _own_units_first(name: str) -> list[System]:
    return sorted(System, key=lambda each: each != drawing(name).base.units)


SHOWN = [(name, each) for name in NAMES for each in _own_units_first(name)]


@pytest.mark.parametrize("shown", first(SHOWN))
def test_what_the_terminal_tells_of_the_worst_case_stands_on_it(
    shown: tuple[str, System], capsys: pytest.CaptureFixture[str]
) -> None:
    """Read from what is printed: the verdicts of the drawing and of its best alternative, and the figures;
    those of the other alternatives stand behind it."""
    name, system = shown
    page, *behind = pages(written(name, compared=True, system=system))
    main([str(EXAMPLES / f"{name}.toml"), "--units", "si" if system is System.SI else "us"])
    printed = capsys.readouterr().out.replace("\n    ", " ")
    base, *others = options_of(name, system)
    worst = base.worst()
    assert worst is not None
    verdict = re.search(rf"^{worst.pump}(?:, as drawn)?: (.+)$", printed, re.M)
    assert verdict is not None
    verdicts = (verdict[1], verdict[1][:1].lower() + verdict[1][1:])  # after a pump's name
    assert any(each in page for each in verdicts)
    case = re.search(rf"^  {worst.case}: {worst.pump}, (.+)$", printed, re.M)
    assert base.judgement is not None
    assert (case is not None) == (len(base.judgement.cases) > 1)
    told = r"over by (\S+ \S+) \((\S+ \S+) of vacuum at the port, (\S+ \S+) allowed"
    over = re.match(told, case[1]) if case is not None else None
    if over is not None:
        margin, port, allowed = over.groups()
        for figures in (f"\N{MINUS SIGN}{margin}", f"{port} vac.", f"{allowed} vac."):
            assert figures in page
    if others:
        best = max(others, key=lambda option: option.order)
        after = re.search(rf"^  {re.escape(best.name)}: (.+)$", printed, re.M)
        assert after is not None
        assert after[1] in page
        for other in others:
            verdict = re.search(rf"^  {re.escape(other.name)}: (.+)$", printed, re.M)
            assert verdict is not None
            assert verdict[1] in " ".join([page, *behind])


@pytest.mark.parametrize("system", first(System))
@pytest.mark.parametrize(
    "name",
    [
        pytest.param(each, marks=() if each == "over-the-bund-wall" else pytest.mark.thorough)
        for each in NAMES
    ],
)
def test_a_page_by_itself_has_the_whole_order_of_work(name: str, system: System) -> None:
    """There is no page behind it that has the rest, and whoever decides reads this one."""
    for size in ("A4", "Letter"):
        (page,) = pages(written(name, paper=size, system=system, compared=True, pages=1))
        assert "There is more" not in page
        assert "Read a " in page or "Order of work" not in page


def test_what_remains_says_that_the_order_of_work_ends_it() -> None:
    """A caution stood beside an order after which nothing is left to be cleared."""
    first, *_ = pages(written("header-two-pumps", compared=True))
    assert f"over the usual 3.94 ft/s (in 3 of 4 cases){ENDED}." in first
    assert "nothing is left to be cleared" in first
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.US)
    text = " ".join(
        each.text for each in next(first_pages(sheet, TELLINGS[0])) if isinstance(each, Paragraph)
    )
    assert ENDED not in text, "nothing is ordered besides"


@pytest.mark.thorough
def test_of_two_pumps_the_one_that_is_shown_is_named() -> None:
    first, *_ = pages(written("header-two-pumps", compared=True, pages=1))
    assert "Shown: main, as drawn" in first


def test_pump_and_case_are_named() -> None:
    press, *_ = pages(written("winter-press", compared=True))
    assert 'Shown: press, "first stroke"' in press
    assert 'For press, "first stroke", the worst case as it is now' in press


@pytest.mark.thorough
def test_no_case_but_the_worst_is_called_so() -> None:
    """Its table stands under the headline: a mild case asked for must not pass for the one that decides."""
    first, *_ = pages(written("winter-press", compared=True, case="hottest hour", pages=1))
    assert 'For press, "hottest hour", the case asked for, which is not the worst' in first


def test_an_estimated_limit_is_asked_for_before_anything_is_built() -> None:
    first, *_ = pages(written("winter-press", compared=True))
    order = first[first.index("Order of work") :]
    assert order.index("Ask the maker") < order.index("Provide and keep up: High-VI oil, ISO VG 32")
    assert "of press at 1450 rpm (estimated here)" in order
    assert first.count("estimate") == first.count("limit estimated") + 1, "said once besides its verdicts"


@pytest.mark.thorough
def test_without_a_budget_there_is_one_shortfall_and_no_empty_key(tmp_path) -> None:
    layout = drawing("carriage-at-altitude").base
    site = replace(layout.site, elevation=_metres("5200 m"))
    options = [option_of("", "", replace(layout, site=site), Level.MINIMUM, System.SI)]
    write_sheet(options, tmp_path / "sheet.pdf", SheetWish(pages=1), system=System.SI)
    (first,) = pages(tmp_path / "sheet.pdf")
    assert "No lift works here" in first
    assert "share of the inlet budget" not in first


def _metres(text: str):
    from solver.quantities.units import Kind, quantity

    return quantity(text, Kind.ELEVATION)


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_the_colours_are_explained_once(name: str) -> None:
    first, *_ = pages(written(name, compared=True))
    assert first.count("share of the inlet budget") == 1
    assert first.count("over budget") == 1


def test_of_two_pumps_it_is_said_whose_shares_are_shown() -> None:
    """A tee's 11 % stood beside the leg of the other pump."""
    named = {"header-two-pumps": " of main", "winter-press": ""}
    for name, whose in named.items():
        first, *_ = pages(written(name, compared=True))
        assert ("share of the inlet budget of" in first) == bool(whose)
        assert f"share of the inlet budget{whose}" in first


def test_one_page_alone_has_every_change_the_table_and_the_cautions_of_the_change() -> None:
    (page,) = pages(written("carriage-at-altitude", compared=True, pages=1))
    base, *others = options_of("carriage-at-altitude")
    best = max(others, key=lambda option: option.order)
    assert base.judgement is not None
    assert best.judgement is not None
    for change in differences(base.judgement.layout, best.judgement.layout):
        assert change in page
    assert "Margin −1.77" in page
    assert "page 2" not in page
    assert f'Build "{best.name}".' in page
    for caution in (
        "Taken out: strainer.",
        "Lock open or interlock isolator:",
        "For work: up to",
    ):
        assert caution in page


def test_where_cleaning_is_enough_the_bars_show_what_it_buys_and_the_alternative_is_a_choice() -> None:
    sheet = _sheet(options_of("strainer-over-a-year"), SheetWish(), Level.MINIMUM, System.SI)
    blocks = list(bought(sheet, TELLINGS[0]))
    assert isinstance(blocks[0], Heading)
    assert blocks[0].text == "What cleaning buys"
    (table,) = (each for each in blocks if isinstance(each, Table))
    assert table.rows[-1].cells[:4] == ("Margin", "−7.57", "6.91", "14.48")
    assert blocks[-1] is table, "what the choice leaves more stands where that is advised on"
    assert [sheet.heading(each) for each in sheet.panels] == [
        "The drawing itself",
        "Twice the strainer: a choice, for cleaning alone is enough",
    ]
    drawn, *_ = options_of("strainer-over-a-year")
    same = replace(drawn, name="same.toml", file="same.toml")
    alike = _sheet((drawn, same), SheetWish(), Level.MINIMUM, System.SI)
    assert [alike.heading(each) for each in alike.panels] == ["The drawing itself", "same.toml"], "no choice"
    alone = list(bought(replace(sheet, panels=sheet.panels[:1]), TELLINGS[0]))
    assert not any(isinstance(each, Table) for each in alone), "its drawing needs the room"
    assert any(isinstance(each, Paragraph) and "buys 14.48 kPa" in each.text for each in alone)


def test_what_is_left_and_the_order_of_work_say_of_which_drawing_they_are() -> None:
    """The better file first: stops of the other one stood over "No check found anything else"."""
    drawn, oil, _ = options_of("winter-press")
    better = replace(oil, name="")
    worse = replace(drawn, name="worse.toml", file="worse.toml")
    sheet = _sheet((better, worse), SheetWish(), Level.MINIMUM, System.US)
    assert sheet.built is sheet.panels[0]
    leads = [each.text for each in next(first_pages(sheet, TELLINGS[0])) if isinstance(each, Heading)]
    assert "What remains with worse.toml" in leads
    assert "Order of work for the drawing itself" in leads
    usual = _sheet((drawn, oil), SheetWish(), Level.MINIMUM, System.US)
    leads = [each.text for each in next(first_pages(usual, TELLINGS[0])) if isinstance(each, Heading)]
    assert {"What remains", "Order of work"} < set(leads)


def test_half_a_page_says_shortly_that_no_height_of_the_port_will_do() -> None:
    page, *_ = pages(written("winter-press", compared=True))
    assert "Highest port" in page
    assert "no height will do" in page


def test_the_table_of_what_it_buys_stands_where_the_drawing_is_the_largest() -> None:
    wider = '\n[alternatives.wider]\nruns.riser.bore = "66 mm"\n'
    primes = RISER.replace('type = "vane"', 'type = "vane"\ndry_lift = "1 m"')
    read = file.parse(f"{primes}{wider}", "riser")
    named = (("", read.base), *((name, each.layout) for name, each in read.alternatives.items()))
    options = [option_of(name, "", layout, Level.MINIMUM, System.SI) for name, layout in named]
    sheet, ruler = _sheet(options, SheetWish(), Level.MINIMUM, System.SI), Ruler()
    orders = list(first_pages(sheet, TELLINGS[0]))
    tables = [next(at for at, block in enumerate(blocks) if isinstance(block, Table)) for blocks in orders]
    assert len(set(tables)) == len(orders) > 1
    assert len({len(blocks) for blocks in orders}) == 1
    heights = [Columns(blocks, 3, GUTTER).arranged(ruler, A4_ACROSS)[0] for blocks in orders]
    band = set_band(ruler, sheet, Room(A4_ACROSS, 920.0, 1000.0, 3, lambda text: 1.0 / text))
    assert band.high == min(heights) < max(heights)


A4_ACROSS = 1047.0


SHORT_OF_ROOM_FIRST = sorted(SHOWN, key=lambda each: each[0] != "strainer-over-a-year")


@cache
def _kept(shown: tuple[str, System]) -> tuple[Sheet, Callable[..., Any]]:
    """A sheet for every paper, with the blocks of its parts."""
    name, system = shown
    sheet = _sheet(options_of(name, system), SheetWish(), Level.MINIMUM, system)
    return _dressed(sheet, LIGHT, DAY, EXAMPLES / f"{name}.toml"), _kept_blocks()


@pytest.mark.parametrize("upright", first((False, True)))
@pytest.mark.parametrize("size", first(PAPERS))
@pytest.mark.parametrize("shown", first(SHORT_OF_ROOM_FIRST))
def test_what_it_buys_stands_as_bars(shown: tuple[str, System], size: str, upright: bool) -> None:
    """On three of them it was a line of words where room was short, and bars are what is seen first."""
    sheet, blocks_of = _kept(shown)
    on = paper(size, Path("sheet.pdf"), upright=upright)
    page, drafts = _settled(sheet, on, parts_of(frozenset()), 0, blocks_of)
    text = text_of_first(page, _listed(page, drafts), _first_folio(page, drafts), on)
    (table,) = (block for block in text if isinstance(block, Table))
    assert table.bar >= 0
    margin = next(row for row in table.rows if row.cells[0] == "Margin")
    assert margin.bar or margin.cells[3] == "0.00", "of a mild case nothing is bought"


def test_an_alternative_that_is_not_drawn_on_it_is_named_with_its_worst_case() -> None:
    page, *_ = pages(written("winter-press", compared=True))
    others = options_of("winter-press")[1:]
    (option,) = (each for each in others if f"What changes: {each.name}" not in page)
    worst = option.worst()
    assert worst is not None
    also = page.partition("Also judged:")[2][:300]
    assert option.name in also
    assert brief(worst.ledger, System.US).replace(ESTIMATED, ", limit estimated") in also


def test_cautions_are_of_what_is_recommended() -> None:
    """A pump in a pit is flooded: what would run out of it is a caution where the pit is built, and where the
    pump stands there already."""
    drawn, hot, pit = options_of("wash-water-npsh")
    for options, built in (((drawn, hot, pit), pit), ((replace(pit, name=""), replace(hot, name="up")), pit)):
        sheet = _sheet(options, SheetWish(), Level.MINIMUM, System.SI)
        assert sheet.built.judgement.layout == built.judgement.layout
        text = " ".join(block.text for block in cautions_of_built(sheet, 6) if isinstance(block, Paragraph))
        assert "For work: up to" in text
    sheet = _sheet((drawn, hot), SheetWish(), Level.MINIMUM, System.SI)
    assert sheet.built is sheet.panels[0]
    text = " ".join(block.text for block in cautions_of_built(sheet, 6) if isinstance(block, Paragraph))
    assert text == " ".join(cautions(sheet.drawn.judgement, None, System.SI))
    assert "For work: up to" not in text


def test_an_alternative_for_another_fluid_is_ordered_with_its_own_figures() -> None:
    """Hotter water leaves less of the same margin: the pit is built for it, and its gauge is read."""
    sheet = _sheet(options_of("wash-water-npsh"), SheetWish(), Level.MINIMUM, System.SI)
    advised, order = (
        " ".join(block.text for block in blocks if isinstance(block, Paragraph))
        for blocks in (advice(sheet, 6), work(sheet, 6))
    )
    assert "For other conditions (the fluid at 80 °C in place of 60 °C) build" in advised
    assert 'Its note: "The pump below the minimum level beside the sump' in advised
    worst = sheet.chosen.place.ledger
    assert f"Expected: wash {at_port(worst, System.SI)[0]}" in order
    assert "where this is wanted: the fluid at 80 °C in place of 60 °C" in order
    assert "heater" not in order


@pytest.mark.parametrize(
    ("end", "pages"), [(3, ", page 3"), (4, ", pages 3 and 4"), (6, ", pages 3 to 6"), (0, NO_ROOM)]
)
def test_what_is_left_to_a_part_behind_may_stand_on_any_of_its_pages(end: int, pages: str) -> None:
    sheet = _sheet(options_of("winter-press")[:1], SheetWish(), Level.MINIMUM, System.SI)
    placed = replace(sheet, behind={"Findings": 3}, ends={"Findings": end}) if end else sheet
    assert _where(placed, "findings") == pages


@pytest.mark.parametrize(("bore", "built"), [(0.05, False), (0.06, True)])
def test_an_alternative_of_which_nothing_is_built_says_why_the_drawings_are_alike(
    bore: float, built: bool
) -> None:
    colder = replace(lifted(bore=bore), fluid=replace(lifted().fluid, coldest_start=None))
    mild = replace(colder, site=replace(colder.site, elevation=quantity("-300 m", Kind.ELEVATION)))
    options = tuple(
        option_of(name, "", each, Level.MINIMUM, System.SI)
        for name, each in (("", lifted(bore=0.05)), ("Lower", mild))
    )
    panels = (panel_of(options[0]), panel_of(options[1]))
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", panels, options)
    texts = [each.text for each in next(first_pages(sheet, TELLINGS[0])) if isinstance(each, Paragraph)]
    assert (NOTHING_BUILT in texts) is not built


def test_what_does_not_carry_the_decision_stands_once_and_behind() -> None:
    """Whoever decides reads the first page: the verdict over its drawing alone, and no general cautions."""
    first, *behind = pages(written("winter-press", compared=True))
    rest = " ".join(behind)
    within = re.search(r"Within: [\d.]+ of [\d.]+ inHg", first)
    assert within is not None
    assert first.count(within[0].removeprefix("Within: ")) == 1
    for once in ("trials each, varied evenly", "Read a vacuum gauge at the port, with warm and with cold"):
        assert once not in first
        assert rest.count(once) == 1


def test_a_file_under_other_conditions_is_set_beside_the_drawing_under_those_of_the_drawing() -> None:
    drawn, *_ = options_of("winter-press")
    assert drawn.judgement is not None
    layout = drawn.judgement.layout
    fluid = replace(layout.fluid, temperature=quantity("40 degC", Kind.TEMPERATURE), coldest_start=None)
    cases = {name: replace(case, figures={}) for name, case in layout.cases.items()}
    warm = option_of("B.toml", "", replace(layout, fluid=fluid, cases=cases), Level.MINIMUM, System.US)
    sheet = _sheet((drawn, replace(warm, file="B.toml")), SheetWish(), Level.MINIMUM, System.US)
    blocks = list(bought(sheet, TELLINGS[0]))
    caption = next(each.text for each in blocks if isinstance(each, Paragraph))
    assert "B.toml is counted under the conditions of the drawing itself, not its own." in caption
    (table,) = (each for each in blocks if isinstance(each, Table))
    margin = next(row for row in table.rows if row.cells[0] == "Margin")
    assert margin.cells[1] == margin.cells[2], "the line is the same, and so buys nothing"
    assert margin.cells[3] == "0.00"
    (line,) = (each for each in bought(sheet, TELLINGS[-1]) if isinstance(each, Paragraph))
    assert "not its own" in line.text


def test_what_a_low_pressure_day_takes_stands_among_what_carries_the_result() -> None:
    """It stood in the ledger alone; the figure is that of the finding."""
    for name, allowed in (("over-the-bund-wall", False), ("carriage-at-altitude", True)):
        sheet = _sheet(options_of(name), SheetWish(), Level.MINIMUM, System.SI)
        for telling in (TELLINGS[0], TELLINGS[-1]):
            told = [each for each in next(first_pages(sheet, telling)) if isinstance(each, Paragraph)]
            text = " ".join(each.text for each in told)
            assert "is taken off for a low-pressure day" in text
            assert ("Nothing is taken off" in text and "a low-pressure day (about 2.50 kPa)" in text) is (
                not allowed
            )


UNITS = (
    "kPa|inHg|psi|°C|°F|m/s|ft/s|mm|cm²|in²|m|ft|in|L/min|gpm|gal/min|rpm|cSt|%|L|gal|of 100 trials|of NPSH"
)
FIGURE = re.compile(rf"(?<![\w.])[−+]?(\d[\d.]*) (?:{UNITS})(?![\w/²])")
BESIDE = re.compile(r" \([\d.]+ psi\)")
"""What needs no place behind: pressures in psi are those in inHg before them."""


@pytest.mark.parametrize("shown", first([("header-two-pumps", System.US), *SHOWN]))
def test_every_figure_of_its_sentences_stands_behind_it_digit_for_digit(shown: tuple[str, System]) -> None:
    """Whoever checks one finds it in a table or a sentence: 66.7 °F and "at least 1.67 m" stood alone."""
    name, system = shown
    sheet = _sheet(options_of(name, system), SheetWish(), Level.MINIMUM, system)
    behind = " ".join(pages(written(name, system=system, compared=True))[1:])
    blocks = next(first_pages(replace(sheet, date="2026-03-31"), TELLINGS[0]))
    texts = [block.text for block in blocks if isinstance(block, Paragraph)]
    texts += [sheet.outlook(panel).sentence for panel in sheet.panels]
    texts += [text for panel in sheet.panels for _, text in key_figures(sheet, panel, SHORT)]
    figures = [figure for text in texts for figure in FIGURE.findall(BESIDE.sub("", text))]
    assert len(figures) > 15
    assert [each for each in figures if not re.search(rf"(?<![\d.]){re.escape(each)}(?![\d.])", behind)] == []


def test_notes_that_are_left_are_counted_where_neither_a_stop_nor_a_caution_is() -> None:
    """It said that no check had found anything else, with three notes behind the page."""
    sheet = _sheet(options_of("over-the-bund-wall"), SheetWish(), Level.MINIMUM, System.SI)
    notes = len(sheet.chosen.judgement.findings)
    assert notes > 0
    placed = replace(sheet, behind={"Findings": 3}, ends={"Findings": 3})
    texts = [each.text for each in next(first_pages(placed, TELLINGS[0])) if isinstance(each, Paragraph)]
    assert any(f"No stop and no caution; {notes} notes, page 3." in text for text in texts)
    assert not any("No check found anything else" in text for text in texts)
