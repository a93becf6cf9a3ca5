"""What two views share: rows as tall as their words, a heading that says stop, nothing worked out unseen."""

from __future__ import annotations

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QPushButton, QTableWidgetItem
from pytestqt.qtbot import QtBot

from sketch.look import colours
from sketch.look.appearance import theme_of
from sketch.look.colours import DARK
from sketch.views.table_with_pane import TableWithPane, WrappedTable
from tests.sketch.shown import shown

LONG = "screen blocked: strainer, with fluid thicker than drawn, or colder, in sizes that no one line holds"


class Beside(TableWithPane):
    def __init__(self) -> None:
        self.asked = self.refreshed = 0
        super().__init__("Things", WrappedTable("Things", ("What", "How", "Size"), {0: 3, 2: 2}), self.count)
        self.button = QPushButton("Put it into the drawing")
        self._lay_out(QLabel("what it says"), self.button)

    def count(self) -> None:
        self.asked += 1

    def refresh(self) -> None:
        self.refreshed += 1


def filled(view: TableWithPane, *rows: tuple[str, str, str]) -> None:
    view.table.setRowCount(len(rows))
    for at, row in enumerate(rows):
        for column, text in enumerate(row):
            view.table.setItem(at, column, QTableWidgetItem(text))
    view.table.fit()


def test_words_stand_on_as_many_lines_as_they_take_and_no_column_is_cut_off(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 900, 300)
    filled(view, ("short", "97 %, far likelier", "75 %"), (LONG, "1 %", LONG))
    table = view.table
    assert table.rowHeight(1) > table.rowHeight(0)
    assert sum(table.columnWidth(column) for column in range(3)) <= table.viewport().width()
    assert table.columnWidth(1) >= table.sizeHintForColumn(1)
    tall = table.rowHeight(1)
    view.resize(1800, 300)
    qtbot.waitUntil(lambda: table.rowHeight(1) < tall)


def test_what_holds_together_is_not_cut_where_a_column_has_room_for_it(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 700, 300)
    size = "73\N{NO-BREAK SPACE}to\N{NO-BREAK SPACE}82\N{NO-BREAK SPACE}%\N{NO-BREAK SPACE}blocked;"
    filled(view, (LONG, "1 %", f"{size} and longer"))
    assert view.table.columnWidth(2) >= view.table.fontMetrics().horizontalAdvance(size)
    assert sum(view.table.columnWidth(column) for column in range(3)) <= view.table.viewport().width()


def test_it_is_shown_again_in_another_appearance(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 900, 300)
    before = view.refreshed
    view.setPalette(colours.palette(DARK))
    assert view.refreshed > before, "its words and rows have colours of their own"


def test_stop_is_seen_and_an_empty_line_takes_no_room(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 900, 300)
    view.show_heading("Stop the pump", stop=True)
    assert view.heading.palette().color(QPalette.ColorRole.WindowText) == theme_of(view.palette()).stop
    view.show_below("Kept as a case.")
    assert view.below.isVisible()
    view.show_below("")
    assert not view.below.isVisible()


def test_words_under_a_table_leave_it_rows_in_a_low_window_and_are_whole_in_a_tall_one(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 600, 190)
    filled(view, *[("short", "97 %, far likelier", "75 %")] * 5)
    view.show_below(" ".join([LONG] * 4))
    rows = view.table.rowHeight(0)
    qtbot.waitUntil(lambda: view.table.viewport().height() >= 3 * rows)
    assert view.below.visibleRegion().boundingRect().height() < view.below.height(), "the rest is scrolled to"
    view.resize(600, 500)
    qtbot.waitUntil(lambda: view.below.visibleRegion().boundingRect().height() == view.below.height())


def test_nothing_is_worked_out_while_it_is_hidden(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 900, 300)
    before = (view.asked, view.refreshed)
    view.hide()
    view._changed()
    view._answered()
    assert (view.asked, view.refreshed) == before
    view.show()
    assert view.asked == before[0] + 1


def test_a_long_heading_stands_over_its_buttons_where_there_is_no_room_beside_them(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 1600, 300)
    view.show_heading(LONG, stop=False)
    qtbot.waitUntil(lambda: view.button.parentWidget().x() > view.heading.x())
    view.resize(460, 300)
    qtbot.waitUntil(lambda: view.button.parentWidget().y() > view.heading.geometry().bottom())
    view.show_heading("Short", stop=False)
    qtbot.waitUntil(lambda: view.button.parentWidget().y() <= view.heading.y())


def test_figures_are_wrapped_too_where_a_half_window_has_no_room_for_them(qtbot: QtBot) -> None:
    view = shown(qtbot, Beside(), 1200, 300)
    filled(view, (LONG, "2026-03-04 15:10, and the day after that", LONG))
    table = view.table
    assert table.columnWidth(1) >= table.sizeHintForColumn(1)
    view.resize(400, 300)
    qtbot.waitUntil(lambda: table.columnWidth(1) < table.sizeHintForColumn(1))
    assert sum(table.columnWidth(column) for column in range(3)) <= table.viewport().width()
