"""What is shown, without a window."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sketch.model.document import Document
from sketch.model.outcome import solve_layout
from sketch.model.shown import Shown
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import System


def test_an_outcome_without_the_pump_part_or_entry_lets_go_of_them(riser: Path) -> None:
    layout = file.read(riser).base
    outcome = solve_layout(layout, Level.MINIMUM)
    shown = Shown(System.US, pump="gone", selection=("gone",), pointed="gone/port")
    assert shown.for_outcome(outcome) == Shown(System.US, pump="carriage")
    kept = Shown(System.SI, pump="carriage", selection=("strainer",), pointed="carriage/port")
    assert kept.for_outcome(outcome) == kept


def test_an_entry_stays_pointed_at_while_nothing_is_calculated(riser: Path) -> None:
    outcome = replace(solve_layout(file.read(riser).base, Level.MINIMUM), solution=None)
    assert Shown(System.SI, pointed="riser/pipe").for_outcome(outcome).pointed == "riser/pipe"


def test_another_drawing_keeps_level_and_start_and_nothing_else(riser: Path) -> None:
    layout = file.read(riser).base
    before = Shown(System.SI, "old", Level.NORMAL, "coldest start", True, "pump", "part", "entry")
    assert before.for_drawing("new", layout, System.US) == Shown(
        System.US, "new", Level.NORMAL, "coldest start", True
    )


def test_a_level_that_another_drawing_does_not_have_falls_back_to_the_minimum(riser: Path) -> None:
    layout = file.read(riser).base
    before = Shown(System.SI, level=Level.DRAWN_DOWN)
    assert before.for_drawing("", layout, System.SI).level is Level.MINIMUM


def test_a_name_of_no_part_is_never_selected(riser: Path) -> None:
    """A list that stands open may offer what another drawing had."""
    document = Document(keeps=False)
    document.open(riser)
    name = next(iter(document.layout.runs))
    document.select_all((name, "of the last drawing"))
    assert document.selection == (name,)
    document.select("of the last drawing")
    assert document.selection == ()


def test_what_goes_on_being_shown_is_the_very_same_choice(riser: Path) -> None:
    outcome = solve_layout(file.read(riser).base, Level.MINIMUM)
    shown = Shown(System.SI, pump="carriage", selection=("strainer",), pointed="carriage/port")
    assert shown.for_outcome(outcome) is shown
    assert shown.of_alternative("") is shown
    assert shown.of_alternative("short") == replace(shown, alternative="short")
    assert outcome.showing(outcome.case) is outcome
