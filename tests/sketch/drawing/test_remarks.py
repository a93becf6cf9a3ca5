"""Texts and dimensions of one's own on the elevation."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.recorder import Recorder
from sketch.drawing.remarks import text_box, write
from sketch.drawing.view import bounds
from sketch.editing import remarks as editing
from sketch.look.colours import LIGHT
from solver.layout.remarks import TextAnchor, TextSize
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.sketch.sheets import solution

SIZE = (900.0, 420.0)


@pytest.mark.usefixtures("qapp")
def test_each_is_written_where_it_was_put_and_what_follows_keeps_off_it() -> None:
    layout = solution("over-the-bund-wall").layout
    for start, end, at in (
        ("transfer", (0.0, 0.0), (2.0, 3.2)),
        ((0.0, 0.0), (0.0, 1.0), (-0.6, 0.5)),
        ((0.0, 0.0), (0.02, 0.0), (0.0, 2.9)),
    ):
        layout = editing.add_dimension(layout, start, end, *at)  # type: ignore[arg-type]
    layout = editing.add_text(layout, 4.2, 3.6, "crane runs here")
    solved = solve(layout)
    view = fit(layout, *SIZE)
    left, _, _, top = bounds(layout)
    assert left == pytest.approx(-0.6, abs=1e-3)
    assert top == pytest.approx(3.6, abs=1e-3), "they are in sight"
    image = QImage(round(SIZE[0]), round(SIZE[1]), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawn = paint_elevation(painter, layout, solved, view, SIZE, LIGHT, System.SI, pump="transfer")
    painter.end()
    own = {label.key: label for label in drawn.labels if label.kind in ("text", "dimension")}
    port = layout.pumps["transfer"].at[0].si
    assert [own[f"dimension {at}"].text for at in range(3)] == [f"{port:.2f} m", "1.00 m", "0.020 m"]
    assert own["text 0"].text == "crane runs here"
    x, y = view.device(4.2, 3.6)
    assert own["text 0"].box.holds(x + 1, y)
    large = replace(layout.texts[0], size=TextSize.LARGE, anchor=TextAnchor.RIGHT)
    small, box = own["text 0"].box, text_box(large, view)
    assert box.height > small.height
    assert box.x + box.width == pytest.approx(x, abs=4.0), "it ends at its place"
    boxes = [label.box for label in drawn.labels if label.kind != "legend"]
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))


LONG = "The wall of the bund stands here, and nothing may be led through it"


@pytest.mark.usefixtures("qapp")
def test_a_long_text_at_the_right_edge_is_in_sight_and_whole_on_paper() -> None:
    """It was cut: only where it begins was counted as drawn."""
    layout = solution("over-the-bund-wall").layout
    _, _, right, top = bounds(layout)
    layout = editing.add_text(layout, right, top, LONG)
    box = text_box(layout.texts[0], fit(layout, 1600.0, 600.0))
    assert box.right <= 1600.0
    for wide in (340.0, 700.0):
        view, recorder = fit(layout, wide, 300.0), Recorder(1.0, Box(0.0, 0.0, wide, 300.0))
        labels = write(recorder, layout, view, PaperPlacer(wide, 300.0), LIGHT, System.SI)
        (own,) = (label for label in labels if label.kind == "text")
        assert own.text == LONG
        assert 0.0 <= own.box.x < own.box.right <= wide
        assert own.box.height > text_box(layout.texts[0], view).height
