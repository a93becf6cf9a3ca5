"""From a written reading to the vacuum at its tap, in the state that was noted; what was not widens it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.field import states, weighing
from solver.field.expected import expected_of
from solver.field.gauges import Band
from solver.field.prediction import ReadingNetworks
from solver.field.states import Prepared, prepare
from solver.formulas.flow import GRAVITY, SEA_LEVEL
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import RISER, ring_text

NOTED = """
state.fluid.temperature = "45 degC"
state.pumps.carriage.speed = "1450 rpm"
state.level = "minimum"
measured_at = "line"
"""
GAUGE = 'gauge = { over_port = "0 m", tube = "empty", class = 1.0, zero = "0 kPa" }'


def written(reading: str, text: str = RISER) -> Prepared:
    """The first reading of a drawing, with the keys as typed."""
    head = text.replace("format = 1", "format = 2").partition("[alternatives")[0]
    return prepare(
        file.parse(f'{head}\n[[readings]]\nwhen = "2026-03-04"\npump = "carriage"\n{reading}').base
    )[0]


def test_a_reading_with_everything_noted_is_a_point() -> None:
    (reading,) = written(f'vacuum = "10 kPa"\n{GAUGE}{NOTED}').readings
    assert (reading.band.low, reading.band.high) == (10e3, 10e3)
    assert (reading.doubts, reading.temperature) == ((), states.IN_LINE)


def test_what_was_not_noted_widens_what_is_expected_and_is_listed() -> None:
    noted = written(f'vacuum = "10 kPa"\n{GAUGE}{NOTED}')
    not_noted = written('vacuum = "10 kPa"')
    assert noted.doubts == ()
    for word in ("height", "vented", "level", "temperature", "speed"):
        assert any(word in doubt for doubt in not_noted.doubts), word
    sharp, wide = (expected_of(each.readings)[0].deviation for each in (noted, not_noted))
    assert wide > 3 * sharp


@pytest.mark.parametrize("left_out", ["fluid.temperature", "pumps.carriage.speed", "level"])
def test_each_figure_of_the_state_that_is_not_noted_widens_it(left_out: str) -> None:
    lines = "\n".join(line for line in NOTED.splitlines() if left_out not in line)
    sharp, wide = (
        expected_of(written(f'vacuum = "10 kPa"\n{GAUGE}\n{each}').readings)[0].deviation
        for each in (NOTED, lines)
    )
    assert wide > 1.05 * sharp


def test_a_tube_that_is_not_known_lies_on_one_side_of_the_reading() -> None:
    (reading,) = written(f'vacuum = "10 kPa"\ngauge = {{ over_port = "0.5 m" }}{NOTED}').readings
    density = solve(reading.layout).pumps["carriage"].density
    assert reading.band.high == pytest.approx(10e3)
    assert reading.band.low == pytest.approx(10e3 - 0.5 * GRAVITY * density)


def test_what_is_in_a_tube_is_one_unknown_of_all_readings_of_its_gauge() -> None:
    """It moves a reading running and one at rest alike, and takes nothing from their distance."""
    both = 'vacuum = "14 kPa"\nrest_vacuum = "9 kPa"\n'
    running, rest = written(f'{both}gauge = {{ over_port = "0.5 m", zero = "0 kPa" }}{NOTED}').readings
    column = running.band.high - running.band.low
    assert (running.column, rest.column) == (pytest.approx(column), pytest.approx(column))
    assert running.half_full.low == running.half_full.high == pytest.approx(14e3 - column / 2)
    covariance = ReadingNetworks((running, rest)).mountings
    assert covariance == pytest.approx(np.full((2, 2), column**2 / 12.0))
    apart = weighing.over_rest(running, rest)
    assert (apart.low, apart.high) == (pytest.approx(5e3), pytest.approx(5e3))
    # What was read stands as the whole band, so that the drawing's own is not widened by it once more.
    known = written(f'{both}gauge = {{ over_port = "0.5 m", tube = "full", zero = "0 kPa" }}{NOTED}').readings
    one, other = (expected_of(each)[0].deviation for each in ((running, rest), known))
    assert one == pytest.approx(other)


def test_a_gauge_that_hangs_under_its_tap_shows_less_where_its_tube_is_full() -> None:
    (reading,) = written(f'vacuum = "10 kPa"\ngauge = {{ over_port = "-0.5 m" }}{NOTED}').readings
    assert reading.column < 0.0
    assert reading.band.low == pytest.approx(10e3)
    assert reading.half_full.low == pytest.approx(10e3 - reading.column / 2)


def test_the_height_of_a_gauge_is_over_its_port_also_for_a_tap() -> None:
    tap = 'run = "riser"\ndistance = "0.28 m"\n'
    gauge = 'gauge = { over_port = "0 m", tube = "full", zero = "0 kPa" }'
    (reading,) = written(f'{tap}vacuum = "10 kPa"\n{gauge}{NOTED}').readings
    assert reading.gauge.over_tap == pytest.approx(0.60, abs=1e-6)  # the port at 1.00 m, the tap at 0.40 m


def test_absolute_and_sea_level_figures_are_made_ones_at_the_site() -> None:
    high = RISER.replace('elevation = "0 m"', 'elevation = "1650 m"')
    atmosphere = solve(file.parse(high).base).atmosphere
    (absolute,) = written(f'pressure = "70 kPa abs"\n{GAUGE}{NOTED}', high).readings
    assert absolute.band.low == pytest.approx(atmosphere - 70e3)
    sea = GAUGE.replace("zero", 'reference = "sea level", zero')
    (reduced,) = written(f'vacuum = "30 kPa"\n{sea}{NOTED}', high).readings
    assert reduced.band.low == pytest.approx(30e3 - (SEA_LEVEL - atmosphere))
    assert (reduced.shown, reduced.at_sea_level) == (Band(30e3, 30e3), True)
    assert (absolute.shown, absolute.at_sea_level) == (None, False)
    assert "the barometer was not read" in {doubt.words for doubt in absolute.doubts}
    day = 'state.site.barometer = "85 kPa"'
    (read,) = written(f'pressure = "70 kPa abs"\n{GAUGE}{NOTED}{day}', high).readings
    assert (read.band.low, read.doubts) == (15e3, ())


def test_a_gauge_pressure_below_zero_is_a_vacuum() -> None:
    (reading,) = written(f'pressure = ["-12 kPa", "-10 kPa"]\n{GAUGE}{NOTED}').readings
    assert (reading.band.low, reading.band.high) == (10e3, 12e3)


def test_a_reading_at_rest_stands_by_itself() -> None:
    (reading,) = written(f'rest_vacuum = "5 kPa"\n{GAUGE}{NOTED}').readings
    assert reading.resting
    weight = solve(reading.layout).pumps["carriage"].density * GRAVITY * 0.6  # port 1.00 m, level 0.40 m
    assert expected_of((reading,))[0].vacuum == pytest.approx(weight)


def test_the_figures_of_a_case_come_before_those_of_the_state() -> None:
    text = RISER.replace(
        "[alternatives", '[cases.cold]\nfluid.temperature = "10 degC"\nlevel = "normal"\n\n[alternatives'
    )
    head = text.partition("[alternatives")[0]
    (reading,) = written(
        'vacuum = "9 kPa"\ncase = "cold"\nstate.fluid.temperature = "12 degC"', head
    ).readings
    assert reading.layout.fluid.temperature.si == pytest.approx(285.15)
    assert reading.layout.level == "normal"
    assert "no case" in written('vacuum = "9 kPa"\ncase = "hot"').why_not


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ('run = "gone"\ndistance = "0.1 m"\nvacuum = "9 kPa"', "it has no place"),
        ('run = "riser"\ndistance = "9 m"\nvacuum = "9 kPa"', "shorter than its distance"),
        ('run = "riser"\njoint = "tee"\nvacuum = "9 kPa"', "does not end on tee"),
        ('line = "old"\nvacuum = "9 kPa"', "another line: old"),
        ('vacuum = "9 kPa"\nstate.fluid.temperatur = "9 degC"', "readings[0].state.fluid.temperatur"),
        ('vacuum = "9 kPa"\nstate.fluid.temperature = "-60 degC"', "cannot be solved"),
        ('vacuum = "9 kPa"\nstrokes.carriage = "at rest"', "rest_vacuum"),
    ],
)
def test_what_cannot_be_compared_says_why(typed: str, why: str) -> None:
    prepared = written(typed)
    assert why in prepared.why_not
    assert prepared.readings == ()


def test_a_figure_for_a_part_that_is_gone_is_passed_over_and_listed() -> None:
    prepared = written('vacuum = "9 kPa"\nstate.pumps.pilot.speed = "900 rpm"')
    assert prepared.readings
    assert prepared.passed_over == ("pumps.pilot.speed",)


def test_readings_of_another_line_are_not_compared() -> None:
    base = file.parse(RISER).base
    reading = replace(written('vacuum = "9 kPa"').logged, line="Half speed")
    half: Layout = replace(base, readings=(reading, replace(reading, line="")), built="2026-03-05")
    assert [each.why_not[:27] for each in prepare(half)] == [
        "it was read on another line",
        "it was read before this line"[:27],
    ]
    assert prepare(half, "Half speed")[0].why_not == ""
    assert "the drawing itself" in prepare(half, "Half speed")[1].why_not


def test_another_pump_that_may_have_run_widens_the_band() -> None:
    text = ring_text()
    names = list(file.parse(text).base.pumps)
    head = text.replace("format = 1", "format = 2").partition("[alternatives")[0]
    lines = f'\n[[readings]]\nwhen = "2026-03-04"\npump = "{names[0]}"\nvacuum = "9 kPa"\n'
    (prepared,) = prepare(file.parse(head + lines).base)
    assert any(f"whether {names[1]} ran" in doubt for doubt in prepared.doubts)


def test_a_run_that_is_not_on_the_way_to_its_pump_is_no_place() -> None:
    text = file.parse(ring_text())
    layout = text.base
    pumps, far = list(layout.pumps), {}
    for name in pumps:
        on_way = {entry.part for entry in solve(layout).pumps[name].entries}
        far[name] = [run for run in layout.runs if run not in on_way]
    pump = next(name for name in pumps if far[name])
    reading = LoggedReading(
        "2026-03-04",
        pump,
        far[pump][0],
        quantity("0 m", Kind.LENGTH),
        vacuum=(quantity("9 kPa", Kind.VACUUM),),
    )
    (prepared,) = prepare(replace(layout, readings=(reading,)))
    assert prepared.why_not.startswith("it has no place")


def test_a_pump_that_rests_in_the_drawing_and_was_read_is_compared_in_its_own_state() -> None:
    still = RISER.replace('limit = { vacuum = "7 inHg" }', 'limit = { vacuum = "7 inHg" }\nat_rest = true', 1)
    prepared = written('rest_vacuum = "5 kPa"', still)
    assert prepared.readings[0].resting
    assert expected_of(prepared.readings)[0].deviation > 0.0


def test_a_fluid_at_the_end_of_its_figures_is_as_unsure_as_another() -> None:
    """The colder side cannot be solved there: the warmer one stands in its place."""
    short = RISER.replace("coldest_start", "# coldest_start").replace(
        'temperature = "45 degC"', 'temperature = "45 degC"\npour_point = "44 degC"', 1
    )
    free = expected_of(written('vacuum = "9 kPa"', RISER).readings)[0].deviation
    assert expected_of(written('vacuum = "9 kPa"', short).readings)[0].deviation > 0.5 * free
