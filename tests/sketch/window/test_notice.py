"""The bar across the window: one message at a time, with what can be done."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from sketch.window.notice import HEADINGS, LEFT_OUT, MOST_ROWS, Notice
from solver.layout.file import Problem


@pytest.fixture
def notice(qtbot: QtBot) -> Notice:
    notice = Notice()
    qtbot.addWidget(notice)
    notice.resize(800, 200)
    return notice


def buttons(notice: Notice) -> list[QPushButton]:
    QApplication.sendPostedEvents(None, 52)  # those that are to go, go
    return notice.findChildren(QPushButton)


def test_it_is_not_there_until_it_has_something_to_say(notice: Notice) -> None:
    assert notice.isHidden()
    assert notice.text == ""
    notice.show_message("Saved elsewhere.")
    assert not notice.isHidden()
    assert notice.text == "Saved elsewhere."


def test_an_answer_is_given_once_and_closes_it(qtbot: QtBot, notice: Notice) -> None:
    given: list[str] = []
    notice.show_message("Keep it?", [("Keep", lambda: given.append("kept"))])
    keep, dismiss = buttons(notice)
    assert dismiss.text() == "Dismiss"
    qtbot.mouseClick(keep, Qt.MouseButton.LeftButton)
    assert given == ["kept"]
    assert notice.isHidden()


def test_dismissed_it_does_nothing(qtbot: QtBot, notice: Notice) -> None:
    given: list[str] = []
    notice.show_message("Keep it?", [("Keep", lambda: given.append("kept"))])
    qtbot.mouseClick(buttons(notice)[-1], Qt.MouseButton.LeftButton)
    assert given == []
    assert notice.isHidden()


def test_a_later_message_replaces_the_first_with_its_answers(notice: Notice) -> None:
    notice.show_message(
        "First?", [("One", lambda: None), ("Two", lambda: None)], [Problem("", 3, 1, "a", "b", "c")]
    )
    assert notice.rows() == [("3", "a", "b", "c")]
    notice.show_message("Second.")
    assert notice.text == "Second."
    assert [button.text() for button in buttons(notice)] == ["Dismiss"]
    assert notice.rows() == []


def test_a_long_list_is_shown_a_few_rows_at_a_time(notice: Notice) -> None:
    problems = [Problem("", row, 1, f"key {row}", "found", "allowed") for row in range(1, 40)]
    notice.show_message("Not read.", problems=problems)
    assert len(notice.rows()) == 39
    assert len(HEADINGS) == len(notice.rows()[0])
    height = notice._list.height()
    notice.show_message("Not read.", problems=problems[:MOST_ROWS])
    assert notice._list.height() == height
    notice.show_message("Not read.", problems=problems[:1])
    assert notice._list.height() < height


def test_what_is_wrong_in_several_catalogues_stands_with_its_file(notice: Notice) -> None:
    notice.show_left_out(
        (Problem("/a/one.parts.toml", 3, 1, "k", "b", "c"), Problem("/a/two.parts.toml", 0, 0, "", "d", "e"))
    )
    assert notice.text == LEFT_OUT
    assert notice.rows() == [("one.parts.toml, 3", "k", "b", "c"), ("two.parts.toml", "", "d", "e")]


def test_what_is_wrong_in_one_catalogue_names_its_file_too(notice: Notice) -> None:
    notice.show_left_out((Problem("/home/somebody/own.parts.toml", 3, 1, "k", "b", "c"),))
    assert notice.rows() == [("own.parts.toml, 3", "k", "b", "c")]
    assert notice._list.headerItem().text(0) == "File, line"
    notice.show_message("x.toml was not opened", problems=(Problem("/a/x.toml", 7, 1, "k", "b", "c"),))
    assert notice.rows() == [("7", "k", "b", "c")]
    assert notice._list.headerItem().text(0) == "Line"
