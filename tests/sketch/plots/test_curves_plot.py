"""The plot of the curves: what is drawn where."""

from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.colours import LIGHT
from sketch.model.document import Document
from sketch.plots.curves_labels import CurvesLabels
from sketch.plots.curves_view import CurvesView
from tests.sketch.plots.curves_made_up import made_up, shown_plot
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
    labels = CurvesLabels(plot, painter, drawn, LIGHT)
    labels.name_lines(lambda line: LIGHT.ink)
    names = labels.occupied
    painter.end()
    assert names
    assert all(area.contains(name) and name.left() > ends for name in names)
    assert all(above.bottom() <= below.top() + 0.01 for above, below in pairwise(names))


@pytest.mark.parametrize(("high", "name"), [(110, "kPa abs"), (400, "Pressure at the port, kPa abs")])
def test_the_upright_axis_has_its_unit_alone_where_its_name_has_no_room(
    qtbot: QtBot, high: int, name: str
) -> None:
    plot, _around = shown_plot(qtbot, 700, high)
    plot.show_picture(made_up("Pressure at the port, kPa abs"))
    QApplication.processEvents()
    axis = plot.getAxis("left")
    assert axis.labelText == name
    label = axis.label.sceneBoundingRect()
    assert plot.getViewBox().sceneBoundingRect().adjusted(-99, -2, 0, 2).contains(label)
