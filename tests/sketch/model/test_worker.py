"""A worker answers the question of the drawing that is shown, on a thread, once it has come to rest."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.worker import Worker

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


class Thermometer(Worker[float]):
    """How warm the drawing is."""

    IDLE_MS = 10
    go_on = threading.Event()
    threads: set[int] = set()  # noqa: RUF012 - looked at by the tests

    def question(self) -> float | None:
        return self._document.layout.fluid.temperature.si

    @staticmethod
    def work(question: float) -> str:
        Thermometer.go_on.wait(5.0)
        Thermometer.threads.add(threading.get_ident())
        if question > 330.0:
            raise ValueError("too hot")
        return f"{question:.0f} K"


@pytest.fixture
def document() -> Document:
    opened = Document(keeps=False)
    opened.open(CARRIAGE)
    return opened


@pytest.fixture
def worker(document: Document) -> Worker[float]:
    Thermometer.go_on.set()
    Thermometer.threads.clear()
    return Thermometer(document)


def warm(document: Document, to: float) -> None:
    document.apply("Warm", edits.set_temperature(document.layout, to))


def test_the_answer_comes_from_a_thread_and_is_gone_with_the_drawing(
    qtbot: QtBot, document: Document, worker: Worker[float]
) -> None:
    warm(document, 310.0)
    assert (worker.answer, worker.busy) == (None, False)
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask()
        assert worker.busy
    assert (worker.answer, worker.busy, worker.at_hand) == ("310 K", False, True)
    assert threading.get_ident() not in Thermometer.threads
    worker.ask()
    assert not worker.busy, "it is at hand"
    warm(document, 311.0)
    assert (worker.answer, worker.at_hand) == (None, False)


def test_what_comes_too_late_is_asked_again(qtbot: QtBot, document: Document, worker: Worker[float]) -> None:
    Thermometer.go_on.clear()
    warm(document, 310.0)
    worker.ask()
    qtbot.waitUntil(lambda: worker._running is not None, timeout=5000)
    warm(document, 320.0)
    with qtbot.waitSignal(worker.changed, timeout=5000):
        Thermometer.go_on.set()
    assert worker.answer == "320 K"


def test_what_kept_it_from_an_answer_is_said(qtbot: QtBot, document: Document, worker: Worker[float]) -> None:
    warm(document, 340.0)
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask()
    assert worker.answer is None
    assert worker.trouble == "the program failed: ValueError (too hot)"


def test_where_there_is_nothing_to_ask_nothing_runs(
    qtbot: QtBot, worker: Worker[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker, "question", lambda: None)
    worker.ask()
    qtbot.waitUntil(lambda: not worker.busy, timeout=5000)
    assert worker.answered is None
