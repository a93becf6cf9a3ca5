"""The picture beside the card's fields."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.card import card_canvas
from sketch.card.card_picture import LimitPicture, ViscosityPicture, viscosity_picture
from sketch.card.part_card import PartCard
from sketch.look.colours import LIGHT
from sketch.model.document import Document
from solver.quantities.units import System
from tests.sketch.card.cards import LAYOUTS, show, type_in
from tests.sketch.pixels import places_near


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


def test_no_name_on_the_curve_lies_on_another(qapp: QApplication) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "winter-press.toml")  # many cases beside two limits
    picture = viscosity_picture(document.layout, document.outcome, document.pump, document.system)
    assert picture is not None
    paper = QPixmap(380, 172)
    painter = QPainter(paper)
    curve = card_canvas._Curve(painter, picture, QRectF(paper.rect()), LIGHT, document.system)
    curve.paint()
    painter.end()
    assert len(curve.labels) == len(picture.marks) + len(picture.bounds) > 4
    assert not any(one.intersects(other) for one, other in combinations(curve.labels, 2))


def test_no_name_of_a_case_is_struck_through_by_the_curve(qapp: QApplication) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "baler-flooded.toml")  # the curve is flat near its hot end
    picture = viscosity_picture(document.layout, document.outcome, document.pump, document.system)
    assert picture is not None
    paper = QPixmap(400, 172)
    painter = QPainter(paper)
    curve = card_canvas._Curve(painter, picture, QRectF(paper.rect()), LIGHT, document.system)
    curve.paint()
    painter.end()
    names = curve.labels[len(picture.bounds) :]
    assert len(names) == len(picture.marks) == 2
    assert not any(name.contains(curve._at(*point)) for name in names for point in picture.curve)


def test_names_of_cases_are_shortened_on_the_curve_and_the_figure_stays_whole(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "header-two-pumps.toml")
    picture = viscosity_picture(document.layout, document.outcome, document.pump, document.system)
    (mark,) = picture.marks
    assert mark.text.startswith("as drawn, coldest start, main alone")
    pixmap = QPixmap(380, 150)
    painter = QPainter(pixmap)
    curve = card_canvas._Curve(painter, picture, QRectF(0, 0, 380, 150), LIGHT, document.system)
    written = [
        curve._fitted(mark),
        curve._fitted(replace(mark, names=("a case of a very long name " * 3, "b"))),
    ]
    wide = [painter.fontMetrics().horizontalAdvance(text) for text in written]
    painter.end()
    assert written[0] == f"as drawn and 3 more: {mark.figure}"
    assert written[1].endswith(f": {mark.figure}")
    assert max(wide) <= card_canvas.MARK


def test_temperatures_below_zero_stand_under_the_curve_with_a_minus_sign(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = Document(keeps=False)
    document.open(LAYOUTS / "baler-flooded.toml")
    picture = viscosity_picture(document.layout, document.outcome, document.pump, document.system)
    assert picture is not None
    written: list[str] = []
    monkeypatch.setattr(card_canvas, "_paint_text", lambda painter, box, text, *rest: written.append(text))
    pixmap = QPixmap(380, 150)
    painter = QPainter(pixmap)
    card_canvas._Curve(painter, picture, QRectF(pixmap.rect()), LIGHT, document.system).paint()
    painter.end()
    assert "−10.0 °C" in written
