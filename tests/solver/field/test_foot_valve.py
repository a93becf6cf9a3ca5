"""A foot valve in the place of an intake is judged in the worst case, and never without its screen unsaid."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from itertools import product

from solver.field.foot_valve import with_foot_valve
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from solver.layout.kinds import IntakeKind
from solver.layout.parts import SHORT_CASE
from solver.ledger.cases import solve_cases
from solver.quantities.adding import as_shown, gained
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
    takes = gained(with_it[worst].margin, before.pumps["press"].margin, Kind.VACUUM, System.SI)
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


SAID = re.compile(
    r"takes ([\d.]+) \S+ more: (over by|within, margin) ([\d.]+) .*?, in the worst case, (.*?)\."
)


def test_what_one_takes_is_what_the_margin_said_beside_it_has_less_than_the_ledger_shows() -> None:
    told = 0
    for drawing in map(file.read, SHIPPED):
        judgement = judge(drawing.base)
        drawn = judgement.cases[AS_DRAWN].solution
        assert drawn is not None
        for pump, system in product(drawn.pumps, System):
            held = with_foot_valve(judgement, drawn, pump, system)
            if (said := SAID.search(held.words)) is None:
                continue  # it has one, is held to a head, or was not judged
            takes, how, left, case = said.groups()
            before = judgement.worst(pump, [case.strip('"')])
            assert before is not None
            margin = Decimal(left) * (-1 if how == "over by" else 1)
            assert as_shown(before.ledger.margin, Kind.VACUUM, system) - margin == Decimal(takes)
            told += 1
    assert told > len(SHIPPED)
