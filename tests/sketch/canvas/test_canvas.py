"""The elevation driven by real mouse and key events."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas import readout
from sketch.canvas.elevation import Elevation
from sketch.canvas.overlay import readout_box
from sketch.drawing.glyphs import Glyph, glyphs
from sketch.drawing.view import View
from sketch.editing import edits
from sketch.model.document import Document
from solver.answers import ask
from solver.layout.parts import Layout
from solver.ledger.solve import Solution
from solver.quantities import units
from solver.quantities.units import System

GRAVITY = 9.80665
LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier
ALT = Qt.KeyboardModifier.AltModifier


def shown(qtbot: QtBot, path: Path) -> Elevation:
    document = Document()
    document.open(path)
    widget = Elevation(document)
    widget.kept = document
    qtbot.addWidget(widget)
    widget.resize(1000, 700)
    widget.show()
    qtbot.waitExposed(widget)
    widget.setFocus()
    return widget


@pytest.fixture
def canvas(qtbot: QtBot, riser: Path) -> Elevation:
    return shown(qtbot, riser)


@pytest.fixture
def bent_canvas(qtbot: QtBot, bent: Path) -> Elevation:
    return shown(qtbot, bent)


def document_of(canvas: Elevation) -> Document:
    return canvas.kept


def spot(canvas: Elevation, x: float, y: float) -> QPoint:
    return QPointF(*canvas.view.device(x, y)).toPoint()


def send(canvas: Elevation, kind: QEvent.Type, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
    """A mouse event with modifiers, which QTest's moves do not carry."""
    button = LEFT if kind is not QEvent.Type.MouseMove else Qt.MouseButton.NoButton
    down = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseButtonRelease else LEFT
    event = QMouseEvent(kind, QPointF(at), QPointF(canvas.mapToGlobal(at)), button, down, modifiers)
    QApplication.sendEvent(canvas, event)


def drag(
    canvas: Elevation,
    start: tuple[float, float],
    *way: tuple[float, float],
    modifiers: Qt.KeyboardModifier = NONE,
    release: bool = True,
) -> None:
    send(canvas, QEvent.Type.MouseButtonPress, spot(canvas, *start), modifiers)
    for point in way:
        send(canvas, QEvent.Type.MouseMove, spot(canvas, *point), modifiers)
    if release:
        send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, *(way or (start,))[-1]), modifiers)


def place(canvas: Elevation, name: str) -> tuple[float, float]:
    x, y = document_of(canvas).layout.joint(name).at
    return x.si, y.si


def lift(document: Document) -> float:
    return sum(entry.lift for entry in document.ledger.entries)


def loss(document: Document) -> float:
    return sum(entry.loss for entry in document.ledger.entries)


# Dragging


def test_pump_dragged_up_by_h_costs_rho_g_h_and_the_longer_riser(canvas: Elevation, qtbot: QtBot) -> None:
    document = document_of(canvas)
    before, margin, lifted, lost = document.layout, document.ledger.margin, lift(document), loss(document)
    qtbot.mousePress(canvas, LEFT, pos=spot(canvas, 0.6, 1.0))
    for y in (1.05, 1.12, 1.2, 1.25):
        qtbot.mouseMove(canvas, spot(canvas, 0.6, y))
    qtbot.mouseRelease(canvas, LEFT, pos=spot(canvas, 0.6, 1.25))
    h = place(canvas, "carriage")[1] - 1.0
    assert h == pytest.approx(0.25, abs=0.011)
    weight = document.solution.fluid.density * GRAVITY * h
    assert lift(document) - lifted == pytest.approx(weight, rel=1e-9)
    longer = loss(document) - lost
    assert longer > 0
    assert margin - document.ledger.margin == pytest.approx(weight + longer, rel=1e-9)
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert document.layout is before
    assert document.ledger.margin == margin


def test_everything_follows_at_every_move(canvas: Elevation) -> None:
    document, margins = document_of(canvas), []
    document.changed.connect(lambda: margins.append(document.ledger.margin))
    drag(canvas, (0.6, 1.0), *((0.6, 1.0 + step / 20) for step in range(1, 9)))
    assert len(margins) == 8
    assert margins == sorted(margins, reverse=True)


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


def test_bend_is_dragged_and_its_run_stays_square(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    drag(bent_canvas, (0.6, 1.0), (0.6, 1.1), (0.6, 1.2))
    assert document.undo_stack.undoText() == "Move bend 1 of riser"
    corners = [(x.si, y.si) for x, y in document.layout.runs["riser"].via]
    assert corners[0] == pytest.approx((0.6, 1.2), abs=0.011)
    points = [place(bent_canvas, "strainer"), *corners, place(bent_canvas, "carriage")]
    for (x1, y1), (x2, y2) in pairwise(points):
        assert x1 == pytest.approx(x2, abs=2e-4) or y1 == pytest.approx(y2, abs=2e-4)


def test_riser_is_dragged_sideways_and_takes_its_strainer_along(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    before = document.layout
    drag(bent_canvas, (0.6, 0.7), (0.7, 0.75), (0.8, 0.9))
    assert document.undo_stack.undoText() == "Move straight 1 of riser"
    assert place(bent_canvas, "strainer") == pytest.approx((0.8, 0.12), abs=0.011)
    assert [x.si for x, _ in document.layout.runs["riser"].via] == [pytest.approx(0.8, abs=0.011)]
    assert place(bent_canvas, "carriage") == (1.6, 1.0)
    document.undo_stack.undo()
    assert document.layout is before


def test_lead_is_dragged_up_and_the_pump_with_it(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    lifted = lift(document)
    drag(bent_canvas, (1.2, 1.0), (1.2, 1.1), (1.0, 1.25), release=False)
    (where, *_) = (text for text, _ in bent_canvas.readout())
    assert where == "height 1.25 m"
    send(bent_canvas, QEvent.Type.MouseButtonRelease, spot(bent_canvas, 1.0, 1.25))
    assert place(bent_canvas, "carriage") == pytest.approx((1.6, 1.25))
    h = place(bent_canvas, "carriage")[1] - 1.0
    assert lift(document) - lifted == pytest.approx(document.solution.fluid.density * GRAVITY * h, rel=1e-9)


def test_riser_stops_at_the_wall_of_the_tank_and_says_why(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    drag(bent_canvas, (0.6, 0.7), (1.1, 0.7), (1.5, 0.7), release=False)
    assert place(bent_canvas, "strainer")[0] == pytest.approx(1.1, abs=0.011)
    assert any("outside tank" in text for text, _ in bent_canvas.readout())
    send(bent_canvas, QEvent.Type.MouseMove, spot(bent_canvas, 0.9, 0.7))
    assert place(bent_canvas, "strainer")[0] == pytest.approx(0.9, abs=0.011)
    send(bent_canvas, QEvent.Type.MouseButtonRelease, spot(bent_canvas, 0.9, 0.7))
    assert document.undo_stack.count() == 1


def test_line_stops_where_its_bend_finds_no_room_and_goes_on_beyond(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    drag(bent_canvas, (1.2, 1.0), (1.2, 0.6), (1.2, 0.3), (1.2, 0.15), release=False)
    assert document.solution is not None
    assert place(bent_canvas, "carriage")[1] == pytest.approx(0.3, abs=0.011)
    assert any("bend 1 needs" in text for text, _ in bent_canvas.readout())
    send(bent_canvas, QEvent.Type.MouseMove, spot(bent_canvas, 1.2, -0.05))
    assert place(bent_canvas, "carriage")[1] == pytest.approx(-0.05, abs=0.011)
    assert document.solution is not None


def test_bend_beside_fixed_parts_adds_no_bends(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    bends = [entry for entry in document.ledger.entries if entry.kind == "bend"]
    drag(bent_canvas, (0.6, 1.0), (0.7, 1.1), (0.8, 1.2))
    assert [e for e in document.ledger.entries if e.kind == "bend"] != bends
    assert sum(entry.kind == "bend" for entry in document.ledger.entries) == len(bends) == 1
    assert place(bent_canvas, "strainer")[0] == pytest.approx(0.8, abs=0.011)


def test_corner_of_the_tank_is_dragged_and_the_tank_stays_square(canvas: Elevation) -> None:
    document = document_of(canvas)
    drag(canvas, (1.2, 0.7), (1.3, 0.75), (1.4, 0.9))
    corners = [(x.si, y.si) for x, y in document.layout.reservoirs["tank"].outline]
    assert corners == [(0.0, 0.0), (1.4, 0.0), (1.4, 0.9), (0.0, 0.9)]
    assert document.undo_stack.undoText() == "Reshape tank"
    assert document.selected_part == "tank"
    drag(canvas, (1.4, 0.9), (1.4, 0.7), (1.4, 0.3), release=False)
    assert document.layout.reservoirs["tank"].outline[2][1].si == pytest.approx(0.7, abs=0.011)
    assert any("level" in text and "above the rim" in text for text, _ in canvas.readout())
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 1.4, 0.3))
    assert document.solution is not None


def test_normal_level_is_dragged_between_the_minimum_and_the_rim(canvas: Elevation) -> None:
    document = document_of(canvas)
    document.set_level("normal")
    lifted = lift(document)
    drag(canvas, (0.2, 0.55), (0.2, 0.6), (0.2, 0.65))
    tank = document.layout.reservoirs["tank"]
    assert tank.normal_level.si == pytest.approx(0.65, abs=0.011)
    weight = document.solution.fluid.density * GRAVITY * (tank.normal_level.si - 0.55)
    assert lifted - lift(document) == pytest.approx(weight, rel=1e-9)
    drag(canvas, (0.2, tank.normal_level.si), (0.2, 0.8), (0.2, 1.5))
    assert document.layout.reservoirs["tank"].normal_level.si == pytest.approx(0.7)
    drag(canvas, (0.2, 0.7), (0.2, 0.3), (0.2, 0.1))
    assert document.layout.reservoirs["tank"].normal_level.si == pytest.approx(0.4)


def test_level_is_dragged_down_and_the_lift_grows(canvas: Elevation) -> None:
    document = document_of(canvas)
    lifted = lift(document)
    drag(canvas, (0.2, 0.4), (0.2, 0.35), (0.2, 0.3))
    level = document.layout.reservoirs["tank"].minimum_level.si
    assert level == pytest.approx(0.3, abs=0.011)
    weight = document.solution.fluid.density * GRAVITY * (0.4 - level)
    assert lift(document) - lifted == pytest.approx(weight, rel=1e-9)


def test_intake_stays_in_its_tank_and_the_readout_says_so(canvas: Elevation) -> None:
    document = document_of(canvas)
    drag(canvas, (0.6, 0.12), (0.9, 0.2), (1.6, 0.2), release=False)
    assert 0.6 < place(canvas, "strainer")[0] <= 1.2
    assert any("outside tank" in text for text, _ in canvas.readout())
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 1.6, 0.2))
    assert document.solution is not None


def test_readout_names_height_and_margin(canvas: Elevation) -> None:
    document_of(canvas).set_system(System.US)
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    height, margin = (text for text, _ in canvas.readout())
    assert height.startswith("height 3.9")
    assert height.endswith(" ft")
    assert margin.startswith("margin ")
    assert margin.endswith(" inHg")


def test_readout_and_description_name_a_cold_start_that_is_over(canvas: Elevation) -> None:
    document = document_of(canvas)
    fluid = replace(document.layout.fluid, coldest_start=units.Quantity("-10 degC", 263.15))
    document.apply("Start", replace(document.layout, fluid=fluid))
    drag(canvas, (0.6, 1.0), (0.6, 1.1), release=False)
    said = canvas.readout()
    assert said[-1][0].startswith("at the −10 °C start over by ")
    assert said[-1][1] == canvas.theme.stop
    assert "At the −10 °C start over by" in readout.description(document)


# Snapping


def test_drag_rests_on_the_grid(canvas: Elevation) -> None:
    drag(canvas, (0.6, 1.0), (0.6, 1.2374))
    y = place(canvas, "carriage")[1]
    assert y == pytest.approx(round(y / 0.01) * 0.01, abs=1e-9)


def test_inch_grid_in_us_units(canvas: Elevation) -> None:
    document_of(canvas).set_system(System.US)
    drag(canvas, (0.6, 1.0), (0.6, 1.24))
    y = place(canvas, "carriage")[1]
    assert y / 0.0254 == pytest.approx(round(y / 0.0254), abs=0.003)  # written to 0.1 mm


def test_alt_frees_the_drag(canvas: Elevation) -> None:
    start, target, scale = spot(canvas, 0.6, 1.0), spot(canvas, 0.6, 1.2374), canvas.view.scale
    drag(canvas, (0.6, 1.0), (0.6, 1.2374), modifiers=ALT)
    moved = place(canvas, "carriage")[1] - 1.0
    assert moved == pytest.approx((start.y() - target.y()) / scale, abs=1e-4)


def test_upright_drag_keeps_the_pump_over_its_strainer(canvas: Elevation) -> None:
    drag(canvas, (0.6, 1.0), (0.603, 1.1), (0.597, 1.2))
    assert document_of(canvas).layout.pumps["carriage"].at[0].text == "0.6 m"
    assert document_of(canvas).layout.runs["riser"].via == ()


def test_alignment_shows_a_guide(bent_canvas: Elevation) -> None:
    reach = 4 / bent_canvas.view.scale
    drag(bent_canvas, (1.6, 1.0), (0.9, 1.3), (0.6 + reach, 1.3), release=False)
    assert place(bent_canvas, "carriage")[0] == pytest.approx(0.6)
    (guide,) = bent_canvas.hand.proposal.guides
    assert guide.x1 == guide.x2 == pytest.approx(0.6)
    send(bent_canvas, QEvent.Type.MouseMove, spot(bent_canvas, 0.6 + reach, 1.3), ALT)
    assert bent_canvas.hand.proposal.guides == ()
    assert place(bent_canvas, "carriage")[0] == pytest.approx(0.6 + reach, abs=1 / bent_canvas.view.scale)


# Keys


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
    document_of(canvas).select("tank")
    before = document_of(canvas).layout
    qtbot.keyClick(canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert document_of(canvas).layout is before, "no level has been taken hold of"
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


# Pointing


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


def test_pump_is_held_by_its_circle_too(canvas: Elevation, qtbot: QtBot) -> None:
    at = spot(canvas, 0.6, 1.0) - QPoint(0, 26)
    qtbot.mouseMove(canvas, at)
    assert canvas.hand.over.name == "carriage"


def test_click_on_a_pipe_selects_its_run(canvas: Elevation) -> None:
    drag(canvas, (0.6, 0.75))
    assert document_of(canvas).selected_part == "riser"


def test_leaving_points_at_nothing(canvas: Elevation, qtbot: QtBot) -> None:
    qtbot.mouseMove(canvas, spot(canvas, 0.6, 0.75))
    QApplication.sendEvent(canvas, QEvent(QEvent.Type.Leave))
    assert document_of(canvas).pointed_key == ""


# The view


def wheel(canvas: Elevation, at: QPoint, notches: int) -> None:
    event = QWheelEvent(
        QPointF(at),
        QPointF(canvas.mapToGlobal(at)),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        NONE,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(canvas, event)


def test_wheel_zooms_at_the_pointer_and_home_fits_again(canvas: Elevation, qtbot: QtBot) -> None:
    at, fitted = QPoint(300, 200), canvas.view
    under = fitted.world(300, 200)
    wheel(canvas, at, 3)
    assert canvas.view.scale > fitted.scale * 1.4
    assert canvas.view.world(300, 200) == pytest.approx(under)
    qtbot.keyClick(canvas, Qt.Key.Key_Home)
    assert canvas.view == fitted


def test_zoom_has_ends(canvas: Elevation) -> None:
    for _ in range(10):
        wheel(canvas, QPoint(300, 200), 20)
    assert canvas.view.scale <= 40_000
    for _ in range(10):
        wheel(canvas, QPoint(300, 200), -20)
    assert canvas.view.scale >= 4
    canvas.repaint()


def test_middle_button_and_space_pan(canvas: Elevation, qtbot: QtBot) -> None:
    before = canvas.view
    qtbot.mousePress(canvas, Qt.MouseButton.MiddleButton, pos=QPoint(500, 300))
    qtbot.mouseMove(canvas, QPoint(540, 320))
    qtbot.mouseRelease(canvas, Qt.MouseButton.MiddleButton, pos=QPoint(540, 320))
    assert (canvas.view.x0 - before.x0, canvas.view.y0 - before.y0) == (40, 20)
    QTest.keyPress(canvas, Qt.Key.Key_Space)
    assert canvas.cursor().shape() is Qt.CursorShape.OpenHandCursor
    start = spot(canvas, 0.6, 1.0)
    qtbot.mousePress(canvas, LEFT, pos=start)
    qtbot.mouseMove(canvas, start + QPoint(10, 0))
    qtbot.mouseRelease(canvas, LEFT, pos=start + QPoint(10, 0))
    QTest.keyRelease(canvas, Qt.Key.Key_Space)
    assert canvas.view.x0 - before.x0 == 50
    assert document_of(canvas).undo_stack.count() == 0


def test_view_follows_the_window_until_it_is_moved_by_hand(canvas: Elevation) -> None:
    small = canvas.view
    canvas.resize(1400, 900)
    QApplication.processEvents()
    assert canvas.view.scale > small.scale
    canvas.zoom(1.5)
    own = canvas.view
    canvas.resize(1000, 700)
    QApplication.processEvents()
    assert canvas.view == own


def test_drawing_dragged_out_of_sight_is_fitted_again_once_let_go(canvas: Elevation) -> None:
    document, before = document_of(canvas), canvas.view
    drag(canvas, (0.6, 1.0), (0.6, 1.6), release=False)
    assert canvas.view == before
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 0.6, 1.6))
    assert canvas.rect().contains(spot(canvas, *place(canvas, "carriage")))
    canvas.zoom(1.0)
    own = canvas.view
    drag(canvas, place(canvas, "carriage"), (0.6, 2.6))
    assert canvas.view == own
    assert document.undo_stack.count() == 2


# The highest port, the words, the refused drawing


def test_highest_port_comes_when_idle_and_stays_while_only_the_port_moves(
    canvas: Elevation, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=3000)
    document = document_of(canvas)
    expected = ask.highest_port(document.layout, "carriage").value
    assert canvas.highest_port == pytest.approx(expected)
    drag(canvas, (0.6, 1.0), (0.6, 1.1), release=False)
    assert canvas.highest_port == pytest.approx(expected)
    send(canvas, QEvent.Type.MouseMove, spot(canvas, 0.9, 1.1))
    assert canvas.highest_port is None
    qtbot.waitUntil(lambda: canvas.highest_port is not None, timeout=3000)


def test_words_for_those_who_do_not_see_it(canvas: Elevation) -> None:
    assert canvas.accessibleName() == "Elevation"
    said = canvas.accessibleDescription()
    assert said.startswith("Riser. Margin ")
    drag(canvas, (0.6, 1.0), (0.6, 1.3))
    assert canvas.accessibleDescription() != said


def test_refused_drawing_is_painted_and_can_be_mended(canvas: Elevation) -> None:
    document = document_of(canvas)
    drag(canvas, (0.6, 0.12), (0.6, 0.5))
    assert document.solution is None
    assert "Not calculated" in canvas.accessibleDescription()
    canvas.repaint()
    drag(canvas, place(canvas, "strainer"), (0.6, 0.2))
    assert document.solution is not None


def test_empty_document_is_painted(qtbot: QtBot) -> None:
    document = Document()
    canvas = Elevation(document)
    qtbot.addWidget(canvas)
    canvas.resize(400, 300)
    assert not canvas.grab().isNull()


def test_drag_paints_handle_and_readout_at_the_pointer(canvas: Elevation) -> None:
    plain = canvas.grab().toImage()
    drag(canvas, (0.6, 1.0), (0.6, 0.9), release=False)
    held = canvas.grab().toImage()
    at = spot(canvas, 0.6, 0.9) + QPoint(22, 22)
    assert held.pixelColor(at) == canvas.theme.box
    assert plain.pixelColor(at) != canvas.theme.box


def test_readout_stays_on_the_sheet() -> None:
    sheet = QRectF(0, 0, 400, 300)
    for x, y in ((0, 0), (399, 0), (0, 299), (399, 299), (200, 150)):
        box = readout_box(QPointF(x, y), 120, 40, sheet, 18)
        assert sheet.contains(box)
        assert not box.contains(QPointF(x, y))
    for x, y in ((900, 150), (200, 900), (-500, -500), (900, 900)):
        assert sheet.contains(readout_box(QPointF(x, y), 120, 40, sheet, 18))


def test_a_double_click_on_a_part_asks_for_its_figures(qtbot: QtBot, canvas: Elevation) -> None:
    at = QPointF(*canvas.view.device(*edits.place(canvas.kept.layout, "carriage"))).toPoint()
    with qtbot.waitSignal(canvas.asked, timeout=1000):
        qtbot.mouseDClick(canvas, Qt.MouseButton.LeftButton, pos=at)
    canvas.kept.select("riser")
    with qtbot.waitSignal(canvas.asked, timeout=1000):
        qtbot.keyClick(canvas, Qt.Key.Key_Return)


def test_a_click_in_a_tank_selects_it(qtbot: QtBot, canvas: Elevation) -> None:
    x, y = canvas.view.device(0.15, 0.2)
    qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=QPointF(x, y).toPoint())
    assert canvas.kept.selected_part == "tank"


def test_no_highest_port_is_drawn_where_no_estimate_of_the_limit_reaches(canvas: Elevation) -> None:
    canvas._ask_highest()
    assert canvas.highest_port is not None
    document = canvas.kept
    speed = units.quantity("3000 rpm", units.Kind.SPEED)
    rated = replace(document.layout.pumps["carriage"], rated_speed=document.layout.pumps["carriage"].speed)
    document.apply("Faster", edits.with_joint(document.layout, replace(rated, speed=speed)))
    assert not document.ledger.limit_reaches
    canvas._ask_highest()
    assert canvas.highest_port is None


def test_moving_the_pointer_over_an_unchanged_drawing_makes_no_glyphs_anew(
    canvas: Elevation, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[View] = []

    def counted(layout: Layout, solution: Solution | None, view: View, pump: str) -> tuple[Glyph, ...]:
        made.append(view)
        return glyphs(layout, solution, view, pump)

    monkeypatch.setattr("sketch.drawing.pointing.glyphs", counted)
    monkeypatch.setattr("sketch.drawing.painting.glyphs", counted)
    keys = set()
    for step in range(12):
        QTest.mouseMove(canvas, spot(canvas, 0.6, 0.1 + 0.08 * step))
        QApplication.processEvents()
        keys.add(document_of(canvas).pointed_key)
    assert len(keys) > 2
    assert len(made) <= 1
    canvas.zoom(1.5)
    QTest.mouseMove(canvas, spot(canvas, 0.6, 0.5))
    QApplication.processEvents()
    assert len(made) <= 2
    assert made[-1] == canvas.view
