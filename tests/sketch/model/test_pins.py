"""Marks on the drawing belong to the view that put them there, and to the drawing as it was then."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.model.pins import Pin, PinKind, pins
from tests.sketch.views.gauged import gauged


def test_pins_of_one_view_give_way_to_another_and_go_with_any_change(qtbot: QtBot, riser: Path) -> None:
    document, one, other = Document(), QObject(), QObject()
    document.open(riser)
    marks = pins(document)
    assert pins(document) is marks
    with qtbot.waitSignal(marks.changed):
        marks.show(one, (Pin(0.0, 0.0, "1"),))
    marks.show(other, (Pin(1.0, 0.0, "2"),))
    marks.hide(one)
    assert [pin.text for pin in marks.shown] == ["2"]
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert marks.shown == ()


def test_a_gauge_stands_at_every_tap_that_was_read_while_no_view_puts_its_own(
    qtbot: QtBot, tmp_path: Path
) -> None:
    document, view = Document(), QObject()
    marks = pins(document)
    document.open(gauged(tmp_path))
    with qtbot.waitSignal(marks.changed, timeout=10_000):
        gauger(document).ask()
    gauges = marks.shown
    assert [(pin.text, pin.kind) for pin in gauges] == [
        ("read 13.0 kPa on 2026-02-01", PinKind.GAUGE),
        ("read 40.0 kPa", PinKind.OVER),
    ]
    marks.show(view, (Pin(0.0, 0.0, "1"),))
    assert [pin.text for pin in marks.shown] == ["1"]
    marks.hide(view)
    assert marks.shown == gauges
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert marks.shown == ()
