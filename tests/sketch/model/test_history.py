"""The undo steps: each makes one change, told when the stack is up to date."""

from __future__ import annotations

import gc
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from weakref import ref

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model import history
from sketch.model.document import Document


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    opened = Document()
    opened.open(riser)
    return opened


def raise_port(document: Document, y: float, gesture: int = 0) -> None:
    document.apply("Raise", edits.set_port_height(document.layout, "carriage", y), gesture)


def changes(document: Document, act: Callable[[], object]) -> list[tuple[float, str, bool]]:
    """(height of the port, text of the next undo, clean) at every change while `act` runs."""
    seen: list[tuple[float, str, bool]] = []

    def note() -> None:
        stack = document.undo_stack
        seen.append((document.layout.pumps["carriage"].at[1].si, stack.undoText(), document.clean))

    document.changed.connect(note)
    act()
    document.changed.disconnect(note)
    return seen


def test_every_step_is_one_change_and_comes_when_the_stack_is_up_to_date(document: Document) -> None:
    stack, gesture = document.undo_stack, document.gesture()
    assert changes(document, lambda: raise_port(document, 1.1, gesture)) == [(1.1, "Raise", False)]
    assert changes(document, lambda: raise_port(document, 1.2, gesture)) == [(1.2, "Raise", False)]
    assert changes(document, stack.undo) == [(1.0, "", True)]
    assert changes(document, stack.redo) == [(1.2, "Raise", False)]
    assert changes(document, lambda: document.cancel(gesture)) == [(1.0, "", True)]


def test_a_gesture_goes_on_in_the_step_that_it_has_made(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    stack, gesture, heard, commands = document.undo_stack, document.gesture(), list[str](), list[str]()
    stack.undoTextChanged.connect(heard.append)
    new = history.Edit.__init__

    def counted(edit: history.Edit, restore: Any, label: str, *rest: Any) -> None:
        commands.append(label)
        new(edit, restore, label, *rest)

    monkeypatch.setattr(history.Edit, "__init__", counted)
    for y in (1.1, 1.2, 1.3):
        layout = edits.set_port_height(document.layout, "carriage", y)
        document.apply(f"Raise to {y}", layout, gesture)
        assert stack.undoText() == heard[-1] == f"Raise to {y}", "the menu says where it has come to"
    assert (commands, stack.count()) == (["Raise to 1.1"], 1)
    stack.setClean()
    raise_port(document, 1.4, gesture)
    assert stack.count() == 2, "what is saved can be gone back to"
    stack.undo()
    assert document.layout.pumps["carriage"].at[1].si == 1.3
    raise_port(document, 1.5, gesture)
    assert not stack.canRedo()
    stack.setIndex(0)
    assert document.layout.pumps["carriage"].at[1].si == 1.0


def test_a_gesture_that_comes_to_nothing_is_one_change_a_move_and_keeps_what_could_be_redone(
    document: Document,
) -> None:
    before = document.layout
    raise_port(document, 1.3)
    document.undo_stack.undo()
    gesture = document.gesture()
    assert len(changes(document, lambda: raise_port(document, 1.1, gesture))) == 1
    assert changes(document, lambda: document.apply("Raise", before, gesture)) == [(1.0, "", True)]
    assert document.undo_stack.canRedo()
    assert changes(document, document.undo_stack.redo) == [(1.3, "Raise", False)]


def test_opening_and_saving_are_one_change_each(document: Document, riser: Path) -> None:
    raise_port(document, 1.1)
    assert changes(document, document.save) == [(1.1, "Raise", True)]
    assert changes(document, lambda: document.open(riser)) == [(1.1, "", True)]


@pytest.mark.thorough
def test_a_document_in_a_cycle_of_objects_goes_with_its_steps(qtbot: QtBot, riser: Path) -> None:
    gc.collect()  # what is alive by now is not gone through again
    for _ in range(20):
        document = Document(keeps=False)
        document.open(riser)
        document.apply("Rename", replace(document.layout, title="Another"))
        gone = ref(document)
        document.cycle = document  # type: ignore[attr-defined]
        del document
        gc.collect(0)
        assert gone() is None
