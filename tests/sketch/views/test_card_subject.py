"""What a card is about."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from sketch.views.card_subject import CardSubject
from sketch.views.part_card import PartCard
from solver.layout import file
from solver.quantities.units import System
from tests.sketch.shown import opened, shown
from tests.sketch.views.cards import LAYOUTS, show, type_in


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
