"""Texts and dimensions of one's own on the elevation."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.remarks import text_box
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
