"""A pump's figures over one thing that is varied, in every case: curves, and where they cross a limit."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.answers.inputs import INPUTS, Ends
from solver.answers.sweep import FIGURES, PumpSweep
from solver.answers.uncertainty import uncertainty
from solver.answers.variations import first_screen, line_parts
from solver.findings.criteria import criteria_of
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Balance, PumpLedger, balances, solve
from solver.network.build import NetworkError, build
from solver.properties.fluid import FluidError
from solver.quantities import columns
from solver.quantities.columns import VariantsDiffer
from solver.quantities.units import Kind, System
from solver.quantities.wording import error_text

Floats = NDArray[np.float64]

POINTS = 121
RANGE_PLACES, RANGE_DRAWS = 15, 400
"""Values at which what is not known is drawn, and how often at each."""
FEW = 4
"""Values that are looked at one by one, where some of them cannot be solved."""
NEARER = 33
"""Values between two of them, where a margin crosses zero there."""
BEYOND = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
"""How far past an end is looked for where the margin is spent, in multiples of the range."""
ROOM = 0.1
"""Of the range, kept past that place."""
RELATIVE = (Kind.SPEED, Kind.FLOW)
"""Of what is looked at in multiples of the figure today."""
FIGURE = re.compile(r"\d[\d.]*")
"""In a text that says why something cannot be solved."""
SAMPLES = 25
"""Places at which flow is looked at for being neither laminar nor turbulent: each is a whole solve."""


@dataclass(frozen=True)
class CurveSubject:
    """What is varied: a figure of one part, how far, and where it stands."""

    name: str  # one of INPUTS
    part: str  # "" for the whole drawing
    now: float  # [SI]
    ends: Ends  # [SI]

    @property
    def label(self) -> str:
        """What it is called: "port height of press", "strainer blocked"."""
        if self.name == "blocked" and self.part:
            return f"{self.part} blocked"
        return f"{self.name} of {self.part}" if self.part else self.name


@dataclass(frozen=True)
class Gap:
    """Values that follow one another at which the drawing cannot be solved in some case."""

    low: float  # the first of them [SI]
    high: float
    cases: tuple[str, ...]  # in which it cannot
    errors: tuple[ValueError, ...]  # why, at one end, the middle and the other, from the figure today

    def why(self, system: System) -> str:
        """What keeps it from being solved, in the units of a system."""
        whys: dict[str, str] = {}
        for error in self.errors:
            text = error_text(error, system)
            whys.setdefault(FIGURE.sub("", text), text)  # told once where its figures alone differ
        return "; ".join(whys.values()) or "there is no figure"


@dataclass(frozen=True)
class Curves:
    """One pump over the values of a subject."""

    subject: CurveSubject
    pump: str
    values: Floats  # [SI]
    cases: Mapping[str, PumpSweep]  # in which the pump runs
    unread: Mapping[str, str]  # cases that do not hold on the drawing, and why
    margin: Floats  # the least of all cases [Pa]; nan where one is not judged
    case: tuple[str, ...]  # that decides at each value; "" where one is not judged
    thin: float  # margin that is thin whatever the budget [Pa]
    crossings: tuple[float, ...]  # values at which the least margin is zero [SI]
    gaps: tuple[Gap, ...] = ()  # where the margin is not known though every case holds on the drawing

    def nearest(self, value: float) -> int:
        """The place in `values` that is nearest to a value."""
        return int(np.argmin(np.abs(self.values - value)))


def subjects(layout: Layout, ledger: PumpLedger, level: Level) -> tuple[CurveSubject, ...]:
    """What can be varied on the way to a pump, in the order of INPUTS."""
    return tuple(subject for name in INPUTS if (subject := _subject(name, layout, ledger, level)) is not None)


def _subject(name: str, layout: Layout, ledger: PumpLedger, level: Level) -> CurveSubject | None:
    row, part = INPUTS[name], _part(name, layout, ledger)
    if part is None:
        return None
    if row.slider is not None:
        value = row.slider.value(layout, part, level)
        if isinstance(value, str):
            return None
        low, high = row.slider.span(layout, part, level)
        return CurveSubject(name, part, value.si, (min(low, value.si), max(high, value.si)))
    now = _figure(name, ledger, part)
    low, high = _FACTORS[name]
    return None if now is None or not now > 0 else CurveSubject(name, part, now, (now * low, now * high))


_FACTORS: Mapping[str, Ends] = {
    "bore": (0.6, 2.0),
    "roughness": (0.1, 20.0),
    "density": (0.8, 1.4),
    "viscosity": (0.1, 10.0),
    "flow": (0.1, 2.5),
}
"""How far what has no slider is varied, in multiples of what it is."""


def _part(name: str, layout: Layout, ledger: PumpLedger) -> str | None:
    """The part on the way to a pump whose figure is varied; None where there is none."""
    if name in ("temperature", "elevation", "density", "viscosity"):
        return ""
    if name in ("port height", "speed", "flow"):
        return ledger.pump
    if name == "level":
        return ledger.reservoir
    if name == "blocked":
        return first_screen(layout, ledger) or None
    losses = {
        each: sum(entry.loss for entry in ledger.entries if entry.part == each)
        for each in line_parts(ledger)
        if each in layout.runs
    }
    return max(losses, key=lambda each: losses[each]) if losses else None


def _figure(name: str, ledger: PumpLedger, part: str) -> float | None:
    if name == "flow":
        return ledger.flow
    if name == "density":
        return ledger.density
    entries = [entry for entry in ledger.entries if entry.part == part]
    if name == "bore":
        return entries[0].bore if entries else None
    return None


def curves(
    layout: Layout, pump: str, subject: CurveSubject, level: Level = Level.MINIMUM, points: int = POINTS
) -> Curves:
    """Solve a drawing over the values of a subject, in every case.

    The drawing's own figure is varied: a case that gives the figure itself stays as it is. Where the margin
    is spent past an end of its range, the curves go on to there.
    Raises NetworkError where the drawing has no line to calculate.
    """
    build(layout)
    low, high = subject.ends
    far = (_end(layout, pump, subject, level, high, low), _end(layout, pump, subject, level, low, high))
    subject = replace(subject, ends=(far[1], far[0]))
    values = np.union1d(np.linspace(*subject.ends, points), [subject.now])
    cases, unread = _in_cases(layout, pump, subject, level, values)
    margin, deciding = _least(cases, unread)
    crossed = []
    for at in np.flatnonzero(np.sign(margin[:-1]) * np.sign(margin[1:]) < 0):
        nearer = np.linspace(values[at], values[at + 1], NEARER)
        least, _ = _least(*_in_cases(layout, pump, subject, level, nearer))
        crossed += list(_zeros(nearer, least))[:1]
    return Curves(
        subject,
        pump,
        values,
        cases,
        unread,
        margin,
        deciding,
        criteria_of(layout).thin_pressure,
        tuple(crossed),
        tuple(_gaps(layout, pump, subject, level, values, cases)),
    )


def _end(layout: Layout, pump: str, subject: CurveSubject, level: Level, end: float, other: float) -> float:
    """An end of the range, past the place where the margin is spent if no such place lies before it."""
    least, most = _bounds(layout, subject)
    beyond = [end + (end - other) * each for each in BEYOND]
    values = np.unique([subject.now, end, *np.clip(beyond, min(least, end), max(most, end))])
    if end < other:
        values = values[::-1]

    def margins(values: Floats) -> Floats:
        return _least(*_in_cases(layout, pump, subject, level, values))[0]

    margin = margins(values)
    for at in range(values.size - 1):
        if np.isnan(margin[at + 1]) or np.isnan(margin[at]):
            return end
        if (margin[at] < 0) is not (margin[at + 1] < 0):
            nearer = np.linspace(values[at], values[at + 1], NEARER)
            spent = next(_zeros(nearer, margins(nearer)), end)
            room = spent + ROOM * (spent - other)
            inside = abs(spent - other) <= abs(end - other)
            return end if inside else float(np.clip(room, min(least, spent), max(most, spent)))
    runs_out = INPUTS[subject.name].kind in RELATIVE and margin[0] >= 0 and end > other
    return most if runs_out else end  # by the velocity it may be spent before


def _bounds(layout: Layout, subject: CurveSubject) -> Ends:
    """How far the figure may go, and is looked at, at all [SI]."""
    row = INPUTS[subject.name]
    times = subject.now if row.kind in RELATIVE else 1.0
    (low, high), (least, most) = row.searched, row.allowed(layout, subject.part)
    return max(low * times, least), min(high * times, most)


def _gaps(
    layout: Layout,
    pump: str,
    subject: CurveSubject,
    level: Level,
    values: Floats,
    cases: Mapping[str, PumpSweep],
) -> Iterator[Gap]:
    missing = {name: np.isnan(swept.margin) for name, swept in cases.items()}
    anywhere = np.logical_or.reduce(list(missing.values()))
    edges = np.flatnonzero(np.diff(np.concatenate([[False], anywhere, [False]]).astype(int)))
    for first, beyond in zip(edges[::2], edges[1::2], strict=True):
        errors = []
        places = dict.fromkeys((first, (first + beyond - 1) // 2, beyond - 1))
        for at in sorted(places, key=lambda each: abs(values[each] - subject.now)):
            name = next(name for name, gone in missing.items() if gone[at])
            try:
                balances(build(_put(layout, subject, level, float(values[at]), name)), level)
            except ValueError as error:
                errors.append(error)
        names = tuple(name for name, gone in missing.items() if gone[first:beyond].any())
        yield Gap(float(values[first]), float(values[beyond - 1]), names, tuple(errors))


def _put(layout: Layout, subject: CurveSubject, level: Level, value: float, case: str) -> Layout:
    """The drawing with a value, or a column of them, in one of its cases."""
    drawing = INPUTS[subject.name].put(layout, (subject.part,), value, level)
    return layout_in_case(drawing, case, cases_of(layout)[case])


def _zeros(values: Floats, margin: Floats) -> Iterator[float]:
    """Where a margin is zero, on the straight between two of its values."""
    for at in np.flatnonzero(np.sign(margin[:-1]) * np.sign(margin[1:]) <= 0):
        fall = margin[at] - margin[at + 1]
        yield float(values[at] + (values[at + 1] - values[at]) * (margin[at] / fall if fall else 0.0))


def _least(cases: Mapping[str, PumpSweep], unread: Mapping[str, str]) -> tuple[Floats, tuple[str, ...]]:
    """The least margin of all cases [Pa], and which it is; nan and "" where some case is not judged."""
    names = tuple(cases)
    margins = np.stack([swept.margin for swept in cases.values()])
    missing = np.ones(margins.shape[1], dtype=np.bool_) if unread else np.isnan(margins.sum(axis=0))
    case = np.argmin(np.where(np.isnan(margins), np.inf, margins), axis=0)
    least = np.take_along_axis(margins, case[None], axis=0)[0]
    deciding = tuple("" if gone else names[at] for at, gone in zip(case, missing, strict=True))
    return np.where(missing, np.nan, least), deciding


def _in_cases(
    layout: Layout, pump: str, subject: CurveSubject, level: Level, values: Floats
) -> tuple[dict[str, PumpSweep], dict[str, str]]:
    """The pump in every case in which it runs, and the cases that do not hold on the drawing."""
    cases, unread = {}, {}
    for name, case in cases_of(layout).items():
        try:
            if layout_in_case(layout, name, case).pumps[pump].at_rest:
                continue
        except CaseError as error:
            unread[name] = str(error)
            continue
        cases[name] = _over(layout, pump, subject, level, values, name)
    return cases, unread


def _over(
    layout: Layout, pump: str, subject: CurveSubject, level: Level, values: Floats, name: str
) -> PumpSweep:
    """One case over the values; nan where it cannot be solved."""
    figures = {figure: np.full(values.size, np.nan) for figure in FIGURES}

    def solved(members: NDArray[np.intp]) -> Balance:
        column = columns.collapsed(columns.column(values[members]))
        return balances(build(_put(layout, subject, level, column, name)), level)[pump]

    waiting = [np.arange(values.size)]
    while waiting:
        members = waiting.pop()
        try:
            balance = solved(members)
        except VariantsDiffer as difference:  # values at which the calculation goes another way
            order = np.argsort(difference.groups, kind="stable")
            bounds = np.cumsum(np.bincount(difference.groups))[:-1]
            waiting += [group for group in np.split(members[order], bounds) if group.size]
        except ValueError:
            waiting += _halves(members, solved)
        else:
            for figure, kept in figures.items():
                value = getattr(balance, figure)
                if value is not None:
                    kept[members] = value
    return PumpSweep(**figures, shares={})


def _halves(
    members: NDArray[np.intp], solved: Callable[[NDArray[np.intp]], Balance]
) -> list[NDArray[np.intp]]:
    """Where to look on among values one of which cannot be solved; nowhere where ends and middle cannot."""
    if members.size == 1:
        return []
    if members.size > FEW and all(
        _refused(members[at : at + 1], solved) for at in (0, members.size // 2, members.size - 1)
    ):
        return []
    return [half for half in np.array_split(members, 2) if half.size]


def _refused(member: NDArray[np.intp], solved: Callable[[NDArray[np.intp]], Balance]) -> bool:
    try:
        solved(member)
    except ValueError:
        return True
    return False


@dataclass(frozen=True)
class UncertainMargin:
    """Between which margins 90 of 100 trials of what is not known lie, in the case that decides."""

    values: Floats  # [SI]
    low: Floats  # [Pa]; nan where no case decides, or no draw could be solved
    high: Floats


def uncertain_margin(
    layout: Layout, curves: Curves, level: Level, draws: int = RANGE_DRAWS
) -> UncertainMargin:
    """How sure the worst case's margin is over the values. Parameters as `curves`."""
    judged = np.flatnonzero(np.diff(np.isnan(curves.margin)))
    evenly = np.linspace(0, curves.values.size - 1, RANGE_PLACES).round().astype(int)
    at = np.unique(np.concatenate([evenly, judged, judged + 1]))  # to the very ends of every stretch
    low, high = np.full(at.size, np.nan), np.full(at.size, np.nan)
    for place, index in enumerate(at):
        name = curves.case[index]
        if not name:
            continue
        drawing = _put(layout, curves.subject, level, float(curves.values[index]), name)
        drawn = uncertainty(drawing, curves.pump, drawing.level or level, draws=draws)
        if ends := drawn.quantiles(0.05, 0.95):
            low[place], high[place] = ends
    return UncertainMargin(curves.values[at], low, high)


def transitional(layout: Layout, pump: str, subject: CurveSubject, level: Level) -> tuple[Ends, ...]:
    """Stretches of the values in which some of a pump's line flows between laminar and turbulent.

    `layout`: in the case that is looked at.
    """
    values = np.linspace(*subject.ends, SAMPLES)
    step = values[1] - values[0]
    stretches: list[Ends] = []
    row = INPUTS[subject.name]
    for value in values:
        try:
            solution = solve(row.put(layout, (subject.part,), float(value), level), level)
        except (NetworkError, FluidError):
            continue
        if pump in solution.pumps and any(entry.transitional for entry in solution.pumps[pump].entries):
            low, high = float(value - step / 2), float(value + step / 2)
            if stretches and low - stretches[-1][1] < step / 2:
                low = stretches.pop()[0]
            stretches.append((low, high))
    return tuple((max(a, subject.ends[0]), min(b, subject.ends[1])) for a, b in stretches)
