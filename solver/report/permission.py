"""Where a note forbids what an alternative does: that it is to be permitted first, and what is next best."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from solver.findings.criteria import in_case
from solver.ledger.sentences import sentence_of_pump
from solver.quantities.units import System
from solver.quantities.wording import uncapitalised
from solver.report.asked_in_notes import forbidden_in
from solver.report.choices import is_over
from solver.report.choosing import JudgedDrawing, better
from solver.report.clearing import in_short, uncleared
from solver.report.doubts import rank
from solver.report.not_drawn import offered, order_for

ONCE_PERMITTED = ", once what the note forbids is permitted"


def as_permitted(
    texts: Iterable[str],
    before: JudgedDrawing,
    after: JudgedDrawing,
    others: Sequence[JudgedDrawing],
    system: System,
) -> Iterator[str]:
    """Sentences on an alternative that is recommended, with what is next best where a note forbids it.

    others: the further alternatives.
    """
    if not is_forbidden(before, after):
        yield from texts
        return
    yield from once_permitted(texts, after)
    yield next_best(before, after, others, system)


def is_forbidden(before: JudgedDrawing, after: JudgedDrawing) -> bool:
    """Whether a note of the drawing or of the alternative forbids what this does, by its name and note."""
    return forbidden_in(_notes(before, after), after.name, after.note)


def once_permitted(texts: Iterable[str], after: JudgedDrawing) -> Iterator[str]:
    """Sentences on an alternative, in which the order to build it waits for a permission."""
    order = after.order
    for text in texts:
        waiting = text.replace(order, f"{order}{ONCE_PERMITTED}", 1)
        yield waiting.replace(uncapitalised(order), f"{uncapitalised(order)}{ONCE_PERMITTED}", 1)


def next_best(
    before: JudgedDrawing, after: JudgedDrawing, others: Sequence[JudgedDrawing], system: System
) -> str:
    """What is left where the permission is not given, a sentence: the next best that does not do what is
    forbidden, or the line as it stands.

    others: the further alternatives.
    """
    return f"Without permission {_what_is_left(before, after, others, system)}."


def _what_is_left(
    before: JudgedDrawing, after: JudgedDrawing, others: Sequence[JudgedDrawing], system: System
) -> str:
    notes, drawn = _notes(before, after), before.judgement
    allowed = (each for each in others if not forbidden_in(notes, each.name, each.note))
    kept = [each for each in allowed if better(drawn, each.judgement)]
    if kept:
        best = max(kept, key=lambda each: rank(each.judgement, each.as_read))
        return f"next best is {best.called}, with which {_stands(best, system)}"
    every = offered(before, after.judgement, system)
    changes = [(fix, then) for fix, then in every if not forbidden_in(notes, fix.text)]
    if changes:
        fix, _ = max(changes, key=lambda each: rank(each[1]))
        return f"next best is to {order_for(fix, drawn)} ({fix.buys(system)}), not drawn yet"
    worst = drawn.worst()
    if worst is not None and is_over(worst):
        return f"nothing else that was tried is enough, and {_stands(before, system)}"
    left = in_short(uncleared(drawn))
    return f"the line stays as it is, within{f', with {left}' if left else ''}"


def _stands(drawing: JudgedDrawing, system: System) -> str:
    worst = drawing.judgement.worst()
    if worst is None:
        return "not calculated"
    return f"{sentence_of_pump(worst.ledger, system)} {in_case(worst.case)}"


def _notes(before: JudgedDrawing, after: JudgedDrawing) -> str:
    return f"{before.judgement.layout.notes} {after.note}"
