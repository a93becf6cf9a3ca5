"""Buttons of words: what they say, what is heard, and what a click does."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QMenu, QToolButton
from pytestqt.qtbot import QtBot

from sketch.look.buttons import without_icons, word_button


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


def test_the_buttons_of_a_dialog_say_what_they_do_in_words_alone(qtbot: QtBot) -> None:
    dialog = QDialog()
    qtbot.addWidget(dialog)
    button = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, dialog).buttons()[0]
    picture = QPixmap(16, 16)
    picture.fill(Qt.GlobalColor.black)
    button.setIcon(QIcon(picture))
    without_icons(dialog)
    assert button.icon().isNull()
    assert button.text()
