"""What all drawings of a file have in common follows a change of one: readings, and the note of a copy."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import building
from sketch.model import alternatives
from sketch.model.document import Document
from sketch.model.drawing_state import written_note
from solver.layout.logged import LoggedReading
from solver.quantities.units import Kind, quantity


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    opened = Document()
    opened.open(riser)
    return opened


def tap(line: str = "") -> LoggedReading:
    return LoggedReading("2026-03-04", "carriage", "riser", quantity("0.6 m", Kind.LENGTH), line=line)


def runs_of(document: Document) -> list[list[str]]:
    """The runs of all readings, in the base and in its alternative."""
    drawing = document.drawing
    layouts = (drawing.base, drawing.alternatives["Half speed"].layout)
    return [[each.run for each in layout.readings] for layout in layouts]


def test_readings_are_the_drawing_s_and_follow_the_line_that_they_were_made_on(document: Document) -> None:
    document.apply("Type", replace(document.layout, readings=(tap(), tap("Half speed"))))
    assert runs_of(document) == [["riser", "riser"]] * 2
    document.show_alternative("Half speed")
    document.apply("Cut", building.insert(document.layout, "known K", "riser", 0.6, 0.5).layout)
    assert runs_of(document) == [["riser", "riser 2"]] * 2
    document.undo_stack.undo()
    assert runs_of(document) == [["riser", "riser"]] * 2
    document.show_alternative("")
    document.rename("riser", "pipe")
    assert runs_of(document) == [["pipe", "pipe"]] * 2
    document.undo_stack.undo()
    assert runs_of(document) == [["riser", "riser"]] * 2


def test_readings_of_an_alternative_follow_its_name_and_its_promotion(document: Document) -> None:
    document.apply("Type", replace(document.layout, readings=(tap(), tap("Half speed"))))
    document.change_alternatives("Rename", lambda state: alternatives.renamed(state, "Half speed", "Slow"))
    assert [each.line for each in document.layout.readings] == ["", "Slow"]
    document.change_alternatives("Promote", lambda state: alternatives.promoted(state, "Slow", "Fast"))
    assert [each.line for each in document.layout.readings] == ["Fast", ""]
    assert document.drawing.alternatives["Fast"].layout.readings == document.layout.readings


def test_a_note_that_nobody_has_written_is_none_for_a_reader(document: Document) -> None:
    document.add_alternative("Bore 2.5 in")
    document.add_alternative("Second")
    begun = document.drawing.alternatives["Second"]
    assert begun.note == "Begun from Bore 2.5 in."
    assert written_note(begun) == ""
    assert (
        written_note(replace(begun, note="Begun from the hose. Cheaper.")) == "Begun from the hose. Cheaper."
    )
