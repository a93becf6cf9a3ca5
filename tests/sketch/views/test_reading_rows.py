"""Rows of readings: the newest first, stop the first word, nothing claimed before it is at hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketch.model.pins import PinKind
from sketch.views.reading_rows import CHECK_IT, pins, rows
from solver.field.compared import compare
from solver.findings.kinds import Severity
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from tests.sketch.views.gauged import gauged


@pytest.fixture
def layout(tmp_path: Path) -> Layout:
    return file.read(gauged(tmp_path)).base


def test_the_newest_stands_first_and_each_says_what_it_is(layout: Layout) -> None:
    shown_rows = rows(layout.readings, compare(layout), System.SI)
    assert [row.cells[0] for row in shown_rows] == [
        "2026-04-01",
        "2026-03-04 09:30",
        "2026-02-01",
        "2025-01-01",
    ]
    assert [row.number for row in shown_rows] == [2, 0, 1, 3]
    assert [row.severity for row in shown_rows] == [
        Severity.STOP,
        Severity.CAUTION,
        Severity.NOTE,
        Severity.NOTE,
    ]
    assert shown_rows[0].cells[1].startswith("Stop")
    assert shown_rows[0].words[0].startswith("Stop the pump")
    assert "above" in shown_rows[1].cells[1]
    assert shown_rows[2].cells[1] == "cannot tell"  # neither the gauge's height nor its tube was noted
    assert not shown_rows[3].compared


def test_a_reading_whose_sign_cannot_be_is_to_be_checked(layout: Layout) -> None:
    typed = quantity("0.2 bar", Kind.PRESSURE)
    wrong = replace(layout.readings[0], vacuum=(), pressure=(typed,))
    layout = replace(layout, readings=(wrong,))
    (row,) = rows(layout.readings, compare(layout), System.SI)
    assert (row.cells[1], row.severity) == (CHECK_IT, Severity.CAUTION)


def test_before_it_is_at_hand_only_what_was_typed_is_shown(layout: Layout) -> None:
    shown_rows = rows(layout.readings, None, System.SI)
    assert [row.cells[3] for row in shown_rows] == ["40 kPa", "9 kPa", "13 kPa", "3 kPa"]
    assert {row.cells[1] for row in shown_rows} == {""}


def test_a_gauge_stands_at_each_tap_with_its_newest_reading_or_the_chosen_one(layout: Layout) -> None:
    comparisons = compare(layout)
    shown = {pin.text.split(",")[0]: pin for pin in pins(comparisons, -1, System.SI)}
    assert set(shown) == {"read 40.0 kPa", "read 13.0 kPa on 2026-02-01"}, "a day that is past is named"
    assert shown["read 40.0 kPa"].kind is PinKind.OVER
    assert (shown["read 40.0 kPa"].x, shown["read 40.0 kPa"].z) == (3.8, 0.5)
    tap = shown["read 13.0 kPa on 2026-02-01"]
    assert (tap.kind, tap.z) == (PinKind.GAUGE, pytest.approx(1.9))
    chosen = {pin.text.split(",")[0] for pin in pins(comparisons, 0, System.SI)}
    assert chosen == {"read 9.0 kPa on 2026-03-04", "read 13.0 kPa on 2026-02-01"}
