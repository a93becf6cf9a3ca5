"""Outlines against lengths worked out by hand."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.geometry import outline as geometry
from solver.geometry.outline import GeometryError, outline
from solver.layout.parts import Fitting
from solver.quantities.units import System
from tests.drawings import drawing, intake, metres, pump, run

R = 0.075
ARC_SAG = R * (1 - math.cos(math.radians(7.5) / 2))


def shape(one_run, start=(0.9, 0.12), end=(0.9, 1.5)):
    layout = drawing(intake(at=start), pump(at=end), one_run)
    return outline(layout, one_run)


def test_a_run_without_corners_is_one_straight():
    (piece,) = shape(run("riser", "strainer", "pump"))
    assert (piece.element, piece.bend, piece.path) == ("straight 1", False, ((0.9, 0.12), (0.9, 1.5)))
    assert piece.length == pytest.approx(1.38)


def test_a_square_bend_takes_its_radius_off_both_straights():
    up, bend, across = shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)]), end=(2.0, 1.5))
    assert [p.element for p in (up, bend, across)] == ["straight 1", "bend 1", "straight 2"]
    assert up.length == pytest.approx(1.38 - R)
    assert across.length == pytest.approx(1.1 - R)
    assert bend.angle == pytest.approx(math.pi / 2)
    assert bend.length == 0
    assert bend.path[0] == pytest.approx((0.9, 1.5 - R))
    assert bend.path[-1] == pytest.approx((0.9 + R, 1.5))
    assert up.path[-1] == bend.path[0]


def test_the_arc_keeps_its_radius_about_its_centre():
    _, bend, _ = shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)]), end=(2.0, 1.5))
    centre = (0.9 + R, 1.5 - R)
    assert [math.dist(p, centre) for p in bend.path] == pytest.approx([R] * len(bend.path))
    middle = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(bend.path)]
    assert all(math.dist(p, centre) >= R - ARC_SAG * 1.001 for p in middle)


@pytest.mark.parametrize(("turn", "left_or_right"), [(30, 1), (45, -1), (90, 1), (120, -1), (150, 1)])
def test_tangents_follow_the_angle(turn, left_or_right):
    theta = math.radians(turn)
    end = (2.0 * math.sin(theta) * left_or_right + 0.9, 2.0 * math.cos(theta) + 2.0)
    first, bend, second = shape(run("lead", "strainer", "pump", via=[(0.9, 2.0)]), start=(0.9, 0.0), end=end)
    tangent = R * math.tan(theta / 2)
    assert bend.angle == pytest.approx(theta)
    assert first.length == pytest.approx(2.0 - tangent)
    assert second.length == pytest.approx(2.0 - tangent)
    assert bend.path[-1] == pytest.approx(second.path[0])
    last_step = (bend.path[-1][0] - bend.path[-2][0], bend.path[-1][1] - bend.path[-2][1])
    onward = math.atan2(end[1] - 2.0, end[0] - 0.9)
    assert math.atan2(last_step[1], last_step[0]) == pytest.approx(onward, abs=math.radians(4))


@pytest.mark.parametrize(
    ("bend", "diameters"),
    [("long radius", 1.5), ("short radius", 1.0), ("threaded elbow", 1.0), ("mitre", 0.0)],
)
def test_the_kind_of_bend_sets_its_radius(bend, diameters):
    lead = replace(run("lead", "strainer", "pump", via=[(0.9, 1.5)], bend=bend, bend_radius=None), bore=None)
    lead = replace(lead, size="NPS 2 schedule 40")
    up, *rest = shape(lead, end=(2.0, 1.5))
    assert up.length == pytest.approx(1.38 - diameters * 2 * 0.0254)
    assert rest[0].bend


def test_a_mitre_is_drawn_as_its_corner():
    _, bend, _ = shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)], bend_radius=0.0), end=(2.0, 1.5))
    assert bend.path == ((0.9, 1.5),)


def test_bends_may_touch_and_the_next_straight_keeps_its_number():
    via = [(0.9, 1.0), (0.9 + 2 * R, 1.0)]
    pieces = shape(run("jog", "strainer", "pump", via=via), end=(0.9 + 2 * R, 1.5))
    assert [p.element for p in pieces] == ["straight 1", "bend 1", "bend 2", "straight 3"]


def test_bends_that_need_more_than_there_is_are_refused_by_name():
    via = [(0.9, 1.0), (1.0, 1.0)]
    with pytest.raises(
        GeometryError, match=r"jog: bend 1 and bend 2 need 0\.15\d* m of straight 2.* 0\.1\d* m long"
    ):
        shape(run("jog", "strainer", "pump", via=via), end=(1.0, 1.5))


def test_a_bend_too_near_the_end_is_refused_by_name():
    with pytest.raises(GeometryError, match=r"lead: bend 1 needs 0\.075\d* m of straight 2"):
        shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)]), end=(0.95, 1.5))


def test_a_bend_that_just_does_not_fit_is_not_told_to_need_what_there_is():
    for short in (1e-5, 0.6e-3):  # the second is 0.076 of 0.075 m, rounded to the millimetre
        end = (0.9 + R - short, 1.5)
        with pytest.raises(
            GeometryError, match=r"bend 1 needs a little more than straight 2, which is 0\.0\d* m"
        ):
            shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)]), end=end)


def test_a_run_that_doubles_back_is_refused():
    with pytest.raises(GeometryError, match="doubles back"):
        shape(run("lead", "strainer", "pump", via=[(0.9, 2.0)]))


def test_a_run_of_no_length_is_refused_unless_it_runs_out_of_the_plane():
    with pytest.raises(GeometryError, match="no length"):
        shape(run("lead", "strainer", "pump"), end=(0.9, 0.12))
    (piece,) = shape(run("lead", "strainer", "pump", out_of_plane=2.0), end=(0.9, 0.12))
    assert piece.length == 2.0


def test_the_hidden_length_is_shared_in_proportion():
    up, _, across = shape(run("lead", "strainer", "pump", via=[(0.9, 1.5)], out_of_plane=1.0), end=(2.0, 1.5))
    drawn = 1.38 - R + 1.1 - R
    assert up.length == pytest.approx((1.38 - R) * (1 + 1.0 / drawn))
    assert up.length + across.length == pytest.approx(drawn + 1.0)


def test_the_hidden_length_is_kept_where_the_drawing_shows_bends_alone():
    pieces = shape(
        run("lead", "strainer", "pump", via=[(0.9, 0.12 + R)], out_of_plane=1.0), end=(0.9 + R, 0.12 + R)
    )
    assert sum(p.length for p in pieces) == pytest.approx(1.0)
    assert [p.bend for p in pieces] == [False, True]


def test_corners_on_one_line_make_no_bend():
    pieces = shape(run("riser", "strainer", "pump", via=[(0.9, 0.5), (0.9, 0.5), (0.90005, 1.0)]))
    assert not any(p.bend for p in pieces)
    assert sum(p.length for p in pieces) == pytest.approx(1.38)


@given(
    st.lists(st.tuples(st.floats(-20, 20), st.floats(-20, 20)), max_size=6),
    st.floats(-50, 50),
    st.floats(-50, 50),
)
def test_a_shifted_run_keeps_its_lengths_angles_and_rise(via, dx, dy):
    def pieces(x, y):
        moved = [(vx + x, vy + y) for vx, vy in via]
        one = run("lead", "strainer", "pump", via=moved, bend_radius=0.0, out_of_plane=1.0)
        return shape(one, start=(x, y), end=(7.0 + x, 3.0 + y))

    try:
        outline_pieces = pieces(0.0, 0.0)
    except GeometryError:
        return
    there = pieces(dx, dy)
    assert [p.element for p in outline_pieces] == [p.element for p in there]
    assert [p.length for p in there] == pytest.approx([p.length for p in outline_pieces], abs=1e-9)
    rise = sum(p.path[-1][1] - p.path[0][1] for p in there)
    assert rise == pytest.approx(3.0)


def test_a_message_speaks_the_drawing_s_units():
    lead = run("lead", "strainer", "pump", via=[(0.9, 1.5)])
    layout = drawing(pump(at=(0.95, 1.5)), lead, units=System.US)
    with pytest.raises(GeometryError, match=" ft"):
        outline(layout, lead)


def test_bore_is_as_typed_or_by_its_size():
    assert geometry.bore(intake(bore=0.04)) == 0.04
    assert geometry.bore(replace(intake(), bore=None, size="tube 42 x 3 mm")) == pytest.approx(0.036)
    assert metres(1.0).si == 1.0


@given(st.floats(0.03, 0.0399), st.floats(0.03, 0.0399))
def test_a_reducer_that_is_wider_than_both_its_runs_is_fitted_as_it_is_drawn(near, far):
    """Neither way round suits the two better; rounding must not turn it round from one bore to the next."""
    one = Fitting(
        "cone", (metres(1.0), metres(1.0)), "eccentric reducer", bore=metres(0.044), other_bore=metres(0.04)
    )
    before, behind = run("before", "strainer", "cone", bore=near), run("behind", "cone", "pump", bore=far)
    assert geometry.bore_at(one, before, behind) == 0.044
    assert geometry.bore_at(one, behind, before) == 0.04
