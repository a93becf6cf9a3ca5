"""What follows from the rows of a way alone."""

from __future__ import annotations

from itertools import combinations
from operator import is_

import shapely

from solver.geometry import moving
from solver.layout import file
from solver.layout.parts import Level
from solver.layout.shapes import polygon
from solver.ledger.cases import solve_cases
from solver.network.build import build
from solver.network.row_cache import RowCache
from solver.network.ways import MOST_KEPT, Joins, PipeJoint, Rows, Way, joints, within
from tests import drawings
from tests.drawings import drawing, intake, pump, run, tank

HUMP = drawing(intake(), pump(at=(2.0, 1.0)), run("riser", "strainer", "pump", via=[(0.6, 1.5), (1.2, 0.7)]))


def way() -> Way:
    rows = build(HUMP).rows
    return rows.way(range(len(rows)), [True] * len(rows))


def test_a_way_is_made_once_for_all_networks_that_share_the_rows() -> None:
    rows = build(HUMP).rows
    one, two = (rows.way([0, 1], [True, True]) for _ in range(2))
    assert one is two
    assert rows.way([0, 1], [True, False]) is not one
    assert Rows(rows).way([0, 1], [True, True]) is not one


def test_rows_that_lead_between_the_same_nodes_share_what_follows_from_that_alone() -> None:
    cache = RowCache()
    before = build(HUMP, cache).rows
    after = build(moving.move_part(HUMP, "pump", 2.0, 1.1), cache).rows
    assert after != before
    assert after.joins is before.joins
    assert after.joins.once("what", lambda: "worked out") == after.joins.once("what", lambda: "again")


def test_rows_that_are_joined_otherwise_share_nothing() -> None:
    cache = RowCache()
    before = build(HUMP, cache).rows
    straight = drawing(intake(), pump(at=(2.0, 1.0)), run("riser", "strainer", "pump", via=[(0.6, 1.5)]))
    after = build(straight, cache).rows
    assert after.joins is not before.joins
    assert after.joins.ends == [(row.start, row.end) for row in after]


def test_no_more_is_kept_than_a_turn_of_a_flow_needs() -> None:
    joins = Joins([])
    first = joins.once(0, object)
    for flow in range(1, MOST_KEPT + 1):
        joins.once(flow, object)
    assert joins.once(0, object) is not first


def test_a_case_that_leaves_the_rows_alone_shares_their_ways() -> None:
    text = drawings.steps_text(6).replace("format = 1", "format = 2")
    text += '[cases.hot]\nfluid.temperature = "60 degC"\n[cases.due]\nintakes.mouth.screen.blocked = "60 %"\n'
    solved = solve_cases(file.parse(text).base, Level.MINIMUM, RowCache())
    rows = {name: case.solution.network.rows for name, case in solved.items() if case.solution is not None}
    assert rows["hot"] is rows["as drawn"]
    assert rows["due"] is not rows["as drawn"]


def test_the_high_point_of_a_hump_and_its_fall() -> None:
    (point,) = way().high_points
    row = way().rows[point.place]
    assert 0.5 < point.fall < 0.9  # down to the bend at 0.7 m, whose outside lies no lower
    assert max(z for _, z in row.path) == way().crown - row.bore / 2


def test_distances_rise_and_the_last_end_is_the_port() -> None:
    distances = way().distances
    assert list(distances) == sorted(distances)
    assert way().end_elevations[-1] == 1.0


def test_parts_are_joined_where_one_follows_the_other() -> None:
    first, *_, last = way().joints
    assert (way().rows[first.place].part, first.following) == ("strainer", "riser")
    assert (last.following, last.x, last.z) == ("", 2.0, 1.0)


def test_joints_carried_over_from_the_drawing_before_are_those_found_anew() -> None:
    cache, steps = RowCache(), drawings.steps(20)
    names = [*steps.fittings, *steps.pumps]
    layout, carried = steps, 0
    before: tuple[PipeJoint, ...] = ()
    for at, name in enumerate([*names[::3], "pump", *names[1::4], "pump", "pump"]):
        x, y = (value.si for value in layout.joint(name).at)
        layout = moving.move_part(layout, name, x, y + 0.003 * (at + 1))
        rows = build(layout, cache).rows
        steps_way = rows.way(range(len(rows)), [True] * len(rows))
        assert steps_way.joints == tuple(joints(rows, [True] * len(rows)))
        carried += sum(map(is_, steps_way.joints, before))
        before = steps_way.joints
    assert carried > len(before), "none is carried over"


def test_joints_of_no_more_ways_are_kept_than_a_turn_of_a_flow_needs() -> None:
    joins, rows = Joins([]), way().rows
    joins.keep_joints(0, rows, way().joints)
    assert joins.last_joints(0) == (rows, way().joints)
    for flow in range(1, MOST_KEPT + 1):
        joins.keep_joints(flow, rows, ())
    assert joins.last_joints(0) == ((), ())
    assert joins.last_joints(MOST_KEPT) == (rows, ())


def test_what_comes_within_a_rectangle() -> None:
    assert way().parts_within((1.9, 0.9, 2.1, 1.1)) == ("riser",)
    assert way().parts_within((3.0, 0.0, 4.0, 1.0)) == ()
    assert not any(within(row, (3.0, 0.0, 4.0, 1.0)) for row in way().rows)


def test_the_parts_within_a_rectangle_are_those_of_the_rows_within_it() -> None:
    rows = build(drawings.steps(20)).rows
    steps = rows.way(range(len(rows)), [True] * len(rows))
    corners = [row.path[0] for row in rows if row.path]
    for (x, z), (x1, z1) in combinations(corners[::3], 2):
        bounds = min(x, x1), min(z, z1), max(x, x1), max(z, z1)
        expected = dict.fromkeys(row.part for row in rows if within(row, bounds))
        assert steps.parts_within(bounds) == tuple(expected)


def test_an_end_lies_outside_above_the_level_wherever_the_reservoir_is() -> None:
    outline = tank().outline
    ends, (low, high) = way().joints, (0.0, 3.0)
    assert way().joints_outside(outline, low) == ends
    inside = [end for end in ends if end not in way().joints_outside(outline, high)]
    assert inside
    shape = polygon(outline)
    assert inside == [end for end in ends if shapely.intersects_xy(shape, end.x, end.z)]


def test_pipes_and_all_else_are_the_whole_way() -> None:
    assert sorted((*way().pipes, *way().other_than_pipes)) == list(range(len(way().rows)))
    assert way().narrowest is not None
    assert way().rows[way().narrowest].kind == "straight"
    rows = build(drawings.steps(4)).rows
    steps = rows.way(range(len(rows)), [True] * len(rows))
    assert [rows[place].part for place in steps.screens] == ["mouth"]
