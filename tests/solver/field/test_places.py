"""A tap shows what the ledger says at the ends of its element, and goes evenly between them."""

from __future__ import annotations

import pytest

from solver.field import causes, places
from solver.field.places import NoPlaceError, Place
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import Solution, solve, solve_network
from solver.network.build import build
from tests.drawings import SHIPPED


@pytest.fixture(scope="module")
def carriage() -> Solution:
    (path,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
    return solve(file.read(path).base)


def test_the_port_shows_the_ledger_s_vacuum(carriage: Solution) -> None:
    assert places.vacuum(carriage, Place("carriage")) == carriage.pumps["carriage"].vacuum


def test_a_tap_at_the_end_of_a_run_shows_its_last_entry(carriage: Solution) -> None:
    ledger = carriage.pumps["carriage"]
    last = [entry for entry in ledger.entries if entry.part == "lead" and entry.kind == "straight"][-1]
    shown = places.vacuum(carriage, Place("carriage", "lead", 100.0))
    assert shown == pytest.approx(ledger.atmosphere - last.pressure)


def test_the_vacuum_grows_evenly_up_the_riser(carriage: Solution) -> None:
    at = [places.vacuum(carriage, Place("carriage", "riser", distance)) for distance in (0.0, 0.3, 0.6)]
    assert at[0] < at[1] < at[2]
    assert at[1] - at[0] == pytest.approx(at[2] - at[1])
    heights = [places.height(carriage, Place("carriage", "riser", d)) for d in (0.0, 0.3, 0.6)]
    assert heights[1] - heights[0] == pytest.approx(0.3)


def test_at_rest_only_height_over_the_level_shows(carriage: Solution) -> None:
    ledger = carriage.pumps["carriage"]
    lift = places.height(carriage, Place("carriage")) - ledger.fluid_level
    shown = places.at_rest(carriage, Place("carriage"))
    assert shown == pytest.approx(ledger.density * 9.80665 * lift + ledger.atmosphere - ledger.surface)


def test_a_run_that_is_not_on_the_way_is_refused(carriage: Solution) -> None:
    with pytest.raises(NoPlaceError, match="not on the way"):
        places.vacuum(carriage, Place("carriage", "no such run"))


def test_a_tap_of_a_line_that_is_longer_than_drawn_stays_where_it_is_drawn() -> None:
    """The straights of the riser half as long again: its tap keeps its height, and its share of the way."""
    (path,) = (each for each in SHIPPED if each.stem == "carriage-at-altitude")
    network, place = build(file.read(path).base), Place("carriage", "riser", 0.5)
    longer = solve_network(causes.with_scaled_rows(network, ["riser"], length=1.5), Level.MINIMUM)
    drawn = solve_network(network, Level.MINIMUM)
    assert places.height(longer, place) == pytest.approx(places.height(drawn, place))
    assert places.at_rest(longer, place) == pytest.approx(places.at_rest(drawn, place))
    straight = next(each for each in drawn.pumps["carriage"].entries if each.key == "riser/straight 1")
    more = 0.5 * straight.loss * 0.5 / straight.length
    assert places.vacuum(longer, place) - places.vacuum(drawn, place) == pytest.approx(more, rel=0.02)
