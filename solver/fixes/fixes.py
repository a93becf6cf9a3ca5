"""Changes ranked by what they buy: each solved in every case, with the size that is just enough."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from solver.answers.roots import crossing
from solver.findings.checks import Finding
from solver.findings.kinds import Severity
from solver.fixes import conditions, pipes, places, screens
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged, judge
from solver.layout import changes, file
from solver.layout.parts import Layout, Level
from solver.quantities.units import Kind, System, typeset

NOTHING = 170.0
"""Margin that is shown as nothing, 0.05 inHg [Pa]: a change that buys less is not offered."""

TOGETHER = 6
"""Single changes, the best of their kinds, that are tried together."""

MOST_SETS = 3
"""Pairs, or triples, that are offered."""


@dataclass(frozen=True)
class Fix:
    """A change, or several together, solved."""

    text: str  # the change as an order: "lower carriage's port to 2.95 ft"
    pump: str
    case: str  # the one that decides once it is done
    gain: float  # by which the least margin of all cases grows [Pa]
    margin: float  # what it then is [Pa]
    spare: float  # the same over the criterion for a thin margin [Pa]
    just_enough: str  # the size at which the margin is zero; "" where it comes in no other, or none is enough
    ample: str  # the size at which the margin is no longer thin; "" likewise
    cost: str  # in kind
    leaves: tuple[str, ...]  # findings of caution and worse that stay
    worsens: tuple[str, ...]  # findings that are new or graver, other pumps that lose
    kinds: tuple[FixKind, ...]
    layout: Layout  # the drawing with the change made

    def alternative(self, base: Layout) -> dict[str, Any]:
        """The partial drawing that makes the change when it is laid over the base."""
        return changes.partial({}, base, self.layout, self.text)

    @property
    def cures(self) -> bool:
        """Whether the pump is within its budget afterwards, in every case."""
        return self.margin >= 0

    def buys(self, system: System) -> str:
        """What it buys, with the numbers: "buys 0.9 inHg, 0.3 inHg more than is lacking"."""
        bought = typeset(self.gain, Kind.VACUUM, system)
        lacking = self.gain - self.margin  # what was short before
        if lacking <= 0:
            return f"buys {bought}"
        more = typeset(abs(self.margin), Kind.VACUUM, system)
        return f"buys {bought}, {more} {'more' if self.margin >= 0 else 'less'} than is lacking"


@dataclass(frozen=True)
class Advice:
    """What may be done for one pump: how it is now, single changes and sets of them, the best first."""

    now: Judged
    fixes: tuple[Fix, ...]
    together: tuple[Fix, ...]  # where no single change is enough


@dataclass(frozen=True)
class _Line:
    """One pump's line as it is before any change."""

    start: Layout
    now: Judged
    level: Level

    @property
    def system(self) -> System:
        return System(self.start.units)

    def after(self, layout: Layout) -> Judged:
        """What the line comes to after a change. Raises ValueError where it cannot be calculated."""
        return judge(layout, self.now.ledger.pump, self.level, self.now.cases)


def advise(layout: Layout, pump: str, level: Level = Level.MINIMUM) -> Advice:
    """Every change that gains something for a pump, ranked by the margin that it gains where that is least.

    Raises as `ledger.solve` where the drawing as it stands cannot be solved, KeyError for an unknown pump.
    """
    if pump not in layout.pumps:
        raise KeyError(pump)
    line = _Line(layout, judge(layout, pump, level), level)
    tried = [(candidate, _best_size(candidate, line)) for candidate in _candidates(layout, line.now)]
    offered = [_Offer(candidate, *best) for candidate, best in tried if best]
    singles = tuple(sorted((_fix((offer,), offer.after, line) for offer in offered), key=_rank))
    enough = line.now.margin >= 0 or any(fix.cures and not fix.worsens for fix in singles)
    return Advice(line.now, singles, () if enough else tuple(_sets(offered, line)))


@dataclass(frozen=True)
class _Offer:
    """A change in the size that is offered, and what the line then comes to."""

    candidate: Candidate
    size: float
    after: Judged


def _rank(fix: Fix) -> float:
    return -fix.gain


def _candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    yield from places.candidates(layout, now.ledger)
    yield from pipes.candidates(layout, now.ledger)
    yield from screens.candidates(layout, now.ledger, now.case)
    yield from conditions.candidates(layout, now)


def _best_size(candidate: Candidate, line: _Line) -> tuple[float, Judged] | None:
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
        lost = any(sound and not after.others.get(name, True) for name, sound in line.now.others.items())
        if after.margin - line.now.margin < NOTHING or lost or file.check(changed):
            continue
        if best is None or after.margin > best[1].margin:
            best = size, after
        if after.spare >= 0:
            break
    return best


def _continuous_sizes(candidate: Candidate, line: _Line) -> Iterator[float]:
    """Sizes to try in turn: the one that is ample, rounded to the change's step, or the farthest there is."""
    if line.now.spare >= 0:
        yield candidate.usual
        return
    ample = _where(candidate, line, _spare)
    if ample is None:
        yield candidate.most
        yield (candidate.now + candidate.most) / 2
        return
    yield _rounded(candidate, ample)
    yield ample


def _rounded(candidate: Candidate, size: float) -> float:
    """The next multiple of the step beyond a size, no farther than the change goes."""
    direction = 1.0 if candidate.most > candidate.now else -1.0
    steps = size / candidate.step * direction
    beyond = math.ceil(steps) * candidate.step * direction
    return min(beyond, candidate.most) if direction > 0 else max(beyond, candidate.most)


def _where(candidate: Candidate, line: _Line, measure: Callable[[Judged], float]) -> float | None:
    """The size of a continuous change at which a measure reaches zero; None where it never does."""

    def value(size: float) -> float:
        return measure(line.now if size == candidate.now else line.after(candidate.edit(line.start, size)))

    span = candidate.most - candidate.now
    try:
        reached = crossing(value, candidate.now, candidate.most, abs(span) / 4, abs(span) * 1e-4, 1.0)
    except (ValueError, ArithmeticError):
        return None
    return reached.at if reached.found else None


def _margin(judged: Judged) -> float:
    return judged.margin


def _spare(judged: Judged) -> float:
    return judged.spare


def _fix(offers: Sequence[_Offer], after: Judged, line: _Line) -> Fix:
    layout = line.start
    for offer in offers:
        layout = offer.candidate.edit(layout, offer.size)
    only = offers[0].candidate if len(offers) == 1 else None
    return Fix(
        text=", and ".join(offer.candidate.say(offer.size, line.system) for offer in offers),
        pump=line.now.ledger.pump,
        case=after.case,
        gain=after.margin - line.now.margin,
        margin=after.margin,
        spare=after.spare,
        just_enough=_size_text(only, line, _margin),
        ample=_size_text(only, line, _spare),
        cost="; ".join(dict.fromkeys(offer.candidate.cost for offer in offers)),
        leaves=tuple(f.text for f in after.findings if _grave(f) and _is_among(f, line.now.findings)),
        worsens=tuple(_worse(line.now, after)),
        kinds=tuple(offer.candidate.kind for offer in offers),
        layout=layout,
    )


def _size_text(candidate: Candidate | None, line: _Line, measure: Callable[[Judged], float]) -> str:
    """The size of a continuous change at which a measure that is below zero now is none, in writing."""
    if candidate is None or candidate.enough_unit is None or measure(line.now) >= 0:
        return ""
    size = _where(candidate, line, measure)
    if size is None:
        return ""
    if candidate.enough_unit is Kind.NUMBER:
        return f"{size:.1f} times"
    return typeset(size, candidate.enough_unit, line.system)


def _grave(finding: Finding) -> bool:
    return finding.severity != Severity.NOTE


def _is_among(finding: Finding, others: Sequence[Finding]) -> bool:
    return any((f.finding, f.part) == (finding.finding, finding.part) for f in others)


def _worse(now: Judged, after: Judged) -> Iterator[str]:
    """Findings that are new or graver than before."""
    before = {(f.finding, f.part): f.severity.rank for f in now.findings}
    for finding in filter(_grave, after.findings):
        rank = before.get((finding.finding, finding.part))
        if rank is None or finding.severity.rank < rank:
            yield finding.text


# Several changes together


def _sets(offered: Sequence[_Offer], line: _Line) -> list[Fix]:
    """The best pairs; where no pair is enough, the best triples: what cures, else what gains most."""
    best: dict[tuple[FixKind, str], _Offer] = {}
    for offer in sorted(offered, key=lambda each: -each.after.margin):
        kind = offer.candidate.kind
        best.setdefault((kind, offer.candidate.part if kind is FixKind.SCREEN else ""), offer)
    chosen = list(best.values())[:TOGETHER]
    for number in (2, 3):
        solved = sorted(_solved(chosen, number, line), key=_rank)
        if any(fix.cures for fix in solved) or number == 3:
            return [fix for fix in solved if fix.cures][:MOST_SETS] or solved[:1]
    return []


def _solved(chosen: Sequence[_Offer], number: int, line: _Line) -> Iterator[Fix]:
    for group in combinations(chosen, number):
        ordered = sorted(group, key=lambda offer: offer.candidate.kind is not FixKind.PLACE)
        layout = line.start
        try:
            for offer in ordered:
                layout = offer.candidate.edit(layout, offer.size)
            after = line.after(layout)
        except (ValueError, KeyError):
            continue  # one change takes away what the other is about
        if all(after.margin > offer.after.margin + NOTHING for offer in group):
            yield _fix(ordered, after, line)
