"""The elevation driven by real mouse and key events."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.drawing.glyphs import Glyph, glyphs
from sketch.drawing.memory import Memory
from sketch.drawing.view import View
from sketch.editing import edits
from sketch.model.document import Document
from solver.layout.parts import Layout
from solver.ledger.solve import Solution
from solver.quantities.units import System
from tests.sketch.canvas.mouse import (
    ALT,
    GRAVITY,
    LEFT,
    document_of,
    drag,
    lift,
    loss,
    place,
    send,
    spot,
    wheel,
)

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


# Pointing


def test_leaving_points_at_nothing(canvas: Elevation, qtbot: QtBot) -> None:
    qtbot.mouseMove(canvas, spot(canvas, 0.6, 0.75))
    QApplication.sendEvent(canvas, QEvent(QEvent.Type.Leave))
    assert document_of(canvas).pointed_key == ""


# The view


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
    assert canvas.view.scale == own.scale
    assert canvas.rect().contains(spot(canvas, *place(canvas, "carriage"))), "what was edited is in sight"
    assert document.undo_stack.count() == 2


# The highest port, the words, the refused drawing


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


def test_a_double_click_on_a_part_asks_for_its_figures(qtbot: QtBot, canvas: Elevation) -> None:
    at = QPointF(*canvas.view.device(*edits.place(canvas.kept.layout, "carriage"))).toPoint()
    with qtbot.waitSignal(canvas.asked, timeout=1000):
        qtbot.mouseDClick(canvas, Qt.MouseButton.LeftButton, pos=at)
    canvas.kept.select("riser")
    with qtbot.waitSignal(canvas.asked, timeout=1000):
        qtbot.keyClick(canvas, Qt.Key.Key_Return)


def test_moving_the_pointer_over_an_unchanged_drawing_makes_no_glyphs_anew(
    canvas: Elevation, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    views: list[View] = []

    def counted(
        layout: Layout, solution: Solution | None, view: View, pump: str, memory: Memory
    ) -> tuple[Glyph, ...]:
        views.append(view)
        return glyphs(layout, solution, view, pump, memory)

    monkeypatch.setattr("sketch.drawing.pointing.glyphs", counted)
    monkeypatch.setattr("sketch.drawing.painting.glyphs", counted)
    keys = set()
    for step in range(12):
        QTest.mouseMove(canvas, spot(canvas, 0.6, 0.1 + 0.08 * step))
        QApplication.processEvents()
        keys.add(document_of(canvas).pointed_key)
    assert len(keys) > 2
    assert len(views) <= 1
    canvas.zoom(1.5)
    QTest.mouseMove(canvas, spot(canvas, 0.6, 0.5))
    QApplication.processEvents()
    assert len(views) <= 2
    assert views[-1] == canvas.view
