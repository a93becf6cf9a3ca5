"""Which stops and cautions an alternative ends, and what is still to be cleared, named in short."""

from __future__ import annotations

from collections.abc import Sequence

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity
from solver.findings.outlook import left_cold
from solver.report.choices import lacks, worst_places
from solver.report.choosing import JudgedDrawing, missing_cases

MOST_CAUTIONS = 2
"""Kinds of caution that are named of a line that may run."""

MOST_CLEARED = 4
"""Kinds of finding that are named as still to be cleared."""


MOST_OF_FIGURES = 11
"""Words of a caution that is named with its figures."""


def in_short(findings: Sequence[Finding], *, figures: bool = False) -> str:
    """Findings by their titles, each with its parts, the worst first.

    figures: whether short ones of cautions, which are said nowhere else, stand with their parts.
    """
    parts: dict[str, dict[str, None]] = {}
    for finding in findings:
        part, _, words = finding.text.partition(": ")
        short = part == finding.part and len(words.split()) <= MOST_OF_FIGURES
        own = finding.text if figures and short and finding.severity is Severity.CAUTION else finding.part
        parts.setdefault(str(finding.finding), {})[own] = None
    named = [f"{title} ({', '.join(filter(None, of))})" if any(of) else title for title, of in parts.items()]
    more = len(named) - MOST_CLEARED
    return ", ".join([*named[:MOST_CLEARED], *([f"{more} more under Findings"] if more > 0 else [])])


def uncleared(judgement: Judgement) -> list[Finding]:
    """The stops and cautions of a drawing, the worst first."""
    return [finding for finding in judgement.findings if finding.severity != Severity.NOTE]


def to_clear(chosen: JudgedDrawing) -> list[Finding]:
    """What is left of a drawing in which every margin is as wide as the criteria ask, the worst first."""
    worst = chosen.judgement.worst()
    lacking = any(lacks(place) for _, place in worst_places(chosen.judgement))
    return [] if lacking or worst is None else uncleared(chosen.judgement)


OF_THE_MARGIN = frozenset({*OVER_BUDGET, FindingId.THIN_MARGIN, FindingId.NO_WEATHER_ALLOWANCE})
"""Findings that a wider margin ends: the margin is said beside it."""


def cleared(before: Judgement, after: Judgement) -> str:
    """Which stops and cautions an alternative ends, a sentence; "" for none.

    A kind that is found elsewhere then, or in a case that is not judged then, is not ended, but for a stop
    that leaves a caution elsewhere; nor is any that cold fluid brings where the line may still be cold.
    """
    ended = ended_by(before, after)
    return f"It clears: {in_short(ended, figures=True)}." if ended and not left_cold(after) else ""


def ended_by(before: Judgement, after: Judgement) -> list[Finding]:
    """The stops and cautions that an alternative ends, the worst first."""
    unknown = {*missing_cases(before, after), *(case.name for case in after.not_judged)}
    then = uncleared(after)
    return [
        finding
        for finding in uncleared(before)
        if finding.finding not in OF_THE_MARGIN
        and not any(_is_kept(finding, each) for each in then)
        and not unknown.intersection(finding.cases)
    ]


def _is_kept(finding: Finding, then: Finding) -> bool:
    """Whether what is found then is of the kind of a finding: as grave, or at its part."""
    milder = finding.severity == Severity.STOP and then.severity != Severity.STOP
    return finding.finding == then.finding and not (milder and finding.part != then.part)


def cautions_in_short(judgement: Judgement) -> str:
    """The gravest cautions of a line that may run, but for a thin margin, which its word says."""
    every = [each for each in uncleared(judgement) if each.finding is not FindingId.THIN_MARGIN]
    kinds = list(dict.fromkeys(each.finding for each in every))
    named = in_short([each for each in every if each.finding in kinds[:MOST_CAUTIONS]])
    more = len(kinds) - MOST_CAUTIONS
    rest = f", {more} more under Findings" if more > 0 else ""
    return f"Caution: {named}{rest}" if named else ""
