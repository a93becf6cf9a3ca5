"""A drawing in the size of a stamp: all of it, in the colours of its shares."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.thumbnail import paint_thumbnail
from sketch.look.colours import DARK, LIGHT, Theme
from solver.layout import file
from solver.ledger.solve import solve
from tests.drawings import SHIPPED
from tests.sketch.pixels import places_apart

SIZE = (112, 66)
AROUND = 40  # of paper on every side, to see what is painted beyond the stamp


def stamp(path: Path, theme: Theme, *, solved: bool = True) -> QImage:
    layout = file.read(path).base
    image = QImage(SIZE[0] + 2 * AROUND, SIZE[1] + 2 * AROUND, QImage.Format.Format_RGB32)
    image.fill(theme.paper)
    painter = QPainter(image)
    painter.translate(AROUND, AROUND)
    paint_thumbnail(painter, layout, solve(layout) if solved else None, SIZE, theme)
    painter.end()
    return image


def painted(image: QImage, theme: Theme) -> set[tuple[int, int]]:
    return places_apart(image, theme.paper)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_all_of_an_example_stands_on_its_stamp(path: Path) -> None:
    places = painted(stamp(path, LIGHT), LIGHT)
    xs, ys = [x - AROUND for x, _ in places], [y - AROUND for _, y in places]
    assert min(xs) >= -3
    assert max(xs) <= SIZE[0] + 3
    assert max(ys) - min(ys) <= SIZE[1] + 6
    assert max(xs) - min(xs) > 0.6 * SIZE[0] or max(ys) - min(ys) > 0.6 * SIZE[1]


def test_shares_are_coloured_and_a_drawing_without_a_solution_claims_none() -> None:
    (carriage,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
    for theme in (LIGHT, DARK):
        hues = {each.rgb() for each in theme.classes}
        solved, plain = (stamp(carriage, theme, solved=each) for each in (True, False))
        assert len({solved.pixel(x, y) for x, y in painted(solved, theme)} & hues) >= 2
        assert not {plain.pixel(x, y) for x, y in painted(plain, theme)} & hues
