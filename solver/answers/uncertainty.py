"""How sure an answer is: ten thousand draws of what is not known, each solved, and what they come to.

Draws are independent of one another, and of the case. Latin hypercube sampling spreads them evenly over every
range, so that the same seed gives the same draws.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from solver.answers import inputs
from solver.geometry import reservoirs
from solver.layout.parts import Fitting, Intake, Layout, Level, Limit, Site
from solver.ledger.solve import balances, solve_network
from solver.network.build import Network, build
from solver.network.walls import roughness
from solver.properties import fluid
from solver.properties.atmosphere import LOW_PRESSURE_DAY, station_pressure
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer
from solver.quantities.units import Kind, Quantity

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

Band = tuple[float, float]
"""The lower and the upper end."""

DRAWS, PROFILE_DRAWS = 10_000, 2000
"""Draws for a margin, and for the pressures along a line, each of which takes several times as long."""
BALANCED_DRAWS, BALANCED_PROFILE_DRAWS = 1000, 400
"""Draws where lines run in parallel: their flows are balanced draw by draw, some milliseconds each."""
PIECE = 4096
"""Draws solved at once: their tables stay in a processor's cache."""


class Unsure(StrEnum):
    """What is not known of a line."""

    TEMPERATURE = "fluid temperature"
    BAROMETER = "barometer"
    LEVEL = "fluid level"
    BLOCKED = "strainer blocked"
    VISCOSITY = "viscosity within its grade"
    ROUGHNESS = "roughness of the walls"
    FITTINGS = "K of fittings"
    LIMIT = "the maker's limit"


FROM_START_TO_START = frozenset({Unsure.TEMPERATURE, Unsure.BAROMETER, Unsure.LEVEL, Unsure.BLOCKED})
"""What differs from one start to the next; the rest is the same each time, and merely not known."""


@dataclass(frozen=True, slots=True)
class UncertainRange:
    """Between which figures one thing lies, all alike likely, and why."""

    what: Unsure
    low: float  # added to what is drawn, or a factor on it where `factor`
    high: float
    factor: bool
    kind: Kind
    reason: str


@dataclass(frozen=True)
class Uncertainty:
    """What the draws come to for one pump in one case."""

    pump: str
    margin: Floats  # of every draw, (n,) [Pa]; nan where it could not be solved
    over: float  # share of the draws in which the pump is over, or not judged
    not_judged: float  # share of the draws that could not be solved
    ranges: tuple[UncertainRange, ...]
    importance: Mapping[Unsure, float]  # rank correlation with the margin, -1 to 1, the strongest first
    seed: int

    def quantiles(self, *levels: float) -> tuple[float, ...] | None:
        """Margins that so many of the judged draws stay under [Pa]; None where none was judged."""
        judged = self.margin[~np.isnan(self.margin)]
        if not judged.size:
            return None
        return tuple(float(np.quantile(judged, level)) for level in levels)

    @property
    def sentence(self) -> str:
        """In plain words: "over in 8 of 100 trials of what is not known", "over in every trial of ..."."""
        return f"over in {self.trials_over} of what is not known"

    @property
    def trials_over(self) -> str:
        """In how many it is over: "8 of 100 trials", "every trial"."""
        hundred = 100.0 * self.over
        if self.over in (0, 1):
            return "every trial" if self.over else "no trial"
        many = f"{hundred:.0f}" if 0.5 <= hundred <= 99.5 else _scarce(hundred)
        return f"{many} of 100 trials"


def _scarce(hundred: float) -> str:
    return "fewer than 1" if hundred < 50 else "more than 99"


def default_ranges(layout: Layout) -> tuple[UncertainRange, ...]:
    """Sensible ranges for what a drawing has, each with its reason."""
    allowance = layout.site.weather_allowance.si if layout.site.weather_allowance is not None else 0.0
    ranges = [
        _shift(Unsure.TEMPERATURE, -3.0, 3.0, Kind.TEMPERATURE, "tank and line differ, and so do days"),
        _shift(
            Unsure.BAROMETER,
            -max(LOW_PRESSURE_DAY, allowance),
            1500.0,
            Kind.VACUUM,
            f"weather moves a barometer by some {LOW_PRESSURE_DAY / 1000:g} kPa; common practice, no source",
        ),
        _shift(Unsure.LEVEL, -0.02, 0.02, Kind.LENGTH, "a level switch or a dipstick is read to 20 mm"),
        _factor(Unsure.VISCOSITY, 0.9, 1.1, "ISO 3448: a grade is its mid-point, 10 % each way"),
        _factor(Unsure.ROUGHNESS, 0.5, 2.0, "tables of roughness differ by a factor of two; no source"),
        _factor(Unsure.FITTINGS, 0.75, 1.25, "published K of one fitting differ by a quarter; no source"),
        _factor(Unsure.LIMIT, 0.95, 1.05, "a maker's round figure, 5 % each way; no source"),
    ]
    parts: tuple[Intake | Fitting, ...] = (*layout.intakes.values(), *layout.fittings.values())
    if any(part.screen is not None for part in parts):
        reason = "a strainer is seldom as clean as drawn; common practice, no source"
        ranges.append(_shift(Unsure.BLOCKED, 0.0, 0.3, Kind.SHARE, reason))
    return tuple(ranges)


def _shift(what: Unsure, low: float, high: float, kind: Kind, reason: str) -> UncertainRange:
    return UncertainRange(what, low, high, factor=False, kind=kind, reason=reason)


def _factor(what: Unsure, low: float, high: float, reason: str) -> UncertainRange:
    return UncertainRange(what, low, high, factor=True, kind=Kind.NUMBER, reason=reason)


PROBES = 8
"""Of draws that cannot be solved together, how many are tried alone; where none can, the others are left as
not judged, which counts against the line."""


def uncertainty(
    layout: Layout,
    pump: str,
    level: Level = Level.MINIMUM,
    ranges: Sequence[UncertainRange] | None = None,
    draws: int | None = None,
    seed: int = 1,
) -> Uncertainty:
    """Draw what is not known of a line, and solve every draw.

    layout: the drawing in the case that is asked about. ranges: those of `default_ranges` unless given.
    draws: how many; None for `DRAWS`, or `BALANCED_DRAWS` where lines run in parallel. seed: the same one
    gives the same draws.
    Raises KeyError for a pump that is not in the drawing, ValueError for a range that is none.
    """
    if pump not in layout.pumps:
        raise KeyError(pump)
    chosen = tuple(default_ranges(layout) if ranges is None else ranges)
    for each in chosen:
        if not each.low <= each.high:
            raise ValueError(f"{each.what}: from {each.low} to {each.high} is no range")
    drawn = _drawn(chosen, draws or _draws(layout, DRAWS, BALANCED_DRAWS), seed)
    margin = _margins(layout, pump, level, drawn)
    judged = ~np.isnan(margin)
    over = 1.0 - float(np.mean(margin[judged] >= 0.0)) * float(judged.mean()) if judged.any() else 1.0
    importance = {what: _rank_correlation(values[judged], margin[judged]) for what, values in drawn.items()}
    strongest = dict(sorted(importance.items(), key=lambda item: -abs(item[1])))
    return Uncertainty(pump, margin, over, 1.0 - float(judged.mean()), chosen, strongest, seed)


def _draws(layout: Layout, usual: int, balanced: int) -> int:
    """How many draws a drawing has: `balanced` where lines run in parallel."""
    try:
        return balanced if build(layout).closures else usual
    except ValueError:
        return usual


def _drawn(ranges: Sequence[UncertainRange], draws: int, seed: int) -> dict[Unsure, Floats]:
    if not ranges:
        return {}
    shares = _latin_hypercube(len(ranges), draws, seed)
    return {each.what: each.low + (each.high - each.low) * shares[:, i] for i, each in enumerate(ranges)}


def _latin_hypercube(columns: int, draws: int, seed: int) -> Floats:
    """Shares of so many ranges, a column each: a range in equal slices, a draw in each, paired at random.

    McKay, Beckman and Conover, Technometrics 21 (1979) 239, from memory; the very draws of
    scipy.stats.qmc.LatinHypercube, whose package takes longer to import than a sheet's trials to solve.
    """
    rng = np.random.default_rng(seed).spawn(1)[0]
    within = rng.uniform(size=(draws, columns))
    slices = np.tile(np.arange(1, draws + 1), (columns, 1))
    for column in slices:
        rng.shuffle(column)
    shares: Floats = (slices.T - within) / draws
    return shares


def _margins(layout: Layout, pump: str, level: Level, drawn: Mapping[Unsure, Floats]) -> Floats:
    margin = np.full(_count(drawn), np.nan)

    def keep(network: Network, members: Ints) -> None:
        margin[members] = balances(network, level)[pump].margin

    _solve_each(layout, pump, level, drawn, keep)
    return margin


def _count(drawn: Mapping[Unsure, Floats]) -> int:
    return len(next(iter(drawn.values()))) if drawn else 1


def _solve_each(
    layout: Layout,
    pump: str,
    level: Level,
    drawn: Mapping[Unsure, Floats],
    keep: Callable[[Network, Ints], None],
) -> None:
    """Solve every draw, many at once. `keep` is handed the network of some draws, with their places."""
    count = _count(drawn)
    waiting = [np.arange(begin, min(begin + PIECE, count)) for begin in range(0, count, PIECE)]

    def solve_members(members: Ints) -> None:
        figures = {what: columns.collapsed(columns.column(values[members])) for what, values in drawn.items()}
        keep(_network(layout, pump, level, figures), members)

    while waiting:
        members = waiting.pop()
        try:
            solve_members(members)
        except VariantsDiffer as differing:  # draws in which the calculation goes another way
            order = np.argsort(differing.groups, kind="stable")
            bounds = np.cumsum(np.bincount(differing.groups))[:-1]
            waiting += [group for group in np.split(members[order], bounds) if group.size]
        except ValueError:
            few = members.size <= 2 * PROBES
            if not few and not any(_holds(solve_members, each) for each in _probes(members)):
                continue  # draws that go one way and end there: none is looked for one by one
            if members.size > 1:  # one of them cannot be solved: find which
                waiting += [half for half in np.array_split(members, 2) if half.size]


def _probes(members: Ints) -> Iterator[Ints]:
    """A few of some draws, each by itself."""
    return (members[[at]] for at in np.linspace(0, members.size - 1, PROBES).astype(int))


def _holds(solve_members: Callable[[Ints], None], members: Ints) -> bool:
    try:
        solve_members(members)
    except ValueError:
        return False
    return True


@dataclass(frozen=True)
class PressureBands:
    """Between which absolute pressures most draws lie, from the fluid's surface to the port [Pa]."""

    surface: Band
    after: Mapping[str, Band]  # the element, by the key of its entry


def pressure_bands(
    layout: Layout,
    pump: str,
    level: Level = Level.MINIMUM,
    ends: Band = (0.05, 0.95),
    ranges: Sequence[UncertainRange] | None = None,
    draws: int | None = None,
    seed: int = 1,
) -> PressureBands | None:
    """How sure the pressure is along the line; None where no draw could be solved.

    Parameters as `uncertainty`, with fewer draws; `ends`, shares of the draws that lie under the ends of a
    band.
    """
    many = draws or _draws(layout, PROFILE_DRAWS, BALANCED_PROFILE_DRAWS)
    drawn = _drawn(tuple(default_ranges(layout) if ranges is None else ranges), many, seed)
    count = _count(drawn)
    surface: Floats = np.full(count, np.nan)
    after: dict[str, Floats] = {}

    def keep(network: Network, members: Ints) -> None:
        ledger = solve_network(network, level).pumps[pump]
        surface[members] = ledger.surface
        for entry in ledger.entries:
            after.setdefault(entry.key, np.full(count, np.nan))[members] = entry.pressure

    _solve_each(layout, pump, level, drawn, keep)
    if np.isnan(surface).all():
        return None
    return PressureBands(_band(surface, ends), {key: _band(values, ends) for key, values in after.items()})


def _band(values: Floats, ends: Band) -> Band:
    low, high = np.nanquantile(values, ends)
    return float(low), float(high)


def _network(layout: Layout, pump: str, level: Level, figures: Mapping[Unsure, float]) -> Network:
    """The network of some draws."""
    for what, put in _PUT.items():
        if what in figures:
            layout = put(layout, pump, level, figures[what])
    network = build(layout)
    if Unsure.FITTINGS in figures:
        factor = np.asarray(figures[Unsure.FITTINGS])
        every = ("k_inf", "k_slow", "k_inf_back", "k_slow_back")
        names = [name for name in every if name in network.columns]
        scaled = {name: _scaled(network.columns[name], factor) for name in names}
        network = replace(network, columns={**network.columns, **scaled})
    return network


def _scaled(table: Floats, factor: Floats) -> Floats:
    scaled: Floats = table * factor if table.ndim == 2 or factor.ndim == 0 else table[:, None] * factor
    return scaled


def _temperature(layout: Layout, pump: str, level: Level, by: float) -> Layout:
    return inputs.temperature(layout, ("",), layout.fluid.temperature.si + by, level)


def _thicker(layout: Layout, pump: str, level: Level, times: float) -> Layout:
    """After the temperature has been put: the viscosity that the fluid has there, times a factor."""
    return inputs.viscosity(layout, ("",), fluid.state(layout.fluid).viscosity * times, level)


def _barometer(layout: Layout, pump: str, level: Level, by: float) -> Layout:
    """The range takes the place of an allowance for a low-pressure day."""
    pressure = station_pressure(layout.site) + by
    return replace(layout, site=Site(barometer=Quantity(f"{columns.first(pressure)!r} Pa", pressure)))


def _level(layout: Layout, pump: str, level: Level, by: float) -> Layout:
    for name, tank in layout.reservoirs.items():
        layout = inputs.fluid_level(layout, (name,), reservoirs.level(tank, level) + by, level)
    return layout


def _blocked(layout: Layout, pump: str, level: Level, by: float) -> Layout:
    for group in (layout.intakes, layout.fittings):
        for name, part in group.items():
            if part.screen is not None:
                value = columns.least(part.screen.blocked + by, inputs.BLOCKED[1])
                layout = inputs.blocked(layout, (name,), value, level)
    return layout


def _rougher(layout: Layout, pump: str, level: Level, times: float) -> Layout:
    for name, run in layout.runs.items():
        layout = inputs.roughness(layout, (name,), roughness(run) * times, level)
    return layout


def _limit(layout: Layout, pump: str, level: Level, times: float) -> Layout:
    old = layout.pumps[pump].limit
    table = tuple((at, Quantity(value.text, value.si * times)) for at, value in old.table)
    stated = replace(layout.pumps[pump], limit=Limit(old.form, table, old.over))
    return replace(layout, pumps={**layout.pumps, pump: stated})


_PUT: Mapping[Unsure, Callable[[Layout, str, Level, float], Layout]] = {
    Unsure.TEMPERATURE: _temperature,
    Unsure.VISCOSITY: _thicker,
    Unsure.BAROMETER: _barometer,
    Unsure.LEVEL: _level,
    Unsure.BLOCKED: _blocked,
    Unsure.ROUGHNESS: _rougher,
    Unsure.LIMIT: _limit,
}
"""In the order in which they are put; the K of fittings is put into the network itself."""


def _rank_correlation(values: Floats, margin: Floats) -> float:
    """Spearman's, without ties; 0 where nothing varies."""
    if values.size < 3 or np.ptp(values) == 0 or np.ptp(margin) == 0:
        return 0.0
    first, second = (np.argsort(np.argsort(each)).astype(np.float64) for each in (values, margin))
    return float(np.corrcoef(first, second)[0, 1])
