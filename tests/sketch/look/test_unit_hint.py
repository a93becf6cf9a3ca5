"""A bare number shows its unit while it is typed, and an empty field the one that it would take."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from sketch.look.unit_hint import UnitHint


def test_the_unit_stands_in_the_field_while_a_bare_number_is_typed(qtbot: QtBot) -> None:
    field = QLineEdit("12 ft")
    hint = UnitHint(field, "m")
    qtbot.addWidget(field)
    with qtbot.waitExposed(field):
        field.show()
    field.setFocus()
    assert not hint.isVisible()
    field.selectAll()
    qtbot.keyClicks(field, "0.45")
    assert hint.isVisible()
    assert hint.text() == "m"
    assert field.rect().contains(hint.geometry())
    assert field.textMargins().right() >= hint.width()
    qtbot.keyClicks(field, " ft")
    assert not hint.isVisible()
    assert field.textMargins().right() == 0
    field.selectAll()
    qtbot.keyClicks(field, "7")
    hint.set_unit("")
    assert not hint.isVisible()
    hint.set_unit("in")
    assert hint.isVisible()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    field.clearFocus()
    assert not hint.isVisible()
    field.clear()
    assert hint.isVisible()
    field.setPlaceholderText("far more words than there is room for beside the unit of this field")
    hint.set_unit("inHg abs")
    assert not hint.isVisible()


def test_a_figure_that_follows_from_others_has_all_the_room_of_its_field(qtbot: QtBot) -> None:
    field = QLineEdit()
    hint = UnitHint(field, "m^3/h")
    field.setPlaceholderText("= 2.46 m³/h")
    field.resize(100, 26)
    qtbot.addWidget(field)
    with qtbot.waitExposed(field):
        field.show()
    qtbot.mouseClick(field, Qt.MouseButton.LeftButton)
    assert field.hasFocus()
    assert (hint.isVisible(), field.textMargins().right()) == (False, 0)
    qtbot.keyClicks(field, "3")
    assert hint.isVisible()
    assert hint.text() == "m³/h"
