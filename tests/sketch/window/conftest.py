"""What the tests of this folder work in. Qt is imported in the fixtures: without it the folder is skipped."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from PySide6.QtCore import QSettings
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from sketch.window.main_window import Window
    from tests.sketch.window.windows import Opener


@pytest.fixture(scope="module")
def windows(qapp: QApplication) -> Iterator[list[Window]]:
    """The window that the tests of a module share, once it is made: those whose ONE_WINDOW says so."""
    windows: list[Window] = []
    yield windows
    for window in windows:
        window.document.undo_stack.setClean()
        window.close()
        window.deleteLater()


@pytest.fixture
def opener(qtbot: QtBot, qapp: QApplication, request: pytest.FixtureRequest, windows: list[Window]) -> Opener:
    from sketch.look.appearance import ThemeChoice
    from sketch.window.main_window import make_window
    from tests.sketch.window.windows import CARRIAGE, as_new

    one_window = getattr(request.module, "ONE_WINDOW", False)

    def opened(
        path: Path | None = CARRIAGE, settings: QSettings | None = None, *, own: bool = False
    ) -> Window:
        shares = one_window and path is not None and settings is None and not own
        if shares and windows and windows[0].isVisible():
            as_new(windows[0])
            assert windows[0].files.read(path)
            qapp.processEvents()
            return windows[0]
        window = make_window(qapp, settings, ThemeChoice.LIGHT)
        if shares:
            windows[:] = [window]
        else:
            qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
        if path is not None:
            assert window.files.read(path)
        with qtbot.waitExposed(window):
            window.show()
        window.activateWindow()
        return window

    return opened


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    from tests.sketch.window.windows import CARRIAGE

    return Path(shutil.copy(CARRIAGE, tmp_path / "carriage.toml"))
