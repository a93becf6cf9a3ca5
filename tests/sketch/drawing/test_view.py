"""World to device and back, and the view that shows everything."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.view import View, bounds, fit
from solver.layout.parts import Layout
from tests import drawings


def test_fit_shows_every_point_and_keeps_its_promise_at_any_dot() -> None:
    layout = drawings.stand()
    for dot in (1.0, 12.5):
        view = fit(layout, 1000 * dot, 640 * dot, dot)
        for x, y in ((0.0, 0.0), (1.4, 0.8), (2.1, 1.6)):
            px, py = view.device(x, y)
            assert 0.0 < px < 1000 * dot
            assert 0.0 < py < 640 * dot
    assert view.scale / 12.5 == pytest.approx(fit(layout, 1000, 640).scale)


def test_device_and_world_undo_one_another() -> None:
    view = View(123.0, -40.0, 310.0).zoomed(1.7, 60.0, 80.0).panned(5.0, -9.0)
    assert view.world(*view.device(1.25, -0.5)) == pytest.approx((1.25, -0.5))


def test_zoom_keeps_the_point_under_the_hand() -> None:
    view = View(123.0, -40.0, 310.0)
    assert view.zoomed(1.7, 60.0, 80.0).world(60.0, 80.0) == pytest.approx(view.world(60.0, 80.0))


def test_a_page_has_a_standard_scale() -> None:
    view = fit(drawings.stand(), 9000.0, 6000.0, 12.5, true_scale=True)
    assert view.ratio in (10.0, 12.0, 15.0, 16.0, 20.0)
    assert view.scale == pytest.approx(1200 / 0.0254 / view.ratio)  # dots a metre, over the ratio


def test_a_view_keeps_room_for_the_pump_behind_its_port() -> None:
    for layout in (drawings.stand(), _turned(drawings.stand())):
        _, _, right, _ = bounds(layout)
        assert right == pytest.approx(2.1 + 4 * 0.0525)


def _turned(layout: Layout) -> Layout:
    lead = replace(layout.runs["lead"], start="press", end="isolator")
    return replace(layout, runs={**layout.runs, "lead": lead})


def test_an_empty_drawing_still_has_a_view() -> None:
    layout = drawings.stand()
    empty = replace(layout, reservoirs={}, intakes={}, fittings={}, pumps={}, runs={})
    assert bounds(empty) == (0.0, 0.0, 3.0, 2.0)
    assert fit(empty, 800.0, 600.0).scale > 0.0


def test_a_window_of_no_size_still_has_a_view() -> None:
    assert fit(drawings.stand(), 0.0, 0.0).scale > 0.0
