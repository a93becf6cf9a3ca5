"""A drawing solved in every case: pumps that rest or start, cases that do not hold, what is shared."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from solver.layout.cases import AS_DRAWN, CaseError, cases_of, typed_out
from solver.layout.file import parse
from solver.layout.parts import Layout, Level
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.path import HeadKind
from solver.ledger.solve import solve
from solver.ledger.starting import rises
from solver.network import build
from solver.network.build import NetworkError, rebuilt
from solver.network.row_cache import RowCache
from solver.quantities.units import Quantity, System
from tests.drawings import ARRANGEMENTS, RISER, SHIPPED, ring_text, twins_text

HEADER = next(path for path in SHIPPED if path.name == "header-two-pumps.toml").read_text("utf-8")


def layout_with(cases: str, text: str = HEADER) -> Layout:
    return parse(text + "\n" + cases).base


def solved(cases: str, text: str = HEADER) -> dict[str, CaseSolution]:
    return dict(solve_cases(layout_with(cases, text)))


STARTS = '[cases.start]\npumps.main.flow_rise = "0.5 s"\n'
RESTS = "[cases.rest]\npumps.main.at_rest = true\n"


def test_a_case_is_the_drawing_typed_out() -> None:
    layout = layout_with(STARTS + RESTS + '[cases.cold]\nfluid.temperature = "5 degC"\n')
    found = solve_cases(layout)
    for name, case in cases_of(layout).items():
        alone = solve(typed_out(layout, name, case))
        assert found[name].solution is not None
        assert found[name].solution.pumps == alone.pumps
        assert found[name].solution.resting == alone.resting


def test_what_a_start_takes_is_that_of_each_row_with_the_flow_that_rises_in_it() -> None:
    """The pilot's own lead is not set in motion by the main pump, the header that both share is."""
    found = solved(STARTS)
    before, after = found[AS_DRAWN].solution, found["start"].solution
    assert before is not None
    assert after is not None
    network, ledgers = after.network, after.pumps
    rise = ledgers["main"].flow / 0.5
    on_way = {name: [e for e in ledgers[name].entries if e.key in network.index] for name in ledgers}
    for name in ("main", "pilot"):
        shared = [
            e for e in on_way[name] if e in on_way["main"] or e.part in {x.part for x in on_way["main"]}
        ]
        shared = [e for e in shared if name == "main" or e.flow > ledgers["pilot"].flow * 1.001]
        taken = sum(
            after.fluid.density * _length(network, e.key) / (math.pi / 4 * e.bore**2) * rise for e in shared
        )
        entry = next(e for e in ledgers[name].entries if e.kind == HeadKind.FLOW_RISE)
        assert entry.loss == pytest.approx(taken, rel=1e-9)
        assert ledgers[name].spent == pytest.approx(before.pumps[name].spent + entry.loss, rel=1e-12)
        assert sum(e.lift + e.loss for e in ledgers[name].entries) == pytest.approx(ledgers[name].spent)
    assert ledgers["main"].lowest <= before.pumps["main"].lowest


def _length(network: build.Network, key: str) -> float:
    row = network.rows[network.index[key]]
    return row.length or row.arc or sum(map(math.dist, row.path, row.path[1:]))


def test_the_longer_the_rise_the_less_it_takes() -> None:
    text = "".join(f'[cases."{t}"]\npumps.carriage.flow_rise = "{t} s"\n' for t in (0.1, 0.5, 5, 3600))
    found = solved(text, RISER)
    margins = [each.solution.pumps["carriage"].margin for each in found.values() if each.solution]
    assert sorted(margins[1:]) == margins[1:]
    assert margins[-1] == pytest.approx(margins[0], abs=1.0)


def test_a_ring_shares_the_rise_as_it_shares_the_flow() -> None:
    layout = layout_with("", ring_text())
    pumps = {name: replace(pump, flow_rise=_seconds(1.0)) for name, pump in layout.pumps.items()}
    solution = solve(replace(layout, pumps=pumps))
    forward = [flow >= 0 for flow in solution.flows]
    found = rises(solution.network, solution.flows, forward)
    assert found == pytest.approx(abs(solution.flows), rel=1e-6), "all pumps rise in one second"


def _seconds(si: float) -> Quantity:
    return Quantity(f"{si!r} s", si)


def test_a_pump_at_rest_takes_nothing_and_has_no_margin() -> None:
    found = solved(RESTS)["rest"].solution
    assert found is not None
    assert set(found.pumps) == {"pilot"}
    port = found.resting["main"]
    rows = [found.network.index[row.key] for row in found.network.rows if row.end == "pump:main"]
    assert all(found.flows[i] == 0 for i in rows)
    # What is lost on the way of the other pump, up to where the leg leaves it, is all that is missing.
    still = solve(layout_with(""))
    hydrostatic = found.pumps["pilot"].surface + found.fluid.density * 9.80665 * (port.level - port.z)
    assert port.inlet < hydrostatic
    assert still.pumps["main"].inlet < port.inlet


def test_a_lifted_port_at_rest_draws_air_unless_its_leg_has_a_check_valve() -> None:
    text = twins_text()
    names = list(parse(text).base.pumps)
    found = solved(f"[cases.rest]\npumps.{names[0]}.at_rest = true\n", text)["rest"].solution
    assert found is not None
    port = found.resting[names[0]]
    assert port.draws_air is (port.vacuum > 0 and not port.check_valve)


def test_where_no_pump_runs_nothing_is_judged() -> None:
    case = solved(RESTS + "pumps.pilot.at_rest = true\n")["rest"]
    assert not case.judged
    assert case.why(System.SI) == "no pump runs in it"


def test_a_case_that_cannot_be_solved_says_why_and_takes_no_other_with_it() -> None:
    found = solved(
        '[cases.dry]\nlevels.tank = "2 ft 9 in"\n[cases.arctic]\nfluid.temperature = "-70 degC"\n'
        '[cases.odd]\npumps.main.speeed = "900 rpm"\n[cases.fine]\nlevel = "normal"\n'
    )
    whys = {name: each.why(System.SI) for name, each in found.items()}
    assert "nozzle" in whys["dry"]
    assert "hold from" in whys["arctic"]
    assert "speeed" in whys["odd"]
    assert [name for name, each in found.items() if not each.judged] == ["dry", "arctic", "odd"]
    assert isinstance(found["odd"].error, CaseError)


def test_a_drawing_none_of_whose_cases_can_be_solved_is_refused() -> None:
    text = RISER.replace('minimum_level = "0.40 m"', 'minimum_level = "0.02 m"')
    with pytest.raises(NetworkError, match="strainer"):
        solve_cases(parse(text).base)
    both = solve_cases(parse(text + '[cases.full]\nlevel = "normal"\n').base)
    assert [each.judged for each in both.values() if each.name in (AS_DRAWN, "full")] == [False, True]


def test_the_level_asked_for_is_that_of_the_cases_that_name_none() -> None:
    layout = layout_with('[cases.full]\nlevel = "normal"\n[cases.own]\nlevels.tank = "1.1 m"\n')
    found = solve_cases(layout, Level.DRAWN_DOWN)
    levels = {name: each.solution.level for name, each in found.items() if each.solution}
    assert levels[AS_DRAWN] == Level.DRAWN_DOWN
    assert levels["full"] == Level.NORMAL
    assert found["own"].solution is not None
    assert found["own"].solution.pumps["main"].level == 1.1


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
    typed = typed_out(layout, "one", layout.cases["one"])
    cache = RowCache()
    one, other = rebuilt(build.build(layout, cache), typed, cache), build.build(typed)
    assert one.rows == other.rows
    for name, column in one.columns.items():
        assert np.array_equal(column, other.columns[name], equal_nan=True), name
