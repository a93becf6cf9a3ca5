"""What is dragged takes its line along, and stops where it finds no room."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from solver.findings.kinds import FindingId
from solver.geometry import reservoirs
from tests.sketch.canvas.mouse import (
    GRAVITY,
    LEFT,
    carriage_shown,
    document_of,
    drag,
    lift,
    place,
    send,
    spot,
)
from tests.solver.geometry.test_leads import fed_from_below, turns_back, way


def test_bend_is_dragged_and_its_run_stays_square(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    drag(bent_canvas, (0.6, 1.0), (0.6, 1.1), (0.6, 1.2))
    assert document.undo_stack.undoText() == "Move bend 1 of riser to height 1.20 m, x 0.600 m"
    corners = [(x.si, y.si) for x, y in document.layout.runs["riser"].via]
    assert corners[0] == pytest.approx((0.6, 1.2), abs=0.011)
    points = [place(bent_canvas, "strainer"), *corners, place(bent_canvas, "carriage")]
    for (x1, y1), (x2, y2) in pairwise(points):
        assert x1 == pytest.approx(x2, abs=2e-4) or y1 == pytest.approx(y2, abs=2e-4)


def test_riser_is_dragged_sideways_and_takes_its_strainer_along(bent_canvas: Elevation) -> None:
    document = document_of(bent_canvas)
    before = document.layout
    drag(bent_canvas, (0.6, 0.7), (0.7, 0.75), (0.8, 0.9))
    assert document.undo_stack.undoText() == "Move straight 1 of riser to x 0.800 m"
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
    assert document.undo_stack.undoText() == "Move corner 3 of tank to height 0.900 m, x 1.40 m"
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


def test_a_tank_is_reshaped_by_the_mouse_wall_by_wall(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    canvas.zoom(0.8)
    document.select("tank")

    def corners() -> list[tuple[float, float]]:
        return [(round(x.si, 4), round(y.si, 4)) for x, y in document.layout.reservoirs["tank"].outline]

    drag(canvas, (1.2, 0.15), (1.25, 0.15), (1.3, 0.2))
    assert corners() == [(0.0, 0.0), (1.3, 0.0), (1.3, 0.7), (0.0, 0.7)], "a wall goes sideways alone"
    assert document.undo_stack.undoText() == "Move the right wall of tank to x 1.30 m"
    drag(canvas, (0.65, 0.0), (0.65, -0.05), (0.65, -0.1))
    assert corners()[:2] == [(0.0, -0.1), (1.3, -0.1)], "amid a wall too the wall is moved"
    assert document.undo_stack.undoText().startswith("Move the floor of tank to height ")
    document.undo_stack.undo()
    QTest.mouseDClick(canvas, LEFT, pos=spot(canvas, 0.65, 0.0))
    assert corners()[:3] == [(0.0, 0.0), (0.65, 0.0), (1.3, 0.0)]
    assert document.undo_stack.undoText() == "Add a corner to tank"
    drag(canvas, (0.65, 0.0), (0.65, -0.05), (0.65, -0.1))
    assert corners()[:3] == [(0.0, 0.0), (0.65, -0.1), (1.3, 0.0)], "a new corner is pulled out alone"
    QTest.mouseDClick(canvas, LEFT, pos=spot(canvas, 0.3, -0.3 * 0.1 / 0.65))
    assert corners()[1][0] == pytest.approx(0.3, abs=0.01), "a wall that slants takes one too"
    document.undo_stack.undo()
    drag(canvas, (1.3, 0.0), (1.3, -0.05), (1.3, -0.1))
    assert corners()[2] == (1.3, -0.1), "a floor that slopes to a sump"
    assert document.solution is not None
    QTest.mouseDClick(canvas, LEFT, pos=spot(canvas, 0.65, -0.1))
    assert (0.65, -0.1) not in corners()
    assert document.undo_stack.undoText() == "Remove a corner of tank"


def test_what_a_tank_has_in_it_is_put_there_and_dragged(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    for what, at in (("baffle", (0.9, 0.3)), ("return", (1.1, 0.25)), ("draw-down", (0.3, 0.45))):
        canvas.pick(what)
        assert "Click within a tank" in canvas.tool.hint
        QTest.mouseClick(canvas, LEFT, pos=spot(canvas, 2.0, 0.2))
        assert "click within one" in canvas.tool.trouble
        QTest.mouseClick(canvas, LEFT, pos=spot(canvas, *at))
        assert document.undo_stack.undoText() == f"Put a {what} into tank"
    drag(canvas, (0.9, 0.15), (0.95, 0.2), (1.0, 0.2))
    drag(canvas, (1.0, 0.3), (1.0, 0.32), (1.0, 0.35))
    drag(canvas, (1.1, 0.25), (1.1, 0.22), (1.1, 0.15))
    drag(canvas, (0.1, 0.45), (0.1, 0.42), (0.1, 0.38))
    tank = document.layout.reservoirs["tank"]
    assert (tank.baffle.x.text, tank.baffle.top.text) == ("1 m", "0.35 m")
    assert [figure.text for figure in tank.return_at] == ["1.1 m", "0.15 m"]
    assert reservoirs.drawn_down(tank) == pytest.approx(0.38, abs=1e-4)
    assert document.undo_stack.undoText() == "Move the drawn-down level of tank to height 0.380 m"
    canvas.setFocus()
    QTest.keyClick(canvas, Qt.Key.Key_Up)
    assert reservoirs.drawn_down(document.layout.reservoirs["tank"]) == pytest.approx(0.39, abs=1e-4)


@pytest.mark.parametrize("modifiers", [Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.AltModifier])
def test_a_pump_that_is_dragged_takes_its_connector_along(
    qtbot: QtBot, modifiers: Qt.KeyboardModifier
) -> None:
    canvas = carriage_shown(qtbot)
    document = document_of(canvas)
    before, ledger = document.layout, document.ledger
    (x, y), (joint_x, _) = place(canvas, "carriage"), place(canvas, "connector")
    drag(canvas, (x, y), (x + 0.1, y + 0.1), (x + 0.3, y + 0.2), modifiers=modifiers)
    (new_x, new_y), joint = place(canvas, "carriage"), place(canvas, "connector")
    assert new_x == pytest.approx(x + 0.3, abs=0.02)
    alone = modifiers is Qt.KeyboardModifier.AltModifier
    assert joint == pytest.approx((joint_x + (0.0 if alone else new_x - x), new_y), abs=2e-4)
    document.undo_stack.undo()
    assert document.layout is before
    assert [e.loss for e in document.ledger.entries] == [e.loss for e in ledger.entries]


def test_a_pump_on_a_connector_is_dragged_past_its_bend_and_turns_to_face_the_line(canvas: Elevation) -> None:
    document = document_of(canvas)
    document.begin(fed_from_below())
    canvas.fit()
    drag(canvas, (2.4, 2.1), (2.4, 1.7), (2.4, 1.2), (2.4, 0.9))
    assert place(canvas, "pump") == pytest.approx((2.4, 0.9), abs=0.011)
    assert not turns_back(way(document.layout))
    assert not [each for each in document.findings if each.finding is FindingId.DOUBLES_BACK]
    assert document.outlook is not None
    assert "cannot be built" not in document.outlook.headline
