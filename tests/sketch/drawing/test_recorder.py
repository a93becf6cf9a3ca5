"""What a recorder lists, drawn later, gives the picture that a pencil draws at once."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import pytest
from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap

from sketch.drawing.kept_picture import draw
from sketch.drawing.labels import Box
from sketch.drawing.memory import SORTED_EVERY
from sketch.drawing.pencil import DASH, Pencil, lines_of, polygon_of
from sketch.drawing.recorder import BATCH, Recorder, Stroke
from sketch.look.colours import LIGHT

SHEET = Box(0.0, 0.0, 300.0, 200.0)
Sketched = Callable[[Pencil], None]


def everything(pencil: Pencil) -> None:
    """Each kind of stroke once, with edges between pixels."""
    pencil.fill(LIGHT.paper)
    pencil.rules([QRectF(0, 50, 300, 1), QRectF(70, 0, 1, 200)], LIGHT.grid)
    pencil.lines(
        [((10.3, 10.2 + k * 4.4), (90.7, 12.9 + k * 4.4)) for k in range(2 * BATCH + 3)], LIGHT.ink, 3
    )
    pencil.lines([((5.5, 190.5), (290.5, 170.5))], LIGHT.level, 1.5, DASH)
    pencil.segments(lines_of([((100.5, 20.0), (140.0, 60.5))]), LIGHT.limit, 2.0)
    pencil.polylines(
        [((150.0, 10.0), (170.2, 40.4), (190.0, 12.0)), ((150.0, 50.0), (190.0, 50.0))], LIGHT.ink, 5
    )
    pencil.pen(LIGHT.stop, 2.0)
    pencil.polyline(((200.0, 20.0), (210.0, 40.0), (220.0, 20.0)))
    pencil.polygon(((230.3, 20.2), (250.1, 60.4), (215.5, 58.8)), LIGHT.fluid, LIGHT.casing, 2.5)
    pencil.shapes(
        [polygon_of(((110.0, 80.0), (140.0, 90.0), (120.0, 120.0)))], LIGHT.classes[3], LIGHT.ink, 1.4
    )
    pencil.circle(180.4, 100.6, 21.0, LIGHT.paper, LIGHT.ink, 1.6)
    pencil.box(Box(220.2, 90.7, 40.5, 20.1), LIGHT.classes[2], LIGHT.casing, 1.0, radius=3.0)
    pencil.text(110.0, 150.0, "strainer, 12 %", LIGHT.ink, bold=True, align=0.5)
    pencil.repeated("again", (), lambda each: each.circle(40.0, 170.0, 9.0, None, LIGHT.accent, 2.0))


def drawn(paint: Callable[[QPainter], None]) -> QImage:
    image = QImage(300, 200, QImage.Format.Format_RGB32)
    image.fill(QColor(0, 0, 0, 255))
    painter = QPainter(image)
    paint(painter)
    painter.end()
    return image


@pytest.mark.usefixtures("qapp")
def test_strokes_drawn_later_give_the_picture_of_a_pencil() -> None:
    recorder = Recorder(1.0, SHEET)
    everything(recorder)
    at_once = drawn(lambda painter: everything(Pencil(painter, 1.0, SHEET)))
    assert drawn(lambda painter: draw(painter, recorder, recorder.strokes)) == at_once


@pytest.mark.usefixtures("qapp")
def test_no_stroke_touches_more_than_its_rectangle() -> None:
    recorder = Recorder(1.0, SHEET)
    everything(recorder)
    nothing = drawn(lambda painter: None)
    for stroke in recorder.strokes:
        left, top = math.floor(stroke.left), math.floor(stroke.top)
        area = QRect(left, top, math.ceil(stroke.right) - left, math.ceil(stroke.bottom) - top)

        def paint(
            painter: QPainter, stroke: Stroke = stroke, area: QRect = area, erased: bool = True
        ) -> None:
            draw(painter, recorder, [stroke])
            if erased:
                painter.fillRect(area, QColor(0, 0, 0, 255))

        assert drawn(paint) == nothing
        assert drawn(partial(paint, erased=False)) != nothing


@pytest.mark.usefixtures("qapp")
def test_what_is_known_by_its_key_is_listed_again_without_asking() -> None:
    asked = []

    def ring(pencil: Pencil) -> None:
        asked.append(pencil)
        pencil.circle(40.0, 170.0, 9.0, None, LIGHT.accent, 2.0)

    first = Recorder(1.0, SHEET)
    first.repeated("ring", (), ring)
    second = Recorder(1.0, SHEET, first)
    second.repeated("ring", (), ring)
    second.repeated("ring", (), ring)
    assert second.strokes == [*first.strokes, *first.strokes]
    assert len(asked) == 1
    later = second
    for _ in range(2 * SORTED_EVERY):
        later = Recorder(1.0, SHEET, later)
    later.repeated("ring", (), ring)
    assert len(asked) == 2, "kept for no longer than some pictures that have none of it"


@pytest.mark.usefixtures("qapp")
def test_of_a_list_of_things_only_those_are_drawn_that_differ_from_the_last_one() -> None:
    asked = []

    def ring(pencil: Pencil, x: float, radius: float) -> float:
        asked.append(x)
        pencil.circle(x, 170.0, radius, None, LIGHT.accent, 2.0)
        return x + radius

    places = [(40.0, 9.0), (80.0, 9.0), (120.0, 9.0)]
    first = Recorder(1.0, SHEET)
    assert first.repeated_each("rings", "", places, ring) == [49.0, 89.0, 129.0]
    asked.clear()
    second, moved = Recorder(1.0, SHEET, first), [places[0], (81.0, 9.0), places[2]]
    assert second.repeated_each("rings", "", moved, ring) == [49.0, 90.0, 129.0]
    assert asked == [81.0]
    afresh = Recorder(1.0, SHEET)
    assert afresh.repeated_each("rings", "", moved, ring) == [49.0, 90.0, 129.0]
    assert second.strokes == afresh.strokes


@pytest.mark.usefixtures("qapp")
def test_a_picture_covers_the_sheet() -> None:
    recorder = Recorder(1.0, SHEET)
    pixmap = QPixmap(300, 200)
    pixmap.fill(LIGHT.accent)
    recorder.pixmap(pixmap)
    (stroke,) = recorder.strokes
    assert stroke.box == SHEET
    assert drawn(lambda painter: draw(painter, recorder, [stroke])).pixelColor(150, 100) == LIGHT.accent
