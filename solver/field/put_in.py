"""A cause put into the drawing, as a case of it or as another line, so that fixes can be asked of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from solver.field.causes import (
    CauseKind,
    bore_left,
    softened,
    with_blocked,
    with_bore_times,
    without_bypass,
)
from solver.field.explain import Explanation
from solver.geometry import outline, reservoirs
from solver.layout.cases import layout_in_case, read_case
from solver.layout.kinds import FittingKind
from solver.layout.parts import Layout, Level
from solver.network.build import build, pump_flow
from solver.network.rows import Row
from solver.properties import fluid
from solver.properties.families import ZERO
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import degrees


class CannotPutInError(ValueError):
    """A cause that is nothing of the line, such as a gauge that is off."""


@dataclass(frozen=True)
class PutIn:
    """What becomes of a drawing with a cause or a pair: a case, another line, or another line with a case."""

    name: str  # for the case or the alternative
    table: Mapping[str, Any] | None  # of a case; None where the line alone is another
    line: Layout | None  # for an alternative; None where a case alone holds all of it
    layout: Layout  # the drawing with all of it in place
    left_out: str = ""  # of a pair, the cause that no figure of a drawing holds


def put_in(layout: Layout, explanation: Explanation, level: Level = Level.MINIMUM) -> PutIn:
    """A cause, or the two of a pair, in the likeliest size in a drawing.

    level: the one that the drawing stands at, where it names none. Raises CannotPutInError.
    """
    halves = [replace(explanation, second=None), *([explanation.second] if explanation.second else [])]
    table: dict[str, Any] = {}
    line, done, left_out = layout, list[Explanation](), list[Explanation]()
    for half in halves:
        make, rebuilt = _TABLES.get(half.cause), _changed(line, half)
        if make is not None:
            table = merged(table, make(_with_case(layout, table), half, level))
        elif rebuilt is not None:
            line = rebuilt
        (left_out if make is None and rebuilt is None else done).append(half)
    if not done:
        raise CannotPutInError(_why_not(layout, explanation))
    return PutIn(
        ", ".join(_name(layout, half) for half in done),
        table or None,
        None if line is layout else line,
        _with_case(line, table),
        "".join(half.name for half in left_out),
    )


def _why_not(layout: Layout, explanation: Explanation) -> str:
    if explanation.cause is CauseKind.HOSE:
        return f"at {_temperature(layout)}, as drawn, the liner is firm: type the temperature that was read"
    return f"{explanation.cause} is no change of the line"


_NAMES = {
    CauseKind.SCREEN: "{part} {size}",
    CauseKind.STUCK: "{part} {size}, no bypass",
    CauseKind.BORE: "{part} with {size}",
    CauseKind.HOSE: "{part} with {size}, as at {warmth}",
    CauseKind.RESISTANCE: "{part} with {size}",
    CauseKind.FLUID: "fluid {size}",
    CauseKind.LEVEL: "level in {part} {size}",
    CauseKind.SURFACE: "breather of {part}, {size}",
    CauseKind.LESS_FLOW: "{part} at {size}",
    CauseKind.MORE_FLOW: "{part} at {size}",
    CauseKind.AS_BUILT: "lines {size}",
}
"""What a cause is called in the drawing: in few words, as lists of cases and alternatives are narrow."""


def _name(layout: Layout, explanation: Explanation) -> str:
    """What it is called in the drawing; of a liner with the temperature at which it is so narrow there."""
    size = size_text(explanation, explanation.size, System(layout.units))
    return _NAMES[explanation.cause].format(part=explanation.part, size=size, warmth=_temperature(layout))


def _temperature(layout: Layout) -> str:
    return degrees(layout.fluid.temperature.si, System(layout.units))


def merged(one: Mapping[str, Any], other: Mapping[str, Any]) -> dict[str, Any]:
    """The tables of two cases in one; of one figure the other's counts."""
    tables = dict(one)
    for key, value in other.items():
        old = tables.get(key)
        if isinstance(old, Mapping) and isinstance(value, Mapping):
            tables[key] = merged(old, value)
        else:
            tables[key] = value
    return tables


def size_text(explanation: Explanation, size: float, system: System) -> str:
    """A size of a cause in words; "" of a cause that has none."""
    return "".join(_size_parts(explanation.cause, size, system))


def range_text(explanation: Explanation, low: float, high: float, system: System) -> str:
    """A range of sizes of a cause in words; "" of a cause that has none."""
    if max(low, high) < 0.0:
        low, high = high, low  # of what is too little the least comes first
    (begin, first), (end, words) = (_size_parts(explanation.cause, size, system) for size in (low, high))
    if first != words:
        return f"{begin}{first} to {end}{words}"
    return f"{begin}{words}" if begin == end else f"{begin} to {end}{words}"


_PERCENT = {
    CauseKind.SCREEN: " % blocked",
    CauseKind.STUCK: " % blocked",
    CauseKind.BORE: " % of its diameter left",
    CauseKind.HOSE: " % of its diameter lost when hot",
    CauseKind.AS_BUILT: " % longer",
    CauseKind.LESS_FLOW: " % of its flow",
    CauseKind.MORE_FLOW: " % of its flow",
}


def _size_parts(kind: CauseKind, size: float, system: System) -> tuple[str, str]:
    """A size as a figure, and the words behind it."""
    if kind in _PERCENT:
        return f"{size * 100:.0f}", _PERCENT[kind]
    if kind is CauseKind.RESISTANCE:
        return f"K {size:.3g}", " more than drawn"
    if kind is CauseKind.FLUID:
        return f"{size:.2f}", " times as thick"
    if kind is CauseKind.LEVEL:
        return typeset(size, Kind.LENGTH, system), " lower"
    if kind is CauseKind.OFFSET:
        return typeset(abs(size), Kind.VACUUM, system), " too much" if size > 0.0 else " too little"
    if kind is CauseKind.SURFACE:
        return typeset(size, Kind.VACUUM, system), " less on the fluid"
    return "", ""


def _with_case(layout: Layout, table: Mapping[str, Any]) -> Layout:
    known = {
        (group, name)
        for group in ("reservoirs", "intakes", "fittings", "pumps")
        for name in getattr(layout, group)
    }
    return layout_in_case(layout, "cause", read_case(table, ("cases",), "cause", known))


Maker = Callable[[Layout, Explanation, Level], Mapping[str, Any]]


def _blocked(layout: Layout, explanation: Explanation, level: Level) -> Mapping[str, Any]:
    group = "intakes" if explanation.part in layout.intakes else "fittings"
    return {group: {explanation.part: {"screen": {"blocked": round(explanation.size, 4)}}}}


BEYOND = 20.0
"""How far past the temperatures of a drawing a thicker fluid is given [K]."""

CLOSE = 2.0
"""Temperatures nearer to each other than this are one [K]: a viscosity must fall from each to the next."""


def _fluid(layout: Layout, explanation: Explanation, level: Level) -> Mapping[str, Any]:
    """A fluid that is so many times as thick at every temperature, for a cold start costs the most.

    One with a viscosity index keeps it, and is as thick where it is hottest: when colder, no less than that.
    """
    drawn, times = layout.fluid, explanation.size
    if drawn.has_one_viscosity:
        return {"fluid": {"viscosity": _centistokes(fluid.state(drawn).viscosity * times)}}
    pairs = [
        [f"{warmth - ZERO:.2f} degC", _centistokes(viscosity * times)]
        for warmth, viscosity in _viscosities(layout)
    ]
    return {"fluid": {"viscosity": pairs if drawn.viscosity_index is None else pairs[-1:]}}


def _centistokes(viscosity: float) -> str:
    return f"{viscosity * 1e6:.5g} cSt"


def _viscosities(layout: Layout) -> Iterator[tuple[float, float]]:
    """Viscosity [m²/s] at every temperature of a drawing and its cases [K], and past them; the coldest first.

    Those at which the fluid has no figures are left out.
    """
    typed = (layout.fluid.temperature, layout.fluid.line_temperature, layout.fluid.coldest_start)
    of_cases = (case.figures.get(("fluid", "temperature")) for case in layout.cases.values())
    own = sorted({each.si for each in (*typed, *of_cases) if each is not None})
    apart = [one for one, after in pairwise([*own, math.inf]) if after - one > CLOSE]
    for warmth in (own[0] - BEYOND, *apart, own[-1] + BEYOND):
        try:
            yield warmth, fluid.state(layout.fluid, warmth).viscosity
        except ValueError:
            continue


def _level(layout: Layout, explanation: Explanation, level: Level) -> Mapping[str, Any]:
    stands = reservoirs.level(layout.reservoirs[explanation.part], layout.level or level)
    return {"levels": {explanation.part: f"{stands - explanation.size:.4f} m"}}


def _breather(layout: Layout, explanation: Explanation, level: Level) -> Mapping[str, Any]:
    tank = layout.reservoirs[explanation.part]
    if tank.pressure is not None or tank.sealed:
        pressure = (tank.pressure.si if tank.pressure is not None else 0.0) - explanation.size
        return {"reservoirs": {explanation.part: {"pressure": f"{pressure:.1f} Pa"}}}
    drop = explanation.size + (tank.breather_drop.si if tank.breather_drop is not None else 0.0)
    return {"reservoirs": {explanation.part: {"breather_drop": f"{drop:.1f} Pa"}}}


def _flow(layout: Layout, explanation: Explanation, level: Level) -> Mapping[str, Any]:
    flow = pump_flow(layout.pumps[explanation.part]) * explanation.size
    return {"pumps": {explanation.part: {"flow": f"{flow * 60e3:.5g} L/min"}}}


_TABLES: Mapping[CauseKind, Maker] = {
    CauseKind.SCREEN: _blocked,
    CauseKind.FLUID: _fluid,
    CauseKind.LEVEL: _level,
    CauseKind.SURFACE: _breather,
    CauseKind.LESS_FLOW: _flow,
    CauseKind.MORE_FLOW: _flow,
}


def _row(layout: Layout, part: str) -> Row:
    return next(row for row in build(layout).rows if row.part == part)


def _changed(layout: Layout, explanation: Explanation) -> Layout | None:
    """The drawing as another line, of a cause that one would have to rebuild; None where it is none."""
    if explanation.cause is CauseKind.STUCK:
        return without_bypass(with_blocked(layout, explanation.part, explanation.size), explanation.part)
    if explanation.cause is CauseKind.BORE:
        return with_bore_times(layout, explanation.part, explanation.size)
    if explanation.cause is CauseKind.HOSE:
        left = bore_left(layout, explanation.size)
        return softened(layout, explanation.part, left) if left < 1.0 else None
    if explanation.cause is CauseKind.RESISTANCE:
        return _resisting(layout, explanation)
    return _longer(layout, explanation.size) if explanation.cause is CauseKind.AS_BUILT else None


def _resisting(layout: Layout, explanation: Explanation) -> Layout:
    """The fitting as a known K, with what it has as drawn."""
    row, fitting = _row(layout, explanation.part), layout.fittings[explanation.part]
    known = replace(
        fitting, kind=FittingKind.KNOWN_K, k=row.k_inf + explanation.size, k_re=row.k_re,
        kv=None, cv=None, drop=None, head=None, flow=None, viscosity=None, density=None, screen=None,
        state=None, opening=None, curve=None, length=None, other_size=None, other_bore=None,
    )  # fmt: skip
    return replace(layout, fittings={**layout.fittings, explanation.part: known})


def _longer(layout: Layout, size: float) -> Layout:
    """Every run longer by a share, out of the plane of the drawing."""
    runs = {}
    for name, run in layout.runs.items():
        long = sum(piece.length for piece in outline.outline(layout, run))
        hidden = (run.out_of_plane.si if run.out_of_plane is not None else 0.0) + size * long
        runs[name] = replace(run, out_of_plane=_metres(hidden))
    return replace(layout, runs=runs)


def _metres(value: float) -> Quantity:
    return Quantity(f"{value:.5f} m", float(f"{value:.5f}"))
