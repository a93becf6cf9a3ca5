"""The gate at the end of a gesture: what could not be saved and opened again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.model.gate import Gate, failures
from solver.layout import file
from solver.layout.file import Alternative, Drawing
from solver.layout.parts import Layout
from tests.drawings import RISER, SHIPPED


def loose(layout: Layout) -> Layout:
    """A drawing whose run ends on a part that is not there."""
    return replace(layout, runs={"riser": replace(layout.runs["riser"], end="no such part")})


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_an_example_holds_with_all_its_alternatives(path: Path) -> None:
    assert failures(file.read(path)) == {}


def test_what_does_not_hold_is_listed_where_it_does_not() -> None:
    drawing = file.parse(RISER)
    other = {"Loose": Alternative("", loose(drawing.base)), **drawing.alternatives}
    failing = failures(Drawing(drawing.base, other))
    assert list(failing) == ["Loose"]
    assert failing["Loose"][0].key == "runs.riser.to"
    assert list(failures(Drawing(loose(drawing.base)))) == [""]


def test_a_gesture_is_looked_at_once_it_has_ended(qtbot: QtBot, document: Document) -> None:
    gate = Gate(document)
    with qtbot.waitSignal(gate.changed, timeout=5000):
        document.apply("Spoil", loose(document.layout))
    assert "" in gate.failures
    with qtbot.waitSignal(gate.changed, timeout=5000):
        document.undo_stack.undo()
    assert gate.failures == {}


def test_another_drawing_brings_none_of_the_last_ones_failures(
    qtbot: QtBot, document: Document, riser: Path
) -> None:
    gate = Gate(document)
    with qtbot.waitSignal(gate.changed, timeout=5000):
        document.apply("Spoil", loose(document.layout))
    document.undo_stack.setClean()
    document.open(riser)
    assert gate.failures == {}
