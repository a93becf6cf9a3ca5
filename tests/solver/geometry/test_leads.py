"""How the lead to a pump is laid once the pump has passed the bend that it comes from."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from solver.answers import ask
from solver.answers.reach_map import reach_map
from solver.findings.judgement import judge
from solver.geometry.moving import move_part
from solver.geometry.outline import bore, corners, outline
from solver.layout.parts import Layout, Level
from tests.drawings import drawing, fitting, intake, pump, run, tee


def fed_from_below(*, valve: bool = False) -> Layout:
    """A level line at 1.6 m, a bend, a connector and a pump over it; a valve under the connector."""
    joint = fitting("joint", (2.4, 1.9), kind="flexible connector")
    between = (fitting("valve", (2.4, 1.8)),) if valve else ()
    names = ["valve", "joint"] if valve else ["joint"]
    via = [(0.9, 1.6), (2.4, 1.6)]
    runs = [run("run 1", "strainer", names[0], via)]
    runs += [run(f"run {i + 2}", a, b) for i, (a, b) in enumerate(pairwise([*names, "pump"]))]
    return drawing(intake(), *between, joint, pump(at=(2.4, 2.1)), *runs)


def way(layout: Layout) -> list[tuple[float, float]]:
    """All points from the strainer to the pump."""
    points: list[tuple[float, float]] = []
    for name in sorted(layout.runs):
        points += corners(layout, layout.runs[name])[1 if points else 0 :]
    return points


def turns_back(points: list[tuple[float, float]]) -> bool:
    legs = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
    return any(a[0] * b[0] + a[1] * b[1] < 0 for a, b in pairwise(legs))


@pytest.mark.parametrize("valve", [False, True])
@pytest.mark.parametrize("height", [2.5, 2.0, 1.85, 1.75, 1.6, 1.5, 1.4, 1.3, 1.2, 0.9, -0.5])
@pytest.mark.parametrize("x", [2.4, 2.9, 2.0])
def test_a_pump_at_any_height_has_a_line_that_never_turns_back(height: float, x: float, valve: bool) -> None:
    moved = move_part(fed_from_below(valve=valve), "pump", x, height)
    assert not turns_back(way(moved))
    assert way(moved)[0] == (0.9, 0.12)
    assert way(moved)[-1] == (x, height)


def test_a_pump_far_under_its_bend_is_fed_from_above() -> None:
    moved = move_part(fed_from_below(), "pump", 2.4, 0.9)
    corner = pytest.approx((2.4, 1.6))
    assert way(moved) == [(0.9, 0.12), (0.9, 1.6), corner, pytest.approx((2.4, 1.1)), (2.4, 0.9)]
    back = move_part(moved, "pump", 2.4, 2.1)
    assert way(back) == [pytest.approx(point) for point in way(fed_from_below())]


def bends(layout: Layout) -> int:
    return sum(len(line.via) for line in layout.runs.values())


@pytest.mark.parametrize("valve", [False, True])
@pytest.mark.parametrize("height", [2.0, 1.85, 1.7, 1.65, 1.55, 1.5, 1.35, 1.2, 0.9, -0.5])
def test_a_pump_lowered_past_its_bend_keeps_it(height: float, valve: bool) -> None:
    layout = fed_from_below(valve=valve)
    moved = move_part(layout, "pump", 2.4, height)
    assert bends(moved) == bends(layout)
    assert all(outline(moved, line) for line in moved.runs.values()), "each bend has its room"


@pytest.mark.parametrize(("height", "bend"), [(1.7, 1.425), (1.65, 1.375), (1.55, 1.825), (1.5, 1.775)])
def test_a_bend_too_near_to_its_pump_gives_way_where_it_has_less_far_to_go(
    height: float, bend: float
) -> None:
    moved = way(move_part(fed_from_below(), "pump", 2.4, height))
    laid = [(0.9, 0.12), (0.9, bend), (2.4, bend), (2.4, height + (-0.2 if bend < height else 0.2))]
    assert moved == [pytest.approx(point, abs=1e-3) for point in [*laid, (2.4, height)]]


def test_a_pump_in_line_with_its_level_line_takes_it_from_the_side() -> None:
    moved = move_part(fed_from_below(), "pump", 2.4, 1.6)
    assert way(moved) == [pytest.approx(point) for point in [(0.9, 0.12), (0.9, 1.6), (2.2, 1.6), (2.4, 1.6)]]


def test_a_lead_that_begins_at_a_tee_takes_it_along() -> None:
    joint = fitting("joint", (1.5, 1.3), kind="flexible connector")
    layout = drawing(
        intake(),
        tee("header", (1.5, 1.0)),
        joint,
        run("riser", "strainer", "header", via=[(0.9, 1.0)]),
        run("on", "header", "far", via=[(2.5, 1.0)]),
        run("up", "header", "joint"),
        run("lead", "joint", "pump"),
        pump(at=(1.5, 1.5)),
        pump("far", (2.5, 1.6)),
    )
    moved = move_part(layout, "pump", 1.5, 1.1)
    header, end = corners(moved, moved.runs["up"])
    assert end == pytest.approx((1.5, 0.9))
    assert header == pytest.approx((1.5, 0.9 - bore(layout.runs["up"])), abs=1e-3)
    assert bends(moved) == bends(layout)


def test_a_valve_in_the_lead_gives_way_to_the_pump() -> None:
    moved = move_part(fed_from_below(valve=True), "pump", 2.4, 2.0)
    assert way(moved)[-4:] == [
        pytest.approx(point) for point in [(2.4, 1.6), (2.4, 1.7), (2.4, 1.8), (2.4, 2.0)]
    ]


def test_a_pump_alone_leaves_its_lead() -> None:
    moved = move_part(fed_from_below(), "pump", 2.4, 0.9, alone=True)
    assert moved.fittings == fed_from_below().fittings


def test_a_pump_fed_from_above_draws_better_the_lower_it_stands() -> None:
    heights = [2.1, 1.2, 0.6, 0.0]
    margins = []
    for height in heights:
        worst = judge(move_part(fed_from_below(), "pump", 2.4, height)).worst()
        assert worst is not None
        margins.append(worst.ledger.margin)
    assert margins == sorted(margins)


def test_every_place_of_the_reach_map_is_that_of_the_pump_dragged_there() -> None:
    layout, ys = fed_from_below(), np.array([2.1, 1.7, 1.6, 0.9])
    reach = reach_map({"as drawn": (layout, Level.MINIMUM)}, "pump", np.array([2.4]), ys)
    for y, margin in zip(ys, reach.margin[:, 0], strict=True):
        worst = judge(move_part(layout, "pump", 2.4, float(y))).worst()
        assert worst is not None
        assert margin == pytest.approx(worst.ledger.margin)


@pytest.mark.parametrize("height", [1.7, 1.5, 0.9])
def test_the_highest_port_is_the_one_that_it_was_before_the_pump_was_lowered(height: float) -> None:
    drawn, lowered = fed_from_below(), move_part(fed_from_below(), "pump", 2.4, height)
    before, after = (ask.highest_port(each, "pump") for each in (drawn, lowered))
    assert before.value is not None
    assert after.value == pytest.approx(before.value, abs=0.01)
