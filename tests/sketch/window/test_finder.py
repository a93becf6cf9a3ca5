"""A list that gets shorter as one types."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QDialog, QWidget
from pytestqt.qtbot import QtBot

from sketch.window.finder import Finder, FinderRow, best_match

ROWS = (
    FinderRow("a", "Copy the ledger", ("Edit",)),
    FinderRow("b", "Ledger", ("View",), "where the budget went"),
    FinderRow("c", "Write ledger", ("File",), enabled=False),
    FinderRow("d", "<b>Undo</b>"),
)


def test_every_typed_word_must_be_in_the_row_in_any_order() -> None:
    assert ROWS[0].fits("  LEDGER copy ")
    assert ROWS[1].fits("budget view")
    assert not ROWS[0].fits("ledger budget")


def test_what_begins_as_typed_is_meant_first_and_nothing_that_is_greyed() -> None:
    assert best_match(ROWS, "ledger") == 1
    assert best_match(ROWS, "led copy") == 0
    assert best_match(ROWS, "write") is None
    assert best_match(ROWS, "") == 0
    assert best_match((FinderRow("e", "Pump above its tank"), FinderRow("f", "Pump")), "pump") == 1, (
        "of that very name"
    )


def test_typing_walking_and_return_choose_a_row(qtbot: QtBot) -> None:
    chosen: list[str] = []
    parent = QWidget()
    qtbot.addWidget(parent)
    finder = Finder(parent, "Find", "Type", ROWS, chosen.append)
    with qtbot.waitExposed(finder):
        finder.open()
    assert len(finder.shown()) == 4
    qtbot.keyClicks(finder.field, "ledger")
    assert finder.shown() == ("Copy the ledger", "Ledger", "Write ledger")
    assert finder.rows.currentItem().text(0) == "Ledger"
    qtbot.keyClick(finder.field, Qt.Key.Key_Up)
    assert finder.rows.currentItem().text(0) == "Copy the ledger"
    qtbot.keyClicks(finder.field, " write")
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    assert chosen == [], "a greyed row is not chosen"
    assert finder.isVisible()
    qtbot.keyClicks(finder.field, " nowhere")
    assert finder.shown() == ()
    assert finder._nothing.isVisible()
    finder.field.clear()
    qtbot.keyClicks(finder.field, "undo")
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    assert not finder.isVisible()
    qtbot.waitUntil(lambda: chosen == ["d"], timeout=1000)


def test_the_row_that_return_would_choose_stays_in_sight_while_rows_above_it_go(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    words = [FinderRow(str(at), f"row {at}", words="all" if at > 30 else "a") for at in range(80)]
    meant = FinderRow("meant", "Alternatives")
    finder = Finder(parent, "Find", "Type", [*words[:31], meant, *words[31:]], str)
    with qtbot.waitExposed(finder):
        finder.open()
    for letter in "al":
        qtbot.keyClicks(finder.field, letter)
        item, view = finder.rows.currentItem(), finder.rows
        assert item.text(0) == "Alternatives"
        assert view.viewport().rect().contains(view.visualItemRect(item).center())


def test_what_a_double_click_chooses_comes_after_the_click_and_may_open_a_dialog(qtbot: QtBot) -> None:
    parent, ended = QWidget(), []
    qtbot.addWidget(parent)

    def choose(key: str) -> None:
        dialog = QDialog(parent)
        QTimer.singleShot(0, dialog.reject)
        dialog.exec()
        ended.append(key)

    finder = Finder(parent, "Find", "Type", ROWS, choose)
    with qtbot.waitExposed(finder):
        finder.open()
    view = finder.rows.viewport()
    at = finder.rows.visualItemRect(finder.rows.topLevelItem(1)).center()
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseDClick(view, Qt.MouseButton.LeftButton, pos=at)
    assert ended == [], "not within the click: the dialog's loop would drop the list under it"
    qtbot.waitUntil(lambda: ended == ["b"], timeout=1000)
