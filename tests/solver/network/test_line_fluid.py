"""A line that is colder or hotter than its tank: what each row holds, and what balances it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs, sweep
from solver.findings.pump import thickest, thinnest_viscosity
from solver.formulas.flow import GRAVITY
from solver.layout import file
from solver.layout.file import LayoutErrors, parse
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, Solution, solve
from solver.network import line_fluid
from solver.properties import fluid
from solver.quantities.units import Kind, System, quantity
from solver.working.working import calculation
from tests.drawings import RISER, SHIPPED, twins_text

HEADER = next(path for path in SHIPPED if path.stem == "header-two-pumps").read_text("utf-8")


def drawn(text: str = RISER, line: str | None = None, tank: str | None = None) -> Layout:
    layout = parse(text).base
    choice = replace(layout.fluid, coldest_start=None)
    if line is not None:
        choice = replace(choice, line_temperature=quantity(line, Kind.TEMPERATURE))
    if tank is not None:
        choice = replace(choice, temperature=quantity(tank, Kind.TEMPERATURE))
    return replace(layout, fluid=choice, cases={})


def ledger(layout: Layout) -> PumpLedger:
    return next(iter(solve(layout).pumps.values()))


def losses(solution: Solution) -> dict[str, float]:
    entries = next(iter(solution.pumps.values())).entries
    return {entry.key: entry.loss for entry in entries}


def test_a_line_as_warm_as_its_tank_is_one_with_it_to_the_last_digit() -> None:
    alone, same = solve(drawn()), solve(drawn(line=drawn().fluid.temperature.text))
    assert same.fluid is same.tank_fluid
    assert same.pumps == alone.pumps


@pytest.mark.parametrize("text", [RISER, HEADER, twins_text()], ids=["riser", "header", "twins"])
def test_a_colder_line_takes_what_the_whole_drawing_would_take_as_cold(text: str) -> None:
    cold = solve(drawn(text, line="-2 degC", tank="40 degC"))
    assert losses(cold) == pytest.approx(losses(solve(drawn(text, tank="-2 degC"))), rel=1e-9)


def test_a_hotter_line_has_the_tanks_thicker_fluid_at_its_intake_alone() -> None:
    hot = losses(solve(drawn(line="60 degC", tank="10 degC")))
    intake = {key for key in hot if key.startswith("strainer/")}
    as_hot, as_cold = losses(solve(drawn(tank="60 degC"))), losses(solve(drawn(tank="10 degC")))
    assert intake
    for key, loss in hot.items():
        assert loss == pytest.approx((as_cold if key in intake else as_hot)[key], rel=1e-9), key


@pytest.mark.parametrize("text", [RISER, HEADER], ids=["over the level", "flooded"])
@pytest.mark.parametrize("line", ["-5 degC", "70 degC"])
def test_the_fluid_weighs_in_the_tank_and_in_the_line_by_its_own_density(text: str, line: str) -> None:
    """Two columns on a manometer: down to the intake that of the tank, up to the port that of the line."""
    solution = solve(drawn(text, line=line, tank="30 degC"))
    shown = next(iter(solution.pumps.values()))
    intake = next(iter(solution.layout.intakes.values())).at[1].si
    down = solution.tank_fluid.density * GRAVITY * (shown.fluid_level - intake)
    up = solution.fluid.density * GRAVITY * (shown.port_z - intake)
    lost = sum(entry.loss for entry in shown.entries)
    assert shown.inlet == pytest.approx(shown.surface + down - up - lost, rel=1e-12)
    assert sum(entry.lift for entry in shown.entries) == pytest.approx(up - down, rel=1e-9)
    assert (shown.line_level < shown.fluid_level) == (solution.fluid.density > solution.tank_fluid.density)


def test_of_several_intakes_the_level_is_that_of_the_one_that_leaves_least() -> None:
    layout = drawn(line="-5 degC", tank="30 degC")
    (name, low), *_ = layout.intakes.items()
    high = replace(low, name="high", at=(low.at[0], quantity("0.3 m", Kind.ELEVATION)))
    both = replace(layout, intakes={name: low, "high": high})
    tank = fluid.state(layout.fluid)
    for temperature, decides in (("-5 degC", low), ("80 degC", high)):
        choice = replace(layout.fluid, line_temperature=quantity(temperature, Kind.TEMPERATURE))
        line = fluid.line_state(choice, tank)
        z, level = line_fluid.deciding_intake_and_level(both, low.reservoir, 0.5, tank, line)
        assert z == decides.at[1].si
        alone = replace(layout, intakes={decides.name: decides})
        assert level == line_fluid.balanced_level(alone, low.reservoir, 0.5, tank, line)


def test_floor_and_vapour_pressure_are_those_of_the_line() -> None:
    water = drawn().fluid
    water = replace(water, name="Water", line_temperature=quantity("60 degC", Kind.TEMPERATURE),
                    temperature=quantity("20 degC", Kind.TEMPERATURE))  # fmt: skip
    hot = ledger(replace(drawn(), fluid=water))
    as_hot = ledger(
        replace(drawn(), fluid=replace(water, line_temperature=None, temperature=water.line_temperature))
    )
    assert hot.vapor_pressure == as_hot.vapor_pressure > 19_000
    assert hot.floor == pytest.approx(as_hot.floor, rel=1e-12)


def test_the_pump_gets_both_fluids_in_turn() -> None:
    for line in ("0 degC", "60 degC"):
        solution = solve(drawn(line=line, tank="20 degC"))
        both = (solution.fluid.viscosity, solution.tank_fluid.viscosity)
        assert thickest(solution).viscosity == max(both)
        assert thinnest_viscosity(solution) == min(both)


@pytest.mark.parametrize("text", [RISER, HEADER, twins_text()], ids=["riser", "header", "twins"])
def test_its_working_arrives_at_what_was_charged(text: str) -> None:
    solution = solve(drawn(text, line="70 degC", tank="20 degC"))
    for name, shown in solution.pumps.items():
        workings = {each.key: each for each in calculation(solution, name, System.SI)}
        for entry in shown.entries:
            results = {step.name: step.value for step in workings[entry.key].steps}
            if entry.lift:
                assert results["lift"] == pytest.approx(entry.lift, rel=1e-12)
            if entry.k is not None and entry.kind != "flooded head":  # which has no pressure of its own
                pressure = results.get("static pressure at the end", results.get("static pressure"))
                assert pressure == pytest.approx(entry.pressure, rel=1e-12), entry.key


def test_questions_and_sweeps_keep_how_the_line_stands_to_the_tank() -> None:
    layout = drawn(line="0 degC", tank="30 degC")
    state = fluid.state(layout.fluid)
    ratio = fluid.line_state(layout.fluid, state).viscosity / state.viscosity
    thick = inputs.viscosity(layout, ("",), 2.0 * state.viscosity, Level.MINIMUM)
    solution = solve(thick)
    assert solution.fluid.viscosity / solution.tank_fluid.viscosity == pytest.approx(ratio)
    for name, values in (
        ("temperature", [268.0, 272.0, 280.0, 310.0]),
        ("viscosity", [20e-6, 46e-6, 900e-6]),
    ):
        swept = sweep.solve(layout, {name: values})
        assert isinstance(swept, sweep.Sweep)
        for value, margin in zip(values, swept.pumps["carriage"].margin, strict=True):
            assert margin == pytest.approx(ledger(sweep.variant(layout, {name: value})).margin, rel=1e-9)


def test_one_viscosity_says_nothing_of_another_temperature() -> None:
    text = RISER.replace(
        "[reservoirs.", 'viscosity = "46 cSt"\nline_temperature = "5 degC"\n\n[reservoirs.', 1
    )
    with pytest.raises(LayoutErrors, match=r"line_temperature.*one viscosity"):
        parse(text)


def test_a_case_has_it_and_a_file_keeps_it() -> None:
    text = RISER.replace("format = 1", "format = 2") + '[cases.morning]\nfluid.line_temperature = "5 degC"\n'
    drawing = parse(text)
    assert drawing.base.cases["morning"].figures["fluid", "line_temperature"].text == "5 degC"
    whole = replace(drawing.base, fluid=drawn(line="5 degC").fluid, cases={})
    assert parse(file.write(file.Drawing(whole))).base.fluid == whole.fluid
