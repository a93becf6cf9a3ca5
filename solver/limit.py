"""The pump maker's limit -> the floor at this site, fluid and speed; and what the site gives to spend.

Each step is a `BudgetLine` of its own, so that the corrections can be shown one by one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from solver import formulas
from solver.atmosphere import station_pressure
from solver.fluid import FluidState
from solver.formulas import GRAVITY, SEA_LEVEL
from solver.layout import Limit, Pump, Site

PETROLEUM_DENSITY = 900.0
"""Taken for the maker's test fluid where none is stated [kg/m³]: the upper end of petroleum hydraulic fluids,
so that no mineral oil is corrected and every heavier fluid is. Common practice, no source."""

OWN_FLUID_DENSITY = 950.0
"""A stated density from here up is no petroleum fluid: the maker rated the pump on this fluid [kg/m³]."""

MAKER = "the pump maker's limit, as typed"
AFFINITY = "affinity laws: a dynamic pressure goes as density and as speed squared; an estimate"


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One step of what there is to spend, kept apart so that it can be shown: "sea level", "altitude",
    "weather", "reservoir pressure", "maker's limit", "density correction", "speed correction", ..."""

    name: str
    value: float  # [Pa]: what this step adds to (+) or takes from (−) the budget; see `total`
    total: float  # running absolute pressure after this step [Pa]
    text: str  # the formula with its numbers in SI, one line
    source: str
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class Surface:
    """What stands on the fluid, and how it came about. Pressures [Pa], absolute."""

    atmosphere: float  # station pressure less the weather allowance
    pressure: float  # on the fluid surface
    lines: tuple[BudgetLine, ...]  # from the standard sea-level atmosphere; their values add up to `pressure`


@dataclass(frozen=True, slots=True)
class Floor:
    """The least absolute pressure at the port, and how it came about."""

    pressure: float  # [Pa]
    lines: tuple[BudgetLine, ...]  # from the maker's figure to `pressure`; their values add up to −pressure
    npsh_required: float  # [m]; nan unless the limit is given so
    estimated: bool  # a correction was applied that the maker did not give


@dataclass(frozen=True, slots=True)
class _Rated:
    """The maker's figure at this speed."""

    value: float  # [Pa] or [m]
    factor: float  # speed correction still to be made
    text: str  # where the figure comes from
    estimated: bool


def surface(site: Site, reservoir_pressure: float = 0.0) -> Surface:
    """What the site and the reservoir give to spend.

    Parameters: `site`; `reservoir_pressure`, gauge, above the fluid [Pa].
    Returns: the pressures with their steps: sea level, altitude or barometer, weather, reservoir pressure.
    Source: U.S. Standard Atmosphere 1976 for the elevation, or the barometer reading as it stands.
    """
    station = station_pressure(site)
    if site.barometer is not None:
        name, text = "barometer", f"{site.barometer.text}, station pressure as read"
        source = "the site's barometer, not reduced to sea level"
    else:
        typed = site.elevation.text if site.elevation is not None else "0 m"
        name, text = "altitude", f"standard atmosphere at {typed}: {_pa(station)}"
        source = "U.S. Standard Atmosphere 1976"
    steps = [
        ("sea level", SEA_LEVEL, "standard sea-level atmosphere", "U.S. Standard Atmosphere 1976"),
        (name, station - SEA_LEVEL, text, source),
    ]
    allowance = site.weather_allowance.si if site.weather_allowance is not None else 0.0
    if allowance:
        steps.append(("weather", -allowance, f"low-pressure day: {_pa(allowance)}", "as typed"))
    if reservoir_pressure:
        steps.append(
            ("reservoir pressure", reservoir_pressure, f"gauge: {_pa(reservoir_pressure)}", "as typed")
        )
    lines = tuple(_running(steps))
    return Surface(station - allowance, lines[-1].total, lines)


def _running(steps: list[tuple[str, float, str, str]]) -> Iterator[BudgetLine]:
    total = 0.0
    for name, value, text, source in steps:
        total += value
        yield BudgetLine(name, value, total, text, source)


def floor(pump: Pump, fluid: FluidState, velocity_head: float, speed: float = math.nan) -> Floor:
    """The floor of one pump.

    Parameters: `pump`; `fluid`, its state at the port; `velocity_head` α ρ v²/2 at the port [Pa];
    `speed` [rev/s], nan when only the flow is given.
    Returns: the floor with its steps.
    Source: the maker's figure, which is fixed as an absolute pressure (a vacuum is counted from the standard
    sea-level atmosphere); affinity laws for what the maker did not give, which only tighten it unless the
    pump is given credit.
    """
    rated = _at_speed(pump, speed)
    if pump.limit.form == "npsh":
        return _npsh_floor(rated, fluid, velocity_head)
    return _pressure_floor(pump, rated, fluid)


def _pressure_floor(pump: Pump, rated: _Rated, fluid: FluidState) -> Floor:
    p_rated, text = rated.value, f"{_pa(rated.value)} absolute, {rated.text}"
    if pump.limit.form == "vacuum":
        p_rated = formulas.rated_pressure.scalar(rated.value)
        text = f"{SEA_LEVEL:.0f} − {rated.value:.0f} = {_pa(p_rated)}, {rated.text}"
    stated = pump.rated_density.si if pump.rated_density is not None else None
    rated_vapor = fluid.vapor_pressure if stated is not None and stated >= OWN_FLUID_DENSITY else 0.0
    dynamic = max(p_rated - rated_vapor, 0.0)
    by_density = _density_factor(stated, fluid.density, pump.credit)
    lines = [BudgetLine("maker's limit", -p_rated, p_rated, text, MAKER)]
    total = rated_vapor + dynamic * by_density
    if by_density != 1.0 or p_rated < rated_vapor:
        text = _density_text(dynamic, by_density, fluid.density, stated)
        lines.append(BudgetLine("density correction", p_rated - total, total, text, AFFINITY, True))
    if rated.factor != 1.0:
        total = _add_speed(lines, total, dynamic * by_density, rated)
    if fluid.vapor_pressure > rated_vapor:
        total += fluid.vapor_pressure - rated_vapor
        lines.append(_vapor_line(fluid.vapor_pressure - rated_vapor, total, estimated=True))
    return Floor(total, tuple(lines), math.nan, any(line.estimated for line in lines) or rated.estimated)


def _npsh_floor(rated: _Rated, fluid: FluidState, velocity_head: float) -> Floor:
    head = fluid.density * GRAVITY
    total = head * rated.value
    text = f"{fluid.density:.1f} · {GRAVITY} · {rated.value:.3f} m = {_pa(total)}, {rated.text}"
    lines = [BudgetLine("maker's limit", -total, total, text, MAKER)]
    if rated.factor != 1.0:
        total = _add_speed(lines, total, total, rated)
    total += fluid.vapor_pressure
    lines.append(_vapor_line(fluid.vapor_pressure, total, estimated=False))
    total -= velocity_head
    text = f"NPSH counts the velocity head, a gauge does not: {_pa(velocity_head)}"
    lines.append(BudgetLine("port velocity head", velocity_head, total, text, "definition of NPSH"))
    return Floor(total, tuple(lines), rated.value * rated.factor, rated.factor != 1.0 or rated.estimated)


def _add_speed(lines: list[BudgetLine], total: float, dynamic: float, rated: _Rated) -> float:
    step = dynamic * (rated.factor - 1.0)
    text = f"{dynamic:.0f} · {rated.factor:.4f}, the square of the speed ratio"
    lines.append(BudgetLine("speed correction", -step, total + step, text, AFFINITY, True))
    return total + step


def _vapor_line(step: float, total: float, *, estimated: bool) -> BudgetLine:
    text = f"vapour pressure of this fluid: {_pa(step)}"
    source = "the fluid must stay liquid whatever the maker's test fluid was"
    return BudgetLine("vapour pressure", -step, total, text, source, estimated)


def _density_factor(stated: float | None, density: float, credit: bool) -> float:
    if stated is None:
        return max(1.0, density / PETROLEUM_DENSITY)
    return density / stated if credit else max(1.0, density / stated)


def _density_text(dynamic: float, factor: float, density: float, stated: float | None) -> str:
    if factor == 1.0:
        return "held at the vapour pressure of this fluid"
    rated = (
        f"{stated:.0f}" if stated is not None else f"{PETROLEUM_DENSITY:.0f} (not stated: petroleum fluid)"
    )
    return f"{dynamic:.0f} · {density:.0f}/{rated}"


def _at_speed(pump: Pump, speed: float) -> _Rated:
    """The maker's figure at this speed: a single one, or interpolated between those of a table."""
    if len(pump.limit.table) > 1 or pump.limit.table[0][0] is not None:
        return _from_table(pump.limit, speed)
    value = pump.limit.table[0][1]
    if pump.rated_speed is None or math.isnan(speed):
        return _Rated(value.si, 1.0, f"{value.text}, taken to hold at this speed", False)
    ratio = (speed / pump.rated_speed.si) ** 2
    text = f"{value.text} at {pump.rated_speed.text}"
    return _Rated(value.si, ratio if pump.credit else max(1.0, ratio), text, False)


def _from_table(limit: Limit, speed: float) -> _Rated:
    """Linear between the maker's speeds, held below the lowest, as the square of the speed past the last."""
    points = sorted((at.si if at is not None else 0.0, value.si) for at, value in limit.table)
    if math.isnan(speed):
        values = [value for _, value in points]
        tightest = min(values) if limit.form == "vacuum" else max(values)
        return _Rated(tightest, 1.0, "the tightest of the maker's table, as the speed is not known", True)
    if speed <= points[0][0]:
        return _Rated(points[0][1], 1.0, "the maker's table at its lowest speed", False)
    for (below, low), (above, high) in pairwise(points):
        if speed <= above:
            value = low + (high - low) * (speed - below) / (above - below)
            return _Rated(value, 1.0, f"the maker's table at {speed * 60:.0f} rpm, linear between", False)
    ratio = (speed / points[-1][0]) ** 2
    return _Rated(points[-1][1], ratio, f"the maker's table ends at {points[-1][0] * 60:.0f} rpm", True)


def _pa(value: float) -> str:
    return f"{value:.0f} Pa"
