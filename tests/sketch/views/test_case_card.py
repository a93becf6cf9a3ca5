"""The case in view: its note and figures, typed anew by hand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QToolTip
from pytestqt.qtbot import QtBot

from sketch.look.words import without_no_break
from sketch.views import case_making
from sketch.views.case_card import IN_CASE, NO_SCREEN
from sketch.views.cases_view import CasesView
from solver.layout.cases import AS_DRAWN
from solver.quantities.units import System
from tests import drawings
from tests.sketch.views.cases import LEFT, answer_next, document_of, shown_view


@pytest.fixture
def view(qtbot: QtBot) -> CasesView:
    return shown_view(qtbot)


def test_a_figure_is_typed_anew_by_hand(qtbot: QtBot, view: CasesView) -> None:
    document, table = document_of(view), view.card.figures
    document.set_case("hot")
    spot = table.visualRect(table.model().index(0, IN_CASE)).center()
    qtbot.mouseClick(table.viewport(), LEFT, pos=spot)
    qtbot.mouseDClick(table.viewport(), LEFT, pos=spot)
    editor = table.findChild(QLineEdit)
    editor.selectAll()
    qtbot.keyClicks(editor, "50 degC")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    figures = ("fluid", "temperature")
    qtbot.waitUntil(lambda: document.layout.cases["hot"].figures[figures].text == "50 degC")
    document.undo_stack.undo()
    assert table.item(0, IN_CASE).data(Qt.ItemDataRole.EditRole) == "60 degC"


def test_a_figure_that_is_refused_leaves_the_drawing_and_says_why(qtbot: QtBot, view: CasesView) -> None:
    document, table = document_of(view), view.card.figures
    document.set_case("hot")
    before = document.layout
    table.item(0, IN_CASE).setText("50 bar")
    assert document.layout is before
    assert table.item(0, IN_CASE).data(Qt.ItemDataRole.EditRole) == "60 degC"
    assert "a temperature" in view.card.trouble.text()


def test_a_letter_begins_no_figure_and_a_digit_does(qtbot: QtBot, view: CasesView) -> None:
    document, table = document_of(view), view.card.figures
    document.set_case("hot")
    table.setFocus()
    table.setCurrentCell(0, IN_CASE)
    qtbot.keyClick(table, "f")
    assert not table.findChildren(QLineEdit), "a key of the drawing's takes no figure's place"
    assert table.currentRow() == 0
    qtbot.keyClick(table, "5")
    editor = table.findChild(QLineEdit)
    qtbot.keyClicks(editor, "1 degC")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    figures = ("fluid", "temperature")
    qtbot.waitUntil(lambda: document.layout.cases["hot"].figures[figures].text == "51 degC")


def test_a_letter_opens_the_list_of_what_is_chosen_and_changes_nothing_yet(
    qtbot: QtBot, view: CasesView
) -> None:
    document, table = document_of(view), view.card.figures
    case_making.add(document, "low", {"level": "minimum"})
    document.set_case("low")
    before = document.layout
    table.setFocus()
    table.setCurrentCell(0, IN_CASE)
    qtbot.keyClick(table, "n")
    (box,) = table.findChildren(QComboBox)
    assert box.view().isVisible()
    assert (box.currentText(), document.layout) == ("minimum", before)
    qtbot.keyClick(box.view(), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: document.layout.cases["low"].table == {"level": "normal"})


def test_the_drawing_without_a_case_says_which_are_ready_made(view: CasesView) -> None:
    document = document_of(view)
    document.set_case(AS_DRAWN)
    offered = view.card.trouble.text().partition("Ready made under New: ")[2]
    assert "hottest hour" in offered.removesuffix(".").split(", ")
    case_making.add(document, "hottest hour", {"fluid": {"temperature": "60 degC"}})
    document.set_case(AS_DRAWN)
    assert "hottest hour" not in view.card.trouble.text(), "the drawing has it"


def test_delete_takes_a_figure_off(qtbot: QtBot, view: CasesView) -> None:
    document, table = document_of(view), view.card.figures
    document.set_case("hot")
    table.setFocus()
    table.setCurrentCell(0, IN_CASE)
    qtbot.keyClick(table, Qt.Key.Key_Delete)
    assert document.layout.cases["hot"].table == {}


def test_a_note_is_typed_where_it_is_shown(qtbot: QtBot, view: CasesView) -> None:
    document = document_of(view)
    document.set_case("hot")
    qtbot.keyClicks(view.card.note, "An afternoon in August.")
    qtbot.keyClick(view.card.note, Qt.Key.Key_Return)
    assert document.layout.cases["hot"].note == "An afternoon in August."


def test_a_figure_added_in_an_alternative_is_the_drawings_and_of_it_alone_on_request(
    qtbot: QtBot, view: CasesView
) -> None:
    document, card = document_of(view), view.card
    document.add_alternative("Other hose")
    case_making.add(document, "cold morning", {})
    assert "As drawn so far" in card.trouble.text()
    assert card.only_here.isVisible()
    assert not card.only_here.isChecked()

    def add(text: str) -> None:
        place = card.more.findText("Fluid temperature")
        answer_next(text)
        card.more.setCurrentIndex(place)
        card.more.activated.emit(place)

    def drawn() -> dict[str, str]:
        layouts = {"": document.drawing.base, "Other hose": document.layout}
        return {name: each.cases["cold morning"].table.get("fluid", {}).get("temperature", "")
                for name, each in layouts.items()}  # fmt: skip

    add("7 degC")
    assert drawn() == {"": "7 degC", "Other hose": "7 degC"}
    assert not card.trouble.isVisible()
    qtbot.mouseClick(card.only_here, LEFT, pos=QPoint(8, card.only_here.height() // 2))
    spot = card.figures.visualRect(card.figures.model().index(0, IN_CASE)).center()
    qtbot.mouseClick(card.figures.viewport(), LEFT, pos=spot)
    qtbot.keyClick(card.figures, Qt.Key.Key_Delete)
    assert drawn() == {"": "7 degC", "Other hose": ""}
    assert "in this alternative only: Fluid temperature" in card.trouble.text()
    document.show_alternative("")
    assert not card.only_here.isVisible()


@pytest.mark.thorough
def test_a_figure_is_added_from_those_a_case_may_have(qtbot: QtBot, view: CasesView) -> None:
    document = document_of(view)
    document.set_case("hot")
    more = view.card.more
    place = more.findText("Site elevation")
    answer_next("900 m")
    more.setCurrentIndex(place)
    more.activated.emit(place)
    assert document.layout.cases["hot"].figures["site", "elevation"].text == "900 m"
    assert more.findText("Site elevation") < 0, "it is listed above now"


def test_where_no_screen_is_drawn_the_list_says_why_none_is_blocked(qtbot: QtBot, view: CasesView) -> None:
    document, more = document_of(view), view.card.more
    document.set_case("hot")
    place = more.findText(NO_SCREEN)
    assert place > 0, "this drawing has none"
    assert not more.model().flags(more.model().index(place, 0)) & Qt.ItemFlag.ItemIsEnabled
    document.open(next(path for path in drawings.SHIPPED if path.stem == "carriage-at-altitude"))
    case_making.add(document, "hot", {})
    assert more.findText(NO_SCREEN) < 0


def test_figures_of_a_case_are_read_in_the_units_shown_beside_those_typed(view: CasesView) -> None:
    document, table = document_of(view), view.card.figures
    document.set_case("hot")
    document.set_system(System.US)
    assert table.item(0, IN_CASE).text() == "60 °C (140 °F)"
    assert table.item(0, IN_CASE).data(Qt.ItemDataRole.EditRole) == "60 degC"
    assert "°F" in table.item(0, IN_CASE + 1).text()


def test_a_note_that_is_cut_is_read_whole_by_the_keys_that_lead_to_it(qtbot: QtBot, view: CasesView) -> None:
    document, note = document_of(view), view.card.note
    document.set_case("hot")
    long = "The last bales before the strainer is cleaned, in summer. " * 3
    note.setFocus()
    qtbot.keyClicks(note, long)
    qtbot.keyClick(note, Qt.Key.Key_Return)
    view.card.figures.setFocus()
    note.setFocus(Qt.FocusReason.TabFocusReason)
    assert long.strip() in without_no_break(QToolTip.text())
