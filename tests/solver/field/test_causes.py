"""Each cause raises the vacuum at the port where the trade says that it does."""

from __future__ import annotations

import pytest

from solver.field import places
from solver.field.causes import Cause, CauseKind, causes, with_resistance
from solver.field.places import Place
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve, solve_network
from solver.network.build import build
from tests.drawings import SHIPPED

PORT = Place("carriage")
(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN: Layout = file.read(PATH).base
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"]))


def at_port(cause: Cause, size: float) -> float:
    return places.vacuum(solve_network(cause.network(DRAWN, size)), PORT) + cause.offset(size, False)


@pytest.mark.parametrize(
    "kind", [CauseKind.SCREEN, CauseKind.BORE, CauseKind.RESISTANCE, CauseKind.FLUID, CauseKind.LEVEL]
)
def test_more_of_it_shows_more_vacuum(kind: CauseKind) -> None:
    for cause in (each for each in ALL if each.kind is kind):
        small, large = at_port(cause, cause.sizes[0]), at_port(cause, cause.sizes[len(cause.sizes) // 2])
        assert places.vacuum(solve(DRAWN), PORT) < small < large


def test_less_flow_shows_less_vacuum() -> None:
    (cause,) = (each for each in ALL if each.kind is CauseKind.LESS_FLOW)
    assert at_port(cause, 0.5) < at_port(cause, 0.9) < places.vacuum(solve(DRAWN), PORT)


def test_resistance_goes_as_the_velocity_head() -> None:
    network = build(DRAWN)
    plain, more = (
        places.vacuum(solve_network(each), PORT) for each in (network, with_resistance(network, "lead", 10.0))
    )
    ledger = solve(DRAWN).pumps["carriage"]
    (entry,) = (entry for entry in ledger.entries if entry.part == "lead")
    assert more - plain == pytest.approx(10.0 * ledger.density * entry.velocity**2 / 2)
