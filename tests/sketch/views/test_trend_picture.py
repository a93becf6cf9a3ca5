"""A trend in a picture: the same on paper as on screen, at the scale of either."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from typing import Any

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.labels import Box
from sketch.drawing.pencil import XY, Pencil
from sketch.look.colours import LIGHT
from sketch.views.trend_picture import area_of, paint_trend
from sketch.views.trend_scale import scale_of
from solver.field.trend import Trend, TrendPoint, trends
from solver.layout import file
from tests.drawings import SHIPPED

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


def test_the_edges_of_the_line_that_is_drawn_meet_the_share_that_is_due_on_the_dates_that_are_marked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A line from reading to reading would fall below it on a third day."""
    (path,) = (each for each in SHIPPED if each.stem == "strainer-over-a-year")
    (year, *_) = trends(file.read(path).base, "feed")
    assert None not in (year.earliest, year.latest, year.due_share)
    written, bands, marks = list[str](), list[Sequence[XY]](), list[float]()
    lines, polygon, text = Pencil.lines, Pencil.polygon, Pencil.text

    def note_lines(pencil: Pencil, each: Sequence[tuple[XY, XY]], *given: Any, **named: Any) -> None:
        marks.extend(one[0] for one, other in each if given[0] == LIGHT.limit and one[0] == other[0])
        lines(pencil, each, *given, **named)

    def note_polygon(pencil: Pencil, points: Sequence[XY], *given: Any) -> None:
        bands.append(points)
        polygon(pencil, points, *given)

    def note_text(pencil: Pencil, x: float, y: float, words: str, *given: Any, **named: Any) -> None:
        written.append(words)
        text(pencil, x, y, words, *given, **named)

    monkeypatch.setattr(Pencil, "lines", note_lines)
    monkeypatch.setattr(Pencil, "polygon", note_polygon)
    monkeypatch.setattr(Pencil, "text", note_text)
    image = QImage(600, 240, QImage.Format.Format_RGB32)
    area = area_of(Box(0.0, 0.0, 600.0, 240.0), 1.0)
    painter = QPainter(image)
    paint_trend(Pencil(painter, 1.0), LIGHT, area, year)
    painter.end()
    assert {"earliest 2026-01-11", "latest 2026-01-31"} <= set(written)
    (band,) = bands
    half = len(band) // 2
    assert year.due_share is not None
    due = area.bottom - year.due_share * area.height
    met = [
        next(x for (x, y), (_, then) in pairwise(edge) if y < due <= then)
        for edge in (band[: half - 1 : -1], band[:half])
    ]
    assert met == pytest.approx(marks, abs=area.width / 96.0)
