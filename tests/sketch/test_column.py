"""The air column, as the data of what was drawn where."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from sketch.colours import LIGHT
from sketch.column_painting import ColumnDrawn, paint_column
from solver.ledger import Solution
from solver.units import System
from tests.sketch import samples

WIDTH, HEIGHT = 320, 600


def paint(solution: Solution | None, pointed: str = "", **how: object) -> tuple[ColumnDrawn, QImage]:
    image = QImage(WIDTH, HEIGHT, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    area = QRectF(0, 0, WIDTH, HEIGHT)
    drawn = paint_column(painter, area, solution, "press", LIGHT, System.US, pointed, **how)  # type: ignore[arg-type]
    painter.end()
    return drawn, image


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Fonts need an application."""


def test_slices_lie_end_to_end_in_walking_order() -> None:
    drawn, _ = paint(samples.solution())
    assert [key for key, _ in drawn.slices] == list(samples.SHARES)
    for (_, above), (_, below) in zip(drawn.slices, drawn.slices[1:], strict=False):
        assert above.bottom == pytest.approx(below.y)
