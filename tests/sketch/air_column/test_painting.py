"""The column as it is painted."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QColor

from sketch.air_column.column import ColumnDrawn
from sketch.look.colours import DARK, LIGHT, Theme
from sketch.model.doubt import MarginBand
from solver.quantities.units import System
from tests.sketch import samples
from tests.sketch.air_column.columns import HEIGHT, WIDTH, case, middle, near, paint

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_slices_lie_end_to_end_in_walking_order() -> None:
    drawn, _ = paint(case("within"))
    assert [key for key, _ in drawn.slices] == list(samples.SHARES)
    assert all(above.bottom == pytest.approx(below.y) for (_, above), (_, below) in pairwise(drawn.slices))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_a_slice_has_the_colour_its_element_has_in_the_drawing(theme: Theme) -> None:
    drawn, image = paint(case("within"), theme=theme)
    box = dict(drawn.slices)["riser/straight 1"]
    assert near(image.pixelColor(*middle(box)), theme.classes[6])


def test_the_slice_past_the_floor_is_cross_hatched() -> None:
    def plain(name: str, key: str, colour: QColor) -> float:
        drawn, image = paint(case(name))
        box = dict(drawn.slices)[key]
        points = [
            (x, y)
            for x in range(round(box.x) + 3, round(box.right) - 3)
            for y in range(round(box.y) + 2, round(box.bottom) - 2)
        ]
        return sum(near(image.pixelColor(x, y), colour) for x, y in points) / len(points)

    assert plain("within", "lead/straight 1", LIGHT.classes[3]) > 0.95
    assert plain("over", "lead/straight 1", LIGHT.classes[3]) < 0.75


def test_what_is_pointed_at_is_outlined_and_named_in_bold() -> None:
    drawn, image = paint(case("within"), "riser/straight 1")
    box = dict(drawn.slices)["riser/straight 1"]
    assert near(image.pixelColor(round(box.x) - 3, round(box.y + box.height / 2)), LIGHT.halo)


def test_refused_it_is_grey_and_says_why() -> None:
    drawn, image = paint(None, refusal=(("riser", "ends in the air at 2.0 m, 1.4 m"),))
    assert drawn == ColumnDrawn(())
    assert drawn.empty
    assert drawn.slices == ()
    coloured = [
        image.pixelColor(x, y) for x in range(0, WIDTH, 3) for y in range(0, HEIGHT, 3)
        if image.pixelColor(x, y).hslSaturationF() > 0.35 and image.pixelColor(x, y).lightness() < 240
    ]  # fmt: skip
    assert not coloured
    blank, without = paint(None)
    assert blank == drawn
    assert image != without


def test_thin_slices_keep_their_colour() -> None:
    """Edges drawn round each of them would leave nothing else to see."""
    share = 0.4 / 60
    thin = samples.ledger({f"riser/straight {k}": share for k in range(60)})
    drawn, image = paint(samples.solution(made_ledger=thin))
    first, last = drawn.slices[0][1], drawn.slices[-1][1]
    x = round(first.x + first.width / 2)
    column = [image.pixelColor(x, y) for y in range(round(first.y) + 2, round(last.bottom) - 2)]
    assert len(column) > 100
    assert sum(near(colour, LIGHT.classes[1]) for colour in column) > 0.9 * len(column)


def test_how_sure_the_margin_is_stands_beside_the_column_where_the_port_s_pressure_lies() -> None:
    solution = case("within")
    ledger = solution.pumps["press"]
    band = MarginBand(0.3 * ledger.margin, 1.5 * ledger.margin)
    plain, image = paint(solution)
    drawn, other = paint(solution, band=band)
    assert image != other
    (label,) = (each for each in drawn.labels if each.text.startswith("trials: "))
    assert label.text == f"trials: {band.in_short(System.US)}"
    assert not any(each.text.startswith("trials") for each in plain.labels)
    column = drawn.slices[0][1]
    inside = QRect(round(column.x) + 4, 0, round(column.width) - 8, image.height())
    assert image.copy(inside) == other.copy(inside), "a line across it would be read as a pressure"
