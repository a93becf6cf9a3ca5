"""Lines and example drawings whose working is read, and a reader who follows it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from solver.formulas.steps import Step, Working
from solver.layout import file
from solver.ledger import solve
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import System
from solver.working import working
from tests.solver import calculator

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


SYSTEMS = list(System)


def solutions() -> Iterator[tuple[str, Solution]]:
    for path in LAYOUTS:
        drawing = file.read(path)
        for name, layout in (("", drawing.base), *((n, a.layout) for n, a in drawing.alternatives.items())):
            yield f"{path.stem} {name}".strip(), solve.solve(layout)


SOLUTIONS = dict(solutions())


LINE = """
format = 1
title = "Line"
units = "SI"
[site]
{site}
[fluid]
{fluid}
[reservoirs.tank]
outline = [["0 m", "0 m"], ["1.2 m", "0 m"], ["1.2 m", "0.7 m"], ["0 m", "0.7 m"]]
depth = "0.6 m"
normal_level = "0.6 m"
minimum_level = "0.4 m"
{tank}
[intakes.mouth]
reservoir = "tank"
at = ["0.9 m", "0.12 m"]
{mouth}
[pumps.pump]
at = ["2.4 m", "1.1 m"]
{pump}
[fittings.part]
at = ["1.6 m", "1.1 m"]
{part}
[runs.riser]
from = "mouth"
to = "part"
via = [["0.9 m", "1.1 m"]]
{riser}
[runs.lead]
from = "part"
to = "pump"
{lead}
"""


PLAIN = {
    "site": 'elevation = "300 m"',
    "fluid": 'name = "Mineral oil, ISO VG 46"\ntemperature = "45 degC"',
    "tank": "",
    "mouth": 'kind = "bell-mouth"\nbore = "50 mm"',
    "pump": 'bore = "50 mm"\ntype = "vane"\nflow = "100 L/min"\nlimit = { pressure = "0.7 bar" }',
    "part": 'kind = "ball valve"\nbore = "50 mm"',
    "riser": 'bore = "50 mm"\nbend_radius = "90 mm"',
    "lead": 'bore = "50 mm"',
}


def line(level: str = "minimum", **parts: str) -> Solution:
    """A line up and over to a pump, with some of its tables written otherwise."""
    return solve.solve(file.parse(LINE.format(**{**PLAIN, **parts}), "line").base, level)


def found_in(section: Working, symbol: str) -> list[Step]:
    return [step for step in section.steps if step.symbol() == symbol]


def check(step: Step) -> None:
    """Every line of numbers comes to the result printed beside it, within half of its last digit."""
    writing = step.writing()
    bare = step.worked is not None and step.worked.relation.fixed_units
    for shown in writing.si_lines if not bare else writing.lines:
        number, _ = calculator.split(shown.result)
        near(calculator.evaluate(shown.numbers), number, step, shown.numbers)
    for shown in () if bare else writing.lines:
        number, unit = calculator.split(shown.result)
        value = calculator.evaluate_with_units(shown.numbers)
        if value.magnitude == 0.0 and value.dimensionless:
            value = value.magnitude * calculator.unit(unit)  # "max(−1 ft, 0)" is 0 of anything
        ratio = (value / calculator.unit(unit)).to("dimensionless")
        near(ratio.magnitude, number, step, shown.numbers)


def near(value: float, number: str, step: Step, numbers: str) -> None:
    allowed = 0.5 * calculator.last_digit(number) * (1 + 1e-6) + 1e-12
    assert abs(value - calculator.figure(number)) <= allowed, (
        f"{step.name}: {numbers} = {value}, not {number}"
    )


def agree(solution: Solution, pump: str) -> None:
    pump_ledger = solution.pumps[pump]
    sections = {w.key: w for w in working.calculation(solution, pump, System.SI)}
    for entry in pump_ledger.entries:
        agree_entry(sections[entry.key], entry, pump_ledger)
    agree_frame(sections, solution, pump_ledger)


def agree_entry(section: Working, entry: solve.Entry, ledger: PumpLedger) -> None:
    expected = {"v": entry.velocity, "Re": entry.reynolds, "p": entry.pressure}
    if entry.kind not in ("port", "flooded head", "acceleration head"):
        expected |= {"K": entry.k, "f": entry.friction_factor, "lift": entry.lift}
        expected |= {"Δp": entry.loss, "Q": abs(entry.flow)}
    if ledger.budget > 0:
        expected["share"] = entry.share
    for symbol, value in expected.items():
        for step in found_in(section, symbol):
            assert step.value == pytest.approx(value, rel=1e-9, abs=1e-3 if symbol == "p" else 1e-12)
    assert entry.kind in ("port", "flooded head", "acceleration head") or found_in(section, "Δp")
    assert ledger.budget <= 0 or found_in(section, "share")


def agree_frame(sections: dict[str, Working], solution: Solution, ledger: PumpLedger) -> None:
    fluid = solution.fluid
    last = {
        step.symbol(): step.value for key in ("fluid", "budget", "outcome") for step in sections[key].steps
    }
    expected = {
        "T": fluid.temperature,
        "ρ": fluid.density,
        "p_v": fluid.vapor_pressure,
        "b": fluid.dissolved_air,
        "p_atm": ledger.atmosphere,
        "p_surface": ledger.surface,
        "p_floor": ledger.floor,
        "budget": ledger.budget,
        "V_allowed": ledger.allowed_vacuum,
        "spent": ledger.spent,
        "p_port": ledger.inlet,
        "V_port": ledger.vacuum,
        "margin": ledger.margin,
        "NPSH_a": ledger.npsh_available,
    }
    for symbol, value in expected.items():
        assert last[symbol] == pytest.approx(value, rel=1e-9, abs=1e-6), symbol
    assert last["ν"] in (
        pytest.approx(fluid.viscosity, rel=1e-9),
        pytest.approx(fluid.viscosity * 1e6, rel=1e-9),
    )


CASES = {
    "known K": {"part": 'kind = "known K"\nk = 2.5\nbore = "50 mm"'},
    "Kv": {"part": 'kind = "flow coefficient"\nkv = "30 m^3/h"\nbore = "50 mm"'},
    "Cv": {"part": 'kind = "flow coefficient"\ncv = "35 gpm"\nbore = "50 mm"'},
    "known drop": {"part": 'kind = "known drop"\ndrop = "0.05 bar"\nbore = "50 mm"'},
    "known head": {"part": 'kind = "known drop"\nhead = "1.2 m"\nbore = "50 mm"'},
    "known drop at a flow": {
        "part": 'kind = "known drop"\ndrop = "0.05 bar"\nflow = "80 L/min"\nbore = "50 mm"'
    },
    "one point": {
        "part": 'kind = "filter"\nbore = "50 mm"\nscreen = { drops = [["80 L/min", "0.03 bar"]], '
        'viscosity = "32 cSt", density = "870 kg/m^3", blocked = 0.3 }'
    },
    "one point, turbulent": {
        "part": 'kind = "filter"\nbore = "50 mm"\nscreen = { drops = [["300 L/min", "0.03 bar"]], '
        'viscosity = "2 cSt", density = "870 kg/m^3" }'
    },
    "points that bend the other way": {
        "part": 'kind = "filter"\nbore = "50 mm"\nscreen = { drops = [["50 L/min", "0.03 bar"], '
        '["100 L/min", "0.05 bar"]], viscosity = "32 cSt", density = "870 kg/m^3" }'
    },
    "bypass open": {
        "mouth": 'kind = "strainer"\nbore = "50 mm"\nscreen = { mesh = "100 per inch", wire = "0.11 mm", '
        'area = "0.002 m^2", blocked = 0.5, bypass = "0.02 bar" }'
    },
    "narrow": {"part": 'kind = "gate valve"\nbore = "40 mm"'},
    "mitre": {"riser": 'bore = "50 mm"\nbend = "mitre"'},
    "butterfly": {"part": 'kind = "butterfly valve"\nbore = "50 mm"'},
    "foot valve": {"part": 'kind = "foot valve"\nbore = "50 mm"'},
    "poppet": {"part": 'kind = "poppet foot valve"\nbore = "50 mm"'},
    "connector": {"part": 'kind = "flexible connector"\nbore = "50 mm"'},
    "reducer": {
        "part": 'kind = "concentric reducer"\nbore = "50 mm"\nother_bore = "40 mm"',
        "lead": 'bore = "40 mm"',
    },
    "long reducer": {
        "part": 'kind = "eccentric reducer"\nbore = "50 mm"\nother_bore = "40 mm"\nlength = "90 mm"',
        "lead": 'bore = "40 mm"',
    },
    "widening": {
        "part": 'kind = "concentric reducer"\nbore = "50 mm"\nother_bore = "65 mm"',
        "lead": 'bore = "65 mm"',
    },
    "part-open": {"part": 'kind = "ball valve"\nbore = "50 mm"\nopening = { kv = "20 m^3/h" }'},
    "maker's curve": {
        "part": 'kind = "maker\'s curve"\nbore = "50 mm"\ncurve = { drops = [["50 L/min", "0.01 bar"], '
        '["100 L/min", "0.03 bar"]], viscosity = "32 cSt", density = "870 kg/m^3" }'
    },
    "long connector": {"part": 'kind = "flexible connector"\nbore = "50 mm"\nlength = "0.4 m"'},
    "known K in slow flow": {"part": 'kind = "known K"\nk = 2.5\nk_re = 900\nbore = "50 mm"'},
    "foot valve for an intake": {"mouth": 'kind = "foot valve"\nbore = "50 mm"'},
    "three welds": {"riser": 'bore = "50 mm"\nbend = "three-weld mitre"'},
    "sealed": {"tank": 'sealed = true\npressure = "0.2 bar"'},
    "efficiency": {
        "pump": 'bore = "50 mm"\ntype = "vane"\ndisplacement = "70 cm^3/rev"\nspeed = "1500 rpm"\n'
        'volumetric_efficiency = 0.93\nlimit = { pressure = "0.7 bar" }'
    },
    "reciprocating": {
        "pump": 'bore = "50 mm"\ntype = "reciprocating"\nflow = "60 L/min"\nspeed = "300 rpm"\n'
        'cylinders = 3\nlimit = { pressure = "0.5 bar" }'
    },
    "NPSH over flow": {
        "pump": 'bore = "50 mm"\ntype = "centrifugal"\nflow = "100 L/min"\nspeed = "1600 rpm"\n'
        'rated_speed = "1450 rpm"\nlimit = { npsh = [["50 L/min", "1 m"], ["150 L/min", "3 m"]] }'
    },
    "barometer": {
        "site": 'barometer = "24.6 inHg"\nweather_allowance = "10 mbar"',
        "tank": 'pressure = "0.1 bar"',
    },
    "breather": {"tank": 'breather_drop = "5 mbar"'},
    "NPSH": {
        "pump": 'bore = "50 mm"\ntype = "centrifugal"\nflow = "100 L/min"\nspeed = "1600 rpm"\n'
        'rated_speed = "1450 rpm"\nlimit = { npsh = "3 m" }'
    },
    "table over speed": {
        "pump": 'bore = "50 mm"\ntype = "vane"\ndisplacement = "70 cm^3/rev"\nspeed = "1500 rpm"\n'
        'limit = { vacuum = [["1200 rpm", "7 inHg"], ["1800 rpm", "5 inHg"]] }'
    },
    "past the table": {
        "pump": 'bore = "50 mm"\ntype = "vane"\ndisplacement = "70 cm^3/rev"\nspeed = "1900 rpm"\n'
        'limit = { vacuum = [["1200 rpm", "7 inHg"], ["1800 rpm", "5 inHg"]] }'
    },
    "credit": {
        "pump": 'bore = "50 mm"\ntype = "vane"\ndisplacement = "70 cm^3/rev"\nspeed = "1200 rpm"\n'
        'credit = true\nrated_speed = "1500 rpm"\nrated_density = "900 kg/m^3"\n'
        'limit = { pressure = "0.8 bar" }'
    },
    "heavy fluid": {"fluid": 'name = "Water-glycol (HFC)"\ntemperature = "45 degC"'},
    "water": {"fluid": 'name = "Water"\ntemperature = "58 degC"'},
    "typed fluid": {
        "fluid": 'name = "Mine"\ntemperature = "45 degC"\ndensity = "870 kg/m^3"\n'
        'viscosity = [["40 degC", "30 cSt"], ["100 degC", "5 cSt"]]\nvapor_pressure = "200 Pa"'
    },
    "typed tables": {
        "fluid": 'name = "Mine"\ntemperature = "45 degC"\ndensity = [["20 degC", "880 kg/m^3"], '
        '["60 degC", "850 kg/m^3"]]\nviscosity = "25 cSt"\n'
        'vapor_pressure = [["20 degC", "100 Pa"], ["60 degC", "900 Pa"]]'
    },
    "index over 100": {"fluid": 'name = "High-VI oil, ISO VG 32"\ntemperature = "15 degC"'},
    "index elsewhere": {
        "fluid": 'name = "Mineral oil, ISO VG 46"\ntemperature = "45 degC"\nviscosity_index = 110\n'
        'viscosity = [["50 degC", "30 cSt"]]'
    },
    "family's density": {
        "fluid": 'name = "Water-glycol (HFC)"\ntemperature = "33 degC"\ndensity = "1060 kg/m^3"'
    },
}


def entry_of(solution: Solution, element: str, system: System = System.SI) -> Working:
    key = next(e.key for e in solution.pumps["pump"].entries if e.element == element)
    return working.working(solution, "pump", key, system)


def derived(section: Working, *symbols: str) -> bool:
    """Whether each of those results is worked out rather than given."""
    steps = {step.symbol(): step for step in section.steps}
    return all(symbol in steps and steps[symbol].worked is not None for symbol in symbols)
