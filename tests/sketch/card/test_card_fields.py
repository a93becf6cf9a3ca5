"""The fields of the part card."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from sketch.card.card_draft import changed
from sketch.card.card_fields import BEGUN_TIP, OWN_BEGUN_TIP, CardField
from sketch.card.card_lines import CardLine
from sketch.card.part_card import PartCard
from sketch.editing import stock
from sketch.look.appearance import theme_of
from sketch.look.unit_hint import UnitHint
from sketch.look.words import without_no_break
from sketch.model.document import Document
from solver.layout.own_parts import parse
from solver.quantities.units import Kind, System, quantity
from tests.sketch.card.cards import show, type_in
from tests.sketch.shown import opened, shown

OWN_PUMP = """type = "vane"
bore = "52.5 mm"
displacement = "82 cm^3/rev"
limit = { vacuum = "5 inHg" }
"""


@pytest.fixture
def card(qtbot: QtBot, document: Document) -> PartCard:
    return shown(qtbot, PartCard(document), 1366, 220)


def test_escape_gives_up_what_was_typed(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "carriage")
    type_in(qtbot, card, "speed", "fast")
    qtbot.keyClick(card.fields["speed"].edit, Qt.Key.Key_Escape)
    assert not card.pending
    assert card.fields["speed"].value == "1450 rpm"
    assert document.clean


def test_the_wheel_scrolls_past_a_choice(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "carriage")
    kinds = card.fields["type"].edit
    kinds.setFocus()
    turned = QWheelEvent(
        kinds.rect().center(), kinds.mapToGlobal(kinds.rect().center()), QPoint(), QPoint(0, -240),
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(kinds, turned)
    assert card.fields["type"].value == "vane"
    assert document.clean


def test_what_is_typed_is_not_completed_into_something_else(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    editor = card.fields["fluid.name"].edit
    assert isinstance(editor, QComboBox)
    line = editor.lineEdit()
    assert line is not None
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, "Water")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert document.layout.fluid.name == "Water"


def test_yes_and_no_are_picked(qtbot: QtBot, card: PartCard, document: Document) -> None:
    show(qtbot, card, document, "carriage")
    credit = card.fields["credit"].edit
    assert isinstance(credit, QComboBox)
    assert card.fields["credit"].value is False
    credit.setCurrentIndex(1)
    credit.activated.emit(1)
    assert document.layout.pumps["carriage"].credit
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: card.fields["credit"].value is False)


def test_a_bare_number_takes_the_unit_that_the_field_shows(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    """That of the figure in it; of an empty field the unit stands there before anything is typed."""
    show(qtbot, card, document, "carriage")
    hint = card.fields["limit.pressure"].findChild(UnitHint)
    assert hint.isVisible()
    assert hint.text() == "inHg abs", "the units of the drawing are US customary"
    type_in(qtbot, card, "limit.pressure", "24")
    assert document.layout.pumps["carriage"].limit.table[0][1].text == "24 inHg abs"
    assert not hint.isVisible()
    type_in(qtbot, card, "limit.pressure", "0.8 bar")
    type_in(qtbot, card, "limit.pressure", "0.7")
    assert document.layout.pumps["carriage"].limit.table[0][1].text == "0.7 bar"
    assert card.fields["limit.pressure"].value == "0.7 bar"


@pytest.mark.parametrize("typed", ["1-1/2 in", '1 1/2"', "1½ in", "1-1/2", "1½"])
def test_a_bore_is_typed_as_the_trade_writes_inches(
    qtbot: QtBot, card: PartCard, document: Document, typed: str
) -> None:
    """A fraction alone is in the inches that the field shows; where that shows millimetres, it is refused."""
    show(qtbot, card, document, "riser")
    type_in(qtbot, card, "bore", typed)
    assert card.fields["bore"].trouble.text() == ""
    assert document.layout.runs["riser"].bore.si == pytest.approx(1.5 * 0.0254)
    document.undo_stack.undo()
    document.set_system(System.SI)
    show(qtbot, card, document, "riser")
    type_in(qtbot, card, "bore", typed)
    alone = typed in ("1-1/2", "1½")
    assert bool(card.fields["bore"].trouble.text()) is alone


def test_a_screen_that_comes_with_a_kind_is_marked_as_assumed(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    layout = changed(document.layout, "strainer", {"kind": "bell-mouth"}, System.US)
    document.apply("Bell", layout)
    show(qtbot, card, document, "strainer")
    kind = card.fields["kind"].edit
    kind.setCurrentText("strainer")
    kind.activated.emit(kind.currentIndex())
    screen = document.layout.intakes["strainer"].screen
    assert screen.assumed
    assert screen.bypass is None, "it would spare the screen"
    area, blocked = card.fields["screen.area"].edit, card.fields["screen.blocked"].edit
    assert area.palette().text().color() == theme_of(card.palette()).quiet
    assert blocked.palette().text().color() != theme_of(card.palette()).quiet
    type_in(qtbot, card, "screen.area", "80 in^2")
    assert document.layout.intakes["strainer"].screen.assumed, "mesh and wire are"
    stated = changed(document.layout, "strainer", {"screen.assumed": False}, System.US)
    assert not stated.intakes["strainer"].screen.assumed
    points = {"screen.drops": "10 gpm: 1 psi; 20 gpm: 3 psi"}
    points |= {"screen.viscosity": "46 cSt", "screen.density": "870 kg/m^3"}
    points |= dict.fromkeys(("screen.mesh", "screen.wire", "screen.area"), "")
    assert not changed(document.layout, "strainer", points, System.US).intakes["strainer"].screen.assumed


def test_the_speed_that_a_new_pump_comes_with_is_marked_until_it_is_typed(qtbot: QtBot) -> None:
    document = opened()
    pump = document.layout.pumps["carriage"]
    new = stock.pump(document.layout, "carriage", 0.0, 0.0)
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "carriage")

    def marked(**figures: Any) -> list[str]:
        changed = replace(pump, **figures)
        document.apply("Figures", replace(document.layout, pumps={"carriage": changed}))
        card.refresh()
        return [key for key in ("displacement", "speed") if BEGUN_TIP in card.fields[key].edit.toolTip()]

    assert marked() == []
    assert marked(displacement=new.displacement, speed=new.speed) == ["displacement", "speed"]
    assert marked(speed=new.speed) == [], "an ordinary speed beside a limit and a displacement of its own"
    assert marked(speed=new.speed, limit_assumed=True) == ["speed"]
    assert marked(limit_assumed=True) == []
    document.undo_stack.setClean()


def test_the_speed_that_a_part_of_ones_own_leaves_open_is_marked_under_its_own_limit(qtbot: QtBot) -> None:
    document = opened()
    pump = document.layout.pumps["carriage"]
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "carriage")
    speed = stock.pump(document.layout, "carriage", 0.0, 0.0).speed
    own = replace(pump, own_part="vane 82", speed=speed)

    def is_marked(table: str) -> bool:
        card.own_parts.own.set_catalogue(parse(f'[pumps."vane 82"]\n{table}'))
        card.refresh()
        return OWN_BEGUN_TIP in card.fields["speed"].edit.toolTip()

    document.apply("Own part", replace(document.layout, pumps={"carriage": own}))
    assert is_marked(OWN_PUMP)
    assert card.fields["speed"].edit.palette().text().color() == theme_of(card.palette()).quiet
    assert not is_marked(f'{OWN_PUMP}speed = "1450 rpm"\n'), "the catalogue has it"
    typed = replace(own, speed=quantity("1450 rpm", Kind.SPEED))
    document.apply("Speed", replace(document.layout, pumps={"carriage": typed}))
    assert not is_marked(OWN_PUMP)
    document.apply("As it was", replace(document.layout, pumps={"carriage": replace(pump, speed=speed)}))
    assert not is_marked(OWN_PUMP), "no part of one's own"
    document.undo_stack.setClean()


def test_a_click_into_an_assumed_figure_selects_all_of_it(qtbot: QtBot) -> None:
    field = CardField(CardLine("speed", "Speed", Kind.SPEED))
    shown(qtbot, field, 200, 40)
    field.show_value("1500 rpm")
    edit = field.edit
    assert isinstance(edit, QLineEdit)
    QTest.mouseClick(edit, Qt.MouseButton.LeftButton)
    assert not edit.hasSelectedText(), "what somebody has stated is corrected, not replaced"
    edit.clearFocus()
    field.set_assumed("Assumed")
    QTest.mouseClick(edit, Qt.MouseButton.LeftButton)
    assert edit.selectedText() == "1500 rpm"
    qtbot.keyClicks(edit, "1450")
    assert edit.text() == "1450"
    QTest.mouseClick(edit, Qt.MouseButton.LeftButton)
    assert not edit.hasSelectedText(), "a second click sets the cursor"


def test_a_figure_typed_in_the_other_system_has_the_one_shown_beside_it(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    document.set_system(System.US)
    show(qtbot, card, document, "")
    field = card.fields["site.elevation"]
    hint = field.edit.findChild(UnitHint)
    assert hint is not None
    qtbot.waitUntil(lambda: hint.text() == "5413 ft" and hint.isVisible())
    assert isinstance(field.edit, QLineEdit)
    assert field.edit.text() == "1650 m", "what is in the file stands"
    document.set_system(System.SI)
    qtbot.waitUntil(lambda: not hint.isVisible())


def test_a_fluid_too_long_for_its_field_is_seen_from_its_beginning_and_whole_in_the_tip(qtbot: QtBot) -> None:
    document = opened()
    card = shown(qtbot, PartCard(document), 1366, 220)
    show(qtbot, card, document, "carriage")
    edit = card.fields["rated_fluid"].edit
    assert isinstance(edit, QComboBox)
    editor = edit.lineEdit()
    assert editor is not None
    QTest.mouseClick(editor, Qt.MouseButton.LeftButton, pos=QPoint(20, 8))
    QTest.keyClicks(editor, "Mineral oil, ISO VG 100")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    card.fields["speed"].edit.setFocus()
    card.refresh()
    assert document.layout.pumps["carriage"].rated_fluid == "Mineral oil, ISO VG 100"
    assert editor.width() < editor.fontMetrics().horizontalAdvance(editor.text())
    assert editor.cursorPosition() == 0
    QApplication.sendEvent(edit, QHelpEvent(QEvent.Type.ToolTip, QPoint(5, 5), QPoint(5, 5)))
    assert "Mineral oil, ISO VG 100" in without_no_break(edit.toolTip())
    document.undo_stack.setClean()


def test_degrees_are_written_one_way_and_the_drawing_keeps_its_own(qtbot: QtBot) -> None:
    document = opened("shear-started-dry")
    card = shown(qtbot, PartCard(document), 1366, 220)
    field = card.fields["fluid.temperature"]
    assert isinstance(field.edit, QLineEdit)
    assert field.edit.text() == "40 °C"
    drawn = document.layout
    field.edit.setFocus()
    QTest.keyClick(field.edit, Qt.Key.Key_Return)
    assert document.layout is drawn
    type_in(qtbot, card, "fluid.temperature", "50 degC")
    assert document.layout.fluid.temperature.text == "50 degC"
    assert field.edit.text() == "50 °C"
    assert document.undo_stack.undoText() == "Change fluid temperature to 50 °C"
    document.undo_stack.setClean()
