"""The order in which keys go through the parts."""

from __future__ import annotations

import pytest

from sketch.canvas import walking
from sketch.canvas.elevation import Elevation
from sketch.editing import selection
from tests.sketch.canvas.mouse import document_of


def test_parts_follow_the_fluid_from_the_tank_to_the_pump(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    order = walking.flow_order(document)
    assert order == ("tank", "strainer", "riser", "carriage")
    assert sorted(order) == sorted(selection.everything(document.layout))
    walked = []
    while name := walking.next_part(document, back=False):
        document.select(name)
        walked.append(name)
    assert tuple(walked) == order
    assert walking.next_part(document, back=True) == "riser"


def test_the_middle_of_a_line_is_that_of_its_longest_straight(bent_canvas: Elevation) -> None:
    layout = document_of(bent_canvas).layout
    assert walking.middle(layout, "riser") == pytest.approx((1.1, 1.0))
    assert walking.middle(layout, "carriage") == (1.6, 1.0)
