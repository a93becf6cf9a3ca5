"""A text that its field cuts is read whole by the pointer and by keys."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QToolTip, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.whole_line import WholeLine
from sketch.look.words import without_no_break

LONG = "The pump is coupled by a belt and comes up in half a second, in the cold."


def _fields(qtbot: QtBot) -> tuple[QWidget, QLineEdit, WholeLine]:
    both = QWidget()
    first, line = QLineEdit(), WholeLine(LONG)
    column = QVBoxLayout(both)
    column.addWidget(first)
    column.addWidget(line)
    both.resize(200, 80)
    qtbot.addWidget(both)
    with qtbot.waitExposed(both):
        both.show()
    both.activateWindow()
    first.setFocus()
    return both, first, line


def _hover(line: WholeLine) -> None:
    at = line.rect().center()
    QApplication.sendEvent(line, QHelpEvent(QEvent.Type.ToolTip, at, line.mapToGlobal(at)))


def test_keys_and_the_pointer_read_all_of_a_text_that_is_cut(qtbot: QtBot) -> None:
    both, first, line = _fields(qtbot)
    assert line.is_cut()
    qtbot.keyClick(first, Qt.Key.Key_Tab)
    assert line.hasFocus()
    assert LONG in without_no_break(QToolTip.text())
    QToolTip.hideText()
    _hover(line)
    assert LONG in without_no_break(line.toolTip())
    both.resize(900, 80)
    _hover(line)
    assert line.toolTip() == "", "nothing is cut"


def test_a_click_into_it_has_no_tip_over_what_lies_under(qtbot: QtBot) -> None:
    both, _, line = _fields(qtbot)
    assert both.isVisible()
    QToolTip.hideText()
    qtbot.waitUntil(lambda: not QToolTip.isVisible(), timeout=3000)
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))
    assert line.hasFocus()
    assert not QToolTip.isVisible()
