"""Changes ranked by what they buy: each solved in every case, with the size that is just enough."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from solver.findings.checks import Finding
from solver.findings.kinds import OVER_BUDGET, FindingId
from solver.fixes import aims, conditions, laid_anew, pipes, places, screens
from solver.fixes.aims import Remedy
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged, NotJudgedError, judge
from solver.fixes.search import (
    NOTHING,
    Line,
    Offer,
    best_size,
    grave,
    harms_another,
    heads,
    margin,
    size_where,
    spare,
    worsened,
)
from solver.layout import changes, file
from solver.layout.parts import Layout, Level
from solver.quantities.units import Kind, System, typeset

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
    heads: tuple[float, float] | None  # gain and margin of NPSH [m], of a pump that is judged by it
    cures: bool  # whether the pump is within and its column holds afterwards, in every case judged
    ends: frozenset[tuple[FindingId, str]]  # findings, by what and part, that are in no case any more
    kinds: tuple[FixKind, ...]
    layout: Layout  # the drawing with the change made

    def alternative(self, base: Layout) -> dict[str, Any]:
        """The partial drawing that makes the change when it is laid over the base."""
        return changes.partial({}, base, self.layout, self.text)

    def buys(self, system: System) -> str:
        """What it buys, with the numbers: "buys 0.9 inHg, 0.3 inHg more than is lacking"."""
        if self.heads is not None:
            return _bought(*self.heads, Kind.HEAD, system, " of NPSH")
        return _bought(self.gain, self.margin, Kind.VACUUM, system)


def _bought(gain: float, margin: float, kind: Kind, system: System, of: str = "") -> str:
    text = f"buys {typeset(gain, kind, system)}{of}"
    if gain <= margin:  # nothing was lacking
        return text
    more = typeset(abs(margin), kind, system)
    return f"{text}, {more} {'more' if margin >= 0 else 'less'} than is lacking"


@dataclass(frozen=True)
class Advice:
    """What may be done for one pump: how it is now, single changes and sets of them, the best first."""

    now: Judged
    fixes: tuple[Fix, ...]
    together: tuple[Fix, ...]  # where no single change is enough
    remedies: tuple[Remedy, ...]  # what answers a finding by a figure of its own, whatever the margin

    @property
    def reservations(self) -> tuple[str, ...]:
        """What the figures leave out: the cases that could not be judged, and why."""
        return tuple(f"the case {name} is not judged: {why}" for name, why in self.now.unjudged.items())


def advise_all(layout: Layout, level: Level = Level.MINIMUM) -> Mapping[str, Advice]:
    """`advise` for every pump that runs in some case. Raises as `solve_cases`."""
    advice: dict[str, Advice] = {}
    for pump in layout.pumps:
        with suppress(NotJudgedError):
            advice[pump] = advise(layout, pump, level)
    return advice


def advise(layout: Layout, pump: str, level: Level = Level.MINIMUM) -> Advice:
    """Every change that gains something for a pump, ranked by the margin that it gains where that is least.

    Raises as `ledger.solve` where the drawing as it stands cannot be solved, KeyError for an unknown pump.
    """
    if pump not in layout.pumps:
        raise KeyError(pump)
    line = Line(layout, judge(layout, pump, level), level)
    tried = [(candidate, best_size(candidate, line)) for candidate in _candidates(layout, line.now)]
    offered = [Offer(candidate, *best) for candidate, best in tried if best]
    singles = tuple(sorted((_fix((offer,), offer.after, line) for offer in offered), key=_rank))
    enough = line.now.sound or any(fix.cures and not fix.worsens for fix in singles)
    together = () if enough else tuple(_sets(offered, line))
    return Advice(line.now, singles, together, tuple(aims.remedies(line, offered)))


def _rank(fix: Fix) -> float:
    return -fix.gain


def _candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    yield from places.candidates(layout, now.ledger)
    yield from laid_anew.candidates(layout, now.ledger)
    yield from pipes.candidates(layout, now.ledger)
    yield from screens.candidates(layout, now.ledger, now.case)
    yield from conditions.candidates(layout, now)


def _fix(offers: Sequence[Offer], after: Judged, line: Line) -> Fix:
    layout = line.start
    for offer in offers:
        layout = offer.candidate.edit(layout, offer.size)
    only = offers[0].candidate if len(offers) == 1 else None
    return Fix(
        text=", and ".join(offer.candidate.describe(offer.size, line.system) for offer in offers),
        pump=line.now.ledger.pump,
        case=after.case,
        gain=after.margin - line.now.margin,
        margin=after.margin,
        spare=after.spare,
        just_enough=_size_text(only, line, margin),
        ample=_size_text(only, line, spare),
        cost="; ".join(dict.fromkeys(offer.candidate.cost for offer in offers)),
        leaves=tuple(f.text for f in after.findings if _left(f, line.now)),
        worsens=tuple(worsened(line, after)),
        heads=heads(line.now, after),
        cures=after.sound,
        ends=frozenset(_gone(line.now, after)),
        kinds=tuple(offer.candidate.kind for offer in offers),
        layout=layout,
    )


def _size_text(candidate: Candidate | None, line: Line, measure: Callable[[Judged], float]) -> str:
    """The size of a continuous change at which a measure that is below zero now is none, in writing."""
    if candidate is None or candidate.enough_unit is None or measure(line.now) >= 0:
        return ""
    size = size_where(candidate, line, measure)
    if size is None:
        return ""
    if candidate.enough_unit is Kind.NUMBER:
        return f"{size:.1f} times"
    return typeset(size, candidate.enough_unit, line.system)


def _left(finding: Finding, now: Judged) -> bool:
    """Whether a finding was there before; that the pump is over still is what the margin says."""
    own = finding.finding in OVER_BUDGET and finding.part == now.pump
    before = any((f.finding, f.part) == (finding.finding, finding.part) for f in now.findings)
    return grave(finding) and before and not own


def _gone(now: Judged, after: Judged) -> Iterator[tuple[FindingId, str]]:
    left = {(f.finding, f.part) for f in after.findings}
    return ((f.finding, f.part) for f in now.findings if (f.finding, f.part) not in left)


# Several changes together


def _sets(offered: Sequence[Offer], line: Line) -> list[Fix]:
    """The best pairs; where no pair is enough, the best triples: what cures, else what gains most."""
    best: dict[tuple[FixKind, str], Offer] = {}
    for offer in sorted(offered, key=lambda each: -each.after.margin):
        kind = offer.candidate.kind
        best.setdefault((kind, offer.candidate.part if kind is FixKind.SCREEN else ""), offer)
    chosen = list(best.values())[:TOGETHER]
    for number in (2, 3):
        solved = sorted(_solved(chosen, number, line), key=lambda each: -each[1].margin)
        curing = [each for each in solved if each[1].sound]
        if curing or number == 3:
            return [_fix(offers, after, line) for offers, after in curing[:MOST_SETS] or solved[:1]]
    return []


def _solved(chosen: Sequence[Offer], number: int, line: Line) -> Iterator[tuple[list[Offer], Judged]]:
    """Changes made together, in the order in which they are made, and what the line then comes to."""
    for group in combinations(chosen, number):
        ordered = sorted(group, key=lambda offer: offer.candidate.kind is not FixKind.PLACE)
        layout = line.start
        try:
            for offer in ordered:
                layout = offer.candidate.edit(layout, offer.size)
            after = line.after(layout)
        except (ValueError, KeyError):
            continue  # one change takes away what the other is about
        if file.check(layout) or harms_another(line, after):
            continue
        if all(after.margin > offer.after.margin + NOTHING for offer in group):
            yield ordered, after
