"""How a change is sized: solved in one size after another, until the margin is no longer thin."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from solver.answers.roots import crossing
from solver.findings.criteria import Finding
from solver.findings.kinds import FindingId, Severity
from solver.fixes.candidate import Candidate
from solver.fixes.judging import Judged, judge
from solver.formulas import flow
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.network.row_cache import RowCache
from solver.quantities.units import Kind, System, typeset

NOTHING = 170.0
"""Margin that is shown as nothing, 0.05 inHg [Pa]: a change that buys less is not offered."""

FLAT = 20.0
"""What a margin may still grow where it is taken to grow no more [Pa]."""


@dataclass(frozen=True)
class Line:
    """One pump's line as it is before any change."""

    start: Layout
    now: Judged
    level: Level
    rows: RowCache = field(default_factory=RowCache)  # shared by the solves of all changes
    zeros: dict[tuple[Candidate, str], float | None] = field(default_factory=dict)  # sizes looked for

    @property
    def system(self) -> System:
        return self.start.units

    def after(self, layout: Layout) -> Judged:
        """What the line comes to after a change. Raises ValueError where it cannot be calculated."""
        return judge(layout, self.now.ledger.pump, self.level, self.now.cases, self.rows)


@dataclass(frozen=True)
class Offer:
    """A change in the size that is offered, and what the line then comes to."""

    candidate: Candidate
    size: float
    after: Judged

    @property
    def only(self) -> str:
        """Of a last resort in this size: what it asks for first; "" of any other."""
        return self.candidate.only(self.size)


def best_size(candidate: Candidate, line: Line) -> tuple[float, Judged] | None:
    """The size that is offered, with what it comes to; None where the change gains nothing or costs another.

    A continuous change is offered where the margin stops being thin, or as far as it goes; where nothing is
    lacking, by its usual size. Of sizes, the first that is ample, or the largest that can be built.
    """
    best: tuple[float, Judged] | None = None
    for size in candidate.sizes or _continuous_sizes(candidate, line):
        try:
            changed = candidate.edit(line.start, size)
            after = line.after(changed)
        except ValueError:
            continue
        if after.margin - line.now.margin < NOTHING or harms_another(line, after) or file.check(changed):
            continue
        if best is None or after.margin > best[1].margin:
            best = size, after
        if after.spare >= 0:
            break
    return best


def harms_another(line: Line, after: Judged) -> bool:
    """Whether another pump that was within its budget is so no longer."""
    others = line.now.others.items()
    return any(
        other.within and name in after.others and not after.others[name].within for name, other in others
    )


def worsened(line: Line, after: Judged) -> Iterator[str]:
    """Findings that are new or graver than before, and other pumps on whose margin a change draws."""
    before: dict[tuple[str, str], int] = {}
    for finding in line.now.findings:
        before[_subject(finding)] = min(finding.severity.rank, before.get(_subject(finding), 9))
    for finding in filter(grave, after.findings):
        rank = before.get(_subject(finding))
        if rank is None or finding.severity.rank < rank:
            yield finding.text
    for name, other in line.now.others.items():
        if name in after.others and other.margin - after.others[name].margin >= NOTHING:
            lost = typeset(other.margin - after.others[name].margin, Kind.VACUUM, line.system)
            yield f"{name} loses {lost}"


def _subject(finding: Finding) -> tuple[str, str]:
    """What a finding is about: a margin that was missing and is thin has become better, not worse."""
    of_the_margin = finding.finding in (FindingId.OVER_THE_LIMIT, FindingId.THIN_MARGIN)
    return "margin" if of_the_margin else str(finding.finding), finding.part


def grave(finding: Finding) -> bool:
    """Whether a finding is more than a note."""
    return finding.severity != Severity.NOTE


def heads(now: Judged, after: Judged) -> tuple[float, float] | None:
    """Gain and margin as head of the fluid in the cases that decide [m]; None without an NPSH required."""
    if now.ledger.npsh_required is None or after.ledger.npsh_required is None:
        return None
    before, then = (each.margin / flow.static_lift.scalar(each.ledger.density, 1.0) for each in (now, after))
    return then - before, then


def _continuous_sizes(candidate: Candidate, line: Line) -> Iterator[float]:
    """Sizes to try in turn: the one that is ample, rounded to the change's step, or the farthest there is."""
    if line.now.spare >= 0:
        yield candidate.usual
        return
    ample = size_where(candidate, line, spare)
    if ample is None:
        if (most_gained := size_of_all_gain(candidate, line)) is not None:
            yield rounded(candidate, most_gained)
            return
        yield candidate.most
        yield (candidate.now + candidate.most) / 2
        return
    yield rounded(candidate, ample)
    yield ample


def rounded(candidate: Candidate, size: float) -> float:
    """The next multiple of the step beyond a size, no farther than the change goes."""
    direction = 1.0 if candidate.most > candidate.now else -1.0
    steps = size / candidate.step * direction
    beyond = math.ceil(steps) * candidate.step * direction
    return min(beyond, candidate.most) if direction > 0 else max(beyond, candidate.most)


def size_where(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> float | None:
    """The size of a continuous change at which a measure reaches zero; None where it never does."""
    key = candidate, measure.__name__
    if key not in line.zeros:
        line.zeros[key] = _searched(candidate, line, measure)
    return line.zeros[key]


def size_text(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> str:
    """The size of a continuous change at which a measure that is below zero now is none, in writing."""
    if candidate.enough_unit is None or measure(line.now) >= 0:
        return ""
    size = size_where(candidate, line, measure)
    if size is None:
        return ""
    if candidate.enough_unit is Kind.NUMBER:
        return f"{size:.1f} times"
    return typeset(size, candidate.enough_unit, line.system)


def size_of_all_gain(candidate: Candidate, line: Line) -> float | None:
    """The size of a continuous change beyond which another case decides that it does not help.

    None where it gains as far as it goes, or cannot go that far.
    """
    try:
        farthest = line.after(candidate.edit(line.start, candidate.most))
    except ValueError:
        return None
    if farthest.case == line.now.case:
        return None
    return _searched(candidate, line, lambda judged: judged.margin - farthest.margin + FLAT)


def _searched(candidate: Candidate, line: Line, measure: Callable[[Judged], float]) -> float | None:
    def value(size: float) -> float:
        return measure(line.now if size == candidate.now else line.after(candidate.edit(line.start, size)))

    span = candidate.most - candidate.now
    try:
        reached = crossing(value, candidate.now, candidate.most, abs(span) / 4, abs(span) * 1e-4, 1.0)
    except (ValueError, ArithmeticError):
        return None
    return reached.at if reached.found else None


def margin(judged: Judged) -> float:
    """The least margin of all cases [Pa]."""
    return judged.margin


def spare(judged: Judged) -> float:
    """What it is over the criterion for a thin one [Pa]."""
    return judged.spare
