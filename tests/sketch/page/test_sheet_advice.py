"""What the first page recommends, and the order of work."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.blocks import Heading, Paragraph
from sketch.page.sheet import _sheet
from sketch.page.sheet_advice import (
    NOT_OF_TWO_LINES,
    advice,
    also_judged,
    in_paragraphs,
    numbered,
    work,
)
from sketch.page.sheet_cases import case_blocks
from sketch.page.sheet_first import TELLINGS, first_pages
from sketch.page.sheet_frame import TWO_LINES
from sketch.page.sheet_parts import SheetWish
from solver.findings.judgement import PumpState
from solver.findings.kinds import FindingId, Grade
from solver.layout.parts import Level
from solver.ledger.sentences import at_port, sentence_of_pump
from solver.quantities.units import System
from solver.report.as_built import as_built
from solver.report.recommendation import NOTHING_ELSE
from tests.sketch.sheets import options_of

pytestmark = pytest.mark.usefixtures("qapp")


def test_a_strainer_read_as_blocked_is_named_and_cleaned_first() -> None:
    """Alone and beside an alternative with a strainer of its own, which is not what was read."""
    drawn, twice = options_of("strainer-over-a-year")
    sheet = _sheet((drawn, twice), SheetWish(), Level.MINIMUM, System.SI)
    assert [panel.outlook(System.SI).severity for panel in sheet.panels] == [Grade.STOP, Grade.GOOD]
    first, *_ = (each.text for each in work(sheet, 6) if isinstance(each, Paragraph))
    assert "pull and clean strainer (74 to 83 % of strainer is blocked" in first
    for telling in (TELLINGS[0], TELLINGS[-1]):
        told = [each for each in next(first_pages(sheet, telling)) if isinstance(each, Paragraph)]
        texts = [f"{each.lead} {each.text}" for each in told]
        assert not any("As the line stands, as read" in text for text in texts), "the verdict says it"
        advised = next(text for text in texts if "Clean strainer first." in text)
        assert "Build" not in advised
        shown = 'For feed, "cold morning", with 83 % of strainer blocked as read, then as drawn'
        assert any(shown in text for text in texts)
    assert sheet.outlook(sheet.panels[0]).headline.startswith("As read on 2026-02-23: feed is over by")
    assert sheet.built is sheet.panels[0]


def test_a_reading_that_is_old_at_the_date_of_the_sheet_is_to_be_taken_again_first() -> None:
    sheet = _sheet(options_of("strainer-over-a-year"), SheetWish(), Level.MINIMUM, System.SI)
    for day, old in (("2026-11-27", True), ("2026-02-24", False)):
        texts = [each.text for each in advice(replace(sheet, date=day), 6) if isinstance(each, Paragraph)]
        assert texts[0].startswith("Read again before deciding: ") is old
        assert any(text.startswith("Clean strainer first") for text in texts)


def test_an_alternative_that_a_low_pressure_day_takes_over_says_so() -> None:
    """By the margin of its own ledger, and what the finding says that such a day takes."""
    drawn, *others = options_of("winter-press")
    sheet = _sheet((drawn, *others), SheetWish(), Level.MINIMUM, System.US)
    seen = set[bool]()
    for option in others:
        worst, judgement = option.worst(), option.judgement
        assert worst is not None
        assert judgement is not None
        takes = [
            each.threshold or 0.0
            for each in judgement.findings_by_case[worst.case]
            if each.finding is FindingId.NO_WEATHER_ALLOWANCE
        ]
        (text,) = (
            each.text
            for each in also_judged(
                replace(sheet, aside=(option,), options=sheet.options[:1], panels=sheet.panels[:1])
            )
            if isinstance(each, Paragraph)
        )
        is_over = bool(takes) and 0.0 <= worst.ledger.margin < max(takes)
        assert ("over on a low-pressure day" in text) is is_over
        seen.add(is_over)
    assert seen == {True, False}


def test_every_pump_that_must_not_run_is_named_over_its_drawing() -> None:
    sheet = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.US)
    for panel in sheet.panels:
        shown, judgement = panel.outlook(System.US), panel.judgement
        for pump in judgement.layout.pumps:
            place = judgement.worst(pump)
            if place is not None and (not place.ledger.sound or place.pump_state is PumpState.UNFIT):
                assert f"{pump}: " in f"{shown.headline} {shown.beneath}"
    assert "pilot: within, but the fluid runs too fast" in sheet.panels[0].outlook(System.US).beneath


def test_a_pump_that_one_drawing_stops_is_named_over_both() -> None:
    """With how it stands there; and a pump is within, not of it one colon after another."""
    drawn, alone, wider = options_of("header-two-pumps")
    sheet = _sheet((drawn, wider, replace(alone, aside=True)), SheetWish(), Level.MINIMUM, System.US)
    before, after = (sheet.outlook(panel) for panel in sheet.panels)
    assert before.beneath.startswith("pilot: within, but the fluid runs too fast")
    assert after.headline.startswith("main is within: 1.59 of 3.35 inHg")
    assert after.beneath.startswith("pilot is within: ")
    place = sheet.chosen.judgement.worst("pilot")
    assert place is not None
    assert sentence_of_pump(place.ledger, System.US).split(": ")[-1].split(" ")[0] in after.beneath
    both = _sheet((drawn, alone, replace(wider, aside=True)), SheetWish(), Level.MINIMUM, System.US)
    assert "pilot" not in both.outlook(both.chosen).beneath, "it has no pilot"


def test_a_heater_that_is_over_at_every_cold_start_comes_behind_an_oil_that_is_not() -> None:
    """Nor does the page say of it that so much is left, and no more."""
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.US)
    assert sheet.chosen.option.name == "High-VI oil, ISO VG 32"
    assert not any("comes first" in each.text for each in advice(sheet, 6) if isinstance(each, Paragraph))
    (also,) = (each.text for each in also_judged(sheet) if isinstance(each, Paragraph))
    assert "margin 1.91 inHg, limit estimated, but over by 5.81 inHg while the line is still at 14 °F" in also
    heater = replace(sheet.panels[1], option=sheet.options[2], place=sheet.options[2].worst())
    assert heater.outlook(System.US).severity is Grade.STOP


def test_an_alternative_that_was_asked_for_is_not_ordered_where_another_is_better() -> None:
    """Its order of work says what it depends on; one that would be chosen anyway is built."""
    drawn, *others = options_of("winter-press")
    named = {}
    for option in others:
        options = (drawn, *(replace(each, aside=each is not option) for each in others))
        sheet = _sheet(options, SheetWish(), Level.MINIMUM, System.US)
        assert sheet.chosen.option.name == option.name
        blocks = (*advice(sheet, 6), *work(sheet, 6))
        texts = [each.text for each in blocks if isinstance(each, (Heading, Paragraph))]
        named[option.name] = texts
    oil, heater = "High-VI oil, ISO VG 32", "Tank heater to 10 °C"
    asked = next(text for text in named[heater] if text.startswith("Compared as asked for; "))
    assert f'"{oil}" stands better: its least margin is ' in asked
    assert ", but over by 5.81 inHg while the line is still at 14 °F" in asked, "why, with the larger margin"
    assert f'Order of work, if "{heater}" is built' in named[heater]
    assert not any(text.startswith("Build") for text in named[heater][: named[heater].index(asked) + 2])
    assert "Order of work" in named[oil]
    assert any(text.startswith(f'Choose "{oil}"') for text in named[oil])
    assert not any("asked for" in text for text in named[oil])


def test_of_two_different_lines_nothing_is_recommended_and_nothing_counts_as_bought() -> None:
    """The better of two machines would else be built in the place of the other."""
    (winter, *_), (header, *_) = options_of("winter-press"), options_of("header-two-pumps")
    other = replace(header, name="Header", file="header-two-pumps.toml")
    sheet = _sheet((winter, other), SheetWish(), Level.MINIMUM, System.US)
    told = [each for each in next(first_pages(sheet, TELLINGS[0])) if isinstance(each, Heading | Paragraph)]
    texts = [each.text if isinstance(each, Heading) else f"{each.lead} {each.text}" for each in told]
    assert any(text.startswith(f"{TWO_LINES}: no pump has one name in both") for text in texts)
    assert any(NOT_OF_TWO_LINES in text for text in texts)
    for never in (
        "What it buys",
        "Order of work",
        "Build",
        "better than",
        "What changes",
        "platform",
        "Taken",
    ):
        assert not any(never in text for text in texts), never
    assert sheet.built is sheet.panels[0]
    revised = replace(winter, name="Revision B", file="rev-B.toml")
    again = _sheet((winter, revised), SheetWish(), Level.MINIMUM, System.US)
    assert again.other_line == ""


def test_what_a_note_asks_for_before_work_comes_first_in_its_own_words() -> None:
    """A fire code that the builder had typed stood on the last page, behind the order to pierce the wall."""
    sheet = _sheet(options_of("over-the-bund-wall"), SheetWish(), Level.MINIMUM, System.SI)
    notes = sheet.notes
    first, *rest = (each.text for each in work(sheet, 6) if isinstance(each, Paragraph))
    assert first.startswith("Settle before any work: ")
    quoted = re.findall('"(.+?)"', first)
    assert len(quoted) == 2
    for text in quoted:
        assert text.strip("\N{HORIZONTAL ELLIPSIS} ") in " ".join(notes.split())
    assert "A sleeve through the wall, sealed as the fire code for the site asks" in quoted[1]
    assert not any("fire code" in text for text in rest)
    placed = replace(sheet, behind={"Assumptions, sources and cautions": 4})
    placed_first, *_ = (each.text for each in work(placed, 6) if isinstance(each, Paragraph))
    assert placed_first.endswith("(note of the drawing, page 4).")


def test_a_note_that_asks_for_nothing_in_words_that_are_known_is_quoted_all_the_same() -> None:
    sheet = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI)
    placed = replace(sheet, behind={"Every case": 2})
    note = " ".join(sheet.chosen.option.note.split()).rstrip(".")
    assert f'Its note: "{note}."' in [each.text for each in advice(placed, 6) if isinstance(each, Paragraph)]
    assert not any(note in each.text for each in work(placed, 6) if isinstance(each, Paragraph)), "no work"
    wash = _sheet(options_of("wash-water-npsh"), SheetWish(), Level.MINIMUM, System.SI)
    assert any("Its note: " in each.text for each in advice(wash, 6) if isinstance(each, Paragraph))
    steps = [each.text for each in work(wash, 6) if isinstance(each, Paragraph)]
    assert not any("its note" in text for text in steps), "it is quoted whole where it is recommended"


@pytest.mark.parametrize("alone", [False, True])
@pytest.mark.parametrize("long", [False, True])
def test_a_condition_in_words_that_are_not_known_stays_on_the_page(alone: bool, long: bool) -> None:
    condition = "The crane bay stands empty while the nozzle is welded in"
    told = f"{'The same line in a wider bore. ' * 9 * long}Only on a Sunday, with the crane bay empty."
    note = told if long else f"Wider. {condition}."
    options = list(options_of("header-two-pumps"))
    options = [replace(each, note=note) if each.name == "Three-inch header" else each for each in options]
    sheet = _sheet(options, SheetWish(), Level.MINIMUM, System.SI)
    placed = replace(sheet, behind={} if alone else {"Every case": 2}, alone=alone)
    page = " ".join(
        each.text for each in next(first_pages(placed, TELLINGS[-1])) if isinstance(each, Paragraph)
    )
    assert ("Only on a Sunday" if long else condition) in page
    assert (", page 2: " in page) == (long and not alone)
    assert page.count("Wider. ") + page.count("Sunday") == 1, "and stands there once"


@pytest.mark.parametrize("name", ["glycol-on-the-oil-line", "strainer-over-a-year", "carriage-at-altitude"])
def test_what_stands_over_a_drawing_or_under_what_remains_is_not_advised_again(name: str) -> None:
    sheet = _sheet(options_of(name), SheetWish(), Level.MINIMUM, System.SI)
    advised = " ".join(each.text for each in advice(sheet, 6) if isinstance(each, Paragraph))
    for pump in sheet.chosen.judgement.layout.pumps:
        assert f"{pump} is then within" not in advised
    if name == "carriage-at-altitude":
        assert NOTHING_ELSE not in advised


def test_every_piece_of_advice_has_its_step() -> None:
    """Of three the order of work took up the first alone; and it left open which of two to build."""
    sheet = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI)
    advised = [each.text for each in advice(sheet, 6) if isinstance(each, Paragraph)]
    assert any(text.startswith("What would do more is not drawn yet: ") for text in advised)
    assert not any("would clear" in text for text in advised), "said once, where it is ordered"
    steps = [each.text for each in work(sheet, 6) if isinstance(each, Paragraph)]
    build = steps.index('Build "Three-inch header".')
    order = "To clear suction velocity (main leg), lay main leg in NPS 2-1/2 schedule 40; it needs: "
    (clear,) = (number for number, text in enumerate(steps) if text.startswith(order))
    assert build < clear
    together = as_built(sheet.choices[1])
    reading = at_port(together.worst().ledger, System.SI)[0]
    assert f"Expected as then built: main {reading} (now " in steps[-1], "with the wider leg"
    cases = " ".join(each.text for each in case_blocks(sheet) if isinstance(each, Paragraph))
    assert f"main {reading}" in cases, "it stands behind too"


def test_no_line_ends_with_the_number_of_a_step() -> None:
    steps = ["Ask the maker.", "Build it all.", "Fill it and the pump."]
    text = " ".join(numbered(steps))
    for wide in range(60, 400, 7):
        lines = Ruler().wrap(text, float(wide))
        assert " ".join(lines) == "1. Ask the maker. 2. Build it all. 3. Fill it and the pump."
        assert not any(re.search(r"(^| )\d\.$", line) for line in lines)


def test_but_then_is_said_once_in_a_paragraph() -> None:
    """Of two changes with a harm each it began two sentences, and the second read as one of the first."""
    texts = ["Lower it. But then: main: too cold.", "To widen it would do, but then: it bends. But then: no."]
    (joined,) = (each.text for each in in_paragraphs(texts, 1) if isinstance(each, Paragraph))
    assert joined == (
        "Lower it. But then: main: too cold. To widen it would do, but with that: it bends. With that: no."
    )
    assert [each.text for each in in_paragraphs(texts[:1], 1) if isinstance(each, Paragraph)] == texts[:1]


def test_no_foot_valve_is_ordered_for_a_pump_that_an_order_before_floods() -> None:
    """Put beside its tank it is flooded; the next step had a foot valve fitted in the line that is gone."""
    (drawn, *_) = options_of("shear-started-dry")
    sheet = _sheet((drawn,), SheetWish(), Level.MINIMUM, System.SI)
    steps = [each.text for each in work(sheet, 6) if isinstance(each, Paragraph)]
    clear = next(text for text in steps if text.startswith("To clear "))
    assert "no foot valve (shear), put shear beside tank" in clear
    assert "; it needs: a stand, a wall nozzle" in clear
    assert not any("foot valve in the line" in text for text in steps)
    advised = " ".join(each.text for each in advice(sheet, 6) if isinstance(each, Paragraph))
    assert "Still to be cleared: " in advised, "one drawing alone has room for it"
