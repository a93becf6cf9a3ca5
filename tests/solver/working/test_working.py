"""Every figure with its formula: what is printed is evaluated and must give what the solver computed."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.__main__ import main
from solver.layout import file
from solver.ledger import solve
from solver.quantities.units import System
from solver.working import working
from tests.solver.working.lines import (
    CASES,
    LAYOUTS,
    LINE,
    PLAIN,
    SOLUTIONS,
    SYSTEMS,
    agree,
    check,
    line,
)
from tests.thorough import first, one_in

# What is printed gives what is printed


@pytest.mark.parametrize("system", first(SYSTEMS))
@pytest.mark.parametrize("name", one_in(15, SOLUTIONS))
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


@pytest.mark.parametrize("name", SOLUTIONS)
def test_the_steps_of_every_drawing_arrive_at_the_ledger_s_figures(name: str) -> None:
    for pump in SOLUTIONS[name].pumps:
        agree(SOLUTIONS[name], pump)


# Cases that the drawings do not hold


@pytest.mark.parametrize("system", first(SYSTEMS))
@pytest.mark.parametrize("case", one_in(10, CASES))
def test_other_lines_and_fluids_can_be_followed_too(case: str, system: System) -> None:
    solution = line(**CASES[case])
    agree(solution, "pump")
    for section in working.calculation(solution, "pump", system):
        for step in section.steps:
            check(step)


@pytest.mark.thorough
@given(
    flow=st.floats(2, 900),
    bore=st.floats(20, 90),
    temperature=st.floats(0, 80),
    system=st.sampled_from(SYSTEMS),
    angle=st.floats(0.3, 2.5),
)
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


# Ranges


# One thing at a time


def test_another_key_or_pump_is_refused() -> None:
    solution = SOLUTIONS["carriage-at-altitude"]
    with pytest.raises(KeyError):
        working.working(solution, "carriage", "no such thing", System.US)
    with pytest.raises(KeyError):
        working.working(solution, "no such pump", "fluid", System.US)


# As text and as HTML


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


@pytest.mark.thorough
def test_the_terminal_prints_every_step_on_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    path = next(path for path in LAYOUTS if path.stem == "carriage-at-altitude")
    alternative = "Three-inch suction line"
    main([str(path), "--html", "--units", "si", "--alternative", alternative, "--case", "as drawn"])
    printed = capsys.readouterr().out
    solution = solve.solve(file.read(path).alternatives[alternative].layout)
    alone = working.as_html(solution, System.SI, alternative)
    assert printed.endswith(alone[alone.index("<h2>Working</h2>") :])
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
    assert "--html: makes a page of one drawing, not of 2" in capsys.readouterr().err


def test_a_result_says_what_the_ledger_shows_where_its_own_value_is_rounded_otherwise() -> None:
    """Two figures a digit apart, one in the ledger and one in its working, must not be left to the reader."""
    solved = SOLUTIONS["header-two-pumps"]
    outcome = working.working(solved, "pilot", working.OUTCOME, System.SI)
    sources = {step.result_symbol.symbol: step.source for step in outcome.steps}
    assert sources["V_g"].endswith(f"14.99 kPa {working.IN_LEDGER}")
    assert working.IN_LEDGER not in sources["margin"]
    there_is = working.working(solved, "main", working.BUDGET, System.US)
    sources = {step.result_symbol.symbol: step.source for step in there_is.steps}
    for symbol in ("budget", "V_a"):
        assert sources[symbol].endswith(f"3.35 inHg {working.IN_LEDGER}")
