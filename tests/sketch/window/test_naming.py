"""The box that asks for a name."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.window.naming import ask_for_name

HOSTILE = "Another name for <img src='x'>:"


def answered(qtbot: QtBot, key: Qt.Key) -> str | None:
    """What comes of the question where that key ends it; every label is seen to be plain text."""
    parent = QWidget()
    qtbot.addWidget(parent)
    seen: list[str] = []

    def answer() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QDialog)
        for label in box.findChildren(QLabel):
            assert label.textFormat() == Qt.TextFormat.PlainText
            seen.append(label.text())
        field = box.findChild(QLineEdit)
        QTest.keyClicks(field, "line")
        QTest.keyClick(field, key)

    QTimer.singleShot(0, parent, answer)
    name = ask_for_name(parent, "Rename", HOSTILE, "riser")
    assert HOSTILE in seen
    return name


def test_what_is_typed_over_the_name_is_returned(qtbot: QtBot) -> None:
    assert answered(qtbot, Qt.Key.Key_Return) == "line"


def test_nothing_is_returned_where_it_is_given_up(qtbot: QtBot) -> None:
    assert answered(qtbot, Qt.Key.Key_Escape) is None
