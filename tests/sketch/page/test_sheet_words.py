"""The words that a client may not know, on the sheet that has them and on no other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.page import sheet_words
from sketch.page.blocks import Paragraph
from sketch.page.options import option_of
from sketch.page.sheet import _sheet
from sketch.page.sheet_cases import case_blocks
from sketch.page.sheet_findings import finding_part
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_words import words_part
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.drawings import RISER
from tests.sketch.sheets import options_of

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize(
    ("name", "has", "has_not"),
    [
        ("winter-press", {"inHg:", "cSt:", "est.:", "Low-pressure day:"}, {"NPS:"}),
        ("strainer-over-a-year", {"Lift:"}, {"inHg:", "NPS:", "est.:"}),
    ],
)
def test_only_words_of_this_sheet_are_explained(name: str, has: set[str], has_not: set[str]) -> None:
    drawn, *_ = options_of(name)
    system = System.US if "inHg:" in has else System.SI
    sheet = _sheet((drawn,), SheetWish(compare=()), Level.MINIMUM, system)
    leads = [block.lead for block in words_part(sheet) if isinstance(block, Paragraph)]
    assert {"Port:", "Inlet budget:", "Margin:", *has} <= set(leads)
    assert not has_not & set(leads)
    assert len(leads) == len(set(leads))
    assert all(block.close for block in words_part(sheet) if isinstance(block, Paragraph))


@pytest.mark.thorough
def test_a_figure_that_stands_under_one_drawing_alone_is_not_explained_beside_two() -> None:
    """Half a page has no room for NPSH, and a word that stands nowhere sends its reader looking for it."""
    options = options_of("header-two-pumps")
    one = _sheet(options[:1], SheetWish(compare=()), Level.MINIMUM, System.SI)
    two = _sheet(options, SheetWish(), Level.MINIMUM, System.SI)
    of_one, of_two = (
        [block.lead for block in words_part(sheet) if isinstance(block, Paragraph)] for sheet in (one, two)
    )
    assert "NPSH:" in of_one
    assert "NPSH:" not in of_two


@pytest.mark.parametrize(
    ("name", "note"), [("trapped high point", "slower"), ("feed", "past the high point")]
)
def test_a_name_or_note_that_the_author_has_typed_has_no_word_of_ours(name: str, note: str) -> None:
    text = RISER.replace("strainer]", f'"{name}"]').replace('= "strainer"\nto', f'= "{name}"\nto')
    read = file.parse(text)
    drawn = option_of("", note, read.base, Level.MINIMUM, System.SI)
    sheet = _sheet((drawn, replace(drawn, name="Other")), SheetWish(), Level.MINIMUM, System.SI)
    texts = " ".join(sheet_words._texts(case_blocks(sheet)))
    assert "high point" in texts or any(name in text for text in sheet_words._texts(finding_part(sheet)))
    leads = [block.lead for block in words_part(sheet) if isinstance(block, Paragraph)]
    assert {"Port:", "Margin:"} <= set(leads)
    assert "Trapped high point:" not in leads
