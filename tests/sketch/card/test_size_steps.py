"""The next size up and down by the card's buttons, and where a list of sizes opens."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from tests.sketch.card.cards import show
from tests.sketch.shown import opened, shown

LEFT = Qt.MouseButton.LeftButton


def test_what_is_selected_goes_one_size_up_and_down_and_its_list_opens_at_it(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "riser")
    steps, drawn = card.size_steps, document.layout.runs["riser"].size
    assert steps.isVisible()
    qtbot.mouseClick(steps.up, LEFT)
    larger = document.layout.runs["riser"].size
    assert larger != drawn
    assert document.undo_stack.undoText() == "One size up for riser, to NPS 2-1/2 schedule 40"
    card.refresh()
    picker = card.fields["size"].edit
    picker.showPopup()
    assert picker.view().currentIndex().data() == larger
    assert picker.view().viewport().rect().contains(picker.view().visualRect(picker.view().currentIndex()))
    picker.hidePopup()

    document.select_all(("riser", "strainer"))
    card.refresh()
    picker = card.fields["size"].edit
    assert picker.currentText() == "various"
    picker.showPopup()
    assert picker.view().currentIndex().data() == larger, "the largest that any of them has"
    picker.hidePopup()

    document.select("riser")
    card.refresh()
    qtbot.mouseClick(steps.down, LEFT)
    assert document.layout.runs["riser"].size == drawn
    document.select("tank")
    card.refresh()
    assert not steps.isVisible()
    document.undo_stack.setClean()
