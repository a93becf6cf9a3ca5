"""What explains readings of a gauge: every cause in every size, and the likeliest pairs, against all of them.

Evidence for a cause is the mean of its likelihood over its sizes; a cause that fits in a narrow range of
sizes alone has less of it. See `weighing` for what a likelihood is made of.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from solver.field import weighing
from solver.field.causes import AIR, Cause, CauseKind, causes, named, softness
from solver.field.expected import Expected, expected_by, is_above
from solver.field.gauges import Tube
from solver.field.prediction import Floats, ReadingNetworks
from solver.field.states import Reading
from solver.field.weighing import Weighed
from solver.ledger.solve import solve

ELSEWHERE = 8e3
"""Standard deviation of what a cause that is not listed may add to each reading [Pa]."""

FAR_LIKELIER, LIKELIER = 0.50, 0.45
"""Shares of all that explains the readings, from which a cause is called so. They are held to what comes of
600 machines with a known fault, in tests/truth."""

RIVAL = 0.45
"""Share of the first cause's that another one may have at most, where the first is called far likelier."""

TWIN, POSSIBLE = 0.5, 0.05
"""Logarithm of the likelihood by which a cause that reads alike may lie behind; and its share, at least."""

PRIOR: Mapping[CauseKind, float] = {
    CauseKind.NOTHING: 1.5, CauseKind.UNLISTED: 0.3, CauseKind.SCREEN: 2.0, CauseKind.STUCK: 0.2,
    CauseKind.JOINT: 0.4, CauseKind.SEAL: 0.2, CauseKind.VORTEX: 0.2, CauseKind.RETURN: 0.2,
}  # fmt: skip
"""How often a kind of cause is met before anything is read, against 1; common practice, no source. A dirty
strainer is met most (Hydraulic Troubleshooting, step 1, hydraulic-systems.com)."""

LOOKED_AT = 0.1
"""How often a gauge is off whose zero and tube were looked at, or a pump faster whose speed was, against one
where they were not; common practice, no source."""

PAIR = 0.05
"""How often two causes are met at once, against one; common practice, no source."""

THINNED = 4
"""Of the sizes of a cause, one in so many is tried in a pair."""

PAIRED = 6
"""Single causes, the likeliest ones, of which pairs are tried."""

Odds = Mapping[CauseKind, float]


@dataclass(frozen=True)
class Explanation:
    """How well one cause explains the readings, and how large it would be."""

    cause: CauseKind
    part: str
    weight: float = 0.0  # its share of all that explains them
    size: float = 0.0  # likeliest; in the unit of the cause
    low: float = 0.0  # nine in ten of its likelihood lie between these
    high: float = 0.0
    bound_only: bool = False  # any size from `low` on reads the same: a bypass is open
    at_end: bool = False  # the largest size that was tried is still likely
    predicted: tuple[float, ...] = ()  # vacuum at each reading with the likeliest size [Pa]
    surprises: tuple[int, ...] = ()  # readings that lie outside their bands in the likeliest size
    second: Explanation | None = None  # of a pair, the other cause
    why_not: str = ""  # why it cannot be, whatever was read
    best: float = -math.inf  # logarithm of the likelihood in its likeliest size
    lasted: tuple[float, ...] = ()  # of `predicted`, what the tank of a plugged breather still holds [Pa]
    words: str = ""  # of its kind in such a part; "" where those of its kind hold

    @property
    def fits(self) -> bool:
        """Whether it explains all readings within their bands."""
        return bool(self.predicted) and not self.surprises

    @property
    def name(self) -> str:
        """What it is, and where."""
        own = named(self.words or self.cause, self.part)
        return own if self.second is None else f"{own}, with {self.second.name}"


@dataclass(frozen=True)
class Explained:
    """All causes, the likeliest first, and what may be said of them."""

    expected: tuple[Expected, ...]
    explanations: tuple[Explanation, ...]
    stop: tuple[int, ...]  # readings past what is allowed

    @property
    def word(self) -> str:
        """How clearly the first cause stands before the others."""
        first = self.explanations[0]
        if first.cause is CauseKind.UNLISTED or not first.fits:
            return "none of these"
        if first.weight >= FAR_LIKELIER and self._rival <= RIVAL * first.weight and not self._twins:
            return "far likelier"
        return "likelier" if first.weight >= LIKELIER else "cannot be distinguished"

    @property
    def air(self) -> float:
        """Share of the explanations by which air is drawn in, wherever."""
        return sum(each.weight for each in self.explanations if each.cause in AIR and each.second is None)

    @property
    def _twins(self) -> list[Explanation]:
        """Single causes that explain the readings as well in their likeliest size: no reading splits them."""
        first = self.explanations[0]
        return [
            each
            for each in self.explanations[1:]
            if each.second is None and each.weight >= POSSIBLE and each.best > first.best - TWIN
        ]

    @property
    def _rival(self) -> float:
        """Share of the likeliest explanation that has no part of the first one."""
        first = self.explanations[0]
        halves = {(each.cause, each.part) for each in (first, first.second) if each is not None}
        return max(
            (
                each.weight
                for each in self.explanations[1:]
                if not halves & {(half.cause, half.part) for half in (each, each.second) if half is not None}
            ),
            default=0.0,
        )


def explain(readings: Sequence[Reading], odds: Odds | None = None, unseen: Sequence[Cause] = ()) -> Explained:
    """Weigh every cause against readings of one pump's line.

    readings: at least one, all of one pump. odds: of a kind of cause by what was seen and tried. unseen:
    causes that no gauge shows, where something was seen or heard that they would explain.
    Raises as `ledger.solve` where the drawing cannot be solved in a reading's state; ValueError without any.
    """
    if not readings:
        raise ValueError("there is no reading to explain")
    first = readings[0]
    ledger = solve(first.layout, first.level).pumps[first.place.pump]
    networks = ReadingNetworks(readings)
    listed = (*causes(first.layout, ledger, readings), *unseen)
    weighed = distinct([weighing.weigh(cause, networks) for cause in listed if not cause.why_not])
    impossible = [_rejected(cause) for cause in listed if cause.why_not]
    singles = [_single(each, networks) for each in weighed]
    pairs = _pairs(weighed, networks)
    parts = {kind: sum(each.cause.kind is kind for each in weighed) for kind in CauseKind}
    evidence = [each.evidence + _log_prior(each.cause, parts, odds, readings) for each in weighed]
    evidence += [
        value + math.log(PAIR) + sum(_log_prior(one.cause, parts, odds, readings) for one in pair)
        for pair, value, _ in pairs
    ]
    evidence.append(_unlisted(weighed[0], networks) + _log_odds(CauseKind.UNLISTED, odds))
    total = float(np.logaddexp.reduce(evidence))
    explanations = [*singles, *(explanation for _, _, explanation in pairs), _no_listed(weighed[0])]
    ranked = [
        replace(each, weight=math.exp(value - total))
        for each, value in zip(explanations, evidence, strict=True)
    ]
    expected = expected_by(weighed[0], networks)
    above = tuple(i for i, pair in enumerate(zip(readings, expected, strict=True)) if is_above(*pair))
    ranked.sort(key=lambda each: -each.weight)
    return Explained(expected, (*ranked, *impossible), above)


def distinct(weighed: Sequence[Weighed]) -> list[Weighed]:
    """Causes without the sizes of a stuck bypass in which it would be shut anyway; without it where that is
    so in all of them."""
    screens = {each.cause.part: each for each in weighed if each.cause.kind is CauseKind.SCREEN}
    kept = [
        weighing.without_alike(each, screens[each.cause.part]) if each.cause.kind is CauseKind.STUCK else each
        for each in weighed
    ]
    return [each for each in kept if each.cause.kind is not CauseKind.STUCK or len(each.sizes)]


def _log_prior(
    cause: Cause, parts: Mapping[CauseKind, int], odds: Odds | None, readings: Sequence[Reading]
) -> float:
    """Logarithm of how often one cause is met: as its kind is, shared among the parts that may have it.

    A soft liner is met the less, the firmer it is at the warmest of the readings; common practice, no source.
    """
    shift = math.log(LOOKED_AT) if _looked_at(cause, readings) else 0.0
    if cause.kind is CauseKind.HOSE:
        shift += math.log(softness(readings))
    return shift + _log_odds(cause.kind, odds) - math.log(max(parts[cause.kind], 1))


def _looked_at(cause: Cause, readings: Sequence[Reading]) -> bool:
    """Whether what a cause would change was looked at: a gauge's zero and tube, the speed."""
    if cause.kind is CauseKind.MORE_FLOW:
        return all(reading.flow_noted for reading in readings)
    return cause.kind is CauseKind.OFFSET and all(
        reading.gauge.zero is not None and reading.gauge.tube is not Tube.UNKNOWN
        for reading in readings
        if reading.gauge.name == cause.part
    )


def _log_odds(kind: CauseKind, odds: Odds | None) -> float:
    return math.log((odds or {}).get(kind, 1.0) * PRIOR.get(kind, 1.0))


def _single(weighed: Weighed, networks: ReadingNetworks) -> Explanation:
    """A cause with its likeliest size, and the band of its sizes."""
    kind, part = weighed.cause.kind, weighed.cause.part
    if not len(weighed.sizes):
        return Explanation(kind, part, words=weighed.cause.words)
    best, (low, high) = weighed.best, weighed.band
    vacuum = weighed.vacuum[best]
    return Explanation(
        kind,
        part,
        size=float(weighed.sizes[best]),
        low=low,
        high=high,
        bound_only=weighed.bound_only,
        at_end=weighed.at_end,
        predicted=tuple(map(float, vacuum)),
        surprises=_surprises(networks, vacuum, weighed.covariances[best]),
        best=float(weighed.peaks[best]),
        lasted=tuple(map(float, weighed.lasted[best])),
        words=weighed.cause.words,
    )


def _rejected(cause: Cause) -> Explanation:
    """A cause that cannot be, whatever was read."""
    return Explanation(cause.kind, cause.part, why_not=cause.why_not, words=cause.words)


def _surprises(networks: ReadingNetworks, vacuum: Floats, covariance: Floats) -> tuple[int, ...]:
    within = weighing.inside(networks.readings, vacuum, covariance)
    return tuple(i for i, each in enumerate(within) if not each)


def _no_listed(nothing: Weighed) -> Explanation:
    """Something that is not on the list, as which any reading can be had."""
    return Explanation(CauseKind.UNLISTED, "", predicted=tuple(map(float, nothing.vacuum[0])))


def _unlisted(nothing: Weighed, networks: ReadingNetworks) -> float:
    """Logarithm of the likelihood that something else adds to each reading."""
    more = nothing.covariances + ELSEWHERE**2 * np.eye(len(networks.readings))
    return float(weighing.log_likelihood(networks.readings, nothing.vacuum, more)[0])


_Pair = tuple[tuple[Weighed, Weighed], float, Explanation]


def _pairs(weighed: Sequence[Weighed], networks: ReadingNetworks) -> list[_Pair]:
    """The likeliest pairs of causes, what each takes added up; one reading says nothing of two."""
    if len(networks.readings) < 2:
        return []
    nothing = weighed[0]
    alone = [each for each in weighed[1:] if len(each.sizes) > 1]
    alone.sort(key=lambda each: -float(each.log_likelihood.max()))
    likely = [weighing.thinned(each, THINNED) for each in alone[:PAIRED]]
    return [
        _pair(one, other, nothing, networks)
        for one, other in combinations(likely, 2)
        if {one.cause.kind, other.cause.kind} != {CauseKind.SCREEN, CauseKind.STUCK}
    ]


def _pair(one: Weighed, other: Weighed, nothing: Weighed, networks: ReadingNetworks) -> _Pair:
    """Two causes in each of their sizes; what is not known of a bypass or a breather counts of either."""
    readings, sizes = networks.readings, (len(one.sizes), len(other.sizes))
    shape = -1, len(readings)
    lasting = one.lasting[:, None, :] + other.lasting[None, :, :]
    sum_of_both = (one.vacuum - one.lasted)[:, None, :] + (other.vacuum - other.lasted)[None, :, :]
    vacuum, covariances = (sum_of_both - nothing.vacuum[0]).reshape(shape), _of_both(one, other)
    likely, peaks, lasted = weighing.likelihoods(readings, vacuum, covariances, lasting.reshape(shape))
    odds = (one.log_odds[:, None] + other.log_odds[None, :]).reshape(-1)
    likely, peaks = likely + odds, peaks + odds
    best = int(np.argmax(likely))
    shown = vacuum[best] + lasted[best]
    surprises = _surprises(networks, shown, covariances[best])
    grid, numbers = likely.reshape(sizes), np.unravel_index(best, sizes)
    met = float(np.logaddexp.reduce(odds)) - math.log(one.possible * other.possible)
    evidence = float(np.logaddexp.reduce(grid, axis=None)) - met
    shares = np.exp(grid - grid.max())

    def half(each: Weighed, axis: int, second: Explanation | None) -> Explanation:
        of_sizes = shares.sum(axis=1 - axis)
        at_end = bool(of_sizes[-1] > of_sizes.max() / math.e)
        low, high = weighing.band(each.sizes, of_sizes)
        return Explanation(
            each.cause.kind,
            each.cause.part,
            size=float(each.sizes[numbers[axis]]),
            low=low,
            high=high,
            bound_only=each.levels_off and at_end,
            at_end=at_end,
            predicted=tuple(map(float, shown)),
            surprises=surprises,
            second=second,
            best=float(peaks[best]),
            lasted=tuple(map(float, lasted[best])),
            words=each.cause.words,
        )

    return (one, other), evidence, half(one, 0, half(other, 1, None))


def _of_both(one: Weighed, other: Weighed) -> Floats:
    """Covariances of a pair [(sizes of both, readings, readings), Pa²]: those of the first, and of an open
    bypass those of the one with which less of it is known."""
    shape = len(one.sizes), len(other.sizes), *one.bypass.shape[1:]
    bypasses = [np.broadcast_to(each, shape) for each in (one.bypass[:, None], other.bypass[None])]
    unknown = [np.einsum("abii->ab", each) for each in bypasses]
    larger = np.where((unknown[0] >= unknown[1])[..., None, None], *bypasses)
    both = (one.covariances - one.bypass)[:, None] + larger
    return np.asarray(both.reshape(-1, *one.bypass.shape[1:]))
