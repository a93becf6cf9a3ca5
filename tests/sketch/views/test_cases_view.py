"""The view of cases by the hand: a click shows a ledger, figures are typed, and every step can be undone."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.look.appearance import theme_of
from sketch.views import case_card, case_making
from sketch.views.cases_view import CASE, CasesView
from solver.answers.proposals import proposals
from solver.layout.cases import AS_DRAWN, cases_of
from tests.sketch.views.cases import LEFT, answer_next, document_of, shown_view


@pytest.fixture
def view(qtbot: QtBot) -> CasesView:
    return shown_view(qtbot)


def click(qtbot: QtBot, view: CasesView, row: int, column: int) -> None:
    table = view.table
    table.scrollToItem(table.item(row, column))
    spot = table.visualRect(table.model().index(row, column)).center()
    qtbot.mouseClick(table.viewport(), LEFT, pos=spot)


def at(view: CasesView, case: str) -> int:
    return [row.case for row in view.table.rows].index(case)


def test_a_click_shows_that_ledger(qtbot: QtBot, view: CasesView) -> None:
    document = document_of(view)
    titles = [column.title for column in view.table._columns]
    click(qtbot, view, at(view, "hot"), 1 + titles.index("pilot"))
    assert (document.case, document.pump, document.alternative) == ("hot", "pilot", "")
    name = document.alternatives[-1]
    row, column = at(view, AS_DRAWN), 1 + titles.index(name)
    worst = view.table.rows[row].cells[column - 1].pump
    click(qtbot, view, row, column)
    assert (document.case, document.pump, document.alternative) == (AS_DRAWN, worst, name)
    assert document.clean is False, "the cases made beforehand"
    assert document.undo_stack.count() == 2, "looking changes nothing"


def test_the_name_of_a_case_puts_it_in_view(qtbot: QtBot, view: CasesView) -> None:
    click(qtbot, view, at(view, "hot"), CASE)
    assert document_of(view).case == "hot"


def test_what_is_over_is_written_in_the_colour_of_a_stop(view: CasesView) -> None:
    stop = theme_of(view.palette()).stop
    marked = [
        (cell.pump_state.rank <= 2, view.table.item(row, column).foreground().color() == stop)
        for row, each in enumerate(view.table.rows)
        for column, cell in enumerate(each.cells, 1)
        if cell.pump_state is not None
    ]
    assert {expected for expected, _ in marked} == {True, False}
    assert all(expected == colour for expected, colour in marked)


def test_a_ready_made_case_is_a_click_away_and_undone_in_one_step(view: CasesView) -> None:
    document = document_of(view)
    view.card.proposals.aboutToShow.emit()
    action = next(each for each in view.card.proposals.actions() if each.text() == "low-pressure day")
    action.trigger()
    assert document.case == "low-pressure day"
    document.undo_stack.undo()
    assert "low-pressure day" not in cases_of(document.layout)


def test_what_a_ready_made_case_lacks_is_asked_for(view: CasesView) -> None:
    document = document_of(view)
    proposal = next(each for each in proposals(document.layout) if each.name == "hottest hour")
    answer_next("65 degC")
    view.card.add_proposal(proposal)
    assert document.layout.cases["hottest hour"].figures["fluid", "temperature"].text == "65 degC"


def test_without_the_figure_asked_for_no_case_is_made(view: CasesView) -> None:
    document = document_of(view)
    proposal = next(each for each in proposals(document.layout) if each.name == "hottest hour")
    answer_next("  ")
    view.card.add_proposal(proposal)
    assert "hottest hour" not in cases_of(document.layout)


def test_a_start_that_is_not_known_is_left_out_and_the_case_says_so(view: CasesView) -> None:
    document = document_of(view)
    proposal = next(each for each in proposals(document.layout) if each.name == "worst cold")
    answers = iter(["0.3", ""])
    asked: list[str] = []

    def give(parent: QWidget, title: str, question: str) -> str:
        asked.append(question)
        return next(answers)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(case_card, "ask_for_text", give)
        view.card.add_proposal(proposal)
    assert asked[0].startswith('For the case "worst cold", main: flow rises in (s; such as 0.2 s):')
    name = "worst cold"
    assert (
        "Typed: main: flow rises in 0.3 s. Not known and not counted: pilot: flow rises in."
        in document.layout.cases[name].note
    )
    assert ("pumps", "pilot", "flow_rise") not in document.layout.cases[name].figures
    assert document.layout.cases[name].figures["pumps", "main", "flow_rise"].text == "0.3 s"
    assert document.layout.cases[name].lacks_start
    document.set_case(name)
    assert ("A start that is not counted", "yes") in [(each.words, text) for each, text in view.card.shown]
    case_making.rename(document, name, "January")
    assert document.layout.cases["January"].lacks_start, "it is what it is by any name"


@pytest.mark.thorough
def test_buttons_rename_order_and_delete_the_case_in_view(qtbot: QtBot, view: CasesView) -> None:
    document = document_of(view)
    document.set_case("pilot off")
    buttons = view.card.buttons
    answer_next("pilot stands")
    qtbot.mouseClick(buttons["rename"], LEFT)
    assert document.case == "pilot stands"
    qtbot.mouseClick(buttons["up"], LEFT)
    assert list(document.layout.cases)[-2:] == ["pilot stands", "hot"]
    qtbot.mouseClick(buttons["delete"], LEFT)
    assert "pilot stands" not in cases_of(document.layout)
    assert document.case == AS_DRAWN
    assert not buttons["delete"].isEnabled(), "the drawing itself is no case to drop"
    for _ in range(3):
        document.undo_stack.undo()
    assert list(document.layout.cases)[-2:] == ["hot", "pilot off"]


def test_a_hidden_view_works_out_nothing(view: CasesView) -> None:
    view.hide()
    rows = view.table.rows
    document_of(view).set_case("hot")
    assert view.table.rows is rows


def test_the_table_scrolls_sideways_for_its_figures_alone(view: CasesView) -> None:
    table = view.table
    figures = sum(table.columnWidth(column) for column in range(table.columnCount() - 1))
    view.setSizes([figures + 4, 400])
    assert table.horizontalScrollBar().maximum() == 0
