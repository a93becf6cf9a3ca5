"""What a note forbids is said to need leave first, with what is next best where that is not given."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.quantities.units import System
from solver.report.choosing import JudgedDrawing
from solver.report.permission import is_forbidden, next_best, once_permitted
from solver.report.recommendation import recommendation
from tests.solver.report.test_not_drawn import both

SI = System.SI


@pytest.fixture(scope="module")
def wall() -> tuple[JudgedDrawing, JudgedDrawing]:
    return both("over-the-bund-wall", "Sleeve through the wall")


def noted(before: JudgedDrawing, notes: str) -> JudgedDrawing:
    layout = replace(before.judgement.layout, notes=notes)
    return replace(before, judgement=replace(before.judgement, layout=layout))


def test_what_the_builder_was_forbidden_is_built_only_once_it_is_permitted(wall) -> None:
    """It was ordered without a condition, beside a note that forbade it."""
    before, after = wall
    assert is_forbidden(before, after)
    first, *rest = recommendation(before, after, SI, stated=False)
    assert first == 'Build "Sleeve through the wall", once what the note forbids is permitted.'
    without = next_best(before, after, (), SI)
    assert without in rest
    assert (
        without == "Without permission the line stays as it is, within, with trapped high point (crossing)."
    )
    assert any("; the note may forbid it too." in text for text in rest), "it goes through a wall"


def test_what_is_next_best_does_not_do_what_is_forbidden(wall) -> None:
    before, after = wall
    beside = replace(after, name="Pump on the other side", note="")
    other = '"Pump on the other side", with which transfer is within, margin 23.25'
    assert next_best(before, after, (beside,), SI).startswith(f"Without permission next best is {other}")
    assert "stays as it is" in next_best(before, after, (replace(beside, name="Two walls pierced"),), SI)
    other = noted(before, "Nobody may bring a sleeve here: sleeves are forbidden.")
    assert is_forbidden(other, after)
    assert next_best(other, after, (), SI).startswith(
        "Without permission next best is to put transfer beside store, flooded through its wall (buys 13.60"
    )


def test_a_note_that_forbids_something_else_holds_nothing_up(wall) -> None:
    before, after = wall
    for notes in ("Smoking is forbidden.", "The wall is 1.6 m high.", ""):
        other = noted(before, notes)
        assert not is_forbidden(other, after)
        assert not any("permi" in text for text in recommendation(other, after, SI))
    assert list(once_permitted(["Nothing is built."], after)) == ["Nothing is built."]
