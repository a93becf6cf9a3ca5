"""A drawing solved in every case: pumps that rest or start, cases that do not hold, what is shared."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from solver.geometry.moving import move_part
from solver.geometry.outline import GeometryError
from solver.layout.cases import AS_DRAWN, CaseError, cases_of, layout_in_case
from solver.layout.file import parse, read
from solver.layout.parts import Level
from solver.ledger.cases import solve_cases
from solver.ledger.solve import solve
from solver.network import build, losses
from solver.network.build import NetworkError, rebuilt
from solver.network.row_cache import RowCache
from solver.quantities.units import Kind, System, quantity
from tests import drawings
from tests.drawings import ARRANGEMENTS, RISER
from tests.solver.ledger.in_cases import layout_with, solved
from tests.thorough import first

STARTS = '[cases.start]\npumps.main.flow_rise = "0.5 s"\n'
RESTS = "[cases.rest]\npumps.main.at_rest = true\n"


def test_a_case_is_the_drawing_typed_out() -> None:
    layout = layout_with(STARTS + RESTS + '[cases.cold]\nfluid.temperature = "5 degC"\n')
    solved_cases = solve_cases(layout)
    for name, case in cases_of(layout).items():
        alone = solve(layout_in_case(layout, name, case))
        assert solved_cases[name].solution is not None
        assert solved_cases[name].solution.pumps == alone.pumps
        assert solved_cases[name].solution.resting == alone.resting


def test_a_case_with_the_very_figures_of_the_drawing_shares_its_ledgers() -> None:
    warm = '[cases.again]\nfluid.temperature = "60 degF"\n[cases.warm]\nfluid.temperature = "70 degF"\n'
    layout = layout_with(warm)
    fluid = replace(layout.fluid, temperature=quantity("60 degF", Kind.TEMPERATURE))
    cases = solve_cases(replace(layout, fluid=fluid))
    drawn, again = cases[AS_DRAWN].solution, cases["again"].solution
    assert drawn is not None
    assert again is not None
    assert again.pumps is drawn.pumps
    assert again.layout == again.network.layout != drawn.layout
    assert cases["warm"].solution is not None
    assert cases["warm"].solution.pumps != drawn.pumps


@pytest.mark.parametrize("header", [False, True])
def test_cases_of_one_fluid_and_flow_work_their_drops_out_once(
    header: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = drawings.steps_text(4).replace("format = 1", "format = 2")
    text += '[cases.high]\nsite.elevation = "900 m"\n[cases.full]\nlevel = "normal"\n'
    layout = parse(text + '[cases.cold]\nfluid.temperature = "25 degC"\n').base
    if header:
        layout = replace(
            read(next(each for each in drawings.SHIPPED if each.stem == "header-two-pumps")).base,
            cases=layout.cases,
        )
        layout = replace(layout, fluid=replace(layout.fluid, coldest_start=None))
    asked, drop = [], losses.drop
    monkeypatch.setattr(losses, "drop", lambda *given, **named: asked.append(given) or drop(*given, **named))
    cases = solve_cases(layout)
    assert len(asked) == 2
    for name, case in cases_of(layout).items():
        solution, alone = cases[name].solution, solve(layout_in_case(layout, name, case))
        assert solution is not None
        assert solution.pumps == alone.pumps
        assert solution.network.layout == alone.layout


def test_where_no_pump_runs_nothing_is_judged() -> None:
    case = solved(RESTS + "pumps.pilot.at_rest = true\n")["rest"]
    assert not case.judged
    assert case.why(System.SI) == "no pump runs in it"


def test_a_case_that_cannot_be_solved_says_why_and_takes_no_other_with_it() -> None:
    cases_solved = solved(
        '[cases.dry]\nlevels.tank = "2 ft 9 in"\n[cases.arctic]\nfluid.temperature = "-70 degC"\n'
        '[cases.odd]\npumps.main.speeed = "900 rpm"\n[cases.fine]\nlevel = "normal"\n'
    )
    whys = {name: each.why(System.SI) for name, each in cases_solved.items()}
    assert "nozzle" in whys["dry"]
    assert "hold from" in whys["arctic"]
    assert "speeed" in whys["odd"]
    assert [name for name, each in cases_solved.items() if not each.judged] == ["dry", "arctic", "odd"]
    assert isinstance(cases_solved["odd"].error, CaseError)


def test_a_drawing_none_of_whose_cases_can_be_solved_is_refused() -> None:
    text = RISER.replace('minimum_level = "0.40 m"', 'minimum_level = "0.02 m"')
    with pytest.raises(NetworkError, match="strainer"):
        solve_cases(parse(text).base)
    both = solve_cases(parse(text + '[cases.full]\nlevel = "normal"\n').base)
    assert [each.judged for each in both.values() if each.name in (AS_DRAWN, "full")] == [False, True]


def test_the_level_asked_for_is_that_of_the_cases_that_name_none() -> None:
    layout = layout_with('[cases.full]\nlevel = "normal"\n[cases.own]\nlevels.tank = "1.1 m"\n')
    solved_cases = solve_cases(layout, Level.DRAWN_DOWN)
    levels = {name: each.solution.level for name, each in solved_cases.items() if each.solution}
    assert levels[AS_DRAWN] == Level.DRAWN_DOWN
    assert levels["full"] == Level.NORMAL
    assert solved_cases["own"].solution is not None
    assert solved_cases["own"].solution.pumps["main"].fluid_level == 1.1


@pytest.mark.parametrize(
    "case",
    [
        'intakes.strainer.screen.blocked = "60 %"',
        'fluid.temperature = "5 degC"',
        'fittings.shut.state = "open"',
        'fittings.throttle.opening.cv = "40 gpm"',
    ],
)
def test_the_network_of_a_case_is_the_one_built_from_it(case: str) -> None:
    text = ARRANGEMENTS if "fittings" in case else RISER
    layout = layout_with(f"[cases.one]\n{case}\n", text)
    typed = layout_in_case(layout, "one", layout.cases["one"])
    cache = RowCache()
    one, other = rebuilt(build.build(layout, cache), typed, cache), build.build(typed)
    assert one.rows == other.rows
    for name, column in one.columns.items():
        assert np.array_equal(column, other.columns[name], equal_nan=True), name


@pytest.mark.parametrize("moves", first((12, 500)))
def test_a_part_that_is_moved_gives_the_very_ledgers_of_a_drawing_solved_anew(moves: int) -> None:
    """What is kept from move to move is of places, bores and fluids that did not change."""
    warm, thick, slow = (
        f"[cases.{name}]\n{figure}\n"
        for name, figure in (
            ("warm", 'fluid.temperature = "60 degC"'),
            ("thick", 'fluid.temperature = "5 degC"'),
            ("slow", 'pumps.pump.flow = "20 L/min"'),
        )
    )
    text = drawings.steps_text(20).replace("format = 1", "format = 2")
    layout, cache, chance = parse(text + warm + thick + slow).base, RowCache(), Random(7)
    movable = [*layout.pumps, *layout.fittings, *layout.intakes]
    moved = 0
    for _ in range(moves):
        name = chance.choice(movable)
        x, z = (value.si for value in layout.part(name).at)
        try:
            layout = move_part(layout, name, x + chance.uniform(-0.02, 0.02), z + chance.uniform(-0.02, 0.02))
            fresh = solve_cases(layout)
        except (GeometryError, NetworkError):
            continue
        for case, kept in solve_cases(layout, cache=cache).items():
            assert kept.solution is not None
            assert repr(kept.solution.pumps) == repr(fresh[case].solution.pumps)
            assert kept.solution.drops.tolist() == fresh[case].solution.drops.tolist()
        moved += 1
    assert moved > moves / 3
