"""The calculation on the client's page, read back from it."""

from itertools import pairwise

import pytest

from sketch.look.colours import LIGHT
from sketch.page.blocks import Heading, Paragraph
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_working import working_blocks, working_part
from solver.layout.parts import Level
from solver.quantities.units import System
from solver.working import working
from solver.working.text import units_sentence
from tests.sketch.sheets import ALL_PARTS, options_of, pages, panel_of, words, written

CARRIAGE = "carriage-at-altitude"

pytestmark = pytest.mark.usefixtures("qapp")


def test_every_step_is_on_the_sheet() -> None:
    text = words(written(CARRIAGE, compared=True, parts=ALL_PARTS)).replace("\N{NO-BREAK SPACE}", " ")
    squeezed = text.replace(" ", "")
    solution = panel_of(options_of(CARRIAGE)[0]).solution
    for section in working.pages(solution, "carriage", System.US):
        assert section.title in text
        for row in section.rows:
            assert row.name in text
            assert row.result.replace("\N{NO-BREAK SPACE}", "").replace(" ", "") in squeezed


def test_without_being_asked_the_sheet_keeps_to_its_pages() -> None:
    asked = pages(written(CARRIAGE, compared=True, parts=ALL_PARTS))
    assert any("Working of carriage" in page for page in asked)
    assert not any("Working of carriage" in page for page in pages(written(CARRIAGE)))


def test_what_both_drawings_share_is_worked_out_once() -> None:
    text = words(written(CARRIAGE, compared=True, parts=ALL_PARTS))
    assert text.count('The same as for The drawing itself, "coldest start".') >= 2
    assert text.count("Working of carriage: ") == 2


def test_an_alternative_is_worked_out_in_the_worst_case_of_the_drawing_and_in_its_own() -> None:
    panels = [panel_of(option) for option in options_of("glycol-on-the-oil-line")[::2]]
    options = tuple(panel.option for panel in panels)
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", tuple(panels), options)
    large = [block.text for block in working_part(sheet) if isinstance(block, Heading) and block.large]
    assert large == [
        'Working of caster: The drawing itself, "coldest start"',
        'Working of caster: Water-glycol, pump lowered, "coldest start"',
        "Working of caster: Water-glycol, pump lowered, as drawn",
    ]


def test_a_step_is_not_parted_from_its_source() -> None:
    panel = panel_of(options_of(CARRIAGE)[0])
    blocks = list(working_blocks(panel.solution, "carriage", System.SI, LIGHT))
    steps = [block for block in blocks if isinstance(block, Paragraph) and not block.quiet and block.lead]
    assert len(steps) > 50
    for before, block in pairwise(blocks):
        if isinstance(block, Paragraph) and block.indent and block.lead != "Mind:":
            assert before.keep
        elif isinstance(block, Heading):
            assert not before.keep


def test_the_working_says_in_which_units_it_is() -> None:
    """On its first line, where coefficients stay in SI though the sheet is in other units."""
    shown = words(written(CARRIAGE, compared=True, parts=ALL_PARTS))
    begun = shown[shown.index("Working of carriage") :]
    assert begun.index("in US customary units") < begun.index("Each result stands")
    assert units_sentence(System.SI) == ""
