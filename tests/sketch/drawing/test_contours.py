"""Lines of one height."""

import math

import numpy as np
import pytest

from sketch.drawing.contours import contour


def test_a_slope_has_a_straight_line_at_its_zero():
    xs, ys = np.linspace(0.0, 3.0, 7), np.linspace(0.0, 2.0, 5)
    heights = np.broadcast_to(1.3 - xs, (5, 7))
    segments = contour(xs, ys, heights)
    assert len(segments) == 4
    assert all(a == pytest.approx(1.3) and c == pytest.approx(1.3) for a, _, c, _ in segments)
    assert sum(abs(d - b) for _, b, _, d in segments) == pytest.approx(2.0)


def test_a_hill_has_a_circle():
    xs = ys = np.linspace(-2.0, 2.0, 60)
    x, y = np.meshgrid(xs, ys)
    segments = contour(xs, ys, 1.0 - x**2 - y**2)
    assert all(math.hypot(a, b) == pytest.approx(1.0, abs=1e-2) for a, b, _, _ in segments)
    assert sum(math.hypot(c - a, d - b) for a, b, c, d in segments) == pytest.approx(2 * math.pi, rel=1e-2)


def test_where_nothing_is_known_there_is_no_line():
    heights = np.array([[1.0, -1.0, 1.0], [1.0, np.nan, 1.0]])
    assert contour(np.arange(3.0), np.arange(2.0), heights) == []
