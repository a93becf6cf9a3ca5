"""Fixes on the screen: ranked, shown in the elevation while pointed at, kept by one click."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.views.fixes_view import FixesView
from solver.fixes.fixes import advise
from solver.ledger.cases import solve_cases
from solver.quantities.units import System
from solver.report import changes
from tests.sketch.views.scrolling import at_top, scrolled

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> FixesView:
    view = FixesView(document)
    qtbot.addWidget(view)
    view.resize(1100, 500)
    with qtbot.waitExposed(view):
        view.show()
    qtbot.waitUntil(lambda: bool(view.list.fixes.rows), timeout=10_000)
    return view


def move(qtbot: QtBot, view: FixesView, row: int) -> None:
    rect = view.list.visualRect(view.list.fixes.index(row))
    qtbot.mouseMove(view.list.viewport(), rect.topLeft() + QPoint(200, 20))


def test_every_fix_of_the_pump_is_listed_the_best_first(view: FixesView, document: Document) -> None:
    expected = [fix.text for fix in advise(document.layout, "carriage").fixes]
    assert [row.fix.text for row in view.list.fixes.rows] == expected
    assert (
        'over by 1.77 inHg in the case with the least margin, "coldest start"'
        in view.list.accessibleDescription()
    )


def test_bars_run_from_the_margin_now_to_the_margin_then(view: FixesView, document: Document) -> None:
    least = min(
        case.solution.pumps["carriage"].margin
        for case in solve_cases(document.layout).values()
        if case.solution
    )
    for row in view.list.fixes.rows:
        assert row.before == pytest.approx(least)
        assert 0.0 <= view.list.scale.share(row.before) < view.list.scale.share(row.after) <= 1.0


def test_pointing_shows_the_change_and_leaving_takes_it_away(
    qtbot: QtBot, view: FixesView, document: Document
) -> None:
    known = advisor(document)
    with qtbot.waitSignal(known.previewed, timeout=3000):
        move(qtbot, view, 1)
    assert known.preview is view.list.fixes.rows[1].fix.layout
    view.hide()
    assert known.preview is None


def test_one_click_keeps_a_fix_that_can_be_undone(qtbot: QtBot, view: FixesView, document: Document) -> None:
    before, row = document.alternatives, view.list.fixes.rows[0]
    qtbot.mouseClick(view.list.viewport(), Qt.MouseButton.LeftButton, pos=view.list.button(0).center())
    (name,) = (each for each in document.alternatives if each not in before)
    kept = document.drawing.alternatives[name]
    assert document.alternative == "", "what is shown stays shown"
    assert kept.note == changes.note(row.fix)
    assert row.fix.text not in kept.note, "its name says that"
    assert name.lower() == row.fix.text.lower()
    margins = [
        case.solution.pumps["carriage"].margin for case in solve_cases(kept.layout).values() if case.solution
    ]
    assert min(margins) == pytest.approx(row.after, abs=0.5)
    assert row.fix.text in view.list.kept
    qtbot.mouseClick(view.list.viewport(), Qt.MouseButton.LeftButton, pos=view.list.button(0).center())
    assert len(document.alternatives) == len(before) + 1, "kept once"
    document.undo_stack.undo()
    assert document.alternatives == before


def test_a_click_beside_the_button_keeps_nothing(qtbot: QtBot, view: FixesView, document: Document) -> None:
    before = document.alternatives
    rect = view.list.visualRect(view.list.fixes.index(0))
    qtbot.mouseClick(view.list.viewport(), Qt.MouseButton.LeftButton, pos=rect.topLeft() + QPoint(200, 10))
    assert document.alternatives == before


def test_by_key_alone(qtbot: QtBot, view: FixesView, document: Document) -> None:
    before = len(document.alternatives)
    view.list.setFocus()
    qtbot.keyClick(view.list, Qt.Key.Key_Down)
    row = view.list.currentIndex().row()
    assert advisor(document).preview is view.list.fixes.rows[row].fix.layout
    qtbot.keyClick(view.list, Qt.Key.Key_Return)
    assert len(document.alternatives) == before + 1


@pytest.mark.thorough
def test_old_fixes_are_greyed_and_cannot_be_kept(qtbot: QtBot, view: FixesView, document: Document) -> None:
    before = document.alternatives
    document.apply("Warm", edits.set_temperature(document.layout, 315.0))
    assert view.list.stale
    qtbot.mouseClick(view.list.viewport(), Qt.MouseButton.LeftButton, pos=view.list.button(0).center())
    assert document.alternatives == before
    qtbot.waitUntil(lambda: not view.list.stale, timeout=10_000)


def test_another_drawing_leaves_nothing_of_the_last(view: FixesView, document: Document) -> None:
    document.open(LAYOUTS / "baler-flooded.toml")
    assert view.list.fixes.rows == ()


def test_a_hidden_view_asks_nothing_and_lists_nothing(
    qtbot: QtBot, view: FixesView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    view.hide()
    held = view.list.fixes.rows
    asked: list[int] = []
    monkeypatch.setattr(advisor(document), "ask", lambda: asked.append(1))
    document.apply("Warm", edits.set_temperature(document.layout, 315.0))
    assert asked == []
    assert view.list.fixes.rows is held
    view.show()
    assert asked == [1]
    assert view.list.stale


def test_a_pump_that_stands_worse_is_named_and_one_click_away(
    qtbot: QtBot, view: FixesView, document: Document
) -> None:
    assert not view.worse.isVisible(), "there is one pump"
    document.open(LAYOUTS / "header-two-pumps.toml")
    judgement = document.outcome.judgement
    worst = judgement.worst()
    other = next(each for each in document.layout.pumps if each != worst.pump)
    document.select(other)
    qtbot.waitUntil(view.worse.isVisible)
    assert view.worse.text().startswith(f"{worst.pump} is worse: ")
    assert '"as drawn"' not in view.worse.text()
    assert " as drawn. Show its fixes" in view.worse.text()
    qtbot.mouseClick(view.worse, Qt.MouseButton.LeftButton)
    assert document.pump == worst.pump
    assert not view.worse.isVisible()


def test_under_a_headline_over_as_read_the_margin_is_enough_as_drawn_alone(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "strainer-over-a-year.toml")
    view = FixesView(document)
    qtbot.addWidget(view)
    view.show()
    qtbot.waitUntil(lambda: bool(view.list.fixes.rows), timeout=20_000)
    gauger(document).ask_if_any()
    said = "As read feed is over: clean strainer before all else."
    qtbot.waitUntil(lambda: said in view.list.accessibleDescription(), timeout=20_000)
    assert "The margin is enough with strainer as drawn (clean)" in view.list.accessibleDescription()


def test_another_drawing_begins_at_its_best_fix(qtbot: QtBot, view: FixesView, document: Document) -> None:
    scrolled(view.list)
    document.set_system(System.SI)
    assert not at_top(view.list), "the same drawing stays where it is"
    document.show_alternative(document.alternatives[0])
    qtbot.waitUntil(lambda: bool(view.list.fixes.rows) and not view.list.stale, timeout=10_000)
    assert at_top(view.list)
