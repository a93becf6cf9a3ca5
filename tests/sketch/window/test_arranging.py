"""The selection's commands by their keys, within a window and from one to another."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from sketch.editing import reshape, selection
from sketch.window.main_window import Window
from tests.sketch.window.windows import LAYOUTS, Opener

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


def test_bends_that_come_or_go_with_an_alignment_are_said(opener: Opener) -> None:
    window = opener()
    document = window.document
    heard: list[str] = []
    window.arranging.message.connect(heard.append)
    document.select_all(("strainer", "connector"))
    window.actions_by_name["align upright"].trigger()
    assert document.undo_stack.undoText() == "Align 2 parts: 1 bend less in riser"
    assert heard == ["1 bend less in riser"]


def test_a_duplicate_takes_over_what_the_cases_do_with_its_original(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    document = window.document
    before = document.drawing
    document.select_all(["pilot", "pilot leg"])
    press(window, Qt.Key.Key_D)
    assert document.layout.cases["main alone"].figures["pumps", "pilot 2", "at_rest"] is True
    assert "pilot 2" not in document.drawing.alternatives["Main pump alone"].layout.pumps
    assert "pilot alone" not in window.notice.text
    document.apply("Connect", reshape.turned_onto(document.layout, "pilot leg 2", 0, "main leg"))
    assert set(document.layout.tees) == {"split", "tee"}, "that of the copy has gone with its last line"
    assert document.outcome.judgement is not None
    for _ in range(2):
        press(window, Qt.Key.Key_Z)
    assert document.drawing == before, "a step each"


def test_what_is_deleted_goes_from_an_alternative_that_varies_it(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    document = window.document
    wider = document.drawing.alternatives["Three-inch header"].layout
    document.select("isolator")
    press(window, Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier)
    assert not document.layout.fittings
    after = document.drawing.alternatives["Three-inch header"].layout
    assert "isolator" in wider.fittings
    assert not after.fittings
    assert after.runs["outlet"].size == wider.runs["outlet"].size


def test_of_what_comes_from_another_drawing_the_silent_cases_are_named(opener: Opener) -> None:
    window = opener()
    window.document.select("carriage")
    press(window, Qt.Key.Key_C)
    window = opener(LAYOUTS / "header-two-pumps.toml")
    press(window, Qt.Key.Key_V)
    said = (
        'In the cases "main alone", "pilot alone", which change other parts of this kind, what was pasted is'
    )
    assert window.notice.text.startswith(f"{said} as drawn.")
    window.notice.hide()


def test_one_size_up_and_down_each_from_its_own(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    document = window.document
    before = document.layout
    document.select_all(["outlet", "isolator", "pilot leg", "main"])
    press(window, Qt.Key.Key_Up, CONTROL | Qt.KeyboardModifier.AltModifier)
    sizes = [document.layout.part(name).size for name in document.selection]
    assert sizes == [
        "NPS 2-1/2 schedule 40",
        "NPS 2-1/2 schedule 40",
        "NPS 2 schedule 40",
        before.pumps["main"].size,
    ]
    assert document.undo_stack.undoText() == (
        "One size up for 4 parts, to NPS 2-1/2 schedule 40 and NPS 2 schedule 40"
    )
    press(window, Qt.Key.Key_Down, CONTROL | Qt.KeyboardModifier.AltModifier)
    assert document.layout == before
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.layout == before, "a step each"
