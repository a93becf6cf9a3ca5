"""How a straight slopes, in words, and on the sheet."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.labels import LabelKind
from sketch.drawing.slopes import slope_text
from sketch.editing import edits
from tests import drawings
from tests.sketch import samples
from tests.sketch.drawing.sheets import paint


def test_a_slope_is_said_as_a_ratio_or_in_degrees() -> None:
    assert slope_text((0.0, 0.0), (2.4, 0.05)) == "rises 1:48"
    assert slope_text((0.0, 0.05), (-1.0, 0.0)) == "falls 1:20"
    assert slope_text((0.0, 0.0), (1.0, -1.0)) == "falls 45°"
    assert slope_text((0.0, 0.0), (0.0, 1.0)) == slope_text((0.0, 0.0), (1.0, 1e-5)) == ""


@pytest.mark.usefixtures("qapp")
def test_the_sheet_marks_the_fall_of_a_line() -> None:
    layout = drawings.stand()
    square, _, _ = paint(layout, samples.solution())
    assert not [each for each in square.labels if each.kind == LabelKind.SLOPE]
    press = layout.pumps["press"]
    lower = edits.with_joint(layout, replace(press, at=(press.at[0], drawings.metres(1.57))))
    drawn, _, _ = paint(lower, None)
    (label,) = [each for each in drawn.labels if each.kind == LabelKind.SLOPE]
    assert (label.key, label.text) == ("lead", "falls 1:20")
