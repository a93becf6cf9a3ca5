"""What is written on the plot of the curves lies within it, and on nothing else that is written."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.colours import LIGHT
from sketch.plots.curves import CurvesPicture, Unjudged
from sketch.plots.curves_labels import NOT_JUDGED, TRANSITIONAL, CurvesLabels
from sketch.plots.curves_plot import CurvesPlot
from tests.sketch.plots.curves_made_up import made_up, shown_plot


@pytest.fixture
def plot(qtbot: QtBot) -> Iterator[CurvesPlot]:
    plot, around = shown_plot(qtbot, 700, 200)
    yield plot
    around.close()


def written(plot: CurvesPlot, picture: CurvesPicture) -> dict[str, QRectF]:
    """Every label on its own paper, by its text."""
    plot.show_picture(picture)
    QApplication.processEvents()
    texts: dict[str, QRectF] = {}
    plot.label = lambda painter, box, text, *inks: texts.setdefault(text, box)
    image = QImage(plot.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.setFont(plot.font())
    labels = CurvesLabels(plot, painter, picture, LIGHT)
    labels.write(lambda line: LIGHT.ink)
    painter.end()
    area = plot.getViewBox().sceneBoundingRect()
    assert all(area.adjusted(-1, -1, 1, 1).contains(box) for box in labels.occupied)
    assert not any(one.intersects(other) for one, other in combinations(labels.occupied, 2))
    return texts


def test_the_figure_of_a_crossing_leaves_the_names_of_the_lines_alone(plot: CurvesPlot) -> None:
    """Where the limit is crossed just before the lines end, its figure stands left of them."""
    texts = written(plot, made_up("Margin, kPa", crossing=9.9))
    assert texts["9.9 m"].right() <= plot.place(10.0, 0.0).x()


def test_what_is_shaded_is_named_where_no_curve_runs(plot: CurvesPlot) -> None:
    gap = Unjudged(7.0, 10.0, "from 7 m to 10 m", "", "nothing can be solved")
    texts = written(plot, made_up("Margin, kPa", between=((0.0, 2.0),), gaps=(gap,)))
    area = plot.getViewBox().sceneBoundingRect()
    assert texts[TRANSITIONAL].bottom() > area.center().y(), "the curve begins at the top"
    assert texts[NOT_JUDGED].top() < area.center().y(), "and ends at the foot"


def test_what_leads_to_the_name_of_a_line_that_ends_early_is_no_curve(plot: CurvesPlot) -> None:
    """It is dotted: a full line would be read as one more stretch of the curve."""
    whole, early = (made_up("Margin, kPa", end=end) for end in (10.0, 4.0))
    images = []
    for picture in (whole, early):
        plot.show_picture(picture)
        QApplication.processEvents()
        images.append(plot.grab().toImage())
    at = plot.place(6.0, 0.0).x()
    column = [images[1].pixelColor(round(at + step), y) for y in range(plot.height()) for step in range(8)]
    assert images[0] != images[1]
    assert sum(colour == plot._theme.quiet for colour in column) < 8
