"""A drawing opened again is shown as it was left."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from pytestqt.qtbot import QtBot

from sketch.views.tabs import TABS
from sketch.window import last_views
from tests.sketch.window.windows import CONTROL, LAYOUTS, Opener

ONE_WINDOW = True


def kept_in(path: Path) -> QSettings:
    return QSettings(str(path / "window.ini"), QSettings.Format.IniFormat)


def test_zoom_place_tab_and_alternative_come_back_with_the_file(
    qtbot: QtBot, opener: Opener, copy: Path, tmp_path: Path
) -> None:
    window = opener(copy, kept_in(tmp_path))
    elevation, document = window.workspace.elevation, window.document
    qtbot.keyClick(window, Qt.Key.Key_Plus, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_PageDown, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_5, CONTROL)
    left, tab = elevation.sight.place, window.workspace.tabs.currentIndex()
    assert left is not None
    shown = document.alternative
    assert shown
    other = Path(shutil.copy(LAYOUTS / "header-two-pumps.toml", tmp_path / "other.toml"))
    assert window.files.read(other)
    assert elevation.sight.place is None, "one that was never left is shown whole"
    assert document.alternative == ""
    qtbot.keyClick(window, Qt.Key.Key_1, CONTROL)
    assert window.files.read(copy)
    assert elevation.sight.place == pytest.approx(left)
    assert (document.alternative, window.workspace.tabs.currentIndex()) == (shown, tab)
    window.close()
    again = opener(copy, kept_in(tmp_path))
    again.resize(1500, 900)
    assert again.workspace.elevation.sight.place == pytest.approx(left)
    assert (again.document.alternative, again.document.clean) == (shown, True)
    text = kept_in(tmp_path).value(last_views.NAME)
    assert str(copy) not in text
    assert len(json.loads(text)) == 2


@pytest.mark.thorough
def test_so_many_and_no_more_are_kept_and_nonsense_does_no_harm(
    opener: Opener, copy: Path, tmp_path: Path
) -> None:
    settings = kept_in(tmp_path)
    settings.setValue(last_views.NAME, json.dumps({str(at): {} for at in range(80)}))
    window = opener(copy, settings)
    window._last_views.keep()
    kept = json.loads(settings.value(last_views.NAME))
    assert len(kept) == last_views.MOST
    (key,) = set(kept) - {str(at) for at in range(80)}
    shown = list(TABS)[window.workspace.tabs.currentIndex()]
    assert kept[key] == {"place": None, "tab": shown, "alternative": ""}
    for nonsense in (
        [], {"place": [1e300, 0, 0]}, {"place": [100.0, 1e6, 0.0]}, {"place": ["nan", 0, 0]}, {"place": 3},
        {"place": [1.0]}, {"tab": "gone", "alternative": "gone"}, {"tab": ["x"]}, {"alternative": {}},
    ):  # fmt: skip
        settings.setValue(last_views.NAME, json.dumps({key: nonsense}))
        window._last_views.restore(copy)
        assert window.workspace.elevation.sight.place is None
        assert window.document.alternative == ""
    settings.setValue(last_views.NAME, "{")
    window._last_views.restore(copy)
