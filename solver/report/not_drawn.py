"""A change that was solved and stands in no file, and would do as well as an alternative."""

from __future__ import annotations

from collections.abc import Sequence

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, judge
from solver.fixes.fixes import Fix
from solver.ledger.sentences import margin_text
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.report.as_built import as_built
from solver.report.asked_in_notes import forbidden_in
from solver.report.choices import is_over, level_of, makes, worst_places
from solver.report.choosing import JudgedDrawing, other_conditions
from solver.report.clearing import ended_by, in_short, uncleared
from solver.report.doubts import doubts, rank
from solver.report.like_conditions import harder_conditions
from solver.report.moments import is_within_in_all

DOES_MORE, DOES_TOO = "What would do more is not drawn yet", "What would also do is not drawn yet"
"""How the sentence on a change begins that leaves more than an alternative, and no more to be cleared; and
that on any other that does."""

WHOLE_LINE = "the whole line"

MATTERS = 0.1
"""Share of the budget by which a margin is wider that is worth another drawing; ours."""


def would_do_too(before: JudgedDrawing, after: JudgedDrawing, system: System) -> str:
    """The best change solved for the drawing as it stands that does for every pump, a sentence; "" for none,
    or where the alternative leaves neither a finding nor a doubt and about as much margin.

    None is set beside an alternative that is judged under harder conditions than the drawing.
    It does where it is within in every moment that is judged, or stands as well as the alternative with all
    that is ordered besides. One that the alternative makes among others is said to be drawn.
    """
    if harder_conditions(before.judgement.layout, after.judgement.layout, system):
        return ""
    known = offered(before, after.judgement, system)
    fix, then = max(known, key=lambda each: _order(each[1]), default=(None, None))
    if fix is None or then is None:
        return ""
    built = as_built(after) or after.judgement
    drawn = makes(after.judgement.layout, fix, before.judgement.layout)
    if not (_does_as_well(then, built) if drawn else _leaves_less(then, built) or _is_wider(then, built)):
        return ""
    worst, left = then.worst(), in_short(uncleared(then))
    parts = (
        *([] if worst is None else [margin_text(worst.ledger, system)]),
        *([f"leaves {left}"] if left else []),
        *(each for each in doubts(then) if each not in doubts(built)),
    )
    text = f"{order_for(fix, before.judgement)} ({'; '.join(parts)})"
    if drawn:
        return f"Of what {after.called} changes this alone would do: {text}."
    begins = DOES_MORE if _leaves_more(then, built) else DOES_TOO
    banned = forbidden_in(before.judgement.layout.notes, fix.text)
    forbids = "; the note may forbid it too" if banned else ""
    return f"{begins}: {text}. Draw it before ordering{forbids}."


def offered(before: JudgedDrawing, after: Judgement, system: System) -> list[tuple[Fix, Judgement]]:
    """Changes of the drawing as it stands that do for every pump, and how it is then.

    Of a line that is over what is enough; of one that may run so what ends all that the alternative ends,
    unless that is for other conditions.
    """
    places = worst_places(before.judgement)
    over = any(is_over(place) for _, place in places)
    unlike = not over and other_conditions(before.judgement, after, system)
    ended = () if unlike else ended_by(before.judgement, after)
    advised = [
        before.advice[pump]
        for pump, place in places
        if pump in before.advice and (is_over(place) or (ended and not over))
    ]
    every = [fix for each in advised for fix in each.fixes if not (fix.only or fix.worsens)]
    own = [each for each in every if each.cures and (over or _ends_all(each, ended))]
    return [(fix, then) for fix in own if (then := _with(fix, before.judgement)) is not None]


def _ends_all(fix: Fix, ended: Sequence[Finding]) -> bool:
    return all((each.finding, each.part) in fix.ends for each in ended)


def order_for(fix: Fix, judgement: Judgement) -> str:
    """A change as an order, with the pump that it is for where there are several."""
    if len(worst_places(judgement)) < 2:
        return fix.text
    if WHOLE_LINE in fix.text:
        return fix.text.replace(WHOLE_LINE, f"{WHOLE_LINE} from tank to {fix.pump}")
    return f"{fix.text} for {fix.pump}"


def _does_as_well(then: Judgement, built: Judgement) -> bool:
    """Whether a change that the alternative makes among others is enough alone."""
    leaves = uncleared(built) or doubts(built)
    return rank(then) >= rank(built) or bool(leaves and is_within_in_all(then))


def _leaves_less(then: Judgement, built: Judgement) -> bool:
    """Whether a change is within in every moment, and leaves fewer findings or doubts."""
    return is_within_in_all(then) and (
        len(uncleared(then)) < len(uncleared(built)) or len(doubts(then)) < len(doubts(built))
    )


def _is_wider(then: Judgement, built: Judgement) -> bool:
    """Whether a change leaves more margin than what is ordered by so much that it matters."""
    left, least = then.worst(), built.worst()
    if left is None or least is None:
        return False
    more = left.ledger.margin - least.ledger.margin
    return more > MATTERS * max(least.ledger.budget, 0.0) and rank(then) > rank(built)


def _leaves_more(then: Judgement, after: Judgement) -> bool:
    """Whether a change leaves more than an alternative that is not within in every moment or has less margin,
    and no more to be cleared."""
    left, least = then.worst(), after.worst()
    wider = left is not None and least is not None and left.ledger.margin > least.ledger.margin
    more = wider or not is_within_in_all(after)
    return more and rank(then) > rank(after) and len(uncleared(then)) <= len(uncleared(after))


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
