"""What to try against a finding comes from changes of this drawing, in the numbers that were solved."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from solver.findings.checks import Finding
from solver.findings.judgement import judge
from solver.findings.kinds import FindingId
from solver.fixes import remedies
from solver.fixes.aims import AIMED
from solver.fixes.remedies import ANSWERED, NOTHING_ANSWERS, NOTHING_HELPS, with_remedies
from solver.layout.parts import Case
from solver.quantities.adding import as_shown
from solver.quantities.units import Kind, System, quantity, typeset, with_minus
from solver.quantities.wording import capitalised
from tests.solver.fixes.test_fixes import LAYOUTS, advice, each_pump
from tests.thorough import first


def findings(name: str) -> tuple[Finding, ...]:
    layout = LAYOUTS[name]
    return with_remedies(judge(layout)).findings


def found(name: str, which: FindingId) -> Finding:
    return next(each for each in findings(name) if each.finding is which)


ADVISED = dict.fromkeys(name for name, _ in each_pump()[::4])
"""Those that `test_fixes` has advice for in every run."""

NAMES = [*ADVISED, *(name for name in LAYOUTS if name not in ADVISED)]


@pytest.mark.parametrize("name", first(NAMES, len(ADVISED)))
def test_every_change_named_is_one_that_was_solved_with_the_figures_it_was_solved_to(name: str) -> None:
    layout = LAYOUTS[name]
    for finding in (each for each in findings(name) if each.finding in ANSWERED - AIMED):
        fixes = [
            f for pump in layout.pumps for f in (*advice(name, pump).fixes, *advice(name, pump).together)
        ]
        said = [f"{fix.text}: {fix.buys(System(layout.units))}" for fix in fixes]
        named = [text for text in said if text in finding.advice or capitalised(text) in finding.advice]
        assert len(named) == finding.advice.count(": buys"), finding.advice
        assert named or finding.advice == NOTHING_HELPS


@pytest.mark.parametrize("name", first(NAMES, len(ADVISED)))
def test_what_answers_a_figure_is_named_with_the_figure_it_was_solved_to(name: str) -> None:
    layout = LAYOUTS[name]
    for finding in (each for each in findings(name) if each.finding in AIMED):
        solved = [each for pump in layout.pumps for each in advice(name, pump).remedies]
        answers = [each for each in solved if each.finding is finding.finding and each.part == finding.part]
        named = [each for each in answers if each.sentence(System(layout.units)) in finding.advice]
        sentences = {each.sentence(System(layout.units)) for each in named}
        assert len(sentences) == finding.advice.count(": then "), finding.advice
        assert named or NOTHING_ANSWERS in finding.advice
        assert all(each.ends for each in named) or not any(each.ends for each in answers)


@pytest.mark.parametrize("name", first(NAMES, 1))
def test_the_little_that_is_solved_for_a_finding_is_what_the_whole_advice_has(name: str) -> None:
    judgement = judge(LAYOUTS[name])
    whole = {pump: advice(name, pump) for pump in LAYOUTS[name].pumps}
    assert (
        with_remedies(judgement).findings_by_case == with_remedies(judgement, advice=whole).findings_by_case
    )


def test_a_finding_about_something_else_keeps_its_own_advice() -> None:
    own = judge(LAYOUTS["carriage-at-altitude"]).worded.findings
    before = {each.key: each.advice for each in own if each.finding not in ANSWERED}
    after = {
        each.key: each.advice for each in findings("carriage-at-altitude") if each.finding not in ANSWERED
    }
    assert after == before


def test_hot_water_is_told_to_cool_and_in_head_of_npsh() -> None:
    hot = found("wash-water-npsh: Water at 80 °C", FindingId.OVER_THE_LIMIT)
    assert "Keep the fluid at" in hot.advice
    assert "Warm" not in hot.advice
    assert re.search(r"buys \d+\.\d+ m of NPSH, \d+\.\d+ m more than needed", hot.advice)


def test_a_screen_that_costs_too_much_is_answered_by_the_screen_or_the_fluid_alone() -> None:
    strainer = found("winter-press", FindingId.STRAINER_DROP)
    assert "screen" in strainer.advice or "Fill the tank with" in strainer.advice
    assert "Hold" not in strainer.advice


def test_the_case_that_decides_is_named_where_there_are_several() -> None:
    warm = found("carriage-at-altitude", FindingId.OVER_THE_LIMIT)
    assert warm.advice.startswith('Figures are for the case with the least margin, "coldest start".')


def test_a_finding_of_another_case_than_the_one_that_decides_says_which_figure_is_of_which() -> None:
    """Thin as drawn and over in the storm: what is needed is not what lacks in the case that is thin."""
    layout, storm = LAYOUTS["winter-press"], "low-pressure day"
    warm = replace(layout.fluid, temperature=quantity("1 degC", Kind.TEMPERATURE), coldest_start=None)
    case = Case({}, {("site", "weather_allowance"): quantity("6 kPa", Kind.VACUUM)})
    judgement = judge(replace(layout, fluid=warm, cases={storm: case}))
    by_case = with_remedies(judgement).findings_by_case
    thin = next(each for each in by_case["as drawn"] if each.finding is FindingId.THIN_MARGIN)
    over = next(each for each in by_case[storm] if each.finding is FindingId.OVER_THE_LIMIT)
    solution = judgement.cases[storm].solution
    assert solution is not None
    ledger = solution.pumps["press"]
    assert thin.advice.startswith(
        "The figures of the finding are those of the case as drawn; what a change buys, "
    )
    assert (
        f'"{storm}": there press is over by {typeset(-ledger.margin, Kind.VACUUM, System.US, 2)}'
        in thin.advice
    )
    assert over.advice.startswith(f'Figures are for the case with the least margin, "{storm}".')


def test_the_figures_follow_the_units_of_the_drawing() -> None:
    layout = replace(LAYOUTS["carriage-at-altitude"], units=System.SI)
    over = with_remedies(judge(layout)).findings[0]
    assert "kPa more than needed" in over.advice
    assert "inHg" not in over.advice


def test_a_case_that_is_not_judged_is_named() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    frozen = quantity("-60 degC", Kind.TEMPERATURE)
    layout = replace(layout, fluid=replace(layout.fluid, coldest_start=frozen))
    over = with_remedies(judge(layout)).findings[0]
    assert over.finding is FindingId.OVER_THE_LIMIT
    assert 'The case "coldest start" is not judged: ' in over.advice


def test_nothing_is_said_where_nothing_gains() -> None:
    over = found("carriage-at-altitude", FindingId.OVER_THE_LIMIT)
    nothing = replace(advice("carriage-at-altitude", "carriage"), fixes=(), together=())
    needed = nothing.overhead
    assert needed is not None
    assert remedies.remedy(over, nothing, System.US) == f"{NOTHING_HELPS} {needed.sentence(System.US)}"


def test_what_is_bought_is_the_margin_after_less_the_margin_before() -> None:
    each = advice("carriage-at-altitude", "carriage")
    for fix in each.fixes:
        was, now = (as_shown(margin, Kind.VACUUM, System.US) for margin in (each.now.margin, fix.margin))
        bought = f"{with_minus(str(now - was))} inHg"
        assert fix.buys(System.US).startswith(f"buys {bought}")


def test_a_change_that_brings_findings_says_all_of_them_behind_what_it_buys() -> None:
    every = [fix for name, pump in each_pump()[::4] for fix in advice(name, pump).fixes]
    fix = replace(every[0], worsens=("riser: the line doubles back", "pilot is over"), only="")
    said = remedies._sentence(fix, System.SI)
    assert said.endswith(". But then: riser: the line doubles back; pilot is over.")
    assert fix.buys(System.SI) in said
    clean = replace(fix, worsens=(), gain=0.1 * fix.gain)
    assert remedies.named_first([fix, clean])[0] is clean, "what brings nothing comes first"
