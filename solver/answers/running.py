"""What the questions vary of how a line is run: temperature and density of the fluid, site, speed, flow."""

from __future__ import annotations

import math
from dataclasses import replace

from solver.answers import inputs
from solver.answers.inputs import INPUTS, SITES
from solver.answers.roots import Crossing, crossing
from solver.answers.variations import Variation
from solver.findings.criteria import criteria_of
from solver.findings.pump import start_viscosity_of
from solver.formulas import flow
from solver.layout.kinds import FOR_WATER
from solver.layout.parts import Layout, Site
from solver.ledger.solve import PumpLedger, Solution
from solver.properties import fluid
from solver.properties.atmosphere import station_pressure
from solver.properties.fluid import FluidState
from solver.quantities.units import Kind, Quantity
from solver.quantities.wording import degrees


def temperature(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How cold the fluid may be; the reason in words where its one viscosity is typed."""
    layout = present.layout
    if layout.fluid.has_one_viscosity:
        return "the one viscosity typed says nothing of another temperature"
    return Variation(
        kind=Kind.TEMPERATURE,
        now=present.tank_fluid.temperature,
        worst=INPUTS["temperature"].searched[0],
        best=INPUTS["temperature"].searched[1],
        change=lambda to: inputs.temperature(layout, (), to, present.level),
        meaning="fluid temperature at full flow",
        tolerance=1e-4,
        edges=_ends_of_figures(present.tank_fluid),
        note=_start_limit(present, ledger),
    )


def hottest_temperature(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How hot the fluid may be; the reason in words where its one viscosity is typed."""
    layout = present.layout
    if layout.fluid.has_one_viscosity:
        return "the one viscosity typed says nothing of another temperature"
    coldest, most = INPUTS["temperature"].searched
    boiling = "not judged for boiling; " if present.fluid.known_vapor_pressure is None else ""
    return Variation(
        kind=Kind.TEMPERATURE,
        now=present.tank_fluid.temperature,
        worst=most,
        best=coldest,
        change=lambda to: inputs.temperature(layout, (), to, present.level),
        meaning="fluid temperature at full flow",
        tolerance=1e-6,
        edges=_ends_of_figures(present.tank_fluid),
        note=f"{boiling}the maker's own limit of temperature comes first",
    )


def _ends_of_figures(state: FluidState) -> tuple[float, float]:
    """The coldest and the hottest for which there is a figure of every property [K]."""
    curves = state.curves.values()
    return max(curve.coldest for curve in curves), min(curve.hottest for curve in curves)


def thickest_start(present: Solution, pump: str) -> float | None:
    """The temperature below which the fluid is thicker than the start viscosity that a pump's maker states
    [K]; None where none is stated."""
    if present.layout.pumps[pump].start_viscosity is None:
        return None
    reached = _start_crossing(present, pump)
    return reached.at if reached is not None and reached.found else None


def thinnest_run(present: Solution, name: str) -> float | None:
    """The temperature above which the fluid is thinner than a pump may usually run with [K]; None where it
    is nowhere, or the pump is one for water."""
    pump, now, choice = present.layout.pumps[name], present.fluid, present.layout.fluid
    least = criteria_of(present.layout).running_viscosity
    if pump.type in FOR_WATER or now.viscosity <= least:
        return None

    def to_spare(at: float) -> float:
        return fluid.state(choice, at).viscosity - least

    hottest = INPUTS["temperature"].searched[1]
    reached = crossing(to_spare, now.temperature, hottest, 2.0, 1e-3, 1e-12)
    return reached.at if reached.found else None


def _start_crossing(present: Solution, name: str) -> Crossing | None:
    limit, choice, now = _start_viscosity(present, name), present.layout.fluid, present.tank_fluid
    if math.isinf(limit):
        return None

    def to_spare(at: float) -> float:
        return limit - fluid.state(choice, at).viscosity

    coldest, hottest = INPUTS["temperature"].searched
    thin = now.viscosity <= limit
    return crossing(to_spare, now.temperature, coldest if thin else hottest, 2.0, 1e-3, 1e-12)


def _start_limit(present: Solution, ledger: PumpLedger) -> str:
    reached = _start_crossing(present, ledger.pump)
    if reached is None:
        return "no start viscosity holds for this pump"
    stated = present.layout.pumps[ledger.pump].start_viscosity is not None
    whose = "the pump's start viscosity" if stated else "the usual start viscosity of its type"
    thin = present.tank_fluid.viscosity <= _start_viscosity(present, ledger.pump)
    if not reached.found:
        return f"the fluid is {'thinner' if thin else 'thicker'} than {whose} as far as its figures go"
    return f"below {degrees(reached.at, present.layout.units)} the fluid is thicker than {whose}"


def _start_viscosity(present: Solution, name: str) -> float:
    return start_viscosity_of(present.layout.pumps[name], criteria_of(present.layout))


def site_elevation(present: Solution, ledger: PumpLedger) -> Variation:
    """How high above the sea the site may lie, on a standard day."""
    layout, place = present.layout, present.layout.site
    now = place.elevation.si if place.elevation is not None else _equivalent_elevation(place)

    return Variation(
        kind=Kind.ELEVATION,
        now=now,
        worst=SITES[1],
        best=SITES[0],
        change=lambda to: inputs.elevation(layout, (), to, present.level),
        meaning="elevation above the sea on a standard day",
        worst_is="as high as any site on land",
        best_is="as low as any site on land, so it is over at any site",
        alters=place.elevation is None or place.barometer is not None or place.altimeter_setting is not None,
        slope=10.0,
        tolerance=1e-3,
    )


def _equivalent_elevation(site: Site) -> float:
    """Where the standard atmosphere has the pressure that the barometer shows [m]."""
    pressure = site.barometer.si if site.barometer is not None else flow.SEA_LEVEL

    def difference(z: float) -> float:
        return flow.station_pressure.scalar(z) - pressure

    return crossing(difference, SITES[0], SITES[1], 1000.0, 1e-6, 1e-6).at


WEATHER = ("site", "weather_allowance")
"""The keys of what a drawing, or a case of it, takes off the atmosphere."""


def barometer(present: Solution, ledger: PumpLedger) -> Variation:
    """How low the barometer at the site may stand."""
    layout = present.layout
    allowance = layout.site.weather_allowance
    allowed = allowance is not None or any(WEATHER in case.figures for case in layout.cases.values())

    def change(to: float) -> Layout:
        site = Site(barometer=Quantity(f"{to!r} Pa", to), weather_allowance=allowance)
        return replace(layout, site=site)

    now = station_pressure(layout.site)
    return Variation(
        kind=Kind.VACUUM,  # in the unit of a barometer
        now=now,
        worst=min(now, flow.station_pressure.scalar(SITES[1])),
        best=max(now, flow.station_pressure.scalar(SITES[0])),
        change=change,
        meaning="read at the site, not reduced to sea level",
        slope=1.0,
        note="the allowance for a low-pressure day comes off it" if allowed else "",
    )


def speed(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How fast the pump may turn, its flow in proportion; the reason in words where its flow is typed."""
    layout, pump = present.layout, present.layout.pumps[ledger.pump]
    if pump.speed is None:
        return f"{pump.name} is given by its flow"
    least, most = INPUTS["speed"].searched
    now = pump.speed.si
    return Variation(
        kind=Kind.SPEED,
        now=now,
        worst=now * most,
        best=now * least,
        change=lambda to: inputs.speed(layout, (pump.name,), to, present.level),
        meaning="with the flow in proportion",
        tolerance=1e-9 * now,
        lost=lambda ledger: sum(entry.loss for entry in ledger.entries),
    )


def pump_flow(present: Solution, ledger: PumpLedger) -> Variation:
    """How much the pump may take in, at the speed it has."""
    layout = present.layout
    least, most = INPUTS["flow"].searched
    return Variation(
        kind=Kind.FLOW,
        now=ledger.flow,
        worst=ledger.flow * most,
        best=ledger.flow * least,
        change=lambda to: inputs.flow(layout, (ledger.pump,), to, present.level),
        meaning=f"taken in by {ledger.pump}",
        tolerance=1e-9 * ledger.flow,
        lost=lambda ledger: sum(entry.loss for entry in ledger.entries),
        note="the speed stays as it is" if layout.pumps[ledger.pump].speed is not None else "",
    )


LIGHTEST = 600.0
"""What no fluid that a pump such as these is run on comes down to [kg/m³]; common practice, no source."""


def density(present: Solution, ledger: PumpLedger) -> Variation:
    """How dense the fluid may be, its viscosity as it is."""
    layout = present.layout
    return Variation(
        kind=Kind.DENSITY,
        now=present.tank_fluid.density,
        worst=INPUTS["density"].searched[1],
        best=min(max(LIGHTEST, INPUTS["density"].searched[0]), present.tank_fluid.density),
        change=lambda to: inputs.density(layout, (), to, present.level),
        meaning="density at working temperature",
        alters=True,
        tolerance=1e-6,
        note="the viscosity stays as it is",
    )
