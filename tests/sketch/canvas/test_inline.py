"""A figure typed in its place on the drawing."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QToolTip
from pytestqt.qtbot import QtBot

from sketch.canvas import overlay
from sketch.canvas.elevation import Elevation
from sketch.editing.building import LINE
from sketch.look.unit_hint import UnitHint
from tests.sketch.canvas.mouse import (
    CARRIAGE,
    carriage_shown,
    double_click,
    label,
    send,
    spot,
    type_over,
)
from tests.solver.geometry.test_leads import fed_from_below
from tests.thorough import one_in


@pytest.fixture
def canvas(qtbot: QtBot) -> Elevation:
    return carriage_shown(qtbot)


@pytest.mark.parametrize("text", one_in(3, ["6 parsecs", "", "nan", "9**9**9 m", "1e400 m", "4 ft"]))
def test_what_cannot_be_is_told_beside_the_field_and_changes_nothing(
    qtbot: QtBot, canvas: Elevation, text: str
) -> None:
    before = canvas.kept.layout
    double_click(qtbot, canvas, label(canvas, "level", "minimum"))
    type_over(qtbot, canvas, text)
    assert canvas.field.isVisible()
    assert canvas.field.accessibleDescription()
    assert canvas.kept.layout is before
    qtbot.keyClick(canvas.field, Qt.Key.Key_Escape)
    assert not canvas.field.isVisible()
    assert canvas.hasFocus()
    assert canvas.kept.layout is before


def test_field_that_loses_the_keyboard_or_its_drawing_is_left(qtbot: QtBot, canvas: Elevation) -> None:
    double_click(qtbot, canvas, label(canvas, "lift"))
    canvas.setFocus()
    assert not canvas.field.isVisible()
    double_click(qtbot, canvas, label(canvas, "lift"))
    canvas.kept.open(CARRIAGE)
    assert not canvas.field.isVisible()


def test_what_was_wrong_goes_with_the_figure_that_it_was_about(
    qtbot: QtBot, canvas: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone: list[bool] = []
    monkeypatch.setattr(QToolTip, "hideText", lambda: gone.append(True))
    double_click(qtbot, canvas, label(canvas, "level", "minimum"))
    type_over(qtbot, canvas, "6 parsecs")
    gone.clear()
    qtbot.keyClicks(canvas.field, "7")
    assert gone == [True]
    assert canvas.field.accessibleDescription() == ""
    qtbot.keyClick(canvas.field, Qt.Key.Key_Escape)
    assert len(gone) >= 2


def test_a_bare_number_shows_its_unit(qtbot: QtBot, canvas: Elevation) -> None:
    double_click(qtbot, canvas, label(canvas, "lift"))
    canvas.field.selectAll()
    qtbot.keyClicks(canvas.field, "2")
    (hint,) = canvas.field.findChildren(UnitHint)
    assert hint.text() == "ft"
    assert hint.isVisible() == canvas.field.isVisible()


def test_the_field_grows_with_what_is_typed_and_stays_on_the_sheet(qtbot: QtBot, canvas: Elevation) -> None:
    double_click(qtbot, canvas, label(canvas, "level", "minimum"))
    narrow = canvas.field.width()
    qtbot.keyClicks(canvas.field, "a remark that is far longer than any figure ")
    wide = canvas.field.width()
    assert wide > narrow
    assert canvas.field.cursorRect().right() < wide
    qtbot.keyClicks(canvas.field, "and goes on and on " * 12)
    assert canvas.rect().contains(canvas.field.geometry())
    qtbot.keyClick(canvas.field, Qt.Key.Key_Escape)
    double_click(qtbot, canvas, label(canvas, "level", "minimum"))
    assert canvas.field.width() == narrow


def test_the_words_at_the_pointer_give_way_to_the_field(
    qtbot: QtBot, canvas: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[list[str]] = []
    monkeypatch.setattr(
        overlay, "paint_readout", lambda *given, **_: seen.append([text for text, _ in given[2]])
    )
    canvas.setFocus()
    canvas.pick(LINE)
    qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=spot(canvas, 0.305, 0.72))
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 1.45, 0.72))
    canvas.grab()
    assert any(text.startswith("length") for text in seen[-1])
    seen.clear()
    qtbot.keyClick(canvas, Qt.Key.Key_4)
    canvas.grab()
    assert canvas.field.text() == "4"
    assert not seen
    qtbot.keyClick(canvas.field, Qt.Key.Key_Escape)
    canvas.grab()
    assert seen


def test_a_height_typed_on_the_sheet_says_what_became_of_the_line(qtbot: QtBot, canvas: Elevation) -> None:
    document = canvas.kept
    document.begin(fed_from_below())
    first = document.layout
    double_click(qtbot, canvas, label(canvas, "lift"))
    before = canvas.field.text()
    type_over(qtbot, canvas, "0.3 m")
    assert document.undo_stack.undoText().endswith(" to 0.3 m: pump turned, its line now comes from above")
    double_click(qtbot, canvas, label(canvas, "lift"))
    type_over(qtbot, canvas, before)
    assert document.layout.runs == first.runs
