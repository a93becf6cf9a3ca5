"""Bends drawn out of a standing line, added and taken away; an end turned onto another part."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QTest

from sketch.canvas import bending
from sketch.canvas.elevation import Elevation
from sketch.canvas.handles import Hold, end_place, handles_of_selected
from sketch.editing import building
from tests.sketch.canvas.mouse import LEFT, document_of, drag, spot


def via(canvas: Elevation) -> list[tuple[float, float]]:
    return [(x.si, y.si) for x, y in document_of(canvas).layout.runs["riser"].via]


def test_a_bend_is_dragged_out_of_the_middle_of_a_straight_and_back(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    document.select("riser")
    middles = [each for each in canvas.hand.shown() if each.hold is Hold.MIDDLE]
    assert [(each.x, each.y) for each in middles] == [(0.6, pytest.approx(0.56)), (pytest.approx(1.1), 1.0)]
    drag(canvas, (1.1, 1.0), (1.1, 1.1), (1.1, 1.3))
    assert via(canvas) == [(0.6, 1.0), (pytest.approx(1.1), pytest.approx(1.3))]
    assert document.undo_stack.undoText() == "Add a bend to riser"
    assert document.solution is not None
    drag(canvas, (1.1, 1.3), (1.2, 1.4))
    assert via(canvas)[1] == (pytest.approx(1.2), pytest.approx(1.4)), "then it is a bend like any other"
    QTest.mouseDClick(canvas, LEFT, pos=spot(canvas, 1.2, 1.4))
    assert via(canvas) == [(0.6, 1.0)]
    assert document.undo_stack.undoText() == "Remove a bend of riser"


def test_a_double_click_on_a_line_bends_it_there(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    QTest.mouseDClick(canvas, LEFT, pos=spot(canvas, 0.6, 0.402))
    assert via(canvas) == [(0.6, pytest.approx(0.4)), (0.6, 1.0)]
    assert document.selection == ("riser",)
    margin = document.ledger.margin
    document.undo_stack.undo()
    assert document.ledger.margin == pytest.approx(margin), "a bend in line with its neighbours takes nothing"
    bending.add_to_selected(document)
    assert len(via(canvas)) == 2
    assert bending.has_bend(document.layout, "riser")
    bending.remove_active(document, canvas.hand.active)
    assert len(via(canvas)) == 1


def test_an_end_is_turned_onto_another_port_or_into_another_line(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    document.apply("Add", building.add(document.layout, building.PUMP, 1.6, 0.5).layout)
    document.select("riser")
    end = handles_of_selected(document.layout, "riser")[1]
    start = canvas.view.world(*end_place(end, canvas.view))
    drag(canvas, start, (1.6, 0.7), (1.6, 0.5))
    assert document.layout.runs["riser"].end == "pump"
    assert via(canvas) == [(0.6, pytest.approx(0.5))], "the line stays square"
    assert document.undo_stack.undoText() == "Connect an end of riser"
    document.undo_stack.undo()
    drag(canvas, start, (1.3, 1.3), release=False)
    assert "part with an end free" in canvas.hand.proposal.trouble
    assert document.layout.runs["riser"].end == "carriage"
    canvas.hand.cancel()
