"""An alternative that rests on a doubt stands behind one that holds without, or the page says why not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from solver.findings.judgement import Judgement, PumpState, judge
from solver.findings.kinds import FindingId, Severity
from solver.findings.outlook import fails_for_a_moment
from solver.layout import file
from solver.quantities.units import Kind, quantity
from solver.report.choosing import JudgedDrawing
from solver.report.doubts import LINE_COLD, doubts, rank, why_first

PRESS = file.read(Path(__file__).parents[3] / "layouts" / "winter-press.toml")
HEATED = PRESS.alternatives["Tank heater to 10 °C"].layout


def warmed(temperature: str) -> Judgement:
    """The press with its tank warmed so far, its line too."""
    warm = quantity(temperature, Kind.TEMPERATURE)
    fluid = replace(HEATED.fluid, temperature=warm, coldest_start=warm)
    judgement = judge(replace(HEATED, fluid=fluid))
    findings = {
        case: tuple(each for each in every if each.finding is not FindingId.LINE_LEFT_COLD)
        for case, every in judgement.findings_by_case.items()
    }
    return replace(judgement, findings_by_case=findings)


def test_one_whose_line_may_be_cold_stands_behind_one_that_holds_without_with_less_margin() -> None:
    cold, whole = judge(HEATED), warmed("9 degC")
    worst, less = cold.worst(), whole.worst()
    assert worst is not None
    assert less is not None
    assert (worst.pump_state, less.pump_state) == (PumpState.UNFIT, PumpState.WITHIN)
    assert less.ledger.margin < worst.ledger.margin
    assert set(doubts(cold)) - set(doubts(whole)) == {LINE_COLD}
    assert rank(whole) > rank(cold)
    assert rank(warmed("10 degC")) > rank(whole), "without a doubt between them the margin decides"


def thicker_limit(judgement: Judgement) -> Judgement:
    """A line that may be cold at the start, with little left then, but not over."""
    findings = {
        case: tuple(
            replace(each, severity=Severity.CAUTION, value=100.0)
            if each.finding is FindingId.LINE_LEFT_COLD
            else each
            for each in every
        )
        for case, every in judgement.findings_by_case.items()
    }
    return replace(judgement, findings_by_case=findings)


def test_one_that_is_over_while_its_line_is_cold_comes_behind_one_that_is_within() -> None:
    """The heater was recommended that is over by 5.8 inHg at every cold start, before an oil that is not."""
    oil, heater = judge(PRESS.alternatives["High-VI oil, ISO VG 32"].layout), judge(HEATED)
    assert fails_for_a_moment(heater)
    assert rank(oil) > rank(heater)


def test_what_has_more_left_is_not_put_behind_a_doubt_and_the_reason_is_said() -> None:
    warm, oil = thicker_limit(judge(HEATED)), judge(PRESS.alternatives["High-VI oil, ISO VG 32"].layout)
    heater, thin = JudgedDrawing("Heater", warm, {}), JudgedDrawing("Oil", oil, {})
    assert rank(warm) > rank(oil)
    why = f'It comes first though {LINE_COLD}, as "Oil" has a thin margin.'
    assert why_first(heater, [thin]) == why
    assert why_first(thin, [heater]) == ""
    assert why_first(heater, [JudgedDrawing("Over", judge(PRESS.base), {})]) == ""
    assert why_first(heater, [JudgedDrawing("Warm", warmed("9 degC"), {})]) == "", "that one comes first"


def test_an_estimate_is_a_doubt_and_what_was_not_judged_weighs_most() -> None:
    oil = judge(PRESS.alternatives["High-VI oil, ISO VG 32"].layout)
    assert doubts(oil) == ("it rests on this: limit estimated",)
    assert rank(replace(oil, cases={})) < rank(oil)
