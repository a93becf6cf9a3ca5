"""What follows the drawing is worked out once it has come to rest, or when it is shown."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views.at_rest import AtRest


def test_hidden_it_waits_to_be_shown_and_seen_it_waits_for_rest(qtbot: QtBot) -> None:
    document, widget, count = Document(), QWidget(), [0]
    qtbot.addWidget(widget)

    def refresh() -> None:
        count[0] += 1
        at_rest.stale = False

    at_rest = AtRest(widget, document, refresh)
    document.changed.emit()
    assert not at_rest._idle.isActive()
    at_rest.shown()
    at_rest.shown()
    assert count == [1]
    widget.show()
    for _ in range(3):
        document.changed.emit()
    assert at_rest.stale
    assert count == [1]
    qtbot.waitUntil(lambda: not at_rest.stale)
    assert count == [2]
