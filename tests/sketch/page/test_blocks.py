"""Paragraphs are broken into lines that fit, and torn with all their words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.pencil import Ruler
from sketch.look.colours import LIGHT
from sketch.page.blocks import LEADING, Paragraph

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


class _Written(Ruler):
    """Keeps what is written, with where it ends on the right."""

    def __init__(self) -> None:
        super().__init__()
        self.ends: list[tuple[str, float]] = []

    def text(self, x: float, y: float, text: str, colour: object, *, bold: bool = False) -> None:
        self.ends.append((text, x + self.width(text, bold=bold)))


def test_a_lead_that_is_wider_than_its_column_is_broken_into_lines() -> None:
    lead = "What changes: Beside the tank, NPS 2-1/2, oil at 20 degC:"
    pencil, block = _Written(), Paragraph("tank: minimum level 0.55 m for 0.40 m", lead)
    assert pencil.width(lead, bold=True) > 240.0
    block.paint(pencil, LIGHT, 0.0, 0.0, 240.0)  # type: ignore[arg-type]  # all that a paragraph draws
    assert all(end <= 240.0 for _, end in pencil.ends)
    assert " ".join(text for text, _ in pencil.ends if text) == f"{lead} {block.text}"


def test_a_paragraph_that_tears_goes_on_in_the_next_column_with_all_its_words() -> None:
    ruler, block = Ruler(), Paragraph("one word after another " * 20, "Lead:", tears=True)
    first, rest = block.split_to_fit(ruler, 240.0, 90.0)
    assert isinstance(first, Paragraph)
    assert isinstance(rest, Paragraph)
    assert first.height(ruler, 240.0) <= 90.0
    assert (first.lead, rest.lead) == ("Lead:", "")
    assert f"{first.text} {rest.text}" == block.text.strip()
    assert replace(block, tears=False).split_to_fit(ruler, 240.0, 90.0)[0] is None


def test_paragraphs_of_a_list_stand_close() -> None:
    ruler = Ruler(1.0)
    apart, close = (Paragraph("A word and its meaning.", close=each) for each in (False, True))
    step = ruler.height() * LEADING
    assert close.height(ruler, 400.0) == pytest.approx(step)
    assert apart.height(ruler, 400.0) > step
