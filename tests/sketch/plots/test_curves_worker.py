"""The curves are worked out on a thread, of the drawing that is shown, with what a view chose."""

from __future__ import annotations

import threading

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.plots import curves_worker
from sketch.plots.curves_worker import CurvesWorker, DrawsWorker
from solver.answers.curves import curves, transitional
from solver.answers.sweep import SweepError
from tests.sketch.shown import opened


def test_they_are_those_of_the_solver_and_come_from_a_thread(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    document, threads, sound = opened("baler-flooded"), set(), curves
    worker = CurvesWorker(document)
    worker.ask(at_once=True)
    qtbot.waitUntil(lambda: not worker.busy, timeout=5000)
    assert worker.answered is None, "nobody sees them"

    def solved(*given):
        threads.add(threading.get_ident())
        return sound(*given)

    monkeypatch.setattr(curves_worker, "curves", solved)
    worker.on = worker.with_alternatives = True
    worker.over = "temperature"
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask(at_once=True)
    worked = worker.answer
    assert threading.get_ident() not in threads
    subject = worked.curves.subject
    assert subject.name == "temperature"
    assert subject in worked.offered
    expected = sound(document.layout, document.pump, subject, document.level)
    np.testing.assert_array_equal(worked.curves.margin, expected.margin)
    assert set(worked.others) == set(document.alternatives)
    assert document.solution is not None
    assert worked.between == transitional(document.solution.layout, document.pump, subject, document.level)
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert worker.answer is None, "it belongs to another drawing"


@pytest.mark.thorough
def test_what_the_drawing_does_not_have_gives_way_to_what_it_has(qtbot: QtBot) -> None:
    worker = CurvesWorker(opened("baler-flooded"))
    worker.on, worker.over = True, "nothing of the kind"
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask(at_once=True)
    assert worker.answer.curves.subject == worker.answer.offered[0]


def test_what_kept_them_from_an_answer_is_said(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given):
        raise SweepError("there is no such figure")

    monkeypatch.setattr(curves_worker, "curves", refuse)
    worker = CurvesWorker(opened())
    worker.on = True
    draws = DrawsWorker(worker._document, worker)
    draws.on = True
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask(at_once=True)
    assert (worker.answer, worker.trouble) == (None, "there is no such figure")
    assert draws.question() is None, "there are no curves to be unsure of"


@pytest.mark.thorough
def test_draws_belong_to_the_curves_at_hand(qtbot: QtBot) -> None:
    document = opened()
    worker = CurvesWorker(document)
    draws = DrawsWorker(document, worker)
    worker.on = draws.on = True
    assert draws.question() is None
    with qtbot.waitSignal(worker.changed, timeout=5000):
        worker.ask(at_once=True)
    with qtbot.waitSignal(draws.changed, timeout=20000):
        draws.ask(at_once=True)
    band = draws.answer.margin
    judged = np.isfinite(band.low)
    assert judged.sum() > 5
    margins = np.interp(band.values, worker.answer.curves.values, worker.answer.curves.margin)
    assert (band.low < margins)[judged].all()
    assert "of what is not known" in draws.answer.sentence
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert draws.answer is None
