"""What a key gave the keyboard to has a frame, in every view where nothing else marks it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QTableWidget, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.appearance import theme_of
from sketch.look.focus_frame import FocusFrame
from tests.sketch.pixels import places_near


@pytest.fixture
def form(qtbot: QtBot) -> QWidget:
    """A field above a table that has a frame."""
    form = QWidget()
    qtbot.addWidget(form)
    column = QVBoxLayout(form)
    column.addWidget(QLineEdit())
    column.addWidget(QTableWidget())
    form.resize(300, 200)
    form.show()
    form.activateWindow()
    qtbot.waitUntil(form.isActiveWindow)
    return form


def test_it_is_seen_once_a_key_has_led_there_and_goes_with_the_keyboard_or_the_mouse(
    qtbot: QtBot, form: QWidget
) -> None:
    field, table = form.findChild(QLineEdit), form.findChild(QTableWidget)
    assert field is not None
    assert table is not None
    frame = FocusFrame(table)
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is table
    assert frame.isVisible()
    assert frame.geometry() == table.rect()
    accent = places_near(table.grab().toImage(), theme_of(table.palette()).accent)
    assert {(0, table.height() // 2), (table.width() - 1, table.height() // 2)} <= accent
    form.resize(400, 260)
    QApplication.processEvents()
    assert frame.geometry() == table.rect()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(20, 40))
    assert not frame.isVisible()
    QTest.keyClick(table, Qt.Key.Key_Backtab)
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(20, 40))
    assert (table.hasFocus(), frame.isVisible()) == (True, False), "a click marks what it was on"
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Tab)
    QTest.keyClick(table, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    assert (field.hasFocus(), frame.isVisible()) == (True, False)
