"""What the part card shows as a picture: viscosity over temperature, and a maker's limit as its corrections.

No Qt here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from sketch.model.outcome import Outcome
from solver.findings.criteria import criteria_of
from solver.layout.kinds import PumpType
from solver.layout.parts import FluidChoice, Layout
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.solve import PumpLedger
from solver.properties import fluid
from solver.quantities import units
from solver.quantities.units import Kind, System

COLDER, HOTTER = 15.0, 25.0
"""How far the curve goes on past the temperatures of the drawing [K]."""

STEPS = 60
MOST_TICKS = 5
"""On the axis of a limit, besides its 0."""


@dataclass(frozen=True, slots=True)
class ViscosityMark:
    """Where the fluid stands in a case, or in several."""

    temperature: float  # [K]
    viscosity: float  # [m²/s]
    names: tuple[str, ...]  # of the cases, the one in view first
    figure: str
    now: bool = False  # the case in view

    @property
    def text(self) -> str:
        """The cases and the viscosity."""
        return f"{', '.join(self.names)}: {self.figure}"

    @property
    def short(self) -> str:
        """The cases in few words: the first of them, and how many there are besides."""
        more = len(self.names) - 1
        return f"{self.names[0]} and {more} more" if more else self.names[0]


@dataclass(frozen=True, slots=True)
class ViscosityBound:
    """A viscosity that a pump should not pass [m²/s]."""

    viscosity: float
    text: str
    stated: bool  # by the pump's maker; else it is the usual figure


@dataclass(frozen=True, slots=True)
class ViscosityPicture:
    """Viscosity [m²/s] over temperature [K]."""

    curve: tuple[tuple[float, float], ...]
    marks: tuple[ViscosityMark, ...]
    bounds: tuple[ViscosityBound, ...]


class StepRole(StrEnum):
    """What a step says."""

    SURFACE = "surface"  # what stands on the fluid
    LIMIT = "limit"  # what the maker states
    CORRECTION = "correction"
    BUDGET = "budget"


@dataclass(frozen=True, slots=True)
class LimitStep:
    """One row of the picture: a pressure, or from one absolute pressure to another [Pa]."""

    role: StepRole
    name: str
    before: float | None  # None for a pressure alone
    after: float
    text: str
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class LimitPicture:
    """From what the maker states to the floor that is asked for here, and what the surface leaves over it."""

    steps: tuple[LimitStep, ...]
    ticks: tuple[tuple[float, str], ...]  # absolute pressures of the axis [Pa], with their figures
    unit: str

    @property
    def ends(self) -> tuple[float, float]:
        """The pressures that the axis runs between [Pa]: from perfect vacuum, so that bars are to scale."""
        every = [each.after for each in self.steps]
        every += [each.before for each in self.steps if each.before is not None]
        return min(0.0, *every), max(*every, self.ticks[-1][0])

    def spans(self) -> list[tuple[float, float]]:
        """Where the bar of each step begins and ends, as shares of the axis."""
        low, high = self.ends
        span = (high - low) or 1.0
        return [
            ((max(step.before or 0.0, low) - low) / span, (step.after - low) / span) for step in self.steps
        ]


def viscosity_picture(layout: Layout, outcome: Outcome, pump: str, system: System) -> ViscosityPicture | None:
    """The viscosity of the drawing's fluid, with the cases of today; None where no case is solved."""
    marks = _marks(outcome, system)
    if not marks:
        return None
    ends = [mark.temperature for mark in marks]
    low, high = min(ends) - COLDER, max(ends) + HOTTER
    return ViscosityPicture(_curve(layout.fluid, low, high), marks, _bounds(layout, pump, system))


def _marks(outcome: Outcome, system: System) -> tuple[ViscosityMark, ...]:
    if outcome.judgement is None:
        return ()
    named: dict[tuple[float, float], list[str]] = {}
    for name, case in outcome.judgement.cases.items():
        if case.solution is not None:
            state = case.solution.tank_fluid
            named.setdefault((state.temperature, state.viscosity), []).append(name)
    return tuple(
        ViscosityMark(
            *at,
            tuple(sorted(names, key=lambda name: name != outcome.case)),
            _shown(at[1], system),
            outcome.case in names,
        )
        for at, names in named.items()
    )


@lru_cache(maxsize=8)  # asked for again at every figure that is typed
def _curve(choice: FluidChoice, low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Viscosity from one temperature to another [K], where the fluid's data hold."""
    points = []
    for temperature in (low + (high - low) * at / STEPS for at in range(STEPS + 1)):
        try:
            points.append((temperature, fluid.state(choice, temperature).viscosity))
        except fluid.FluidError:
            continue
    return tuple(points)


def _bounds(layout: Layout, name: str, system: System) -> tuple[ViscosityBound, ...]:
    """The most with which the pump that is shown may start, and the least that it should run on."""
    pump = layout.pumps.get(name)
    if pump is None:
        return ()
    criteria, bounds = criteria_of(layout), []
    if pump.start_viscosity is not None:
        most = pump.start_viscosity.si
        bounds.append(ViscosityBound(most, f"start limit of {name}, {_shown(most, system)}", stated=True))
    elif pump.type != PumpType.CENTRIFUGAL:
        vane = pump.type == PumpType.VANE
        most = criteria.start_viscosity_vane if vane else criteria.start_viscosity_other
        bounds.append(ViscosityBound(most, f"usual start limit, {_shown(most, system)}", stated=False))
    if pump.type != PumpType.CENTRIFUGAL:
        least = criteria.running_viscosity
        bounds.append(ViscosityBound(least, f"usual running limit, {_shown(least, system)}", stated=False))
    return tuple(bounds)


def _shown(viscosity: float, system: System) -> str:
    return units.show(viscosity, Kind.VISCOSITY, system)


def limit_picture(ledger: PumpLedger | None, system: System) -> LimitPicture | None:
    """The steps from the maker's limit to the floor of a ledger, and its budget; None without one."""
    if ledger is None or not ledger.floor_lines:
        return None

    def shown(pressure: float) -> str:
        return units.show(pressure, Kind.ABSOLUTE, system)

    steps = [LimitStep(StepRole.SURFACE, "on the fluid here", None, ledger.surface, shown(ledger.surface))]
    before: float | None = None
    for line in ledger.floor_lines:
        role = StepRole.LIMIT if before is None else StepRole.CORRECTION
        steps.append(LimitStep(role, line.name, before, line.total, shown(line.total), line.estimated))
        before = line.total
    budget = f"{in_writing(RoundedLedger(ledger, system).budget)} {units.unit(Kind.VACUUM, system)}"
    steps.append(LimitStep(StepRole.BUDGET, "inlet budget", ledger.floor, ledger.surface, budget))
    return LimitPicture(tuple(steps), _ticks(ledger.surface, system), units.unit(Kind.ABSOLUTE, system))


def _ticks(highest: float, system: System) -> tuple[tuple[float, str], ...]:
    """Round figures from 0 up to a pressure [Pa], three or four of them."""
    one = units.to_display(1e5, Kind.ABSOLUTE, system) / 1e5
    most = max(highest * one, 1e-9)
    decade = 10.0 ** math.floor(math.log10(most))
    step = next(
        each * decade for each in (0.2, 0.25, 0.5, 1.0, 2.0, 5.0) if most / (each * decade) < MOST_TICKS
    )
    return tuple((at * step / one, f"{at * step:g}") for at in range(int(most / step + 1e-9) + 1))


def decades(figures: Iterable[float]) -> tuple[float, float]:
    """The powers of ten that figures above zero lie between."""
    kept = [each for each in figures if each > 0 and math.isfinite(each)]
    low, high = math.floor(math.log10(min(kept))), math.ceil(math.log10(max(kept)))
    return 10.0**low, 10.0 ** max(high, low + 1)
