"""What can be held, and where."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.canvas.handles import Hold
from sketch.editing import tanks
from tests.sketch.canvas.mouse import (
    document_of,
    drag,
    spot,
)


def test_pump_is_held_by_its_circle_too(canvas: Elevation, qtbot: QtBot) -> None:
    at = spot(canvas, 0.6, 1.0) - QPoint(0, 26)
    qtbot.mouseMove(canvas, at)
    assert canvas.hand.over.name == "carriage"


def test_click_on_a_pipe_selects_its_run(canvas: Elevation) -> None:
    drag(canvas, (0.6, 0.75))
    assert document_of(canvas).selected_part == "riser"


def test_a_click_in_a_tank_selects_it(qtbot: QtBot, canvas: Elevation) -> None:
    x, y = canvas.view.device(0.15, 0.2)
    qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=QPointF(x, y).toPoint())
    assert canvas.kept.selected_part == "tank"


def test_hover_points_at_the_entry_and_changes_the_cursor(canvas: Elevation, qtbot: QtBot) -> None:
    document = document_of(canvas)
    qtbot.mouseMove(canvas, spot(canvas, 0.6, 0.75))
    assert document.pointed_key == "riser/straight 1"
    qtbot.mouseMove(canvas, spot(canvas, 0.6, 1.0))
    assert canvas.cursor().shape() is Qt.CursorShape.SizeAllCursor
    qtbot.mouseMove(canvas, spot(canvas, 0.1, 0.4))
    assert canvas.cursor().shape() is Qt.CursorShape.SizeVerCursor
    qtbot.mouseMove(canvas, spot(canvas, 0.6, 0.65))
    assert canvas.cursor().shape() is Qt.CursorShape.SizeHorCursor
    qtbot.mouseMove(canvas, spot(canvas, 1.2, 0.7))
    assert canvas.cursor().shape() is Qt.CursorShape.SizeAllCursor
    qtbot.mouseMove(canvas, spot(canvas, 0.05, 0.9))
    assert document.pointed_key == ""
    assert canvas.cursor().shape() is Qt.CursorShape.ArrowCursor


def test_a_wall_that_slants_is_held_along_it_and_not_in_the_room_beside_it(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    document.apply("Slope", tanks.add_corner(document.layout, "tank", 0, 0.6, -0.4))
    bent_canvas.fit()
    document.select("tank")
    hand, view = bent_canvas.hand, bent_canvas.view
    on_wall = hand.at(view, *view.device(0.3, -0.2))
    assert on_wall is not None
    assert on_wall.hold is Hold.WALL
    within = hand.at(view, *view.device(0.45, -0.1))
    assert within is not None
    assert within.hold is Hold.TANK
