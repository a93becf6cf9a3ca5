"""A cause in all its sizes at once, as columns, gives what each size gives by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field import prediction
from solver.field.causes import Cause, CauseKind, causes, unseen
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.prediction import ReadingNetworks
from solver.field.states import Reading
from solver.layout.parts import Level
from solver.ledger.solve import solve, solve_network
from solver.network.build import build
from tests.drawings import narrowed, twins
from tests.solver.checking import laminar_resistance
from tests.solver.field.carriage_bench import ALL, BENCH, READINGS


@pytest.mark.parametrize("cause", ALL, ids=[each.name for each in ALL])
def test_all_sizes_at_once_are_each_size_by_itself(cause: Cause) -> None:
    for number, reading in enumerate(READINGS):
        shown = BENCH.predicted(cause, number)[0]
        for k in (0, len(cause.sizes) // 2, -1):
            size = cause.sizes[k]
            alone = prediction.at(cause.change(build(reading.layout), size), reading)
            assert shown[k] == pytest.approx(alone + cause.offset(size, reading), rel=1e-9, abs=1e-6)


def test_of_parallel_lines_fewer_sizes_are_solved_and_agree_with_each_by_itself() -> None:
    drawn = twins()
    pump = next(iter(drawn.pumps))
    reading = Reading(drawn, Level.MINIMUM, Place(pump), Band(9e3, 9e3), Gauge("A"))
    bench = ReadingNetworks((reading,))
    assert bench.networks[0].closures
    listed = causes(drawn, solve(drawn).pumps[pump], (reading,))
    fluid = next(each for each in listed if each.kind is CauseKind.FLUID)
    shown = bench.predicted(fluid, 0)[0]
    for k in (0, 10, -1):
        alone = prediction.at(fluid.change(bench.networks[0], fluid.sizes[k]), reading)
        assert shown[k] == pytest.approx(alone, rel=0.02)


def test_what_nobody_has_measured_of_a_narrowing_moves_a_reading_in_laminar_flow_too() -> None:
    """There its coefficient of laminar flow stands in the place of the turbulent one."""
    drawn = narrowed()
    reading = Reading(drawn, Level.MINIMUM, Place("press"), Band(9e3, 9e3), Gauge("A"))
    as_drawn, _, more, *_ = ReadingNetworks((reading,)).predicted(unseen(CauseKind.NOTHING, "", ""), 0)[:, 0]
    taken = prediction.RESISTANCE * laminar_resistance(drawn, "press")
    assert more - as_drawn == pytest.approx(taken, rel=1e-6)


def test_readings_of_one_state_are_solved_at_once() -> None:
    alike = (READINGS[0], replace(READINGS[0], place=Place("carriage", "riser", 0.2)), *READINGS)
    bench = ReadingNetworks(alike)
    assert bench.states == ((0, 1, 2), (3,))
    screen = next(each for each in ALL if each.kind is CauseKind.SCREEN)
    for number in range(len(alike)):
        alone = ReadingNetworks((alike[number],)).predicted(screen, 0)
        assert bench.predicted(screen, number) == pytest.approx(alone, rel=1e-9, abs=1e-6)


def test_in_parallel_lines_what_is_not_known_moves_a_reading_by_more_where_it_loses_more() -> None:
    drawn = twins()
    pump = next(iter(drawn.pumps))
    reading = Reading(drawn, Level.MINIMUM, Place(pump), Band(9e3, 9e3), Gauge("A"))
    bench = ReadingNetworks((reading,))
    listed = causes(drawn, solve(drawn).pumps[pump], (reading,))
    fluid = next(each for each in listed if each.kind is CauseKind.FLUID)
    shown = bench.predicted(fluid, 0)
    slopes = shown[1] - shown[0]
    assert (slopes > 0.0).all()
    assert slopes[-1] > slopes[0]
    thicker_yet = replace(fluid, sizes=(fluid.sizes[10], fluid.sizes[10] * 1.06))
    one, other = bench.predicted(thicker_yet, 0)[0]
    assert other - one == pytest.approx(slopes[10], rel=0.35)  # never solved there, and near enough


def test_a_search_that_begins_with_flows_comes_to_the_same_split() -> None:
    drawn = twins()
    network = build(drawn)
    flows = solve_network(network).flows
    again = solve_network(replace(network, begun=flows))
    assert again.flows == pytest.approx(flows, rel=1e-8)
