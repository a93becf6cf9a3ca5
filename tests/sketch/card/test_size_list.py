"""The list of sizes: filtered while typed, its bores beside it, by real keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.card.size_list import bore_text, mesh_text
from solver.properties import sizes
from solver.quantities.units import System
from tests.sketch.card.cards import show
from tests.sketch.shown import opened, shown


@pytest.mark.parametrize("system", System)
def test_every_size_says_its_bore_and_standard(system: System) -> None:
    texts = {name: bore_text(name, system) for name in sizes.names()}
    assert all(texts.values())
    assert bore_text("NPS 2 schedule 40", System.US) == "2.07 in  ASME B36.10M"
    assert bore_text("hose -32", System.SI).endswith("SAE J517")
    assert bore_text("from the size", system) == ""


def test_a_size_is_found_by_what_is_typed_of_it_and_taken_with_return(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "riser")
    picker = card.fields["size"].edit
    assert isinstance(picker, QComboBox)
    assert "" in [picker.itemText(at) for at in range(picker.count())], (
        "a line parts one standard from another"
    )
    editor = picker.lineEdit()
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, "3 schedule 40")
    popup = picker.completer().popup()
    offered = [popup.model().index(row, 0).data() for row in range(popup.model().rowCount())]
    assert "NPS 3 schedule 40" in offered
    assert all("3 schedule 40" in name for name in offered)
    assert popup.grab().toImage().width() >= 300
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, Qt.Key.Key_Return)
    assert document.layout.runs["riser"].size == offered[0]


def test_the_usual_wire_is_offered_while_mesh_and_wire_are_typed(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "strainer")
    assert mesh_text("60 per inch", System.US) == "usual wire 0.0075 in, unverified"
    for key, typed, offered in (("mesh", "60", "60 per inch"), ("wire", "0.0", "0.0075 in")):
        picker = card.fields[f"screen.{key}"].edit
        assert isinstance(picker, QComboBox)
        editor = picker.lineEdit()
        editor.setFocus()
        editor.selectAll()
        qtbot.keyClicks(editor, typed)
        popup = picker.completer().popup()
        assert popup.model().index(0, 0).data() == offered
        qtbot.keyClick(popup, Qt.Key.Key_Down)
        qtbot.keyClick(popup, Qt.Key.Key_Return)
    screen = document.layout.intakes["strainer"].screen
    assert (screen.mesh.text, screen.wire.text) == ("60 per inch", "0.0075 in")
    document.undo_stack.setClean()
