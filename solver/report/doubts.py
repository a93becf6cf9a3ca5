"""What is not sure of how an alternative stands where it stands worst, how that ranks it, why it may come
first all the same, and that another would where one was asked for."""

from __future__ import annotations

from collections.abc import Sequence

from solver.field.as_read import AsRead
from solver.findings.judgement import Judgement, PumpState
from solver.findings.outlook import left_cold, reservations, worst_moment
from solver.layout.parts import Layout
from solver.quantities.units import System
from solver.quantities.wording import ledger_pressure
from solver.report.choosing import JudgedDrawing, missing_pumps
from solver.report.like_conditions import under_those_of
from solver.report.moments import moments_rank

Rank = tuple[tuple[int, int, float, int], int, float]
"""How an alternative stands, to sort by: by the moments that are judged, its doubts, and its margin."""

LINE_COLD = "its line may still be cold"

LACKS = {
    PumpState.THIN: "has a thin margin",
    PumpState.UNFIT: "is not fit to run",
}
"""What one lacks that is within its limits, by how it stands."""


def doubts(judgement: Judgement) -> tuple[str, ...]:
    """What its worst case rests on that is not sure, each as a clause; () where nothing was judged."""
    worst = judgement.worst()
    if worst is None:
        return ()
    rests = tuple(f"it rests on this: {each}" for each in reservations(judgement, worst))
    return (*([LINE_COLD] if left_cold(judgement) else []), *rests)


def rank(judgement: Judgement, as_read: AsRead | None = None) -> Rank:
    """Sorts the worst first: by how it stands in every moment that is judged, by what of that is not sure,
    and by its margin.

    as_read: with its screens as read, where one is past what is allowed or due.
    """
    worst = judgement.worst()
    margin = 0.0 if worst is None else worst.ledger.margin
    return moments_rank(judgement, as_read), -len(doubts(judgement)), margin


def why_first(first: JudgedDrawing, others: Sequence[JudgedDrawing]) -> str:
    """Why an alternative comes before the best of others that hold without a doubt of its own, a sentence;
    "" where it has none, or none of them holds."""
    own = doubts(first.judgement)
    for other in sorted(others, key=_rank_of, reverse=True):
        worst, more = other.judgement.worst(), [each for each in own if each not in doubts(other.judgement)]
        if worst is None or not other.judgement.sound or not more or _rank_of(other) > _rank_of(first):
            continue
        lacks = LACKS.get(worst.pump_state, "is not judged in every case")
        return f"It comes first though {' and '.join(more)}, as {other.called} {lacks}."
    return ""


def _rank_of(drawn: JudgedDrawing) -> Rank:
    return rank(drawn.judgement, drawn.as_read)


def compared_as_asked(asked: JudgedDrawing, best: JudgedDrawing, drawn: Layout, system: System) -> str:
    """That an alternative is compared because it was asked for, a sentence, with the one that stands best,
    its least margin, and what speaks against that one.

    Where the two are judged under different conditions, with how that one stands under those of the one
    asked for; neither comes first where that is not known. drawn: the drawing itself.
    """
    alike = under_those_of(best.judgement, asked.judgement, drawn)
    if alike is None:
        return (
            f"Compared as asked for; {best.called} is not judged under the conditions of {asked.called}, "
            "so that neither is said to leave more."
        )
    worst, then = alike.worst(), asked.judgement.worst()
    own = alike is best.judgement
    if worst is None or then is None:
        return f"Compared as asked for; {best.called} {'stands better' if own else 'is not judged alike'}."
    under = "" if own else f"under the conditions of {asked.called}, "
    is_first = own or rank(alike) > rank(asked.judgement)
    left, other = (ledger_pressure(each.ledger.margin, system) for each in (worst, then))
    more = "leaves more" if worst.ledger.margin > then.ledger.margin else "stands better"
    against = [each for each in doubts(alike) if each not in doubts(asked.judgement)]
    against += [f"it takes away {each}" for each in missing_pumps(best, asked.judgement)]
    but = f", though {' and '.join(against)}" if against and is_first else ""
    why = f", but {reason}" if is_first and (reason := _why_not(asked.judgement, alike)) else ""
    less = "leaves less" if worst.ledger.margin < then.ledger.margin else "stands no better"
    stands = more if is_first else less
    margins = f"its least margin is {left}, here {other}{why}"
    return f"Compared as asked for; {under}{best.called} {stands}: {margins}{but}."


def _why_not(asked: Judgement, best: Judgement) -> str:
    """What puts an alternative behind another whatever its margin, as a clause; "" where nothing does."""
    return worst_moment(asked) or " and ".join(each for each in doubts(asked) if each not in doubts(best))
