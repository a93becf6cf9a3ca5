"""What the drawing expects of a reading, and no more vacuum than there can be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.expected import Expected, expected_of, is_above, is_past
from solver.field.gauges import Band
from solver.ledger.solve import solve
from tests.solver.field.carriage_bench import DRAWN, READINGS


def test_a_band_ends_where_the_fluid_boils() -> None:
    wide = Expected(20e3, 60e3, None, most=80e3)
    assert wide.band.high == 80e3
    assert wide.unbound.high > 100e3
    assert wide.is_bound
    narrow = replace(wide, deviation=1e3)
    assert narrow.band == narrow.unbound
    assert not narrow.is_bound
    assert Expected(90e3, 1e3, None, most=80e3).band == Band(80e3, 80e3)


def test_the_most_is_the_atmosphere_there_less_the_vapour_pressure() -> None:
    ledger = solve(DRAWN).pumps["carriage"]
    most = expected_of((replace(READINGS[0], layout=DRAWN),))[0].most
    assert most == pytest.approx(ledger.atmosphere - ledger.vapor_pressure)


@pytest.mark.parametrize("more", [-100.0, 100.0])
def test_a_reading_is_past_what_is_allowed_by_its_upper_end(more: float) -> None:
    reading = replace(READINGS[0], layout=DRAWN)
    (expected,) = expected_of((reading,))
    assert expected.allowed is not None
    read = replace(reading, band=Band(0.0, expected.allowed + more))
    assert is_above(read, expected) is is_past(read) is (more > 0.0)
