"""The page of what mouse and keys do."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from tests.sketch.window.windows import Opener


def test_help_says_what_the_hand_does(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window._help is not None
    assert window._help.isVisible()
    text = window._help.text.toPlainText()
    for word in ("Drag a straight", "corner of a tank", "Alt while dragging", "Double-click a dimension"):
        assert word in text
    window._help.close()
    assert window.document.path is not None
