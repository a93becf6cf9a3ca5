"""A drag is one step, and can be given up."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.editing import building, stock
from sketch.editing.edits import with_joint
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting
from tests.sketch.canvas.mouse import (
    CARRIAGE,
    NONE,
    document_of,
    drag,
    place,
    send,
    shown,
    spot,
)


def test_press_and_release_selects_and_moves_nothing(canvas: Elevation) -> None:
    document = document_of(canvas)
    drag(canvas, (0.6, 1.0))
    assert document.selected_part == "carriage"
    assert document.undo_stack.count() == 0
    drag(canvas, (0.05, 1.4))
    assert document.selected_part == ""


def test_tremble_of_two_pixels_is_no_drag(canvas: Elevation) -> None:
    at = spot(canvas, 0.6, 1.0)
    send(canvas, QEvent.Type.MouseButtonPress, at)
    send(canvas, QEvent.Type.MouseMove, at + QPoint(2, 2))
    send(canvas, QEvent.Type.MouseButtonRelease, at + QPoint(2, 2))
    assert place(canvas, "carriage") == (0.6, 1.0)


def test_escape_brings_everything_back_and_leaves_no_step(canvas: Elevation, qtbot: QtBot) -> None:
    document = document_of(canvas)
    before, margin = document.layout, document.ledger.margin
    drag(canvas, (0.6, 1.0), (0.6, 1.2), (0.8, 1.3), release=False)
    assert document.layout != before
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert document.layout is before
    assert document.ledger.margin == margin
    assert document.undo_stack.count() == 0
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.9, 1.4))
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 0.9, 1.4))
    assert document.layout is before
    assert document.clean


def test_undo_in_the_middle_of_a_drag_ends_it(canvas: Elevation) -> None:
    document = document_of(canvas)
    before = document.layout
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    document.undo_stack.undo()
    assert not canvas.hand.dragging
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.6, 1.3))
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 0.6, 1.3))
    assert document.layout is before


def test_another_alternative_in_the_middle_of_a_drag_is_left_alone(canvas: Elevation) -> None:
    document = document_of(canvas)
    slow = document.drawing.alternatives["Half speed"].layout
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    document.show_alternative("Half speed")
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.6, 1.3))
    assert document.layout.pumps["carriage"].speed == slow.pumps["carriage"].speed


def test_level_switched_in_the_middle_of_a_drag_lets_it_go_on(canvas: Elevation) -> None:
    document = document_of(canvas)
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    document.set_level("normal")
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.6, 1.1))
    assert place(canvas, "carriage")[1] == pytest.approx(1.1, abs=0.011)


def test_release_that_went_elsewhere_ends_the_drag(canvas: Elevation) -> None:
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    height = place(canvas, "carriage")
    at = QPointF(spot(canvas, 0.6, 1.4))
    none = Qt.MouseButton.NoButton
    event = QMouseEvent(QEvent.Type.MouseMove, at, QPointF(canvas.mapToGlobal(at)), none, none, NONE)
    QApplication.sendEvent(canvas, event)
    assert place(canvas, "carriage") == height
    assert not canvas.hand.dragging


def test_second_drag_is_a_second_step(canvas: Elevation) -> None:
    drag(canvas, (0.6, 1.0), (0.6, 1.1))
    drag(canvas, place(canvas, "carriage"), (0.6, 1.3))
    assert document_of(canvas).undo_stack.count() == 2


@pytest.mark.parametrize(
    ("key", "way"),
    [
        (Qt.Key.Key_Up, (0.0, 0.01)),
        (Qt.Key.Key_Down, (0.0, -0.01)),
        (Qt.Key.Key_Left, (-0.01, 0.0)),
        (Qt.Key.Key_Right, (0.01, 0.0)),
    ],
)
def test_arrows_nudge_by_a_step_and_shift_by_ten(
    canvas: Elevation, qtbot: QtBot, key: Qt.Key, way: tuple[float, float]
) -> None:
    document_of(canvas).select("carriage")
    qtbot.keyClick(canvas, key)
    assert place(canvas, "carriage") == pytest.approx((0.6 + way[0], 1.0 + way[1]))
    qtbot.keyClick(canvas, key, Qt.KeyboardModifier.ShiftModifier)
    assert place(canvas, "carriage") == pytest.approx((0.6 + 11 * way[0], 1.0 + 11 * way[1]))
    assert document_of(canvas).undo_stack.count() == 2


def test_key_held_down_is_one_step(canvas: Elevation) -> None:
    document_of(canvas).select("carriage")
    for repeated in (False, True, True, True):
        event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Up, NONE, "", repeated, 1)
        QApplication.sendEvent(canvas, event)
    assert place(canvas, "carriage")[1] == pytest.approx(1.04)
    assert document_of(canvas).undo_stack.count() == 1


def test_arrow_moves_the_bend_last_taken_hold_of(bent_canvas: Elevation, qtbot: QtBot) -> None:
    drag(bent_canvas, (0.6, 1.0))
    qtbot.keyClick(bent_canvas, Qt.Key.Key_Up)
    assert document_of(bent_canvas).layout.runs["riser"].via[0][1].si == pytest.approx(1.01)


def test_nudge_that_cannot_be_says_why(canvas: Elevation, qtbot: QtBot) -> None:
    level = QPointF(*canvas.view.device(0.1, 0.40)).toPoint()
    qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=level)
    for _ in range(2):
        with qtbot.waitSignal(canvas.message, timeout=500):
            qtbot.keyClick(canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert document_of(canvas).layout.reservoirs["tank"].minimum_level.si == pytest.approx(0.55)
    document_of(canvas).select("strainer")
    with qtbot.waitSignal(canvas.message, timeout=500) as said:
        for _ in range(2):
            qtbot.keyClick(canvas, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert said.args == [""]
    assert place(canvas, "strainer")[1] == pytest.approx(0.02)


def test_a_pump_dragged_past_its_bend_and_back_leaves_its_line_as_it_was(qtbot: QtBot) -> None:
    canvas = shown(qtbot, CARRIAGE.with_name("shear-started-dry.toml"))
    document = document_of(canvas)
    first = document.layout
    x, y = place(canvas, "shear")
    drag(canvas, (x, y), (x, 1.6), (x, 2.6), release=False)
    said = "shear turned, its line now comes from below"
    assert [text for text, _ in canvas.readout()][1] == said
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, x, 2.6))
    assert document.undo_stack.undoText().endswith(f": {said}")
    drag(canvas, place(canvas, "shear"), (x, 2.2), (x, 1.9))
    assert "1 bend less in line" in document.undo_stack.undoText()
    drag(canvas, place(canvas, "shear"), (x, 1.6), (x, y))
    assert place(canvas, "shear") == pytest.approx((x, y), abs=0.01)
    assert document.layout.runs == first.runs


def test_a_loose_valve_that_is_dropped_on_a_line_is_put_into_it(qtbot: QtBot) -> None:
    """So is one that was pasted: it is one step, and the pump is calculated again."""
    canvas = shown(qtbot, CARRIAGE)
    document = document_of(canvas)
    layout = document.layout
    point = stock.length(layout, 0.2), stock.length(layout, 0.95)
    valve = Fitting("spare", point, FittingKind.GATE_VALVE, "NPS 2 schedule 40", None)
    document.apply("Paste", with_joint(layout, valve))
    assert document.solution is None or "carriage" not in document.solution.pumps
    steps = document.undo_stack.count()
    drag(canvas, (0.2, 0.95), (0.31, 0.9))
    assert document.solution is not None
    assert any(entry.part == "spare" for entry in document.ledger.entries)
    assert len(building.lines_on(document.layout, "spare")) == 2
    assert document.undo_stack.count() == steps + 1
    assert document.undo_stack.undoText() == "Put spare into riser"
    document.undo_stack.undo()
    assert not building.lines_on(document.layout, "spare")


def test_a_valve_that_is_dragged_across_a_line_and_given_up_stays_loose(qtbot: QtBot) -> None:
    canvas = shown(qtbot, CARRIAGE)
    document = document_of(canvas)
    layout = document.layout
    point = stock.length(layout, 0.2), stock.length(layout, 0.95)
    valve = Fitting("spare", point, FittingKind.GATE_VALVE, "NPS 2 schedule 40", None)
    document.apply("Paste", with_joint(layout, valve))
    loose = document.layout
    drag(canvas, (0.2, 0.95), (0.31, 0.9), release=False)
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert document.layout is loose


def test_bends_that_come_with_several_parts_are_said(qtbot: QtBot) -> None:
    canvas = shown(qtbot, CARRIAGE)
    document = document_of(canvas)
    document.select_all(("tank", "connector"))
    drag(canvas, place(canvas, "connector"), *((place(canvas, "connector")[0], y) for y in (1.4, 1.5)))
    undo = document.undo_stack.undoText()
    assert undo.startswith("Move 2 parts, connector to ")
    assert undo.endswith(": 2 bends more in lead")
