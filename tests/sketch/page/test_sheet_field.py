"""The card and the plan for a first start as pages of a sheet, read back from it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.pencil import Ruler
from sketch.look.colours import LIGHT
from sketch.page.blocks import Heading, Paragraph
from sketch.page.machine_card import card_blocks
from sketch.page.options import best_of
from sketch.page.packing import _filled
from sketch.page.sheet_field import card_part, priming_part
from sketch.page.sheet_frame import Panel, Sheet
from sketch.page.writing_grid import WritingGrid
from solver.field import air, plan, priming
from solver.layout.parts import SHORT_CASE, Level
from solver.quantities.units import System
from solver.report.priming import AT_REST
from tests.sketch.sheets import options_of, pages, panel_of, small_options, written
from tests.thorough import first

WALL = "over-the-bund-wall"
WITH = frozenset({"card", "priming"})

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.thorough
@pytest.mark.parametrize("paper", first(["A4", "Letter"]))
def test_card_and_plan_have_a_page_each_only_where_they_are_asked_for(paper: str) -> None:
    usual = pages(written(WALL, paper=paper))
    asked = pages(written(WALL, paper=paper, parts=WITH))
    assert len(asked) == len(usual) + 2
    (card,) = (page for page in asked if "at rest, line full" in page)
    (work,) = (page for page in asked if "Before the first start: transfer" in page)
    assert "Stop at" in card
    assert "Card for the machine" in card
    assert not any("Before the first start: transfer" in page for page in usual)
    assert "Where air may come in" in work


@pytest.mark.thorough
def test_the_first_page_names_the_plan_that_is_behind_it_and_no_other() -> None:
    usual, *_ = pages(written("carriage-at-altitude", compared=True))
    asked, *_ = pages(written("carriage-at-altitude", compared=True, parts=WITH))
    order = "Fill line and pump before the first start"
    assert f"{order}. " in usual
    assert f'{order}, as the priming plan says (under "Before the first start"). ' in asked


def test_every_step_joint_and_remark_of_the_case_shown_is_on_the_page() -> None:
    (work,) = (
        page
        for page in pages(written(WALL, paper="A4", parts=WITH))
        if "Before the first start: transfer" in page
    )
    solution = options_of(WALL)[0].solution(SHORT_CASE)
    assert solution is not None
    squeezed = work.replace(" ", "").replace("\N{NO-BREAK SPACE}", "")
    primed, held_air = priming.priming(solution, "transfer", System.SI), air.air(solution, "transfer")
    said = [
        *plan.steps(primed, options_of(WALL)[0].judgement, solution, System.SI),
        *(air.joint_text(joint, held_air, System.SI) for joint in held_air.joints),
        *(remark.text for remark in air.air_notes(held_air, solution.layout, System.SI)),
        plan.CAUTION,
    ]
    for text in said:
        assert text.replace(" ", "") in squeezed
    assert "up to 19.3 L of air" in work, "the pocket stands on the drawing"


def test_card_and_plan_are_of_what_is_recommended_and_name_it() -> None:
    """The drawing itself where the alternative beside it is no better."""
    options = options_of("carriage-at-altitude")
    best = best_of(options[1:])
    assert best is not None
    panels = panel_of(options[0]), panel_of(best)
    for shown, built in ((panels, best), (panels[::-1], best)):
        sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", shown, tuple(options))
        assert sheet.built.option is built
        heading = next(iter(priming_part(sheet)))
        assert isinstance(heading, Heading)
        assert f'carriage of "{built.name}"' in heading.text
        card = next(iter(card_part(sheet)))
        assert isinstance(card, Heading)
        assert card.text == f"Card for the machine: {built.name}"
    alone = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", panels[:1], options[:1])
    assert (alone.built, alone.line_name(alone.built)) == (panels[0], "")
    assert replace(alone, options=tuple(options)).line_name(panels[0]) == "The drawing itself"


def test_lines_to_write_on_fill_the_page_that_they_end() -> None:
    (option,) = small_options()
    grid = next(block for block in card_blocks(panel_of(option).judgement, System.SI, LIGHT.caution)
                if isinstance(block, WritingGrid))  # fmt: skip
    *_, filled = _filled([Paragraph("Above."), grid], Ruler(), 900.0, 600.0)
    assert isinstance(filled, WritingGrid)
    assert filled.lines > grid.lines
    assert filled.height(Ruler(), 900.0) <= 600.0 - Paragraph("Above.").height(Ruler(), 900.0)
    assert _filled([grid, Paragraph("Below.")], Ruler(), 900.0, 600.0)[0] == grid


def test_a_pump_at_rest_has_no_plan_and_is_named_with_why() -> None:
    (drawn, *_) = options_of("header-two-pumps")
    place, solution = drawn.worst("", ["main alone"]), drawn.solution("main alone")
    assert place is not None
    assert solution is not None
    sheet = Sheet(
        "", System.US, Level.MINIMUM, LIGHT, "", (Panel(drawn, place, solution, None, ""),), (drawn,)
    )
    texts = {block.lead: block.text for block in priming_part(sheet) if isinstance(block, Paragraph)}
    assert texts["pilot:"] == AT_REST
