"""What the plots have in common: places in pixels, the theme, the room of a label."""

import numpy as np
import pytest
from PySide6.QtGui import QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look import colours
from sketch.plots.plot import PAD, Plot, PressureAxis, ShortAxis, size_of
from tests.sketch.shown import shown


@pytest.fixture
def plot(qtbot: QtBot) -> Plot:
    plot = shown(qtbot, Plot(), 400, 300)
    plot.setRange(xRange=(260.0, 340.0), yRange=(-5.0, 95.0), padding=0)
    return plot


def test_many_places_are_those_of_each(plot: Plot) -> None:
    xs, ys = np.linspace(265.0, 330.0, 7), np.linspace(90.0, -3.0, 7)
    for many, x, y in zip(plot.places(xs, ys), xs, ys, strict=True):
        one = plot.place(float(x), float(y))
        assert (many.x(), many.y()) == pytest.approx((one.x(), one.y()), abs=1e-6)
    assert plot.polygon(xs, ys).size() == 7


def test_the_figures_of_an_axis_have_a_true_minus_sign(plot: Plot) -> None:
    assert plot.getAxis("left").tickStrings([-5.0, 0.0], 1.0, 5.0) == ["−5", "0"]
    assert plot.getAxis("bottom").tickStrings([-0.5], 1.0, 0.5) == ["−0.5"]


def test_a_short_axis_has_no_figure_past_its_end(qtbot: QtBot) -> None:
    axis = ShortAxis("bottom")
    plot = shown(qtbot, Plot(axes={"bottom": axis}), 400, 300)
    assert plot.getAxis("bottom") is axis
    for end in (-2.0, 30.0):
        axis.end_at(end)
        places = [at for _, values in axis.tickValues(-50.0, 50.0, 300.0) for at in values]
        assert min(places) <= -40.0
        assert end - 20.0 < max(places) <= end


def test_an_axis_of_pressures_has_no_figure_below_zero(qtbot: QtBot) -> None:
    axis = PressureAxis("left")
    plot = shown(qtbot, Plot(axes={"left": axis}), 400, 300)
    assert plot.getAxis("left") is axis
    places = [at for _, values in axis.tickValues(-40.0, 100.0, 300.0) for at in values]
    assert min(places) == 0.0
    assert max(places) > 90.0


def test_axes_follow_the_theme(qtbot: QtBot, plot: Plot) -> None:
    before = plot.backgroundBrush().color()
    plot.setPalette(colours.palette(colours.DARK))
    QApplication.processEvents()
    assert plot.backgroundBrush().color() != before
    assert plot.backgroundBrush().color() == colours.DARK.paper


def test_a_label_has_room_for_its_longest_line_and_for_all_of_them(qtbot: QtBot) -> None:
    image = QImage(10, 10, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    metrics = QFontMetricsF(painter.font())
    size = size_of(painter, "short\nrather longer")
    painter.end()
    assert size.width() == pytest.approx(metrics.horizontalAdvance("rather longer") + 2 * PAD)
    assert size.height() == pytest.approx(2 * metrics.lineSpacing() + PAD)


def test_an_upright_axis_has_its_unit_alone_where_its_name_has_no_room(qtbot: QtBot) -> None:
    plot = shown(qtbot, Plot(), 400, 300)
    plot.name_upright("left", "Absolute pressure, inHg abs")
    assert plot.getAxis("left").labelText == "Absolute pressure, inHg abs"
    plot.resize(400, 100)
    qtbot.waitUntil(lambda: plot.getAxis("left").labelText == "inHg abs")
    plot.resize(400, 300)
    qtbot.waitUntil(lambda: plot.getAxis("left").labelText == "Absolute pressure, inHg abs")
