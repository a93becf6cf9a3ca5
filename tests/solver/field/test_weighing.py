"""A cause in all its sizes at once, as columns, gives what each size gives by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.answers import inputs
from solver.field import weighing
from solver.field.causes import Cause, CauseKind, causes
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.states import Reading
from solver.field.weighing import Bench
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.network.build import build
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED, twins

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
COLD = inputs.temperature(DRAWN, ("",), 298.15, Level.MINIMUM)
READINGS = (
    Reading(COLD, Level.MINIMUM, Place("carriage"), Band(9e3, 9e3), Gauge("A")),
    Reading(DRAWN, Level.MINIMUM, Place("carriage", "riser", 0.2), Band(1e3, 1e3), Gauge("B")),
    Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(4e3, 4e3), Gauge("A"), resting=True),
)
BENCH = Bench(READINGS)
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"], READINGS))


@pytest.mark.parametrize("cause", ALL, ids=[each.name for each in ALL])
def test_all_sizes_at_once_are_each_size_by_itself(cause: Cause) -> None:
    for number, reading in enumerate(READINGS):
        shown = BENCH.predicted(cause, number)[0]
        for k in (0, len(cause.sizes) // 2, -1):
            size = cause.sizes[k]
            alone = weighing.at(cause.change(build(reading.layout), size), reading)
            assert shown[k] == pytest.approx(alone + cause.offset(size, reading), rel=1e-9, abs=1e-6)


def test_one_gauge_errs_alike_in_all_its_readings() -> None:
    one, _, again = BENCH.gauges[0]
    assert one > again > 0.0
    assert BENCH.gauges[0, 1] == 0.0


def test_a_wide_band_counts_by_the_chance_to_lie_in_it() -> None:
    wide = Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(0.0, 10e3), Gauge())
    covariance = np.full((3, 1, 1), 1e4)
    likely = weighing.log_likelihood((wide,), np.array([[5e3], [10e3], [12e3]]), covariance)
    assert likely[0] == pytest.approx(0.0, abs=1e-6)
    assert likely[1] == pytest.approx(np.log(0.5))
    assert likely[2] < -100.0


def test_a_blocked_screen_with_its_bypass_open_has_a_lower_bound_only() -> None:
    own = DRAWN.intakes["strainer"].screen
    assert own is not None
    wide = replace(
        own,
        bypass=quantity("5 kPa", Kind.PRESSURE),
        bypass_flow=quantity("400 L/min", Kind.FLOW),
        bypass_drop=quantity("6 kPa", Kind.PRESSURE),
        bypass_viscosity=quantity("40 cSt", Kind.VISCOSITY),
    )
    cold = inputs.screen_put(COLD, "strainer", wide)
    screen = next(each for each in ALL if each.kind is CauseKind.SCREEN)
    plateau = weighing.at(screen.change(build(cold), 0.95), READINGS[0])
    reading = Reading(cold, Level.MINIMUM, Place("carriage"), Band(plateau, plateau), Gauge())
    weighed = weighing.weigh(screen, Bench((reading,)))
    assert weighed.bound_only
    assert weighed.band[0] > 0.5
    shut = Reading(COLD, Level.MINIMUM, Place("carriage"), Band(plateau, plateau), Gauge())
    assert not weighing.weigh(screen, Bench((shut,))).bound_only


def test_of_parallel_lines_fewer_sizes_are_solved_and_agree_with_each_by_itself() -> None:
    drawn = twins()
    pump = next(iter(drawn.pumps))
    reading = Reading(drawn, Level.MINIMUM, Place(pump), Band(9e3, 9e3), Gauge("A"))
    bench = Bench((reading,))
    assert bench.networks[0].closures
    listed = causes(drawn, solve(drawn).pumps[pump], (reading,))
    fluid = next(each for each in listed if each.kind is CauseKind.FLUID)
    shown = bench.predicted(fluid, 0)[0]
    for k in (0, 10, -1):
        alone = weighing.at(fluid.change(bench.networks[0], fluid.sizes[k]), reading)
        assert shown[k] == pytest.approx(alone, rel=0.02)
