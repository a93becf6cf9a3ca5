"""Readings are compared off the hand's thread, and what is at hand belongs to the drawing that is shown."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.drawing_state import state_with_readings
from sketch.model.inspector import gauger, inspector
from solver.field.as_read import AGAIN, OVER
from tests.drawings import SHIPPED
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


def test_a_newest_reading_that_says_stop_stands_in_the_headline_before_the_drawing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    document = Document(keeps=False)
    document.open(gauged(tmp_path))
    asked = gauger(document)
    assert asked.outlook is not None
    assert asked.outlook.headline.endswith("; its readings are not compared yet")
    with qtbot.waitSignal(asked.changed, timeout=10_000):
        asked.ask_if_any()
    assert asked.outlook.word == "Stop the pump"
    assert asked.outlook.headline.startswith("40.0 kPa read, ")
    assert asked.outlook.beneath.startswith("Read at the port of transfer on 2026-04-01. As drawn: ")
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert asked.outlook.word == "Stop the pump"  # it does not go away while it is compared again
    assert " (compared again now). As drawn: " in asked.outlook.beneath
    document.change_alternatives("Drop", lambda state: state_with_readings(state, ()))
    assert asked.outlook == document.outlook


def test_a_strainer_as_blocked_as_it_was_read_stands_in_the_verdict_before_the_drawing(qtbot: QtBot) -> None:
    (path,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
    document = Document(keeps=False)
    document.open(path)
    asked = gauger(document)
    with qtbot.waitSignal(asked.changed, timeout=10_000):
        asked.ask_if_any()
    assert asked.outlook is not None
    assert asked.outlook.word == OVER
    assert asked.outlook.headline.startswith("As read on 2026-02-23: feed is over by 7.57 kPa")
    assert asked.as_read is not None
    assert asked.as_read.verdict == "As read feed is over"
    assert "As drawn: within: 12.30 of 19.21 kPa" in asked.outlook.beneath
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert asked.outlook.word == OVER  # it does not go away while it is worked out again
    assert asked.outlook.headline.startswith("As drawn: within: ")
    assert asked.outlook.beneath == AGAIN
    assert asked.as_read is not None
    document.show_alternative("Twice the strainer")
    with qtbot.waitSignal(asked.changed, timeout=10_000):
        asked.ask_if_any()
    assert asked.outlook == document.outlook
