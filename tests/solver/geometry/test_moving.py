"""What a designer expects of the lines when a part or a corner is moved."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.geometry.moving import bolted_to, move_parts
from solver.geometry.outline import corners, move_corner, move_part
from solver.geometry.squaring import SQUARE, without_folded
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, fitting, intake, pump, run, tee


def line(layout, name):
    return [pytest.approx(p, abs=1e-9) for p in corners(layout, layout.runs[name])]


def riser(*, via=(), at=(0.9, 1.5), between=()):
    """Strainer at (0.9, 0.12), valves between, pump; one run each."""
    names = ["strainer", *(f.name for f in between), "pump"]
    runs = [run(f"run {i + 1}", a, b) for i, (a, b) in enumerate(pairwise(names))]
    runs[-1] = run(runs[-1].name, names[-2], "pump", via=via)
    return drawing(intake(), *between, pump(at=at), *runs)


def test_a_pump_moved_up_its_riser_stretches_it():
    moved = move_part(riser(), "pump", 0.9, 2.0)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 2.0)]


def test_a_pump_moved_sideways_takes_the_last_corner_along():
    layout = riser(via=[(0.9, 1.0), (1.8, 1.0)], at=(1.8, 1.5))
    moved = move_part(layout, "pump", 2.2, 1.7)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 1.0), (2.2, 1.0), (2.2, 1.7)]


def test_a_pump_moved_up_past_a_level_lead_takes_the_corner_along():
    layout = riser(via=[(0.9, 1.5)], at=(1.8, 1.5))
    moved = move_part(layout, "pump", 1.8, 1.9)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 1.9), (1.8, 1.9)]


def test_a_pump_moved_sideways_off_a_straight_riser_gets_a_jog():
    moved = move_part(riser(), "pump", 1.3, 1.5)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 0.81), (1.3, 0.81), (1.3, 1.5)]


def test_the_jog_goes_again_when_the_pump_comes_back():
    there = move_part(riser(), "pump", 1.3, 1.5)
    back = move_part(there, "pump", 0.9, 1.5)
    assert line(back, "run 1") == [(0.9, 0.12), (0.9, 1.5)]


def test_the_jog_goes_where_there_is_most_room_and_the_valves_on_the_way_come_along():
    layout = riser(between=(fitting("low", (0.9, 1.1)), fitting("high", (0.9, 1.3))))
    moved = move_part(layout, "pump", 1.3, 1.5)
    assert line(moved, "run 3") == [(1.3, 1.3), (1.3, 1.5)]
    assert line(moved, "run 2") == [(1.3, 1.1), (1.3, 1.3)]
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 0.61), (1.3, 0.61), (1.3, 1.1)]


def test_a_valve_comes_along_to_a_corner_beyond_it():
    layout = drawing(
        intake(),
        fitting("isolator", (1.8, 1.2)),
        pump(at=(1.8, 1.5)),
        run("riser", "strainer", "isolator", via=[(0.9, 0.9), (1.8, 0.9)]),
        run("lead", "isolator", "pump"),
    )
    moved = move_part(layout, "pump", 2.0, 1.5)
    assert line(moved, "lead") == [(2.0, 1.2), (2.0, 1.5)]
    assert line(moved, "riser") == [(0.9, 0.12), (0.9, 0.9), (2.0, 0.9), (2.0, 1.2)]


def test_a_valve_moved_along_its_line_stretches_both_sides():
    layout = riser(between=(fitting("isolator", (0.9, 0.9)),))
    moved = move_part(layout, "isolator", 0.9, 1.2)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 1.2)]
    assert line(moved, "run 2") == [(0.9, 1.2), (0.9, 1.5)]


def header():
    return drawing(
        intake(),
        tee("header", (1.5, 1.0)),
        run("riser", "strainer", "header", via=[(0.9, 1.0)]),
        run("on", "header", "far"),
        run("up", "header", "pump"),
        pump(at=(1.5, 1.6)),
        pump("far", (2.5, 1.0)),
    )


def test_a_tee_slides_along_its_header_under_the_pump():
    moved = move_part(header(), "pump", 1.8, 1.6)
    assert line(moved, "up") == [(1.8, 1.0), (1.8, 1.6)]
    assert line(moved, "riser") == [(0.9, 0.12), (0.9, 1.0), (1.8, 1.0)]
    assert line(moved, "on") == [(1.8, 1.0), (2.5, 1.0)]


def test_a_tee_does_not_slide_past_the_end_of_its_header():
    moved = move_part(header(), "pump", 2.8, 1.6)
    assert line(moved, "up") == [(1.5, 1.0), (1.5, 1.3), (2.8, 1.3), (2.8, 1.6)]
    assert moved.tees == header().tees


def test_a_moved_tee_takes_its_three_lines_along():
    moved = move_part(header(), "header", 1.5, 1.2)
    assert line(moved, "riser") == [(0.9, 0.12), (0.9, 1.2), (1.5, 1.2)]
    assert line(moved, "up") == [(1.5, 1.2), (1.5, 1.6)]
    assert line(moved, "on") == [(1.5, 1.2), (2.0, 1.2), (2.0, 1.0), (2.5, 1.0)]


def test_a_moved_intake_does_the_same():
    moved = move_part(riser(via=[(0.9, 1.5)], at=(1.8, 1.5)), "strainer", 0.7, 0.2)
    assert line(moved, "run 1") == [(0.7, 0.2), (0.7, 1.5), (1.8, 1.5)]


def test_a_corner_takes_its_neighbour_along():
    layout = riser(via=[(0.9, 1.0), (1.8, 1.0)], at=(1.8, 1.5))
    moved = move_corner(layout, "run 1", 0, 0.9, 0.8)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 0.8), (1.8, 0.8), (1.8, 1.5)]


def test_a_corner_beside_a_part_that_stays_gets_a_jog():
    moved = move_corner(riser(via=[(0.9, 1.5)], at=(1.8, 1.5)), "run 1", 0, 1.1, 1.5)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 0.81), (1.1, 0.81), (1.1, 1.5), (1.8, 1.5)]


def test_a_corner_takes_a_valve_along_where_that_is_enough():
    layout = drawing(
        intake(),
        fitting("isolator", (1.4, 1.0)),
        pump(at=(1.8, 1.5)),
        run("riser", "strainer", "isolator", via=[(0.9, 1.0)]),
        run("lead", "isolator", "pump", via=[(1.8, 1.0)]),
    )
    moved = move_corner(layout, "riser", 0, 0.9, 0.8)
    assert line(moved, "riser") == [(0.9, 0.12), (0.9, 0.8), (1.4, 0.8)]
    assert line(moved, "lead") == [(1.4, 0.8), (1.8, 0.8), (1.8, 1.5)]


@pytest.mark.parametrize("kind", ["flexible connector", "eccentric reducer", "ball valve"])
@pytest.mark.parametrize("to", [(2.4, 1.5), (1.6, 1.5), (2.0, 1.1), (2.2, 1.8)])
def test_a_connector_or_reducer_goes_with_its_pump(kind, to):
    via = [(0.9, 1.5)]
    fitted = fitting("joint", (1.5, 1.5), kind=kind)
    lines = run("riser", "strainer", "joint", via), run("lead", "joint", "pump")
    layout = drawing(intake(), fitted, pump(at=(2.0, 1.5)), *lines)
    x, y = to
    moved = move_part(layout, "pump", x, y)
    assert bolted_to(layout, "pump") == (() if kind == "ball valve" else ("joint",))
    joint_x = 1.5 if kind == "ball valve" else x - 0.5
    assert line(moved, "lead") == [(joint_x, y), to]
    assert line(moved, "riser") == [(0.9, 0.12), (0.9, y), (joint_x, y)]
    alone = move_part(layout, "pump", x, y, alone=True)
    assert line(alone, "lead") == [(1.5, y), to]


def test_a_connector_far_from_its_pump_is_left():
    fitted = fitting("joint", (1.0, 1.5), kind="flexible connector")
    lines = run("riser", "strainer", "joint", [(0.9, 1.5)]), run("lead", "joint", "pump")
    moved = move_part(drawing(intake(), fitted, pump(at=(2.0, 1.5)), *lines), "pump", 2.5, 1.5)
    assert line(moved, "lead") == [(1.0, 1.5), (2.5, 1.5)]


def test_a_slanted_stretch_takes_any_slope():
    layout = riser(via=[(0.9, 1.0)], at=(1.8, 1.5))
    moved = move_part(layout, "pump", 2.0, 1.9)
    assert line(moved, "run 1") == [(0.9, 0.12), (0.9, 1.0), (2.0, 1.9)]


def test_a_line_drawn_as_a_point_turns_once():
    layout = drawing(pump(at=(0.9, 0.12)), run("lead", "strainer", "pump", out_of_plane=1.0))
    moved = move_part(layout, "pump", 1.9, 0.62)
    assert all(square(a, b) for a, b in pairwise(corners(moved, moved.runs["lead"])))


def test_new_figures_keep_the_units_they_were_typed_in():
    layout = riser(via=[(0.9, 1.5)], at=(1.8, 1.5))
    feet = (quantity("6 ft", Kind.LENGTH), quantity("59 in", Kind.LENGTH))
    layout = replace(layout, pumps={"pump": replace(layout.pumps["pump"], at=feet)})
    moved = move_part(layout, "pump", 2.1336, 59 * 0.0254)
    assert [q.text for q in moved.pumps["pump"].at] == ["7 ft", "59 in"]
    assert moved.runs["run 1"].via == layout.runs["run 1"].via


def test_a_part_that_stays_where_it_is_changes_nothing():
    layout = header()
    assert move_part(layout, "pump", 1.5, 1.6) is layout
    assert move_corner(layout, "riser", 0, 0.9, 1.0) is layout


def test_untouched_groups_are_the_same_objects():
    layout = header()
    moved = move_part(layout, "pump", 1.5, 1.9)
    assert moved.tees is layout.tees
    assert moved.runs["riser"] is layout.runs["riser"]


def test_names_that_are_not_there():
    with pytest.raises(KeyError):
        move_part(header(), "tank", 0.0, 0.0)
    with pytest.raises(IndexError):
        move_corner(header(), "riser", 1, 0.0, 0.0)


def test_folded_corners_are_dropped():
    assert without_folded([(0, 0), (0, 1), (0, 1), (0, 2)]) == [(0, 0), (0, 2)]
    assert without_folded([(0, 0), (0, 1), (0, 1), (1, 1)]) == [(0, 0), (0, 1), (1, 1)]
    assert without_folded([(0, 0), (0, 1), (1, 1)]) == [(0, 0), (0, 1), (1, 1)]


def square(a, b):
    return abs(a[0] - b[0]) <= SQUARE or abs(a[1] - b[1]) <= SQUARE


steps = st.lists(
    st.tuples(st.sampled_from([0.0, 1.0]), st.floats(-3, 3).map(lambda v: round(v, 2))), max_size=5
)
chains = st.lists(steps, min_size=1, max_size=4)


@given(chains, st.integers(0, 3), st.floats(-5, 5), st.floats(-5, 5), st.booleans(), st.data())
def test_no_move_makes_a_slant_and_the_ends_stay(lines, which, x, y, of_part, data):
    """A square chain of runs and valves: wherever one thing goes, every stretch stays square."""
    at, parts, names = (0.9, 0.12), [intake()], ["strainer"]
    for i, stretches in enumerate(lines):
        via = []
        for upright, length in stretches:
            at = (at[0], round(at[1] + length, 2)) if upright else (round(at[0] + length, 2), at[1])
            via.append(at)
        at = (at[0], at[1] + 0.5)
        name = "pump" if i == len(lines) - 1 else f"valve {i}"
        parts += [run(f"run {i}", names[-1], name, via=via)]
        parts += [pump(at=at) if name == "pump" else fitting(name, at)]
        names.append(name)
    layout = drawing(*parts)
    one = f"run {which % len(lines)}"
    if of_part or not layout.runs[one].via:
        name = names[which % len(names)]
        moved = move_part(layout, name, x, y)
        there = [q.si for q in moved.joint(name).at]
    else:
        index = data.draw(st.integers(0, len(layout.runs[one].via) - 1))
        moved, name = move_corner(layout, one, index, x, y), ""
        there = min(
            ([a.si, b.si] for a, b in moved.runs[one].via), key=lambda p: abs(p[0] - x) + abs(p[1] - y)
        )
    assert there == pytest.approx([x, y], abs=1e-4)
    for each in moved.runs.values():
        assert all(square(a, b) for a, b in pairwise(corners(moved, each)))
    for end in {"strainer", "pump"} - {name}:
        assert moved.joint(end) == layout.joint(end)


def test_a_line_between_two_parts_that_move_alike_keeps_its_shape():
    layout = riser(via=[(0.9, 1.0), (1.8, 1.0)], at=(1.8, 1.5))
    moved = move_parts(layout, {"strainer": (1.9, 0.32), "pump": (2.8, 1.7)}, {})
    assert line(moved, "run 1") == [(1.9, 0.32), (1.9, 1.2), (2.8, 1.2), (2.8, 1.7)]


def test_a_line_between_two_parts_that_part_stays_square():
    layout = riser(via=[(0.9, 1.0), (1.8, 1.0)], at=(1.8, 1.5))
    moved = move_parts(layout, {"strainer": (0.5, 0.12), "pump": (2.8, 1.9)}, {})
    points = corners(moved, moved.runs["run 1"])
    assert points[0] == pytest.approx((0.5, 0.12))
    assert points[-1] == pytest.approx((2.8, 1.9))
    assert all(abs(a[0] - b[0]) < SQUARE or abs(a[1] - b[1]) < SQUARE for a, b in pairwise(points))


def test_of_several_parts_none_is_pulled_by_another():
    valve = fitting("valve", (0.9, 0.8))
    layout = riser(between=[valve], at=(0.9, 1.5))
    moved = move_parts(layout, {"valve": (1.2, 0.8), "pump": (1.2, 1.5)}, {})
    assert line(moved, "run 2") == [(1.2, 0.8), (1.2, 1.5)]
    assert moved.intakes is layout.intakes
    assert len(line(moved, "run 1")) == 4, "a jog towards what stays"


def test_corners_that_are_given_take_the_place_of_a_line_s_own():
    layout = riser(via=[(0.9, 1.0), (1.8, 1.0)], at=(1.8, 1.5))
    places = {"strainer": (1.8, 0.12), "pump": (0.9, 1.5)}
    turned = move_parts(layout, places, {"run 1": [(1.8, 1.0), (0.9, 1.0)]})
    assert line(turned, "run 1") == [(1.8, 0.12), (1.8, 1.0), (0.9, 1.0), (0.9, 1.5)]
