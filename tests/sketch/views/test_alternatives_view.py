"""The drawing beside its alternatives: figures of their own solves, shown by a click."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from sketch.editing import cases, edits
from sketch.look.words import typographic
from sketch.model import alternatives
from sketch.model.document import Document
from sketch.model.gate import failures
from sketch.views import case_making, comparison
from sketch.views.alternatives_view import (
    AS_BEFORE,
    CASE,
    CHANGE,
    DIFFERS,
    FINDINGS,
    LEAST,
    MARGIN,
    NOTE,
    VERDICT,
    AlternativesView,
)
from solver.layout.differences import differences
from solver.quantities.units import System
from tests.sketch.shown import opened, shown
from tests.sketch.views.scrolling import at_top, scrolled

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
BROKE = Path(__file__).parents[2] / "hostile" / "broke"
BESIDE = "Pump beside the tank"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> AlternativesView:
    return shown(qtbot, AlternativesView(document), 1100, 240)


def test_an_alternative_that_is_over_when_cold_is_marked_and_says_so(qtbot: QtBot) -> None:
    document = Document()
    document.open(CARRIAGE.parent / "baler-flooded.toml")
    row = next(row for row in comparison.rows(document) if row.name.startswith("Filter"))
    assert row.margin < 0
    assert row.mark == "stop"
    assert row.headline.startswith("Over by ")


def test_a_narrow_window_scrolls_sideways_rather_than_squeezes_its_sentences(view: AlternativesView) -> None:
    """960 pixels wide, as a screen of 1920 at 200 % is."""
    view.resize(900, 130)
    view.refresh()
    assert [view.columnWidth(column) >= least for column, least in LEAST.items()] == [True] * len(LEAST)
    assert view.horizontalScrollBar().maximum() > 0


def test_no_verdict_is_cut_and_nothing_scrolls_sideways(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    document.show_alternative(BESIDE)  # which is then bold, and so wider
    view.refresh()
    for width in (1366, 1250):
        view.resize(width, 240)
        qtbot.waitUntil(lambda: not view.horizontalScrollBar().isVisible())
        for row in range(view.rowCount()):
            item, room = view.item(row, VERDICT), view.visualItemRect(view.item(row, VERDICT))
            inner = QRect(0, 0, room.width() - 26, 9999)
            needed = QFontMetrics(item.font()).boundingRect(inner, Qt.TextFlag.TextWordWrap, item.text())
            assert needed.height() <= room.height(), (width, item.text())
        assert view.columnWidth(NOTE) >= LEAST[NOTE]


def test_the_row_that_keys_come_to_shows_all_that_differs_and_its_note(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    for name in document.alternatives:
        document.change_alternatives(
            "Note", lambda state, name=name: alternatives.with_note(state, name, "As long as it takes. " * 9)
        )
    view.resize(1366, 150)
    qtbot.waitUntil(lambda: view.item(1, NOTE).text().startswith("As long"), timeout=3000)

    def cut(row: int) -> bool:
        item, room = view.item(row, NOTE), view.visualItemRect(view.item(row, NOTE))
        inner = QRect(0, 0, room.width() - 28, 9999)
        needed = QFontMetrics(view.font()).boundingRect(inner, Qt.TextFlag.TextWordWrap, item.text())
        return needed.height() > room.height()

    assert [cut(row) for row in (1, 2)] == [True, True]
    view.setFocus()
    view.setCurrentCell(0, 0)
    for row in (1, 2):
        qtbot.keyClick(view, Qt.Key.Key_Down)
        assert view.currentRow() == row
        assert not cut(row)
        assert view.viewport().rect().top() <= view.visualItemRect(view.item(row, NOTE)).top()
        assert cut(3 - row), "the others stay as they were"


def test_the_sentences_of_a_row_that_is_shown_whole_take_the_room_that_they_need(
    qtbot: QtBot, document: Document
) -> None:
    """At 1366 pixels a change of many parts stood in a narrow column, higher than all of the table."""
    document.open(CARRIAGE.parent / "wash-water-npsh.toml")
    view = shown(qtbot, AlternativesView(document), 1366, 184)
    view.setFocus()
    view.setCurrentCell(0, 0)
    for _ in range(2):
        qtbot.keyClick(view, Qt.Key.Key_Down)
    row = view.visualItemRect(view.item(2, DIFFERS))
    assert len(view.item(2, DIFFERS).text()) > 100
    assert view.viewport().rect().contains(row.adjusted(0, 1, 0, -1)), "nothing of it is out of sight"


def test_click_shows_an_alternative(qtbot: QtBot, view: AlternativesView, document: Document) -> None:
    at = next(row for row in range(view.rowCount()) if view.item(row, 0).text() == BESIDE)
    spot = view.visualItemRect(view.item(at, MARGIN)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert document.alternative == BESIDE
    qtbot.waitUntil(lambda: view.item(at, 0).font().bold(), timeout=3000)
    assert view.item(at, CHANGE).text().startswith("+")
    assert not view.item(0, 0).font().bold()
    assert view.item(at, 0).isSelected(), "still, once the rows are filled again"
    qtbot.keyClick(view, Qt.Key.Key_F2)
    assert view.state() == AlternativesView.State.EditingState, "one click was enough"
    offered = {each.text(): each.isEnabled() for each in view.actions()}
    assert offered["&Rename"]
    assert not offered["&Delete it, as it is not valid"]
    qtbot.keyClick(view.findChild(QLineEdit), Qt.Key.Key_Escape)


def test_units_follow_and_figures_are_worked_out_at_rest(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    us = float(view.item(1, MARGIN).text().replace("−", "-"))
    document.set_system(System.SI)
    qtbot.waitUntil(lambda: "kPa" in view.horizontalHeaderItem(MARGIN).text(), timeout=3000)
    assert float(view.item(1, MARGIN).text().replace("−", "-")) == pytest.approx(us * 3.386, abs=0.03)


def test_hidden_table_solves_nothing(view: AlternativesView, document: Document, qtbot: QtBot) -> None:
    view.hide()
    held = view._rows
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    qtbot.wait(300)
    assert view._rows is held
    view.show()
    assert view._rows is not held


def row_of(view: AlternativesView, name: str) -> int:
    return next(row for row in range(view.rowCount()) if view.item(row, 0).text() == name)


def type_into(qtbot: QtBot, view: AlternativesView, row: int, column: int, key: str, text: str) -> None:
    view.setCurrentCell(row, column)
    view.setFocus()
    if key == "F2":
        qtbot.keyClick(view, Qt.Key.Key_F2)
    else:
        qtbot.keyClick(view, Qt.Key.Key_F2, Qt.KeyboardModifier.ShiftModifier)
    field = view.findChild(QLineEdit)
    field.selectAll()
    qtbot.keyClicks(field, text)
    with qtbot.waitSignal(view.itemChanged, timeout=3000):
        qtbot.keyClick(field, Qt.Key.Key_Return)


def test_each_says_what_it_has_otherwise_in_the_words_of_its_parts(
    view: AlternativesView, document: Document
) -> None:
    for name, each in document.drawing.alternatives.items():
        at = row_of(view, name)
        differs = "; ".join(differences(document.drawing.base, each.layout))
        assert view.item(at, DIFFERS).text() == typographic(differs)
        assert view.item(at, NOTE).text() == each.note
    assert view.item(0, DIFFERS).text() == ""


def test_renamed_in_place_and_taken_back(qtbot: QtBot, view: AlternativesView, document: Document) -> None:
    before = document.alternatives
    type_into(qtbot, view, row_of(view, BESIDE), 0, "F2", "Beside it")
    assert document.alternatives == tuple("Beside it" if name == BESIDE else name for name in before)
    qtbot.waitUntil(lambda: view.item(view.currentRow(), 0).text() == "Beside it", timeout=3000)
    document.undo_stack.undo()
    assert document.alternatives == before


def test_renaming_twice_goes_on_with_the_first(qtbot: QtBot, view: AlternativesView, qtlog: Any) -> None:
    view.setCurrentCell(row_of(view, BESIDE), 0)
    rename = next(each for each in view.actions() if each.text() == "&Rename")
    rename.trigger()
    rename.trigger()
    assert view.state() == AlternativesView.State.EditingState
    assert not [each for each in qtlog.records if "editing failed" in each.message]


def test_a_row_whose_alternative_is_gone_does_nothing(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    document.add_alternative("Short-lived")
    qtbot.waitUntil(lambda: view.rowCount() == 4, timeout=5000)
    gone = row_of(view, "Short-lived")
    view.setCurrentCell(gone, NOTE)
    document.undo_stack.undo()
    view._choose(view.model().index(gone, 0))
    view.item(gone, NOTE).setText("Nobody is left to read it")
    for action in view.actions():
        action.trigger()
    assert "Short-lived" not in document.alternatives
    qtbot.waitUntil(lambda: view.rowCount() == 3, timeout=5000)


def test_a_name_that_is_taken_is_refused_and_the_old_one_comes_back(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    other = next(name for name in document.alternatives if name != BESIDE)
    with qtbot.waitSignal(document.refused) as told:
        type_into(qtbot, view, row_of(view, BESIDE), 0, "F2", other)
    assert "already" in told.args[0]
    assert BESIDE in document.alternatives
    qtbot.waitUntil(lambda: [view.item(r, 0).text() for r in range(1, 3)].count(other) == 1, timeout=3000)


def test_a_note_is_typed(qtbot: QtBot, view: AlternativesView, document: Document) -> None:
    type_into(qtbot, view, row_of(view, BESIDE), NOTE, "Shift+F2", "The client likes it")
    assert document.drawing.alternatives[BESIDE].note == "The client likes it"


def test_moved_by_key(qtbot: QtBot, view: AlternativesView, document: Document) -> None:
    first, second, *rest = document.alternatives
    view.setCurrentCell(1, 0)
    view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert document.alternatives == (second, first, *rest)
    qtbot.waitUntil(lambda: view.item(view.currentRow(), 0).text() == first, timeout=3000)
    qtbot.keyClick(view, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert document.alternatives == (first, second, *rest)


def test_promoted_it_is_the_drawing_and_the_drawing_is_kept(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    base, chosen = document.drawing.base, document.drawing.alternatives[BESIDE].layout
    view.setCurrentCell(row_of(view, BESIDE), 0)
    view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_Return, Qt.KeyboardModifier.AltModifier)
    assert document.drawing.base == chosen
    assert document.drawing.alternatives[AS_BEFORE].layout == base
    assert BESIDE not in document.alternatives
    document.undo_stack.undo()
    assert document.drawing.base == base


@pytest.mark.thorough
def test_one_that_does_not_hold_is_listed_with_why_mended_and_removed(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    """Its wall nozzle lies off the wall, and without a place there is no nozzle."""
    said: list[str] = []
    document.refused.connect(said.append)
    document.open(BROKE / "saved-by-window-now-refused.toml")
    qtbot.waitUntil(lambda: not view.idle_refresh.stale, timeout=3000)
    at = row_of(view, BESIDE)
    assert "intakes.nozzle.at" in view.item(at, VERDICT).text()
    assert not view.item(at, 0).flags() & Qt.ItemFlag.ItemIsEditable
    spot = view.visualItemRect(view.item(at, MARGIN)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert document.alternative == ""
    assert BESIDE in said[-1]
    mend, remove = view.actions()[-2:]
    mend.trigger()
    assert BESIDE not in document.drawing.broken
    assert not failures(document.drawing)
    assert "nozzle" not in document.drawing.alternatives[BESIDE].layout.intakes
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: not view.idle_refresh.stale, timeout=3000)
    view.setCurrentCell(row_of(view, BESIDE), 0)
    remove.trigger()
    assert BESIDE not in document.drawing.broken
    document.undo_stack.undo()
    assert BESIDE in document.drawing.broken


def test_where_the_rows_have_room_nothing_is_cut(view: AlternativesView) -> None:
    def cut(row: int, column: int) -> bool:
        item, room = view.item(row, column), view.visualItemRect(view.item(row, column))
        inner = QRect(0, 0, room.width() - 26, 9999)
        needed = QFontMetrics(item.font()).boundingRect(inner, Qt.TextFlag.TextWordWrap, item.text())
        return needed.height() > room.height()

    def any_cut() -> bool:
        return any(cut(row, column) for row in range(view.rowCount()) for column in (DIFFERS, NOTE))

    view.resize(1100, 160)
    assert any_cut()
    view.resize(1100, 900)
    assert not any_cut()


def test_a_new_alternative_is_scrolled_into_view(view: AlternativesView, document: Document) -> None:
    view.resize(900, 110)
    view.refresh()
    assert view.verticalScrollBar().value() == 0
    document.add_alternative("Just made")
    view.refresh()
    last = view.visualItemRect(view.item(view.rowCount() - 1, 0))
    assert view.viewport().rect().contains(last.center())
    view.verticalScrollBar().setValue(0)
    view.refresh()
    assert view.verticalScrollBar().value() == 0, "where the user has scrolled it to, it stays"


@pytest.mark.parametrize("width", [1366, 1280])
@pytest.mark.parametrize("name", ["carriage-at-altitude", "winter-press", "shear-started-dry"])
def test_three_rows_are_seen_whole_in_a_small_window(qtbot: QtBot, name: str, width: int) -> None:
    """The table is 187 pixels high in one of 1366 by 768; a long verdict does not push the last row out."""
    view = shown(qtbot, AlternativesView(opened(name)), width, 187)
    assert not view.horizontalScrollBar().isVisible()
    rects = [view.visualItemRect(view.item(row, VERDICT)) for row in range(view.rowCount())]
    assert len(rects) == 3
    assert rects[-1].bottom() < view.viewport().height()
    assert not view.verticalScrollBar().isVisible()
    for row, rect in enumerate(rects):
        for column in (VERDICT, FINDINGS):
            item = view.item(row, column)
            inner = QRect(0, 0, view.columnWidth(column) - 26, 9999)
            needed = QFontMetrics(item.font()).boundingRect(inner, Qt.TextFlag.TextWordWrap, item.text())
            assert needed.height() <= rect.height(), item.text()


def test_a_long_name_of_a_case_takes_a_second_line_not_the_room_of_a_verdict(qtbot: QtBot) -> None:
    document = opened("winter-press")
    case_making.add(document, "Monday after a frosty night, all of the doors open", {"level": "minimum"})
    case_making.set_figure(document, document.case, temperature(document), "-12 degC")
    document.add_alternative("Second-hand pump of the old line, kept as a spare")
    view = shown(qtbot, AlternativesView(document), 1366, 240)
    item = view.item(0, CASE)
    assert item.text().startswith("Monday")
    assert not view.horizontalScrollBar().isVisible()
    inner = QRect(0, 0, view.columnWidth(CASE) - 26, 9999)
    needed = QFontMetrics(item.font()).boundingRect(inner, Qt.TextFlag.TextWordWrap, item.text())
    assert needed.height() <= view.visualItemRect(item).height()


def temperature(document: Document) -> cases.CaseFigure:
    return next(each for each in cases.figures(document.layout) if each.path == ("fluid", "temperature"))


def test_a_verdict_leaves_its_case_to_the_cell_beside_it(view: AlternativesView) -> None:
    assert (view.item(0, CASE).text(), view.item(0, VERDICT).text()) == (
        "coldest start",
        typographic("Over by 1.77 inHg"),
    )
    assert "coldest start" in view.item(0, VERDICT).toolTip()


def test_another_drawing_begins_at_its_first_row_and_column(
    view: AlternativesView, document: Document
) -> None:
    view.resize(700, 90)
    scrolled(view)
    view.horizontalScrollBar().setValue(view.horizontalScrollBar().maximum())
    document.open(CARRIAGE.parent / "baler-flooded.toml")
    view.refresh()
    assert view.verticalScrollBar().maximum() > 0
    assert at_top(view)
    assert view.horizontalScrollBar().value() == 0
