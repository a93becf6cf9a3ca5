"""A foot valve in the place of an intake is judged in the worst case, and never without its screen unsaid."""

from __future__ import annotations

from dataclasses import replace

from solver.field.foot_valve import with_foot_valve
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.kinds import IntakeKind
from solver.layout.parts import SHORT_CASE
from solver.ledger.cases import solve_cases
from solver.quantities.units import Kind, System, quantity
from solver.quantities.wording import ledger_pressure
from tests.drawings import SHIPPED

PRESS = file.read(next(path for path in SHIPPED if path.stem == "winter-press")).base


def test_one_that_is_within_as_drawn_alone_does_not_fit() -> None:
    degrees = {"temperature": "45 degC", "coldest_start": "0 degC"}
    typed = {key: quantity(text, Kind.TEMPERATURE) for key, text in degrees.items()}
    layout = replace(PRESS, fluid=replace(PRESS.fluid, **typed), cases={})
    judgement = judge(layout)
    drawn = judgement.cases["as drawn"].solution
    assert drawn is not None
    held = with_foot_valve(judgement, drawn, "press", System.SI)
    valve = replace(layout.intakes["strainer"], kind=IntakeKind.FOOT_VALVE)
    cases = solve_cases(replace(layout, intakes={"strainer": valve}))
    with_it = {name: case.solution.pumps["press"] for name, case in cases.items() if case.solution}
    worst = min(with_it, key=lambda name: with_it[name].margin)
    before = judgement.cases[worst].solution
    assert before is not None
    takes = with_it[worst].vacuum - before.pumps["press"].vacuum
    assert with_it["as drawn"].sound
    assert not held.fits
    assert f"takes {ledger_pressure(takes, System.SI)} more: " in held.words
    assert ledger_pressure(-with_it[worst].margin, System.SI) in held.words
    assert f'in the worst case, "{worst}".' in held.words
    assert "Without that screen press runs unstrained: then only with a return-line filter" in held.words


def test_one_fits_where_every_case_is_within_and_judged() -> None:
    warm = replace(PRESS.fluid, temperature=quantity("45 degC", Kind.TEMPERATURE), coldest_start=None)
    layout = replace(PRESS, fluid=warm, cases={})
    judgement = judge(layout)
    solution = judgement.cases["as drawn"].solution
    assert solution is not None
    held = with_foot_valve(judgement, solution, "press", System.SI)
    assert held.fits
    assert "within, margin" in held.words

    frozen = replace(warm, coldest_start=quantity("-60 degC", Kind.TEMPERATURE))
    lost = judge(replace(layout, fluid=frozen))
    held = with_foot_valve(lost, solution, "press", System.SI)
    assert not held.fits
    assert f'Not judged with it: "{SHORT_CASE}".' in held.words
