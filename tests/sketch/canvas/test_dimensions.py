"""Dimensions typed where they stand: by real double clicks and keys."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from sketch.canvas import dimensions
from sketch.canvas.dimensions import set_size
from sketch.canvas.elevation import Elevation
from sketch.editing import edits, reshape
from sketch.editing.edits import EditError
from solver.quantities.units import Kind, System
from tests.sketch.canvas.mouse import carriage_shown, double_click, label, type_over

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def canvas(qtbot: QtBot) -> Elevation:
    return carriage_shown(qtbot)


def test_lift_is_typed_and_the_port_stands_so_high_over_the_level(qtbot: QtBot, canvas: Elevation) -> None:
    document = canvas.kept
    double_click(qtbot, canvas, label(canvas, "lift"))
    assert canvas.field.isVisible()
    assert canvas.field.text() == "1.83 ft"
    type_over(qtbot, canvas, "1' 3\"")
    assert not canvas.field.isVisible()
    level = document.layout.reservoirs["tank"].minimum_level.si
    assert document.layout.pumps["carriage"].at[1].si - level == pytest.approx(15 * 0.0254, abs=1e-4)
    assert document.undo_stack.undoText() == "Height of carriage's port above the level to 1' 3\""
    document.undo_stack.undo()
    assert document.undo_stack.count() == 1


def test_bare_number_is_in_the_unit_shown(qtbot: QtBot, canvas: Elevation) -> None:
    document = canvas.kept
    document.set_system(System.SI)
    double_click(qtbot, canvas, label(canvas, "lift"))
    type_over(qtbot, canvas, "0.4")
    assert document.undo_stack.undoText() == "Height of carriage's port above the level to 0.4 m"
    level = document.layout.reservoirs["tank"].minimum_level.si
    assert document.layout.pumps["carriage"].at[1].si - level == pytest.approx(0.4, abs=1e-4)


def test_flooded_head_is_typed_downwards(qtbot: QtBot, canvas: Elevation) -> None:
    document = canvas.kept
    document.show_alternative("Pump beside the tank")
    double_click(qtbot, canvas, label(canvas, "lift"))
    type_over(qtbot, canvas, "300 mm")
    level = document.layout.reservoirs["tank"].minimum_level.si
    assert level - document.layout.pumps["carriage"].at[1].si == pytest.approx(0.3, abs=1e-4)


def test_level_is_typed_and_kept_as_typed(qtbot: QtBot, canvas: Elevation) -> None:
    double_click(qtbot, canvas, label(canvas, "level", "normal"))
    assert canvas.field.text() == "2 ft 4 in"
    type_over(qtbot, canvas, "720 mm")
    assert canvas.kept.layout.reservoirs["tank"].normal_level.text == "720 mm"


def test_size_is_typed_beside_its_run(qtbot: QtBot, canvas: Elevation) -> None:
    double_click(qtbot, canvas, label(canvas, "bore"))
    assert canvas.field.text() == "NPS 2 schedule 40"
    type_over(qtbot, canvas, "NPS 3 schedule 40")
    assert canvas.kept.layout.runs["riser"].size == "NPS 3 schedule 40"


@pytest.mark.parametrize("text", ["3 in", "3", "DN 80", "NPS 3"])
def test_a_nominal_size_is_typed_beside_its_run_as_on_the_card(
    qtbot: QtBot, canvas: Elevation, text: str
) -> None:
    double_click(qtbot, canvas, label(canvas, "bore"))
    type_over(qtbot, canvas, text)
    riser = canvas.kept.layout.runs["riser"]
    assert (riser.size, riser.bore) == ("NPS 3 schedule 40", None)
    assert canvas.kept.undo_stack.undoText() == "Size of riser to NPS 3 schedule 40"


def test_double_click_elsewhere_opens_nothing_and_moves_nothing(qtbot: QtBot, canvas: Elevation) -> None:
    before = canvas.kept.layout
    at = QPointF(*canvas.view.device(*edits.place(before, "carriage"))).toPoint()
    qtbot.mouseDClick(canvas, LEFT, pos=at)
    assert not canvas.field.isVisible()
    assert canvas.kept.layout is before
    assert canvas.kept.selected_part == "carriage"


def test_pointer_over_a_dimension_shows_that_it_can_be_typed(qtbot: QtBot, canvas: Elevation) -> None:
    box = label(canvas, "lift").box
    qtbot.mouseMove(canvas, QPointF(box.x + box.width / 2, box.y + box.height / 2).toPoint())
    assert canvas.cursor().shape() is Qt.CursorShape.IBeamCursor


def test_size_or_bore_of_a_run(canvas: Elevation) -> None:
    layout = canvas.kept.layout
    wider = set_size(layout, "riser", " 60 mm ", System.US)
    assert (wider.runs["riser"].size, wider.runs["riser"].bore.text) == (None, "60 mm")
    assert set_size(wider, "riser", "2.5", System.US).runs["riser"].bore.si == pytest.approx(0.0635)
    assert set_size(layout, "riser", "NPS 2 schedule 40", System.US) is layout
    tube = replace(layout, runs={"riser": replace(layout.runs["riser"], size="tube 60 x 4 mm")})
    with pytest.raises(EditError, match="choose one"):
        set_size(tube, "riser", "50 mm", System.SI)
    with pytest.raises(EditError, match="NPS 1-1/2 schedule 40"):
        set_size(tube, "riser", "1-1/2 in", System.SI)
    assert set_size(tube, "riser", "2-inch pipe", System.SI).runs["riser"].size == "NPS 2 schedule 40"
    for text in ("NPS 77 schedule 40", "-3 mm", "0 mm", "wide"):
        with pytest.raises(EditError):
            set_size(layout, "riser", text, System.SI)
    assert edits.read_typed("3", Kind.LENGTH, System.SI).text == "3 m"


def test_a_slope_is_typed_where_it_is_marked(bent_canvas: Elevation, qtbot: QtBot) -> None:
    canvas, document = bent_canvas, bent_canvas.kept
    document.apply("bend", reshape.add_bend(document.layout, "riser", 1, 1.1, 0.96))
    canvas.grab()
    label = next(each for each in canvas.picture.labels if each.text.startswith("rises"))
    at = QPointF(label.box.x + 4, label.box.y + 4).toPoint()
    qtbot.mouseDClick(canvas, LEFT, pos=at)
    canvas.field.selectAll()
    qtbot.keyClicks(canvas.field, "level")
    qtbot.keyClick(canvas.field, Qt.Key.Key_Return)
    assert "1:48" in canvas.field.accessibleDescription()
    canvas.field.selectAll()
    qtbot.keyClicks(canvas.field, "1:50")
    qtbot.keyClick(canvas.field, Qt.Key.Key_Return)
    corner = document.layout.runs["riser"].via[1]
    assert corner[1].si == pytest.approx(1.0 - 0.5 / 50, abs=1e-4)
    assert document.undo_stack.undoText() == "Slope of riser to 1:50"
    assert dimensions.slope_of("2") == dimensions.slope_of("2 %") == pytest.approx(0.02)
    assert dimensions.slope_of("45°") == pytest.approx(1.0)
    for text in ("0", "1:0", "90 deg", "x"):
        with pytest.raises(EditError):
            dimensions.slope_of(text)
