"""How a gauge is fitted: as the readings of its own place note it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.gauges import Gauge
from solver.field.mounts import correction, mount_of
from solver.field.places import Place
from solver.formulas.flow import GRAVITY
from solver.layout import file
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

WALL = next(file.read(path).base for path in SHIPPED if path.stem == "over-the-bund-wall")


def gauge_of(run: str, distance: float, *read: LoggedReading) -> Gauge:
    return mount_of(replace(WALL, readings=read), Place("transfer", run, distance)).gauge


def test_a_gauge_of_another_place_and_one_taken_away_are_not_those_of_the_port() -> None:
    """Of a fine gauge at a tap the port's has not the class; nor has a new one the class of the old."""
    fine = LoggedGauge("B", accuracy=0.6, range=quantity("60 kPa", Kind.VACUUM))
    old = LoggedGauge("A", accuracy=1.0, range=quantity("100 kPa", Kind.VACUUM), tube="empty")
    at = {"run": "lead", "distance": quantity("0.4 m", Kind.LENGTH)}
    tap = LoggedReading("2026-03-05", "transfer", gauge=fine, **at)  # type: ignore[arg-type]
    port = LoggedReading("2026-03-04", "transfer", gauge=old)
    assert (gauge_of("", 0.0, tap, port).name, gauge_of("", 0.0, tap, port).error) == ("A", 1000.0)
    swapped = LoggedReading("2026-03-06", "transfer", gauge=LoggedGauge("C"))
    assert gauge_of("", 0.0, tap, port, swapped) == Gauge("C")
    moved = LoggedReading("2026-03-06", "transfer", gauge=LoggedGauge("B"))
    assert gauge_of("", 0.0, tap, port, moved).error == pytest.approx(360.0), "by its name, from the tap"


def test_a_tube_full_of_fluid_shows_its_weight() -> None:
    solution = solve(WALL, Level.MINIMUM)
    density = solution.pumps["transfer"].density
    assert correction(solution, "transfer", 0.5) == pytest.approx(density * GRAVITY * 0.5)
