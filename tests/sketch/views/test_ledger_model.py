"""The ledger's rows as a table model."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views import ledger_rows
from sketch.views.ledger_rows import COLUMNS, Role
from sketch.views.ledger_view import LedgerView
from solver.quantities.units import System
from tests.sketch.shown import shown

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> LedgerView:
    return shown(qtbot, LedgerView(document), 1000, 600)


def test_every_entry_has_a_row_in_walking_order(view: LedgerView, document: Document) -> None:
    ledger = document.ledger
    assert ledger is not None
    assert [row.key for row in view.ledger.rows if row.role == Role.ENTRY] == [
        each.key for each in ledger.entries
    ]


def test_the_units_follow_the_document(view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    us = float(view.ledger.text(row, 2))
    document.set_system(System.SI)
    si = float(view.ledger.text(row, 2))
    assert si == pytest.approx(us * 3.386389, abs=0.02)
    assert view.ledger.headerData(2, Qt.Orientation.Horizontal) == "Lift\nkPa"


def test_model_speaks_of_changed_figures_without_a_reset(view: LedgerView, document: Document) -> None:
    resets, changes = QSignalSpy(view.ledger.modelReset), QSignalSpy(view.ledger.dataChanged)
    document.set_level("normal")
    assert (resets.count(), changes.count()) == (0, 1)
    document.set_system(System.SI)
    assert resets.count() == 1


def test_the_drawing_can_be_heard_row_by_row(view: LedgerView) -> None:
    row = view.ledger.row_of("riser/straight 1")
    heard = view.ledger.data(view.ledger.index(row, 0), Qt.ItemDataRole.AccessibleTextRole)
    assert isinstance(heard, str)
    assert "riser" in heard
    assert "share" in heard
    interface = QAccessible.queryAccessibleInterface(view.table)
    assert interface is not None
    assert interface.childCount() > len(view.ledger.rows)


@pytest.mark.parametrize("asked", [True, False], ids=["cells asked for before", "cells not asked for"])
def test_every_cell_that_looks_other_after_a_move_is_known(
    view: LedgerView, document: Document, asked: bool
) -> None:
    """A pressure is rounded so that all add up as shown: what a cell shows may change without its figure."""
    model, gesture, drawn = view.ledger, document.gesture(), document.layout
    x, y = (coordinate.si for coordinate in drawn.pumps[document.pump].at)
    cells = [(row, column) for row in range(len(model.rows)) for column in range(len(COLUMNS))]

    def written() -> dict[tuple[int, int], str]:
        return {(row, at): ledger_rows.text(model.rows[row], at, document.system) for row, at in cells}

    for step in range(1, 40):
        before = {cell: model.text(*cell) for cell in cells} if asked else written()
        document.apply("Move", edits.move_part(drawn, document.pump, x, y + step * 0.013 - 0.2), gesture)
        view.refresh()
        other = {cell for cell, text in written().items() if text != before[cell]}
        assert other <= {(row, column) for row in range(len(model.rows)) for column in model.changed(row)}
        assert {cell: model.text(*cell) for cell in cells} == written()
