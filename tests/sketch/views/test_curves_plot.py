"""The plot of the curves: what is drawn where."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views.curves_plot import whole_stretches
from sketch.views.curves_view import CurvesView
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
    shown = plot._picture
    assert shown is not None
    area = plot.getViewBox().sceneBoundingRect().adjusted(-2, -2, 2, 2)
    for line in shown.lines:
        for x, y in zip(line.xs, line.ys, strict=True):
            if y == y:
                assert area.contains(plot.place(x, y))
    today = plot.today()
    assert today is None or area.contains(today)


def test_a_gap_parts_a_line() -> None:
    known = np.array([True, True, False, False, True, False])
    assert whole_stretches(known) == [slice(0, 2), slice(4, 5)]
    assert whole_stretches(np.zeros(3, dtype=bool)) == []
    assert whole_stretches(np.ones(3, dtype=bool)) == [slice(0, 3)]
