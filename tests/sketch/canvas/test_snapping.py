from __future__ import annotations

from pathlib import Path

import pytest

from sketch.canvas.snapping import Anchor, Anchors, anchors, grid_step, placing_step, snap
from solver.layout import file
from solver.quantities.units import System
from tests.drawings import BENT

STEP, REACH = 0.01, 0.02
LAYOUTS = Path(__file__).parents[3] / "layouts"


def test_grid_takes_both_axes_without_anchors() -> None:
    rest = snap(0.1234, 0.9871, Anchors(), STEP, REACH)
    assert (rest.x, rest.y) == (0.12, 0.99)
    assert rest.guides == ()


def test_grid_value_has_no_binary_dust() -> None:
    assert snap(0.3000001, 0.7000001, Anchors(), STEP, REACH).y == 0.7


@pytest.mark.parametrize("offset", [-0.019, 0.019])
def test_anchor_within_reach_wins_over_the_grid(offset: float) -> None:
    among = Anchors(across=(Anchor(0.333, 0.333, 2.0),))
    rest = snap(0.333 + offset, 0.5, among, STEP, REACH)
    assert rest.x == 0.333
    (guide,) = rest.guides
    assert (guide.x1, guide.y1, guide.x2, guide.y2) == (0.333, 2.0, 0.333, 0.5)


def test_anchor_beyond_reach_leaves_the_grid() -> None:
    among = Anchors(across=(Anchor(0.333, 0.333, 2.0),))
    assert snap(0.333 + 0.021, 0.5, among, STEP, REACH).x == 0.35


def test_nearest_of_two_anchors_wins() -> None:
    among = Anchors(up=(Anchor(0.50, 0.0, 0.50), Anchor(0.53, 0.0, 0.53)))
    assert snap(0.0, 0.518, among, STEP, REACH).y == 0.53


def test_own_place_holds_an_axis_without_a_guide() -> None:
    among = Anchors(across=(Anchor(0.6123, 0.6123, 1.0, own=True),))
    rest = snap(0.6180, 1.4, among, STEP, REACH)
    assert rest.x == 0.6123
    assert rest.guides == ()


def test_step_follows_the_unit_system() -> None:
    assert grid_step(System.US) == pytest.approx(0.0254)
    assert grid_step(System.SI) == pytest.approx(0.01)
    assert grid_step(System.US, coarse=True) == pytest.approx(0.254)


def test_pump_aligns_with_the_strainer_and_the_level_but_not_with_its_own_bend() -> None:
    layout = file.parse(BENT, "bent").base
    places = anchors(layout, "carriage")
    assert [a.value for a in places.across] == [1.6, 0.6]  # itself, the strainer
    assert 0.4 in [a.value for a in places.up]
    assert [a.value for a in places.up if not a.own].count(1.0) == 0


def test_a_pump_does_not_align_with_the_connector_that_comes_along() -> None:
    whole = file.parse((LAYOUTS / "carriage-at-altitude.toml").read_text("utf-8"), "carriage").base
    joint = whole.fittings["connector"].at
    assert joint[0].si not in [a.value for a in anchors(whole, "carriage").across]
    assert whole.pumps["carriage"].at[0].si in [a.value for a in anchors(whole, "connector").across]


def test_bend_aligns_with_both_ends_of_its_run() -> None:
    layout = file.parse(BENT, "bent").base
    places = anchors(layout, "riser", 0)
    assert 1.6 in [a.value for a in places.across]
    assert 0.12 in [a.value for a in places.up]


def test_the_step_for_a_new_part_is_one_that_is_seen() -> None:
    assert placing_step(System.SI, 250.0) == pytest.approx(0.05)
    assert placing_step(System.SI, 40.0) == pytest.approx(0.1)
    assert placing_step(System.SI, 1000.0) == pytest.approx(0.01)
    assert placing_step(System.US, 250.0) == grid_step(System.US)
