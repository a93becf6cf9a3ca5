"""The picture beside the card's fields."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from sketch.look.colours import LIGHT
from sketch.model.document import Document
from sketch.views.card_picture import LimitPicture, ViscosityPicture
from sketch.views.part_card import PartCard
from solver.quantities.units import System
from tests.sketch.pixels import places_near
from tests.sketch.views.cards import LAYOUTS, show, type_in


@pytest.fixture
def card(qtbot: QtBot) -> PartCard:
    document = Document(keeps=False)
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    card = PartCard(document)
    card.kept = document
    qtbot.addWidget(card)
    card.resize(1366, 230)
    with qtbot.waitExposed(card):
        card.show()
    return card


def test_fluid_and_limit_have_a_picture_that_follows_and_other_parts_have_none(
    qtbot: QtBot, card: PartCard
) -> None:
    document, canvas = card.kept, card.canvas
    assert isinstance(canvas.picture, ViscosityPicture)
    assert "coldest start" in canvas.accessibleDescription()
    inked = places_near(canvas.grab().toImage(), LIGHT.stop)
    assert len(inked) > 5, "the start limit of the pump's maker"
    before = canvas.picture
    type_in(qtbot, card, "fluid.temperature", "60 degC")
    qtbot.waitUntil(lambda: canvas.picture != before)
    show(qtbot, card, document, "carriage")
    assert isinstance(canvas.picture, LimitPicture)
    assert "maker" in canvas.accessibleDescription()
    before = canvas.picture
    document.set_system(System.SI)
    qtbot.waitUntil(lambda: canvas.picture != before)
    show(qtbot, card, document, "riser")
    assert not canvas.isVisible()
    show(qtbot, card, document, "carriage")
    assert canvas.isVisible()
    card.resize(700, 230)
    assert not canvas.isVisible(), "the fields come first"
