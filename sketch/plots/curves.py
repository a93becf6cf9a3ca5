"""What the curves show, in display units: lines, bands, crossings and today's point; and the same as CSV."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from textwrap import wrap

import numpy as np
from numpy.typing import NDArray

from solver.answers.curves import FIGURE, Curves, Gap, UncertainMargin
from solver.answers.inputs import INPUTS
from solver.answers.sweep import FIGURES, PumpSweep
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised

Floats = NDArray[np.float64]

WIDEST = 60
"""Letters in a line of what is read off."""


class CurveQuantity(StrEnum):
    """What is drawn over the figure that is varied."""

    MARGIN = "Margin"
    VACUUM = "Vacuum"
    PRESSURE = "Pressure at the port"
    NPSH = "NPSH"


class LineRole(StrEnum):
    """What a curve shows."""

    WORST = "worst"
    CASE = "case"
    ALTERNATIVE = "alternative"
    LIMIT = "limit"


class BandRole(StrEnum):
    """Why a stretch of the paper is tinted."""

    OVER = "over"
    VAPOR = "vapour"
    UNSURE = "unsure"


@dataclass(frozen=True, slots=True)
class CurveLine:
    """One curve."""

    name: str
    role: LineRole
    xs: Floats
    ys: Floats
    case: tuple[str, ...] = ()  # that decides at each place, where several may


@dataclass(frozen=True, slots=True)
class CurveBand:
    """A stretch of the paper."""

    role: BandRole
    text: str
    xs: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True, slots=True)
class CurveMark:
    """A place with its figure."""

    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Unjudged:
    """A stretch across the paper in which the worst case is not known."""

    low: float
    high: float
    where: str  # which values
    cases: str  # in which, where not in all of them
    why: str


@dataclass(frozen=True)
class CurvesPicture:
    """Everything the plot draws."""

    lines: tuple[CurveLine, ...]
    bands: tuple[CurveBand, ...]
    between: tuple[tuple[float, float], ...]  # where flow is neither laminar nor turbulent
    crossings: tuple[CurveMark, ...]
    today: CurveMark
    x_label: str
    y_label: str
    x_kind: Kind
    y_kind: Kind
    system: System
    remarks: tuple[str, ...]  # what is left out, and why
    gaps: tuple[Unjudged, ...] = ()

    def reading(self, x: float) -> str:
        """What is read off at a place, line by line."""
        lines = [units.typeset(units.from_display(x, self.x_kind, self.system), self.x_kind, self.system)]
        for line in self.lines:
            if line.xs.size and line.xs[0] <= x <= line.xs[-1]:
                at = int(np.argmin(np.abs(line.xs - x)))
                y = float(np.interp(x, line.xs, line.ys))
                case = f' ("{line.case[at]}")' if line.case and line.case[at] else ""
                lines.append(f"{line.name}{case}: {self.figure(y)}")
        for gap in self.gaps:
            if gap.low <= x <= gap.high:
                lines += wrap(gap.why, WIDEST)
        return "\n".join(lines)

    def figure(self, y: float) -> str:
        """A figure of the upright axis with its unit."""
        if not math.isfinite(y):
            return "not judged"
        return units.typeset(units.from_display(y, self.y_kind, self.system), self.y_kind, self.system)


_KINDS: Mapping[CurveQuantity, Kind] = {
    CurveQuantity.MARGIN: Kind.VACUUM,
    CurveQuantity.VACUUM: Kind.VACUUM,
    CurveQuantity.PRESSURE: Kind.ABSOLUTE,
    CurveQuantity.NPSH: Kind.HEAD,
}
_FIGURES: Mapping[CurveQuantity, str] = {
    CurveQuantity.MARGIN: "margin",
    CurveQuantity.VACUUM: "vacuum",
    CurveQuantity.PRESSURE: "inlet",
    CurveQuantity.NPSH: "npsh_available",
}
_BESIDE: Mapping[CurveQuantity, tuple[str, str]] = {
    CurveQuantity.VACUUM: ("allowed_vacuum", "allowed vacuum"),
    CurveQuantity.PRESSURE: ("floor", "floor"),
    CurveQuantity.NPSH: ("npsh_required", "NPSH required"),
}


def picture(
    curves: Curves,
    quantity: CurveQuantity,
    system: System,
    alternatives: Mapping[str, Curves],
    between: tuple[tuple[float, float], ...] = (),
    *,
    every_case: bool = True,
    now: float | None = None,
    uncertain_margin: UncertainMargin | None = None,
) -> CurvesPicture:
    """What is drawn of curves.

    Parameters: `alternatives`, those of other alternatives by name; `between`, where flow is neither laminar
    nor turbulent [SI]; `every_case`, whether each case has its line; `now`, where the drawing stands [SI];
    `uncertain_margin`, how sure the margin is, where that was asked for.
    """
    x_kind, y_kind = INPUTS[curves.subject.name].kind, _KINDS[quantity]

    def across(values: Floats | float) -> Floats:
        return _shown(values, x_kind, system)

    xs = across(curves.values)
    worst = _shown(_in_worst(curves, _FIGURES[quantity]), y_kind, system)
    lines = [CurveLine("worst case", LineRole.WORST, xs, worst, curves.case)]
    if every_case and len(curves.cases) > 1:
        for name, swept in curves.cases.items():
            lines.append(
                CurveLine(name, LineRole.CASE, xs, _shown(getattr(swept, _FIGURES[quantity]), y_kind, system))
            )
    elif len(curves.cases) == 1:
        lines = [CurveLine(_FIGURE_NAMES[quantity], LineRole.WORST, xs, worst)]
    for name, other in alternatives.items():
        ys = _shown(_in_worst(other, _FIGURES[quantity]), y_kind, system)
        lines.append(CurveLine(name, LineRole.ALTERNATIVE, across(other.values), ys))
    if quantity in _BESIDE:
        figure, called = _BESIDE[quantity]
        limit = _shown(_in_worst(curves, figure), y_kind, system)
        if np.isfinite(limit).any():
            lines.append(CurveLine(called, LineRole.LIMIT, xs, limit))
    value = curves.subject.now if now is None else now
    x, y = float(across(value)), float(np.interp(value, curves.values, _in_worst(curves, _FIGURES[quantity])))
    return CurvesPicture(
        tuple(lines),
        (*_bands(curves, quantity, system, xs), *_unsure(uncertain_margin, quantity, x_kind, system)),
        tuple((float(across(low)), float(across(high))) for low, high in between),
        _marks(curves, quantity, system),
        CurveMark(x, float(_shown(y, y_kind, system)), "today"),
        _named(capitalised(curves.subject.label), x_kind, system),
        _named(str(quantity), y_kind, system),
        x_kind,
        y_kind,
        system,
        (
            *(f'"{name}" is not judged: {why}' for name, why in curves.unread.items()),
            *_unknown(curves),
            *kept_text(curves),
        ),
        tuple(_unjudged(curves, gap, system) for gap in curves.gaps),
    )


def _unjudged(curves: Curves, gap: Gap, system: System) -> Unjudged:
    """A gap as it is drawn: to half way to the next value on either side, which is judged."""
    kind, values = INPUTS[curves.subject.name].kind, curves.values
    low, high = (units.typeset(end, kind, system) for end in (gap.low, gap.high))
    where = f"at {low}" if low == high else f"from {low} to {high}"
    named = ", ".join(f'"{each}"' for each in gap.cases)
    some = f" in {named}" if len(gap.cases) < len(curves.cases) else ""
    why, first, last = gap.why(system), curves.nearest(gap.low), curves.nearest(gap.high)
    left = (values[first] + values[max(first - 1, 0)]) / 2
    right = (values[last] + values[min(last + 1, values.size - 1)]) / 2
    begin, end = (float(_shown(each, kind, system)) for each in (left, right))
    return Unjudged(begin, end, where, some, why)


def unjudged_text(gaps: tuple[Unjudged, ...]) -> str:
    """Where a margin is not judged and why; a reason that differs by its figures alone is given once."""
    alike: dict[tuple[str, str], list[Unjudged]] = {}
    for gap in gaps:
        alike.setdefault((gap.cases, FIGURE.sub("", gap.why)), []).append(gap)
    return " ".join(
        f"Not judged {' and '.join(gap.where for gap in group)}{group[0].cases}: {group[0].why}."
        for group in alike.values()
    )


def _unknown(curves: Curves) -> Iterator[str]:
    """What is not drawn since nobody has typed the vapour pressure."""
    for name, swept in curves.cases.items():
        if np.any(np.isfinite(swept.inlet) & np.isnan(swept.npsh_available)):
            yield f'"{name}": no vapour pressure is typed: neither NPSH nor boiling is known'


UNMOVED = 1.0
"""Of a margin, that is no change [Pa]."""


def kept_text(curves: Curves) -> Iterator[str]:
    """Which cases have a figure of their own in the place of the one that is varied, and do not move with it:
    with one figure in all of them the margin may be spent elsewhere."""
    unmoved = [name for name, swept in curves.cases.items() if _is_unmoved(swept.margin)]
    if unmoved and len(unmoved) < len(curves.cases):
        names = ", ".join(f'"{name}"' for name in unmoved)
        keeps, its = ("keeps", "its") if len(unmoved) == 1 else ("keep", "their")
        yield f"Over {curves.subject.label}, {names} {keeps} {its} own"


def _is_unmoved(margin: Floats) -> bool:
    known = margin[np.isfinite(margin)]
    return bool(known.size) and float(np.ptp(known)) < UNMOVED


_FIGURE_NAMES: Mapping[CurveQuantity, str] = {
    CurveQuantity.MARGIN: "margin",
    CurveQuantity.VACUUM: "vacuum",
    CurveQuantity.PRESSURE: "pressure",
    CurveQuantity.NPSH: "NPSH available",
}


def _shown(values: Floats | float, kind: Kind, system: System) -> Floats:
    """Figures in the unit shown; every scale is a straight line."""
    zero, one = (units.to_display(si, kind, system) for si in (0.0, 1.0))
    shown: Floats = np.asarray(values) * (one - zero) + zero
    return shown


def _named(text: str, kind: Kind, system: System) -> str:
    unit = units.unit(kind, system)
    return f"{text}, {unit}" if unit else text


def _in_worst(curves: Curves, figure: str) -> Floats:
    """A figure in the case that decides at each value; nan where none does."""
    margins = np.full(curves.values.size, np.nan)
    for name, swept in curves.cases.items():
        decides = np.array([case == name for case in curves.case])
        margins[decides] = getattr(swept, figure)[decides]
    return margins


def _bands(curves: Curves, quantity: CurveQuantity, system: System, xs: Floats) -> tuple[CurveBand, ...]:
    """What must not be entered: a margin below zero, a vacuum too deep, a pressure under the floor."""
    kind, count = _KINDS[quantity], xs.size
    far = np.full(count, 1e9)
    if quantity is CurveQuantity.MARGIN:
        return (CurveBand(BandRole.OVER, "over", xs, -far, np.zeros(count)),)
    if quantity is CurveQuantity.VACUUM:
        allowed = _shown(_in_worst(curves, "allowed_vacuum"), kind, system)
        return (CurveBand(BandRole.OVER, "over", xs, allowed, far),)
    if quantity is CurveQuantity.PRESSURE:
        floor = _shown(_in_worst(curves, "floor"), kind, system)
        known = np.where(np.isnan(_in_worst(curves, "npsh_available")), np.nan, 1.0)
        vapour = _shown(known * _in_worst(curves, "vapor_pressure"), kind, system)
        return (
            CurveBand(BandRole.OVER, "below the floor", xs, -far, floor),
            CurveBand(BandRole.VAPOR, "the fluid boils", xs, -far, vapour),
        )
    required = _shown(_in_worst(curves, "npsh_required"), kind, system)
    return (
        (CurveBand(BandRole.OVER, "less than required", xs, -far, required),)
        if np.isfinite(required).any()
        else ()
    )


def _unsure(
    uncertain_margin: UncertainMargin | None, quantity: CurveQuantity, x_kind: Kind, system: System
) -> tuple[CurveBand, ...]:
    if uncertain_margin is None or quantity is not CurveQuantity.MARGIN:
        return ()
    low, high = (_shown(each, Kind.VACUUM, system) for each in (uncertain_margin.low, uncertain_margin.high))
    return (
        CurveBand(
            BandRole.UNSURE, "90 of 100 trials", _shown(uncertain_margin.values, x_kind, system), low, high
        ),
    )


def _marks(curves: Curves, quantity: CurveQuantity, system: System) -> tuple[CurveMark, ...]:
    kind, y_kind = INPUTS[curves.subject.name].kind, _KINDS[quantity]
    figures = _in_worst(curves, _FIGURES[quantity])
    return tuple(
        CurveMark(
            float(_shown(at, kind, system)),
            float(_shown(float(np.interp(at, curves.values, figures)), y_kind, system)),
            units.typeset(at, kind, system),
        )
        for at in curves.crossings
    )


def whole_stretches(known: NDArray[np.bool_]) -> list[slice]:
    """The stretches without a gap: a place that is not judged is never drawn across."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], known, [False]]).astype(int)))
    return [slice(int(begin), int(end)) for begin, end in zip(edges[::2], edges[1::2], strict=True)]


_LENGTHS = ("npsh_available", "npsh_required")
UNITS: Mapping[str, str] = dict.fromkeys(FIGURES, "Pa") | dict.fromkeys(_LENGTHS, "m") | {"flow": "m^3/s"}
"""Of the figures of a sweep."""

BAND_ENDS = (
    "least of all cases, low end of 90 of 100 trials",
    "least of all cases, high end of 90 of 100 trials",
)
"""In the place of a case, where a row holds an end of the band of the margin."""


def as_csv(curves: Curves, alternatives: Mapping[str, Curves], band: UncertainMargin | None = None) -> str:
    """Every figure of every case over the values, in SI to seven digits; band: of the margin, where drawn."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    subject = f"{curves.subject.label} [{INPUTS[curves.subject.name].unit or '1'}]"
    writer.writerow(["alternative", "case", subject, *(f"{name} [{UNITS[name]}]" for name in FIGURES)])
    for name, each in {"": curves, **alternatives}.items():
        for case, swept in each.cases.items():
            for at, value in enumerate(each.values):
                writer.writerow([name, case, _digits(value), *_figures(swept, at)])
    for end, margins in zip(BAND_ENDS, (band.low, band.high) if band is not None else (), strict=False):
        for value, margin in zip(band.values if band is not None else (), margins, strict=True):
            figures = (_digits(margin) if name == "margin" else "" for name in FIGURES)
            writer.writerow(["", end, _digits(value), *figures])
    return text.getvalue()


def _figures(swept: PumpSweep, at: int) -> list[str]:
    names = [name for name in FIGURES if name != "vapor_pressure" or np.isfinite(swept.npsh_available[at])]
    return [_digits(getattr(swept, name)[at]) if name in names else "" for name in FIGURES]


def _digits(value: float) -> str:
    """A figure to seven digits; nothing where there is none."""
    return f"{value:.7g}" if math.isfinite(value) else ""
