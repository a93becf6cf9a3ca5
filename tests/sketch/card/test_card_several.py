"""Several parts on the card: the whole line made larger at once, typed by keys."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from sketch.card import card_several
from sketch.card.card_several import VARIOUS, changed_in_all
from sketch.card.part_card import PartCard
from sketch.editing import selection
from sketch.model.document import Document
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS, type_in
from tests.sketch.shown import opened, shown

LINE = ("strainer", "connector", "riser", "lead")


@pytest.mark.thorough
def test_the_whole_line_to_three_inch_by_keys(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 220)
    layout, wide = document.layout, document.drawing.alternatives["Three-inch suction line"].layout
    document.select_all(selection.whole_line(layout, "riser"))
    qtbot.waitUntil(lambda: "size" in card.fields and card.name == "")
    assert card.heading.text() == "1 intake, 1 fitting, 2 lines"
    assert card.picker.currentIndex() == -1
    size = card.fields["size"].edit
    assert isinstance(size, QComboBox)
    assert size.currentText() == "NPS 2 schedule 40"
    assert card.fields["bend"].edit.currentText() == VARIOUS
    assert card.fields["bend"].line.label == "Bends, 2 parts"
    size.lineEdit().selectAll()
    qtbot.keyClicks(size.lineEdit(), "NPS 3 schedule 40")
    qtbot.keyClick(size.lineEdit(), Qt.Key.Key_Return)
    assert document.undo_stack.undoText() == "Change size of 4 parts to NPS 3 schedule 40"
    assert document.undo_stack.count() == 1
    now = document.layout
    assert {now.part(name).size for name in LINE} == {"NPS 3 schedule 40"}
    assert now.pumps == layout.pumps, "the port stays as its maker made it"
    type_in(qtbot, card, "roughness", "smooth")
    assert card.pending
    assert "riser" in card.fields["roughness"].trouble.text()
    assert document.undo_stack.count() == 1
    qtbot.mouseClick(card.give_up, Qt.MouseButton.LeftButton)
    assert not card.pending
    bend = card.fields["bend"].edit
    bend.setFocus()
    qtbot.keyClick(bend, Qt.Key.Key_Home)
    bend.setCurrentText("long radius")
    bend.activated.emit(bend.currentIndex())
    screen = document.layout.intakes["strainer"]
    assert solve(document.layout).pumps["carriage"].spent < solve(layout).pumps["carriage"].spent
    assert screen.screen == layout.intakes["strainer"].screen
    assert {run.bend for run in document.layout.runs.values()} == {run.bend for run in wide.runs.values()}


@pytest.mark.parametrize("text", ["3 in", "3", "DN 80", "NPS 3"])
def test_a_nominal_size_alone_is_that_of_each_part_s_own_list(text: str) -> None:
    document = opened()
    layout = document.layout
    thick = replace(layout.runs["lead"], size="NPS 2 schedule 80")
    layout = replace(layout, runs={**layout.runs, "lead": thick})
    now = changed_in_all(layout, LINE, {"size": text}, System.US)
    assert {now.part(name).size for name in LINE[:3]} == {"NPS 3 schedule 40"}
    assert now.runs["lead"].size == "NPS 3 schedule 80"


def test_what_parts_share() -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "header-two-pumps.toml")
    layout = document.layout
    assert set(card_several.owners(layout, ("main", "pilot"))) >= {"size", "speed", "type"}
    mixed = card_several.owners(layout, ("main", "pilot", "outlet", "header"))
    assert mixed["size"] == ("outlet", "header")
    assert "at.x" not in mixed
    assert "kind" not in card_several.owners(layout, ("nozzle", "isolator")), "of another choice each"
    lines = {line.key: line for line in card_several.shared_lines(layout, ("main", "pilot"))}
    assert lines["displacement"].empty == VARIOUS
    assert card_several.shared_value(layout, ("main", "pilot"), lines["displacement"]) == ""
    faster = card_several.changed_in_all(layout, ("main", "pilot"), {"speed": "1500 rpm"}, document.system)
    assert {pump.speed.text for pump in faster.pumps.values()} == {"1500 rpm"}
    with pytest.raises(card_several.Refused) as refused:
        card_several.changed_in_all(layout, ("main", "pilot"), {"speed": "fast"}, document.system)
    assert "main" in refused.value.by_line["speed"]


def test_what_parts_were_copied_from_is_not_offered_for_several() -> None:
    layout = file.read(LAYOUTS / "carriage-at-altitude.toml").base
    assert "own_part" not in card_several.owners(layout, ("riser", "lead", "connector"))
