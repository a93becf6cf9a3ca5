"""How a line stands in every moment that is judged: in its cases, with its line not as warm as its tank, with
its screens as they were read, and on a low-pressure day."""

from __future__ import annotations

from collections.abc import Iterator

from solver.field.as_read import AsRead
from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.findings.kinds import FindingId
from solver.findings.outlook import at_another_temperature

LOW_DAY = "over on a low-pressure day, none allowed for"


def low_day(judgement: Judgement, case: str) -> float:
    """What a low-pressure day takes that a case makes no allowance for [Pa]; 0 where it makes one."""
    findings = judgement.findings_by_case[case]
    lacking = (f for f in findings if f.finding is FindingId.NO_WEATHER_ALLOWANCE)
    return max((finding.threshold or 0.0 for finding in lacking), default=0.0)


def over_on_low_day(judgement: Judgement, place: PumpInCase) -> bool:
    """Whether a pump that is within is over on a low-pressure day, for which its case allows nothing."""
    return 0.0 <= place.ledger.margin < low_day(judgement, place.case)


def moments_rank(judgement: Judgement, as_read: AsRead | None = None) -> tuple[int, int, float, int]:
    """Sorts the worst first: by the moments that are not judged, by whether it is over or not fit to run in
    any moment, by how much it is over, at every start or on a low-pressure day alone, and by its worst case.

    as_read: with its screens as read, where one is past what is allowed or due.
    """
    worst, unknown = judgement.worst(), len(judgement.not_judged) + _not_calculated(judgement, as_read)
    if worst is None:
        return -unknown - 1, 0, 0.0, 0
    by, state = max(_over(judgement, as_read), default=0.0), worst.pump_state
    if by > 0.0:
        state = min(state, PumpState.OVER, key=lambda each: each.rank)
    else:
        by = max(_over_on_low_days(judgement), default=0.0)
    return -unknown, min(state.rank, PumpState.THIN.rank), -by, state.rank


def is_within_in_all(judgement: Judgement) -> bool:
    """Whether every pump is within and fit to run in every moment, and every moment is judged."""
    return moments_rank(judgement)[:3] >= (0, PumpState.THIN.rank, 0.0)


def _not_calculated(judgement: Judgement, as_read: AsRead | None) -> int:
    moments = sum(1 for each in at_another_temperature(judgement) if each.value is None)
    return moments + (as_read is not None and as_read.far is None)


def _over(judgement: Judgement, as_read: AsRead | None) -> Iterator[float]:
    """By how much a pump is over, at every start or for longer [Pa]."""
    margins = [place.ledger.margin for place in judgement.pumps_in_cases]
    margins += [each.value for each in at_another_temperature(judgement) if each.value is not None]
    margins += [as_read.far.ledger.margin] if as_read is not None and as_read.far is not None else []
    return (-margin for margin in margins if margin < 0.0)


def _over_on_low_days(judgement: Judgement) -> Iterator[float]:
    """By how much a pump is over on a low-pressure day that is within on any other [Pa]."""
    for place in judgement.pumps_in_cases:
        if over_on_low_day(judgement, place):
            yield low_day(judgement, place.case) - place.ledger.margin
