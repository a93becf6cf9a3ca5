"""What stands or runs where nothing should, and the weather, from both sides."""

from dataclasses import replace

import pytest

from solver.findings import site
from solver.layout.parts import Site
from solver.ledger.solve import solve
from solver.properties.atmosphere import LOW_PRESSURE_DAY
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, intake, metres, pump, run, tank
from tests.solver.checking import found, lifted, only, over_the_wall, with_floor

INSIDE, WALL, WEATHER = "pump inside a reservoir", "line through a wall", "no weather allowance"


# The pump


@pytest.mark.parametrize(("z", "where"), [(0.39, "under the fluid"), (0.41, "above the fluid")])
def test_a_port_inside_the_tank(z, where):
    one = only(lifted(z=z, lead=0.2), INSIDE)
    assert (one.severity, one.part, one.key) == ("caution", "pump", "pump/port")
    assert one.text == f"pump: its port lies inside tank, {where}"


@pytest.mark.parametrize(("z", "inside"), [(0.698, True), (0.7005, False)])
def test_the_lid_is_outside(z, inside):
    assert bool(found(lifted(z=z, lead=0.2), INSIDE)) is inside


@pytest.mark.parametrize(("lead", "inside"), [(0.298, True), (0.3005, False)])
def test_the_wall_is_outside(lead, inside):
    assert bool(found(lifted(z=0.5, lead=lead), INSIDE)) is inside


def test_a_pump_inside_another_tank_counts_too():
    other = tank("day tank", at=(3.0, 0.0))
    layout = drawing(
        tank(), other, intake(), pump(at=(3.5, 0.3)),
        run("riser", "strainer", "pump", via=[(0.9, 1.2), (3.5, 1.2)]),
    )  # fmt: skip
    assert "inside day tank" in only(layout, INSIDE).text


# The line


def through_the_wall(z):
    lead = run("lead", "strainer", "pump", via=[(0.9, z)], bend_radius=0.05)
    return drawing(intake(at=(0.9, 0.12)), pump(at=(2.0, z)), lead)


@pytest.mark.parametrize(("z", "wrong"), [(0.54, True), (0.56, False)])
def test_a_wall_is_passed_under_the_fluid_at_nozzles_only(z, wrong):
    """The normal level stands at 0.55 m: over it a hole in the wall holds no fluid back."""
    hits = found(through_the_wall(z), WALL)
    assert bool(hits) is wrong
    if wrong:
        assert (hits[0].severity, hits[0].part, hits[0].value) == ("caution", "lead", pytest.approx(z))


def test_through_the_lid_and_from_a_nozzle_is_how_lines_are_built():
    nozzle = drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"), pump(at=(2.2, 0.12)), run("lead", "nozzle", "pump")
    )
    for layout in (lifted(), over_the_wall(), nozzle):
        assert not found(layout, WALL)


def test_a_line_through_the_floor():
    layout = drawing(intake(at=(0.9, 0.12)), pump(at=(0.9, -0.5)), run("drop", "strainer", "pump"))
    one = only(layout, WALL)
    assert one.value == pytest.approx(0.0)
    assert "of tank under the fluid, at 0.0 m, without a nozzle" in one.text


def test_a_nozzle_s_line_that_runs_back_through_its_tank():
    layout = drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        pump(at=(-1.0, 0.12)),
        run("lead", "nozzle", "pump"),
    )
    assert only(layout, WALL).part == "lead"


def test_a_line_through_a_tank_that_does_not_feed_it():
    other = tank("day tank", at=(1.6, 0.9))
    crossing = drawing(
        tank(), other, intake(), pump(at=(3.5, 1.2)), run("riser", "strainer", "pump", via=[(0.9, 1.2)])
    )
    assert only(crossing, WALL).text == "riser: it runs through day tank, which does not feed it"
    beside = replace(crossing, reservoirs={"tank": tank(), "day tank": tank("day tank", at=(1.6, 1.3))})
    assert not found(beside, WALL)


def test_a_run_that_ends_inside_the_tank_is_no_crossing():
    layout = drawing(intake(), pump(at=(0.9, 0.3)), run("tail", "strainer", "pump"))
    assert not found(layout, WALL)
    assert found(layout, INSIDE)


def test_a_line_along_the_wall_outside_is_no_crossing():
    layout = drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        pump(at=(1.2, 0.9)),
        run("up", "nozzle", "pump"),
    )
    assert not found(layout, WALL)


# The weather


def at_site(**keys):
    return replace(lifted(), site=Site(**keys))


def test_no_allowance_is_said_once_and_zero_is_an_answer():
    one = only(lifted(), WEATHER)
    assert (one.severity, one.part) == ("note", "tank")
    nothing = quantity("0 inHg", Kind.PRESSURE)
    assert not found(at_site(elevation=metres(0.0), weather_allowance=nothing), WEATHER)


def test_a_margin_that_a_low_pressure_day_takes_is_a_caution():
    left = solve(lifted()).pumps["pump"].margin
    tight = only(with_floor(lifted(), 91e3), WEATHER)
    assert left > LOW_PRESSURE_DAY > solve(with_floor(lifted(), 91e3)).pumps["pump"].margin
    assert tight.severity == "caution"


def test_a_barometer_has_seen_the_weather():
    assert not found(at_site(barometer=quantity("29 inHg", Kind.PRESSURE)), WEATHER)


def test_a_line_that_touches_a_wall_and_crosses_it_elsewhere_is_measured():
    """One point and two stretches in common, which the geometry library takes for a mixed collection."""
    path = ((1.2, 0.3), (1.45, 0.3), (-0.6379, 2.1488), (1.75, 0.3))
    corners = ((0.0, 0.15), (1.2, 0.15), (1.2, 0.95), (0.0, 0.95))
    box = replace(tank(), outline=tuple((metres(x), metres(y)) for x, y in corners))
    assert site._inside_length(path, box.outline) == pytest.approx(0.6466 + 0.3662, abs=1e-4)
