"""Severities in their order, and findings that are told apart."""

from __future__ import annotations

from solver.findings.checks import CHECKS
from solver.findings.kinds import FindingId, Grade, Severity


def test_a_stop_ranks_before_a_caution_and_a_caution_before_a_note() -> None:
    assert [severity.rank for severity in (Severity.STOP, Severity.CAUTION, Severity.NOTE)] == [0, 1, 2]
    assert {Grade.STOP.value, Grade.CAUTION.value} == {Severity.STOP.value, Severity.CAUTION.value}


def test_no_two_findings_have_one_title() -> None:
    """Of two names with one text, Python makes one: the second would be the first."""
    assert len(FindingId.__members__) == len(list(FindingId))


def test_every_finding_has_its_check_and_none_has_two() -> None:
    checked = [row.finding for row in CHECKS]
    assert sorted(checked) == sorted(FindingId)
