"""The boxes that ask for a text or a choice."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QDialogButtonBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.look import asking
from sketch.look.asking import ask_for_choice, ask_for_text

HOSTILE = "Another name for <img src='x'>:"


def answered(
    qtbot: QtBot, ask: Callable[[QWidget], str | None], field: type[QWidget], *keys: Qt.Key
) -> str | None:
    """What comes of a question once those keys are typed; every label is seen to be plain text."""
    parent = QWidget()
    qtbot.addWidget(parent)
    seen: list[str] = []

    def answer() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QDialog)
        for label in box.findChildren(QLabel):
            assert label.textFormat() == Qt.TextFormat.PlainText
            seen.append(label.text())
        for key in keys:
            QTest.keyClick(box.findChild(field), key)

    QTimer.singleShot(0, parent, answer)
    text = ask(parent)
    assert HOSTILE in seen
    return text


def name(parent: QWidget) -> str | None:
    return ask_for_text(parent, "Rename", HOSTILE, "riser")


def state(parent: QWidget) -> str | None:
    return ask_for_choice(parent, "State", HOSTILE, ("open", "closed"), "open")


def test_what_is_typed_over_the_name_is_returned(qtbot: QtBot) -> None:
    assert answered(qtbot, name, QLineEdit, Qt.Key.Key_A, Qt.Key.Key_Return) == "a"


def test_nothing_is_returned_where_it_is_given_up(qtbot: QtBot) -> None:
    assert answered(qtbot, name, QLineEdit, Qt.Key.Key_A, Qt.Key.Key_Escape) is None


def test_one_of_a_list_is_chosen(qtbot: QtBot) -> None:
    assert answered(qtbot, state, QComboBox, Qt.Key.Key_Down, Qt.Key.Key_Return) == "closed"
    assert answered(qtbot, state, QComboBox, Qt.Key.Key_Return) == "open"
    assert answered(qtbot, state, QComboBox, Qt.Key.Key_Down, Qt.Key.Key_Escape) is None


def test_its_buttons_are_there_to_lose_their_icons_before_it_is_seen(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    count: list[int] = []

    def counted(dialog: QDialog) -> None:
        count.extend(len(box.buttons()) for box in dialog.findChildren(QDialogButtonBox))

    monkeypatch.setattr(asking, "without_icons", counted)
    assert answered(qtbot, name, QLineEdit, Qt.Key.Key_Return) == "riser"
    assert count == [2]
