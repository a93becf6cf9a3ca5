"""Readings are compared off the hand's thread, and what is at hand belongs to the drawing that is shown."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.inspector import inspector
from tests.sketch.views.gauged import gauged


def test_comparisons_are_of_this_drawing_or_not_at_hand(qtbot: QtBot, tmp_path: Path) -> None:
    document = Document(keeps=False)
    document.open(gauged(tmp_path))
    asked = inspector(document)
    assert inspector(document) is asked
    assert asked.comparisons is None
    with qtbot.waitSignal(asked.changed, timeout=10_000):
        asked.ask()
    assert asked.comparisons is not None
    assert [each.stop for each in asked.comparisons] == [False, False, True, False]
    assert "no run no such run" in asked.comparisons[3].why_not
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert asked.comparisons is None
    assert not asked.busy
    with qtbot.waitSignal(asked.changed, timeout=10_000):
        asked.ask()
    assert asked.trouble == ""
