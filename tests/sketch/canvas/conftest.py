"""Elevations on the screen. Qt is imported in the fixtures: without it the folder is skipped."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from solver.quantities.units import System

if TYPE_CHECKING:
    from PySide6.QtCore import QPoint
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from sketch.canvas.elevation import Elevation
    from sketch.window.main_window import Window


Place = Callable[[float, float], "QPoint"]


@pytest.fixture
def canvas(qtbot: QtBot, riser: Path) -> Elevation:
    from tests.sketch.canvas.mouse import shown

    return shown(qtbot, riser)


@pytest.fixture
def bent_canvas(qtbot: QtBot, bent: Path) -> Elevation:
    from tests.sketch.canvas.mouse import shown

    return shown(qtbot, bent)


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication) -> Window:
    from sketch.look.appearance import Choice
    from sketch.window.main_window import make_window

    window = make_window(qapp, None, Choice.LIGHT, keeps=False)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    window.resize(1366, 768)
    with qtbot.waitExposed(window):
        window.show()
    window.document.set_system(System.SI)
    window.actions_by_name["new"].trigger()
    window.workspace.elevation.zoom(0.6)
    return window


@pytest.fixture
def at(window: Window) -> Place:
    from PySide6.QtCore import QPointF

    return lambda x, y: QPointF(*window.workspace.elevation.view.device(x, y)).toPoint()
