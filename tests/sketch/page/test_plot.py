"""A plot on paper has round figures at its axes, and puts a value where it belongs."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from sketch.drawing.labels import Box
from sketch.drawing.recorder import Recorder, _text
from sketch.look.colours import LIGHT
from sketch.page.plot import Plot, paint_axes, ticks


@given(st.floats(-500, 500), st.floats(0.01, 2000), st.integers(2, 9))
def test_ticks_are_round_in_order_and_not_too_many(low: float, width: float, most: int) -> None:
    marks = ticks(low, low + width, most)
    assert len(marks) <= most + 1
    assert all(low - 1e-6 * width <= value <= low + width * (1 + 1e-6) for value in marks)
    steps = {round((after - before) / width, 6) for before, after in pairwise(marks)}
    assert len(steps) <= 1


def test_the_edges_of_a_plot_are_its_least_and_its_most() -> None:
    plot = Plot(Box(100.0, 50.0, 400.0, 200.0), -10.0, 30.0, 5.0, 25.0)
    assert plot.at(-10.0, 5.0) == pytest.approx((100.0, 250.0))
    assert plot.at(30.0, 25.0) == pytest.approx((500.0, 50.0))
    assert plot.at(10.0, 15.0) == pytest.approx((300.0, 150.0))


def test_room_under_the_least_value_has_no_figures(qapp: QApplication) -> None:
    plot = Plot(Box(100.0, 50.0, 400.0, 200.0), 0.0, 5.0, -12.0, 32.0)
    for least, figures in (
        (-100.0, {"\N{MINUS SIGN}10", "0", "10", "20", "30"}),
        (0.0, {"0", "10", "20", "30"}),
    ):
        recorder = Recorder()
        paint_axes(recorder, LIGHT, plot, "along", least=least)
        texts = {stroke.how[2] for stroke in recorder.strokes if stroke.draw is _text}
        upright = texts - {"along", *map(str, range(1, 6))}
        assert upright == figures
