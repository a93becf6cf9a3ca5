"""What the cases of a drawing come to: how each pump stands, and what is found in any of them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.findings.criteria import held_in
from solver.findings.judgement import PumpState, judge, pump_state, stops
from solver.findings.kinds import FindingId, Severity
from solver.layout import file
from solver.layout.parts import Case
from solver.quantities.units import Quantity
from tests import drawings
from tests.solver.checking import cold, ledger, lifted, only, over_the_wall, with_case, with_floor

LAYOUTS = Path(__file__).resolve().parents[3] / "layouts"


def test_the_column_that_breaks_is_worse_than_one_that_is_over():
    over = ledger(with_floor(lifted(), 99e3))
    held = judge(lifted()).criteria
    assert pump_state(over, (), held) == PumpState.OVER
    broken = replace(over, lowest=0.0, vapor_pressure=10.0)
    assert pump_state(broken, (), held) == PumpState.BREAKS
    assert PumpState.BREAKS.rank < PumpState.OVER.rank < PumpState.UNFIT.rank < PumpState.THIN.rank


def test_a_stop_on_the_way_keeps_a_pump_from_running_that_is_within_and_one_elsewhere_does_not():
    layout = over_the_wall()
    spoilt = replace(only(lifted(z=1.2), "no weather allowance"), severity=Severity.STOP)
    own = ledger(layout)
    assert own.within
    assert stops(own, replace(spoilt, part="crossing"))
    assert not stops(own, replace(spoilt, part="a run of another line"))
    assert not stops(own, replace(spoilt, part="crossing", severity=Severity.CAUTION))


@pytest.mark.parametrize("left", [1690.0, 1710.0])
def test_few_pascals_are_thin_whatever_their_share(left):
    """Under 1.7 kPa (common practice, no source), where no share of the budget is asked for."""
    layout = with_floor(lifted(), ledger(lifted()).inlet - left)
    criteria = replace(judge(layout).criteria, thin_margin=0.0)
    standing = judge(layout, criteria=criteria).worst().pump_state
    assert (standing == PumpState.THIN) is (left < 1700.0)


def test_a_weather_allowance_of_one_case_is_not_lacking_in_it():
    """What a low-pressure day takes is asked for in the cases that allow for none, which are named first."""
    storm = Case({}, {("site", "weather_allowance"): Quantity("3 kPa", 3000.0)})
    slower = Case({}, {("pumps", "pump", "flow"): Quantity("1 L/s", 1e-3)})
    layout = with_floor(lifted(flow=0.003), 85e3)
    lacking = "no allowance is made for a low-pressure day"

    def text_with(cases: dict[str, Case]) -> str:
        drawn = judge(replace(layout, cases=cases))
        return next(each.text for each in drawn.findings if lacking in each.text)

    assert text_with({}).startswith(lacking)
    assert text_with({"slower": slower}).startswith(lacking)
    assert text_with({"storm": storm}).startswith(f"case as drawn: {lacking}")
    assert text_with({"slower": slower, "storm": storm}).startswith(f'in every case but "storm": {lacking}')


@pytest.mark.parametrize("name", ["winter-press", "header-two-pumps"])
def test_what_is_asked_for_without_the_words_of_findings_is_what_they_say(name):
    storm = Case({}, {("site", "weather_allowance"): Quantity("3 kPa", 3000.0)})
    base = file.read(LAYOUTS / f"{name}.toml").base
    judgement = judge(replace(base, cases={**base.cases, "storm": storm}))
    findings = judgement.findings
    assert findings
    assert judgement.severities == tuple(each.severity for each in findings)
    for severity in Severity:
        texts = tuple(each.text for each in findings if each.severity == severity)
        assert judgement.texts_of(severity) == texts
    kinds = {each.finding for each in findings}
    for kind in kinds:
        parts = tuple(dict.fromkeys(each.part for each in findings if each.finding == kind))
        assert judgement.parts_with(kind) == parts
        assert not set(judgement.texts_of(findings[0].severity, kinds))


def test_a_finding_is_said_once_with_the_cases_that_it_holds_in():
    layout = with_case(
        cold(with_floor(lifted(), 99e3)), "noon", fluid__temperature=Quantity("50 degC", 323.15)
    )
    judgement = judge(layout)
    over = [each for each in judgement.findings if each.finding == "over the allowed vacuum"]
    assert len(over) == 1
    assert over[0].cases == ("as drawn", "coldest start", "noon")
    worst = judgement.worst()
    assert over[0].value == worst.ledger.vacuum
    assert worst.case == "coldest start"


def test_a_case_in_which_a_finding_is_less_grave_is_not_named_as_one_of_the_graver() -> None:
    judgement = judge(
        file.read(next(each for each in drawings.SHIPPED if each.stem == "header-two-pumps")).base
    )
    fast = next(each for each in judgement.findings if each.finding is FindingId.SUCTION_VELOCITY)
    by_case = {
        name: each.severity
        for name, findings in judgement.findings_by_case.items()
        for each in findings
        if (each.finding, each.part, each.key) == (fast.finding, fast.part, fast.key)
    }
    assert by_case == {
        "as drawn": Severity.STOP,
        "coldest start": Severity.STOP,
        "main alone": Severity.CAUTION,
    }
    assert fast.milder == ((Severity.CAUTION, "main alone"),)
    said = held_in(fast, len(judgement.cases))
    assert said.startswith('Cases: as drawn, "coldest start"; a caution in "main alone"; the figures are')
