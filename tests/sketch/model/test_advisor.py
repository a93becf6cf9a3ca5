"""The fixes are worked out off the hand's thread, once the drawing rests, and belong to it alone."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.advisor import Advisor, advisor
from sketch.model.document import Document
from solver.fixes import fixes
from solver.quantities.units import System

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    document = Document(keeps=False)
    document.open(LAYOUTS / "baler-flooded.toml")
    return document


def answered(qtbot: QtBot, document: Document) -> Advisor:
    adviser = advisor(document)
    adviser.ask()
    qtbot.waitUntil(lambda: adviser.advice_by_pump is not None, timeout=10_000)
    return adviser


def texts(advisor: Advisor, pump: str) -> list[str]:
    assert advisor.advice_by_pump is not None
    return [fix.text for fix in advisor.advice_by_pump[pump].fixes]


def test_one_advisor_serves_all_views_of_a_document(document: Document) -> None:
    assert advisor(document) is advisor(document)


def test_nothing_is_worked_out_before_it_is_asked_for(document: Document) -> None:
    adviser, before = advisor(document), threading.active_count()
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    document.set_system(System.US)
    assert adviser.advice_by_pump is None
    assert threading.active_count() == before


def test_the_fixes_are_the_solver_s_and_are_worked_out_on_another_thread(
    qtbot: QtBot, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    threads = []
    sound = fixes.advise_all

    def noted(*given):  # type: ignore[no-untyped-def]
        if given[0].title == document.layout.title:  # and not of a view that another test left behind
            threads.append(threading.current_thread())
        return sound(*given)

    monkeypatch.setattr(fixes, "advise_all", noted)
    advisor_answer = answered(qtbot, document)
    assert texts(advisor_answer, "baler") == [fix.text for fix in sound(document.layout)["baler"].fixes]
    assert len(threads) == 1
    assert threads[0] is not threading.main_thread()


def test_a_change_takes_them_away_at_once_and_the_next_are_of_the_drawing_as_it_is_then(
    qtbot: QtBot, document: Document
) -> None:
    advisor_answer = answered(qtbot, document)
    for step in range(1, 4):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
        assert advisor_answer.advice_by_pump is None
        advisor_answer.ask()
    qtbot.waitUntil(lambda: advisor_answer.advice_by_pump is not None, timeout=10_000)
    assert advisor_answer.advice_by_pump is not None
    warm = advisor_answer.advice_by_pump["baler"].now.solved["as drawn"].solution
    assert warm is not None
    assert warm.fluid.temperature == pytest.approx(323.0)


def test_they_are_in_the_units_that_are_shown(qtbot: QtBot, document: Document) -> None:
    document.set_system(System.US)
    advisor_answer = answered(qtbot, document)
    assert any("psi" in text for text in texts(advisor_answer, "baler"))


def test_what_is_pointed_at_is_let_go_when_the_drawing_changes(qtbot: QtBot, document: Document) -> None:
    advisor_answer = answered(qtbot, document)
    assert advisor_answer.advice_by_pump is not None
    advisor_answer.point(advisor_answer.advice_by_pump["baler"].fixes[0].layout)
    assert advisor_answer.preview is not None
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert advisor_answer.preview is None


def test_a_fault_of_the_solver_is_said_and_ends_nothing(
    qtbot: QtBot, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*given: object) -> None:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr(fixes, "advise_all", broken)
    adviser = advisor(document)
    adviser.ask()
    qtbot.waitUntil(lambda: bool(adviser.trouble), timeout=10_000)
    assert "on purpose" in adviser.trouble
    assert adviser.advice_by_pump is None
