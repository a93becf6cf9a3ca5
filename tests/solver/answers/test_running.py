"""How each question of the running line changes the drawing."""

from dataclasses import replace

import pytest

from solver.answers import running
from solver.layout.parts import Site
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import metres
from tests.solver.checking import lifted, with_pump


def varied(question, layout):
    solution = solve(layout)
    return question(solution, solution.pumps["pump"])


def test_a_barometer_takes_the_place_of_the_elevation_and_keeps_the_allowance():
    site = Site(elevation=metres(500.0), weather_allowance=quantity("2 kPa", Kind.PRESSURE))
    variation = varied(running.barometer, replace(lifted(), site=site))
    assert variation.now == pytest.approx(95_461.0, abs=10.0)  # ISO 2533 at 500 m, geometric
    there = variation.change(90e3)
    assert solve(there).pumps["pump"].atmosphere == pytest.approx(88e3)
    assert there.site.elevation is None


def test_the_flow_alone_leaves_the_speed():
    turning = with_pump(lifted(), speed=Quantity("1500 rpm", 25.0))
    there = varied(running.pump_flow, turning).change(3e-3)
    assert (there.pumps["pump"].flow.si, there.pumps["pump"].speed.si) == (3e-3, 25.0)


def test_a_pump_given_by_its_flow_has_no_speed_to_ask_about():
    assert varied(running.speed, lifted()) == "pump is given by its flow"


def test_hotter_is_worse():
    variation = varied(running.hottest_temperature, lifted())
    assert variation.worst > variation.now > variation.best
    assert variation.change(350.0).fluid.temperature.si == 350.0
