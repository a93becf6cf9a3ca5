"""Cycles of objects are looked for when asked, and nowhere else."""

from __future__ import annotations

import gc
import weakref

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from sketch.model import cycles
from sketch.model.cycles import Cycles


class Ring:
    """An object that holds itself."""

    def __init__(self) -> None:
        self.own = self


@pytest.fixture
def looks(qtbot: QtBot) -> Cycles:
    parent = QObject()
    cycles = Cycles(parent)
    cycles.held = parent  # type: ignore[attr-defined]
    return cycles


def test_python_looks_for_none_by_itself(looks: Cycles) -> None:
    gc.enable()
    again = Cycles(looks)
    assert not gc.isenabled()
    assert again.parent() is looks


def test_a_ring_is_taken_down_by_a_look_once_enough_has_been_made(
    looks: Cycles, monkeypatch: pytest.MonkeyPatch
) -> None:
    gc.collect()
    gone = weakref.ref(Ring())
    monkeypatch.setattr(cycles, "MANY", 10**9)
    looks.look()
    assert gone() is not None, "too little made since the last look"
    monkeypatch.setattr(cycles, "MANY", 0)
    looks.look()
    assert gone() is None


def test_the_young_are_looked_at_often_and_everything_seldom(
    looks: Cycles, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    monkeypatch.setattr(cycles, "MANY", 0)
    monkeypatch.setattr(gc, "collect", asked.append)
    for _ in range(cycles.SELDOM**2):
        looks.look()
    assert asked.count(2) == 1
    assert asked[-1] == 2
    assert asked.count(1) == cycles.SELDOM - 1
