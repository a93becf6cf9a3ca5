"""The highest port, worked out when nothing else is to be done."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from pytestqt.qtbot import QtBot

from sketch.canvas import highest
from sketch.canvas.elevation import Elevation
from sketch.editing import edits
from solver.answers import ask
from solver.quantities import units
from tests.sketch.canvas.mouse import (
    document_of,
    drag,
)


def test_highest_port_comes_when_idle_and_stays_while_only_the_port_moves(
    canvas: Elevation, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=60_000)
    document = document_of(canvas)
    expected = ask.highest_port(document.layout, "carriage").value
    assert canvas.highest_port == pytest.approx(expected)
    drag(canvas, (0.6, 1.0), (0.6, 1.1), release=False)
    assert canvas.highest_port == pytest.approx(expected)


def test_it_follows_a_drag_a_little_late(
    canvas: Elevation, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=60_000)
    before, document = canvas.highest_port, document_of(canvas)
    monkeypatch.setattr(highest, "WHILE_DRAGGING", 60.0)
    monkeypatch.setattr(highest, "SHARE", 10.0)
    canvas._idle.setInterval(60_000)
    drag(canvas, (0.6, 1.0), (0.9, 1.1), release=False)
    # On a slow machine it is worked out between two moves of the drag already: that of the last one counts.
    qtbot.waitUntil(lambda: canvas._highest._layout is document.layout, timeout=60_000)
    assert canvas.highest_port not in (before, None)
    assert canvas.highest_port == pytest.approx(ask.highest_port(document.layout, "carriage").value, abs=1e-3)


def test_it_stays_where_it_is_shown_unless_it_is_lower_or_clearly_higher(
    canvas: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = iter((2.0, 2.0 + 2e-5, 2.0 - 2e-5, 2.0, 2.001, None))
    monkeypatch.setattr(ask, "place", lambda *_: next(answers))
    port = highest.HighestPort(document_of(canvas))
    shown = [(port.solve(), port.height) for _ in range(6)]
    lower = 2.0 - 2e-5
    assert shown == [(True, 2.0), (False, 2.0), (True, lower), (False, lower), (True, 2.001), (True, None)]


def test_it_takes_three_hundredths_of_a_drag_at_most(
    canvas: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    canvas._idle.stop()  # which asks by the same clock
    clock = iter((1.0, 1.01, 1.03, 1.05, 1.36))
    monkeypatch.setattr(highest, "time", SimpleNamespace(perf_counter=clock.__next__))
    port = highest.HighestPort(document_of(canvas))
    port.solve()
    assert port.follow(moved=False, dragging=True) == highest.IDLE_MS
    assert port.follow(moved=True, dragging=True) == pytest.approx(313, abs=2)
    owed = port.follow(moved=False, dragging=True)  # what has moved once
    assert owed == pytest.approx(293, abs=2)
    assert port.follow(moved=True, dragging=True) == 0
    assert port.height is not None


def test_it_is_gone_in_a_drag_where_it_takes_too_long(
    canvas: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    canvas._ask_highest()
    monkeypatch.setattr(highest, "WHILE_DRAGGING", 0.0)
    drag(canvas, (0.6, 1.0), (0.9, 1.1), release=False)
    assert canvas.highest_port is None


def test_no_highest_port_is_drawn_where_no_estimate_of_the_limit_reaches(canvas: Elevation) -> None:
    canvas._ask_highest()
    assert canvas.highest_port is not None
    document = canvas.kept
    speed = units.quantity("3000 rpm", units.Kind.SPEED)
    rated = replace(document.layout.pumps["carriage"], rated_speed=document.layout.pumps["carriage"].speed)
    document.apply("Faster", edits.with_joint(document.layout, replace(rated, speed=speed)))
    assert not document.ledger.limit_reaches
    canvas._ask_highest()
    assert canvas.highest_port is None
