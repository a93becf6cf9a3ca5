"""What is at stake: what leaving the line costs, and in how many trials its budget is overspent."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.page.blocks import Paragraph
from sketch.page.options import option_of
from sketch.page.sheet import _sheet
from sketch.page.sheet_first import TELLINGS, first_pages
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_stakes import how_sure, why_it_matters
from sketch.page.sheet_text import _what_is_varied
from solver.findings.kinds import FindingId, Severity
from solver.layout.parts import Level
from solver.quantities.units import Kind, System, quantity
from solver.quantities.wording import uncapitalised
from solver.report.uncertainty import OF_TRIALS, deciding_trials
from tests.sketch.sheets import options_of

pytestmark = pytest.mark.usefixtures("qapp")


def sheet_of(name: str, wish: SheetWish | None = None, count: int | None = None) -> Sheet:
    return _sheet(options_of(name)[:count], wish or SheetWish(), Level.MINIMUM, System.US)


def test_the_first_page_says_both_at_every_length_and_the_trials_as_the_terminal_has_them() -> None:
    sheet = sheet_of("header-two-pumps")
    for telling in (TELLINGS[0], TELLINGS[-1]):
        told = [each for each in next(first_pages(sheet, telling)) if isinstance(each, Paragraph)]
        leads = [each.lead for each in told]
        assert leads.index("Why it matters:") + 1 == leads.index("How sure it is:")
    now, then = (deciding_trials(panel.judgement, None, Level.MINIMUM) for panel in sheet.panels)
    assert now is not None
    assert then is not None
    (said,) = how_sure(sheet)
    assert isinstance(said, Paragraph)
    over = f"main, as drawn: over its budget in {now.trials.trials_over} as it stands, "
    assert (
        said.text == f'{over}in {then.trials.trials_over.removesuffix(OF_TRIALS)} with "Three-inch header".'
    )
    behind = " ".join(each.text for each in _what_is_varied(sheet) if isinstance(each, Paragraph))
    assert behind.startswith("10\N{NARROW NO-BREAK SPACE}000 trials each, varied evenly and each by itself: ")
    (alone,) = how_sure(replace(sheet, alone=True))
    assert isinstance(alone, Paragraph)
    assert "trials each, varied evenly" in alone.text, "nothing stands behind a page that is alone"
    assert list(how_sure(replace(sheet, alone=True), in_short=True)) == [said]
    assert now.trials.over > 0.5 > then.trials.over


def test_of_one_drawing_it_does_not_say_which() -> None:
    (said,) = how_sure(sheet_of("over-the-bund-wall", count=1))
    assert isinstance(said, Paragraph)
    assert said.text.startswith('transfer, "coldest start": over its budget in no trial.')


def test_a_screen_that_is_not_as_read_is_named_with_the_trials() -> None:
    (said,) = how_sure(sheet_of("strainer-over-a-year"))
    assert isinstance(said, Paragraph)
    assert "over its budget in no trial, with either line: the margin does not decide" in said.text


def test_the_pump_that_was_asked_for_has_trials_of_its_own() -> None:
    sheet = sheet_of("header-two-pumps", SheetWish(pump="pilot"))
    assert [each.pump for each in sheet.trials] == ["pilot", "pilot"]


def test_a_line_that_may_run_costs_nothing_to_leave_but_what_its_cautions_say() -> None:
    """It stood over the page as within, with no word of the air that its line keeps."""
    assert not list(why_it_matters(sheet_of("baler-flooded")))
    sheet = sheet_of("over-the-bund-wall")
    (said,) = why_it_matters(sheet)
    assert isinstance(said, Paragraph)
    assert sheet.drawn.judgement is not None
    caution = next(f for f in sheet.drawn.judgement.findings if f.severity is Severity.CAUTION)
    consequence = caution.why.partition(". ")[0]
    assert said.text.startswith(f"Trapped high point (crossing), if left: {uncapitalised(consequence)}.")
    assert "Only foot valve holds the line full: if that leaks, transfer starts dry." in said.text
    (air,) = (f for f in sheet.drawn.judgement.findings if f.finding is FindingId.FREE_AIR)
    assert said.text.endswith(f"{air.text.partition(' if ')[0].capitalize()} may come out.")
    before, after = (sheet.outlook(panel) for panel in sheet.panels)
    assert before.beneath == "Caution: trapped high point (crossing)"
    assert "Caution" not in after.beneath, "it has none"


def test_without_trials_nothing_is_said_of_them() -> None:
    bare = replace(sheet_of("over-the-bund-wall"), trials=())
    assert not list(how_sure(bare))


def test_trials_under_other_conditions_are_not_set_beside_those_of_the_drawing_as_if_alike() -> None:
    """96 of 100 at 60 °F stood beside 34 of 100 at 50 °F."""
    drawn, wide, *_ = options_of("header-two-pumps")[::2]
    assert wide.judgement is not None
    layout = wide.judgement.layout
    colder = replace(layout.fluid, coldest_start=quantity("50 degF", Kind.TEMPERATURE))
    cold = option_of("B.toml", "", replace(layout, fluid=colder), Level.MINIMUM, System.US)
    for shown, unlike in ((wide, False), (cold, True)):
        sheet = _sheet((drawn, shown), SheetWish(), Level.MINIMUM, System.US)
        (said,) = how_sure(sheet)
        assert isinstance(said, Paragraph)
        why = 'Those with "B.toml" are under other conditions (a start at 50 °F in place of 60 °F): '
        assert (f"{why}the two counts are not alike." in said.text) is unlike
