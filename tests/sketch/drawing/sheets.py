"""Sheets to look at."""

from __future__ import annotations

from PySide6.QtGui import QColor, QImage, QPainter

from sketch.drawing.painting import Drawn, Label, View, fit, paint_elevation
from sketch.look.colours import LIGHT, Theme
from solver.layout.parts import Layout
from solver.ledger.solve import Solution
from solver.quantities.units import System

SIZE = (1000.0, 640.0)


def paint(
    layout: Layout,
    solution: Solution | None,
    theme: Theme = LIGHT,
    view: View | None = None,
    pump: str = "press",
    system: System = System.SI,
    **how: object,
) -> tuple[Drawn, QImage, View]:
    image = QImage(int(SIZE[0]), int(SIZE[1]), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    seen = view or fit(layout, *SIZE)
    drawn = paint_elevation(painter, layout, solution, seen, SIZE, theme, system, pump=pump, **how)  # type: ignore[arg-type]
    painter.end()
    return drawn, image, seen


def label(drawn: Drawn, key: str, kind: str = "share") -> Label:
    (only,) = [each for each in drawn.labels if each.key == key and each.kind == kind]
    return only


def near(one: QColor, other: QColor, by: int = 2) -> bool:
    return all(abs(a - b) <= by for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True))


def pixel(image: QImage, x: float, y: float) -> QColor:
    return image.pixelColor(round(x), round(y))
