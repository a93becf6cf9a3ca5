"""The ledger, its sums and its sources in words on the page."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from sketch.look.colours import LIGHT
from sketch.page import sheet_frame, sheet_text
from sketch.page.blocks import Paragraph
from sketch.page.flow import inside
from sketch.page.options import option_of
from sketch.page.sheet import write_sheet
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_text import assumption_part
from sketch.page.table import Table
from solver.layout.parts import Level
from solver.layout.title_block import Revision, TitleBlock
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from tests.sketch.sheets import (
    ALL_PARTS,
    NAMES,
    options_of,
    panel_of,
    small_options,
    solution,
    words,
    written,
)
from tests.solver.checking import lifted
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("name", first(NAMES))
def test_no_source_on_paper_leans_on_memory(name: str) -> None:
    text = words(written(name, compared=True, parts=ALL_PARTS))
    assert "from memory" not in text
    assert "unverified" in text
    assert "a typical value, not checked against its source" in text


CARRIAGE = "carriage-at-altitude"


@pytest.mark.thorough
def test_revisions_are_listed_as_the_drawing_has_them(tmp_path: Path) -> None:
    block = TitleBlock(revisions=(Revision("A", "2026-01-10", "first issue"), Revision("B", "", "larger")))
    layout = replace(lifted(), title_block=block)
    write_sheet([option_of("", "", layout, Level.MINIMUM, System.US)], tmp_path / "sheet.pdf")
    text = words(tmp_path / "sheet.pdf")
    assert "Revisions Revision Date What changed A 2026-01-10 first issue B larger" in text
    assert "Revisions" not in words(written(CARRIAGE))


def test_of_another_drawing_every_revision_is_listed() -> None:
    first, second = Revision("A", "", "first"), Revision("B", "", "lower")
    blocks = [TitleBlock(revisions=(first,)), TitleBlock(revision="B", revisions=(first, second))]
    (drawn,) = small_options()
    panels = []
    for name, block in zip(("", "other.toml"), blocks, strict=True):
        assert drawn.judgement is not None
        layout = replace(drawn.judgement.layout, title_block=block)
        option = replace(drawn, name=name, judgement=replace(drawn.judgement, layout=layout))
        panels.append(panel_of(option))
    options = tuple(panel.option for panel in panels)
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", tuple(panels), options, title_block=blocks[0])
    blocks_of_part = list(assumption_part(sheet))
    texts = [each.text for each in blocks_of_part if isinstance(each, Paragraph)]
    assert texts[:2] == ["Of the drawing itself.", "Of other.toml."]
    tables = [each for each in blocks_of_part if isinstance(each, Table)]
    assert [[row.cells for row in table.rows] for table in tables[:2]] == [
        [("A", "", "first")],
        [("A", "", "first"), ("B", "", "lower")],
    ]


def test_what_stands_in_the_line_is_among_the_conditions() -> None:
    layout = solution(CARRIAGE).layout
    cold = replace(layout.fluid, line_temperature=quantity("20 degF", Kind.TEMPERATURE))
    solved = solve(replace(layout, fluid=cold))
    said = dict(sheet_text._assumptions(solved, "carriage", System.US))
    warm = dict(sheet_text._assumptions(solution(CARRIAGE), "carriage", System.US))
    assert said["Fluid:"] == warm["Fluid:"]
    assert "In the line:" not in warm
    assert said["In the line:"].startswith("at 20.0 °F: density")
    panel = SimpleNamespace(solution=solved)
    assert sheet_frame._fluid(panel, System.US).endswith("; line 20.0 °F")


def test_the_sources_of_one_fluid_are_written_out_once() -> None:
    """Of a drawing and the alternative in which its fluid is warmer."""
    drawn, _, heater = options_of("winter-press")
    panels = (panel_of(drawn), panel_of(heater))
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", panels, (drawn, heater))
    texts = {
        block.lead: block.text
        for each in assumption_part(sheet)
        for block in inside(each)
        if isinstance(block, Paragraph)
    }
    (other,) = (text for lead, text in texts.items() if lead.startswith(heater.name) and "fluid" in lead)
    assert "ASTM D341" in texts["Fluid:"]
    assert "viscosity" in other
    assert "ASTM D341" not in other
    assert other.endswith("; sources as above.")


def test_what_one_drawing_has_typed_is_not_called_untyped_for_both() -> None:
    """An allowance for a low-pressure day that the alternative alone makes."""
    (drawn,) = small_options()
    assert drawn.judgement is not None
    layout = drawn.judgement.layout
    site = replace(layout.site, weather_allowance=quantity("2 kPa", Kind.PRESSURE))
    other = option_of("Low day", "", replace(layout, site=site), Level.MINIMUM, System.SI)
    panels = (panel_of(drawn), panel_of(other))
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", panels, (drawn, other))
    texts = {each.lead: each.text for each in sheet_text._stands_on(sheet) if isinstance(each, Paragraph)}
    nothing = "nothing is taken off the atmosphere for a low-pressure day"
    assert nothing not in texts["Usual values assumed:"]
    assert texts["The drawing itself, as drawn, usual values assumed:"] == f"{nothing}."
    assert texts["Low day, as drawn, weather:"].startswith("2.0 kPa is taken off")


@pytest.mark.parametrize(
    ("notes", "alone", "said"),
    [
        ("Compare the two alternatives.", True, True),
        ("Compare the two alternatives.", False, False),
        ("A saw.", True, False),
    ],
)
def test_notes_that_speak_of_alternatives_say_that_a_sheet_of_one_drawing_has_none(
    notes: str, alone: bool, said: bool
) -> None:
    (drawn,) = small_options()
    options = (drawn,) if alone else (drawn, replace(drawn, name="Other"))
    panels = tuple(panel_of(each) for each in options)
    sheet = Sheet("", System.SI, Level.MINIMUM, LIGHT, "", panels, options, notes=notes)
    texts = [each.text for each in sheet_text._note_blocks(sheet) if isinstance(each, Paragraph)]
    assert (sheet_text.NOT_SHOWN in texts) is said
