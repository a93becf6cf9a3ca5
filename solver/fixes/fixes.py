"""Changes ranked by what they buy: each solved in every case, with the size that is just enough."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import Any, TypeVar

from solver.findings.checks import Finding
from solver.findings.criteria import case_in_words
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity
from solver.fixes import aims, conditions, pipes, places, pressures, raised, relaid, screens
from solver.fixes.aims import Remedy
from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged, NotJudgedError, judged_pump
from solver.fixes.overhead import Overhead, overhead
from solver.fixes.search import (
    Line,
    Offer,
    best_size,
    graver,
    heads,
    is_above_note,
    margin,
    size_text,
    slowness,
    spare,
    worsened,
)
from solver.fixes.together import Group, Together, sets, with_changes
from solver.layout import changes
from solver.layout.parts import Layout, Level
from solver.ledger.cases import solve_cases
from solver.network.row_cache import RowCache
from solver.quantities.adding import PLACES, gained
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import is_none


@dataclass(frozen=True)
class Change:
    """A change, or several together, solved."""

    text: str  # the change as an order: "lower carriage's port to 2.95 ft"
    pump: str
    case: str  # the one that decides once it is done
    gain: float  # by which the least margin of all cases grows [Pa]
    margin: float  # what it then is [Pa]
    spare: float  # the same over the criterion for a thin margin [Pa]
    cost: str  # in kind
    leaves: tuple[str, ...]  # findings of caution and worse that stay
    worsens: tuple[str, ...]  # findings that are new or graver, other pumps that lose
    heads: tuple[float, float] | None  # gain and margin of NPSH [m], of a pump that is judged by it
    cures: bool  # whether the pump is within and its column holds afterwards, in every case judged
    ends: frozenset[tuple[FindingId, str]]  # findings, by what and part, that are in no case any more
    kinds: tuple[FixKind, ...]
    parts: tuple[str, ...]  # what each of them changes; "" for the line or the drawing as a whole
    only: str  # of a last resort: what it asks for first, "Only with a tank built for it"; "" of any other
    as_drawn: bool  # whether it does no more than put back what has suffered as it is drawn
    layout: Layout  # the drawing with the change made
    stops: bool = field(
        default=False, kw_only=True
    )  # whether it brings a stop that was none, or a graver one

    @property
    def is_enough(self) -> bool:
        """Whether the pump is within afterwards, and nothing else stops it for that."""
        return self.cures and not self.stops

    def alternative(self, base: Layout) -> dict[str, Any]:
        """The partial drawing that makes the change when it is laid over the base."""
        return changes.partial({}, base, self.layout, self.text)

    def buys(self, system: System) -> str:
        """What it buys, with the numbers: "buys 0.9 inHg, 0.3 inHg more than needed"."""
        if self.heads is not None:
            return _bought(*self.heads, Kind.HEAD, system, " of NPSH")
        return _bought(self.gain, self.margin, Kind.VACUUM, system)


@dataclass(frozen=True)
class Fix(Change):
    """A change with the sizes of it that are enough."""

    just_enough: str  # the size at which the margin is zero; "" where it comes in no other, or none is enough
    ample: str  # the size at which the margin is no longer thin; "" likewise
    slow_enough: str  # the size at which the fluid is no longer too fast; "" likewise


C = TypeVar("C", bound=Change)


def folded(changes: Iterable[C]) -> tuple[tuple[C, tuple[C, ...]], ...]:
    """Changes in their order, with those that lay the same line another way under the best of them.

    The best is the first that makes nothing worse. Of another kind, or of another line, each stands alone.
    """
    groups: dict[object, list[C]] = {}
    for change in changes:
        alike = change.parts if change.kinds == (FixKind.ROUTE,) else len(groups)
        groups.setdefault(alike, []).append(change)
    best = ((min(group, key=lambda each: bool(each.worsens)), group) for group in groups.values())
    return tuple((one, tuple(each for each in group if each is not one)) for one, group in best)


def _bought(gain: float, margin: float, kind: Kind, system: System, of: str = "") -> str:
    bought = gained(margin - gain, margin, kind, system)
    text = f"buys {typeset(bought, kind, system, PLACES)}{of}"
    if gain <= margin:  # nothing was lacking
        return text
    if is_none(margin, kind, system, PLACES):
        return f"{text}, {'just enough' if margin >= 0 else 'just short of what is needed'}"
    more = typeset(abs(margin), kind, system, PLACES)
    return f"{text}, {more} {'more' if margin >= 0 else 'less'} than needed"


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
        return _reservations(self.now)

    @property
    def overhead(self) -> Overhead | None:
        """What it would take from above, where no change of the line is enough."""
        return _overhead(self)

    def remedies_of(self, finding: FindingId, part: str) -> tuple[Remedy, ...]:
        """What answers one finding by its own figure."""
        return tuple(each for each in self.remedies if (each.finding, each.part) == (finding, part))


@dataclass(frozen=True)
class LazyAdvice:
    """Advice for one pump, each part of it solved when it is first read: a finding needs little of it."""

    line: Line
    known: dict[tuple[FindingId, str], tuple[Remedy, ...]] = field(default_factory=dict)

    @property
    def now(self) -> Judged:
        """How the pump is before any change."""
        return self.line.now

    @property
    def reservations(self) -> tuple[str, ...]:
        """What the figures leave out: the cases that could not be judged, and why."""
        return _reservations(self.now)

    @cached_property
    def offered(self) -> tuple[Offer, ...]:
        """The changes that gain something, in the size that is offered."""
        every = (*self.line.restoring, *_candidates(self.line))
        tried = [(candidate, best_size(candidate, self.line)) for candidate in every]
        return tuple(Offer(candidate, *best) for candidate, best in tried if best)

    @property
    def fixes(self) -> tuple[Change, ...]:
        """Each change that is offered by itself, the best first."""
        return tuple(change for change, _ in self.ranked)

    @cached_property
    def ranked(self) -> tuple[tuple[Change, Offer], ...]:
        """The fixes with the sizes that they are offered in."""
        every = ((_change((offer,), offer.after, self.line), offer) for offer in self.offered)
        return tuple(sorted(every, key=lambda each: _rank(each[0])))

    @cached_property
    def together(self) -> tuple[Fix, ...]:
        """Sets of them, where no single one is enough."""
        enough = self.now.sound or any(fix.cures and not fix.worsens and not fix.only for fix in self.fixes)
        return () if enough else tuple(_fix(each, self.line) for each in sets(self.offered, self.line))

    @property
    def overhead(self) -> Overhead | None:
        """What it would take from above, where no change of the line is enough."""
        return _overhead(self)

    def remedies_of(self, finding: FindingId, part: str) -> tuple[Remedy, ...]:
        """What answers one finding by its own figure."""
        place = finding, part
        if place not in self.known:
            self.known[place] = tuple(
                remedy
                for each in aims.findings_with_figures(self.now)
                if (each.finding, each.part) == place
                for remedy in aims.remedies(self.line, each, lambda: self.offered)
            )
        return self.known[place]


def _overhead(advice: Advice | LazyAdvice) -> Overhead | None:
    """What a pump needs from above, unless it is sound or something cures it that is no last resort."""
    every = (*advice.fixes, *advice.together)
    enough = advice.now.sound or any(change.cures and not change.only for change in every)
    return None if enough else overhead(advice.now)


def _reservations(now: Judged) -> tuple[str, ...]:
    return tuple(f"the case {case_in_words(name)} is not judged: {why}" for name, why in now.unjudged.items())


def advise_all(
    layout: Layout, level: Level = Level.MINIMUM, drawn: Layout | None = None
) -> Mapping[str, Advice]:
    """`advise` for every pump that runs in some case. Raises as `solve_cases`.

    drawn: the drawing itself where `layout` is an alternative to it: its parts put back come first.
    """
    return {pump: _whole(each) for pump, each in advise_lazily(layout, level, drawn).items()}


def advise_lazily(
    layout: Layout, level: Level = Level.MINIMUM, drawn: Layout | None = None
) -> Mapping[str, LazyAdvice]:
    """Advice by pump that is solved as it is read, for every pump that runs in some case.

    drawn: the drawing itself where `layout` is an alternative to it.
    Raises as `solve_cases`, at once or never.
    """
    rows = RowCache()
    solved = solve_cases(layout, level, rows)
    advice: dict[str, LazyAdvice] = {}
    for pump in layout.pumps:
        with suppress(NotJudgedError):
            advice[pump] = LazyAdvice(Line(layout, judged_pump(layout, solved, pump), level, drawn, rows))
    return advice


def advise(layout: Layout, pump: str, level: Level = Level.MINIMUM) -> Advice:
    """Every change that gains something for a pump, ranked by the margin that it gains where that is least.

    Last resorts, which ask for a tank built for pressure or for unusual heat, come after all others.

    Raises as `ledger.solve` where the drawing as it stands cannot be solved, KeyError for an unknown pump.
    """
    if pump not in layout.pumps:
        raise KeyError(pump)
    advice = advise_lazily(layout, level)
    if pump not in advice:
        raise NotJudgedError(f"{pump} is not judged in any case")
    return _whole(advice[pump])


def _whole(lazy: LazyAdvice) -> Advice:
    """All of it, solved."""
    line = lazy.line
    fixes = tuple(_with_sizes(change, _alone(offer, line)) for change, offer in lazy.ranked)
    remedies = (
        each
        for own in aims.findings_with_figures(line.now)
        for each in lazy.remedies_of(own.finding, own.part)
    )
    return Advice(line.now, fixes, lazy.together, tuple(remedies))


def _rank(fix: Change) -> tuple[bool, str, bool, float]:
    """Sorts by gain what is enough, then the rest, parts put back as drawn first; last resorts after all
    others, by what they ask for."""
    return not fix.as_drawn, fix.only, not fix.is_enough, -fix.gain


def _candidates(line: Line) -> Iterator[Candidate]:
    layout, now = line.start, line.now
    yield from places.candidates(layout, now.ledger)
    yield from relaid.candidates(layout, now.ledger)
    yield from raised.candidates(layout, now)
    yield from line.wider(now)
    yield from pipes.candidates(layout, now.ledger)
    yield from screens.candidates(layout, now.ledger, now.case)
    yield from line.thinner()
    yield from conditions.candidates(layout, now)
    yield from pressures.candidates(layout, now)


def _alone(offer: Offer, line: Line) -> Together:
    texts = (size_text(offer.candidate, line, measure) for measure in (margin, spare, slowness))
    return Together((offer,), offer.after, *texts)


def _fix(change: Together, line: Line) -> Fix:
    return _with_sizes(_change(change.offers, change.after, line), change)


def _with_sizes(change: Change, enough: Together) -> Fix:
    known = {each.name: getattr(change, each.name) for each in fields(Change)}
    return Fix(**known, just_enough=enough.just_enough, ample=enough.ample, slow_enough=enough.slow_enough)


def _change(offers: Group, after: Judged, line: Line) -> Change:
    worse = tuple(worsened(line, after))
    return Change(
        text=", and ".join(offer.candidate.describe(offer.size, line.system) for offer in offers),
        pump=line.now.ledger.pump,
        case=after.case,
        gain=after.margin - line.now.margin,
        margin=after.margin,
        spare=after.spare,
        cost="; ".join(dict.fromkeys(offer.cost(line.system) for offer in offers)),
        leaves=tuple(f.text for f in after.findings if _left(f, line.now) and f.text not in worse),
        worsens=worse,
        heads=heads(line.now, after),
        cures=after.sound,
        ends=frozenset(_gone(line.now, after)),
        kinds=tuple(offer.candidate.kind for offer in offers),
        parts=tuple(offer.candidate.part for offer in offers),
        only=next((offer.only for offer in offers if offer.only), ""),
        as_drawn=all(offer.candidate in line.restoring for offer in offers),
        layout=with_changes(line.start, offers),
        stops=any(each.severity == Severity.STOP for each in graver(line, after)),
    )


def _left(finding: Finding, now: Judged) -> bool:
    """Whether a finding was there before; that the pump is over still is what the margin says."""
    own = finding.finding in OVER_BUDGET and finding.part == now.pump
    before = any((f.finding, f.part) == (finding.finding, finding.part) for f in now.findings)
    return is_above_note(finding) and before and not own


def _gone(now: Judged, after: Judged) -> Iterator[tuple[FindingId, str]]:
    left = {(f.finding, f.part) for f in after.findings}
    return ((f.finding, f.part) for f in now.findings if (f.finding, f.part) not in left)
