"""Which of the changes that were solved clear what is left of a drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from solver.findings.criteria import Finding
from solver.fixes.aims import Remedy
from solver.fixes.fixes import Fix
from solver.report.choices import undoes
from solver.report.choosing import JudgedDrawing
from solver.report.clearing import in_short


def ways_to_clear(chosen: JudgedDrawing, findings: Sequence[Finding]) -> Iterator[str]:
    """What was solved that ends findings which are left, a sentence each; nothing where nothing does."""
    for change, ended in _ways(chosen, findings):
        named = "it" if len(findings) == 1 else in_short(ended)
        yield f"To {change.text} would clear {named}."


def orders_to_clear(chosen: JudgedDrawing, findings: Sequence[Finding]) -> Iterator[str]:
    """What was solved that ends findings which are left, an order each."""
    for change, ended in _ways(chosen, findings):
        needs = f"; it needs: {change.cost}" if isinstance(change, Fix) else ""
        yield f"To clear {in_short(ended)}, {change.text}{needs}."


def cleared_by_order(chosen: JudgedDrawing, findings: Sequence[Finding]) -> list[Finding]:
    """What is ended by the orders to clear it."""
    return [finding for _, ended in _ways(chosen, findings) for finding in ended]


def clearing_changes(chosen: JudgedDrawing, findings: Sequence[Finding]) -> tuple[Fix | Remedy, ...]:
    """What is ordered to clear findings which are left."""
    return tuple(change for change, _ in _ways(chosen, findings))


def _ways(
    chosen: JudgedDrawing, findings: Sequence[Finding]
) -> Iterator[tuple[Fix | Remedy, Sequence[Finding]]]:
    """Changes that end findings which are left, each with those."""
    left = list(findings)
    while left:
        ending = [(each, ended) for each in _solved(chosen) if (ended := _ended(each, left))]
        if not ending:
            return
        parts = {finding.part for finding in left}
        change, ended = min(ending, key=lambda each: (-len(each[1]), *_harm(each[0], parts)))
        yield change, ended
        left = [each for each in left if each not in ended]


def _solved(chosen: JudgedDrawing) -> Iterator[Fix | Remedy]:
    """Every change for a line that makes nothing worse, is no last resort and leaves an alternative whole."""
    layout = chosen.judgement.layout
    for advice in chosen.advice.values():
        whole = (fix for fix in advice.fixes if not undoes(fix, layout, chosen.base))
        every: Iterable[Fix | Remedy] = (*whole, *advice.remedies)
        yield from (each for each in every if not each.worsens and not each.only)


def _ended(change: Fix | Remedy, findings: Sequence[Finding]) -> list[Finding]:
    if isinstance(change, Remedy):
        own = (change.finding, change.part)
        return [each for each in findings if change.ends and (each.finding, each.part) == own]
    return [each for each in findings if (each.finding, each.part) in change.ends]


def _harm(change: Fix | Remedy, parts: set[str]) -> tuple[bool, float]:
    """Sorts first what changes the parts in question alone, then what gains most."""
    own = bool(parts.intersection(change.parts)) if isinstance(change, Fix) else change.part in parts
    return not own, -change.gain
