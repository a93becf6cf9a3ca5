"""Readings on the profile: at their place along the line, in the colour of what they say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QImage, QPainter

from sketch.look.colours import LIGHT
from sketch.model.doubt import MarginBand
from sketch.model.read_marks import newest_readings
from sketch.plots.profile import profile
from sketch.plots.profile_reads import paint_along, paint_band, paint_reads
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.sketch import by_hand
from tests.sketch.views.gauged import gauged


@pytest.mark.usefixtures("qapp")
def test_each_is_drawn_where_it_was_read_with_what_was_expected(tmp_path: Path) -> None:
    layout = file.read(gauged(tmp_path)).base
    solution = solve(layout)
    marks = newest_readings(layout).marks["transfer"]
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


@pytest.mark.usefixtures("qapp")
def test_how_sure_the_port_is_stands_there_from_the_floor_up(tmp_path: Path) -> None:
    solution = solve(file.read(gauged(tmp_path)).base)
    ledger = solution.pumps["transfer"]
    band = MarginBand(-2000.0, 3000.0)
    assert profile(solution, "transfer", System.SI).band is None
    shown = profile(solution, "transfer", System.SI, band=band)
    assert shown.band == (pytest.approx(ledger.floor / 1e3 - 2.0), pytest.approx(ledger.floor / 1e3 + 3.0))
    image = QImage(600, 300, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    end, area = shown.stretches[-1].x1, QRectF(0, 0, 600, 300)

    def place(x: float, y: float) -> QPointF:
        return QPointF(400.0 * x / end, 200.0 - 10.0 * (y - ledger.floor / 1e3))

    label = paint_band(painter, place, shown, LIGHT, area)
    beside = paint_band(painter, place, shown, LIGHT, area, label.intersects)
    painter.end()
    assert area.contains(label)
    assert area.contains(beside)
    assert not beside.intersects(label), "the line runs through its first place"
    inside, beyond = image.pixelColor(404, 190), image.pixelColor(404, 240)
    assert inside != LIGHT.paper
    assert beyond == LIGHT.paper


@pytest.mark.usefixtures("qapp")
def test_the_band_along_the_line_is_shaded_and_what_is_missing_is_written() -> None:
    shown = profile(by_hand.solution(), "press", System.SI, unknown="no trial could be solved")
    shown = replace(shown, along=((0.0, 90.0, 100.0), (2.0, 80.0, 90.0)))
    image = QImage(300, 200, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)

    def place(x: float, y: float) -> QPointF:
        return QPointF(100 * x, 5 * (110 - y))

    paint_along(painter, place, shown, LIGHT)
    area = QRectF(0, 0, 300, 200)
    label = paint_band(painter, place, shown, LIGHT, area)
    painter.end()
    assert area.contains(label)
    within, outside = (image.pixelColor(place(*at).toPoint()) for at in ((1.0, 90.0), (1.0, 99.0)))
    assert within != LIGHT.paper
    assert outside == LIGHT.paper
