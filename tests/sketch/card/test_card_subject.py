"""What a card is about."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.card.card_subject import CardSubject
from sketch.card.part_card import PartCard
from sketch.card.size_list import named_sizes
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS, show, type_in
from tests.sketch.shown import opened, shown


def test_one_part_the_whole_and_several() -> None:
    layout = file.read(LAYOUTS / "carriage-at-altitude.toml").base
    whole, one, several = CardSubject(), CardSubject(("riser",)), CardSubject(("riser", "lead"))
    assert (whole.name, one.name, several.name) == ("", "riser", "")
    assert one.heading(layout, System.US) == "Line from strainer to connector"
    assert several.heading(layout, System.US) == "2 lines"
    for subject in (whole, one, several):
        lines = subject.lines(layout, {}, System.US)
        assert set(subject.values(layout, {}, System.US, lines)) == {line.key for line in lines}
    size = next(line for line in several.lines(layout, {}, System.US) if line.key == "size")
    assert several.values(layout, {"size": "x"}, System.US, (size,)) == {"size": "x"}
    wider = several.changed(layout, {"size": "NPS 3 schedule 40"}, System.US)
    assert {run.size for run in wider.runs.values()} == {"NPS 3 schedule 40"}
    assert one.changed(layout, {"material": "plastic"}, System.US).runs["riser"].material == "plastic"
    assert several.undo_text(layout, wider, size) == "Change size of 2 parts to NPS 3 schedule 40"
    assert not several.replaced_text(layout, wider, size)


def test_a_height_typed_and_typed_back_says_what_became_of_the_line_and_gives_the_old_one(
    qtbot: QtBot,
) -> None:
    document = opened("shear-started-dry")
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "shear")
    first, ledger = document.layout, document.ledger
    type_in(qtbot, card, "at.y", "1.9 m")
    said = "1 bend less in line, shear turned, its line now comes from the left"
    assert document.undo_stack.undoText() == f"Change elevation of shear to 1.9 m: {said}"
    assert card.trouble.text().startswith(f"{said}; ")
    card.refresh()
    type_in(qtbot, card, "at.y", "2.3 m")
    assert card.trouble.text().startswith(
        "1 bend more in line, shear turned, its line now comes from below; "
    )
    type_in(qtbot, card, "at.y", "1.2 m")
    assert "its line now comes from above" in card.trouble.text()
    assert document.layout == first
    assert document.ledger == ledger
    type_in(qtbot, card, "at.y", "1.1 m")
    assert "turned" not in card.trouble.text()
    document.undo_stack.setClean()


def test_what_was_typed_while_a_size_stood_refused_is_named_for_what_it_replaced(qtbot: QtBot) -> None:
    document = opened("shear-started-dry")
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "shear")
    size = card.fields["size"]
    size.edit.setFocus()
    size.edit.setEditText("47 mm")
    qtbot.keyClick(size.edit, Qt.Key.Key_Return)
    assert card.pending
    assert document.undo_stack.count() == 0
    type_in(qtbot, card, "limit.npsh", "2 m")
    assert card.pending
    offered = named_sizes(size.trouble.text())[0]
    size.trouble.linkActivated.emit("0")
    assert document.layout.pumps["shear"].size == offered
    assert document.undo_stack.undoText() == (
        f"Change size of shear to {offered}; change NPSH required of shear to 2 m,"
        " in place of the vacuum limit of 40 kPa"
    )
    assert card.trouble.text().startswith("NPSH required 2 m takes the place of the vacuum limit of 40 kPa; ")
    document.undo_stack.setClean()
