"""What follows the drawing is worked out once it has come to rest, or when it is shown."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views import idle_refresh as module
from sketch.views.idle_refresh import IdleRefresh
from tests.drawings import SHIPPED


def test_hidden_it_waits_to_be_shown_and_seen_it_waits_for_rest(qtbot: QtBot) -> None:
    document, widget, count = Document(), QWidget(), [0]
    qtbot.addWidget(widget)

    def refresh() -> None:
        count[0] += 1
        idle_refresh.stale = False

    idle_refresh = IdleRefresh(widget, document, refresh)
    document.changed.emit()
    assert not idle_refresh._idle.isActive()
    idle_refresh.shown()
    idle_refresh.shown()
    assert count == [1]
    widget.show()
    for _ in range(3):
        document.changed.emit()
    assert idle_refresh.stale
    assert count == [1]
    qtbot.waitUntil(lambda: not idle_refresh.stale)
    assert count == [2]


def test_many_alternatives_are_solved_one_after_the_other(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A drawing with 20 pumps, 30 cases and 20 alternatives held the hand for two seconds."""
    monkeypatch.setattr(module, "MOST_AT_ONCE", 0)
    document, widget = Document(keeps=False), QWidget()
    qtbot.addWidget(widget)
    document.open(next(path for path in SHIPPED if path.stem == "carriage-at-altitude"))
    names = document.alternatives
    assert len(names) > 1

    def solved() -> int:
        return sum(document.has_outcome_of(name) for name in names)

    def refresh() -> None:
        assert solved() >= len(names) - 1, "the rest was solved before"
        idle_refresh.stale = False

    idle_refresh = IdleRefresh(widget, document, refresh)
    widget.show()
    idle_refresh.shown()
    assert solved() == 1
    assert idle_refresh.stale
    assert not widget.isEnabled(), "what it shows is of another drawing"
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert not idle_refresh._next.isActive(), "the hand goes first"
    qtbot.waitUntil(lambda: not idle_refresh.stale)
    assert widget.isEnabled()
