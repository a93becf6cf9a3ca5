"""What a gauge shows and what is at its tap differ by the fluid in its tube and by its zero."""

from __future__ import annotations

import pytest

from solver.field.gauges import Gauge, Tube, at_tap, too_coarse
from solver.quantities.units import System


def test_a_full_tube_takes_its_fluid_off() -> None:
    band = at_tap(20e3, 20e3, Gauge(over_tap=2.0, tube=Tube.FULL), 870.0)
    assert band.low == band.high == pytest.approx(20e3 - 870.0 * 9.80665 * 2.0)


def test_two_metres_of_oil_are_five_inches_of_mercury() -> None:
    """Hydrostatics: 2 m of 870 kg/m3 under 9.80665 m/s2, in inches of mercury at 32 degF."""
    off = 20e3 - at_tap(20e3, 20e3, Gauge(over_tap=2.0, tube=Tube.FULL), 870.0).low
    assert off / 3386.389 == pytest.approx(5.04, abs=0.01)


def test_an_empty_tube_changes_nothing_and_a_zero_is_taken_off() -> None:
    band = at_tap(20e3, 22e3, Gauge(over_tap=2.0, tube=Tube.EMPTY, zero=500.0), 870.0)
    assert (band.low, band.high) == (19.5e3, 21.5e3)


def test_a_tube_that_is_not_known_gives_a_band_between_full_and_empty() -> None:
    full = at_tap(20e3, 20e3, Gauge(over_tap=1.0, tube=Tube.FULL), 870.0)
    unknown = at_tap(20e3, 20e3, Gauge(over_tap=1.0), 870.0)
    assert (unknown.low, unknown.high) == (full.low, 20e3)
    below = at_tap(20e3, 20e3, Gauge(over_tap=-1.0), 870.0)
    assert below.low == 20e3
    assert below.high > 20e3


def test_a_class_that_is_not_noted_counts_as_a_plain_gauge_s() -> None:
    assert Gauge().error == pytest.approx(0.016 * 101_325.0)
    assert Gauge(zero=0.0).bias < Gauge().bias


def test_a_gauge_whose_error_is_over_a_quarter_of_what_is_allowed_is_too_coarse_and_which_would_do() -> None:
    gauge = Gauge("A", accuracy=0.016, range=100e3)
    assert too_coarse(gauge, 6.5e3, System.SI) == ""
    assert too_coarse(gauge, 4.8e3, System.SI) == (
        "The gauge is too coarse here: it may be off by 1.6 kPa, more than a quarter of the 4.8 kPa allowed. "
        "Take class 1 of 100 kPa, or class 1.6 of no more than 75.0 kPa."
    )
    assert "Take class 1.6 of no more than 1.6 kPa." in too_coarse(gauge, 100.0, System.SI)
    assert too_coarse(gauge, -500.0, System.SI) == ""
