"""Type: measured at a scale, broken at spaces, shortened with an ellipsis."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QFont

from sketch.drawing.pencil import BODY, Ruler, font
from solver.quantities.units import Kind, System, typeset

pytestmark = pytest.mark.usefixtures("qapp")

LOREM = "Lift is charged above the fluid level only because the fluid outside balances the fluid inside"
quiet = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


@quiet
@given(st.floats(60, 900))
def test_wrapped_text_loses_no_word_and_keeps_its_width(width: float) -> None:
    ruler = Ruler()
    lines = ruler.wrap(LOREM, width)
    assert " ".join(lines) == LOREM
    assert all(ruler.width(line) <= width or " " not in line for line in lines)


@quiet
@given(st.floats(20, 900))
def test_shortened_text_fits(width: float) -> None:
    ruler = Ruler()
    text = ruler.elide(LOREM, width)
    assert ruler.width(text) <= width or text == "…"
    assert text == LOREM or text.endswith("…")


def test_twice_the_dots_twice_the_width() -> None:
    assert Ruler(8.0).width(LOREM) == pytest.approx(8 * Ruler(1.0).width(LOREM), rel=0.03)


def test_type_has_no_ligatures_and_figures_of_one_width() -> None:
    face = font(BODY, 1.0)
    assert face.featureValue(QFont.Tag("liga")) == 0
    assert face.featureValue(QFont.Tag("tnum")) == 1
    assert len({Ruler().width(figure) for figure in "0123456789"}) == 1


def test_a_negative_figure_has_a_minus_sign() -> None:
    assert typeset(-1.4, Kind.LENGTH, System.SI) == "−1.40 m"
