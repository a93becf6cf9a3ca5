"""Rows and their order, and the drawings that hold no line."""

import math
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.network.build import NUMBERS, NetworkError, build, pump_flow
from solver.network.rows import RowKind
from solver.quantities.units import Quantity
from tests.drawings import drawing, fitting, intake, metres, point, pump, run, tank, tee


def straight_tree(x=0.0, y=0.0):
    """Strainer, riser with a valve, a bend, the pump beside the tank; moved by (x, y)."""
    return drawing(
        tank(at=(x, y)),
        intake(at=(x + 0.9, y + 0.12)),
        fitting("isolator", (x + 0.9, y + 0.9)),
        pump(at=(x + 2.4, y + 1.4), bore=0.04),
        run("riser", "strainer", "isolator"),
        run("lead", "pump", "isolator", via=[(x + 0.9, y + 1.4)]),
    )


def header():
    return drawing(
        intake(bore=0.06),
        tee("header", (0.9, 1.2), bore=0.06),
        run("riser", "strainer", "header", bore=0.06),
        run("up", "header", "top"),
        run("across", "header", "side"),
        pump("top", (0.9, 2.0)),
        pump("side", (2.0, 1.2)),
    )


def refusals(*parts):
    with pytest.raises(NetworkError) as caught:
        build(drawing(*parts))
    return dict(caught.value.problems)


def test_rows_come_in_walking_order_whatever_way_a_run_was_drawn():
    assert [row.key for row in build(straight_tree()).rows] == [
        "strainer/entrance",
        "riser/straight 1",
        "isolator/ball valve",
        "lead/straight 2",
        "lead/bend 1",
        "lead/straight 1",
        "lead>pump/bore change",
    ]


def test_rows_join_end_to_end_from_the_reservoir_to_the_pump():
    rows = build(straight_tree()).rows
    assert rows[0].start == "reservoir:tank"
    assert rows[-1].end == "pump:pump"
    assert all(a.end == b.start for a, b in pairwise(rows))
    assert all(a.path[-1] == pytest.approx(b.path[0]) for a, b in pairwise(rows))


def test_rises_add_up_to_the_height_between_intake_and_port():
    rows = build(straight_tree()).rows
    assert sum(row.z_out - row.z_in for row in rows) == pytest.approx(1.4 - 0.12)


@given(st.floats(-100, 100), st.floats(-100, 100))
def test_a_drawing_moved_as_a_whole_has_the_same_rows(x, y):
    columns, there = build(straight_tree()).columns, build(straight_tree(x, y)).columns
    for name in NUMBERS:
        expected = columns[name] + y if name.startswith("z_") else columns[name]
        np.testing.assert_allclose(there[name], expected, rtol=1e-9, atol=1e-9)


def test_columns_hold_the_rows_numbers():
    network = build(straight_tree())
    for name in NUMBERS:
        held = [getattr(row, name) for row in network.rows]
        in_place = [math.nan if value is None else value for value in held]
        assert network.columns[name].tolist() == pytest.approx(in_place, rel=0, nan_ok=True)


def test_the_graph_carries_row_numbers():
    network = build(header())
    assert nx.is_directed_acyclic_graph(network.graph)
    edges = {network.rows[row].key: (a, b) for a, b, row in network.graph.edges(data="row")}
    assert edges == {row.key: (row.start, row.end) for row in network.rows}
    assert network.index["up/straight 1"] == [row.key for row in network.rows].index("up/straight 1")
    assert set(network.elevation) == set(network.graph)
    assert network.elevation["pump:top"] == 2.0


def test_kinds_and_keys():
    rows = build(header()).rows
    assert {row.kind for row in rows} <= set(RowKind)
    assert len({row.key for row in rows}) == len(rows)
    assert len({(row.part, row.element) for row in rows}) == len(rows)


def test_the_line_into_a_tee_has_no_row_there_and_the_others_are_named_by_the_drawing():
    network = build(header())
    assert [row.key for row in network.rows if row.kind == "tee"] == ["header/run 2", "header/branch"]
    legs = {leg.run: (leg.element, leg.inward, leg.row is None) for leg in network.tees["header"]}
    assert legs == {
        "riser": ("run 1", True, True),
        "up": ("run 2", False, False),
        "across": ("branch", False, False),
    }


def test_a_line_may_enter_a_tee_by_its_branch():
    layout = drawing(
        tee("header", (0.9, 1.2)),
        run("riser", "strainer", "header"),
        run("left", "header", "one"),
        run("right", "header", "two"),
        pump("one", (0.0, 1.2)),
        pump("two", (2.0, 1.2)),
    )
    assert [row.element for row in build(layout).rows if row.kind == "tee"] == ["run 1", "run 2"]


def test_a_tee_without_two_lines_in_line_says_which_it_takes_for_its_run():
    layout = replace(
        header(), runs={**header().runs, "across": run("across", "header", "side", [(2.0, 1.4)])}
    )
    crooked = replace(layout, pumps={**layout.pumps, "top": pump("top", (0.2, 1.9))})
    notes = {row.note for row in build(crooked).rows if row.kind == "tee"}
    assert notes == {"no two of its lines are in line: riser and up are taken for its run"}
    assert {row.note for row in build(header()).rows if row.kind == "tee"} == {""}


def test_a_line_from_pump_to_pump():
    layout = header()
    odd = replace(layout, runs={**layout.runs, "odd": run("odd", "top", "side")})
    with pytest.raises(
        NetworkError, match="odd: no fluid reaches it from a reservoir, except through a pump"
    ):
        build(odd)


def test_changes_of_bore_are_found_on_both_sides_of_a_part():
    layout = drawing(
        intake(bore=0.06),
        fitting("isolator", (0.9, 0.9), bore=0.04),
        run("riser", "strainer", "isolator", bore=0.05),
        run("lead", "isolator", "pump", bore=0.05),
        pump(bore=0.05),
    )
    changes = [row for row in build(layout).rows if row.kind == "bore change"]
    assert [row.key for row in changes] == [
        "strainer>riser/bore change",
        "riser>isolator/bore change",
        "isolator>lead/bore change",
    ]
    assert [row.bore for row in changes] == [0.05, 0.04, 0.04]
    assert [row.part for row in changes] == ["riser", "riser", "lead"]
    assert all(row.k_inf_back not in (None, row.k_inf) for row in changes)


def test_a_pump_takes_in_displacement_times_speed_unless_a_flow_is_given():
    by_speed = replace(pump(), displacement=Quantity("82 cm^3/rev", 82e-6), speed=Quantity("1500 rpm", 25.0))
    assert pump_flow(by_speed) == 0.002
    assert pump_flow(replace(by_speed, flow=None)) == pytest.approx(82e-6 * 25)
    with pytest.raises(NetworkError, match="neither a flow nor"):
        pump_flow(replace(pump(), flow=None))


def test_a_pump_that_no_line_reaches():
    said = refusals(run("riser", "strainer", "pump"), pump(), pump("other", (3.0, 1.0)))
    assert said == {"other": "no line is joined to it"}


def test_a_pump_behind_a_line_that_starts_nowhere():
    said = refusals(
        run("riser", "strainer", "pump"),
        run("stray", "valve", "other"),
        fitting("valve", (3.0, 0.5)),
        pump(),
        pump("other", (3.0, 1.0)),
    )
    assert said["other"] == "no line from a reservoir reaches it"
    assert said["stray"] == "ends in the air at valve, 3.00 m, 0.500 m"


def test_a_part_nothing_joins():
    said = refusals(run("riser", "strainer", "pump"), fitting("spare", (3.0, 0.5)))
    assert said == {"spare": "no line is joined to it"}


def test_a_line_that_ends_in_the_air():
    said = refusals(
        intake(),
        tee("header", (0.9, 1.0)),
        run("riser", "strainer", "header"),
        run("lead", "header", "pump"),
        run("stub", "header", "blank"),
        fitting("blank", (2.0, 1.0)),
    )
    assert said == {"stub": "ends in the air at blank, 2.00 m, 1.00 m"}


def test_a_line_from_an_intake_to_no_pump():
    said = refusals(
        intake(),
        run("riser", "strainer", "pump"),
        intake("spare", (0.3, 0.1)),
        run("loose", "spare", "valve"),
        fitting("valve", (0.3, 1.0)),
    )
    assert said["spare"] == "its line leads to no pump"


def test_what_lies_beyond_a_pump():
    said = refusals(
        run("riser", "strainer", "pump"), run("on", "pump", "other"), pump(), pump("other", (3.0, 1.0))
    )
    assert said == {"other": "no line from a reservoir reaches it"}


def test_wrong_numbers_of_lines():
    said = refusals(
        intake(),
        fitting("valve", (0.9, 1.0)),
        tee("header", (0.9, 2.0)),
        pump(at=(0.9, 3.0)),
        pump("other", (2.0, 1.0)),
        run("riser", "strainer", "valve"),
        run("up", "valve", "header"),
        run("side", "valve", "other"),
        run("lead", "header", "pump"),
    )
    assert said["valve"] == "joins 3 lines; a ball valve sits between two"
    assert said["header"].startswith("joins 2 lines, up and lead; a tee joins three")


def test_an_intake_with_two_lines_and_a_run_onto_itself():
    said = refusals(run("a", "strainer", "pump"), run("b", "strainer", "pump"), run("c", "pump", "pump"))
    assert said["strainer"] == "feeds 2 lines; join them at a tee"
    assert said["c"] == "starts and ends on pump"


def test_a_run_to_nowhere():
    assert refusals(run("riser", "strainer", "gone")) == {"riser": "ends on gone, which is not there"}


def test_geometry_is_refused_with_everything_else_of_its_kind():
    said = refusals(intake(at=(2.0, 0.12)), run("riser", "strainer", "pump", via=[(2.0, 1.5), (2.0, 0.5)]))
    assert "lies outside tank" in said["strainer"]
    said = refusals(run("riser", "strainer", "pump", via=[(0.9, 2.0)]))
    assert "doubles back on itself" in said["riser"]


def test_a_size_nobody_makes_is_refused_by_its_part():
    odd = replace(run("riser", "strainer", "pump"), bore=None, size="NPS 99 schedule 40")
    assert "NPS 99 schedule 40" in refusals(odd)["riser"]
    assert "above zero" in refusals(replace(run("riser", "strainer", "pump"), bore=metres(-0.05)))["riser"]


def test_a_drawing_without_pump_or_intake():
    empty = replace(drawing(), pumps={}, intakes={})
    with pytest.raises(NetworkError) as caught:
        build(empty)
    lacks = ("drawing", "no pump on it yet"), ("drawing", "no intake on it yet")
    assert tuple(caught.value.problems) == lacks, "whatever its title is"


def test_two_intakes_into_one_pump_close_a_parallel_path():
    layout = drawing(
        intake(),
        intake("second", (0.3, 0.12)),
        tee("header", (0.9, 1.0)),
        run("riser", "strainer", "header"),
        run("other", "second", "header", via=[(0.3, 1.0)]),
        run("lead", "header", "pump"),
    )
    network = build(layout)
    assert network.closures == ("other",)
    rows = {row.key: row for row in network.rows}
    assert rows["header/branch"].end == "header/centre"
    assert rows["header/run 1"].end == "header/centre"
    assert rows["header/run 2"].start == "header/centre"


def test_a_tank_with_a_sloping_floor_takes_an_intake_on_it():
    sloped = replace(tank(), outline=tuple(map(point, [(0, 0), (1.2, 0.3), (1.2, 0.7), (0, 0.7)])))
    layout = drawing(sloped, intake(at=(0.4, 0.1)), run("riser", "strainer", "pump", via=[(0.4, 1.5)]))
    assert build(layout).rows[0].key == "strainer/entrance"
