"""Elevations on the screen."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.look.appearance import Choice
from sketch.window.main_window import Window, make_window
from solver.quantities.units import System
from tests.sketch.canvas.mouse import shown


@pytest.fixture
def canvas(qtbot: QtBot, riser: Path) -> Elevation:
    return shown(qtbot, riser)


@pytest.fixture
def bent_canvas(qtbot: QtBot, bent: Path) -> Elevation:
    return shown(qtbot, bent)


Place = Callable[[float, float], QPoint]


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication) -> Window:
    made = make_window(qapp, None, Choice.LIGHT, keeps=False)
    qtbot.addWidget(made, before_close_func=lambda each: each.document.undo_stack.setClean())
    made.resize(1366, 768)
    with qtbot.waitExposed(made):
        made.show()
    made.document.set_system(System.SI)
    made.actions_by_name["new"].trigger()
    made.workspace.elevation.zoom(0.6)
    return made


@pytest.fixture
def at(window: Window) -> Place:
    return lambda x, y: QPointF(*window.workspace.elevation.view.device(x, y)).toPoint()
