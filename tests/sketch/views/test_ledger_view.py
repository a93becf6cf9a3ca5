from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.look import colours
from sketch.look.colours import DARK
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.views.ledger_rows import COLUMNS, SHARE, Role
from sketch.views.ledger_view import LedgerView
from solver.layout.parts import Limit
from solver.quantities.units import Kind, System, quantity
from tests import drawings
from tests.sketch.shown import opened, shown
from tests.sketch.views.gauged import gauged
from tests.thorough import first

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> LedgerView:
    return shown(qtbot, LedgerView(document), 1000, 600)


def middle_of(view: LedgerView, row: int) -> QPoint:
    return view.table.visualRect(view.ledger.index(row, 0)).center()


def row_of_role(view: LedgerView, role: str) -> int:
    return next(at for at, row in enumerate(view.ledger.rows) if row.role == role)


def test_pointing_at_a_row_points_at_its_entry(qtbot: QtBot, view: LedgerView, document: Document) -> None:
    row = view.ledger.row_of("riser/straight 1")
    qtbot.mouseMove(view.table.viewport(), middle_of(view, row))
    assert document.pointed_key == "riser/straight 1"
    qtbot.mouseMove(view.table.viewport(), middle_of(view, row_of_role(view, Role.FOLD)))
    assert document.pointed_key == ""


@pytest.mark.parametrize("high", first([200, 205, 211, 230]))
def test_the_entries_end_with_a_whole_row_however_high_they_are(view: LedgerView, high: int) -> None:
    view.resize(1000, high)
    for folded in (False, True):
        view.fold(folded)
        QApplication.processEvents()
        room, row = view.table.viewport().height(), view.table.verticalHeader().defaultSectionSize()
        assert room > 2 * row
        assert room % row == 0
    view.resize(1000, 600)
    QApplication.processEvents()
    count = sum(each.role == Role.SUM for each in view.ledger.rows)
    assert view.sums.height() <= count * row + 2, "no room is lost where all is seen"


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
    fold, line = row_of_role(view, Role.FOLD), row_of_role(view, Role.LINE)
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
    hidden = [view.table.isRowHidden(at) for at, row in enumerate(view.ledger.rows) if row.role == Role.SUM]
    assert all(hidden)


def test_a_hidden_table_reads_nothing_until_it_is_seen(view: LedgerView, document: Document) -> None:
    view.hide()
    held = view.ledger.rows
    document.set_level("normal")
    assert view.ledger.rows is held
    view.show()
    assert view.ledger.rows is not held


@pytest.mark.parametrize("layout", first(["carriage-at-altitude", "header-two-pumps", "over-the-bund-wall"]))
@pytest.mark.parametrize("system", first(System))
def test_table_is_whole_beside_a_scroll_bar_in_a_small_window_and_breathes_in_a_large_one(
    qtbot: QtBot, view: LedgerView, document: Document, layout: str, system: System
) -> None:
    document.open(CARRIAGE.with_stem(layout))
    document.set_system(system)
    view.resize(1280, 200)
    QApplication.processEvents()
    narrow = view.table.horizontalHeader().length()
    assert view.table.verticalScrollBar().isVisible()
    assert not view.table.horizontalScrollBar().isVisible()
    view.resize(2560, 300)
    QApplication.processEvents()
    wide = view.table.horizontalHeader().length()
    assert narrow < wide <= 2560
    assert view.sums.horizontalHeader().length() == wide
    for column in range(len(COLUMNS)):
        assert view.table.sizeHintForColumn(column) >= 0
        for row in range(len(view.ledger.rows)):
            room = view.table.columnWidth(column)
            assert view.table.fontMetrics().horizontalAdvance(view.ledger.text(row, column)) <= room


@pytest.fixture
def ring(qtbot: QtBot, tmp_path: Path) -> LedgerView:
    """The ledger of a pump that is fed from both sides."""
    path = tmp_path / "ring.toml"
    path.write_text(drawings.ring_text(), encoding="utf-8")
    document = Document(keeps=False)
    document.open(path)
    document.show_pump(next(iter(document.layout.pumps)))
    return shown(qtbot, LedgerView(document), 1000, 700)


def test_lines_in_parallel_are_pointed_at_and_selected_as_any_other(qtbot: QtBot, ring: LedgerView) -> None:
    document, row = ring._document, ring.ledger.row_of("east/straight 1")
    qtbot.mouseMove(ring.table.viewport(), middle_of(ring, row))
    assert document.pointed_key == "east/straight 1"
    assert ring.table.ground(ring.ledger.rows[row]) is not None
    qtbot.mouseClick(ring.table.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(ring, row))
    assert document.selected_part == "east"
    ring.resize(1000, 200)
    ring.table.scrollToTop()
    document.point("north west/branch")
    there = ring.table.visualRect(ring.ledger.index(ring.ledger.row_of("north west/branch"), 0))
    assert ring.table.viewport().rect().contains(there)


def test_their_heading_is_quiet_points_at_nothing_and_has_a_tip(qtbot: QtBot, ring: LedgerView) -> None:
    document, at = ring._document, row_of_role(ring, Role.PARALLEL)
    row = ring.ledger.rows[at]
    assert not ring.table.isRowHidden(at)
    assert ring.sums.isRowHidden(at)
    assert ring.table.ink(row) == ring.table.theme.quiet
    document.point("east/straight 1")
    qtbot.mouseMove(ring.table.viewport(), middle_of(ring, at))
    assert document.pointed_key == ""
    qtbot.mouseClick(ring.table.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(ring, at))
    assert document.selected_part == ""
    assert "sums" in str(ring.ledger.data(ring.ledger.index(at, 0), Qt.ItemDataRole.ToolTipRole))
    ring.fold(False)
    assert not ring.table.isRowHidden(at)


def test_the_arrow_keys_walk_on_to_the_lines_in_parallel(qtbot: QtBot, ring: LedgerView) -> None:
    ring.table.setFocus()
    at = row_of_role(ring, Role.PARALLEL)
    ring.table.setCurrentIndex(ring.ledger.index(at - 1, 0))
    qtbot.keyClick(ring.table, Qt.Key.Key_Down)
    assert ring._document.pointed_key == ""
    qtbot.keyClick(ring.table, Qt.Key.Key_Down)
    assert ring._document.pointed_key == ring.ledger.rows[at + 1].key != ""


def test_without_a_budget_there_is_no_empty_column_of_shares(view: LedgerView, document: Document) -> None:
    assert not view.table.isColumnHidden(SHARE)
    pump = document.layout.pumps[document.pump]
    asked = Limit("pressure", ((None, quantity("1.2 bar", Kind.PRESSURE)),))
    document.apply("Type", replace(document.layout, pumps={pump.name: replace(pump, limit=asked)}))
    assert document.ledger is not None
    assert document.ledger.budget < 0
    view.refresh()
    assert view.table.isColumnHidden(SHARE)
    assert view.sums.isColumnHidden(SHARE)
    document.undo_stack.undo()
    view.refresh()
    assert not view.table.isColumnHidden(SHARE)


def test_no_row_is_dark_on_dark_whatever_it_was_clicked_for(
    qtbot: QtBot, view: LedgerView, document: Document
) -> None:
    """Qt's own ground of a selected row is as dark as the ink."""
    paper = view.table.theme.paper.lightnessF()
    for at in (row_of_role(view, Role.FOLD), view.ledger.row_of("riser/bend 1")):
        qtbot.mouseClick(view.table.viewport(), Qt.MouseButton.LeftButton, pos=middle_of(view, at))
        document.select("")
        document.point("")
        QApplication.processEvents()
        box = view.table.visualRect(view.ledger.index(at, 5))
        ground = view.table.viewport().grab().toImage().pixelColor(box.right() - 2, box.center().y())
        assert abs(ground.lightnessF() - paper) < 0.15


def test_what_gauges_have_read_stands_under_the_sums_while_it_is_of_this_drawing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    document = Document(keeps=False)
    view = LedgerView(document)
    qtbot.addWidget(view)
    view.show()
    document.open(gauged(tmp_path))
    assert view.reads.isHidden()
    assert view.stops.isHidden()
    gauger(document).ask()
    qtbot.waitUntil(view.reads.isVisible, timeout=10_000)
    assert "13.0" in view.reads.text()
    assert "Stop" not in view.reads.text()
    assert view.stops.text().startswith("Stop the pump")
    worn = [each.palette().color(QPalette.ColorRole.WindowText) for each in (view.stops, view.reads)]
    assert worn == [view.table.theme.stop, view.table.theme.quiet], "one stop does not colour the rest"
    view.setPalette(colours.palette(DARK))
    assert view.reads.palette().color(QPalette.ColorRole.WindowText) == DARK.quiet
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert view.reads.isHidden()


def test_another_drawing_is_shown_from_its_first_row(qtbot: QtBot) -> None:
    document = opened("header-two-pumps")
    view = shown(qtbot, LedgerView(document), 900, 170)
    view.table.setFocus()
    qtbot.keyClick(view.table, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    assert view.table.verticalScrollBar().value() > 0
    document.open(CARRIAGE)
    qtbot.waitUntil(lambda: view.ledger.rows[-1].part != "pilot")
    assert view.table.verticalScrollBar().value() == 0
    assert view.table.rowAt(0) == 0
    assert not view.table.currentIndex().isValid()
