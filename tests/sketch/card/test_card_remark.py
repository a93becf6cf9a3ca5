"""The card of a text and of a dimension of one's own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from sketch.card import card_remark
from sketch.card.card_draft import Refused
from sketch.card.part_card import PartCard
from sketch.editing import remarks
from sketch.editing.remarks import DIMENSION, TEXT, Remark
from sketch.model.chosen_remark import chosen_remark
from sketch.model.document import Document
from solver.layout import file
from solver.layout.parts import Layout
from solver.layout.remarks import Direction, TankCorner, TextAnchor, TextSize
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS, type_in

OWN_TEXT, OWN_DIMENSION = Remark(TEXT, 0), Remark(DIMENSION, 0)


@pytest.fixture(scope="module")
def layout() -> Layout:
    base = file.read(LAYOUTS / "carriage-at-altitude.toml").base
    layout = remarks.add_text(base, 0.3048, 1.524, "hole in the lid")
    return remarks.add_dimension(layout, TankCorner("tank", 0), "carriage", 2.0, 0.0)


def test_a_text_has_its_words_place_size_and_anchor(layout: Layout) -> None:
    values = card_remark.values(layout, OWN_TEXT)
    assert values == {"text": "hole in the lid", "x": "1 ft", "y": "5 ft", "size": "small", "anchor": "left"}
    typed = {"text": "lid", "x": "2", "y": "1.5 m", "size": "large", "anchor": "middle"}
    (text,) = card_remark.changed(layout, OWN_TEXT, typed, System.US).texts
    assert [each.text for each in text.at] == ["2 ft", "1.5 m"]
    assert (text.text, text.size, text.anchor) == ("lid", TextSize.LARGE, TextAnchor.MIDDLE)
    assert card_remark.heading(layout, OWN_TEXT, System.US) == "Text of your own"
    assert card_remark.name(layout, OWN_TEXT) == "Text: hole in the lid"


def test_a_dimension_has_its_ends_way_and_offset(layout: Layout) -> None:
    assert card_remark.values(layout, OWN_DIMENSION)["from"] == "tank, corner 1"
    assert card_remark.name(layout, OWN_DIMENSION) == "Dimension: tank, corner 1 to carriage"
    assert card_remark.heading(layout, OWN_DIMENSION, System.US).startswith("Dimension of your own: ")
    line = card_remark.lines(layout, OWN_DIMENSION)[0]
    assert {"strainer", "tank, corner 4"} <= set(line.options)
    assert "riser" not in line.options
    typed = {"from": "tank, corner 2", "to": "9 ft; 6 in", "direction": "up", "offset": "9 in"}
    (own,) = card_remark.changed(layout, OWN_DIMENSION, typed, System.US).dimensions
    assert own.start == TankCorner("tank", 1)
    assert [each.text for each in own.end] == ["9 ft", "6 in"]
    assert (own.direction, own.offset.text) == (Direction.UP, "9 in")


@pytest.mark.parametrize(
    ("remark", "key", "typed", "said"),
    [
        (OWN_TEXT, "text", " ", "printable"),
        (OWN_TEXT, "x", "long", "length"),
        (OWN_TEXT, "y", "", "length"),
        (OWN_DIMENSION, "from", "riser", 'no part or tank corner "riser"'),
        (OWN_DIMENSION, "from", "tank, corner 9", "no part or tank corner"),
        (OWN_DIMENSION, "from", "carriage", "at one place"),
        (OWN_DIMENSION, "to", "4 ft; kg", "length"),
    ],
)
def test_what_is_wrong_is_said_at_its_line(
    layout: Layout, remark: Remark, key: str, typed: str, said: str
) -> None:
    with pytest.raises(Refused) as refused:
        card_remark.changed(layout, remark, {key: typed}, System.US)
    assert said in refused.value.by_line[key]


@pytest.fixture
def card(qtbot: QtBot, layout: Layout) -> Iterator[PartCard]:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    document.apply("Remarks", layout)
    card = PartCard(document)
    card.resize(900, 220)
    qtbot.addWidget(card)
    with qtbot.waitExposed(card):
        card.show()
    yield card
    document.undo_stack.setClean()


def test_the_card_shows_what_is_chosen_and_takes_what_is_typed(qtbot: QtBot, card: PartCard) -> None:
    document = card._document
    chosen_remark(document).choose(OWN_TEXT)
    assert card.own_parts.isHidden(), "no catalogue has a text, and the fluid is not what is shown"
    assert list(card.fields) == ["text", "x", "y", "size", "anchor"]
    assert card.picker.currentText() == "Text: hole in the lid"
    assert card.canvas.isHidden()
    type_in(qtbot, card, "text", "manhole")
    assert document.layout.texts[0].text == "manhole"
    assert document.undo_stack.undoText() == 'Change a text to "manhole"'
    type_in(qtbot, card, "x", "far")
    assert "length" in card.fields["x"].trouble.text()
    assert card.pending
    at = card.picker.findText("Dimension: tank, corner 1 to carriage")
    card.picker.setCurrentIndex(at)
    card.picker.activated.emit(at)
    assert chosen_remark(document).remark == OWN_DIMENSION
    edit = card.fields["from"].edit
    assert isinstance(edit, QComboBox)
    edit.setCurrentIndex(edit.findText("strainer"))
    edit.activated.emit(edit.currentIndex())
    assert document.layout.dimensions[0].start == "strainer"
    document.apply("Delete", remarks.remove(document.layout, DIMENSION, 0))
    assert card.picker.currentIndex() == 0, "it has gone, and the whole drawing is shown"
    document.select("riser")
    assert "material" in card.fields
