"""How what there is to spend comes about, step by step: site, reservoir, maker's limit, budget."""

from __future__ import annotations

from dataclasses import replace

from solver.formulas import flow, symbols
from solver.formulas.formula import Symbol
from solver.formulas.record import Recorder
from solver.formulas.steps import Step, steps
from solver.formulas.worked import Worked
from solver.geometry import reservoirs
from solver.layout.kinds import LimitForm
from solver.layout.parts import Limit, Pump
from solver.ledger import limit, maker_fluid
from solver.ledger.solve import PumpLedger, Solution
from solver.properties import atmosphere
from solver.quantities.units import System

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


def budget_steps(solution: Solution, ledger: PumpLedger, system: System) -> tuple[Step, ...]:
    """From the site's air and the maker's figure to the inlet budget and the allowed vacuum."""
    recorder = Recorder()
    _surface(solution, ledger, recorder)
    _floor(solution, ledger, recorder)
    recorder.work(flow.budget, ledger.surface, ledger.floor)
    allowed = limit.allowed_vacuum(solution.layout.pumps[ledger.pump])
    recorder.work(allowed, ledger.atmosphere, ledger.floor)
    site = "barometer" if solution.layout.site.barometer is not None else "altitude"
    return tuple(_placed(step, site) for step in steps(recorder.steps, system))


def _placed(step: Step, site: str) -> Step:
    line = _LINES.get(step.result_symbol.symbol, step.line)
    return replace(step, line=site if line == "altitude" else line)


def _surface(solution: Solution, ledger: PumpLedger, recorder: Recorder) -> None:
    site, tank = solution.layout.site, solution.layout.reservoirs[ledger.reservoir]
    atmosphere.station_pressure(site, recorder)
    if site.weather_allowance is not None:
        recorder.given(symbols.p_weather, site.weather_allowance.si, "as typed")
    if tank.pressure is not None:
        recorder.given(symbols.p_gauge, tank.pressure.si, "as typed")
    change = reservoirs.pressure_change(tank, solution.level, site)
    gauge = tank.pressure.si if tank.pressure is not None else 0.0
    for worked in limit.surface_pressure(site, gauge, change).steps:
        recorder.add(worked)
    if change is not None and change.worked is None:
        recorder.given(symbols.p_gauge, gauge + change.value, change.source, change.name)


def _floor(solution: Solution, ledger: PumpLedger, recorder: Recorder) -> None:
    pump, velocity = solution.layout.pumps[ledger.pump], ledger.entries[-1].velocity
    dynamic = flow.velocity_pressure.scalar(solution.fluid.density, velocity)
    floor = limit.floor(pump, solution.fluid, dynamic, ledger.speed, ledger.flow)
    figure = _figure(pump.limit)
    if not any(worked.relation.result is figure for worked in floor.steps):
        typed = next(worked.named[figure.symbol] for worked in floor.steps if figure.symbol in worked.named)
        recorder.given(figure, typed, f"{floor.lines[0].note}; {limit.source_of(pump)}")
    stepwise = any(worked.relation.result is symbols.rho_rated for worked in floor.steps)
    for worked in floor.steps:
        if not stepwise:
            _rated_density(worked, pump, solution.fluid.name, recorder)
        if counted := worked.named.get(symbols.p_v_rated.symbol, 0.0):
            recorder.given(symbols.p_v_rated, counted, "of this fluid, as warm as pumps are tested at most")
        recorder.add(worked)


def _figure(given: Limit) -> Symbol:
    """What the maker's figure is."""
    return {
        LimitForm.VACUUM: symbols.V,
        LimitForm.PRESSURE: symbols.p_rated,
        LimitForm.NPSH: symbols.H,
    }[given.form]


def _rated_density(worked: Worked, pump: Pump, fluid: str, recorder: Recorder) -> None:
    """The density of the maker's fluid, before the step that takes it."""
    density = worked.named.get(symbols.rho_rated.symbol)
    if density is not None:
        source = "not stated: taken as a light petroleum oil, common practice, no source"
        if pump.rated_density is not None:
            source = "as typed"
        elif maker_fluid.rated_on_water(pump) and pump.rated_fluid is None:
            source = (
                "not stated: taken as water, with which pumps for water are tested (ISO 9906), unverified"
            )
        elif maker_fluid.holds_for(pump, fluid):
            source = "of this fluid, for which the maker's figure holds"
        elif maker_fluid.names_another(pump, fluid):
            source = f"of {pump.rated_fluid} as the catalogue has it, as warm as pumps are tested at most"
        recorder.given(symbols.rho_rated, density, source)
