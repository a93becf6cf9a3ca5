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
    made = Document(keeps=False)
    made.open(LAYOUTS / "baler-flooded.toml")
    return made


def answered(qtbot: QtBot, document: Document) -> Advisor:
    made = advisor(document)
    made.ask()
    qtbot.waitUntil(lambda: made.advice is not None, timeout=10_000)
    return made


def texts(made: Advisor, pump: str) -> list[str]:
    assert made.advice is not None
    return [fix.text for fix in made.advice[pump].fixes]


def test_one_advisor_serves_all_views_of_a_document(document: Document) -> None:
    assert advisor(document) is advisor(document)


def test_nothing_is_worked_out_before_it_is_asked_for(document: Document) -> None:
    made, before = advisor(document), threading.active_count()
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    document.set_system(System.US)
    assert made.advice is None
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
    made = answered(qtbot, document)
    assert texts(made, "baler") == [fix.text for fix in sound(document.layout)["baler"].fixes]
    assert len(threads) == 1
    assert threads[0] is not threading.main_thread()


def test_a_change_takes_them_away_at_once_and_the_next_are_of_the_drawing_as_it_is_then(
    qtbot: QtBot, document: Document
) -> None:
    made = answered(qtbot, document)
    for step in range(1, 4):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
        assert made.advice is None
        made.ask()
    qtbot.waitUntil(lambda: made.advice is not None, timeout=10_000)
    assert made.advice is not None
    warm = made.advice["baler"].now.solved["as drawn"].solution
    assert warm is not None
    assert warm.fluid.temperature == pytest.approx(323.0)


def test_they_are_in_the_units_that_are_shown(qtbot: QtBot, document: Document) -> None:
    document.set_system(System.US)
    made = answered(qtbot, document)
    assert any("psi" in text for text in texts(made, "baler"))


def test_what_is_pointed_at_is_let_go_when_the_drawing_changes(qtbot: QtBot, document: Document) -> None:
    made = answered(qtbot, document)
    assert made.advice is not None
    made.point(made.advice["baler"].fixes[0].layout)
    assert made.preview is not None
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert made.preview is None


def test_a_fault_of_the_solver_is_said_and_ends_nothing(
    qtbot: QtBot, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*given: object) -> None:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr(fixes, "advise_all", broken)
    made = advisor(document)
    made.ask()
    qtbot.waitUntil(lambda: bool(made.trouble), timeout=10_000)
    assert "on purpose" in made.trouble
    assert made.advice is None
