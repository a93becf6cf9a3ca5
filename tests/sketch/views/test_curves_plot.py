"""The plot of the curves: what is drawn where."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views.curves import Band, BandRole, Line, LineRole, Mark, Picture
from sketch.views.curves_plot import CurvesPlot
from sketch.views.curves_view import CurvesView
from solver.quantities.units import Kind, System
from tests.sketch.shown import shown
from tests.thorough import one_in

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.mark.parametrize("file", one_in(15, sorted(LAYOUTS.glob("*.toml"))), ids=lambda file: file.stem)
def test_every_line_lies_within_the_axes(qtbot: QtBot, file: Path) -> None:
    document = Document()
    document.open(file)
    view = CurvesView(document)
    qtbot.addWidget(view)
    view.resize(1100, 340)
    with qtbot.waitExposed(view):
        view.show()
    qtbot.waitUntil(lambda: view.plot is not None and not view.stale, timeout=20000)
    plot = view.plot
    assert plot is not None
    plot.grab()
    QApplication.processEvents()
    drawn = plot._picture
    assert drawn is not None
    area = plot.getViewBox().sceneBoundingRect().adjusted(-2, -2, 2, 2)
    for line in drawn.lines:
        for x, y in zip(line.xs, line.ys, strict=True):
            if y == y:
                assert area.contains(plot.place(x, y))
    today = plot.today()
    assert today is None or area.contains(today)
    ends = plot.place(float(drawn.lines[0].xs[-1]), 0.0).x()
    image = QImage(10, 10, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    names = plot._name_lines(painter, plot.getViewBox().sceneBoundingRect())
    painter.end()
    assert names
    assert all(area.contains(name) and name.left() > ends for name in names)
    assert all(above.bottom() <= below.top() + 0.01 for above, below in pairwise(names))


@pytest.mark.parametrize(("high", "name"), [(110, "kPa abs"), (400, "Pressure at the port, kPa abs")])
def test_the_upright_axis_has_its_unit_alone_where_its_name_has_no_room(
    qtbot: QtBot, high: int, name: str
) -> None:
    plot = shown(qtbot, CurvesPlot(), 700, high)
    plot.show_picture(made_up("Pressure at the port, kPa abs"))
    QApplication.processEvents()
    axis = plot.getAxis("left")
    assert axis.labelText == name
    label = axis.label.sceneBoundingRect()
    assert plot.getViewBox().sceneBoundingRect().adjusted(-99, -2, 0, 2).contains(label)


def test_figures_of_crossings_leave_the_names_of_the_lines_alone(qtbot: QtBot) -> None:
    """Where the limit is crossed just before the lines end, its figure stands left of them."""
    plot = shown(qtbot, CurvesPlot(), 700, 160)
    plot.show_picture(made_up("Margin, kPa", crossing=9.9))
    QApplication.processEvents()
    written: list[QRectF] = []
    plot.label = lambda painter, box, *rest: written.append(box)
    plot.grab()
    ends = plot.place(10.0, 0.0).x()
    (figure,) = written
    assert figure.right() <= ends
    assert plot.getViewBox().sceneBoundingRect().contains(figure)


def made_up(y_label: str, crossing: float = 5.0) -> Picture:
    """A curve that falls to its limit at `crossing`, over what goes from 0 to 10 m."""
    xs = np.linspace(0.0, 10.0, 41)
    ys = crossing - xs
    lines = (Line("worst case", LineRole.WORST, xs, ys), Line("cold", LineRole.CASE, xs, ys))
    band = Band(BandRole.OVER, "over", xs, np.full(41, -1e9), np.zeros(41))
    mark = Mark(crossing, 0.0, f"{crossing} m")
    today = Mark(2.0, crossing - 2.0, "today")
    kinds = (Kind.LENGTH, Kind.VACUUM, System.SI)
    return Picture(lines, (band,), (), (mark,), today, "Port height of press, m", y_label, *kinds, ())
