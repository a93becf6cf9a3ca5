"""Pins on the elevation: each is drawn, in the colour of its kind, and none over another label."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import Pencil
from sketch.drawing.pins import write
from sketch.drawing.placer import Placer
from sketch.look.colours import DARK, LIGHT, Theme
from sketch.model.pins import Pin, PinKind
from sketch.views.priming_html import pins
from solver.field.air import air
from solver.field.priming import priming
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import SHIPPED
from tests.sketch.sheets import solution

SIZE = (900.0, 420.0)


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_pins_find_room_beside_their_places(theme: Theme) -> None:
    solved = solution("over-the-bund-wall")
    view = fit(solved.layout, *SIZE)
    shown = (
        Pin(3.1, 0.5, "1"),
        Pin(3.1, 0.5, "2"),
        Pin(3.8, 0.5, "4.1 kPa", PinKind.OVER),
        Pin(1.9, 1.9, "up to 19.9 L of air", PinKind.POCKET),
    )
    image = QImage(round(SIZE[0]), round(SIZE[1]), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawn = paint_elevation(
        painter, solved.layout, solved, view, SIZE, theme, System.SI, pump="transfer", marks=shown
    )
    painter.end()
    written = [label for label in drawn.labels if label.kind == "pin"]
    assert [label.text for label in written] == [pin.text for pin in shown]
    boxes = [label.box for label in drawn.labels if label.kind != "legend"]
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))
    for pin, label in zip(shown, written, strict=True):
        x, y = view.device(pin.x, pin.z)
        near = label.box.nearest(x, y)
        assert max(abs(near[0] - x), abs(near[1] - y)) < 120
    x, y = view.device(3.8, 0.5)
    assert image.pixelColor(round(x), round(y)) == theme.stop


@pytest.mark.usefixtures("qapp")
def test_no_pin_touches_the_edge_of_the_sheet() -> None:
    """The port stands so high that the nearest place for its text is flush with the upper edge."""
    solved = solution("over-the-bund-wall")
    image = QImage(round(SIZE[0]), round(SIZE[1]), QImage.Format.Format_RGB32)
    for y0 in range(40, 80, 2):
        view = replace(fit(solved.layout, *SIZE), y0=float(y0))
        painter = QPainter(image)
        pencil, placer = Pencil(painter, 1.0), Placer(*SIZE)
        (label,) = write(pencil, [Pin(2.0, 0.0, "read 17.7 kPa", PinKind.GAUGE)], view, placer, LIGHT)
        painter.end()
        assert label.box.y >= 4.0


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("pump", ["main", "pilot"])
def test_the_number_of_a_joint_is_written_however_crowded_the_drawing(pump: str) -> None:
    """On the sheet's plan for a first start a bare ring stood at one of two joints."""
    drawing = next(file.read(path) for path in SHIPPED if path.stem == "header-two-pumps")
    solved = solve(drawing.alternatives["Three-inch header"].layout, Level.MINIMUM)
    shown = pins(priming(solved, pump, System.US), air(solved, pump), System.US)
    for size in ((516.0, 200.0), (280.0, 130.0)):
        image = QImage(round(size[0]), round(size[1]), QImage.Format.Format_RGB32)
        painter = QPainter(image)
        drawn = paint_elevation(
            painter, solved.layout, solved, fit(solved.layout, *size), size, LIGHT, System.US,
            pump=pump, marks=shown, legend=False, on_paper=True,
        )  # fmt: skip
        painter.end()
        assert [label.text for label in drawn.labels if label.kind == "pin"] == [pin.text for pin in shown]


@pytest.mark.usefixtures("qapp")
def test_the_numbers_of_joints_that_nearly_meet_are_not_over_one_another() -> None:
    """At both ends of a short connector, where the drawing has no room for either."""
    solved = solution("baler-flooded")
    image = QImage(round(SIZE[0]), round(SIZE[1]), QImage.Format.Format_RGB32)
    painter, placer = QPainter(image), Placer(*SIZE)
    placer.block_text(Box(0.0, 0.0, *SIZE))
    shown = [Pin(1.7, 0.3, "2", PinKind.JOINT), Pin(1.71, 0.3, "3", PinKind.JOINT)]
    written = write(Pencil(painter, 1.0), shown, fit(solved.layout, *SIZE), placer, LIGHT)
    painter.end()
    assert [label.text for label in written] == ["2", "3"]
    assert not written[0].box.overlaps(written[1].box)
