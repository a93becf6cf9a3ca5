"""How far each thing may go: asked when the drawing has come to rest, greyed the moment it changes."""

import threading
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views.reach_view import AGAIN, WORKING_OUT, ReachView
from solver.answers import ask
from solver.answers.answer import Answer, Status, in_brief
from solver.quantities.units import System
from tests.sketch.shown import opened, shown

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document() -> Document:
    return opened("baler-flooded")


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> ReachView:
    view = shown(qtbot, ReachView(document), 900, 300)
    qtbot.waitUntil(lambda: not view.stale, timeout=5000)
    return view


def test_every_question_is_answered_as_the_solver_answers_it(view: ReachView, document: Document) -> None:
    texts = [view.reach.data(view.reach.index(row)) for row in range(view.reach.rowCount())]
    assert texts == [answer.whole_text for answer in ask.ask_all(document.layout, document.pump)]
    assert len(texts) == len(ask.QUESTIONS)
    assert all(": " in text for text in texts)


def test_answers_grow_stale_at_once_and_are_asked_again_at_rest(
    qtbot: QtBot, view: ReachView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []
    sound = ask.ask_all
    monkeypatch.setattr(ask, "ask_all", lambda *given: asked.append(given) or sound(*given))
    fresh = view.grab().toImage()
    for step in range(1, 6):
        document.apply("Warm", edits.set_temperature(document.layout, 320.0 + step))
        assert view.stale
    assert asked == []
    assert view.grab().toImage() != fresh
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert len(asked) == 1
    shown = [answer.text for answer in view.reach.answers]
    assert shown == [answer.text for answer in sound(document.layout, document.pump)]


def test_hidden_view_asks_nothing(qtbot: QtBot, view: ReachView, document: Document) -> None:
    view.hide()
    held = view.reach.answers
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    qtbot.wait(300)
    assert view.reach.answers is held
    view.show()
    qtbot.waitUntil(lambda: view.reach.answers is not held, timeout=5000)


@pytest.mark.thorough
def test_answers_that_come_too_late_are_not_shown(
    qtbot: QtBot, view: ReachView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on, sound = threading.Event(), threading.Event(), ask.ask_all

    def slow(*given: object) -> tuple[Answer, ...]:
        begun.set()
        go_on.wait(5.0)
        return sound(*given)

    monkeypatch.setattr(ask, "ask_all", slow)
    document.apply("Warm", edits.set_temperature(document.layout, 330.0))
    qtbot.waitUntil(begun.is_set, timeout=3000)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    assert view.reach.answers == ()
    go_on.set()
    qtbot.waitUntil(lambda: not view.stale, timeout=5000)
    shown_now = [answer.text for answer in view.reach.answers]
    assert shown_now == [
        answer.text for answer in in_brief(sound(document.layout, document.pump, document.level))
    ]


def test_answers_that_come_while_it_is_hidden_are_shown_when_it_is_seen_again(
    qtbot: QtBot, view: ReachView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on, asked = threading.Event(), threading.Event(), []

    def slow(*given: object) -> tuple[Answer, ...]:
        asked.append(given)
        begun.set()
        go_on.wait(5.0)
        return ()

    monkeypatch.setattr(ask, "ask_all", slow)
    document.apply("Warm", edits.set_temperature(document.layout, 330.0))
    qtbot.waitUntil(begun.is_set, timeout=3000)
    view.hide()
    go_on.set()
    qtbot.waitUntil(lambda: not view.busy, timeout=3000)
    assert view.reach.answers != ()
    view.show()
    assert view.reach.answers == ()
    assert not view.stale
    assert len(asked) == 1


def test_answers_are_in_the_units_shown_and_wrap_to_the_width(
    qtbot: QtBot, view: ReachView, document: Document
) -> None:
    document.set_system(System.US)
    qtbot.waitUntil(lambda: not view.stale, timeout=3000)
    assert " ft " in view.reach.answers[0].text
    wide = sum(view.visualRect(view.reach.index(row)).height() for row in range(view.reach.rowCount()))
    view.resize(380, 300)
    qtbot.waitUntil(
        lambda: (
            sum(view.visualRect(view.reach.index(row)).height() for row in range(view.reach.rowCount()))
            > wide
        )
    )


def test_unsolved_drawing_asks_nothing(qtbot: QtBot) -> None:
    document = Document()
    view = ReachView(document)
    qtbot.addWidget(view)
    view.show()
    assert view.reach.answers == ()


BROKE = Path(__file__).parents[2] / "hostile" / "broke"


def test_a_question_without_an_answer_takes_no_other_and_keeps_none_of_another_drawing(
    qtbot: QtBot, view: ReachView, document: Document
) -> None:
    before = [each.text for each in view.reach.answers if each.status != Status.NOT_ASKED]
    document.open(BROKE / "limits-refused-and-stale.toml")
    assert view.reach.answers == ()
    qtbot.waitUntil(lambda: len(view.reach.answers) > 0, timeout=3000)
    after = [answer.text for answer in view.reach.answers]
    assert len(after) == len(ask.QUESTIONS)
    assert not set(before) & set(after)
    assert [text for text in after if "no answer" in text] == [
        text for text in after if text.startswith("Smallest bore: ")
    ]


def test_what_binds_it_stands_beside_every_answer_that_has_a_value(view: ReachView) -> None:
    role = Qt.ItemDataRole.AccessibleTextRole
    bound = [each for each in view.reach.answers if each.value is not None]
    assert bound
    assert all(each.reason for each in bound)
    rows = range(view.reach.rowCount())
    spoken = [view.reach.data(view.reach.index(row), role) for row in rows]
    assert [text for text in spoken if "; limited by: " in text] == [
        f"{each.whole_text}; limited by: {each.reason}" for each in bound
    ]
    widest = max(view.fontMetrics().horizontalAdvance(str(each.reason)) for each in bound)
    assert view.reason_width >= widest


def test_while_it_is_worked_out_the_last_answers_stay_under_a_word_or_a_sentence_stands_alone(
    qtbot: QtBot, view: ReachView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on, sound = threading.Event(), ask.ask_all

    def slow(*given: object) -> tuple[Answer, ...]:
        go_on.wait(5.0)
        return sound(*given)

    monkeypatch.setattr(ask, "ask_all", slow)
    assert view.waiting_text == ""
    held = view.reach.answers
    document.apply("Warm", edits.set_temperature(document.layout, 330.0))
    assert view.reach.answers is held
    assert view.waiting_text == AGAIN
    with_a_word = view.grab().toImage()
    document.add_alternative("Other line")
    assert view.reach.answers == (), "nothing of another line stays"
    assert view.waiting_text == WORKING_OUT
    alone = view.grab().toImage()
    assert alone != with_a_word
    middle = range(alone.width() // 2)
    assert any(alone.pixel(x, 20) != alone.pixel(2, 2) for x in middle), "it is not blank"
    go_on.set()
    qtbot.waitUntil(lambda: not view.stale, timeout=5000)
    assert view.waiting_text == ""
