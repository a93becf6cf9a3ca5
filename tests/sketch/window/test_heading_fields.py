"""Title and notes typed where they stand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.editing import beginning
from solver.quantities.units import System
from tests.sketch.window.windows import BESIDE, CONTROL, Opener

ONE_WINDOW = True
LEFT = Qt.MouseButton.LeftButton


@pytest.mark.thorough
def test_the_drawing_is_renamed_above_the_sheet_in_one_step(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    heading, document = window.heading, window.document
    qtbot.mouseClick(heading.title, LEFT)
    assert heading.title_field.hasFocus()
    assert not heading.title.isVisible()
    qtbot.keyClicks(heading.title_field, "Carriage unit")
    qtbot.keyClick(heading.title_field, Qt.Key.Key_Return)
    assert heading.title.text() == "Carriage unit"
    assert window.workspace.elevation.hasFocus(), "the keyboard goes back"
    titles = {document.layout.title, *(a.layout.title for a in document.drawing.alternatives.values())}
    assert titles == {"Carriage unit"}, "no alternative is left with the old title"
    assert document.undo_stack.undoText() == "Rename the drawing"
    document.undo_stack.undo()
    assert heading.title.text().startswith("Log carriage pump")
    qtbot.mouseDClick(heading.title, LEFT)
    qtbot.keyClicks(heading.title_field, "never mind")
    qtbot.keyClick(heading.title_field, Qt.Key.Key_Escape)
    assert heading.title.isVisible()
    assert not document.undo_stack.canUndo()


@pytest.mark.thorough
def test_notes_of_the_drawing_and_of_an_alternative_are_each_their_own(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    heading, document = window.heading, window.document
    story = document.layout.notes
    window.actions_by_name["notes"].trigger()
    field = heading.notes_field
    assert field.toPlainText() == story.strip()
    qtbot.keyClick(field, Qt.Key.Key_A, CONTROL)
    qtbot.keyClicks(field, "Line one")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.keyClicks(field, "line two")
    qtbot.keyClick(field, Qt.Key.Key_Return, CONTROL)
    assert document.layout.notes == "Line one\nline two"
    assert heading.notes.text() == "Line one line two"
    document.show_alternative(BESIDE)
    assert document.layout.notes == "Line one\nline two", "it has the drawing's notes besides its own"
    qtbot.mouseDClick(heading.notes, LEFT)
    assert field.toPlainText().startswith("On a stand beside the tank")
    qtbot.keyClick(field, Qt.Key.Key_A, CONTROL)
    qtbot.keyClicks(field, "Lower")
    qtbot.mouseClick(window.workspace.tabs.tabBar(), LEFT)
    window.workspace.elevation.setFocus()
    assert document.drawing.alternatives[BESIDE].note == "Lower", "going elsewhere takes what is typed"
    assert heading.notes.text() == "Lower"
    document.show_alternative("")
    # It has the room of the comparison again, which is no longer shown, once the layout has come round.
    qtbot.waitUntil(lambda: heading.notes.text() == "Line one line two")


def test_a_drawing_without_notes_says_how_to_write_some(opener: Opener) -> None:
    from dataclasses import replace

    window = opener()
    window.document.apply("Empty", replace(window.document.layout, notes=""))
    assert "double-click" in window.heading.notes.text()
    pump = replace(window.document.layout.pumps["carriage"], limit_assumed=True)
    window.document.apply("Assume", replace(window.document.layout, pumps={"carriage": pump}))
    assert window.heading.notes.text().startswith("Assumed so far: the limit of carriage.")


@pytest.mark.thorough
def test_the_note_of_a_new_drawing_gives_way_to_what_is_typed(qtbot: QtBot, opener: Opener) -> None:
    from sketch.editing import beginning
    from solver.quantities.units import System

    window = opener(own=True)
    window.document.begin(beginning.begin(System.SI))
    window.actions_by_name["notes"].trigger()
    qtbot.keyClicks(window.heading.notes_field, "For the mill")
    qtbot.keyClick(window.heading.notes_field, Qt.Key.Key_Return, CONTROL)
    assert window.document.layout.notes == "For the mill"
    assert window.document.layout.pumps["pump"].limit_assumed, "what is assumed stays marked"


def test_a_new_drawing_asks_for_its_name_where_that_stands(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    heading, document = window.heading, window.document
    window._begin_with(beginning.begin(System.US))
    assert heading.title.text() == f"{beginning.TITLE} – click to name it"
    qtbot.mouseClick(heading.title, LEFT)
    assert heading.title_field.text() == beginning.TITLE
    qtbot.mouseDClick(heading.title_field, LEFT)
    assert heading.title_field.selectedText() == beginning.TITLE, "two clicks are as good as one"
    qtbot.keyClicks(heading.title_field, "Press 4")
    qtbot.keyClick(heading.title_field, Qt.Key.Key_Return)
    assert heading.title.text() == document.layout.title == "Press 4"


def test_an_alternatives_notes_have_the_width_of_what_it_bought_while_they_are_typed(
    qtbot: QtBot, opener: Opener
) -> None:
    window = opener()
    heading = window.heading
    window.document.show_alternative(BESIDE)
    assert heading.compared.isVisible()
    window.actions_by_name["notes"].trigger()
    assert not heading.compared.isVisible()
    qtbot.keyClick(heading.notes_field, Qt.Key.Key_Escape)
    assert heading.compared.isVisible()
