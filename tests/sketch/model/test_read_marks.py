"""The newest reading at each place, in its own words; none that cannot be compared, or at rest."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketch.model.read_marks import band_text, newest_readings
from solver.field.gauges import Band
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.sketch.views.gauged import gauged


def test_the_newest_at_each_place_stands_in_walking_order(tmp_path: Path) -> None:
    layout = file.read(gauged(tmp_path)).base
    tap, port = newest_readings(layout).marks["transfer"]
    assert (tap.place.run, port.place.run) == ("crossing", "")
    assert port.when == "2026-04-01"
    assert port.at == pytest.approx(solve(layout).pumps["transfer"].entries[-1].distance)
    assert 0.0 < tap.at < port.at
    assert (tap.over, port.over) == (False, True)
    assert port.position == (3.8, 0.5)
    assert port.short(System.SI) == "read 40.0, 2026-04-01"
    text = port.text(System.SI)
    assert text.startswith("Stop the pump: read 2026-04-01 at the port, 35 °C: 40.0 kPa, expected ")
    assert tap.text(System.US).startswith("read 2026-02-01 at crossing")


def test_another_pump_has_none_of_them(tmp_path: Path) -> None:
    assert set(newest_readings(file.read(gauged(tmp_path)).base).marks) == {"transfer"}


def test_of_a_place_whose_newest_cannot_be_compared_the_one_before_stands(tmp_path: Path) -> None:
    layout = file.read(gauged(tmp_path)).base
    newest = replace(layout.readings[2], when="2026-05-01", case="no such case")
    (_, port) = newest_readings(replace(layout, readings=(*layout.readings, newest))).marks["transfer"]
    assert port.when == "2026-04-01"


def test_of_one_day_the_time_decides_and_without_it_the_order_in_the_file(tmp_path: Path) -> None:
    layout = file.read(gauged(tmp_path)).base
    again = replace(layout.readings[2], vacuum=layout.readings[0].vacuum)
    (_, port) = newest_readings(replace(layout, readings=(*layout.readings, again))).marks["transfer"]
    assert port.short(System.SI) == "read 9.0, 2026-04-01"
    timed = replace(layout.readings[2], when="2026-04-01 07:00")
    readings = (*layout.readings[:2], timed, replace(again, when="2026-04-01 06:00"))
    (_, port) = newest_readings(replace(layout, readings=readings)).marks["transfer"]
    assert port.short(System.SI) == "read 40.0, 2026-04-01"


def test_a_band_round_the_atmosphere_says_on_which_side_each_end_lies() -> None:
    texts = [
        band_text(Band(low, high), System.SI) for low, high in ((-500.0, 400.0), (100.0, 400.0), (-9e2, -5e2))
    ]
    assert texts == ["0.5 kPa pressure to 0.4 kPa vac.", "0.1 to 0.4 kPa", "0.5 to 0.9 kPa pressure"]


def test_a_mark_on_a_scale_has_no_unit_and_still_says_that_it_is_a_pressure(tmp_path: Path) -> None:
    port = newest_readings(file.read(gauged(tmp_path)).base).marks["transfer"][-1]
    assert replace(port, read=Band(-5e2, -5e2)).short(System.SI) == "read 0.5 pressure, 2026-04-01"
    assert replace(port, read=Band(-9e2, -5e2)).short(System.SI) == "read 0.5 to 0.9 pressure, 2026-04-01"
