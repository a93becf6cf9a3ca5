"""Fixes in writing: as text for a terminal, and as plain data with the partial drawing that makes each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Any

from solver.findings.criteria import case_in_words
from solver.fixes.candidate import drawbacks
from solver.fixes.fixes import Advice, Fix, folded
from solver.layout.parts import Layout
from solver.quantities.units import System
from solver.quantities.wording import capitalised, uncapitalised

if TYPE_CHECKING:
    from solver.field.as_read import AsRead

HEADING = "what to change, ranked by what it buys where the margin is least"
WORSE = "But then: "
NOTHING_GAINS = "No change that was tried gains anything."


def lines(advice: Advice, system: System, as_read: AsRead | None = None) -> Iterator[tuple[str, int]]:
    """The fixes for one pump, a line of any length each, and how far it is indented.

    as_read: the drawing with its screens as read, where one is past what is allowed or due.
    """
    yield f"{advice.now.pump}: {HEADING} (case: {advice.now.case})", 0
    yield from ((text, 1) for text in nothing_needed(advice, as_read))
    for text in advice.reservations:
        yield f"{capitalised(text)}. It may be worse off than these figures say.", 1
    if not advice.fixes:
        yield NOTHING_GAINS, 1
    yield from _grouped(advice.fixes, advice, system)
    if advice.together:
        yield f"{why_together(advice)}. Together:", 1
    yield from _grouped(advice.together, advice, system)
    if (needed := advice.overhead) is not None:
        yield needed.sentence(system), 1


def nothing_needed(advice: Advice, as_read: AsRead | None = None) -> Iterator[str]:
    """That the margin needs no change, where it is ample in every case and all of them are judged; and of
    which screens that and the changes are, where one was read as blocked.

    as_read: as for `lines`.
    """
    now = advice.now
    drawn = "as it is drawn" if as_read is None else f"with {as_read.drawn}"
    if now.sound and now.spare >= 0 and not now.unjudged:
        estimated = " (limit estimated)" if now.ledger.limit_estimated else ""
        yield f"The margin is enough {drawn}{estimated}."
    elif as_read is not None:
        yield f"These figures are {drawn}."
    if as_read is not None:
        yield f"{as_read.verdict}: clean {' and '.join(as_read.names)} before all else."


def brief_lines(advice: Advice, system: System, as_read: AsRead | None = None) -> Iterator[str]:
    """The fixes for one pump, one line each: what it buys, what speaks against it; sets last.

    as_read: as for `lines`.
    """
    pump = advice.now.pump
    if as_read is not None:
        yield f"{pump}: clean {' and '.join(as_read.names)} before all else; these are with {as_read.drawn}"
    for text in advice.reservations:
        yield f"{pump}: {text}"
    if not advice.fixes:
        yield f"{pump}: {uncapitalised(NOTHING_GAINS).rstrip('.')}"
    for fix in (*(best for best, _ in folded(advice.fixes)), *advice.together):
        yield f"{pump}: {fix.text}: {fix.buys(system)}{drawbacks(fix.worsens, fix.only)}"
    if (needed := advice.overhead) is not None:
        yield f"{pump}: {needed.sentence(system)}"


def why_together(advice: Advice) -> str:
    """Why several changes are offered together."""
    if any(fix.only and fix.cures and not fix.worsens for fix in advice.fixes):
        return "Only a last resort is enough by itself without harm elsewhere"
    return "No single change is enough without harm elsewhere"


def _grouped(fixes: Sequence[Fix], advice: Advice, system: System) -> Iterator[tuple[str, int]]:
    """Fixes in their order, the last resorts under what they ask for."""
    for only, group in groupby(fixes, key=lambda fix: fix.only):
        if only:
            yield f"{only}:", 1
        for fix, others in folded(group):
            yield from _fix(fix, advice, system)
            yield from ((each, 2) for each in instead(others, system))


def _fix(fix: Fix, advice: Advice, system: System) -> Iterator[tuple[str, int]]:
    moved = f"; then the case {case_in_words(fix.case)} decides" if fix.case != advice.now.case else ""
    yield f"{capitalised(fix.text)}: {fix.buys(system)}{moved}.", 1
    yield from ((each, 2) for each in details(fix))


def details(fix: Fix) -> Iterator[str]:
    """What else is to be known of a fix: sizes, cost, what it leaves and makes worse, a sentence each."""
    if named := "; ".join(_named_sizes(fix)):
        yield f"{capitalised(named)}."
    yield f"It needs: {fix.cost}."
    if fix.worsens:
        yield f"{WORSE}{'; '.join(fix.worsens)}."
    if fix.leaves:
        yield f"It leaves open: {'; '.join(fix.leaves)}."


def instead(others: Sequence[Fix], system: System) -> Iterator[str]:
    """What else of the same kind could be done instead, as one sentence; nothing where there is nothing."""
    if not others:
        return
    bought = (
        f"{fix.text} ({fix.buys(system)}{f'; but then: {fix.worsens[0]}' if fix.worsens else ''})"
        for fix in others
    )
    yield f"Or else: {'; '.join(bought)}."


def _named_sizes(fix: Fix) -> Iterator[str]:
    """What each size is enough for, a size that is enough for several things once."""
    sizes = {
        "just enough": fix.just_enough,
        "margin no longer thin": fix.ample,
        "fluid no longer too fast": fix.slow_enough,
    }
    if all(size in fix.text for size in sizes.values()):
        return  # the change itself says it
    for size in dict.fromkeys(filter(None, sizes.values())):
        yield f"{' and '.join(what for what, each in sizes.items() if each == size)}: {size}"


def note(fix: Fix) -> str:
    """What to remember of a fix whatever becomes of the drawing: what it asks for, what it costs in kind."""
    return " ".join([*([f"{fix.only}."] if fix.only else []), f"It needs: {fix.cost}."])


def records(advice: Advice, base: Layout) -> list[dict[str, Any]]:
    """The fixes for one pump as JSON objects, SI; `alternative` of each is laid over `base`."""
    return [
        {
            "text": fix.text,
            "pump": fix.pump,
            "case": fix.case,
            "gain_Pa": fix.gain,
            "margin_Pa": fix.margin,
            "within": fix.cures,
            "last_resort": fix.only or None,
            "just_enough": fix.just_enough or None,
            "no_longer_thin": fix.ample or None,
            "no_longer_too_fast": fix.slow_enough or None,
            "takes": fix.cost,
            "leaves": list(fix.leaves),
            "makes_worse": list(fix.worsens),
            "not_judged": list(advice.now.unjudged),
            "alternative": fix.alternative(base),
        }
        for fix in (*advice.fixes, *advice.together)
    ]
