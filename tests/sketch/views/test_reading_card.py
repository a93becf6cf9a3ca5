"""The card of one reading, by keys and mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from sketch.editing.readings import TANK
from sketch.look.refused import refused_texts
from sketch.views.reading_card import ReadingCard
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from tests.sketch.views.gauged import gauged


@pytest.fixture
def kept() -> list[tuple[str, LoggedReading]]:
    return []


@pytest.fixture
def layout(tmp_path: Path) -> Layout:
    return file.read(gauged(tmp_path)).base


@pytest.fixture
def card(qtbot: QtBot, layout: Layout, kept: list[tuple[str, LoggedReading]]) -> ReadingCard:
    card = ReadingCard(lambda what, reading: kept.append((what, reading)))
    qtbot.addWidget(card)
    card.resize(400, 500)
    card.show_reading(layout, layout.readings[0], System.SI, "store")
    with qtbot.waitExposed(card):
        card.show()
    return card


def type_into(qtbot: QtBot, editor: object, text: str) -> None:
    assert isinstance(editor, QLineEdit)
    editor.setFocus()
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)


def test_typing_keeps_a_reading_and_what_is_refused_is_said_at_its_field(
    qtbot: QtBot, card: ReadingCard, kept: list[tuple[str, LoggedReading]], layout: Layout
) -> None:
    type_into(qtbot, card.editor("vacuum"), "5 to 6")
    assert kept[-1][0] == "vacuum, running"
    assert [each.text for each in kept[-1][1].vacuum] == ["5 kPa", "6 kPa"]
    count = len(kept)
    type_into(qtbot, card.editor("vacuum"), "a lot")
    assert len(kept) == count
    (said,) = card.troubles()
    assert said.startswith("Vacuum, running, not accepted: found")
    field = card.editor("vacuum")
    card.show_reading(layout, layout.readings[0], System.SI, "store", 0)
    assert isinstance(field, QLineEdit)
    assert (field.text(), card.troubles()) == ("a lot", (said,)), "what was refused stays there with why"
    assert refused_texts(card) == ('"a lot" in Vacuum, running',)
    card.show_reading(layout, layout.readings[1], System.SI, "store", 1)
    assert (refused_texts(card), card.troubles()) == ((), ())
    card.show_reading(layout, layout.readings[0], System.SI, "store", 0)
    tube = card.editor("gauge", "tube")
    assert isinstance(tube, QComboBox)
    tube.setFocus()
    qtbot.keyClick(tube, Qt.Key.Key_Up)
    assert kept[-1][1].gauge.tube == "full"


def test_degrees_stand_by_their_sign_and_are_typed_either_way(
    qtbot: QtBot, card: ReadingCard, kept: list[tuple[str, LoggedReading]]
) -> None:
    field = card.editor("state", "fluid", "temperature")
    assert isinstance(field, QLineEdit)
    assert field.text() == "35 °C"
    for typed in ("43 °C", "43 degC"):
        type_into(qtbot, field, typed)
        now = kept.pop()[1].state["fluid"]["temperature"]
        assert quantity(now, Kind.TEMPERATURE).si == pytest.approx(316.15)


def test_the_wheel_scrolls_the_card_and_changes_no_choice(
    qtbot: QtBot, card: ReadingCard, kept: list[tuple[str, LoggedReading]]
) -> None:
    tube, work = card.editor("gauge", "tube"), card.editor("work")
    tube.setFocus()
    down = QPoint(0, -120)
    middle = QPointF(tube.rect().center())
    wheel = QWheelEvent(
        middle, tube.mapToGlobal(middle), QPoint(), down,
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(tube, wheel)
    assert (kept, wheel.isAccepted()) == ([], False), "left to the card, which scrolls"
    assert isinstance(work, QLineEdit)
    assert "strainer cleaned" in work.placeholderText()


def test_no_field_moves_when_one_is_refused_nor_hides_under_why(qtbot: QtBot, card: ReadingCard) -> None:
    editors = [card.editor("vacuum"), card.editor("gauge", "class"), card.editor("note")]
    before = [each.pos() for each in editors]
    for editor in (card.editor("vacuum"), card.editor("gauge", "class")):
        card.ensureWidgetVisible(editor)
        type_into(qtbot, editor, "zz")
        strip = card._why
        assert strip.isVisible()
        assert "not accepted" in strip.text()
        over = QRect(editor.mapTo(card, QPoint(0, 0)), editor.size())
        assert not strip.geometry().intersects(over)
    assert [each.pos() for each in editors] == before
    type_into(qtbot, card.editor("gauge", "class"), "1.6")
    assert len(card.troubles()) == 1, "the one before is said again until it is put right"
    assert "Vacuum, running" in card._why.text()


def test_a_letter_opens_a_list_and_return_chooses(
    qtbot: QtBot, card: ReadingCard, kept: list[tuple[str, LoggedReading]]
) -> None:
    tube = card.editor("gauge", "tube")
    assert isinstance(tube, QComboBox)
    before = tube.currentText()
    tube.setFocus()
    qtbot.keyClick(tube, Qt.Key.Key_F)
    assert (kept, tube.currentText()) == ([], before), "a letter alone changes nothing"
    assert tube.view().isVisible()
    assert tube.view().currentIndex().data() == "full"
    qtbot.keyClick(tube.view(), Qt.Key.Key_Escape)
    assert (kept, tube.currentText()) == ([], before)
    qtbot.keyClick(tube, Qt.Key.Key_F)
    qtbot.keyClick(tube.view(), Qt.Key.Key_Return)
    assert kept[-1][1].gauge.tube == "full"


def test_without_a_reading_the_fields_are_closed(card: ReadingCard) -> None:
    layout = card._layout
    assert layout is not None
    card.show_reading(layout, None, System.SI, "")
    assert not card.editor("when").isEnabled()
    assert card.troubles() == ()


def test_what_a_visit_needs_is_seen_without_scrolling_and_stands_in_one_column_where_it_is_narrow(
    qtbot: QtBot, card: ReadingCard
) -> None:
    needed = (
        ("when",),
        ("vacuum",),
        ("rest_vacuum",),
        ("state", "fluid", "temperature"),
        ("state", "levels", TANK),
        ("case",),
    )
    card.resize(568, 184)  # as it is in a window of 1366 x 740
    card.begin()
    qtbot.waitUntil(lambda: card.editor("vacuum").x() < card.editor("rest_vacuum").x())
    seen = [card.editor(*path).mapTo(card, card.editor(*path).rect().bottomLeft()).y() for path in needed]
    assert max(seen) <= card.viewport().height()
    card.resize(320, 184)
    qtbot.waitUntil(lambda: card.editor("vacuum").x() == card.editor("rest_vacuum").x())
    assert card.editor("vacuum").y() < card.editor("rest_vacuum").y()
