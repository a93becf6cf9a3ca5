"""The pressure profile: absolute pressure along the developed line, from the fluid surface to the port."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from sketch.drawing.ways import crossings
from sketch.model.doubt import MarginBand
from sketch.model.read_marks import ReadMark
from solver.field.gauges import Band
from solver.ledger.sentences import brief, margin_text
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, ledger_absolute

if TYPE_CHECKING:
    from solver.answers.uncertainty import PressureBands


@dataclass(frozen=True, slots=True)
class Stretch:
    """One element along the line, in display units: from (x0, y0) to (x1, y1)."""

    key: str
    part: str
    name: str
    share: float | None  # of the budget
    past: float  # how far along it the budget is used up; 1 when it never is
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def is_credit(self) -> bool:
        """Whether it gives to the budget."""
        return self.share is not None and self.share < 0.0


class LevelRole(StrEnum):
    """Which pressure a horizontal line stands for."""

    ATMOSPHERE = "atmosphere"
    SURFACE = "surface"
    FLOOR = "floor"
    VAPOR = "vapour"


@dataclass(frozen=True, slots=True)
class PressureLevel:
    """A horizontal line with its label."""

    role: LevelRole
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class OtherCaseLine:
    """The line in another case: its points in display units, from the fluid surface to the port."""

    case: str
    text: str  # the case with its margin
    points: tuple[tuple[float, float], ...]
    sound: bool


@dataclass(frozen=True, slots=True)
class PlottedReading:
    """What a gauge has read at a place of the line, in display units."""

    x: float
    shown: tuple[float, float]  # absolute pressure, from the least
    expected: tuple[float, float]  # in the state of the reading
    text: str
    over: bool
    number: int = -1  # of the reading in the file


@dataclass(frozen=True, slots=True)
class Profile:
    """Everything the plot draws, in display units."""

    stretches: tuple[Stretch, ...]
    levels: tuple[PressureLevel, ...]
    margin: str
    within: bool
    floor: float
    atmosphere: float
    x_label: str
    y_label: str
    vacuum_label: str
    system: System
    others: tuple[OtherCaseLine, ...] = ()
    reads: tuple[PlottedReading, ...] = ()
    band: tuple[float, float] | None = None  # of the pressure at the port, in most draws of what is not known
    band_text: str = ""
    along: tuple[
        tuple[float, float, float], ...
    ] = ()  # distance, and the pressures between which most draws lie


def profile(
    solution: Solution,
    pump: str,
    system: System,
    others: Sequence[tuple[str, PumpLedger]] = (),
    reads: Sequence[ReadMark] = (),
    band: MarginBand | None = None,
    pressures: PressureBands | None = None,
    unknown: str = "",
    case: str = "",
) -> Profile:
    """The profile of one pump's inlet.

    Parameters: `others`, its ledgers in other cases, by name; `reads`, what gauges have shown; `band` of its
    margin and `pressures` along its line, between which most draws lie; `unknown`, why there are none;
    `case`, which it is of, in words where there are several.
    """
    ledger = solution.pumps[pump]
    margin = margin_text(ledger, system)
    return Profile(
        stretches=_stretches(solution, pump, system),
        levels=_levels(solution, pump, system),
        margin=capitalised(margin),
        within=ledger.within,
        floor=_pressure(ledger.floor, system),
        atmosphere=_pressure(ledger.atmosphere, system),
        x_label=f"Developed length from the intake, {units.unit(Kind.LENGTH, system)}"
        + (f"; pressures {case}" if case else ""),
        y_label=f"Absolute pressure, {units.unit(Kind.ABSOLUTE, system)}",
        vacuum_label=f"Vacuum, {units.unit(Kind.VACUUM, system)}",
        system=system,
        others=tuple(_other(name, each, system) for name, each in others),
        reads=tuple(_read(mark, ledger.atmosphere, system) for mark in reads),
        band=_port_band(ledger, band, system),
        band_text=band.in_words(system) if band is not None else unknown and f"Uncertainty: {unknown}",
        along=_along(ledger, pressures, system) if pressures is not None else (),
    )


def _along(
    ledger: PumpLedger, pressures: PressureBands, system: System
) -> tuple[tuple[float, float, float], ...]:
    """Where most draws lie at the end of every element, in display units."""
    ends = [(0.0, pressures.surface)]
    ends += [(e.distance, pressures.after[e.key]) for e in ledger.entries if e.key in pressures.after]
    return tuple(
        (units.to_display(at, Kind.LENGTH, system), _pressure(low, system), _pressure(high, system))
        for at, (low, high) in ends
    )


def _read(mark: ReadMark, atmosphere: float, system: System) -> PlottedReading:
    def pressures(band: Band) -> tuple[float, float]:
        return _pressure(atmosphere - band.high, system), _pressure(atmosphere - band.low, system)

    x = units.to_display(mark.at, Kind.LENGTH, system)
    read, expected = pressures(mark.read), pressures(mark.expected)
    return PlottedReading(x, read, expected, mark.short(system), mark.over, mark.number)


def _port_band(ledger: PumpLedger, band: MarginBand | None, system: System) -> tuple[float, float] | None:
    """The pressures at the port at which a band's margins are left, in display units."""
    if band is None:
        return None
    return _pressure(ledger.floor + band.low, system), _pressure(ledger.floor + band.high, system)


def _other(case: str, ledger: PumpLedger, system: System) -> OtherCaseLine:
    points = [(0.0, _pressure(ledger.surface, system))]
    points += [
        (units.to_display(entry.distance, Kind.LENGTH, system), _pressure(entry.pressure, system))
        for entry in ledger.entries
    ]
    return OtherCaseLine(case, f"{case}: {brief(ledger, system)}", tuple(points), ledger.sound)


def _pressure(value: float, system: System) -> float:
    return units.to_display(value, Kind.ABSOLUTE, system)


def _stretches(solution: Solution, pump: str, system: System) -> tuple[Stretch, ...]:
    ledger = solution.pumps[pump]
    beyond = crossings(ledger.entries, ledger.budget) if ledger.budget > 0 else {}
    stretches = []
    x, y = 0.0, _pressure(ledger.surface, system)
    for entry in ledger.entries:
        x1 = units.to_display(entry.distance, Kind.LENGTH, system)
        y1 = _pressure(entry.pressure, system)
        past = beyond.get(entry.key, 1.0)
        stretches.append(
            Stretch(entry.key, entry.part, f"{entry.part}, {entry.element}", entry.share, past, x, y, x1, y1)
        )
        x, y = x1, y1
    return tuple(stretches)


def _levels(solution: Solution, pump: str, system: System) -> tuple[PressureLevel, ...]:
    ledger = solution.pumps[pump]

    def level(role: LevelRole, value: float, text: str, after: str = "") -> PressureLevel:
        figure = ledger_absolute(value, system)
        return PressureLevel(role, _pressure(value, system), f"{text} {figure}{after}")

    estimated = ", estimated" if ledger.limit_estimated else ""
    levels = [
        level(LevelRole.ATMOSPHERE, ledger.atmosphere, "Site atmosphere"),
        level(LevelRole.FLOOR, ledger.floor, "Floor", estimated),
        level(LevelRole.VAPOR, solution.fluid.vapor_pressure, "Vapour pressure")
        if solution.fluid.known_vapor_pressure is not None
        else PressureLevel(LevelRole.VAPOR, _pressure(0.0, system), "Vapour pressure not typed"),
    ]
    if not math.isclose(ledger.surface, ledger.atmosphere, rel_tol=1e-6):
        levels.insert(1, level(LevelRole.SURFACE, ledger.surface, "Fluid surface"))
    return tuple(levels)


def span(shown: Profile) -> tuple[float, float]:
    """The pressures the plot should show. The vapour pressure of an oil lies so far below everything else
    that showing it to scale would flatten the rest; then the plot only points at it."""
    values = [value for each in shown.stretches for value in (each.y0, each.y1)]
    values += [level.y for level in shown.levels if level.role != LevelRole.VAPOR]
    values += [y for other in shown.others for _, y in other.points]
    values += [y for _, *ends in shown.along for y in ends]
    values += [y for read in shown.reads for y in (*read.shown, *read.expected)]
    low, high = min(values), max(values)
    vapour = next(level.y for level in shown.levels if level.role == LevelRole.VAPOR)
    reach = high - low
    if low - 0.6 * reach < vapour:
        low = min(low, vapour)
    reach = high - low
    return low - 0.16 * reach, high + 0.08 * reach  # the label of what lies below stands at the bottom
