"""The pump maker's limit -> the floor at this site, fluid and speed; and what the site gives to spend.

Each step is a `BudgetLine` of its own, so that the corrections can be shown one by one, and is worked out by
a formula, which is kept with its numbers.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from dataclasses import dataclass, fields, replace
from itertools import pairwise
from operator import attrgetter

from solver.formulas import flow as formulas
from solver.formulas import symbols
from solver.formulas.flow import AFFINITY, SEA_LEVEL
from solver.formulas.formula import Formula, Symbol
from solver.formulas.worked import Worked, shortened, work, write
from solver.geometry.reservoirs import PressureChange
from solver.layout.kinds import LimitForm
from solver.layout.parts import Limit, Pump, Site
from solver.ledger import maker_fluid
from solver.network.build import NetworkError
from solver.properties.atmosphere import station_pressure
from solver.properties.fluid import FluidError, FluidState
from solver.quantities import columns
from solver.quantities.units import Kind, System, in_unit_of

REACH = 1.5
"""Times the maker's speed up to which the square of the speed is taken to say something of the limit. Common
practice, no source; what pumps ask for grows with a power between 1.3 and 2 of the speed."""

FLOORS_KEPT = 256
"""Floors kept: of every pump in every case of a drawing, and of what is varied in it."""

RESERVOIR_PRESSURE = "reservoir pressure"
MAKER = "the pump maker's limit, as typed"
ASSUMED = "assumed: no maker has stated it"
LIQUID = "the fluid must stay liquid whatever the maker's test fluid was"


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One step of what there is to spend, kept apart so that it can be shown: "sea level", "altitude",
    "weather", "reservoir pressure", "maker's limit", "density correction", "speed correction", ..."""

    name: str
    value: float  # [Pa]: what this step adds to (+) or takes from (−) the budget; see `total`
    total: float  # running absolute pressure after this step [Pa]
    note: str  # where its figure comes from, in words
    source: str
    estimated: bool = False
    worked: Worked | None = None  # how `total` comes about

    @property
    def text(self) -> str:
        """The formula with its numbers in SI, and where they come from; one line."""
        return self.text_in(System.SI)

    def text_in(self, system: System) -> str:
        """The formula with its numbers in the units of a display system, and where they come from."""
        shorter = None if self.worked is None else shortened(self.worked)
        if shorter is None or shorter.relation.trivial:
            return self.note
        writing = write(shorter, system)
        numbers = " = ".join(line.numbers for line in writing.lines)
        return f"{numbers} = {writing.result}" + (f" ({self.note})" if self.note else "")


@dataclass(frozen=True, slots=True)
class SurfacePressure:
    """What stands on the fluid, and how it came about. Pressures [Pa], absolute."""

    atmosphere: float  # station pressure less the weather allowance
    pressure: float  # on the fluid surface
    lines: tuple[BudgetLine, ...]  # from the standard sea-level atmosphere; their values add up to `pressure`
    steps: tuple[Worked, ...]  # the formulas on the way


@dataclass(frozen=True, slots=True)
class Floor:
    """The least absolute pressure at the port, and how it came about."""

    pressure: float  # [Pa]
    lines: tuple[BudgetLine, ...]  # from the maker's figure to `pressure`; their values add up to −pressure
    npsh_required: float | None  # [m]; None unless the limit is given so
    estimated: bool  # a correction was applied that the maker did not give
    steps: tuple[Worked, ...]  # the formulas on the way
    reaches: bool = True  # False where the speed is too far from the maker's for an estimate


@dataclass(frozen=True, slots=True)
class _Rated:
    """The maker's figure at this speed, and the speed correction still to be made."""

    value: float  # [Pa] or [m]
    factor: float
    note: str  # where the figure comes from
    estimated: bool = False
    read: Worked | None = None  # the figure, where it is read between two of a table
    correction: Worked | None = None  # the factor, where the maker's speed is known


@columns.remembered(64)
def surface_pressure(
    site: Site, reservoir_pressure: float = 0.0, change: PressureChange | None = None
) -> SurfacePressure:
    """What the site and the reservoir give to spend.

    Parameters: `site`; `reservoir_pressure`, gauge, above the fluid as typed [Pa]; `change`, what adds to it.
    Returns: the pressures with their steps: sea level, altitude or barometer, weather, reservoir pressure and
    its change.
    Source: U.S. Standard Atmosphere 1976 for the elevation, or the barometer reading as it stands.
    """
    station = station_pressure(site)
    if site.barometer is not None:
        name, note = "barometer", f"{site.barometer.text}, station pressure as read"
        source = "the site's barometer, not reduced to sea level"
    elif site.altimeter_setting is not None and site.elevation is not None:
        name = "altitude"
        note = f"altimeter setting {site.altimeter_setting.text} at {site.elevation.text}"
        source = "U.S. Standard Atmosphere 1976, as an altimeter is set"
    else:
        typed = site.elevation.text if site.elevation is not None else "0 m"
        name, note = "altitude", f"standard atmosphere at {typed}"
        source = "U.S. Standard Atmosphere 1976"
    lines = [
        BudgetLine(
            "sea level",
            SEA_LEVEL,
            SEA_LEVEL,
            "standard sea-level atmosphere",
            "U.S. Standard Atmosphere 1976",
        ),
        BudgetLine(name, station - SEA_LEVEL, station, note, source),
    ]
    allowance = site.weather_allowance.si if site.weather_allowance is not None else 0.0
    weather = work(formulas.atmosphere, station, allowance)
    if allowance or site.barometer is None:
        typed_so = site.weather_allowance is not None
        note = "low-pressure day" if typed_so else "no allowance for a low-pressure day"
        source = "as typed" if typed_so else "none typed, counted as 0"
        lines.append(BudgetLine("weather", -allowance, weather.value, note, source, worked=weather))
    whole = work(formulas.surface_pressure, weather.value, reservoir_pressure)
    if reservoir_pressure:
        lines.append(
            BudgetLine(RESERVOIR_PRESSURE, reservoir_pressure, whole.value, "gauge", "as typed", worked=whole)
        )
    steps: tuple[Worked, ...] = (weather, whole)
    if change is not None:
        whole = work(formulas.surface_pressure, weather.value, reservoir_pressure + change.value)
        steps = _steps(weather, change.worked, whole)
        line = BudgetLine(
            change.name, change.value, whole.value, change.note, change.source, change.estimated, whole
        )
        lines.append(line)
    return SurfacePressure(weather.value, whole.value, tuple(lines), steps)


def floor(
    pump: Pump,
    fluid: FluidState,
    velocity_pressure: float,
    speed: float | None,
    flow: float,
) -> Floor:
    """The floor of one pump.

    Parameters: `pump`; `fluid`, its state at the port; `velocity_pressure` ρ v²/2 at the port [Pa];
    `speed` [rev/s], None when only the flow is given; `flow` [m³/s].
    Returns: the floor with its steps.
    Raises NetworkError for a flow past the end of the maker's curve, FluidError for an NPSH limit with a
    fluid whose vapour pressure is not known.
    Source: the maker's figure, which is fixed as an absolute pressure (a vacuum is counted from the standard
    sea-level atmosphere); affinity laws for what the maker did not give, which only tighten it unless the
    pump is given credit.
    """
    if any(map(columns.is_column, (velocity_pressure, speed, flow))):  # a column is no key
        return _floor(pump, fluid, velocity_pressure, speed, flow)
    held = (*_all_but_place(pump), fluid)
    key = (*map(id, held), velocity_pressure, speed, flow)
    kept = _floors.get(key)
    if kept is None:
        kept = _floors[key] = held, _floor(pump, fluid, velocity_pressure, speed, flow)
        if len(_floors) > FLOORS_KEPT:
            _floors.popitem(last=False)
    return kept[1]


_all_but_place = attrgetter(*(each.name for each in fields(Pump) if each.name != "at"))
"""All that a floor may follow from: a pump that is moved keeps it."""

_floors: OrderedDict[tuple[object, ...], tuple[tuple[object, ...], Floor]] = OrderedDict()
"""The last floors, with the very objects they follow from, so that no other gets the identity of one."""


def _floor(
    pump: Pump, fluid: FluidState, velocity_pressure: float, speed: float | None, flow: float
) -> Floor:
    rated = _at_flow(pump, speed, flow) if pump.limit.over == Kind.FLOW else _at_speed(pump, speed)
    if pump.limit.form == LimitForm.NPSH:
        return _npsh_floor(pump, rated, fluid, velocity_pressure)
    return _pressure_floor(pump, rated, fluid)


def source_of(pump: Pump) -> str:
    """Whose the limit of a pump is."""
    return ASSUMED if pump.limit_assumed else MAKER


def allowed_vacuum(pump: Pump) -> Formula:
    """What a gauge at the port may show: no more than the maker's reading, unless credit is asked for."""
    return formulas.allowed_credit if pump.credit else formulas.allowed_vacuum


def _pressure_floor(pump: Pump, rated: _Rated, fluid: FluidState) -> Floor:
    rated_pressure = (
        work(formulas.rated_pressure, rated.value) if pump.limit.form == LimitForm.VACUUM else None
    )
    p_rated = rated_pressure.value if rated_pressure is not None else rated.value
    stated = maker_fluid.stated_density(pump, fluid)
    rated_vapor = maker_fluid.rated_vapor(pump, fluid)
    density = maker_fluid.density_correction(pump, fluid)
    on_oil = stated is None and not maker_fluid.rated_on_water(pump)
    assumed = maker_fluid.density_by_weight(fluid) if on_oil else None

    def floor_with(vapor: float, by_density: float, by_speed: float) -> Worked:
        return work(formulas.floor, vapor, p_rated, rated_vapor, by_density, by_speed)

    note = f"{rated.note}{'' if rated_pressure is not None else ', absolute'}{maker_fluid.named(pump, fluid)}"
    lines = [BudgetLine("maker's limit", -p_rated, p_rated, note, source_of(pump), worked=rated_pressure)]
    if columns.some(density.value != 1.0) or columns.some(p_rated < rated_vapor):
        assumed_for = "petroleum fluid" if on_oil else "cold water"
        note = "" if stated is not None else f"density of the maker's fluid not stated: {assumed_for}"
        if maker_fluid.names_another(pump, fluid.name):
            note = f"stated for {pump.rated_fluid}"
        step = floor_with(rated_vapor, density.value, 1.0)
        lines.append(_next(lines, "density correction", step, note, AFFINITY, estimated=True))
    reaches = True
    if columns.some(rated.factor != 1.0):
        step = floor_with(rated_vapor, density.value, rated.factor)
        reaches = _reaches(rated.factor, lines[-1].total, step.value)
        lines.append(_next(lines, "speed correction", step, "", AFFINITY, estimated=True))
    whole = floor_with(fluid.vapor_pressure, density.value, rated.factor)
    if columns.some(fluid.vapor_pressure > rated_vapor):
        note = "vapour pressure of this fluid"
        lines.append(_next(lines, "vapour pressure", whole, note, LIQUID, estimated=True))
    steps = _steps(rated.read, rated_pressure, assumed, density, rated.correction, whole)
    estimated = any(line.estimated for line in lines) or rated.estimated
    return Floor(whole.value, tuple(lines), None, estimated, steps, reaches)


def _npsh_floor(pump: Pump, rated: _Rated, fluid: FluidState, velocity_pressure: float) -> Floor:
    if "vapor_pressure" in fluid.unknown:
        raise FluidError(
            f"{fluid.name}: an NPSH limit is counted from the vapour pressure, which is not typed: "
            "type vapor_pressure"
        )
    required = work(formulas.npsh_required, rated.value, rated.factor)

    def floor_with(vapor: float, head: float, kinetic: float) -> Worked:
        return work(formulas.npsh_floor, vapor, fluid.density, head, kinetic)

    rated_floor = floor_with(0.0, rated.value, 0.0)
    lines = [
        BudgetLine(
            "maker's limit",
            -rated_floor.value,
            rated_floor.value,
            rated.note,
            source_of(pump),
            worked=rated_floor,
        )
    ]
    reaches = True
    if columns.some(rated.factor != 1.0):
        reaches = _reaches(rated.factor, rated_floor.value, floor_with(0.0, required.value, 0.0).value)
        step = floor_with(0.0, required.value, 0.0)
        lines.append(_next(lines, "speed correction", step, "", AFFINITY, estimated=True))
    vapor = floor_with(fluid.vapor_pressure, required.value, 0.0)
    lines.append(_next(lines, "vapour pressure", vapor, "vapour pressure of this fluid", LIQUID))
    whole = floor_with(fluid.vapor_pressure, required.value, velocity_pressure)
    note = "NPSH counts the head of the mean velocity, a gauge does not"
    lines.append(_next(lines, "mean velocity head, in NPSH", whole, note, "definition of NPSH"))
    estimated = columns.some(rated.factor != 1.0) or rated.estimated
    steps = _steps(rated.read, rated.correction, required, whole)
    return Floor(whole.value, tuple(lines), required.value, estimated, steps, reaches)


def _reaches(factor: float, before: float, after: float) -> bool:
    """Whether an estimate says anything of the limit at a speed.

    Parameters: `factor` of the correction, the speed ratio squared; what the pump needs `before` and `after`
    it [Pa]: no pump that fills from the atmosphere asks for more than the whole of it.
    """
    more = (before <= SEA_LEVEL) & (after > SEA_LEVEL) & (factor > 1.0)
    return not columns.some(more | (factor > REACH**2))


def _steps(*steps: Worked | None) -> tuple[Worked, ...]:
    return tuple(step for step in steps if step is not None)


def _next(
    lines: list[BudgetLine], name: str, step: Worked, note: str, source: str, *, estimated: bool = False
) -> BudgetLine:
    """The line from the last total to that of a step."""
    return BudgetLine(name, lines[-1].total - step.value, step.value, note, source, estimated, step)


def _at_speed(pump: Pump, speed: float | None) -> _Rated:
    """The maker's figure at this speed: a single one, or interpolated between those of a table."""
    if len(pump.limit.table) > 1 or pump.limit.table[0][0] is not None:
        return _from_table(pump.limit, speed)
    value = pump.limit.table[0][1]
    if pump.rated_speed is None or speed is None:
        return _Rated(value.si, 1.0, f"{value.text}, taken to hold at this speed")
    correction = formulas.speed_credit if pump.credit else formulas.speed_factor
    factor = work(correction, speed, pump.rated_speed.si)
    note = f"{value.text} at {pump.rated_speed.text}"
    return _Rated(value.si, factor.value, note, correction=factor)


def _from_table(limit: Limit, speed: float | None) -> _Rated:
    """Linear between the maker's speeds, held below the lowest, as the square of the speed past the last."""
    points = sorted((at.si if at is not None else 0.0, value.si) for at, value in limit.table)
    if speed is None:
        values = [value for _, value in points]
        tightest = min(values) if limit.form == LimitForm.VACUUM else max(values)
        note = "the tightest of the maker's table, as the speed is not known"
        return _Rated(tightest, 1.0, note, estimated=True)
    if speed <= points[0][0]:
        return _Rated(points[0][1], 1.0, "the maker's table at its lowest speed")
    for (below, low), (above, high) in pairwise(points):
        if speed <= above:
            figure = work(formulas.from_table(_FIGURES[limit.form]), low, high, below, above, speed)
            note = f"the maker's table at {speed * 60:.0f} rpm, linear between"
            return _Rated(figure.value, 1.0, note, read=figure)
    factor = work(formulas.speed_factor, speed, points[-1][0])
    note = f"the maker's table ends at {points[-1][0] * 60:.0f} rpm"
    return _Rated(points[-1][1], factor.value, note, estimated=True, correction=factor)


def _at_flow(pump: Pump, speed: float | None, flow: float) -> _Rated:
    """The maker's NPSH at this flow, from a curve drawn at the rated speed.

    At another speed by the affinity laws: the flow there corresponds to Q · n_rated/n on the curve, and the
    head goes as the square of the speed. Without credit it only tightens: of a slower pump, whose flow lies
    further out on the curve, it is the larger of the two.
    """
    if speed is None:
        return _on_curve(pump, flow)
    rated = pump.rated_speed.si if pump.rated_speed is not None else speed
    factor = work(formulas.speed_credit, speed, rated)
    alike = _on_curve(pump, flow, flow * rated / speed)
    at_speed = replace(alike, factor=factor.value, correction=factor)
    if pump.credit or flow > _last_flow(pump):
        return at_speed
    at_flow = _on_curve(pump, flow)
    return at_flow if at_flow.value > at_speed.value * at_speed.factor else at_speed


def _last_flow(pump: Pump) -> float:
    at = pump.limit.table[-1][0]
    return at.si if at is not None else math.inf


def _on_curve(pump: Pump, own: float, alike: float | None = None) -> _Rated:
    """Linear between the maker's flows, held below the least, refused past the last.

    Parameters: the pump's `own` flow; `alike`, the flow that it corresponds to at the curve's speed [m³/s].
    """
    flow = own if alike is None else alike
    points = [(at.si if at is not None else 0.0, value.si) for at, value in pump.limit.table]
    typed = pump.limit.table[-1][0]
    if typed is not None and flow > points[-1][0] * (1 + 1e-9):
        its, there = (in_unit_of(typed, columns.first(each), Kind.FLOW).text for each in (own, flow))
        at_curve = "" if its == there else f", {there} at the speed of the curve,"
        text = f"its flow of {its}{at_curve} is past the end of its NPSH curve at {typed.text}"
        raise NetworkError(((pump.name, text),))
    if flow < points[0][0]:
        note = "the maker's curve at its least flow, held below it"
        return _Rated(points[0][1], 1.0, note, estimated=True)
    for (below, low), (above, high) in pairwise(points):
        if flow <= above:
            figure = work(formulas.from_curve, low, high, below, above, flow)
            return _Rated(figure.value, 1.0, "the maker's curve, linear between its flows", read=figure)
    return _Rated(points[-1][1], 1.0, "the maker's curve at its last flow")


_FIGURES: dict[LimitForm, Symbol] = {
    LimitForm.VACUUM: symbols.V,
    LimitForm.PRESSURE: symbols.p_rated,
    LimitForm.NPSH: symbols.H,
}
