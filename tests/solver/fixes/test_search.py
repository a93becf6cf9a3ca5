"""The size that is offered is the first that is ample, and never one that costs another pump its margin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.checks import Finding, check
from solver.findings.kinds import FindingId, Severity
from solver.fixes import relaid
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.fixes import advise
from solver.fixes.judging import Judged, Other
from solver.fixes.search import Line, best_size, harms_another, margin, rounded, size_where, spare, worsened
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Quantity, System
from tests.drawings import SHIPPED
from tests.solver.checking import lifted, with_pump
from tests.solver.fixes.examples import judged, riser


def higher(layout: Layout, height: float) -> Layout:
    (pump,) = layout.pumps.values()
    x, y = pump.at
    return replace(
        layout, pumps={pump.name: replace(pump, at=(x, replace(y, si=height, text=f"{height} m")))}
    )


def lowering(now: float, most: float, step: float = 0.05) -> Candidate:
    return Candidate(FixKind.PLACE, "pump", higher, _order, "", now=now, most=most, step=step, usual=most)


def _order(height: float, system: System) -> str:
    return f"to {height}"


def line(layout: Layout | None = None) -> Line:
    drawn = layout if layout is not None else riser()
    return Line(drawn, judged(drawn), Level.MINIMUM)


def test_where_a_measure_reaches_zero_is_looked_for_once() -> None:
    (pump,) = riser().pumps.values()
    high = line(higher(riser(), pump.at[1].si + 9.0))
    assert high.now.margin < 0
    down = lowering(pump.at[1].si + 9.0, pump.at[1].si)
    size = size_where(down, high, margin)
    assert size is not None
    assert abs(high.after(higher(high.start, size)).margin) < 30.0
    assert high.zeros == {(down, "margin"): size}
    ample = size_where(down, high, spare)
    assert ample is not None
    assert ample < size


def test_a_drawing_is_judged_once_however_often_a_change_leads_to_it() -> None:
    (pump,) = riser().pumps.values()
    drawn, height = line(), pump.at[1].si
    once = drawn.after_size(lowering(height, 0.0), height - 0.1)
    assert drawn.after_size(lowering(height, 0.2), height - 0.1) is once
    assert drawn.after_size(lowering(height, 0.0), height - 0.2) is not once
    assert replace(once.layout, pumps={}) == replace(drawn.start, pumps={})
    assert drawn.after_size(replace(lowering(0.0, 0.0), edit=lambda layout, _: layout), 0.0) is drawn.now


def test_a_size_is_rounded_towards_more_and_never_past_the_end() -> None:
    assert abs(rounded(lowering(2.0, 0.0), 1.03) - 1.0) < 1e-9
    assert rounded(lowering(2.0, 1.02), 1.03) == 1.02
    assert abs(rounded(lowering(0.0, 2.0), 1.03) - 1.05) < 1e-9


def test_the_usual_size_is_offered_where_nothing_is_lacking() -> None:
    calm = line()
    (pump,) = calm.start.pumps.values()
    assert calm.now.spare >= 0
    best = best_size(lowering(pump.at[1].si, pump.at[1].si - 0.3), calm)
    assert best is not None
    assert best[0] == pump.at[1].si - 0.3


def test_another_pump_that_is_over_afterwards_is_harm_and_one_that_was_over_before_is_none() -> None:
    calm = line()

    def with_other(*, within: bool) -> Judged:
        return replace(calm.now, others={"other": Other(within, 1000.0)})

    was_within = replace(calm, now=with_other(within=True))
    assert harms_another(was_within, with_other(within=False))
    assert not harms_another(was_within, with_other(within=True))
    assert not harms_another(replace(calm, now=with_other(within=False)), with_other(within=False))


def test_a_margin_that_was_missing_and_is_thin_is_no_harm() -> None:
    calm = line()
    worst = check(solve(calm.start))[0]

    def margin_of(finding: FindingId, severity: Severity) -> Judged:
        each = replace(worst, finding=finding, severity=severity, part="other", text="what is left")
        judged_so = replace(calm.now)
        judged_so.__dict__["findings"] = (each,)
        return judged_so

    over = margin_of(FindingId.OVER_THE_LIMIT, Severity.STOP)
    thin = margin_of(FindingId.THIN_MARGIN, Severity.CAUTION)
    assert list(worsened(replace(calm, now=over), thin)) == []
    assert list(worsened(replace(calm, now=thin), over)) == ["what is left"]


def test_what_another_pump_loses_is_the_difference_of_its_margins_as_shown() -> None:
    calm = line()
    now, then = (replace(calm.now, others={"other": Other(True, left)}) for left in (9_006.0, 4_004.0))
    assert list(worsened(replace(calm, now=now), then)) == ["other loses 5.01 kPa"], "9.01 and 4.00"


def with_findings(judgement: Judged, *findings: Finding) -> Judged:
    """A judgement in which these are the findings."""
    changed = replace(judgement)
    changed.__dict__["findings"] = findings
    return changed


def test_what_stays_as_it_was_on_a_part_of_another_name_is_not_worse() -> None:
    layout = riser()
    run = replace(layout.runs["riser"], name="lead")
    renamed = line(replace(layout, runs={"lead": run}))
    calm = line()
    fast = replace(
        check(solve(layout))[0],
        finding=FindingId.SUCTION_VELOCITY,
        severity=Severity.CAUTION,
        part="riser",
        value=1.30,
        threshold=1.20,
        text="riser: fast",
    )
    before = replace(calm, now=with_findings(calm.now, fast))
    as_fast = replace(fast, part="lead", text="lead: fast")
    assert list(worsened(before, with_findings(renamed.now, as_fast))) == []
    faster = replace(as_fast, value=1.45)
    assert list(worsened(before, with_findings(renamed.now, faster))) == ["lead: fast"]
    stopped = replace(as_fast, severity=Severity.STOP)
    assert list(worsened(before, with_findings(renamed.now, stopped))) == ["lead: fast"]
    assert list(worsened(calm, with_findings(renamed.now, as_fast))) == ["lead: fast"]


def test_a_finding_further_past_its_threshold_on_the_same_part_is_worse() -> None:
    calm = line()
    deep = replace(
        check(solve(calm.start))[0],
        finding=FindingId.SUBMERGENCE,
        severity=Severity.CAUTION,
        part="strainer",
        value=0.20,
        threshold=0.25,
        text="shallow",
    )
    before = replace(calm, now=with_findings(calm.now, deep))
    assert list(worsened(before, with_findings(calm.now, deep))) == []
    assert list(worsened(before, with_findings(calm.now, replace(deep, value=0.22)))) == []
    assert list(worsened(before, with_findings(calm.now, replace(deep, value=0.15)))) == ["shallow"]


@pytest.mark.thorough
def test_the_velocity_of_another_pump_s_line_is_not_worse_for_showing_behind_a_faster_one() -> None:
    """The header was the fastest of both lines; with one pump gone its own leg is, at what it was."""
    header = file.read(next(each for each in SHIPPED if each.stem == "header-two-pumps")).base
    fixes = advise(header, "pilot").fixes
    apart = next(each for each in fixes if "on a line of its own" in each.text)
    left = [each.text for each in check(solve(apart.layout)) if each.finding is FindingId.SUCTION_VELOCITY]
    assert left
    assert not [each for each in apart.worsens if "ft/s" in each]


def test_a_change_that_floods_a_pump_without_a_valve_says_so_and_one_that_draws_a_valve_does_not() -> None:
    layout = with_pump(lifted(), flow=Quantity("0.002 m^3/s", 0.002))
    before = Line(layout, judged(layout), Level.MINIMUM)
    lower = before.after(higher(layout, 0.5))
    assert [each for each in worsened(before, lower) if "no isolating valve" in each] == [
        "pump: fluid up to 0.075 m over the lower edge of its port, and no isolating valve between it "
        "and tank"
    ]
    (beside,) = (each for each in relaid.through_wall(layout, before.now.ledger) if each.part == "pump")
    assert list(worsened(before, before.after(beside.edit(layout, 1.0)))) == []
