"""Every figure with its formula: what is printed is evaluated and must give what the solver computed."""

from __future__ import annotations

import html
import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.__main__ import main
from solver.findings.judgement import judge
from solver.findings.outlook import own_headline
from solver.formulas.formula import HTML
from solver.formulas.steps import Step, Working
from solver.layout import file
from solver.ledger import solve
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import System
from solver.working import working
from tests import drawings as parts
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


def entry_of(solution: Solution, element: str, system: System = System.SI) -> Working:
    key = next(e.key for e in solution.pumps["pump"].entries if e.element == element)
    return working.working(solution, "pump", key, system)


# What is printed gives what is printed


def check(step: Step) -> None:
    """Every line of numbers comes to the result printed beside it, within half of its last digit."""
    writing = step.writing()
    bare = step.worked is not None and step.worked.relation.bare
    for shown in writing.plain if not bare else writing.lines:
        number, _ = calculator.split(shown.result)
        _near(calculator.evaluate(shown.numbers), number, step, shown.numbers)
    for shown in () if bare else writing.lines:
        number, unit = calculator.split(shown.result)
        value = calculator.evaluate_with_units(shown.numbers)
        if value.magnitude == 0.0 and value.dimensionless:
            value = value.magnitude * calculator.unit(unit)  # "max(−1 ft, 0)" is 0 of anything
        ratio = (value / calculator.unit(unit)).to("dimensionless")
        _near(ratio.magnitude, number, step, shown.numbers)


def _near(value: float, number: str, step: Step, numbers: str) -> None:
    allowed = 0.5 * calculator.last_digit(number) * (1 + 1e-6) + 1e-12
    assert abs(value - calculator.figure(number)) <= allowed, (
        f"{step.name}: {numbers} = {value}, not {number}"
    )


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SOLUTIONS)
def test_every_step_of_every_drawing_can_be_followed_with_a_calculator(name: str, system: System) -> None:
    solution = SOLUTIONS[name]
    for pump in solution.pumps:
        for section in working.calculation(solution, pump, system):
            assert section.steps
            for step in section.steps:
                check(step)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SOLUTIONS)
def test_the_value_of_a_step_is_the_one_printed(name: str, system: System) -> None:
    solution = SOLUTIONS[name]
    for pump in solution.pumps:
        for section in working.calculation(solution, pump, system):
            for step in section.steps:
                if step.worked is not None:
                    assert step.worked.relation.scalar(*step.worked.values) == step.value


# What is printed is what the solver computed


def agree(solution: Solution, pump: str) -> None:
    found = solution.pumps[pump]
    sections = {w.key: w for w in working.calculation(solution, pump, System.SI)}
    for entry in found.entries:
        _agree_entry(sections[entry.key], entry, found)
    _agree_frame(sections, solution, found)


def _agree_entry(section: Working, entry: solve.Entry, found: PumpLedger) -> None:
    expected = {"v": entry.velocity, "Re": entry.reynolds, "p": entry.pressure}
    if entry.kind not in ("port", "flooded head", "acceleration head"):
        expected |= {"K": entry.k, "f": entry.friction_factor, "lift": entry.lift}
        expected |= {"Δp": entry.loss, "Q": abs(entry.flow)}
    if found.budget > 0:
        expected["share"] = entry.share
    for symbol, value in expected.items():
        for step in found_in(section, symbol):
            assert step.value == pytest.approx(value, rel=1e-9, abs=1e-3 if symbol == "p" else 1e-12)
    assert entry.kind in ("port", "flooded head", "acceleration head") or found_in(section, "Δp")
    assert found.budget <= 0 or found_in(section, "share")


def _agree_frame(sections: dict[str, Working], solution: Solution, found: PumpLedger) -> None:
    fluid = solution.fluid
    last = {
        step.symbol(): step.value for key in ("fluid", "budget", "outcome") for step in sections[key].steps
    }
    expected = {
        "T": fluid.temperature,
        "ρ": fluid.density,
        "p_v": fluid.vapor_pressure,
        "b": fluid.dissolved_air,
        "p_atm": found.atmosphere,
        "p_surface": found.surface,
        "p_floor": found.floor,
        "budget": found.budget,
        "V_allowed": found.allowed_vacuum,
        "spent": found.spent,
        "p_port": found.inlet,
        "V_port": found.vacuum,
        "margin": found.margin,
        "NPSH_a": found.npsh_available,
    }
    for symbol, value in expected.items():
        assert last[symbol] == pytest.approx(value, rel=1e-9, abs=1e-6), symbol
    assert last["ν"] in (
        pytest.approx(fluid.viscosity, rel=1e-9),
        pytest.approx(fluid.viscosity * 1e6, rel=1e-9),
    )


@pytest.mark.parametrize("name", SOLUTIONS)
def test_the_steps_of_every_drawing_arrive_at_the_ledger_s_figures(name: str) -> None:
    for pump in SOLUTIONS[name].pumps:
        agree(SOLUTIONS[name], pump)


def derived(section: Working, *symbols: str) -> bool:
    """Whether each of those results is worked out rather than given."""
    steps = {step.symbol(): step for step in section.steps}
    return all(symbol in steps and steps[symbol].worked is not None for symbol in symbols)


@pytest.mark.parametrize("name", SOLUTIONS)
def test_coefficients_are_derived_wherever_a_formula_gives_them(name: str) -> None:
    solution = SOLUTIONS[name]
    for pump, found in solution.pumps.items():
        for entry in found.entries:
            section = working.working(solution, pump, entry.key, System.SI)
            if entry.kind in ("bend", "valve", "tee", "bore change"):
                assert derived(section, "K_∞"), entry.key
            if entry.kind == "screen":
                assert derived(section, "c_v"), entry.key


# Cases that the drawings do not hold

CASES = {
    "known K": {"part": 'kind = "known K"\nk = 2.5\nbore = "50 mm"'},
    "Kv": {"part": 'kind = "flow coefficient"\nkv = "30 m^3/h"\nbore = "50 mm"'},
    "Cv": {"part": 'kind = "flow coefficient"\ncv = "35 gpm"\nbore = "50 mm"'},
    "known drop": {"part": 'kind = "known drop"\ndrop = "0.05 bar"\nbore = "50 mm"'},
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


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("case", CASES)
def test_other_lines_and_fluids_can_be_followed_too(case: str, system: System) -> None:
    solution = line(**CASES[case])
    agree(solution, "pump")
    for section in working.calculation(solution, "pump", system):
        for step in section.steps:
            check(step)


@pytest.mark.parametrize(
    ("case", "element", "symbols"),
    [
        ("Kv", "flow coefficient", ("c_v", "c_i")),
        ("Cv", "flow coefficient", ("K_v", "c_v", "c_i")),
        ("known drop", "known drop", ("μ_p", "c_μ", "Δp_0")),
        ("known drop at a flow", "known drop", ("c_μ", "c_Q", "Δp_0")),
        ("one point", "screen", ("c_v",)),
        ("one point, turbulent", "screen", ("c_v", "c_i")),
        ("points that bend the other way", "screen", ("c_v",)),
        ("bypass open", "screen", ("c_v", "c_i", "Δp_e", "B_b", "Δp")),
        ("narrow", "bore change at part", ("β", "λ", "K_∞", "K_1")),
        ("mitre", "bend 1", ("K_∞",)),
        ("butterfly", "butterfly valve", ("K_∞",)),
        ("foot valve", "foot valve", ("f_T", "K_∞")),
        ("poppet", "poppet foot valve", ("f_T", "K_∞")),
        ("connector", "flexible connector", ("K_∞", "K_1")),
        ("long connector", "flexible connector", ("K_∞", "K_1")),
        ("reducer", "concentric reducer", ("β", "K_∞", "K_1")),
        ("widening", "concentric reducer", ("β", "K_∞")),
        ("long reducer", "eccentric reducer", ("K_1",)),
        ("part-open", "ball valve", ("c_v", "c_i")),
        ("maker's curve", "maker's curve", ("c_v", "c_i")),
        ("foot valve for an intake", "entrance", ("f_T", "K_∞")),
        ("three welds", "bend 1", ("K_∞",)),
    ],
)
def test_the_coefficients_of_every_kind_are_derived(
    case: str, element: str, symbols: tuple[str, ...]
) -> None:
    assert derived(entry_of(line(**CASES[case]), element), *symbols)


@pytest.mark.parametrize(
    ("case", "symbols"),
    [
        ("typed fluid", ("ρ", "A_ν", "B_ν")),
        ("typed tables", ("ρ", "p_v")),
        ("index over 100", ("N_VI", "VI")),
        ("index elsewhere", ("VI", "A_ν")),
        ("family's density", ("ρ",)),
        ("heavy fluid", ("p_v",)),
        ("water", ("ρ", "p_v")),
    ],
)
def test_the_properties_of_every_fluid_are_derived(case: str, symbols: tuple[str, ...]) -> None:
    assert derived(working.working(line(**CASES[case]), "pump", "fluid", System.SI), *symbols)


@given(
    flow=st.floats(2, 900),
    bore=st.floats(20, 90),
    temperature=st.floats(0, 80),
    system=st.sampled_from(SYSTEMS),
    angle=st.floats(0.3, 2.5),
)
@settings(max_examples=25, deadline=None)
def test_any_flow_can_be_followed(
    flow: float, bore: float, temperature: float, system: System, angle: float
) -> None:
    """Laminar, transitional and turbulent, and bends at any angle."""
    size = f'bore = "{bore:.2f} mm"'
    x, y = 0.9 + 0.7 * math.cos(angle), 0.9 + 0.7 * math.sin(angle)
    text = LINE.format(
        **{
            **PLAIN,
            "fluid": f'name = "Mineral oil, ISO VG 46"\ntemperature = "{temperature:.2f} degC"',
            "mouth": f'kind = "plain end"\n{size}',
            "part": f'kind = "gate valve"\n{size}',
            "pump": f'{size}\ntype = "vane"\nflow = "{flow:.3f} L/min"\nlimit = {{ pressure = "0.7 bar" }}',
            "riser": f'{size}\nbend = "threaded elbow"',
        }
    ).replace('via = [["0.9 m", "1.1 m"]]', f'via = [["0.9 m", "0.9 m"], ["{x:.4f} m", "{y:.4f} m"]]')
    solution = solve.solve(file.parse(text, "any").base)
    agree(solution, "pump")
    for section in working.calculation(solution, "pump", system):
        for step in section.steps:
            check(step)


@pytest.mark.parametrize("system", SYSTEMS)
def test_lines_in_parallel_can_be_followed_on_the_walk_and_beside_it(system: System) -> None:
    solution = solve.solve(
        parts.drawing(
            parts.intake("left", (0.5, 0.12)),
            parts.intake("right", (0.9, 0.12)),
            parts.tee("join", (0.9, 1.0)),
            parts.pump(at=(2.0, 1.0), flow=0.003),
            parts.run("long way", "left", "join", via=[(0.5, 1.0)]),
            parts.run("short way", "right", "join"),
            parts.run("lead", "join", "pump"),
        )
    )
    found = solution.pumps["pump"]
    assert found.beside
    agree(solution, "pump")
    for section in working.calculation(solution, "pump", system):
        for step in section.steps:
            check(step)
    for entry in found.beside:
        (flow,) = found_in(working.working(solution, "pump", entry.key, System.SI), "Q")
        assert flow.value == pytest.approx(abs(entry.flow))


def test_gas_that_is_shut_in_is_worked_out() -> None:
    solution = line(**CASES["sealed"], level="minimum")
    section = working.working(solution, "pump", "budget", System.SI)
    (gauge,) = (step for step in found_in(section, "p_g") if step.worked is not None)
    assert solution.pumps["pump"].surface == pytest.approx(solution.atmosphere + gauge.value)


def test_the_head_of_the_strokes_is_worked_out() -> None:
    section = entry_of(line(**CASES["reciprocating"]), "acceleration head")
    assert derived(section, "h_a", "Δp")


# Ranges


def flowing(rate: str, **parts: str) -> Solution:
    return line(pump=PLAIN["pump"].replace("100 L/min", rate), **parts)


def test_a_transitional_flow_says_that_its_friction_is_uncertain() -> None:
    for rate, said in (("100 L/min", False), ("260 L/min", True), ("600 L/min", False)):
        section = entry_of(flowing(rate), "straight 1")
        assert any("uncertain" in caution for caution in section.cautions) is said, rate


def test_a_rough_narrow_pipe_lies_outside_colebrook() -> None:
    rough = 'bore = "50 mm"\nbend_radius = "90 mm"\nroughness = "{} mm"'
    inside, outside = (
        entry_of(flowing("900 L/min", riser=rough.format(r)), "straight 1") for r in (2.4, 2.6)
    )
    assert inside.cautions == ()
    (said,) = outside.cautions
    where = "it holds for Re from 4000, and ε/D up to 0.05."
    assert said == f"Outside its range: the relative roughness is 0.052; {where}"


def test_a_cloth_outside_the_tests_says_so() -> None:
    cloth = (
        'kind = "strainer"\nbore = "50 mm"\n'
        'screen = {{ mesh = "{} per inch", wire = "{} mm", area = "0.06 m^2" }}'
    )
    fine, coarse = (entry_of(line(mouth=cloth.format(*size)), "screen") for size in ((100, 0.11), (20, 0.4)))
    assert fine.cautions == ()
    assert any("opening" in said and "550 μm" in said for said in coarse.cautions)


# One thing at a time


def test_any_budget_line_can_be_asked_for() -> None:
    solution = SOLUTIONS["carriage-at-altitude"]
    for key in working.lines(solution, "carriage"):
        section = working.working(solution, "carriage", key, System.US)
        assert section.steps
        assert all(step.line == key for step in section.steps)
    assert {"altitude", "weather", "maker's limit", "density correction", "speed correction", "floor",
            "inlet budget", "allowed vacuum"} <= set(working.lines(solution, "carriage"))  # fmt: skip


def test_another_key_or_pump_is_refused() -> None:
    solution = SOLUTIONS["carriage-at-altitude"]
    with pytest.raises(KeyError):
        working.working(solution, "carriage", "no such thing", System.US)
    with pytest.raises(KeyError):
        working.working(solution, "no such pump", "fluid", System.US)


def test_a_header_adds_the_flows_it_feeds() -> None:
    solution = SOLUTIONS["header-two-pumps"]
    key = next(e.key for e in solution.pumps["main"].entries if e.part == "header")
    (flow,) = found_in(working.working(solution, "main", key, System.SI), "Q")
    assert flow.worked is not None
    assert len(flow.worked.values) == 2


# As text and as HTML


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SOLUTIONS)
def test_the_text_keeps_its_width_and_holds_every_result(name: str, system: System) -> None:
    solution = SOLUTIONS[name]
    for pump in solution.pumps:
        text = working.as_text(solution, pump, system)
        assert max(map(len, text.splitlines())) <= 100
        flat = re.sub(r"\s+", " ", text)
        for section in working.calculation(solution, pump, system):
            assert section.title in flat
        assert "licensed engineer" in flat
        assert text.isprintable() or all(c.isprintable() or c == "\n" for c in text)


def test_the_text_shows_formula_numbers_result_and_source() -> None:
    text = working.as_text(SOLUTIONS["carriage-at-altitude"], "carriage", System.US)
    flat = re.sub(r"\s+", " ", text)
    assert "v = 4 · Q/(π · D²) = 4 · 31.410 gpm / (π · (2.067 in)²) = 3.003 ft/s" in flat.replace(
        "velocity ", ""
    )
    assert "in SI 4 · 0.0019817/(π · 0.052502²) = 0.9154 m/s" in flat
    assert "Hagen and Poiseuille; holds for Re up to 2000" in flat


def test_the_page_is_well_formed_and_says_the_same() -> None:
    from html.parser import HTMLParser

    class Tags(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.open: list[str] = []
            self.said: list[str] = []

        def handle_starttag(self, tag: str, attrs: object) -> None:
            if tag not in ("br", "meta"):
                self.open.append(tag)

        def handle_endtag(self, tag: str) -> None:
            assert self.open.pop() == tag

        def handle_data(self, data: str) -> None:
            self.said.append(data)

    solution = SOLUTIONS["header-two-pumps"]
    page = Tags()
    page.feed(working.as_html(solution, System.SI))
    assert page.open == []
    said = "".join(page.said)
    for pump in solution.pumps:
        headline = own_headline(judge(solution.layout), pump, System.SI)
        assert f"{pump}: {headline}." in said
        for section in working.pages(solution, pump, System.SI):
            assert section.title in said
            for row in section.rows:
                assert row.name in said
                assert row.result.replace(" ", "\N{NO-BREAK SPACE}") in said


@pytest.mark.parametrize("name", ["header-two-pumps", "carriage-at-altitude"])
def test_the_page_needs_nothing_beside_it_and_its_links_lead_somewhere(name: str) -> None:
    page = working.as_html(SOLUTIONS[name], System.US)
    assert not re.findall(r"<(?:script|img|link|iframe|object)|url\(|@import|src=", page)
    links, places = re.findall(r'href="([^"]*)"', page), re.findall(r'id="([^"]*)"', page)
    assert links == [f"#{place}" for place in places]
    assert len(set(places)) == len(places)


def test_a_page_of_several_pumps_tells_of_the_fluid_once() -> None:
    page = working.as_html(SOLUTIONS["header-two-pumps"], System.US)
    assert len(re.findall(r"<h3[^>]*>Fluid: ", page)) == 1
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", page) == ["Every pump", "main", "pilot", "Symbols"]
    single = working.as_html(SOLUTIONS["carriage-at-altitude"], System.US)
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", single) == ["carriage", "Symbols"]


def test_the_page_s_headline_is_that_of_the_worst_case() -> None:
    page = working.as_html(SOLUTIONS["carriage-at-altitude"], System.US)
    assert "<p>carriage: Over by 1.8 inHg in &quot;coldest start&quot;.</p>" in page
    text = working.as_text(SOLUTIONS["carriage-at-altitude"], "carriage", System.US)
    assert 'carriage: Over by 1.8 inHg in "coldest start".' in text


def test_what_is_typed_cannot_break_out_of_the_page() -> None:
    text = LINE.format(**PLAIN).replace('title = "Line"', 'title = "<script>x</script>"')
    text = text.replace("runs.riser", 'runs."<b riser"')
    page = working.as_html(solve.solve(file.parse(text, "odd").base), System.SI)
    assert "<script>" not in page
    assert html.escape("<b riser") in page


def test_symbols_are_set_with_subscripts() -> None:
    section = entry_of(line(), "straight 1")
    by_name = {step.name: step for step in section.steps}
    assert by_name["static pressure at the end"].formula(HTML).startswith("<i>p</i><sub>surface</sub> + ")
    assert by_name["Reynolds number"].formula(HTML) == "<i>v</i> · <i>D</i>/<i>ν</i>"


# In a terminal


def test_the_terminal_prints_the_working_of_every_pump(capsys: pytest.CaptureFixture[str]) -> None:
    path = next(path for path in LAYOUTS if path.stem == "header-two-pumps")
    assert main([str(path), "--working", "--units", "si"]) == 1
    printed = capsys.readouterr().out
    solution = SOLUTIONS["header-two-pumps"]
    for pump in solution.pumps:
        assert working.as_text(solution, pump, System.SI) in printed


def test_the_terminal_prints_the_working_of_one_alternative(capsys: pytest.CaptureFixture[str]) -> None:
    path = next(path for path in LAYOUTS if path.stem == "carriage-at-altitude")
    main([str(path), "--working", "--alternative", "Three-inch suction line"])
    assert "Alternative: Three-inch suction line" in capsys.readouterr().out


def test_working_and_json_do_not_go_together() -> None:
    with pytest.raises(SystemExit) as refused:
        main([str(LAYOUTS[0]), "--working", "--json"])
    assert refused.value.code == 2


def test_the_terminal_prints_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    path = next(path for path in LAYOUTS if path.stem == "carriage-at-altitude")
    alternative = "Three-inch suction line"
    main([str(path), "--html", "--units", "si", "--alternative", alternative])
    printed = capsys.readouterr().out
    solution = solve.solve(file.read(path).alternatives[alternative].layout)
    assert printed == working.as_html(solution, System.SI, alternative)
    assert f"<p>Alternative: {alternative}</p>" in printed


def test_the_page_of_a_refused_drawing_is_not_printed(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_text("format = 1\n", encoding="utf-8")
    assert main([str(wrong), "--html"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "wrong.toml" in printed.err


def test_a_page_is_of_one_drawing(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        main([*map(str, LAYOUTS[:2]), "--html"])
    assert refused.value.code == 2
    assert "--html: takes one drawing" in capsys.readouterr().err
