"""The fixes of one pump as rows: what each does, what it buys, where its bar begins and ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from solver.findings.criteria import case_in_words, in_case
from solver.findings.judgement import Judgement, PumpInCase
from solver.fixes.fixes import Advice, Fix, folded
from solver.ledger.sentences import left, shortage, trouble
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised
from solver.report import changes

if TYPE_CHECKING:
    from solver.field.as_read import AsRead


@dataclass(frozen=True, slots=True)
class GainScale:
    """The margins [Pa] that the bars have in common."""

    least: float
    most: float

    def share(self, margin: float) -> float:
        """Where a margin lies, from 0 at the least to 1 at the most."""
        return (margin - self.least) / (self.most - self.least)


@dataclass(frozen=True, slots=True)
class FixRow:
    """One change, or several together."""

    fix: Fix
    title: str
    buys: str
    details: tuple[str, ...]
    before: float  # margin [Pa], the least of all cases
    after: float

    @property
    def spoken(self) -> str:
        """All of it in words."""
        return " ".join([f"{self.title}: {self.buys}.", *self.details])


def rows(advice: Advice, system: System) -> tuple[FixRow, ...]:
    """What is put back as drawn, the sets that are enough where no single change is, then single changes.

    The best of each comes first. Changes that lay one line another way are one row, of the best of them.

    Last resorts stand after all others of their group, and say what they ask for.
    """
    back = ((fix, ()) for fix in advice.fixes if fix.as_drawn)
    sets = ((fix, ()) for fix in advice.together)
    alone = folded(fix for fix in advice.fixes if not fix.as_drawn)
    return tuple(_row(fix, others, advice, system) for fix, others in (*back, *sets, *alone))


def _row(fix: Fix, others: tuple[Fix, ...], advice: Advice, system: System) -> FixRow:
    kind, margins = Kind.VACUUM, (advice.now.margin, fix.margin)
    if fix.heads is not None:
        gain, margin = fix.heads
        kind, margins = Kind.HEAD, (margin - gain, margin)
    moved = "" if fix.case == advice.now.case else f"; then the case {case_in_words(fix.case)} decides"
    before, after = (typeset(each, kind, system, PLACES) for each in margins)
    return FixRow(
        fix,
        capitalised(fix.text),
        f"{fix.buys(system)}; margin {before} now, {after} then{moved}",
        (
            *([f"{fix.only}."] if fix.only else []),
            *changes.details(fix),
            *changes.instead(others, system),
        ),
        advice.now.margin,
        fix.margin,
    )


def scale(shown: tuple[FixRow, ...]) -> GainScale:
    """From the least margin now, or none, to the most that a change leaves. shown: at least one row."""
    ends = [0.0, *(row.before for row in shown), *(row.after for row in shown)]
    return GainScale(min(ends), max(ends))


def heading(advice: Advice, system: System, as_read: AsRead | None = None) -> str:
    """How the pump stands, and what the bars show.

    as_read: the drawing with its screens as read, where one is past what is allowed or due.
    """
    ledger = advice.now.ledger
    state = left(ledger, system) if ledger.within else shortage(ledger, system)
    named = case_in_words(advice.now.case)
    judged = "" if len(advice.now.cases) == 1 else f" in the case with the least margin, {named}"
    sentences = [f"{advice.now.pump}: {state}{judged}.", *changes.nothing_needed(advice, as_read)]
    if not advice.fixes:
        sentences.append(changes.NOTHING_GAINS)
    else:
        sentences.append("Bars run from the margin now to the margin then; the red line is the limit.")
    if advice.together:
        first = "first after what is as drawn" if any(fix.as_drawn for fix in advice.fixes) else "first"
        sentences.append(f"{changes.why_together(advice)}: those made together stand {first}.")
    if (needed := advice.overhead) is not None:
        sentences.append(needed.sentence(system))
    sentences += [f"{capitalised(each)}. It may be worse off than this says." for each in advice.reservations]
    return " ".join(sentences)


def worse_pump(judgement: Judgement | None, pump: str) -> PumpInCase | None:
    """Another pump that stands worse than this one, where it is worst; None where there is no such."""
    worst = judgement.worst() if judgement is not None else None
    return worst if worst is not None and worst.pump != pump else None


def worse_text(worse: PumpInCase, judgement: Judgement, system: System) -> str:
    """How it stands, in words."""
    ledger = worse.ledger
    state = left(ledger, system) if ledger.sound else trouble(ledger, system)
    judged = f" {in_case(worse.case)}" if len(judgement.cases) > 1 else ""
    return f"{worse.pump} is worse: {state}{judged}. Show its fixes"
