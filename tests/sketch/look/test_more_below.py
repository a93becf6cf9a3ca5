"""A list fades into its lower edge while more follows, and there alone."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget
from pytestqt.qtbot import QtBot

from sketch.look.more_below import HEIGHT, MoreBelow


def _list(qtbot: QtBot, rows: int) -> tuple[QListWidget, MoreBelow]:
    shown = QListWidget()
    qtbot.addWidget(shown)
    shown.addItems([f"{at}: a row that is long enough to be seen" for at in range(rows)])
    fade = MoreBelow(shown)
    shown.resize(300, 107)
    shown.show()
    return shown, fade


def test_it_lies_on_the_lower_edge_until_the_end_is_reached(qtbot: QtBot) -> None:
    shown, fade = _list(qtbot, 30)
    port = shown.viewport().geometry()
    assert fade.isVisible()
    assert (fade.geometry().bottom(), fade.width(), fade.height()) == (port.bottom(), port.width(), HEIGHT)
    shown.resize(400, 90)
    assert fade.geometry().bottom() == shown.viewport().geometry().bottom()
    foot = shown.grab().toImage().pixelColor(30, fade.geometry().bottom())
    assert foot == shown.viewport().palette().base().color(), "nothing of a row is cut through"
    shown.verticalScrollBar().setValue(shown.verticalScrollBar().maximum())
    assert not fade.isVisible()


def test_a_list_that_fits_has_none(qtbot: QtBot) -> None:
    _, fade = _list(qtbot, 3)
    assert not fade.isVisible()


def test_a_row_that_is_whole_at_the_edge_is_left_as_it_is(qtbot: QtBot) -> None:
    shown, _ = _list(qtbot, 30)
    high = shown.visualItemRect(shown.item(0)).height()
    shown.setCurrentRow(3)
    for pixels, whole in ((4 * high, True), (4 * high - 3, False)):
        shown.resize(300, pixels + shown.height() - shown.viewport().height())
        edge = shown.viewport().geometry().bottom()
        foot = shown.grab().toImage().pixelColor(shown.width() // 2, edge)
        assert (foot == shown.palette().highlight().color()) is whole


def test_a_row_under_it_can_be_clicked(qtbot: QtBot) -> None:
    shown, fade = _list(qtbot, 30)
    QTest.mouseClick(
        shown.windowHandle(), Qt.MouseButton.LeftButton, pos=fade.geometry().topLeft() + fade.rect().center()
    )
    assert shown.currentRow() > 0
