"""The selection's commands by their keys, within a window and from one to another."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from sketch.editing import selection
from sketch.window.main_window import Window
from tests.sketch.window.windows import Opener

ONE_WINDOW = True

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def press(window: Window, key: Qt.Key, keys: Qt.KeyboardModifier = CONTROL) -> None:
    window.workspace.elevation.setFocus()
    QTest.keyClick(window.workspace.elevation, key, keys)


@pytest.mark.thorough
def test_copy_paste_cut_duplicate_by_keys_each_one_step(opener: Opener) -> None:
    window = opener()
    document = window.document
    before, names = document.layout, selection.everything(document.layout)
    press(window, Qt.Key.Key_A)
    assert document.selection == names
    press(window, Qt.Key.Key_C)
    text = QGuiApplication.clipboard().text()
    assert "[pumps.carriage]" in text
    press(window, Qt.Key.Key_V)
    assert len(document.selection) == len(names)
    assert not set(document.selection) & set(names)
    assert len(document.solution.pumps) == 2
    one, two = (ledger.margin for ledger in document.solution.pumps.values())
    assert two == pytest.approx(one, abs=1.0)
    assert document.undo_stack.undoText() == f"Paste {len(names)} parts"
    press(window, Qt.Key.Key_X)
    assert document.layout == before
    press(window, Qt.Key.Key_Z)
    press(window, Qt.Key.Key_Z)
    assert document.layout == before
    document.select("strainer")
    press(window, Qt.Key.Key_D)
    assert document.selection == ("strainer 2",)
    press(window, Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier)
    assert document.layout == before
    document.select("connector")
    press(window, Qt.Key.Key_L)
    assert set(document.selection) == {"strainer", "connector", "riser", "lead"}
    QGuiApplication.clipboard().setText("Dear colleague")
    press(window, Qt.Key.Key_V)
    assert "not part of a drawing" in window.notice.text
    assert document.layout == before


@pytest.mark.thorough
def test_the_whole_line_of_the_pump_shown_where_nothing_is_selected(opener: Opener) -> None:
    window = opener()
    window.document.select("")
    press(window, Qt.Key.Key_L)
    assert set(window.document.selection) == {"strainer", "connector", "riser", "lead"}


def test_mirror_align_distribute_and_bend_from_the_menu(opener: Opener) -> None:
    window = opener()
    document, actions = window.document, window.actions_by_name
    margin = document.ledger.margin
    document.select_all(selection.everything(document.layout))
    actions["mirror"].trigger()
    assert document.ledger.margin == pytest.approx(margin, abs=1.0)
    assert document.layout.pumps["carriage"].at[0].si < document.layout.intakes["strainer"].at[0].si
    document.undo_stack.undo()
    document.select_all(("strainer", "connector", "carriage"))
    assert actions["distribute across"].isEnabled()
    actions["distribute across"].trigger()
    xs = [document.layout.joint(name).at[0].si for name in ("strainer", "connector", "carriage")]
    assert xs[1] - xs[0] == pytest.approx(xs[2] - xs[1], abs=2e-4)
    document.undo_stack.undo()
    document.select_all(("carriage", "connector"))
    assert not actions["distribute up"].isEnabled()
    assert not actions["rename part"].isEnabled()
    document.select("tank")
    actions["remove part"].trigger()
    assert "strainer stands in tank" in window.notice.text
    document.select("riser")
    actions["add bend"].trigger()
    assert len(document.layout.runs["riser"].via) == 2
    actions["remove bend"].trigger()
    actions["remove bend"].trigger()
    assert not actions["remove bend"].isEnabled()
