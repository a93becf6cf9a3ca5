"""The highest port, worked out when nothing else is to be done."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.editing import edits
from solver.answers import ask
from solver.quantities import units
from tests.sketch.canvas.mouse import (
    document_of,
    drag,
    send,
    spot,
)


def test_highest_port_comes_when_idle_and_stays_while_only_the_port_moves(
    canvas: Elevation, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=3000)
    document = document_of(canvas)
    expected = ask.highest_port(document.layout, "carriage").value
    assert canvas.highest_port == pytest.approx(expected)
    drag(canvas, (0.6, 1.0), (0.6, 1.1), release=False)
    assert canvas.highest_port == pytest.approx(expected)
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.9, 1.1))
    assert canvas.highest_port is None
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=3000)


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
