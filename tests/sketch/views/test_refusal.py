"""While a drawing cannot be calculated, its reasons stand in the place of the old numbers."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sketch.editing import beginning
from sketch.model.document import Document
from sketch.views.refusal import INCOMPLETE, REFUSED, Guarded, mark_icon
from solver.findings.kinds import Severity
from solver.quantities.units import System


@pytest.fixture
def guarded(qtbot: QtBot, riser: Path) -> Guarded:
    document = Document(keeps=False)
    document.open(riser)
    guarded = Guarded(document, QLabel("figures"))
    document.setParent(guarded)
    qtbot.addWidget(guarded)
    guarded.resize(400, 200)
    guarded.show()
    return guarded


def spoil(document: Document) -> None:
    """Lift the strainer out of the fluid."""
    layout = document.layout
    x, _ = layout.intakes["strainer"].at
    y = replace(layout.pumps["carriage"].at[1], text="0.5 m", si=0.5)
    lifted = replace(layout.intakes["strainer"], at=(x, y))
    document.apply("Lift", replace(layout, intakes={"strainer": lifted}))


def test_reasons_take_the_place_of_the_view_and_give_it_back(guarded: Guarded) -> None:
    document = guarded._document
    assert guarded.currentWidget() is guarded.view
    spoil(document)
    assert document.solution is None
    assert guarded.refused
    assert guarded.refusal._heading.text() == REFUSED
    assert [text.partition(":")[0] for text in guarded.refusal.texts()] == ["strainer"]
    document.undo_stack.undo()
    assert guarded.currentWidget() is guarded.view


def test_a_click_on_a_reason_selects_its_part(qtbot: QtBot, guarded: Guarded) -> None:
    document = guarded._document
    spoil(document)
    reasons = guarded.refusal._reasons
    place = reasons.visualItemRect(reasons.item(0)).center()
    qtbot.mouseClick(reasons.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert document.selected_part == "strainer"


def test_a_drawing_without_parts_says_what_it_lacks(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    guarded = Guarded(document, QLabel("figures"))
    document.setParent(guarded)
    qtbot.addWidget(guarded)
    assert guarded.refused
    assert any("no pump" in text for text in guarded.refusal.texts())


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_a_mark_is_as_sharp_as_the_screen(ratio: float) -> None:
    icon = mark_icon(Severity.STOP, QPalette(), ratio)
    (size,) = icon.availableSizes()
    assert size.width() == 16 * ratio


def test_on_an_empty_sheet_it_says_what_to_draw_first(guarded: Guarded) -> None:
    document = guarded._document
    document.begin(beginning.empty(System.SI))
    assert guarded.refusal._heading.text() == f"{INCOMPLETE} {beginning.next_step(document.layout)}"
    assert "Tank" in guarded.refusal._heading.text()
