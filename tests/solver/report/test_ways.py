"""What is left of a drawing is named with the change that clears it."""

from __future__ import annotations

from dataclasses import replace

from solver.findings.kinds import FindingId
from solver.quantities.units import System
from solver.report.clearing import uncleared
from solver.report.recommendation import recommendation
from solver.report.ways import ways_to_clear
from tests.solver.report.test_not_drawn import both

US = System.US


def test_what_is_left_to_be_cleared_is_named_with_the_change_that_clears_it() -> None:
    before, after = both("header-two-pumps", "Three-inch header")
    left = uncleared(after.judgement)
    assert [(each.finding, each.part) for each in left] == [(FindingId.SUCTION_VELOCITY, "main leg")]
    (way,) = ways_to_clear(after, left)
    assert way == "To lay main leg in NPS 2-1/2 schedule 40 would clear it."
    texts = list(recommendation(before, after, US))
    assert texts[texts.index("Still to be cleared: suction velocity (main leg).") + 1] == way
    assert list(ways_to_clear(replace(after, advice={}), left)) == []
