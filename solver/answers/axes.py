"""Figures to vary as typed, `KEY=FROM..TO/COUNT`, and every combination of them solved in every case."""

from __future__ import annotations

import math
import re
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from solver.answers import sweep
from solver.answers.inputs import INPUTS, Input
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level
from solver.network import build
from solver.network.build import NetworkError
from solver.quantities import units
from solver.quantities.units import UnitError

Floats = NDArray[np.float64]

COUNT = 11
"""Figures on an axis where no number of them is typed."""
MOST = 100_000_000
"""Variants of one drawing."""
FEWEST_AT_ONCE, MOST_AT_ONCE = 2**8, 2**15
PATIENCE = 0.2
"""Within which a piece is to be solved, so that a stop is heard [s]."""

FORM = "KEY=FROM..TO or KEY=FROM..TO/COUNT, such as 'temperature=10 degC..60 degC/6'"
_FORM = re.compile(r"(?P<key>[^=]+)=(?P<low>.+?)\.\.(?P<high>.+?)(?:/(?P<count>\d+))?")
_BARE = re.compile(r"[+-]? ?[0-9.]+")


class AxisError(ValueError):
    """What cannot be varied so: what was typed, and what is allowed there."""


@dataclass(frozen=True)
class Axis:
    """One figure and the values it goes through."""

    name: str  # one of INPUTS
    part: str  # "" for every part that has it
    values: Floats  # [SI unit of the input]

    @property
    def input(self) -> Input:
        """The row of the table of what can be varied."""
        return INPUTS[self.name]

    @property
    def key(self) -> sweep.Key:
        """The key of its figure in a sweep: the name, with the part where it is that of one part."""
        return (self.name, self.part) if self.part else self.name

    @property
    def label(self) -> str:
        """Its name, with the part where it is that of one part."""
        return f"{self.name} of {self.part}" if self.part else self.name


@dataclass(frozen=True)
class Piece:
    """Some variants that follow one another, solved in every case."""

    figures: Mapping[str, Floats]  # by the label of each axis, (n,) [SI]
    cases: Mapping[str, Mapping[str, sweep.PumpSweep]]  # pump by name in each case that could be read
    unread: Mapping[str, str]  # the cases that no variant could be solved in, and why

    @property
    def count(self) -> int:
        """How many variants it has."""
        return len(next(iter(self.figures.values())))

    def decided(self, pump: str) -> tuple[Floats, NDArray[np.intp], tuple[str, ...]]:
        """The least margin of all cases [Pa], which case it is, and the cases by number.

        nan and -1 where some case is not judged: the worst is not known then.
        """
        names = tuple(name for name, pumps in self.cases.items() if pump in pumps)  # in which it runs
        if not names or self.unread:
            return np.full(self.count, np.nan), np.full(self.count, -1), names
        margins = np.stack([self.cases[name][pump].margin for name in names])
        missing = np.isnan(margins).any(axis=0)
        case = np.argmin(np.where(np.isnan(margins), np.inf, margins), axis=0)
        least = np.take_along_axis(margins, case[None], axis=0)[0]
        return np.where(missing, np.nan, least), np.where(missing, -1, case), names


def read_axis(typed: str) -> Axis:
    """Read what is to be varied, and from where to where.

    typed: such as "port height of pump=1 m..2 m/5"; a unit may stand at the second figure alone.
    Raises AxisError.
    """
    matched = _FORM.fullmatch(typed.strip())
    if matched is None:
        raise AxisError(f"{typed!r}; allowed: {FORM}")
    name, of, part = matched["key"].strip().partition(" of ")
    name = " ".join(name.replace("-", " ").replace("_", " ").split())
    if name not in INPUTS or (of and not part.strip()):
        raise AxisError(
            f"{matched['key'].strip()!r} cannot be varied; allowed: {', '.join(INPUTS)}, also 'KEY of PART'"
        )
    low, high = matched["low"].strip(), matched["high"].strip()
    if _BARE.fullmatch(low) and (unit := _BARE.sub("", high, count=1).strip()):
        low = f"{low} {unit}"
    ends = [_figure(text, name, typed) for text in (low, high)]
    count = int(matched["count"]) if matched["count"] else COUNT
    if not 1 <= count <= MOST:
        raise AxisError(f"{count} figures in {typed!r}; allowed: 1 to {MOST}")
    return Axis(name, part.strip(), np.linspace(ends[0], ends[1], count))


def _figure(text: str, name: str, typed: str) -> float:
    try:
        return units.quantity(text, INPUTS[name].kind).si
    except UnitError as error:
        raise AxisError(f"{typed!r}: {error}") from None


@dataclass
class _Pace:
    """How many variants are solved at once, so that none keeps a stop waiting."""

    count: int = FEWEST_AT_ONCE
    since: float = field(default_factory=time.perf_counter)

    def next(self) -> None:
        now = time.perf_counter()
        longer = now - self.since < PATIENCE / 2
        self.count = min(self.count * 2, MOST_AT_ONCE) if longer else max(self.count // 2, 1)
        self.since = now


def size(axes: Sequence[Axis]) -> int:
    """How many variants there are. Raises AxisError where there are too many, or one figure twice."""
    labels = [axis.label for axis in axes]
    for label in labels:
        if labels.count(label) > 1:
            raise AxisError(f"{label!r} is to be varied twice; allowed: once")
    total = math.prod(axis.values.size for axis in axes)
    if total > MOST:
        raise AxisError(f"{total} variants; allowed: at most {MOST}")
    return total


def pieces(layout: Layout, axes: Sequence[Axis], level: Level = Level.MINIMUM) -> Iterator[Piece]:
    """Every combination of the figures, the last axis the fastest, some at a time.

    A figure that is varied takes the place of what a case says of it. A variant that cannot be solved in a
    case has nan there. Raises SweepError for an axis that the drawing does not have or allow, NetworkError
    where the drawing itself has no line to calculate.
    """
    shape, total = tuple(axis.values.size for axis in axes), size(axes)
    build.build(layout)
    drawings, unread = _in_cases(layout)
    pace, begin = _Pace(), 0
    while begin < total:
        members = np.arange(begin, min(begin + pace.count, total))
        at = np.unravel_index(members, shape)
        chosen = {axis.key: axis.values[index] for axis, index in zip(axes, at, strict=True)}
        solved = {name: _solved(drawing, chosen, level) for name, drawing in drawings.items()}
        yield Piece({axis.label: chosen[axis.key] for axis in axes}, solved, unread)
        begin += members.size
        pace.next()


def _solved(
    drawing: Layout, chosen: Mapping[sweep.Key, Floats], level: Level
) -> Mapping[str, sweep.PumpSweep]:
    """The pumps that run, over some variants in one case; all nan where the case cannot be solved at all."""
    running = [name for name, pump in drawing.pumps.items() if not pump.at_rest]
    try:
        swept = sweep.solve(drawing, chosen, drawing.level or level, skip=True)
    except NetworkError:  # a valve is shut in this case, say
        nothing = np.full(len(next(iter(chosen.values()))), np.nan)
        return dict.fromkeys(running, sweep.PumpSweep(**dict.fromkeys(sweep.FIGURES, nothing), shares={}))
    assert isinstance(swept, sweep.Sweep)  # only a report that says no can cancel one
    return {name: swept.pumps[name] for name in running}


def _in_cases(layout: Layout) -> tuple[dict[str, Layout], dict[str, str]]:
    """The drawing in each of its cases, and the cases that do not hold on it."""
    drawings, unread = {}, {}
    for name, case in cases_of(layout).items():
        try:
            drawings[name] = layout_in_case(layout, name, case)
        except CaseError as error:
            unread[name] = str(error)
    return drawings, unread
