"""How likely readings are with a cause: gauges that err, wide bands, a bypass that hides the size."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.answers import inputs
from solver.field import prediction, weighing
from solver.field.causes import CauseKind
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.prediction import ReadingNetworks
from solver.field.states import Reading
from solver.layout.parts import Level
from solver.ledger.solve import solve_network
from solver.network.build import build
from solver.quantities.units import Kind, quantity
from tests.solver.field.carriage_bench import ALL, BENCH, COLD, DRAWN, READINGS


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
    plateau = prediction.at(screen.change(build(cold), 0.95), READINGS[0])
    reading = Reading(cold, Level.MINIMUM, Place("carriage"), Band(plateau, plateau), Gauge())
    weighed = weighing.weigh(screen, ReadingNetworks((reading,)))
    assert weighed.bound_only
    assert weighed.band[0] > 0.5
    shut = Reading(COLD, Level.MINIMUM, Place("carriage"), Band(plateau, plateau), Gauge())
    assert not weighing.weigh(screen, ReadingNetworks((shut,))).bound_only


def test_a_bypass_without_its_point_takes_what_lies_between_its_opening_and_the_budget() -> None:
    own = DRAWN.intakes["strainer"].screen
    assert own is not None
    cold = inputs.screen_put(COLD, "strainer", replace(own, bypass=quantity("5 kPa", Kind.PRESSURE)))
    reading = replace(READINGS[0], layout=cold)
    screen = next(each for each in ALL if each.kind is CauseKind.SCREEN)
    weighed = weighing.weigh(screen, ReadingNetworks((reading, replace(reading, resting=True))))
    blocked = screen.change(build(cold), screen.sizes[-1])
    budgeted = prediction.at(blocked, reading)
    (row,) = (each for each in blocked.rows if each.cap == 5e3)
    own_drop = next(e.loss for e in solve_network(blocked).pumps["carriage"].entries if e.key == row.key)
    held = budgeted - (own_drop - 5e3)
    assert held < weighed.vacuum[-1, 0] < budgeted
    assert weighed.vacuum[-1, 0] == pytest.approx((held + budgeted) / 2.0)
    assert weighed.covariances[-1, 0, 0] > (budgeted - held) ** 2 / 12.0
    assert weighed.vacuum[-1, 1] == pytest.approx(weighed.vacuum[0, 1])  # nothing flows at rest


def test_a_breather_leaves_at_rest_any_share_of_what_it_took_unless_that_held() -> None:
    drawn = prediction.at(build(DRAWN), READINGS[1])
    running = replace(READINGS[1], band=Band(drawn + 6e3, drawn + 6e3))
    at_rest = prediction.at(build(DRAWN), READINGS[2])
    breather = next(each for each in ALL if each.kind is CauseKind.SURFACE)

    def peak(left: float, held: bool) -> float:
        shown = at_rest + left
        rest = replace(READINGS[2], band=Band(shown, shown), held=held)
        weighed = weighing.weigh(breather, ReadingNetworks((running, rest)))
        return float(weighed.peaks[weighed.best])

    whole = peak(6e3, False)
    assert peak(0.0, False) == pytest.approx(whole, abs=0.5)
    assert peak(3e3, False) == pytest.approx(whole, abs=0.5)
    assert peak(0.0, True) < whole - 1.0  # it held, and nothing was left: no plugged breather
