"""Elevations on the screen. Qt is imported in the fixtures: without it the folder is skipped."""

from __future__ import annotations

from collections.abc import Callable, Iterator
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


@pytest.fixture(scope="module")
def one_window(qapp: QApplication) -> Iterator[Window]:
    """The window that the tests of a module share."""
    from sketch.look.appearance import ThemeChoice
    from sketch.window.main_window import make_window

    window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
    window.resize(1366, 768)
    window.show()
    yield window
    window.document.undo_stack.setClean()
    window.close()
    window.deleteLater()


@pytest.fixture
def window(qtbot: QtBot, one_window: Window) -> Window:
    """The window with a new drawing in it, as it comes up."""
    from tests.sketch.window.windows import as_new

    with qtbot.waitExposed(one_window):
        one_window.show()
    as_new(one_window)
    one_window.workspace.elevation.pick("")
    one_window.resize(1366, 768)
    one_window.actions_by_name["new"].trigger()
    one_window.document.set_system(System.SI)
    one_window.workspace.elevation.fit()
    one_window.workspace.elevation.zoom(0.6)
    return one_window


@pytest.fixture
def at(window: Window) -> Place:
    from PySide6.QtCore import QPointF

    return lambda x, y: QPointF(*window.workspace.elevation.view.device(x, y)).toPoint()
