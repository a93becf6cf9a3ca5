"""The elevation, tested as the data of what was drawn where, and by a handful of pixels."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.colours import LIGHT, Theme
from sketch.painting import Drawn, View, fit, paint_elevation
from solver.layout import Layout
from solver.ledger import Solution
from solver.units import System
from tests.sketch import samples

SIZE = (1000.0, 640.0)


def paint(
    layout: Layout, solution: Solution | None, theme: Theme = LIGHT, view: View | None = None, **how: object
) -> tuple[Drawn, QImage, View]:
    image = QImage(int(SIZE[0]), int(SIZE[1]), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    seen = view or fit(layout, *SIZE)
    drawn = paint_elevation(painter, layout, solution, seen, SIZE, theme, System.SI, pump="press", **how)  # type: ignore[arg-type]
    painter.end()
    return drawn, image, seen


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Fonts need an application."""


def test_no_label_covers_another() -> None:
    drawn, _, _ = paint(samples.layout(), samples.solution(), highest_port=1.7)
    boxes = [label.box for label in drawn.labels]
    assert len(boxes) > 8
    assert not [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if a.overlaps(b)]
