"""What explains readings of a gauge: every cause in every size against all of them together.

Each cause is solved at the state of each reading. What nobody has measured (viscosity within its grade, K
of fittings, roughness, level, temperature, the pump's flow, the gauge's own error) is taken as normally
spread about the drawing and carried through by its slopes, so that a cause is judged by how far the readings
lie from it in units of what would be no surprise. Evidence for a cause is the mean of its likelihood over
its sizes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.answers import inputs
from solver.field import places
from solver.field.causes import Cause, CauseKind, causes, thicker
from solver.field.gauges import Band
from solver.field.states import Reading
from solver.formulas.flow import GRAVITY
from solver.ledger.solve import solve, solve_network
from solver.network.build import Network, columns, pump_flow
from solver.quantities.units import Quantity

Floats = NDArray[np.float64]

Change = Callable[[Network], Network]

VISCOSITY, RESISTANCE, ROUGHNESS, FLOW = 0.06, 0.12, 0.30, 0.03
"""Standard deviations of what is the same in all readings, as shares; common practice, no source."""

LEVEL = 0.015
"""Standard deviation of a level that was noted [m]; common practice, no source."""

ELSEWHERE = 8e3
"""Spread of what a cause that is not listed may add to each reading [Pa]."""

FAR_LIKELIER, LIKELIER = 0.85, 0.60
"""Shares of all that explains the readings, from which a cause is called so."""

SLOPE_SIZES = 3
"""Sizes of a cause at which the slopes of what is not known are worked out anew."""

ODDS = 3.0
"""By which sound and age may shift a cause, at most; they never reject one."""


@dataclass(frozen=True)
class Expected:
    """What the drawing says of one reading."""

    vacuum: float  # [Pa]
    deviation: float  # standard deviation of what is not known, the gauge's error with it [Pa]
    allowed: float | None  # at its place, so that the port has what is allowed there [Pa]; None at rest

    @property
    def band(self) -> Band:
        """Nine in ten readings of a sound machine that is as drawn."""
        return Band(self.vacuum - 1.645 * self.deviation, self.vacuum + 1.645 * self.deviation)


@dataclass(frozen=True)
class Explanation:
    """How well one cause explains the readings, and how large it would be."""

    cause: CauseKind
    part: str
    weight: float  # its share of all that explains them
    size: float  # likeliest; in the unit of the cause
    low: float  # nine in ten of its likelihood lie between these
    high: float
    bound_only: bool  # any size from `low` on explains them: a bypass is open
    predicted: tuple[float, ...]  # vacuum at each reading with the likeliest size [Pa]
    fits: bool  # within the bands of all readings


@dataclass(frozen=True)
class Explained:
    """All causes, the likeliest first, and what may be said of them."""

    expected: tuple[Expected, ...]
    explanations: tuple[Explanation, ...]
    stop: tuple[int, ...]  # readings above what is allowed

    @property
    def word(self) -> str:
        """How clearly the first cause stands before the others."""
        first = self.explanations[0]
        if first.cause is CauseKind.UNLISTED:
            return "none of these"
        if first.weight >= FAR_LIKELIER and first.fits:
            return "far likelier"
        return "likelier" if first.weight >= LIKELIER and first.fits else "cannot be told apart"


def explain(readings: Sequence[Reading], odds: Mapping[CauseKind, float] | None = None) -> Explained:
    """Weigh every cause against readings of one pump's line.

    readings: at least one, all of one pump. odds: by sound and age; held to 1/3 and 3.
    Raises as `ledger.solve` where the drawing cannot be solved in a reading's state; ValueError without any.
    """
    if not readings:
        raise ValueError("there is no reading to explain")
    pump = readings[0].place.pump
    drawn = solve(readings[0].layout, readings[0].level)
    tried = [_Tried(cause, readings) for cause in causes(drawn.layout, drawn.pumps[pump])]
    nothing = next(each for each in tried if each.cause.kind is CauseKind.NOTHING)
    evidence = {each: each.evidence() + _log_odds(each.cause.kind, odds) for each in tried}
    unlisted = nothing.unlisted() + _log_odds(CauseKind.UNLISTED, odds)
    total = np.logaddexp.reduce([*evidence.values(), unlisted])
    explanations = [each.explanation(math.exp(value - total)) for each, value in evidence.items()]
    explanations.append(nothing.as_unlisted(math.exp(unlisted - total)))
    expected = nothing.expected()
    above = tuple(i for i, pair in enumerate(zip(readings, expected, strict=True)) if is_above(*pair))
    return Explained(expected, tuple(sorted(explanations, key=lambda each: -each.weight)), above)


def expected_of(reading: Reading) -> Expected:
    """What the drawing says of one reading. Raises as `ledger.solve`, and NoPlaceError."""
    nothing = next(causes(reading.layout, solve(reading.layout, reading.level).pumps[reading.place.pump]))
    return _Tried(nothing, (reading,)).expected()[0]


def is_above(reading: Reading, expected: Expected) -> bool:
    """Whether a reading may be above what is allowed: where only a band is known, its upper end counts."""
    return expected.allowed is not None and reading.band.high > expected.allowed


def _log_odds(kind: CauseKind, odds: Mapping[CauseKind, float] | None) -> float:
    return math.log(min(max((odds or {}).get(kind, 1.0), 1.0 / ODDS), ODDS))


class _Tried:
    """One cause in all its sizes, at the states of all readings."""

    def __init__(self, cause: Cause, readings: Sequence[Reading]) -> None:
        self.cause = cause
        self.readings = readings
        predictions = [(size, self._predicted(size)) for size in cause.sizes]
        kept = [(size, vacuum) for size, vacuum in predictions if vacuum is not None]
        self.sizes = np.array([size for size, _ in kept])
        self.vacuum: Floats = np.array([vacuum for _, vacuum in kept]).reshape(len(kept), len(readings))
        self.covariances = self._covariances()
        self.likelihood = self._likelihood(0.0)

    def _predicted(
        self, size: float, change: Callable[[Network], Network] | None = None
    ) -> list[float] | None:
        """Vacuum at every reading with the cause in a size; None where the machine would not run so."""
        try:
            return [self._at(reading, size, change) for reading in self.readings]
        except ValueError:
            return None

    def _at(self, reading: Reading, size: float, change: Change | None) -> float:
        network = self.cause.network(reading.layout, size)
        if change is not None:
            network = change(network)
        solution = solve_network(network, reading.level)
        vacuum = places.at_rest if reading.resting else places.vacuum
        return vacuum(solution, reading.place) + self.cause.offset(size, reading.resting)

    def _covariances(self) -> list[Floats]:
        """Covariance of the readings [Pa²] at each size, from the nearest size that it was worked out at."""
        if not len(self.sizes):
            return []
        picked = sorted({round(i) for i in np.linspace(0, len(self.sizes) - 1, SLOPE_SIZES)})
        worked = {i: self._covariance(i) for i in picked}
        return [worked[min(picked, key=lambda j: abs(j - i))] for i in range(len(self.sizes))]

    def _covariance(self, number: int) -> Floats:
        size, base = float(self.sizes[number]), self.vacuum[number]
        count = len(self.readings)
        covariance = np.zeros((count, count))
        for change in _SHARED:
            moved = self._predicted(size, change)
            if moved is not None:
                slope = np.array(moved) - base
                covariance += np.outer(slope, slope)
        for i, reading in enumerate(self.readings):
            covariance[i, i] += self._own(reading, size, float(base[i])) ** 2
            covariance[i, i] += reading.gauge.scatter**2
            if not reading.band.one_sided:
                covariance[i, i] += (reading.band.high - reading.band.low) ** 2 / 12.0
            for j, other in enumerate(self.readings):
                if other.gauge.name == reading.gauge.name:
                    covariance[i, j] += reading.gauge.bias * other.gauge.bias
        return covariance

    def _own(self, reading: Reading, size: float, base: float) -> float:
        """What temperature and level of one reading may move it by [Pa]."""
        colder = inputs.temperature(
            reading.layout, ("",), reading.layout.fluid.temperature.si - reading.temperature, reading.level
        )
        others = [colder, *(doubt.layout for doubt in reading.doubts if doubt.layout is not None)]
        moved = [self._difference(replace(reading, layout=other), size, base) for other in others]
        moved += [doubt.deviation for doubt in reading.doubts]
        ledger = solve(reading.layout, reading.level).pumps[reading.place.pump]
        return math.hypot(ledger.density * GRAVITY * LEVEL, *moved)

    def _difference(self, reading: Reading, size: float, base: float) -> float:
        """What another state moves a reading by [Pa]; 0 where the machine would not run so."""
        try:
            return self._at(reading, size, None) - base
        except ValueError:
            return 0.0

    def _likelihood(self, more: float) -> Floats:
        """Logarithm of the likelihood of each size, with so much more spread in each reading [Pa]."""
        return np.array(
            [
                _log_likelihood(self.readings, vacuum, covariance + more**2 * np.eye(len(self.readings)))
                for vacuum, covariance in zip(self.vacuum, self.covariances, strict=True)
            ]
        )

    def evidence(self) -> float:
        """Logarithm of the mean likelihood over the sizes."""
        if not len(self.likelihood):
            return -math.inf
        return float(np.logaddexp.reduce(self.likelihood) - math.log(len(self.cause.sizes)))

    def unlisted(self) -> float:
        """Logarithm of the likelihood that something else adds to each reading."""
        return float(self._likelihood(ELSEWHERE)[0])

    def expected(self) -> tuple[Expected, ...]:
        """What the drawing says of each reading; of a cause of one size."""
        deviation = np.sqrt(np.diag(self.covariances[0]))
        return tuple(
            Expected(float(vacuum), float(sigma), self._allowed(reading))
            for reading, vacuum, sigma in zip(self.readings, self.vacuum[0], deviation, strict=True)
        )

    def _allowed(self, reading: Reading) -> float | None:
        if reading.resting:
            return None
        solution = solve(reading.layout, reading.level)
        ledger = solution.pumps[reading.place.pump]
        return ledger.allowed_vacuum - (ledger.vacuum - places.vacuum(solution, reading.place))

    def explanation(self, weight: float) -> Explanation:
        """The cause with its likeliest size, and the band of its sizes."""
        if not len(self.sizes):
            return Explanation(self.cause.kind, self.cause.part, 0.0, 0.0, 0.0, 0.0, False, (), False)
        best = int(np.argmax(self.likelihood))
        low, high = self._band()
        end = self.likelihood[-1] > self.likelihood.max() - 1.0 and len(self.sizes) > 1
        return Explanation(
            self.cause.kind,
            self.cause.part,
            weight,
            float(self.sizes[best]),
            low,
            high,
            bool(end),
            tuple(map(float, self.vacuum[best])),
            self._fits(best),
        )

    def _band(self) -> tuple[float, float]:
        """Between which sizes nine in ten of the likelihood lie."""
        shares = np.exp(self.likelihood - self.likelihood.max())
        so_far = np.concatenate(([0.0], np.cumsum(shares))) / shares.sum()
        edges = _edges(self.sizes)
        low, high = (float(np.interp(level, so_far, edges)) for level in (0.05, 0.95))
        return low, high

    def _fits(self, number: int) -> bool:
        """Whether each reading lies within what would be no surprise."""
        sigma = np.sqrt(np.diag(self.covariances[number]))
        for reading, vacuum, one in zip(self.readings, self.vacuum[number], sigma, strict=True):
            if not reading.band.low - 2.5 * one <= vacuum <= reading.band.high + 2.5 * one:
                return False
        return True

    def as_unlisted(self, weight: float) -> Explanation:
        """Something that is not on the list, as which any reading can be had."""
        return Explanation(
            CauseKind.UNLISTED, "", weight, 0.0, 0.0, 0.0, False, tuple(map(float, self.vacuum[0])), True
        )


def _edges(sizes: Floats) -> Floats:
    """Edges of the cells around sizes: halfway to their neighbours."""
    if len(sizes) == 1:
        return np.array([sizes[0], sizes[0]])
    middle = (sizes[1:] + sizes[:-1]) / 2
    return np.concatenate(([sizes[0]], middle, [sizes[-1]]))


def _log_likelihood(readings: Sequence[Reading], vacuum: Floats, covariance: Floats) -> float:
    """Of all readings together [Pa]; a bound counts by the chance that the vacuum lies beyond it."""
    points = [i for i, reading in enumerate(readings) if not reading.band.one_sided]
    total = 0.0
    if points:
        middle = np.array([(readings[i].band.low + readings[i].band.high) / 2 for i in points])
        off = middle - vacuum[points]
        part = covariance[np.ix_(points, points)]
        _, log_det = np.linalg.slogdet(part)
        total -= 0.5 * float(off @ np.linalg.solve(part, off)) + 0.5 * float(log_det)
    for i, reading in enumerate(readings):
        if reading.band.one_sided:
            sigma = math.sqrt(covariance[i, i])
            bound = reading.band.low if math.isinf(reading.band.high) else reading.band.high
            beyond = (vacuum[i] - bound) / sigma * (1.0 if math.isinf(reading.band.high) else -1.0)
            total += math.log(max(0.5 * math.erfc(-beyond / math.sqrt(2.0)), 1e-300))
    return total


def _scaled_rows(network: Network, field: str, times: float) -> Network:
    rows = [replace(row, **{field: getattr(row, field) * times}) for row in network.rows]
    return replace(network, rows=tuple(rows), columns=columns(rows))


def _thicker(network: Network) -> Network:
    return replace(network, layout=thicker(network.layout, 1.0 + VISCOSITY))


def _more_resistance(network: Network) -> Network:
    return _scaled_rows(network, "k_inf", 1.0 + RESISTANCE)


def _rougher(network: Network) -> Network:
    return _scaled_rows(network, "roughness", 1.0 + ROUGHNESS)


def _more_flow(network: Network) -> Network:
    pumps = {}
    for name, pump in network.layout.pumps.items():
        flow = pump_flow(pump) * (1.0 + FLOW)
        pumps[name] = replace(pump, flow=Quantity(f"{flow!r} m^3/s", flow))
    return replace(network, layout=replace(network.layout, pumps=pumps))


_SHARED: tuple[Change, ...] = (_thicker, _more_resistance, _rougher, _more_flow)
