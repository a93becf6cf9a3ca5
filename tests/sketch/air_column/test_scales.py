"""The two scales: round figures, from a perfect vacuum and from the air here."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from sketch.air_column import scales
from sketch.air_column.painting import paint_column
from sketch.drawing.pencil import Pencil
from sketch.look.colours import LIGHT
from solver.quantities.units import System
from tests.sketch.air_column.columns import case

pytestmark = pytest.mark.usefixtures("qapp")


def written(monkeypatch: pytest.MonkeyPatch, name: str, system: System) -> list[tuple[float, float, str]]:
    """Every text of the scales, with its place."""
    texts: list[tuple[float, float, str]] = []
    paint, scaling = scales.paint_scales, []

    def text(self: Pencil, x: float, y: float, words: str, *more: object, **keys: object) -> None:
        if scaling:
            texts.append((x, y, words))

    def watched(column: object) -> None:
        scaling.append(column)
        paint(column)  # type: ignore[arg-type]
        scaling.clear()

    monkeypatch.setattr(Pencil, "text", text)
    monkeypatch.setattr("sketch.air_column.painting.paint_scales", watched)
    image = QImage(320, 600, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    paint_column(painter, QRectF(0, 0, 320, 600), case(name), "press", LIGHT, system)
    painter.end()
    return texts


def figures(texts: list[tuple[float, float, str]], heading: str) -> list[tuple[float, float]]:
    """The figures under a heading, with their heights, from the top down."""
    (edge,) = (x for x, _, words in texts if words == heading)
    shown = [
        (y, float(words)) for x, y, words in texts if re.fullmatch(r"[\d.]+", words) and 0 <= edge - x < 20
    ]
    return sorted(shown)


@pytest.mark.parametrize("system", list(System))
def test_one_scale_counts_up_from_nothing_and_the_other_down_from_the_air(
    monkeypatch: pytest.MonkeyPatch, system: System
) -> None:
    texts = written(monkeypatch, "within", system)
    absolute = [value for _, value in figures(texts, "abs.")]
    vacuum = [value for _, value in figures(texts, "vac.")]
    assert len(absolute) >= 3
    assert len(vacuum) >= 3
    assert absolute == sorted(absolute, reverse=True)
    assert absolute[-1] == 0.0
    assert vacuum == sorted(vacuum)
    assert vacuum[0] == 0.0


@pytest.mark.parametrize("heading", ["abs.", "vac."])
def test_figures_are_multiples_of_one_round_step_and_can_be_read(
    monkeypatch: pytest.MonkeyPatch, heading: str
) -> None:
    shown = figures(written(monkeypatch, "within", System.SI), heading)
    step = min(abs(b - a) for (_, a), (_, b) in pairwise(shown))
    assert f"{step:e}"[0] in "125"
    assert all(value / step == pytest.approx(round(value / step)) for _, value in shown)
    assert all(below - above > 11.0 for (above, _), (below, _) in pairwise(shown))
