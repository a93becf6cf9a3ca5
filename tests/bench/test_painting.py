"""Full repaints of the elevation and the air column, beside a bare paint of the same figures."""

from __future__ import annotations

import pytest

from solver.layout import file
from solver.ledger import solve
from tests import drawings
from tests.bench.bare import bare_paint
from tests.bench.clock import medians, tell

pytestmark = pytest.mark.bench

SIZE = (1400.0, 900.0)
PANEL = (320.0, 700.0)
STEEP = 8.0
"""A repaint places every label anew; what it may cost at most, in bare paints."""


@pytest.mark.parametrize(
    ("elements", "flow", "allowed"),
    [(20, "30 L/min", 3.0), (20, "300 L/min", 3.0), (200, "30 L/min", 8.0), (200, "300 L/min", None)],
    ids=["20", "20 over the budget", "200", "200 far over the budget"],
)
@pytest.mark.usefixtures("qapp")
def test_a_full_repaint(elements: int, flow: str, allowed: float | None) -> None:
    """Glyphs, labels and all, at 1400x900 on a raster; over the budget everything is hatched and labelled."""
    from PySide6.QtCore import QRectF
    from PySide6.QtGui import QImage, QPainter

    from sketch.air_column.painting import paint_column
    from sketch.drawing.painting import Drawn, fit, paint_elevation
    from sketch.look.colours import LIGHT
    from solver.quantities.units import System

    layout = file.parse(drawings.steps_text(elements, flow), "bench").base
    solution = solve.solve(layout)
    sheet = QImage(int(SIZE[0]), int(SIZE[1]), QImage.Format.Format_RGB32)
    panel = QImage(int(PANEL[0]), int(PANEL[1]), QImage.Format.Format_RGB32)
    view = fit(layout, *SIZE)

    def elevation() -> Drawn:
        painter = QPainter(sheet)
        drawn = paint_elevation(
            painter, layout, solution, view, SIZE, LIGHT, System.SI, pump="pump", highest_port=1.0
        )
        painter.end()
        return drawn

    def column() -> None:
        painter = QPainter(panel)
        paint_column(painter, QRectF(0, 0, *PANEL), solution, "pump", LIGHT, System.SI)
        painter.end()

    bare = bare_paint(elevation(), sheet)
    plain, whole, beside = medians(bare, elevation, column, repeats=61)
    print()
    rows = len(solution.network.rows)
    tell(f"bare paint of {rows} rows, the baseline", plain * 1e3, "ms")
    tell(f"repaint of the elevation, {rows} rows at {flow}", whole * 1e3, "ms", allowed)
    tell("  in bare paints", whole / plain, "", STEEP)
    tell("repaint of the air column", beside * 1e3, "ms", 1.0 if elements == 20 else None)
    assert whole < STEEP * plain
