"""One cause in all its sizes against readings: how likely the readings are with it.

A cause is judged by how far the readings lie from it in units of what would be no surprise: what nobody has
measured, and the gauge's own error.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from solver.field.causes import Cause, CauseKind
from solver.field.gauges import Band
from solver.field.prediction import HELD, NOT_SOLVED, OWN, SHARED, Floats, ReadingNetworks
from solver.field.states import Reading

FINER = 6
"""Sizes that are weighed for each that is solved."""

FLAT = 3
"""Of the largest sizes, how many read alike where a bypass is open."""

ALIKE = 10.0
"""Vacuum by which two causes are apart that read the same [Pa]."""

SHARES_LEFT = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares that may be left of what a cause takes, one as likely as another."""

NO_SURPRISE = 2.5
"""Standard deviations within which a reading lies with a cause that fits it."""


@dataclass(frozen=True)
class Weighed:
    """A cause with what readings would be in each size that the machine runs in, and how likely they are."""

    cause: Cause
    sizes: Floats
    vacuum: Floats  # (sizes, readings) [Pa]
    covariances: Floats  # (sizes, readings, readings) [Pa²]
    log_likelihood: Floats  # of each size, with how often it is met
    possible: float  # share of the sizes tried in which the machine runs
    peaks: Floats  # logarithm of the likelihood of each size, with as much lasting as is likeliest
    lasting: Floats  # what it may add besides, all or a part of it (sizes, readings) [Pa]
    lasted: Floats  # how much of that is in `vacuum` [Pa]
    log_odds: Floats  # of how often each size is met, against the most common
    bypass: Floats  # of the covariances, what is not known of an open bypass [Pa²]
    levels_off: bool  # whether the largest sizes read alike: a bypass is open

    @property
    def evidence(self) -> float:
        """Logarithm of the mean likelihood over the sizes, each as often as it is met."""
        if not len(self.sizes):
            return -math.inf
        met = float(np.logaddexp.reduce(self.log_odds)) - math.log(self.possible)
        return float(np.logaddexp.reduce(self.log_likelihood)) - met

    @property
    def best(self) -> int:
        """Number of the likeliest size."""
        return int(np.argmax(self.log_likelihood))

    @property
    def band(self) -> tuple[float, float]:
        """Between which sizes nine in ten of the likelihood lie."""
        return band(self.sizes, np.exp(self.log_likelihood - self.log_likelihood.max()))

    @property
    def at_end(self) -> bool:
        """Whether the largest size that was tried is still likely."""
        last, most = self.log_likelihood[-1], self.log_likelihood.max()
        return len(self.sizes) > 1 and bool(last > most - 1.0)

    @property
    def bound_only(self) -> bool:
        """Whether any size from the band's low end on reads the same: a bypass is open."""
        return self.levels_off and self.at_end


OF_EACH_SIZE = (
    "sizes", "vacuum", "covariances", "log_likelihood", "peaks", "lasting", "lasted", "log_odds",
    "bypass",
)  # fmt: skip


def thinned(weighed: Weighed, step: int) -> Weighed:
    """A cause in every so many of its sizes."""
    return replace(weighed, **{name: getattr(weighed, name)[::step] for name in OF_EACH_SIZE})


def without_alike(weighed: Weighed, other: Weighed) -> Weighed:
    """A cause without the sizes in which it reads as another one in the same size does."""
    alike = {
        round(float(size), 6)
        for size, one, two in _same_sizes(weighed, other)
        if bool((np.abs(one - two) < ALIKE).all())
    }
    kept = np.array([round(float(size), 6) not in alike for size in weighed.sizes], dtype=bool)
    return replace(weighed, **{name: getattr(weighed, name)[kept] for name in OF_EACH_SIZE})


def _same_sizes(weighed: Weighed, other: Weighed) -> Iterator[tuple[float, Floats, Floats]]:
    """The sizes that two causes were weighed in, with the vacuum of either."""
    of_other = {round(float(size), 6): row for size, row in zip(other.sizes, other.vacuum, strict=True)}
    for size, row in zip(weighed.sizes, weighed.vacuum, strict=True):
        if round(float(size), 6) in of_other:
            yield float(size), row, of_other[round(float(size), 6)]


def weigh(cause: Cause, networks: ReadingNetworks) -> Weighed:
    """One cause against all readings."""
    shown = np.stack(
        [networks.predicted(cause, i) for i in range(len(networks.readings))]
    )  # readings, steps, sizes
    if networks.holds_bypass:  # with an open bypass as drawn it may not run, and with what it may take run
        least = shown[:, HELD, :] + NOT_SOLVED
        shown[:, 0, :] = np.where(np.isnan(shown[:, 0, :]), least, shown[:, 0, :])
    kept = ~np.isnan(shown[:, 0, :]).any(axis=0)
    shown = shown[:, :, kept]
    sizes, highest = np.array(cause.sizes)[kept], shown[:, 0, :].T
    slopes = np.nan_to_num(shown - shown[:, :1, :])
    held = slopes[:, HELD:, :]  # below zero where an open bypass may take less than the drawing has it
    vacuum = highest + held.sum(axis=1).T / 2.0
    shared, uncertain = slopes[:, SHARED, :], held / math.sqrt(12.0)
    bypass = np.einsum("isn,jsn->nij", uncertain, uncertain)
    covariances = np.einsum("isn,jsn->nij", shared, shared) + bypass + networks.gauges + networks.mountings
    own = slopes[:, OWN, :] ** 2 + (networks.state_deviations**2)[:, None]
    number = np.arange(len(networks.readings))
    covariances[:, number, number] += own.T
    sizes, vacuum, covariances, bypass = (_finer(each) for each in (sizes, vacuum, covariances, bypass))
    lasting = _lasting(cause, networks.readings, sizes)
    odds = _finer(np.log(cause.odds_of)[kept]) if cause.odds_of else np.zeros(len(sizes))
    likely, peaks, lasted = likelihoods(networks.readings, vacuum, covariances, lasting)
    likely, peaks = likely + odds, peaks + odds
    vacuum = vacuum + lasted
    gauges = np.sqrt(np.diagonal(networks.gauges))
    flat = cause.kind is CauseKind.SCREEN and _levels_off(vacuum, gauges)
    possible = float(kept.mean())
    return Weighed(
        cause, sizes, vacuum, covariances, likely, possible, peaks, lasting, lasted, odds, bypass, flat
    )  # fmt: skip


def _levels_off(vacuum: Floats, gauges: Floats) -> bool:
    """Whether the largest sizes read alike within the standard deviations of the gauges [Pa]."""
    return len(vacuum) > 1 and bool((np.abs(vacuum[-1] - vacuum[-1 - FLAT * FINER]) < gauges).all())


def _lasting(cause: Cause, readings: Sequence[Reading], sizes: Floats) -> Floats:
    """What a cause may add besides to each reading in each size [(sizes, readings), Pa]."""
    if cause.may_last is None:
        return np.zeros((len(sizes), len(readings)))
    more = [[cause.may_last(size, reading) for reading in readings] for size in sizes]
    return np.array(more).reshape(len(sizes), len(readings))


def likelihoods(
    readings: Sequence[Reading], vacuum: Floats, covariances: Floats, lasting: Floats
) -> tuple[Floats, Floats, Floats]:
    """Logarithms of how likely each row is, whatever share of `lasting` lasts, and with the likeliest share;
    and how much of it lasts then [Pa]. Parameters and units as `log_likelihood`."""
    if not lasting.any():
        likely = log_likelihood(readings, vacuum, covariances)
        return likely, likely, lasting
    left = [vacuum + share * lasting for share in SHARES_LEFT]
    likely = np.stack([log_likelihood(readings, each, covariances) for each in left])
    mean = np.logaddexp.reduce(likely, axis=0) - math.log(len(SHARES_LEFT))
    share = np.array(SHARES_LEFT)[likely.argmax(axis=0)]
    return mean, likely.max(axis=0), share[:, None] * lasting


def _finer(table: Floats) -> Floats:
    """Rows between those that were solved, `FINER` for each, on straight lines between them."""
    if len(table) < 2:
        return table
    at = np.linspace(0.0, len(table) - 1.0, (len(table) - 1) * FINER + 1)
    low = np.minimum(at.astype(int), len(table) - 2)
    share = (at - low).reshape(-1, *(1,) * (table.ndim - 1))
    return np.asarray(table[low] * (1.0 - share) + table[low + 1] * share)


def log_likelihood(readings: Sequence[Reading], vacuum: Floats, covariances: Floats) -> Floats:
    """Logarithm of the likelihood of all readings together, for each row of `vacuum`.

    Parameters: `vacuum`, (sizes, readings) [Pa]; `covariances`, (sizes, readings, readings) [Pa²]. A wide
    band counts by the chance that the vacuum lies in it, a narrow one by its middle.
    """
    if not len(vacuum):
        return np.zeros(0)
    low = np.array([reading.half_full.low for reading in readings])
    high = np.array([reading.half_full.high for reading in readings])
    sigma = np.sqrt(np.einsum("nii->ni", covariances))
    wide = (high - low > 2.0 * sigma[0]) | ~np.isfinite(high - low)
    points = np.flatnonzero(~wide)
    total = np.zeros(len(vacuum))
    if len(points):
        width = (high - low)[points] ** 2 / 12.0
        part = covariances[:, points[:, None], points] + np.diag(width)
        off = (low + high)[points] / 2.0 - vacuum[:, points]
        _, log_det = np.linalg.slogdet(part)
        solved = np.linalg.solve(part, off[:, :, None])[:, :, 0]
        total -= 0.5 * np.einsum("ni,ni->n", off, solved) + 0.5 * log_det
    for i in np.flatnonzero(wide):
        total += _log_chance(low[i], high[i], vacuum[:, i], sigma[:, i])
    return total


def _log_chance(low: float, high: float, vacuum: Floats, sigma: Floats) -> Floats:
    """Logarithm of the chance that a reading lies in a band."""
    upper = np.array([_below((high - v) / s) for v, s in zip(vacuum, sigma, strict=True)])
    lower = np.array([_below((low - v) / s) for v, s in zip(vacuum, sigma, strict=True)])
    return np.asarray(np.log(np.maximum(upper - lower, 1e-300)))


def _below(deviations: float) -> float:
    return 0.5 * math.erfc(-deviations / math.sqrt(2.0))


def inside(readings: Sequence[Reading], vacuum: Floats, covariance: Floats) -> list[bool]:
    """Whether each reading would be no surprise at such a vacuum [Pa], nor by how far it is from that at rest
    of a gauge of which height and tube were not noted."""
    sigma = np.sqrt(np.diag(covariance))
    within = [_off(reading.half_full, shown) <= NO_SURPRISE * one
              for reading, shown, one in zip(readings, vacuum, sigma, strict=True)]  # fmt: skip
    for i, j in pairs_over_rest(readings):
        apart = over_rest(readings[i], readings[j])
        deviation = difference_deviation(covariance, i, j)
        within[i] &= _off(apart, float(vacuum[i] - vacuum[j])) <= NO_SURPRISE * deviation
    return within


def pairs_over_rest(readings: Sequence[Reading]) -> list[tuple[int, int]]:
    """Numbers of a reading with the pump running and of one at rest, of a gauge that is not described: height
    and tube move both alike, so that they take nothing from how far the two are apart."""
    numbered = list(enumerate(readings))
    return [
        (i, j)
        for i, running in numbered
        if running.of_gauge and not running.resting
        for j, rest in numbered
        if rest.resting and rest.shares_gauge(running)
    ]


def over_rest(running: Reading, rest: Reading) -> Band:
    """How far a reading with the pump running is above one at rest [Pa]."""
    one, other = running.half_full, rest.half_full
    return Band(one.low - other.high, one.high - other.low)


def difference_deviation(covariance: Floats, one: int, other: int) -> float:
    """Standard deviation of the difference of two readings [Pa]."""
    both = covariance[one, one] + covariance[other, other] - 2.0 * covariance[one, other]
    return math.sqrt(max(float(both), 0.0))


def _off(band: Band, vacuum: float) -> float:
    """How far a vacuum lies outside a band [Pa]."""
    return max(band.low - vacuum, vacuum - band.high, 0.0)


def band(sizes: Floats, shares: Floats) -> tuple[float, float]:
    """Between which sizes nine in ten of the shares lie."""
    so_far = np.concatenate(([0.0], np.cumsum(shares))) / shares.sum()
    edges = _edges(sizes)
    low, high = (float(np.interp(level, so_far, edges)) for level in (0.05, 0.95))
    return low, high


def _edges(sizes: Floats) -> Floats:
    """Edges of the cells around sizes: halfway to their neighbours."""
    if len(sizes) == 1:
        return np.array([sizes[0], sizes[0]])
    middle = (sizes[1:] + sizes[:-1]) / 2
    return np.concatenate(([sizes[0]], middle, [sizes[-1]]))
