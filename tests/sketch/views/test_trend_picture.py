"""A trend in a picture: the same on paper as on screen, at the scale of either."""

from __future__ import annotations

from datetime import datetime

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.look.colours import LIGHT
from sketch.views.trend_picture import area_of, paint_trend
from sketch.views.trend_scale import scale_of
from solver.field.trend import Trend, TrendPoint

pytestmark = pytest.mark.usefixtures("qapp")

POINTS = tuple(
    TrendPoint(number, datetime(2026, 3 + 3 * number, 4), share, share - 0.05, share + 0.05, False)
    for number, share in enumerate((0.7, 0.4, 0.2))
)
TREND = Trend("press", "strainer", "A", "the port", POINTS, 0.1, None, None, "3 readings: a trend needs 4")


@pytest.mark.parametrize("dot", [1.0, 2.0])
def test_every_reading_lies_at_its_date_and_share_at_any_scale(dot: float) -> None:
    image = QImage(int(400 * dot), int(200 * dot), QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    area = area_of(Box(0.0, 0.0, 400.0 * dot, 200.0 * dot), dot)
    painter = QPainter(image)
    paint_trend(Pencil(painter, dot), LIGHT, area, TREND)
    painter.end()
    for point in POINTS:
        x = area.x + scale_of(TREND).across(point.when) * area.width
        y = area.bottom - point.open_share * area.height
        assert image.pixelColor(round(x), round(y)) == LIGHT.accent
        above = image.pixelColor(round(x) + int(12 * dot), round(y) - int(6 * dot))
        assert above != LIGHT.accent
