"""Readings on the profile: at their place along the line, in the colour of what they say."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage, QPainter

from sketch.look.colours import LIGHT
from sketch.model.read_marks import read_marks
from sketch.views.profile import profile
from sketch.views.profile_reads import paint_reads
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.sketch.views.gauged import gauged


@pytest.mark.usefixtures("qapp")
def test_each_is_drawn_where_it_was_read_with_what_was_expected(tmp_path: Path) -> None:
    layout = file.read(gauged(tmp_path)).base
    solution = solve(layout)
    marks = read_marks(layout)["transfer"]
    shown = profile(solution, "transfer", System.SI, reads=marks)
    atmosphere = solution.pumps["transfer"].atmosphere / 1e3
    tap, port = shown.reads
    assert port.shown == (pytest.approx(atmosphere - 40.0),) * 2
    assert tap.x == pytest.approx(marks[0].at)
    assert tap.expected[0] < tap.shown[0] < tap.expected[1]
    image = QImage(700, 500, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    drawn = paint_reads(painter, lambda x, y: QPointF(100 * x, 5 * (110 - y)), shown.reads, LIGHT)
    painter.end()
    for read, at in drawn:
        colour = LIGHT.stop if read.over else LIGHT.accent
        ring = {image.pixelColor(round(at.x()) + dx, round(at.y())).name() for dx in (3, 4, 5)}
        assert colour.name() in ring
