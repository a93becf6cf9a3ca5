"""The frame of a rubber band."""

from __future__ import annotations

from sketch.canvas.band import Band
from sketch.drawing.view import View
from tests.drawings import stand


def test_a_part_is_selected_once_all_of_it_lies_in_the_frame() -> None:
    layout = stand()
    whole = Band((-1.0, -1.0), (5.0, 5.0)).selection(layout)
    assert set(whole) == {"tank", "strainer", "isolator", "press", "riser", "lead"}
    upper = Band((5.0, 5.0), (0.5, 1.0), before=("tank",)).selection(layout)
    assert upper == ("tank", "isolator", "press", "lead"), "the riser sticks out of it"


def test_the_frame_lies_where_it_was_drawn() -> None:
    assert Band((1.0, 2.0), (0.0, 1.0)).box(View(100.0, 10.0, 500.0)) == (10.0, 300.0, 100.0, 100.0)
