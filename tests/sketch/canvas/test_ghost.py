"""A change that is pointed at is painted over the drawing, and nothing where nothing differs."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from sketch.canvas.ghost import RING, paint_ghost
from sketch.drawing.labels import Box, Label, LabelKind
from sketch.drawing.view import View, fit
from sketch.look.colours import LIGHT
from solver.geometry import moving
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.sketch.pixels import places_apart
from tests.solver.fixes.test_fixes import LAYOUTS

BASE = LAYOUTS["carriage-at-altitude"]


def painted(changed: Layout, labels: tuple[Label, ...] = ()) -> tuple[QImage, View]:
    image, view = QImage(600, 400, QImage.Format.Format_RGB32), fit(BASE, 600, 400)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    paint_ghost(painter, view, BASE, changed, LIGHT, labels)
    painter.end()
    return image, view


def marked(image: QImage) -> set[tuple[int, int]]:
    return places_apart(image, QColor(Qt.GlobalColor.white))


def test_the_same_drawing_has_no_ghost(qtbot: QtBot) -> None:
    assert marked(painted(BASE)[0]) == set()


def test_a_pump_that_is_lower_is_ringed_where_it_would_stand_and_its_line_drawn(qtbot: QtBot) -> None:
    pump = BASE.pumps["carriage"]
    changed = moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.2)
    image, view = painted(changed)
    x, y = view.device(*(each.si for each in changed.pumps["carriage"].at))
    assert any(abs(px - x) < 14 and abs(py - y) < 14 for px, py in marked(image))
    old_x, old_y = view.device(pump.at[0].si, pump.at[1].si)
    faded = image.pixelColor(round(old_x) + 6, round(old_y) - 6)
    assert faded.lightnessF() > 0.9, "where it is now the paper covers it"


def test_what_is_new_or_stands_elsewhere_has_its_name_under_its_ring(qtbot: QtBot) -> None:
    pump = BASE.pumps["carriage"]
    lower = moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.2)
    image, view = painted(lower)
    x, y = view.device(*(each.si for each in lower.pumps["carriage"].at))
    under = {(px, py) for px, py in marked(image) if y + RING + 3 < py < y + RING + 20 and abs(px - x) < 30}
    assert len({px for px, _ in under}) > 20, "a word, not a ring"
    wider = replace(BASE, pumps={"carriage": replace(pump, size="NPS 3 schedule 40")})
    image, view = painted(wider)
    x, y = view.device(*(each.si for each in pump.at))
    assert not [py for _, py in marked(image) if py > y + RING + 3], "it is where it was, and named there"


def test_a_higher_level_is_a_dashed_line_at_that_height(qtbot: QtBot) -> None:
    tank = BASE.reservoirs["tank"]
    level = tank.minimum_level.si + 0.1
    raised = replace(tank, minimum_level=quantity(f"{level} m", Kind.LENGTH))
    image, view = painted(replace(BASE, reservoirs={"tank": raised}))
    _, y = view.device(0.0, level)
    assert marked(image)
    assert all(abs(py - y) <= 2 for _, py in marked(image))


def test_of_two_names_that_would_lie_on_each_other_one_goes_over_its_ring(qtbot: QtBot) -> None:
    pump = BASE.pumps["carriage"]
    lower = moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.2)
    first = lower.pumps["carriage"]
    near = replace(first, at=(quantity(f"{first.at[0].si + 0.1} m", Kind.LENGTH), first.at[1]))
    image, view = painted(replace(lower, pumps={"carriage": first, "carriage the second": near}))
    x, y = view.device(*(each.si for each in near.at))
    over = {(px, py) for px, py in marked(image) if y - RING - 20 < py < y - RING - 3 and abs(px - x) < 50}
    assert len({px for px, _ in over}) > 40, "a word over the ring"


def test_the_labels_of_the_drawing_stay_legible(qtbot: QtBot) -> None:
    pump = BASE.pumps["carriage"]
    lower = moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.2)
    _, view = painted(lower)
    x, y = view.device(*(each.si for each in lower.pumps["carriage"].at))
    box = Box(x - 60.0, y + 2.0, 120.0, 34.0)
    image, _ = painted(lower, (Label("x", LabelKind.NAME, "x", box),))
    marks = marked(image)
    assert not any(box.grown(-1.0).holds(*each) for each in marks), "neither its lines nor its name lie there"
    assert len({px for px, py in marks if y - RING - 22 < py < y - RING - 3 and abs(px - x) < 30}) > 20


def test_a_screen_that_goes_is_faded_within_a_ring_round_its_symbol_and_named(qtbot: QtBot) -> None:
    strainer = BASE.intakes["strainer"]
    image, view = painted(replace(BASE, intakes={"strainer": replace(strainer, screen=None)}))
    x, y = view.device(*(each.si for each in strainer.at))
    marks = marked(image)
    ring = {(px, py) for px, py in marks if abs(py - y) < 1.5}
    assert max(px for px, _ in ring) - x > RING + 3, "outside the symbol, which is larger than a ring"
    assert len({px for px, py in marks if abs(py - y) > 20}) > 60, "words"
