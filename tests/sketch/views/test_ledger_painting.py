"""The cells of the ledger, painted."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QModelIndex, QPoint
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QStyleOptionViewItem
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.look.colours import share_class
from sketch.model.document import Document
from sketch.views.ledger_model import LedgerModel
from sketch.views.ledger_painting import LedgerDelegate
from sketch.views.ledger_rows import SHARE, Role
from sketch.views.ledger_view import LedgerTable, LedgerView
from tests.sketch.shown import shown

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> LedgerView:
    return shown(qtbot, LedgerView(document), 1000, 600)


def test_the_tint_is_painted(view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    spot = view.table.visualRect(view.ledger.index(row, 1)).topRight() + QPoint(-3, 3)
    before = view.table.viewport().grab().toImage().pixelColor(spot)
    document.point("riser/straight 1")
    after = view.table.viewport().grab().toImage().pixelColor(spot)
    assert after != before
    assert after == view.table.ground(view.ledger.rows[row])


class Painted(LedgerDelegate):
    """Notes what each cell was last painted with."""

    def __init__(self, table: LedgerTable) -> None:
        super().__init__(table, table)
        self.ledger, self.shown, self.count = table.ledger, {}, 0

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex) -> None:
        super().paint(painter, option, index)
        row, column = index.row(), index.column()
        self.count += 1
        self.shown[row, column] = look(self.ledger, row, column)


def look(ledger: LedgerModel, row: int, column: int) -> tuple[object, ...]:
    """Everything about a cell that can be seen."""
    ledger_row = ledger.rows[row]
    share = (
        share_class(ledger_row.figures[SHARE]) if column == SHARE and ledger_row.role == Role.ENTRY else None
    )
    return ledger.text(row, column), share, ledger_row.past if share is not None else None, ledger_row.over


@pytest.mark.thorough
def test_a_move_repaints_the_cells_that_look_other_than_before_and_no_more(
    qtbot: QtBot, view: LedgerView, document: Document
) -> None:
    spies = []
    for table in (view.table, view.sums):
        spies.append(Painted(table))
        table.setItemDelegate(spies[-1])
        table.viewport().update()
    QApplication.processEvents()
    whole = sum(spy.count for spy in spies)
    gesture, base, counts = document.gesture(), document.layout, []
    for step in range(1, 40):
        for spy in spies:
            spy.count = 0
        y = base.pumps["carriage"].at[1].si + step * 0.013 - 0.2
        document.apply("Move", edits.move_part(base, "carriage", 1.0414, y), gesture)
        QApplication.processEvents()
        counts.append(sum(spy.count for spy in spies))
        for spy in spies:
            for (row, column), seen in spy.shown.items():
                assert seen == look(view.ledger, row, column), (row, column)
    assert 0 < sorted(counts)[len(counts) // 2] < whole / 2


def test_other_rows_are_all_painted_anew(qtbot: QtBot, view: LedgerView, document: Document) -> None:
    spy = Painted(view.table)
    view.table.setItemDelegate(spy)
    document.show_alternative("Pump beside the tank")
    QApplication.processEvents()
    visible = [row for row in range(len(view.ledger.rows)) if not view.table.isRowHidden(row)]
    assert {row for row, _ in spy.shown} == set(visible)


def test_decimal_points_stand_in_line(view: LedgerView) -> None:
    for column in (2, 3, 4, 6, 7):
        room = view.table.fraction_width(column)
        assert room > view.table.fontMetrics().horizontalAdvance(".0")
    assert view.table.fraction_width(5) == 0.0
