"""Profiles to look at."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.plots.profile_plot import ProfilePlot
from sketch.plots.profile_view import PressureProfile

LAYOUTS = Path(__file__).parents[3] / "layouts"


class Shown(NamedTuple):
    """A profile on the screen; a view that nobody holds takes its plot with it."""

    document: Document
    view: PressureProfile
    plot: ProfilePlot


def shown(qtbot: QtBot, name: str) -> Shown:
    document = Document()
    document.open(LAYOUTS / name)
    view = PressureProfile(document)
    qtbot.addWidget(view)
    view.resize(1100, 320)
    with qtbot.waitExposed(view):
        view.show()
    assert view.plot is not None
    view.plot.grab()  # lays the axes out
    QApplication.processEvents()  # and once more, to the width of the figures on them
    view.plot.grab()
    return Shown(document, view, view.plot)
