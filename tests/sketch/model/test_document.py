from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from sketch.card.card_draft import changed
from sketch.editing import beginning, edits
from sketch.model import outcome
from sketch.model.document import BASE, Document
from sketch.model.drawing_state import next_alternative, without_alternative
from solver.layout.file import LayoutErrors
from solver.quantities import units
from solver.quantities.units import System
from tests.sketch.model.documents import height, raised

from ..conftest import RISER

GRAVITY = 9.80665


# Opening


def test_new_document_is_empty_and_says_nothing_is_calculated(qtbot: QtBot) -> None:
    document = Document()
    assert document.solution is None
    assert document.refusal
    assert document.clean
    assert document.pump == ""


def test_open_shows_a_solution_the_pump_and_the_files_units(document: Document) -> None:
    assert document.solution is not None
    assert document.pump == "carriage"
    assert document.system is System.SI
    assert document.refusal == ()
    assert document.findings


@pytest.mark.parametrize(
    "content",
    [b"not = [toml", b"\x00\xff\x00binary", RISER.replace("1450 rpm", "nan rpm").encode(), b"format = 1"],
)
def test_bad_file_leaves_the_open_drawing_untouched(
    document: Document, tmp_path: Path, content: bytes
) -> None:
    raised(document, 1.2)
    before, path, spy = document.layout, document.path, QSignalSpy(document.changed)
    bad = tmp_path / "bad.toml"
    bad.write_bytes(content)
    with pytest.raises(LayoutErrors) as caught:
        document.open(bad)
    assert caught.value.problems
    assert document.layout is before
    assert document.path == path
    assert document.undo_stack.count() == 1
    assert spy.count() == 0


def test_directory_and_missing_file_leave_the_open_drawing_untouched(
    document: Document, tmp_path: Path
) -> None:
    before = document.layout
    for path in (tmp_path, tmp_path / "nowhere.toml"):
        with pytest.raises((LayoutErrors, OSError)):
            document.open(path)
    assert document.layout is before


# Undo


def test_edit_is_one_step_and_undo_brings_back_the_very_layout(document: Document) -> None:
    before, margin = document.layout, document.ledger.margin
    assert raised(document, 1.25)
    assert document.undo_stack.undoText() == "Raise"
    assert not document.clean
    assert document.ledger.margin < margin
    document.undo_stack.undo()
    assert document.layout is before
    assert document.ledger.margin == margin
    assert document.clean
    document.undo_stack.redo()
    assert height(document) == 1.25


def test_edit_that_changes_nothing_pushes_nothing(document: Document) -> None:
    spy = QSignalSpy(document.changed)
    assert not document.apply("Nothing", replace(document.layout))
    assert document.undo_stack.count() == 0
    assert spy.count() == 0


def test_gesture_is_one_step_however_many_moves(document: Document) -> None:
    gesture = document.gesture()
    for step in range(1, 30):
        raised(document, 1.0 + step / 100, gesture)
    assert document.undo_stack.count() == 1
    raised(document, 1.5, document.gesture())
    assert document.undo_stack.count() == 2
    document.undo_stack.undo()
    assert height(document) == pytest.approx(1.29)
    document.undo_stack.undo()
    assert height(document) == 1.0


def test_gesture_that_ends_where_it_began_leaves_no_step(document: Document) -> None:
    before, gesture = document.layout, document.gesture()
    raised(document, 1.4, gesture)
    document.apply("Raise", before, gesture)
    assert document.undo_stack.count() == 0
    assert document.clean


def test_cancelled_gesture_leaves_no_step_and_no_redo(document: Document) -> None:
    raised(document, 1.1)
    before, gesture = document.layout, document.gesture()
    raised(document, 1.4, gesture)
    raised(document, 1.5, gesture)
    document.cancel(gesture)
    assert document.layout is before
    assert document.undo_stack.count() == 1
    assert not document.undo_stack.canRedo()


def test_cancelled_gesture_leaves_what_could_be_redone(document: Document) -> None:
    for y in (1.1, 1.2, 1.3):
        raised(document, y)
    document.save()
    document.undo_stack.undo()
    document.undo_stack.undo()
    before, gesture = document.layout, document.gesture()
    raised(document, 1.7, gesture)
    raised(document, 1.8, gesture)
    spy = QSignalSpy(document.changed)
    document.cancel(gesture)
    assert document.layout is before
    assert spy.count() == 1
    assert not document.clean
    assert document.undo_stack.redoText() == "Raise"
    document.undo_stack.redo()
    assert height(document) == 1.2
    document.undo_stack.redo()
    assert height(document) == 1.3
    assert document.clean
    for y in (1.2, 1.1, 1.0):
        document.undo_stack.undo()
        assert height(document) == pytest.approx(y)
    assert document.undo_stack.count() == 3


def test_gesture_that_comes_back_and_goes_on_keeps_what_could_be_redone_until_it_ends_elsewhere(
    document: Document,
) -> None:
    raised(document, 1.1)
    document.undo_stack.undo()
    before, gesture = document.layout, document.gesture()
    raised(document, 1.4, gesture)
    document.apply("Raise", before, gesture)
    assert document.undo_stack.canRedo()
    raised(document, 1.5, gesture)
    assert not document.undo_stack.canRedo()
    document.cancel(gesture)
    assert document.undo_stack.canRedo()
    raised(document, 1.6, gesture)
    assert not document.undo_stack.canRedo()
    assert document.undo_stack.count() == 1


def test_cancel_of_a_gesture_that_did_nothing_keeps_the_step_before(document: Document) -> None:
    raised(document, 1.1)
    document.cancel(document.gesture())
    assert height(document) == 1.1
    assert document.undo_stack.count() == 1


def test_moves_after_a_save_are_a_step_of_their_own(document: Document) -> None:
    gesture = document.gesture()
    raised(document, 1.1, gesture)
    document.save()
    raised(document, 1.2, gesture)
    assert document.undo_stack.count() == 2
    document.undo_stack.undo()
    assert document.clean


def test_error_of_the_solver_leaves_drawing_and_stack_alone(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = document.layout

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(outcome, "judge", broken)
    with pytest.raises(ZeroDivisionError):
        raised(document, 1.3)
    assert document.layout is before
    assert document.solution is not None
    assert document.undo_stack.count() == 0


# Refused drawings


def test_drawing_that_cannot_be_calculated_is_kept_and_named(document: Document) -> None:
    loose = replace(document.layout, runs={})
    assert document.apply("Delete riser", loose)
    assert document.solution is None
    assert document.ledger is None
    assert document.findings == ()
    assert any("carriage" in part or "carriage" in text for part, text in document.refusal)
    document.undo_stack.undo()
    assert document.solution is not None
    assert document.refusal == ()


def test_strainer_above_the_level_is_a_refused_drawing_not_a_refused_edit(document: Document) -> None:
    assert document.apply("Move", edits.move_part(document.layout, "strainer", 0.6, 0.45))
    assert document.solution is None
    document.set_level("normal")
    assert document.solution is not None


# Alternatives, level, units, pump


def test_alternative_is_shown_and_edited_by_itself(document: Document) -> None:
    base = document.layout
    document.show_alternative("Half speed")
    assert document.layout.pumps["carriage"].speed == units.quantity("725 rpm", units.Kind.SPEED)
    raised(document, 1.3)
    assert height(document) == 1.3
    document.show_alternative("")
    assert document.layout is base


def test_undo_shows_the_alternative_that_was_edited(document: Document) -> None:
    document.show_alternative("Half speed")
    raised(document, 1.3)
    document.show_alternative("")
    document.undo_stack.undo()
    assert document.alternative == "Half speed"
    assert height(document) == 1.0


def test_edit_of_the_base_goes_through_to_the_alternative(document: Document) -> None:
    raised(document, 1.3)
    document.show_alternative("Half speed")
    assert height(document) == 1.3


def test_a_gesture_of_the_base_past_a_figure_of_an_alternative_leaves_that_alone(document: Document) -> None:
    document.add_alternative("Raised")
    raised(document, 1.4)
    document.show_alternative(BASE)
    own = document.drawing.alternatives["Raised"].layout
    gesture = document.gesture()
    for height_now in (1.2, 1.4, 1.6):
        raised(document, height_now, gesture)
        assert document.drawing.alternatives["Raised"].layout == own
    assert height(document) == 1.6
    document.apply("Speed", edits.set_speed(document.layout, "carriage", 20.0))
    raised_too = document.drawing.alternatives["Raised"].layout
    assert raised_too.pumps["carriage"].speed == document.layout.pumps["carriage"].speed, "what it had not"


def test_unknown_names_are_errors(document: Document) -> None:
    with pytest.raises(KeyError):
        document.show_alternative("no such")
    with pytest.raises(KeyError):
        document.show_pump("no such")
    with pytest.raises(ValueError, match="high"):
        document.set_level("high")


def test_normal_level_shortens_the_lift(document: Document) -> None:
    margin = document.ledger.margin
    document.set_level("normal")
    gained = document.ledger.margin - margin
    assert gained > 0.9 * document.solution.fluid.density * GRAVITY * 0.15


def test_units_change_what_is_shown_and_not_the_drawing(document: Document) -> None:
    spy = QSignalSpy(document.changed)
    document.set_system(System.US)
    assert spy.count() == 1
    assert document.clean


def test_pointing_speaks_once_a_selection_each_time_and_both_follow_the_drawing(document: Document) -> None:
    pointed, selected = QSignalSpy(document.pointed), QSignalSpy(document.selected)
    document.point("riser/straight 1")
    document.point("riser/straight 1")
    document.select("riser")
    document.select("riser")
    assert (pointed.count(), selected.count()) == (1, 2)  # another element of it may have been clicked
    document.apply("Delete riser", replace(document.layout, runs={}))
    assert document.selected_part == ""


# Files


# Recovery


# The watch


# Making alternatives


def test_new_alternative_is_what_was_shown_and_goes_its_own_way(document: Document, riser: Path) -> None:
    base = document.layout
    document.add_alternative("Lower")
    assert document.alternatives == ("Half speed", "Lower")
    assert document.alternative == "Lower"
    raised(document, 0.9)
    assert height(document) == 0.9
    assert document.drawing.base is base
    assert document.outcome_of(BASE).ledger(document.pump).margin < document.ledger.margin
    document.save()
    again = Document()
    again.open(riser)
    again.show_alternative("Lower")
    assert again.layout == document.layout
    assert "# warm" in riser.read_text(encoding="utf-8")
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.alternatives == ("Half speed",)
    assert document.alternative == ""


def test_removed_alternative_comes_back_by_undo(document: Document) -> None:
    document.show_alternative("Half speed")
    held = document.layout
    document.change_alternatives("Remove alternative", without_alternative)
    assert (document.alternatives, document.alternative) == ((), "")
    document.undo_stack.undo()
    assert document.layout is held
    assert document.alternative == "Half speed"


@pytest.mark.parametrize("name", ["", "  ", "Half speed", "a\nb", "x" * 201])
def test_name_that_is_none_is_refused(document: Document, name: str) -> None:
    with pytest.raises(ValueError, match=r"name|already"):
        document.add_alternative(name)
    assert document.undo_stack.count() == 0


def test_alternatives_are_stepped_through_in_a_round(document: Document) -> None:
    document.add_alternative("Lower")
    document.show_alternative("")
    seen = []
    for _ in range(3):
        document.show_alternative(next_alternative(document._state, 1))
        seen.append(document.alternative)
    assert seen == ["Half speed", "Lower", ""]
    document.show_alternative(next_alternative(document._state, -1))
    assert document.alternative == "Lower"


def test_each_alternative_is_solved_once_while_it_stays_the_same(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    solves, sound = [], outcome.judge
    monkeypatch.setattr(outcome, "judge", lambda *given: solves.append(given) or sound(*given))
    for _ in range(3):
        document.outcome_of("Half speed")
        document.outcome_of("")
    assert len(solves) == 1
    document.show_alternative("Half speed")
    raised(document, 1.2)
    before = len(solves)
    for _ in range(3):
        assert document.outcome_of(BASE).ledger(document.pump) is not None
    assert len(solves) == before + 1


def test_the_note_of_a_new_drawing_goes_with_the_last_round_figure(qtbot: QtBot) -> None:
    document = Document()
    document.begin(beginning.begin(System.SI))
    drafts: dict[str, dict[str, str | bool]] = {
        "pump": {"displacement": "60 cm^3/rev", "speed": "1450 rpm"},
        "strainer": {"screen.area": "800 cm^2"},
    }
    for name, draft in drafts.items():
        document.apply("Type", changed(document.layout, name, draft, System.SI))
        assert document.layout.notes == beginning.NOTES
    document.apply("Confirm", changed(document.layout, "pump", {"limit_assumed": False}, System.SI))
    assert document.layout.notes == ""
    document.undo_stack.undo()
    assert document.layout.notes == beginning.NOTES
    assert document.layout.pumps["pump"].limit_assumed
