"""What is named in a reading is there in the drawing, or it is said what is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import reading_names
from sketch.editing.edits import EditError
from solver.layout import file
from solver.layout.logged import LoggedReading
from tests.drawings import SHIPPED

TWO = file.read(next(path for path in SHIPPED if path.stem == "header-two-pumps")).base


def test_a_line_is_an_alternative_or_a_date() -> None:
    assert reading_names.line("larger HOSE", ("Larger hose", "Tank heater")) == "Larger hose"
    assert reading_names.line("2026-03-04", ()) == "2026-03-04"
    for text in ("zz", "2026-13-01"):
        with pytest.raises(EditError, match=r"no line of this drawing.*name: Larger hose, Tank heater$"):
            reading_names.line(text, ("Larger hose", "Tank heater"))
        with pytest.raises(EditError, match=r"such as 2026-03-04$"):
            reading_names.line(text, ())


def test_only_what_can_be_shut_was_shut_and_nothing_else_is_offered() -> None:
    assert reading_names.shut_valves(TWO, "isolator, ") == ["isolator"]
    with pytest.raises(EditError) as refused:
        reading_names.shut_valves(TWO, "isolator, q9")
    allowed = str(refused.value).partition("allowed: ")[2].split(", ")
    assert "isolator" in allowed
    assert all("valve" in TWO.fittings[name].kind for name in allowed)
    with pytest.raises(EditError, match="nothing, as no valve that can be shut is drawn"):
        reading_names.shut_valves(replace(TWO, fittings={}), "q9")


def test_other_pumps_alone_have_a_stroke_there() -> None:
    reading = LoggedReading("2026-03-04", "main", strokes={"main": "standby", "pilot": "standby"})
    assert reading_names.strokes(TWO, reading, "pilot: at rest") == {"main": "standby", "pilot": "at rest"}
    with pytest.raises(EditError, match="found no other pump main; allowed: pilot"):
        reading_names.strokes(TWO, reading, "main: at rest")
    alone = replace(TWO, pumps={"main": TWO.pumps["main"]})
    with pytest.raises(EditError, match="nothing, as no other pump is drawn"):
        reading_names.strokes(alone, reading, "pilot: at rest")
