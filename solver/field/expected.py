"""What the drawing expects of a reading, how sure that is, and what is allowed at its place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.field import places, weighing
from solver.field.causes import causes
from solver.field.gauges import Band
from solver.field.prediction import TUBE_MOVES, ReadingNetworks
from solver.field.states import Reading
from solver.field.weighing import Weighed
from solver.ledger.solve import solve, solve_network
from solver.network.build import Network, build

NINE_IN_TEN = 1.645
"""Standard deviations on either side that hold nine in ten."""


@dataclass(frozen=True)
class Expected:
    """What the drawing says of one reading."""

    vacuum: float  # [Pa]
    deviation: float  # standard deviation of what is not known, the gauge's error with it [Pa]
    allowed: float | None  # at its place, so that the port has what is allowed there [Pa]; None at rest
    budgeted: float | None = None  # by the ledger, which takes what it lacks as unfavourable [Pa]
    over_rest: float | None = None  # standard deviation of how far it is above the same gauge's reading at
    # rest, where nothing else is known of that gauge [Pa]; None without one
    most: float = math.inf  # vacuum that there can be at all: the atmosphere less the vapour pressure [Pa]

    @property
    def over(self) -> bool:
        """Whether the drawing itself is past what is allowed there."""
        vacuum = self.vacuum if self.budgeted is None else self.budgeted
        return self.allowed is not None and vacuum > self.allowed

    @property
    def band(self) -> Band:
        """Nine in ten readings of a sound machine that is as drawn, none above what there can be."""
        return Band(min(self.unbound.low, self.most), min(self.unbound.high, self.most))

    @property
    def unbound(self) -> Band:
        """Nine in ten by what is not known alone, as though a vacuum had no end."""
        half = NINE_IN_TEN * self.deviation
        return Band(self.vacuum - half, self.vacuum + half)

    @property
    def is_bound(self) -> bool:
        """Whether the band ends where no more vacuum can be."""
        return self.unbound.high > self.most


def expected_of(readings: Sequence[Reading]) -> tuple[Expected, ...]:
    """What the drawing says of readings of one pump. Raises as `ledger.solve`, and NoPlaceError."""
    first = readings[0]
    ledger = solve(first.layout, first.level).pumps[first.place.pump]
    networks = ReadingNetworks(readings)
    return expected_by(weighing.weigh(next(causes(first.layout, ledger, readings)), networks), networks)


def is_above(reading: Reading, expected: Expected) -> bool:
    """Whether a reading may be past what is allowed: where only a band is known, its upper end counts."""
    return expected.allowed is not None and reading.band.high > expected.allowed


def is_past(reading: Reading) -> bool:
    """Whether a reading may be past what is allowed, its drawing solved for that alone. Raises as `solve`."""
    allowed = None if reading.resting else _allowed(build(reading.layout), reading)[0]
    return allowed is not None and reading.band.high > allowed


def expected_by(nothing: Weighed, networks: ReadingNetworks) -> tuple[Expected, ...]:
    """What the drawing says of readings, by what there would be with nothing wrong."""
    covariance = nothing.covariances[0]
    of_tube = np.array([reading.of_tube for reading in networks.readings])  # widens what was read instead
    deviation = np.sqrt(np.diag(covariance) - (1.0 + TUBE_MOVES**2) * of_tube**2)
    above = {
        i: weighing.difference_deviation(covariance, i, j)
        for i, j in weighing.pairs_over_rest(networks.readings)
    }
    return tuple(
        Expected(
            float(nothing.vacuum[0, i]),
            float(deviation[i]),
            *_of_ledger(networks, i),
            above.get(i),
            _most(networks.networks[i], networks.readings[i]),
        )
        for i in range(len(networks.readings))
    )


def _most(network: Network, reading: Reading) -> float:
    """The vacuum at which the fluid at the place of a reading boils [Pa]: a gauge there shows no more."""
    ledger = solve_network(network, reading.level).pumps[reading.place.pump]
    return ledger.atmosphere - ledger.vapor_pressure


def _of_ledger(networks: ReadingNetworks, number: int) -> tuple[float | None, float | None]:
    reading = networks.readings[number]
    return (None, None) if reading.resting else _allowed(networks.networks[number], reading)


def _allowed(network: Network, reading: Reading) -> tuple[float, float]:
    """What is allowed at the place of a reading, and what the ledger has there [Pa]."""
    solution = solve_network(network, reading.level)
    ledger = solution.pumps[reading.place.pump]
    budgeted = places.vacuum(solution, reading.place)
    return ledger.allowed_vacuum - (ledger.vacuum - budgeted), budgeted
