"""Places, lengths and slopes while something is drawn: shown, and typed by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketch.canvas import figures
from sketch.canvas.elevation import Elevation
from sketch.editing.building import LINE
from sketch.editing.edits import EditError
from solver.quantities.units import System
from tests.sketch.canvas.mouse import LEFT, document_of, spot


def type_figure(canvas: Elevation, text: str) -> None:
    QTest.keyClick(canvas, text[0])
    QTest.keyClicks(canvas.field, text[1:])
    QTest.keyClick(canvas.field, Qt.Key.Key_Return)


def hover(canvas: Elevation, x: float, y: float) -> None:
    QTest.mouseMove(canvas, spot(canvas, x, y) + QPoint(1, 0))
    QTest.mouseMove(canvas, spot(canvas, x, y))
    QApplication.processEvents()


def test_a_line_is_drawn_by_lengths_and_places_typed_on_the_way(bent_canvas: Elevation) -> None:
    canvas, document = bent_canvas, document_of(bent_canvas)
    canvas.pick("wall nozzle")
    assert canvas.tool.takes_figures
    type_figure(canvas, "1.2; 12 cm")
    assert [each.text for each in document.layout.intakes["wall nozzle"].at] == ["1.2 m", "12 cm"]
    canvas.pick("pump")
    hover(canvas, 2.0, 0.5)
    assert canvas.readout()[0][0] == "x 2.00 m, height 0.500 m"
    type_figure(canvas, "2.5 m; 620 mm")
    canvas.pick(LINE)
    assert not canvas.tool.takes_figures, "a line begins at a part"
    QTest.mouseClick(canvas, LEFT, pos=spot(canvas, 1.2, 0.12))
    hover(canvas, 1.7, 0.12)
    assert [text for text, _ in canvas.readout()] == ["length 0.500 m"]
    type_figure(canvas, "0.7 m")
    hover(canvas, 1.9, 0.5)
    type_figure(canvas, "-3")
    assert "above zero" in canvas.field.accessibleDescription()
    QTest.keyClick(canvas.field, Qt.Key.Key_Escape)
    assert canvas.tool.via == ((pytest.approx(1.9), 0.12),)
    type_figure(canvas, "50 cm")
    type_figure(canvas, "2.5; 0.62")
    assert canvas.tool.picked == ""
    (run,) = (each for each in document.layout.runs.values() if each.end == "pump")
    assert run.start == "wall nozzle"
    assert [(x.text, y.text) for x, y in run.via] == [("1.9 m", "12 cm"), ("1.9 m", "62 cm")]
    assert document.layout.pumps["pump"].at[1].text == "620 mm"


def test_what_is_typed_is_a_length_or_a_place() -> None:
    assert figures.place_of("4 ft; 2 ft 6 in", System.SI, None)[0].text == "4 ft"
    for text in ("4 ft", "1; 2; 3", "x; 2"):
        with pytest.raises(EditError):
            figures.place_of(text, System.US, None)


@pytest.mark.parametrize(("system", "unit"), [(System.US, "ft"), (System.SI, "m")])
def test_the_example_of_a_place_is_in_the_units_shown_and_is_one(system: System, unit: str) -> None:
    with pytest.raises(EditError) as refused:
        figures.place_of("4", system, None)
    example = str(refused.value).partition("such as ")[2]
    x, _ = figures.place_of(example, system, None)
    assert x.text.endswith(f" {unit}")


def test_a_leg_is_said_by_its_length_and_slope() -> None:
    assert figures.leg_texts(((0.0, 0.0), (0.3, 0.4)), System.SI) == ["length 0.500 m", "rises 53°"]
    assert figures.leg_texts(((0.0, 0.0), (0.3, 0.0)), System.SI) == ["length 0.300 m"]
    assert figures.leg_texts((), System.SI) == []


def test_a_place_left_of_the_datum_and_below_it_has_a_minus_sign() -> None:
    assert figures.place_text(-0.5, -0.25, System.SI) == "x −0.500 m, height −0.250 m"
