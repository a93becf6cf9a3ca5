"""Columns to look at: ledgers within and over their budget, painted on a picture."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from sketch.air_column.column import ColumnDrawn, paint_column
from sketch.drawing.labels import Box
from sketch.look.colours import LIGHT, Theme
from solver.ledger.solve import Solution
from solver.quantities.units import System
from tests.sketch import samples

WIDTH, HEIGHT = 320, 600


CASES = {
    "within": samples.ledger(samples.SHARES),
    "over": samples.ledger({key: share * 1.7 for key, share in samples.SHARES.items()}),
    "far over": samples.ledger({key: share * 4 for key, share in samples.SHARES.items()}),
    "flooded": samples.ledger({"tank/flooded head": -0.4, **samples.SHARES}, surface=99_000.0),
    "no budget": samples.ledger(samples.SHARES, budget=-6_000.0),
    "high up": samples.ledger(samples.SHARES, budget=4_000.0, atmosphere=70_000.0),
    "breather": samples.ledger(samples.SHARES, surface=92_000.0),
}


def paint(
    solution: Solution | None, pointed: str = "", theme: Theme = LIGHT, height: int = HEIGHT, **how: object
) -> tuple[ColumnDrawn, QImage]:
    image = QImage(WIDTH, height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    area = QRectF(0, 0, WIDTH, height)
    drawn = paint_column(painter, area, solution, "press", theme, System.US, pointed, **how)  # type: ignore[arg-type]
    painter.end()
    return drawn, image


def case(name: str) -> Solution:
    return samples.solution(made_ledger=CASES[name])


def near(one: QColor, other: QColor) -> bool:
    return all(abs(a - b) <= 2 for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True))


def middle(box: Box) -> tuple[int, int]:
    return round(box.x + box.width * 0.7), round(box.y + box.height / 2)
