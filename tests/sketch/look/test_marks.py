"""Marks are told apart by their shape, not by colour alone."""

from __future__ import annotations

from itertools import combinations

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter

from sketch.look.colours import DARK, LIGHT, Theme, share_colour
from sketch.look.marks import severity_colour, severity_mark, share_chip
from solver.findings.kinds import Grade, Severity

pytestmark = pytest.mark.usefixtures("qapp")
BOX = QRectF(2, 2, 28, 28)
MARKS = (Severity.STOP, Severity.CAUTION, Severity.NOTE, Grade.GOOD)


def painted(paint: object, theme: Theme = LIGHT) -> QImage:
    image = QImage(32, 32, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    paint(painter, theme)  # type: ignore[operator]
    painter.end()
    return image


def inked(image: QImage) -> set[tuple[int, int]]:
    """Where a picture has ink, whatever its colour."""
    return {(x, y) for x in range(32) for y in range(32) if image.pixelColor(x, y).alpha() > 128}


def mark(severity: Severity | Grade, theme: Theme = LIGHT) -> QImage:
    return painted(lambda painter, theme: severity_mark(painter, BOX, severity, theme), theme)


def test_every_mark_has_a_shape_of_its_own() -> None:
    shapes = [inked(mark(severity)) for severity in MARKS]
    assert all(shapes)
    for one, other in combinations(shapes, 2):
        assert len(one ^ other) > 15


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_a_mark_is_in_the_colour_of_its_severity_and_stays_in_its_box(theme: Theme) -> None:
    assert severity_colour(Severity.STOP, theme) == theme.stop
    assert severity_colour(Severity.NOTE, theme) == theme.level
    for severity in MARKS:
        image = mark(severity, theme)
        x, y = max(inked(image), key=lambda at: image.pixelColor(*at).alpha())
        assert image.pixelColor(x, y).rgb() == severity_colour(severity, theme).rgb()
        assert all(1 <= x <= 30 and 1 <= y <= 30 for x, y in inked(image))


def chip(share: float, past: bool) -> QImage:
    return painted(lambda painter, theme: share_chip(painter, BOX, share, past, theme))


def test_a_credit_is_hatched_and_what_lies_past_the_floor_is_crossed() -> None:
    plain = chip(0.1, False)
    assert plain.pixelColor(16, 16) == share_colour(0.1, LIGHT)
    inside = [(x, y) for x in range(4, 28) for y in range(4, 28)]

    def lines(image: QImage, share: float) -> int:
        return sum(image.pixelColor(x, y) != share_colour(share, LIGHT) for x, y in inside)

    assert lines(plain, 0.1) == 0
    assert lines(chip(-0.1, False), -0.1) > 30
    assert lines(chip(0.1, True), 0.1) > 1.4 * lines(chip(-0.1, False), -0.1)
