"""An alternative stands as it does in the worst moment that is judged, not in its cases alone."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from solver.field.as_read import AsRead, as_read
from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, judge
from solver.findings.kinds import FindingId
from solver.layout import file
from solver.quantities.units import Kind, quantity
from solver.report.moments import low_day, moments_rank, over_on_low_day

LAYOUTS = Path(__file__).parents[3] / "layouts"
PRESS = file.read(LAYOUTS / "winter-press.toml")
OIL = judge(PRESS.alternatives["High-VI oil, ISO VG 32"].layout)
HEATED = judge(PRESS.alternatives["Tank heater to 10 °C"].layout)
YEAR = file.read(LAYOUTS / "strainer-over-a-year.toml")


def cold_by(judgement: Judgement, value: float | None) -> Judgement:
    """A judgement whose cold line leaves so much [Pa]; None where it was not calculated."""

    def other(finding: Finding) -> Finding:
        return replace(finding, value=value) if finding.finding is FindingId.LINE_LEFT_COLD else finding

    findings = {case: tuple(map(other, every)) for case, every in judgement.findings_by_case.items()}
    return replace(judgement, findings_by_case=findings)


def test_over_by_more_while_the_line_is_cold_comes_behind_and_what_was_not_calculated_last() -> None:
    little, much, unknown = (cold_by(HEATED, value) for value in (-100.0, -20_000.0, None))
    assert (
        moments_rank(OIL)
        > moments_rank(little)
        > moments_rank(HEATED)
        > moments_rank(much)
        > moments_rank(unknown)
    )
    assert moments_rank(judge(PRESS.base)) < moments_rank(little), (
        "over in a case counts as over at every start"
    )


def test_a_low_pressure_day_puts_one_behind_another_that_is_within_on_it_too() -> None:
    worst = OIL.worst()
    assert worst is not None
    assert over_on_low_day(OIL, worst)
    assert 0.0 <= worst.ledger.margin < low_day(OIL, worst.case)
    warm = quantity("-7 degC", Kind.TEMPERATURE)
    fluid = replace(OIL.layout.fluid, temperature=warm, coldest_start=None)
    warmer = judge(replace(OIL.layout, fluid=fluid))
    then = warmer.worst()
    assert then is not None
    assert not over_on_low_day(warmer, then)
    assert moments_rank(warmer) > moments_rank(OIL)


def test_screens_as_they_were_read_count_with_the_line_that_keeps_them() -> None:
    drawn, read = judge(YEAR.base), as_read(YEAR.base)
    assert read is not None
    assert read.is_surely_over
    assert moments_rank(drawn, read) < moments_rank(drawn)
    assert moments_rank(drawn, AsRead(read.screens, None, None)) < moments_rank(drawn), (
        "nor is it known to be within"
    )
