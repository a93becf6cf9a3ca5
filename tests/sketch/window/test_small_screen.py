"""What fills the window, on screens that have room for it and on one that has not."""

from __future__ import annotations

from types import SimpleNamespace

from PySide6.QtCore import QSize
from PySide6.QtGui import QScreen
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from sketch.window.small_screen import ScrolledWhereSmall


class OnScreen(ScrolledWhereSmall):
    """On a screen of a size that is known."""

    room = QSize(1366, 768)

    def screen(self) -> QScreen:
        return SimpleNamespace(availableSize=lambda: self.room)  # type: ignore[return-value]


def whole() -> QWidget:
    widget = QWidget()
    column = QVBoxLayout(widget)
    for field in (QLineEdit(), QLineEdit()):
        field.setMinimumSize(700, 250)
        column.addWidget(field)
    return widget


def test_a_usual_screen_never_needs_a_scroll_bar(qtbot: QtBot) -> None:
    area = OnScreen(whole())
    qtbot.addWidget(area)
    assert area.minimumSizeHint() == area.widget().minimumSizeHint()
    area.resize(area.minimumSizeHint())
    with qtbot.waitExposed(area):
        area.show()
    assert not area.horizontalScrollBar().isVisible()
    assert not area.verticalScrollBar().isVisible()


def test_a_small_screen_scrolls_to_what_the_keys_reach(qtbot: QtBot) -> None:
    area = OnScreen(whole())
    area.room = QSize(683, 384)
    qtbot.addWidget(area)
    assert area.minimumSizeHint().width() < 683
    assert area.minimumSizeHint().height() < 384
    area.resize(area.minimumSizeHint())
    with qtbot.waitExposed(area):
        area.show()
    first, second = area.findChildren(QLineEdit)
    first.setFocus()
    assert area.verticalScrollBar().value() == 0
    area.focusNextChild()
    assert second.hasFocus()
    assert area.verticalScrollBar().value() > 0
