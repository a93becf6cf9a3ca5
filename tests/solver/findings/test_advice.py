"""What to try in figures: each figure put back into the drawing and solved."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from solver.findings.advice import IN_FIGURES
from solver.findings.checks import CHECKS, Finding
from solver.findings.judgement import judge
from solver.findings.kinds import FindingId, Severity
from solver.fixes.remedies import ANSWERED, NOTHING_ANSWERS, NOTHING_HELPS, with_remedies
from solver.layout import file
from solver.layout.parts import Layout, Limit
from solver.ledger.sentences import sentence_of_pump
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.properties.atmosphere import standard_pressure
from solver.quantities.adding import as_shown
from solver.quantities.units import Kind, Quantity, System, quantity, typeset
from tests.drawings import RISER
from tests.solver.checking import lifted, with_fluid, with_pump
from tests.solver.fixes.test_random import drawn

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))

NONE = {FindingId.JOINT_BELOW_ATMOSPHERE, FindingId.PUMP_AT_REST, FindingId.NOT_JUDGED_FOR_AIR}
"""Findings of which there may be nothing to say: one joint, a pump at rest that draws no air, no pressure."""


def advice(layout: Layout, which: FindingId) -> str:
    return next(each.advice for each in judge(layout).worded.findings if each.finding is which)


def wordless(finding: Finding) -> bool:
    """Whether a finding has advice that neither was solved nor says a figure or a break of its drawing."""
    if not finding.advice:
        return finding.finding not in NONE
    solved = any(
        each in finding.advice for each in (NOTHING_ANSWERS, NOTHING_HELPS, "then the finding is gone")
    )
    return finding.unsolved or not (solved or re.search(r"\d|\(breaks\)", finding.advice))


def test_every_check_has_its_advice_solved_or_in_figures() -> None:
    for row in CHECKS:
        if row.solved:
            assert row.finding in ANSWERED
            assert row.finding not in IN_FIGURES
        else:
            assert row.finding not in ANSWERED


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_every_finding_of_every_layout_says_nothing_or_speaks_in_figures_of_its_own(path: Path) -> None:
    drawing = file.read(path)
    for layout in (drawing.base, *(each.layout for each in drawing.alternatives.values())):
        judgement = judge(layout)
        assert judgement.worded_findings == judgement.worded.findings
        for finding in judgement.worded_findings:
            assert finding.unsolved is (finding.finding in ANSWERED)
            assert finding.unsolved or not wordless(finding), finding


def check(numbers: range) -> None:
    """Look at all advice on these random drawings."""
    for number in numbers:
        try:
            findings = with_remedies(judge(drawn(number))).findings
        except NetworkError:
            continue
        assert [each for each in findings if wordless(each)] == [], number


@pytest.mark.thorough
def test_every_finding_of_random_drawings_says_nothing_or_speaks_in_figures_of_its_own() -> None:
    check(range(1))


@pytest.mark.random
@pytest.mark.parametrize("first", range(0, 300, 50))
def test_every_finding_of_three_hundred_random_drawings_speaks_so(first: int) -> None:
    check(range(first, first + 50))


def test_the_limit_that_is_named_leaves_no_margin() -> None:
    """A maker's figure for this fluid, at the pressure that is named: the margin is zero to a pascal."""
    layout = with_pump(lifted(), limit_assumed=True)
    ledger = solve(layout).pumps["pump"]
    named = ledger.floor + ledger.margin
    shown, more = (
        typeset(named, Kind.ABSOLUTE, System.SI, 2),
        typeset(ledger.margin, Kind.VACUUM, System.SI, 2),
    )
    assert advice(layout, FindingId.LIMIT_ASSUMED) == (
        "Type the limit from the pump maker's sheet: pump is within as long as that is no more than "
        f"{shown} at the port here, {more} more than is counted."
    )
    asked = Limit("pressure", ((None, Quantity("typed", named)),))
    exact = with_pump(layout, limit=asked, limit_assumed=False, rated_fluid=layout.fluid.name)
    assert solve(exact).pumps["pump"].margin == pytest.approx(0.0, abs=1.0)
    tight = with_pump(layout, limit=Limit("pressure", ((None, quantity("100 kPa", Kind.PRESSURE)),)))
    assert " only if that is no more than " in advice(tight, FindingId.LIMIT_ASSUMED)
    assert " less than is counted." in advice(tight, FindingId.LIMIT_ASSUMED)


def test_a_limit_in_head_is_named_in_head() -> None:
    layout = with_pump(
        lifted(), limit=Limit("npsh", ((None, quantity("3 m", Kind.HEAD)),)), limit_assumed=True
    )
    available = typeset(solve(layout).pumps["pump"].npsh_available, Kind.HEAD, System.SI, 2)
    assert f"no more than {available} of NPSH at the port here" in advice(layout, FindingId.LIMIT_ASSUMED)


def test_a_low_pressure_day_takes_from_the_margin_what_is_named() -> None:
    layout = lifted()
    low = quantity("2.5 kPa", Kind.PRESSURE)
    left = solve(replace(layout, site=replace(layout.site, weather_allowance=low))).pumps["pump"].margin
    words = f"with 2.50 kPa less air pump has {typeset(left, Kind.VACUUM, System.SI, 2)} left here"
    assert words in advice(layout, FindingId.NO_WEATHER_ALLOWANCE)
    short = with_pump(layout, limit=Limit("pressure", ((None, quantity("95 kPa", Kind.PRESSURE)),)))
    assert "pump is over by " in advice(short, FindingId.NO_WEATHER_ALLOWANCE)


def test_what_a_low_pressure_day_leaves_of_npsh_is_said_in_the_words_of_every_verdict() -> None:
    layout = with_pump(lifted(), limit=Limit("npsh", ((None, quantity("11.2 m", Kind.HEAD)),)))
    low = quantity("2.5 kPa", Kind.PRESSURE)
    there = solve(replace(layout, site=replace(layout.site, weather_allowance=low))).pumps["pump"]
    assert f"air {sentence_of_pump(there, System.SI)} here" in advice(layout, FindingId.NO_WEATHER_ALLOWANCE)
    assert " short of the 11.20 m of NPSH required here" in advice(layout, FindingId.NO_WEATHER_ALLOWANCE)


def test_the_case_is_named_where_there_are_several() -> None:
    text = RISER.replace("format = 1", "format = 2") + '\n[cases.cool]\nfluid.temperature = "30 degC"\n'
    words = advice(file.parse(text).base, FindingId.NO_WEATHER_ALLOWANCE)
    assert ' left in the case "cool"; ' in words


def test_the_standard_barometer_gives_the_margin_that_is_named() -> None:
    layout = lifted()
    sea, high = quantity("101.325 kPa", Kind.PRESSURE), quantity("1500 m", Kind.ELEVATION)
    wrong = replace(layout, site=replace(layout.site, barometer=sea, elevation=high))
    there = Quantity("typed", standard_pressure(1500.0))
    left = solve(replace(wrong, site=replace(wrong.site, barometer=there))).pumps["pump"].margin
    words = advice(wrong, FindingId.BAROMETER_AGAINST_ELEVATION)
    assert left < 0
    assert f"there pump is over by {typeset(-left, Kind.VACUUM, System.SI, 2)} here." in words


def test_a_fluid_without_figures_is_told_what_they_would_have_to_be() -> None:
    own = {
        "name": "own",
        "viscosity": quantity("46 cSt", Kind.VISCOSITY),
        "density": quantity("870 kg/m^3", Kind.DENSITY),
    }
    layout = with_fluid(lifted(), **own)
    lowest = solve(layout).pumps["pump"].lowest
    assert f"over {typeset(lowest, Kind.ABSOLUTE, System.SI, 2)}, the lowest" in advice(
        layout, FindingId.NOT_JUDGED_FOR_BOILING
    )
    air = advice(layout, FindingId.NOT_JUDGED_FOR_AIR)
    usual = with_fluid(layout, dissolved_air=0.09)
    share = 0.09 * (101325.0 / lowest - 1) * solve(layout).fluid.temperature / 273.15
    assert f"up to {share:.1%}".replace("%", " %") in air
    assert solve(usual).pumps["pump"].lowest == pytest.approx(lowest)


def test_the_joints_of_the_largest_vacuum_are_named_in_order() -> None:
    words = advice(file.read(LAYOUTS[1]).base, FindingId.JOINT_BELOW_ATMOSPHERE)
    order = [float(each) for each in re.findall(r"\((\d+\.\d\d) inHg\)", words)]
    assert len(order) == 3
    assert order == sorted(order, reverse=True)


def test_a_pump_at_rest_that_draws_no_air_is_told_nothing() -> None:
    header = file.read(next(each for each in LAYOUTS if each.stem == "header-two-pumps")).base
    resting = [each for each in judge(header).worded.findings if each.finding is FindingId.PUMP_AT_REST]
    assert resting
    assert {(each.severity, each.advice) for each in resting} == {(Severity.NOTE, "")}


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_what_a_low_pressure_day_leaves_is_what_is_shown_less_what_is_shown(
    path: Path, units: System
) -> None:
    """Of 0.86 inHg left 0.74 were taken, and 0.13 said to be left."""
    drawn = file.read(path)
    for layout in (drawn.base, *(each.layout for each in drawn.alternatives.values())):
        judgement = judge(replace(layout, units=units))
        for each in judgement.worded.findings:
            if each.finding is not FindingId.NO_WEATHER_ALLOWANCE:
                continue
            told = re.search(r"with ([\d.]+) \S+ less air (.+?) (?:has|is over by) ([\d.]+) ", each.advice)
            if told is None or "NPSH" in each.advice:
                continue
            margins = {
                as_shown(held.solution.pumps[told[2]].margin, Kind.VACUUM, units)
                for held in judgement.cases.values()
                if held.solution is not None and told[2] in held.solution.pumps
            }
            sign = 1 if " has " in told[0] else -1
            assert sign * Decimal(told[3]) + Decimal(told[1]) in margins
