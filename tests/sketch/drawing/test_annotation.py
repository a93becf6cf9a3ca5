"""What is written on the sheet besides the line."""

from __future__ import annotations

import pytest

from sketch.look.colours import LIGHT
from tests import drawings
from tests.sketch import samples
from tests.sketch.drawing.sheets import label, near, paint

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_the_lift_is_dimensioned_from_the_level_to_the_port() -> None:
    drawn, _, view = paint(drawings.stand(), samples.solution())
    text_label = label(drawn, "lift press", "lift")
    assert text_label.text == "lift 1.10 m"
    assert view.device(0, 1.6)[1] < text_label.box.y < text_label.box.bottom < view.device(0, 0.5)[1]


def test_the_highest_port_is_dashed_across_the_sheet() -> None:
    drawn, image, view = paint(drawings.stand(), samples.solution(), highest_port=1.3)
    y = view.device(0.0, 1.3)[1]
    rows = [[image.pixelColor(x, round(y) + dy) for x in range(60, 990)] for dy in (-1, 0)]
    dashes = max(sum(near(colour, LIGHT.limit, 90) for colour in row) for row in rows)
    assert 0.4 * 930 < dashes < 0.8 * 930
    assert label(drawn, "highest port", "limit").text == "highest port 1.30 m"


@pytest.mark.parametrize(("height", "where"), [(90.0, "above the sheet"), (-90.0, "below the tank's floor")])
def test_a_highest_port_off_the_sheet_or_where_no_pump_can_stand_is_said(height: float, where: str) -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), highest_port=height)
    assert label(drawn, "highest port", "limit").text.endswith(where)


def test_no_highest_port_is_no_line() -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), highest_port=None)
    assert not [each for each in drawn.labels if each.kind == "limit"]
