"""How what there is to spend comes about, step by step: site, reservoir, maker's limit, budget."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from solver.formulas import flow, symbols
from solver.formulas.formula import Symbol
from solver.formulas.steps import Maker, Step
from solver.formulas.worked import Worked
from solver.geometry import reservoirs
from solver.layout.parts import Limit, Pump, Site
from solver.ledger import limit
from solver.ledger.solve import PumpLedger, Solution

_LINES = {
    "p_st": "altitude",
    "h": "altitude",
    "z": "altitude",
    "p_w": "weather",
    "p_atm": "weather",
    "p_g": "reservoir pressure",
    "p_s": "reservoir pressure",
    "V": "maker's limit",
    "H": "maker's limit",
    "p_rated": "maker's limit",
    "ρ_rated": "density correction",
    "c_ρ": "density correction",
    "c_n": "speed correction",
    "NPSH_r": "speed correction",
    "p_floor": "floor",
    "budget": "inlet budget",
    "V_a": "allowed vacuum",
}
"""The budget line that a result belongs to, by its symbol."""


def budget_steps(solution: Solution, ledger: PumpLedger, make: Maker) -> list[Step]:
    """From the site's air and the maker's figure to the inlet budget and the allowed vacuum."""
    pump = solution.layout.pumps[ledger.pump]
    steps = [*_surface(solution, ledger, make), *_floor(solution, ledger, pump, make)]
    steps.append(make.work(flow.budget, ledger.surface, ledger.floor))
    steps.append(make.work(flow.allowed_vacuum, ledger.atmosphere, ledger.floor))
    site = "barometer" if solution.layout.site.barometer is not None else "altitude"
    return [_placed(step, site) for step in steps]


def _placed(step: Step, site: str) -> Step:
    line = _LINES.get(step.result_symbol.symbol, step.line)
    return replace(step, line=site if line == "altitude" else line)


def _surface(solution: Solution, ledger: PumpLedger, make: Maker) -> Iterator[Step]:
    site, tank = solution.layout.site, solution.layout.reservoirs[ledger.reservoir]
    yield from _station(site, make)
    if site.weather_allowance is not None:
        yield make.given(symbols.p_weather, site.weather_allowance.si, "as drawn")
    if tank.pressure is not None:
        yield make.given(symbols.p_gauge, tank.pressure.si, "as drawn")
    change = reservoirs.pressure_change(tank, solution.level, site)
    gauge = tank.pressure.si if tank.pressure is not None else 0.0
    for worked in limit.surface(site, gauge, change).steps:
        yield make.take(worked)
    if change is not None and change.worked is None:
        yield replace(make.given(symbols.p_gauge, gauge + change.value, change.source), name=change.name)


def _station(site: Site, make: Maker) -> Iterator[Step]:
    if site.barometer is not None:
        source = "the site's barometer, not reduced to sea level"
        yield make.given(symbols.p_station, site.barometer.si, source)
        return
    elevation = site.elevation.si if site.elevation is not None else 0.0
    yield make.given(symbols.z, elevation, "as drawn" if site.elevation is not None else "not given")
    height = make.work(flow.geopotential, elevation)
    yield height
    yield make.work(flow.standard_pressure, height.value)


def _floor(solution: Solution, ledger: PumpLedger, pump: Pump, make: Maker) -> Iterator[Step]:
    head = ledger.entries[-1].loss
    found = limit.floor(pump, solution.fluid, head, ledger.speed, ledger.flow)
    if not any(worked.relation.result is _asked(pump.limit) for worked in found.steps):
        note = found.lines[0].note
        yield make.given(_asked(pump.limit), _typed(found, pump.limit), f"{note}; {limit.MAKER}")
    for worked in found.steps:
        yield from _explained(worked, pump, make)


def _asked(given: Limit) -> Symbol:
    """What the maker's figure is."""
    return {"vacuum": symbols.V, "pressure": symbols.p_rated, "npsh": symbols.H}[given.form]


def _typed(found: limit.Floor, given: Limit) -> float:
    """The maker's figure as the floor has taken it."""
    asked = _asked(given)
    for worked in found.steps:
        if asked.symbol in worked.named:
            return worked.named[asked.symbol]
    return math.nan


def _explained(worked: Worked, pump: Pump, make: Maker) -> Iterator[Step]:
    """A step of the floor, after the figure of the maker's fluid that it takes."""
    named = worked.named
    if "ρ_rated" in named:
        stated = pump.rated_density is not None
        source = "as drawn" if stated else "not stated: taken as petroleum fluid, common practice, no source"
        yield make.given(symbols.rho_rated, named["ρ_rated"], source)
    yield make.take(worked)
