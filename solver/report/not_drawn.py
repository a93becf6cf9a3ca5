"""A change that was solved and stands in no file, and would do as well as an alternative."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from solver.findings.judgement import Judgement, judge
from solver.fixes.fixes import Fix
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import uncapitalised
from solver.report.choices import is_over, level_of, makes, worst_places
from solver.report.choosing import JudgedDrawing
from solver.report.clearing import in_short, uncleared
from solver.report.doubts import doubts, rank
from solver.report.like_conditions import harder_conditions
from solver.report.moments import is_within_in_all

DOES_MORE = "A change that is not drawn would do more"
"""How the sentence on a change begins that leaves more than an alternative, and less to be cleared."""


def would_do_too(before: JudgedDrawing, after: JudgedDrawing, system: System) -> str:
    """The best change solved for the drawing as it stands that does for every pump, a sentence; "" for none,
    or where the alternative stands better and leaves neither a finding nor a doubt.

    None is set beside an alternative that is judged under harder conditions than the drawing.
    It does where it is within in every moment that is judged, or stands as well as the alternative. One that
    the alternative makes among others is said to be drawn.
    """
    if harder_conditions(before.judgement.layout, after.judgement.layout, system):
        return ""
    places = worst_places(before.judgement)
    advised = (before.advice[pump] for pump, place in places if is_over(place) and pump in before.advice)
    offered = [fix for each in advised for fix in each.fixes if fix.cures and not (fix.only or fix.worsens)]
    judged = [(fix, then) for fix in offered if (then := _with(fix, before.judgement)) is not None]
    fix, then = max(judged, key=lambda each: _order(each[1]), default=(None, None))
    if fix is None or then is None:
        return ""
    leaves = bool(uncleared(after.judgement) or doubts(after.judgement))
    if rank(then) < rank(after.judgement) and not (leaves and is_within_in_all(then)):
        return ""
    left = in_short(uncleared(then)) or "nothing else to be cleared"
    parts = (
        fix.buys(system),
        f"leaves {left}",
        f"needs {fix.cost}",
        *(each for each in doubts(then) if each not in doubts(after.judgement)),
    )
    whose = f" for {fix.pump}" if len(places) > 1 else ""
    if makes(after.judgement.layout, fix, before.judgement.layout):
        begins = f"Of what {after.called} changes this alone would do"
    else:
        begins = (
            DOES_MORE if _leaves_more(then, after.judgement) else "A change that is not drawn would also do"
        )
    return f"{begins}: {fix.text}{whose} ({'; '.join(parts)})."


def of_what_is_drawn(texts: Iterable[str], after: JudgedDrawing, beside: Sequence[str]) -> Iterator[str]:
    """Sentences on an alternative; the order to build it is of what is drawn, where a change does more.

    beside: what would do in the place of the alternative.
    """
    more = any(text.startswith(DOES_MORE) for text in beside)
    for text in texts:
        yield f"Of what is drawn, {uncapitalised(text)}" if more and text.startswith(after.order) else text


def _leaves_more(then: Judgement, after: Judgement) -> bool:
    """Whether a change leaves more than an alternative that is not within in every moment or has less margin,
    and less to be cleared."""
    left, least = then.worst(), after.worst()
    wider = left is not None and least is not None and left.ledger.margin > least.ledger.margin
    more = wider or not is_within_in_all(after)
    return more and rank(then) > rank(after) and len(uncleared(then)) < len(uncleared(after))


def _order(judgement: Judgement) -> tuple[int, object]:
    """What leaves least to be cleared last, of those that are within in every moment."""
    return (-len(uncleared(judgement)) if is_within_in_all(judgement) else -1_000), rank(judgement)


def _with(fix: Fix, before: Judgement) -> Judgement | None:
    """The drawing with a change made; None where some pump is over then, or less can be judged."""
    try:
        then = judge(fix.layout, level_of(before))
    except (NetworkError, FluidError):
        return None
    return then if then.sound and len(then.not_judged) <= len(before.not_judged) else None
