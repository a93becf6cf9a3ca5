"""Buttons of words: what they say, what is heard, and what a click does."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu, QToolButton
from pytestqt.qtbot import QtBot

from sketch.look.buttons import word_button


def test_a_click_does_it_and_its_name_says_what_it_is_of(qtbot: QtBot) -> None:
    clicks: list[bool] = []
    button = word_button("Rename…", "case", lambda: clicks.append(True))
    qtbot.addWidget(button)
    button.show()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert clicks == [True]
    assert (button.text(), button.accessibleName()) == ("Rename…", "Rename case")


def test_a_menu_opens_at_once(qtbot: QtBot) -> None:
    menu = QMenu()
    qtbot.addWidget(menu)
    button = word_button("New", "case", menu)
    qtbot.addWidget(button)
    assert button.menu() is menu
    assert button.popupMode() == QToolButton.ToolButtonPopupMode.InstantPopup
