"""The Readings view: compared once it is seen, typed and dropped with undo, gauges on the drawing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from sketch.look.appearance import ThemeChoice
from sketch.model.document import Document
from sketch.model.inspector import inspector
from sketch.model.pins import pins
from sketch.views.readings_view import COMPARING, NONE_YET, ReadingsView
from sketch.window.main_window import Window, make_window
from tests.drawings import SHIPPED
from tests.sketch.shown import shown
from tests.sketch.views.gauged import READINGS, gauged
from tests.sketch.views.scrolling import at_top, scrolled


@pytest.fixture
def document(tmp_path: Path) -> Document:
    document = Document(keeps=False)
    document.open(gauged(tmp_path))
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> ReadingsView:
    return shown(qtbot, ReadingsView(document), 1100, 400)


@pytest.fixture
def opener(qtbot: QtBot, qapp: QApplication) -> Callable[[Path], Window]:
    def opened(path: Path) -> Window:
        window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
        qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
        assert window.files.read(path)
        with qtbot.waitExposed(window):
            window.show()
        window.activateWindow()
        return window

    return opened


def compared(qtbot: QtBot, document: Document) -> None:
    qtbot.waitUntil(lambda: inspector(document).comparisons is not None, timeout=10_000)


def test_a_newest_reading_whose_sign_cannot_be_stops_the_pump_until_it_is_clear(
    qtbot: QtBot, tmp_path: Path
) -> None:
    document = Document(keeps=False)
    wrong = '[[readings]]\nwhen = "2026-05-04"\npump = "transfer"\nvacuum = "-40 kPa"\n'
    document.open(gauged(tmp_path, wrong))
    view = shown(qtbot, ReadingsView(document), 1100, 400)
    compared(qtbot, document)
    assert view.heading.text() == (
        "1 reading, 1 with a sign or unit to be checked: stop the pump until that is clear."
    )
    assert "Is it a vacuum? Then type vacuum = " in view.below.text()


def test_stop_is_the_first_word_and_gauges_stand_on_the_drawing(
    qtbot: QtBot, view: ReadingsView, document: Document
) -> None:
    assert view.heading.text() == COMPARING
    compared(qtbot, document)
    assert view.heading.text().startswith("Stop the pump: 1 of 4 readings")
    assert view.below.text().startswith("Stop the pump")
    assert len(pins(document).shown) == 2
    item = view.table.item(1, 0)
    qtbot.mouseClick(
        view.table.viewport(), Qt.MouseButton.LeftButton, pos=view.table.visualItemRect(item).center()
    )
    assert view.below.text().startswith("Read 9")
    assert any("read 9" in pin.text for pin in pins(document).shown)
    view.hide()
    assert pins(document).shown == ()


@pytest.mark.thorough
def test_an_evening_to_stop_at_counts_the_morning_after_unless_work_was_done(
    qtbot: QtBot, view: ReadingsView, document: Document, tmp_path: Path
) -> None:
    evening = READINGS.replace('"2026-04-01"', '"2026-03-03 15:00"')
    document.open(gauged(tmp_path, evening))
    compared(qtbot, document)
    assert view.heading.text().startswith("Stop the pump: 1 of 4 readings")
    words = "It is one of the 2 readings of 2026-03-03 to 2026-03-04, which are explained together."
    assert view.below.text().endswith(words)
    document.open(gauged(tmp_path, evening.replace('"9 kPa"', '"9 kPa"\nwork = ["line changed"]')))
    compared(qtbot, document)
    assert view.heading.text().endswith(
        "1 of 4 readings past what is allowed in its state, none that still counts."
    )
    assert "explained together" not in view.below.text()


def test_what_is_typed_is_one_undo_step_and_is_compared_anew(
    qtbot: QtBot, view: ReadingsView, document: Document
) -> None:
    compared(qtbot, document)
    before = document.layout.readings
    editor = view.card.editor("vacuum")
    assert isinstance(editor, QLineEdit)
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, "3")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    assert document.layout.readings[2].vacuum[0].text == "3 kPa"
    assert view.heading.text() == COMPARING
    compared(qtbot, document)
    assert not view.heading.text().startswith("Stop")
    assert "explained together" not in view.below.text(), "it is alone in its visit"
    assert document.undo_stack.undoText() == "Reading of 2026-04-01: vacuum, running"
    document.undo_stack.undo()
    assert document.layout.readings == before


def test_new_stands_at_the_selected_run_and_delete_drops_the_chosen_one(
    qtbot: QtBot, view: ReadingsView, document: Document
) -> None:
    document.select("lead")
    view.card.verticalScrollBar().setValue(200)
    qtbot.mouseClick(view.buttons["new"], Qt.MouseButton.LeftButton)
    reading = document.layout.readings[-1]
    assert (reading.run, reading.pump) == ("lead", "transfer")
    assert reading.has_time, "an evening and the morning after it are joined by the time of day"
    assert view.chosen == 4
    assert view.card.verticalScrollBar().value() == 0, "a new one is typed from its beginning"
    qtbot.mouseClick(view.buttons["delete"], Qt.MouseButton.LeftButton)
    assert len(document.layout.readings) == 4
    alternative = document.alternatives[0]
    document.show_alternative(alternative)
    assert len(document.layout.readings) == 4, "they belong to the file, whatever is shown"


@pytest.mark.thorough
def test_the_delete_key_drops_a_reading_and_no_part(
    qtbot: QtBot, opener: Callable[[Path], Window], tmp_path: Path
) -> None:
    window = opener(gauged(tmp_path))
    window.document.select("lead")
    window.workspace.show_tab("readings")
    view = window.workspace.views["readings"]
    assert isinstance(view, ReadingsView)
    newest = window.document.layout.readings[2]
    qtbot.keyClick(view.table, Qt.Key.Key_Delete)
    assert "lead" in window.document.layout.runs
    assert len(window.document.layout.readings) == 3
    assert newest not in window.document.layout.readings


def test_a_drawing_without_readings_says_how_to_begin(
    qtbot: QtBot, view: ReadingsView, document: Document
) -> None:
    document.open(SHIPPED[0])
    assert view.heading.text() == NONE_YET
    assert not view.buttons["delete"].isEnabled()
    assert view.rows == ()
    qtbot.mouseClick(view.buttons["new"], Qt.MouseButton.LeftButton)
    compared(qtbot, document)
    assert view.heading.text() == "1 reading, nothing to compare with what is allowed."


def test_another_drawing_begins_at_its_newest_reading(
    qtbot: QtBot, view: ReadingsView, document: Document
) -> None:
    compared(qtbot, document)
    view.resize(700, 150)
    scrolled(view.table, view.card)
    document.open(document.path)
    compared(qtbot, document)
    assert view.table.rowCount() > 1
    assert at_top(view.table, view.card)
