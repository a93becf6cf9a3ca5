"""What the tests of this folder work in. Qt is imported in the fixtures: without it the folder is skipped."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from PySide6.QtCore import QSettings
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from sketch.window.main_window import Window
    from tests.sketch.window.windows import Opener


@pytest.fixture
def opener(qtbot: QtBot, qapp: QApplication) -> Opener:
    from sketch.look.appearance import Choice
    from sketch.window.main_window import make_window
    from tests.sketch.window.windows import CARRIAGE

    def opened(path: Path | None = CARRIAGE, settings: QSettings | None = None) -> Window:
        window = make_window(qapp, settings, Choice.LIGHT)
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
