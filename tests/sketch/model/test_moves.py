"""A pump that is moved again is moved from where it stood first."""

from __future__ import annotations

import pytest

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.moves import before_moves, moved_again
from tests.solver.geometry.test_leads import fed_from_below

pytestmark = pytest.mark.usefixtures("qapp")


def begun() -> Document:
    document = Document(keeps=False)
    document.begin(fed_from_below())
    return document


def move(document: Document, height: float) -> None:
    moved = edits.set_port_height(document.layout, "pump", height)
    document.apply("Move", moved_again(document, "pump", moved))


def test_a_height_gives_the_line_that_it_gave_before_whatever_was_between() -> None:
    document = begun()
    first = document.layout
    move(document, 1.7)
    lowered = document.layout
    for height in (1.6, 1.3, 2.5, 1.7):
        move(document, height)
    assert document.layout == lowered
    move(document, 2.1)
    assert document.layout == first
    document.undo_stack.setClean()


def test_only_moves_of_that_pump_are_gone_back_over() -> None:
    document = begun()
    first = document.layout
    move(document, 1.7)
    assert before_moves(document, "pump") is first
    document.apply("Level", edits.set_level(document.layout, "tank", document.level, 0.3))
    changed = document.layout
    assert before_moves(document, "pump") is changed
    move(document, 1.65)
    assert before_moves(document, "pump") is changed
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert before_moves(document, "pump") is first, "a step that is undone counts no more"
    assert before_moves(document, "no such pump") is document.layout
    document.undo_stack.setClean()


def test_moves_in_an_alternative_are_its_own() -> None:
    document = begun()
    move(document, 1.7)
    document.add_alternative("lower")
    assert before_moves(document, "pump") is document.layout
    document.undo_stack.setClean()
