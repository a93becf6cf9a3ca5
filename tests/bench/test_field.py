"""What it costs to explain readings, against a plain solve of the same drawing in the same run."""

from __future__ import annotations

from time import process_time

import pytest

from solver.field.explain import explain
from solver.field.gauges import Band, Gauge, Tube
from solver.field.places import Place
from solver.field.states import Reading
from solver.layout.parts import Level
from solver.ledger.solve import solve, solve_network
from solver.network.build import build
from tests import drawings
from tests.bench.clock import medians, tell

pytestmark = pytest.mark.bench

MOST_OF_RING = 90.0
"""Plain solves of the ring that all causes may take at one reading; with a search for every slope: 155."""


def test_readings_of_lines_in_parallel_are_explained_in_few_solves() -> None:
    drawn = drawings.ring()
    network, pump = build(drawn), "large"
    vacuum = solve(drawn).pumps[pump].vacuum + 3e3
    gauge = Gauge("A", tube=Tube.EMPTY, accuracy=0.01, zero=0.0)
    reading = Reading(drawn, Level.MINIMUM, Place(pump), Band(vacuum, vacuum), gauge)
    whole, plain = medians(
        lambda: explain([reading]), lambda: solve_network(network), repeats=11, clock=process_time
    )
    tell("readings of a ring explained", 1e3 * whole, "ms")
    tell("against a plain solve of it", whole / plain, "solves", MOST_OF_RING)
    assert whole / plain <= MOST_OF_RING
