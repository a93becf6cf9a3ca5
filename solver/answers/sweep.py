"""A drawing calculated for very many variants of its figures: one ledger whose figures are columns.

The variants go through the very lines that one drawing goes through (see `figures`), in groups that take the
same way through them and in pieces that fit a processor's cache. Where lines run in parallel each variant's
split is sought by itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from solver.answers.inputs import INPUTS, Input, reshapes
from solver.geometry.reservoirs import reservoir_problems
from solver.layout.parts import Layout, Level
from solver.ledger import solve as ledger
from solver.ledger.solve import Balance, PumpLedger
from solver.network import build
from solver.network.build import Floats, NetworkError
from solver.network.row_cache import RowCache
from solver.properties.atmosphere import AtmosphereError
from solver.properties.fluid import FluidError
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer

Ints = NDArray[np.intp]

Key = str | tuple[str, str]
"""What is varied: one of `INPUTS`, in every part that has it, or (one of them, part)."""

CELLS = 2**17
"""Rows times variants worked on at once: a table of them takes 1 MB, and stays in a processor's cache."""

BUILT = 2**19
"""Rows times variants worked on at once where the network is built again: more of them share the building."""

ALONE = 64
"""Variants between two reports of progress where each is solved by itself."""

FEWEST, MOST = 2**10, 2**14
"""Variants worked on at once, within `LARGEST`, whatever the number of rows: what Python does for each row is
the same for few and for many."""

LARGEST = 2**20
"""Rows times variants worked on at once at most, for the sake of memory."""

KEPT = 2**25 - 2**16
"""Bytes, see `_keep_memory`."""


class SweepError(ValueError):
    """What cannot be swept. `varied` names the input, where it is one; `index` is its place in that input's
    array, or the variant's."""

    def __init__(self, text: str, *, varied: str = "", index: tuple[int, ...] = ()) -> None:
        super().__init__(text)
        self.varied = varied
        self.index = index


@dataclass(frozen=True, slots=True)
class PumpSweep:
    """One pump's figures over the variants; each has the shape of a sweep. Pressures [Pa], absolute unless
    named otherwise; nan where a variant is refused."""

    inlet: Floats
    margin: Floats
    spent: Floats
    budget: Floats
    floor: Floats
    surface: Floats
    vacuum: Floats
    allowed_vacuum: Floats
    lowest: Floats
    npsh_available: Floats  # [m]
    npsh_required: Floats  # [m]; nan unless the limit is given so
    flow: Floats  # [m³/s]
    vapor_pressure: Floats  # of the fluid: at a `lowest` no higher than this its column breaks
    shares: Mapping[str, Floats]  # where asked for, by the key of the entry; 0 where a variant has no such


@dataclass(frozen=True, slots=True)
class VariantRefusal:
    """Variants that cannot be calculated, and why, told of the first of them."""

    variants: Ints  # their places in the sweep, laid out in one row
    problems: tuple[tuple[str, str], ...]  # (part, what is wrong)


@dataclass(frozen=True, slots=True)
class Sweep:
    """Every variant, by pump."""

    shape: tuple[int, ...]
    pumps: Mapping[str, PumpSweep]
    refused: tuple[VariantRefusal, ...]


@dataclass(frozen=True, slots=True)
class Cancelled:
    """A sweep that was stopped, with the variants that were finished, laid out in one row."""

    finished: Sweep
    of: int  # variants there would have been


def grid(axes: Mapping[Key, ArrayLike]) -> dict[Key, Floats]:
    """Inputs of every combination: each with an axis of its own, in the order given."""
    arrays = [np.asarray(values, dtype=np.float64) for values in axes.values()]
    return dict(zip(axes, np.ix_(*arrays), strict=True))


def variant(layout: Layout, values: Mapping[Key, float], level: Level = Level.MINIMUM) -> Layout:
    """The drawing of one variant.

    values: by input [SI]. level: the one that the input "level" means.
    Raises SweepError for an input the drawing does not have.
    """
    named = sorted((_named(layout, key, value) for key, value in values.items()), key=_Varied.order)
    return _varied(layout, [(each, float(each.values)) for each in named], level)


def solve(
    layout: Layout,
    inputs: Mapping[Key, ArrayLike],
    level: Level = Level.MINIMUM,
    *,
    shares: bool = False,
    skip: bool = False,
    progress: Callable[[int, int], bool | None] | None = None,
) -> Sweep | Cancelled:
    """Every pump's figures over all variants.

    layout: with the figures that are not varied. inputs: arrays [SI] that broadcast together.
    level: as in `ledger.solve`. shares: those of every entry too, at several times the cost and memory.
    skip: leave out variants that cannot be calculated, rather than refuse the sweep.
    progress: told how many variants are done, of how many; returning False cancels.
    Raises SweepError for an input by name and index, or for a variant by index; NetworkError and FluidError
    where the drawing itself cannot be calculated.
    """
    varied = sorted(_checked(layout, inputs), key=_Varied.order)
    shape = _common(varied)
    task = _Task(layout, varied, shape, level, shares, skip)
    _keep_memory()
    for done in task.work():
        if progress is not None and progress(done, task.count) is False and done < task.count:
            return Cancelled(task.result((done,)), task.count)
    return task.result(shape)


def _keep_memory() -> None:
    """Let a large piece of memory go.

    A C library that has seen one come back keeps smaller ones at hand; before, it returns each to the system,
    and asking for it again costs more than the arithmetic done in it.
    """
    np.empty(KEPT // 8)


@dataclass(frozen=True, slots=True)
class _Varied:
    """An input with its figures."""

    input: Input
    part: str  # "" for every part that has it
    parts: tuple[str, ...]
    values: Floats

    @property
    def label(self) -> str:
        return f"{self.input.name} of {self.part}" if self.part else self.input.name

    def order(self) -> tuple[int, bool]:
        """What is said of one part stands over what is said of all."""
        return list(INPUTS).index(self.input.name), bool(self.part)

    def value_text(self, value: float) -> str:
        return f"{self.label} {value:g} {self.input.unit}".rstrip()


def _named(layout: Layout, key: Key, values: ArrayLike) -> _Varied:
    name, part = (key, "") if isinstance(key, str) else key
    if name not in INPUTS:
        raise SweepError(f"{name!r} is not an input; allowed: {', '.join(INPUTS)}", varied=name)
    known = INPUTS[name]
    having = known.parts(layout)
    every = tuple(each for each in having if each not in known.apart(layout))
    parts = (part,) if part else every
    what = f"{name} of {part}" if part else name
    if not parts or not set(parts) <= set(having):
        listed = ", ".join(having) if having != ("",) else "the whole drawing"
        raise SweepError(f"there is no {what}; allowed: {listed or 'no part'}", varied=what)
    try:
        return _Varied(known, part, parts, np.asarray(values, dtype=np.float64))
    except (TypeError, ValueError):
        raise SweepError(f"the figures of {what} are not numbers", varied=what) from None


def _checked(layout: Layout, inputs: Mapping[Key, ArrayLike]) -> Iterator[_Varied]:
    """The inputs, once every figure is known to be allowed."""
    for key, values in inputs.items():
        varied = _named(layout, key, values)
        for part in varied.parts:
            least, most = varied.input.allowed(layout, part)
            wrong = ~((varied.values >= least) & (varied.values <= most) & np.isfinite(varied.values))
            if wrong.any():
                raise _not_allowed(varied, tuple(map(int, np.argwhere(wrong)[0])), least, most)
        yield varied


def _not_allowed(varied: _Varied, index: tuple[int, ...], least: float, most: float) -> SweepError:
    unit = varied.input.unit
    refused = f"{varied.label} at {_place(index)} is {varied.values[index]:g} {unit}".rstrip()
    return SweepError(f"{refused}; allowed: {_range(least, most, unit)}", varied=varied.label, index=index)


def _range(least: float, most: float, unit: str) -> str:
    """In words; a bound that is not itself allowed is given as the number next to it."""
    low = "above 0" if 0 < least < 1e-300 else f"{least:g}"
    if math.isfinite(most):
        return f"{low} to {most:g} {unit}".rstrip()
    if not math.isfinite(least):
        return "any finite number"
    return f"{low} {unit}".rstrip() + ("" if low.startswith("above") else " or more")


def _place(index: Sequence[int]) -> str:
    return f"[{', '.join(map(str, index))}]"


def _common(varied: Sequence[_Varied]) -> tuple[int, ...]:
    try:
        return np.broadcast_shapes(*(each.values.shape for each in varied))
    except ValueError:
        shapes = ", ".join(f"{each.label} {each.values.shape}" for each in varied)
        raise SweepError(f"the inputs differ in shape: {shapes}") from None


def _varied(layout: Layout, varied: Sequence[tuple[_Varied, float]], level: Level) -> Layout:
    for each, value in varied:
        layout = each.input.put(layout, each.parts, value, level)
    return layout


FIGURES = tuple(field.name for field in fields(PumpSweep) if field.name != "shares")

REFUSALS = (NetworkError, FluidError, AtmosphereError)


def _problems(error: ValueError) -> tuple[tuple[str, str], ...]:
    if isinstance(error, NetworkError):
        return error.problems
    return ((error.part, error.text),) if isinstance(error, FluidError) else (("site", str(error)),)


class _Task:
    """A sweep in the making."""

    def __init__(
        self,
        layout: Layout,
        varied: Sequence[_Varied],
        shape: tuple[int, ...],
        level: Level,
        shares: bool,
        skip: bool,
    ) -> None:
        self.layout, self.varied, self.shape, self.level = layout, varied, shape or (1,), level
        self.itemised, self.skip = shares, skip
        self.count = math.prod(shape)
        self.cache = RowCache(len(layout.runs) + len(layout.fittings))  # few: rows may hold columns
        self.built = build.build(layout, self.cache)
        self.rebuilds = any(reshapes(layout, each.input) for each in varied)
        self.figures = {
            pump: {name: np.full(self.count, np.nan) for name in FIGURES} for pump in layout.pumps
        }
        self.shares: dict[str, dict[str, Floats]] = {pump: {} for pump in layout.pumps}
        self.refused: list[VariantRefusal] = []

    def work(self) -> Iterator[int]:
        """Do a piece after the other; how many variants are done."""
        width = self._width()
        for begin in range(0, self.count, width):
            end = min(begin + width, self.count)
            members = np.arange(begin, end)
            # How flow splits between parallel lines is sought for one variant at a time.
            for together in np.split(members, len(members)) if self.built.closures else (members,):
                for group, pumps in self._groups_apart(together):
                    self._keep(group, pumps)
            yield end

    def _width(self) -> int:
        if self.built.closures:
            return ALONE
        rows = len(self.built.rows)
        cells = BUILT if self.rebuilds else CELLS
        return max(min(max(cells // rows, FEWEST), MOST, LARGEST // rows), 1)

    def _balances(self, members: Ints) -> Mapping[str, Balance]:
        drawing = self._drawing(members)
        if self.rebuilds:
            built = build.build(drawing, self.cache)
        elif problems := reservoir_problems(drawing):  # a level may be no good, which a network does not hold
            raise NetworkError(tuple(problems))
        else:
            built = replace(self.built, layout=drawing)
        return (
            ledger.solve_network(built, self.level).pumps
            if self.itemised
            else ledger.balances(built, self.level)
        )

    def _groups_apart(self, members: Ints) -> Iterator[tuple[Ints, Mapping[str, Balance]]]:
        """Some members, in groups where their ways part, with what they come to."""
        waiting = [members]
        while waiting:
            group_members = waiting.pop()
            try:
                results = self._balances(group_members)
            except VariantsDiffer as differing:
                order = np.argsort(differing.groups, kind="stable")
                bounds = np.cumsum(np.bincount(differing.groups))[:-1]
                waiting += [group for group in np.split(group_members[order], bounds) if group.size]
            except REFUSALS as error:
                self._refuse(group_members, error)
            else:
                yield group_members, results

    def _refuse(self, members: Ints, error: ValueError) -> None:
        problems = _problems(error)
        if self.skip:
            self.refused.append(VariantRefusal(members, problems))
            return
        index = tuple(map(int, np.unravel_index(members[0], self.shape)))
        figures = ", ".join(each.value_text(value) for each, value in self._figures(members[:1]))
        text = "; ".join(f"{part}: {why}" for part, why in problems)
        hot = isinstance(error, FluidError) and any(each.input.name == "temperature" for each in self.varied)
        blamed = "temperature" if hot else ""
        raise SweepError(f"variant {_place(index)}, {figures}: {text}", varied=blamed, index=index) from error

    def _drawing(self, members: Ints) -> Layout:
        return _varied(self.layout, self._figures(members), self.level)

    def _figures(self, members: Ints) -> list[tuple[_Varied, float]]:
        """Every input of some members: a column, or one figure where all have the same."""
        at = (_as_slice(members),) if len(self.shape) == 1 else np.unravel_index(members, self.shape)
        chosen = (np.broadcast_to(each.values, self.shape)[at] for each in self.varied)
        return [
            (each, columns.collapsed(columns.column(values)))
            for each, values in zip(self.varied, chosen, strict=True)
        ]

    def _keep(self, members: Ints, pumps: Mapping[str, Balance]) -> None:
        tight = _as_slice(members)
        for pump, balance in pumps.items():
            for name, kept in self.figures[pump].items():
                value = getattr(balance, name)
                if value is not None:
                    kept[tight] = value
            for entry in balance.entries if isinstance(balance, PumpLedger) else ():
                shares = self.shares[pump].get(entry.key)
                if shares is None:
                    shares = self.shares[pump][entry.key] = np.zeros(self.count)
                shares[tight] += np.nan if entry.share is None else entry.share

    def result(self, shape: tuple[int, ...]) -> Sweep:
        """What there is, in some shape; of a sweep that was stopped, its beginning."""
        count = math.prod(shape)
        for refusal in self.refused:
            for shares in self.shares.values():
                for kept in shares.values():
                    kept[refusal.variants] = np.nan

        def shaped(kept: Mapping[str, Floats]) -> dict[str, Floats]:
            return {name: values[:count].reshape(shape) for name, values in kept.items()}

        pumps = {
            pump: PumpSweep(**shaped(kept), shares=shaped(self.shares[pump]))
            for pump, kept in self.figures.items()
        }
        return Sweep(shape, pumps, tuple(self.refused))


def _as_slice(members: Ints) -> slice | Ints:
    """Members that follow one another as a slice, which takes no copy."""
    first, last = int(members[0]), int(members[-1])
    return slice(first, last + 1) if last - first + 1 == len(members) else members
