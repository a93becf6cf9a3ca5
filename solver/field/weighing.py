"""One cause in all its sizes against readings: what a gauge would show, and how likely the readings are then.

What nobody has measured (viscosity within its grade, K of fittings, roughness, level, temperature, the
pump's flow, the gauge's own error) varies normally about the drawing and is carried through by its slopes,
so that a cause is judged by how far the readings lie from it in units of what would be no surprise. All sizes
and slopes of a cause at one reading are one solve, as columns.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.answers import inputs
from solver.field import places
from solver.field.causes import Cause, CauseKind, thicker, with_flow, with_rows
from solver.field.states import Reading
from solver.formulas.flow import GRAVITY
from solver.ledger.solve import balances, solve_network
from solver.network.build import Network, build
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer

Floats = NDArray[np.float64]

VISCOSITY, RESISTANCE, ROUGHNESS, FLOW = 0.06, 0.12, 0.30, 0.03
"""Standard deviations of what is the same in all readings, as shares; common practice, no source."""

LEVEL = 0.015
"""Standard deviation of a level that was noted [m]; common practice, no source."""

FINER = 6
"""Sizes that are weighed for each that is solved."""

FLAT = 3
"""Of the largest sizes, how many read alike where a bypass is open."""

NO_SURPRISE = 2.5
"""Standard deviations within which a reading lies with a cause that fits it."""


class _Step(NamedTuple):
    """By how much a variant differs from the drawing: factors, and what it is colder [K]."""

    viscosity: float = 1.0
    resistance: float = 1.0
    roughness: float = 1.0
    flow: float = 1.0
    colder: float = 0.0


def _steps(reading: Reading) -> tuple[_Step, ...]:
    """The drawing itself, what moves all readings alike, and the reading's own temperature."""
    return (
        _Step(),
        _Step(viscosity=1.0 + VISCOSITY),
        _Step(resistance=1.0 + RESISTANCE),
        _Step(roughness=1.0 + ROUGHNESS),
        _Step(flow=1.0 + FLOW),
        _Step(colder=reading.temperature),
    )


SHARED = slice(1, 5)
"""Of `_steps`, those that move all readings alike."""

OWN = 5

NOT_SOLVED = 8e3
"""Standard deviation of what cannot be solved in a state that may have been the machine's [Pa]; common
practice, no source."""

STEPS = 6

SIZES_OF_PARALLEL, SLOPES_OF_PARALLEL = 6, 1
"""Sizes of a cause that are solved where lines run in parallel: of the drawing itself, and of its slopes."""


class Bench:
    """Readings with their networks, built once for all causes."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self.readings = tuple(readings)
        self.networks = tuple(build(reading.layout) for reading in self.readings)
        self._rest: dict[int, Floats] = {}
        self.steps = tuple(self._steps(i) for i in range(len(self.readings)))

    @cached_property
    def own(self) -> Floats:
        """What level and what was not noted may move each reading by [Pa], taken with nothing wrong."""
        return np.array([self._own(i) for i in range(len(self.readings))])

    def _own(self, number: int) -> float:
        reading = self.readings[number]
        ledger = solve_network(self.networks[number], reading.level).pumps[reading.place.pump]
        moved = [doubt.deviation for doubt in reading.doubts]
        for doubt in reading.doubts:
            if doubt.layout is not None:
                try:
                    other = at(build(doubt.layout), reading) - at(self.networks[number], reading)
                except ValueError:
                    other = NOT_SOLVED
                moved.append(other)
        moved += [0.0 if self._solves(number, self.steps[number][OWN]) else NOT_SOLVED]
        return math.hypot(ledger.density * GRAVITY * LEVEL, *moved)

    def _solves(self, number: int, step: _Step) -> bool:
        reading = self.readings[number]
        try:
            at(_stepped(self.networks[number], step, reading), reading)
        except ValueError:
            return False
        return True

    def _steps(self, number: int) -> tuple[_Step, ...]:
        """Steps of one reading: colder, or warmer where the fluid's figures do not reach so far."""
        colder = _steps(self.readings[number])
        if self._solves(number, colder[OWN]):
            return colder
        return (*colder[:OWN], _Step(colder=-colder[OWN].colder))

    @cached_property
    def gauges(self) -> Floats:
        """Covariance of the readings from their gauges alone [Pa²]."""
        count = len(self.readings)
        covariance = np.zeros((count, count))
        for i, reading in enumerate(self.readings):
            covariance[i, i] += reading.gauge.scatter**2
            for j, other in enumerate(self.readings):
                if other.gauge.name == reading.gauge.name:
                    covariance[i, j] += reading.gauge.bias * other.gauge.bias
        return covariance

    def predicted(self, cause: Cause, number: int) -> Floats:
        """Vacuum at one reading [(steps, sizes), Pa]; nan where the machine would not run so.

        Where lines run in parallel each variant is a search of its own: fewer sizes are solved, and the
        others lie on straight lines between them.
        """
        reading, count = self.readings[number], len(cause.sizes)
        offsets = np.array([cause.offset(size, reading) for size in cause.sizes])
        if reading.resting:
            return np.asarray(self._at_rest(number)[:, None] + offsets)
        parallel = bool(self.networks[number].closures)
        base_at = _picked(count, SIZES_OF_PARALLEL if parallel else count)
        slopes_at = _picked(count, SLOPES_OF_PARALLEL if parallel else count)
        variants = [(0, i) for i in base_at] + [(s, i) for s in range(1, STEPS) for i in slopes_at]
        solved = self._solved(cause, number, variants)
        base, shown = solved[: len(base_at)], solved[len(base_at) :].reshape(STEPS - 1, len(slopes_at))
        every = np.arange(count)
        full = np.interp(every, base_at, base)
        slopes = [np.interp(every, slopes_at, row - full[slopes_at]) for row in shown]
        return np.asarray(np.stack([full, *(full + slope for slope in slopes)]) + offsets)

    def _solved(self, cause: Cause, number: int, variants: Sequence[tuple[int, int]]) -> Floats:
        """Vacuum at one reading [Pa] for pairs of a step and a size, by their numbers."""
        reading, network, steps = self.readings[number], self.networks[number], self.steps[number]

        def vacuum(chosen: NDArray[np.intp]) -> Floats:
            pairs = [variants[k] for k in chosen]
            step = _Step(*(_figure([steps[s][field] for s, _ in pairs]) for field in range(len(_Step()))))
            size = _figure([cause.sizes[i] for _, i in pairs])
            changed = _with_rows_stepped(cause.change(_stepped(network, step, reading), size), step)
            return np.broadcast_to(at(changed, reading), chosen.shape)

        return _in_groups(vacuum, np.arange(len(variants)))

    def _at_rest(self, number: int) -> Floats:
        """Vacuum at a reading at rest in every step [Pa]: density is all that matters of the fluid."""
        if number not in self._rest:
            reading, network = self.readings[number], self.networks[number]
            first, *_, last = self.steps[number]
            drawn, colder = (at(_stepped(network, step, reading), reading) for step in (first, last))
            self._rest[number] = np.array([*(STEPS - 1) * [drawn], colder])
        return self._rest[number]


def _picked(count: int, most: int) -> NDArray[np.intp]:
    """Numbers of so many things at most, evenly from the first to the last."""
    if most == 1:
        return np.array([count // 2])
    return np.unique(np.linspace(0, count - 1, min(count, most)).round().astype(np.intp))


def at(network: Network, reading: Reading) -> float:
    """Vacuum at the place of a reading [Pa]. Raises as `solve_network`, and NoPlaceError."""
    if reading.resting:
        return places.at_rest(solve_network(network, reading.level), reading.place)
    if not reading.place.run:
        return balances(network, reading.level)[reading.place.pump].vacuum
    return places.vacuum(solve_network(network, reading.level), reading.place)


def _figure(values: Sequence[float] | Floats) -> float:
    """One figure for some variants: a column unless all are the same."""
    array = np.asarray(values, dtype=np.float64)
    same = bool((array == array[0]).all())
    return float(array[0]) if same else columns.column(array.copy())


def _stepped(network: Network, step: _Step, reading: Reading) -> Network:
    layout = network.layout
    if columns.is_column(step.colder) or step.colder:
        degrees = layout.fluid.temperature.si - step.colder
        layout = inputs.temperature(layout, ("",), degrees, reading.level)
        network = replace(network, layout=layout)
    if columns.is_column(step.viscosity) or step.viscosity != 1.0:
        network = replace(network, layout=thicker(network.layout, step.viscosity))
    if columns.is_column(step.flow) or step.flow != 1.0:
        network = with_flow(network, network.layout.pumps, step.flow)
    return network


def _with_rows_stepped(network: Network, step: _Step) -> Network:
    names = {row.part for row in network.rows}
    return with_rows(network, names, k_inf=step.resistance, roughness=step.roughness)


def _in_groups(vacuum: Callable[[NDArray[np.intp]], Floats], variants: NDArray[np.intp]) -> Floats:
    """Vacuum of every variant: in one solve, or in groups where they do not go the same way."""
    try:
        return np.array(vacuum(variants))
    except VariantsDiffer as differing:
        groups = [variants[differing.groups == group] for group in np.unique(differing.groups)]
        order = np.concatenate([np.flatnonzero(differing.groups == g) for g in np.unique(differing.groups)])
    except ValueError:
        if len(variants) == 1:
            return np.array([math.nan])
        middle = len(variants) // 2
        groups, order = [variants[:middle], variants[middle:]], np.arange(len(variants))
    out = np.empty(len(variants))
    out[order] = np.concatenate([_in_groups(vacuum, group) for group in groups])
    return out


@dataclass(frozen=True)
class Weighed:
    """A cause with what readings would be in each size that the machine runs in, and how likely they are."""

    cause: Cause
    sizes: Floats
    vacuum: Floats  # (sizes, readings) [Pa]
    covariances: Floats  # (sizes, readings, readings) [Pa²]
    log_likelihood: Floats  # of each size
    possible: float  # share of the sizes tried in which the machine runs
    resolution: Floats  # standard deviation of each reading from its gauge alone [Pa]

    @property
    def evidence(self) -> float:
        """Logarithm of the mean likelihood over the sizes."""
        if not len(self.sizes):
            return -math.inf
        return float(np.logaddexp.reduce(self.log_likelihood) - math.log(len(self.sizes) / self.possible))

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
        if self.cause.kind is not CauseKind.SCREEN or not self.at_end:
            return False
        return bool((np.abs(self.vacuum[-1] - self.vacuum[-1 - FLAT * FINER]) < self.resolution).all())


def thinned(weighed: Weighed, step: int) -> Weighed:
    """A cause in every so many of its sizes."""
    return replace(
        weighed,
        sizes=weighed.sizes[::step],
        vacuum=weighed.vacuum[::step],
        covariances=weighed.covariances[::step],
        log_likelihood=weighed.log_likelihood[::step],
    )


def weigh(cause: Cause, bench: Bench) -> Weighed:
    """One cause against all readings of a bench."""
    shown = np.stack(
        [bench.predicted(cause, i) for i in range(len(bench.readings))]
    )  # readings, steps, sizes
    kept = ~np.isnan(shown[:, 0, :]).any(axis=0)
    shown = shown[:, :, kept]
    sizes, vacuum = np.array(cause.sizes)[kept], shown[:, 0, :].T
    slopes = np.nan_to_num(shown - shown[:, :1, :])
    shared = slopes[:, SHARED, :]
    covariances = np.einsum("isn,jsn->nij", shared, shared) + bench.gauges
    own = slopes[:, OWN, :] ** 2 + (bench.own**2)[:, None]
    number = np.arange(len(bench.readings))
    covariances[:, number, number] += own.T
    sizes, vacuum, covariances = (_finer(each) for each in (sizes, vacuum, covariances))
    likely = log_likelihood(bench.readings, vacuum, covariances)
    return Weighed(
        cause, sizes, vacuum, covariances, likely, float(kept.mean()), np.sqrt(np.diagonal(bench.gauges))
    )


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
    low = np.array([reading.band.low for reading in readings])
    high = np.array([reading.band.high for reading in readings])
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
    """Whether each reading would be no surprise at such a vacuum [Pa]."""
    sigma = np.sqrt(np.diag(covariance))
    return [
        bool(reading.band.low - NO_SURPRISE * one <= shown <= reading.band.high + NO_SURPRISE * one)
        for reading, shown, one in zip(readings, vacuum, sigma, strict=True)
    ]


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
