from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from pytestqt.qtbot import QtBot

from sketch.document import Document
from sketch.ledger_rows import ENTRY, FOLD, LINE, SUM
from sketch.ledger_view import LedgerView
from solver.units import System

CARRIAGE = Path(__file__).parents[2] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def document() -> Document:
    made = Document()
    made.open(CARRIAGE)
    return made


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> LedgerView:
    made = LedgerView(document)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    with qtbot.waitExposed(made):
        made.show()
    return made


def middle_of(view: LedgerView, row: int) -> QPoint:
    return view.table.visualRect(view.ledger.index(row, 0)).center()


def row_of_role(view: LedgerView, role: str) -> int:
    return next(at for at, row in enumerate(view.ledger.rows) if row.role == role)


def test_pointing_at_a_row_points_at_its_entry(qtbot: QtBot, view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    qtbot.mouseMove(view.table.viewport(), middle_of(view, row))
    assert document.pointed_key == "riser/straight 1"
    qtbot.mouseMove(view.table.viewport(), middle_of(view, row_of_role(view, FOLD)))
    assert document.pointed_key == ""


def test_the_row_of_what_is_pointed_at_elsewhere_is_tinted_and_brought_into_sight(
    view: LedgerView, document: Document
) -> None:
    view.resize(1000, 160)
    view.fold(False)
    document.point("carriage/port")
    row = view.ledger.row_of("carriage/port")
    assert view.table.viewport().rect().intersects(view.table.visualRect(view.ledger.index(row, 0)))
    assert view.table.ground(view.ledger.rows[row]) is not None
    assert view.table.ground(view.ledger.rows[view.ledger.row_of("riser/bend 1")]) is None


def test_the_tint_is_painted(view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    spot = view.table.visualRect(view.ledger.index(row, 1)).topRight() + QPoint(-3, 3)
    before = view.table.viewport().grab().toImage().pixelColor(spot)
    document.point("riser/straight 1")
    after = view.table.viewport().grab().toImage().pixelColor(spot)
    assert after != before
    assert after == view.table.ground(view.ledger.rows[row])


def test_a_click_selects_the_part_and_tints_its_rows(
    qtbot: QtBot, view: LedgerView, document: Document
) -> None:
    row = view.ledger.row_of("riser/bend 1")
    qtbot.mouseClick(view.table.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(view, row))
    assert document.selected_part == "riser"
    assert view.table.ground(view.ledger.rows[view.ledger.row_of("riser/straight 1")]) is not None


def test_the_arrow_keys_walk_along_the_line(qtbot: QtBot, view: LedgerView, document: Document) -> None:
    view.table.setFocus()
    view.table.setCurrentIndex(view.ledger.index(view.ledger.row_of("strainer/screen"), 0))
    qtbot.keyClick(view.table, Qt.Key.Key_Down)
    assert document.pointed_key == "strainer/entrance"


def test_the_lines_of_the_budget_fold_by_mouse_and_by_key(qtbot: QtBot, view: LedgerView) -> None:
    fold, line = row_of_role(view, FOLD), row_of_role(view, LINE)
    assert view.table.isRowHidden(line)
    qtbot.mouseClick(view.table.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(view, fold))
    assert not view.table.isRowHidden(line)
    view.table.setCurrentIndex(view.ledger.index(fold, 0))
    qtbot.keyClick(view.table, Qt.Key.Key_Space)
    assert view.table.isRowHidden(line)


def test_the_sums_stay_in_sight_and_close_the_budget(view: LedgerView, document: Document) -> None:
    assert document.ledger is not None
    shown = [row for at, row in enumerate(view.ledger.rows) if not view.sums.isRowHidden(at)]
    assert [row.name for row in shown] == ["Spent", "Margin"]
    assert sum(row.figures[4] for row in shown) == pytest.approx(document.ledger.budget)
    hidden = [view.table.isRowHidden(at) for at, row in enumerate(view.ledger.rows) if row.role == SUM]
    assert all(hidden)


def test_every_entry_has_a_row_in_walking_order(view: LedgerView, document: Document) -> None:
    ledger = document.ledger
    assert ledger is not None
    assert [row.key for row in view.ledger.rows if row.role == ENTRY] == [each.key for each in ledger.entries]


def test_the_units_follow_the_document(view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    us = float(view.ledger.text(row, 2))
    document.set_system(System.SI)
    si = float(view.ledger.text(row, 2))
    assert si == pytest.approx(us * 3.386389, abs=0.02)
    assert view.ledger.headerData(2, Qt.Orientation.Horizontal) == "Lift\nkPa"


def test_a_hidden_table_reads_nothing_until_it_is_seen(view: LedgerView, document: Document) -> None:
    view.hide()
    held = view.ledger.rows
    document.set_level("normal")
    assert view.ledger.rows is held
    view.show()
    assert view.ledger.rows is not held


def test_decimal_points_stand_in_line(view: LedgerView) -> None:
    for column in (2, 3, 4, 6, 7):
        room = view.table.fraction_width(column)
        assert room > view.table.fontMetrics().horizontalAdvance(".0")
    assert view.table.fraction_width(5) == 0.0


def test_the_drawing_can_be_heard_row_by_row(view: LedgerView) -> None:
    row = view.ledger.row_of("riser/straight 1")
    heard = view.ledger.data(view.ledger.index(row, 0), Qt.ItemDataRole.AccessibleTextRole)
    assert isinstance(heard, str)
    assert "riser" in heard
    assert "share" in heard
    interface = QAccessible.queryAccessibleInterface(view.table)
    assert interface is not None
    assert interface.childCount() > len(view.ledger.rows)
