"""Before and after stand as they come out larger, at one scale and under verdicts of one size."""

from __future__ import annotations

import pytest

from sketch.air_column.verdict import outlook_height
from sketch.drawing.labels import Box
from sketch.drawing.painting import pump_circle
from sketch.drawing.pencil import BODY, LARGE, Ruler
from sketch.page.options import option_of
from sketch.page.sheet import _sheet
from sketch.page.sheet_frame import Sheet
from sketch.page.sheet_halves import BETWEEN, HEAD, Halves, _beside, _head, drawn_closer, set_halves
from sketch.page.sheet_parts import SheetWish
from solver.layout import file
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.drawings import RISER
from tests.sketch.sheets import options_of

pytestmark = pytest.mark.usefixtures("qapp")

WIDER = '\n[alternatives.wider]\nruns.riser.bore = "66 mm"\n'


def _of(text: str) -> Sheet:
    read = file.parse(text, "riser")
    named = (("", read.base), *((name, each.layout) for name, each in read.alternatives.items()))
    options = [option_of(name, "", layout, Level.MINIMUM, System.SI) for name, layout in named]
    return _sheet(options, SheetWish(), Level.MINIMUM, System.SI)


def _stand_above(placed: Halves) -> bool:
    first, second = placed.halves
    return second.drawn.y >= first.drawn.bottom and second.drawn.x == first.drawn.x


@pytest.mark.thorough
def test_a_long_line_stands_above_the_other_and_a_high_one_beside_it() -> None:
    ruler, area = Ruler(), Box(0.0, 0.0, 700.0, 620.0)
    long = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI)
    placed = set_halves(ruler, long, area)
    assert _stand_above(placed)
    assert placed.view.scale > _beside(ruler, long, area).view.scale
    assert not _stand_above(set_halves(ruler, _of(f"{RISER}{WIDER}"), area))


def test_nothing_of_the_halves_lies_over_anything_else_or_outside() -> None:
    long = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI)
    for wide, high in ((700.0, 620.0), (1000.0, 900.0), (1000.0, 400.0)):
        area = Box(10.0, 20.0, wide, high)
        placed = set_halves(Ruler(), long, area)
        boxes = [box for half in placed.halves for box in (half.head, half.drawn, half.strip)]
        for number, box in enumerate(boxes):
            assert area.x <= box.x < box.right <= area.right + 1e-6
            assert area.y <= box.y < box.bottom <= area.bottom + 1e-6
            assert not any(box.overlaps(other) for other in boxes[number + 1 :])


def test_both_verdicts_are_of_one_size_where_one_alone_is_too_long() -> None:
    sheet, ruler = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI), Ruler()
    uneven = 0
    for width in range(60, 400, 5):
        fits = [outlook_height(ruler, width, sheet.outlook(each)) <= HEAD for each in sheet.panels]
        assert _head(ruler, sheet, width)[1] == (LARGE if all(fits) else BODY)
        uneven += len(set(fits)) > 1
    assert uneven


def test_words_stand_left_of_a_high_drawing_where_it_is_larger_so() -> None:
    """On a page that lies across, half of it is wide and low."""
    ruler, area = Ruler(), Box(0.0, 0.0, 1050.0, 340.0)
    sheet = _of(f"{RISER}{WIDER}")
    placed = set_halves(ruler, sheet, area)
    assert placed.view.scale > _beside(ruler, sheet, area).view.scale
    for half in placed.halves:
        assert half.head.right <= half.drawn.x
        assert half.drawn.height == area.height
        assert half.head.bottom <= half.strip.y
    assert placed.halves[0].drawn.right < placed.halves[1].head.x


def test_a_verdict_is_as_large_as_it_can_be_at_a_scale() -> None:
    long, ruler = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.SI), Ruler()
    for high in range(300, 480, 20):
        area = Box(0.0, 0.0, 1050.0, float(high))
        placed = set_halves(ruler, long, area)
        others = [_beside(ruler, long, area, size) for size in (LARGE, BETWEEN)]
        larger = [each for each in others if each.size > placed.size]
        assert all(placed.view.scale > each.view.scale for each in larger)


def test_both_are_drawn_closer_where_all_labels_have_room_still() -> None:
    ruler, sheet = Ruler(), _of(f"{RISER}{WIDER}")
    placed = [set_halves(ruler, sheet, Box(0.0, 0.0, 700.0, 500.0 + 40.0 * at)) for at in range(4)]
    closer = [drawn_closer(ruler, sheet, each) for each in placed]
    scales = [(after.view.scale, before.view.scale) for after, before in zip(closer, placed, strict=True)]
    assert all(after >= before for after, before in scales)
    assert any(after > before for after, before in scales)
    assert all(after.halves == before.halves for after, before in zip(closer, placed, strict=True))


def test_pumps_of_both_are_whole() -> None:
    """Also one that only the second drawing has where both end."""
    ruler, wash = Ruler(), options_of("wash-water-npsh")
    sheet = _sheet([wash[0], wash[2]], SheetWish(), Level.MINIMUM, System.SI)
    for wide in (900.0, 980.0, 1050.0):
        placed = drawn_closer(ruler, sheet, set_halves(ruler, sheet, Box(0.0, 0.0, wide, 340.0)))
        for half, panel in zip(placed.halves, sheet.panels, strict=True):
            x, y, radius = pump_circle(panel.solution.layout, "wash", placed.view)
            assert radius <= x <= half.drawn.width - radius
            assert radius <= y <= half.drawn.height - radius
