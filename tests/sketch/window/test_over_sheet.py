"""What is said over the drawing: nothing under the pointer moves, and keys, mouse or a step put it away."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from sketch.window.main_window import Window
from sketch.window.over_sheet import LEAST_WIDTH
from tests.sketch.window.windows import CARRIAGE, Opener

ONE_WINDOW = True
SHIFT = Qt.KeyboardModifier.ShiftModifier


def refused(window: Window) -> None:
    """A line asked for a size that its standard has not, by keys."""
    elevation = window.workspace.elevation
    window.document.select("riser")
    elevation.setFocus()
    for _ in range(30):
        if window.notice.text:
            break
        QTest.keyClick(elevation, Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier)
    assert "cannot be done" in window.notice.text
    QTest.qWait(0)


def lies(window: Window) -> tuple[QRect, object]:
    """Where the sheet lies in the window, with the scale and place that it shows."""
    elevation = window.workspace.elevation
    return QRect(elevation.mapTo(window, QPoint()), elevation.size()), elevation.view


def bar(window: Window) -> QRect:
    notice = window.notice
    return QRect(notice.mapTo(window, QPoint()), notice.size())


def test_nothing_under_the_pointer_moves_where_a_notice_comes_or_goes(opener: Opener, qtbot: QtBot) -> None:
    window = opener(CARRIAGE)
    refused(window)
    QTest.keyClick(window.workspace.elevation, Qt.Key.Key_Escape, SHIFT)
    before = lies(window)
    refused(window)
    assert lies(window) == before
    sheet, said = before[0], bar(window)
    assert said.topLeft() == sheet.topLeft()
    assert said.height() < sheet.height() / 3
    button = next(each for each in window.notice.findChildren(QPushButton) if each.text() == "Dismiss")
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.notice.text == ""
    assert window.childAt(sheet.center().x(), sheet.top() + 8) is window.workspace.elevation
    assert lies(window) == before


def test_a_key_puts_it_away(opener: Opener) -> None:
    window = opener(CARRIAGE)
    refused(window)
    QTest.keyClick(window.workspace.elevation, Qt.Key.Key_Escape, SHIFT)
    assert window.notice.text == ""
    refused(window)
    QTest.keyClick(window.workspace.elevation, Qt.Key.Key_Escape)
    assert window.document.selected_part == ""
    assert window.notice.text
    QTest.keyClick(window.workspace.elevation, Qt.Key.Key_Escape)
    assert window.notice.text == ""


def test_the_keyboard_returns_to_the_drawing_with_it(opener: Opener) -> None:
    window = opener(CARRIAGE)
    refused(window)
    button = next(each for each in window.notice.findChildren(QPushButton) if each.text() == "Dismiss")
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Space)
    assert window.notice.text == ""
    assert window.workspace.elevation.hasFocus()


def test_a_refusal_goes_by_itself_with_the_next_step(opener: Opener) -> None:
    window = opener(CARRIAGE)
    refused(window)
    QTest.keyClick(window.workspace.elevation, Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    assert window.notice.text == ""


def test_it_follows_the_sheet_and_what_it_says(opener: Opener, qtbot: QtBot) -> None:
    window = opener(CARRIAGE)
    refused(window)
    low = bar(window).height()
    window.workspace.toggle("shelf")
    qtbot.waitUntil(lambda: bar(window).topLeft() == lies(window)[0].topLeft())
    window.workspace.toggle("shelf")
    window.notice.show_message("A sentence that says what came of it at length. " * 12)
    qtbot.waitUntil(lambda: bar(window).height() > low)
    assert bar(window).width() == max(lies(window)[0].width(), LEAST_WIDTH)


def test_where_no_drawing_is_shown_it_lies_over_the_page_that_offers_some(opener: Opener) -> None:
    window = opener(None, own=True)
    window.notice.show_message("It was not opened.")
    QTest.qWait(0)
    assert bar(window).width() == window.width()
