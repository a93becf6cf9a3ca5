"""The Working view: what it follows, what it keeps, and that it shows what the solver says."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.look import colours
from sketch.model.document import Document
from sketch.views import working_html, working_view
from sketch.views.refusal import Guarded
from sketch.views.working_view import EMPTY, WorkingView
from solver.quantities.units import System
from solver.working import working
from solver.working.text import section_text
from tests.sketch.views.scrolling import at_top, scrolled
from tests.sketch.views.workings import BEND, RISER, shown

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> Iterator[WorkingView]:
    with shown(qtbot, document) as view:
        yield view


def plain(view: WorkingView) -> str:
    view.refresh()
    return re.sub(r"\s+", " ", view.page.toPlainText().replace("\N{NO-BREAK SPACE}", " "))


# What it shows


def test_it_opens_on_what_costs_the_most(view: WorkingView, document: Document) -> None:
    shown = plain(view)
    dearest = max(document.ledger.entries, key=lambda entry: entry.share)
    assert f"{dearest.part}, {dearest.element} takes" in shown
    assert (view.key, view.picker.currentData()) == (dearest.key, dearest.key)
    assert view.why.isVisible()
    assert "inlet budget" in view.budget.text()
    document.point(BEND)
    assert f"{dearest.element} takes" not in plain(view)
    assert not view.why.isVisible()


def test_the_costliest_is_kept_too(qtbot: QtBot, view: WorkingView, document: Document) -> None:
    view.refresh()
    dearest = view.key
    qtbot.mouseClick(view.pin, Qt.MouseButton.LeftButton)
    document.point(BEND)
    assert (view.key, view.kept) == (dearest, True)
    assert dearest.partition("/")[0] in plain(view)
    assert not view.why.isVisible()


def test_a_drawing_without_a_ledger_shows_nothing(view: WorkingView, document: Document) -> None:
    document.apply("Break", replace(document.layout, runs={}))
    assert plain(view) == view.key == ""
    assert view.page.placeholderText() == view.picker.placeholderText() == EMPTY
    assert view.accessibleDescription() == EMPTY
    assert not view.copy.isEnabled()
    assert not view.why.isVisible()


def test_a_working_says_of_which_case_it_is_where_there_are_several(
    view: WorkingView, document: Document
) -> None:
    document.point(RISER)
    view.refresh()
    assert "of the inlet budget, as drawn" in plain(view)
    document.set_case("coldest start")
    view.refresh()
    assert 'of the inlet budget, in "coldest start"' in plain(view)
    document.open(LAYOUTS / "wash-water-npsh.toml")
    view.refresh()
    assert "as drawn" not in plain(view).partition("given")[0]


def test_every_step_of_what_is_pointed_at_is_there(view: WorkingView, document: Document) -> None:
    for entry in document.ledger.entries:
        document.point(entry.key)
        said = plain(view)
        assert f"{entry.part}, {entry.element} takes" in said
        shown = working.working(document.solution, "carriage", entry.key, System.US)
        for step in shown.steps:
            assert step.name in said
            assert step.result in said
            for line in step.numbers:
                assert line.numbers in said


def test_it_follows_the_units(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    assert "gpm" in plain(view)
    assert "inHg" in view.budget.text()
    document.set_system(System.SI)
    said = plain(view)
    assert "L/min" in said
    assert "gpm" not in said
    assert "kPa" in view.budget.text()


def test_it_follows_the_drawing(qtbot: QtBot, view: WorkingView, document: Document) -> None:
    document.point(RISER)
    before = plain(view)
    document.apply("Warm", edits.set_temperature(document.layout, 330.0))
    qtbot.waitUntil(lambda: plain(view) != before, timeout=1000)
    steps = working.working(document.solution, "carriage", RISER, System.US).steps
    assert all(step.result in plain(view) for step in steps)


def test_a_drag_is_not_slowed_by_setting_the_page_at_every_move(
    qtbot: QtBot, view: WorkingView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    document.point(RISER)
    view.refresh()
    asked = []
    sound = working_view.working.working
    monkeypatch.setattr(working_view.working, "working", lambda *given: asked.append(given) or sound(*given))
    for step in range(8):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
    assert asked == []
    qtbot.waitUntil(lambda: len(asked) == 1, timeout=1000)


def test_a_hidden_view_works_nothing_out(
    view: WorkingView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []
    monkeypatch.setattr(working_view.working, "working", lambda *given: asked.append(given))
    view.hide()
    document.point(RISER)
    view.refresh()
    assert asked == []
    view.show()
    assert [given[2] for given in asked] == [RISER]


def test_while_nothing_is_calculated_no_old_number_stays(qtbot: QtBot, document: Document) -> None:
    view = WorkingView(document)
    guarded = Guarded(document, view)
    qtbot.addWidget(guarded)
    with qtbot.waitExposed(guarded):
        guarded.show()
    document.point(RISER)
    assert plain(view)
    broken = replace(document.layout, runs={})
    document.apply("Break", broken)
    assert document.solution is None
    assert guarded.refused
    guarded.setCurrentWidget(view)
    assert plain(view) == ""
    assert view.budget.text() == ""


# What it follows and keeps


def test_the_last_pointed_at_stays(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    document.point("")
    assert view.key == RISER
    document.point(BEND)
    assert view.key == BEND


def test_a_click_keeps_what_it_falls_on(view: WorkingView, document: Document) -> None:
    document.point(BEND)
    document.select("riser")
    assert view.key == BEND
    assert view.kept
    document.point("connector/flexible connector")
    assert view.key == BEND
    document.point("riser/straight 1")
    document.select("riser")
    assert view.key == "riser/straight 1", "another element of the run that is selected already"
    document.select("")
    assert not view.kept
    document.point("connector/flexible connector")
    assert view.key == "connector/flexible connector"


def test_a_part_selected_elsewhere_shows_its_first_entry(view: WorkingView, document: Document) -> None:
    document.select("strainer")
    assert view.key == "strainer/screen"
    document.select("tank")
    assert view.key == "strainer/screen", "a tank that gives nothing has no entry"


def test_an_entry_can_be_picked_by_key(qtbot: QtBot, view: WorkingView, document: Document) -> None:
    view.refresh()
    assert view.focusProxy() is view.picker
    view.picker.setFocus()
    qtbot.keyClick(view.picker, Qt.Key.Key_Home)
    for _ in range(view.picker.findData(BEND)):
        qtbot.keyClick(view.picker, Qt.Key.Key_Down)
    assert view.picker.currentText() == "riser, bend 1"
    assert view.key == BEND
    assert view.kept
    assert document.pointed_key == BEND


def test_fluid_budget_and_outcome_can_be_picked_too(view: WorkingView) -> None:
    view.refresh()
    names = [view.picker.itemText(at) for at in range(view.picker.count())]
    assert names[:2] == ["Fluid", "What there is to spend"]
    assert names[-1] == "Outcome at the port"
    view.picker.setCurrentIndex(0)
    view.picker.activated.emit(0)
    assert "viscosity line" in plain(view)


def test_each_figure_of_the_budget_leads_to_its_steps(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    view.refresh()
    for line in re.findall(r'href="([^"]+)"', view.budget.text()):
        view.budget.linkActivated.emit(line.replace("&#x27;", "'"))
        view.refresh()
        assert view.key == working.BUDGET
        assert view.kept
    view.show_key(working.BUDGET, "inlet budget")
    view.resize(1000, 160)
    view.refresh()
    assert view.page.verticalScrollBar().value() > 0
    assert re.search(r"<b>inlet&nbsp;budget</b>", view.budget.text())


@pytest.mark.thorough
def test_every_line_of_the_budget_has_steps_behind_it() -> None:
    for path in LAYOUTS.glob("*.toml"):
        document = Document()
        document.open(path)
        for name in ("", *document.alternatives):
            document.show_alternative(name)
            for pump, ledger in document.solution.pumps.items():
                said = working_html.budget_line(ledger, "", System.SI, "#000000")
                links = set(re.findall(r'href="([^"]+)"', said.replace("&#x27;", "'")))
                assert links <= set(working.lines(document.solution, pump)), path


@pytest.mark.thorough
def test_in_the_place_of_an_entry_that_is_gone_the_costliest_is_shown(
    view: WorkingView, document: Document
) -> None:
    document.point("strainer/screen")
    assert "strainer, screen takes" in plain(view)
    document.show_alternative("Pump beside the tank")
    dearest = max(document.ledger.entries, key=lambda entry: entry.share)
    assert f"{dearest.part}, {dearest.element} takes" in plain(view)
    assert view.why.isVisible()
    document.show_alternative("")
    assert "strainer, screen takes" in plain(view)


# The hand, the eye


def test_the_steps_can_be_copied(qtbot: QtBot, view: WorkingView, document: Document) -> None:
    document.point(RISER)
    view.refresh()
    qtbot.mouseClick(view.copy, Qt.MouseButton.LeftButton)
    shown = working.working(document.solution, "carriage", RISER, System.US)
    assert QApplication.clipboard().text() == f"{section_text(shown)}\nFigures as drawn\n"
    view.page.selectAll()
    view.page.copy()
    assert "31.410 gpm" in QApplication.clipboard().text().replace("\N{NO-BREAK SPACE}", " ")


def test_the_text_can_be_selected_with_the_keyboard(view: WorkingView) -> None:
    for widget in (view.page, view.budget):
        assert widget.textInteractionFlags() & Qt.TextInteractionFlag.TextSelectableByKeyboard
        assert widget.accessibleName()


@pytest.mark.thorough
def test_no_working_makes_qt_complain(
    qtbot: QtBot, view: WorkingView, document: Document, qtlog: object
) -> None:
    """Letters too small to be drawn, for one: nested exponents carry hidden ones for the clipboard."""
    view.refresh()
    for at in range(view.picker.count()):
        view.picker.setCurrentIndex(at)
        view.picker.activated.emit(at)
        view.refresh()
        view.grab()
    said = [record.message for record in qtlog.records if "does not support" not in record.message]
    assert said == []


def test_it_wears_dark(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    view.refresh()
    light = view.page.toHtml()
    view.setPalette(colours.palette(colours.DARK))
    view.refresh()
    dark = view.page.toHtml()
    assert colours.LIGHT.quiet.name() in light
    assert colours.DARK.quiet.name() in dark
    assert colours.LIGHT.quiet.name() not in dark
    assert colours.DARK.accent.name() in view.budget.text()


def test_what_lies_outside_its_range_stands_out(view: WorkingView, document: Document) -> None:
    document.point(RISER)
    said = plain(view)
    assert "uncertain" not in said
    document.apply("Thin", edits.set_temperature(document.layout, 345.0))
    entry = next(entry for entry in document.ledger.entries if entry.key == RISER)
    assert 2000 < entry.reynolds < 4000
    assert "the friction is uncertain" in plain(view)
    assert colours.LIGHT.caution.name() in view.page.toHtml()


# The sentences


def test_another_drawing_begins_at_the_top_of_its_working(view: WorkingView, document: Document) -> None:
    view.resize(800, 120)
    view.show_key("outcome", keep=True)
    view.refresh()
    scrolled(view.page)
    document.set_system(System.SI)
    view.refresh()
    assert not at_top(view.page), "the same drawing stays where it is"
    document.show_alternative(document.alternatives[0])
    view.refresh()
    assert at_top(view.page)
    scrolled(view.page)
    document.open(document.path)
    view.refresh()
    assert at_top(view.page)
