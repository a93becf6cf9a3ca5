"""Several changes made together: each kind with each other, none larger than is needed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from solver.fixes.candidate import Candidate, FixKind
from solver.fixes.judging import Judged
from solver.fixes.search import (
    FLAT,
    NOTHING,
    Line,
    Offer,
    harms_another,
    margin,
    rounded,
    size_of_all_gain,
    size_text,
    size_where,
    slowness,
    spare,
    worsened,
)
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import Kind

PROMISING = 6
"""Single changes, the best of their kinds, that are tried three at a time."""

MOST = 3
"""Sets that are offered."""

ALWAYS = (FixKind.PLACE, FixKind.RAISED, FixKind.SIZE, FixKind.TEMPERATURE)
"""Kinds that are tried three at a time however little each gains alone: lift, bore, viscosity; ours."""

LAID_ANEW = (FixKind.PLACE, FixKind.RAISED)
"""Kinds that lay the line of the pump anew, so that others are made on what they leave."""

MEASURED = {
    FixKind.PLACE: "port at",
    FixKind.SIZE: "line in",
    FixKind.SCREEN: "screen",
    FixKind.LEVEL: "level at",
    FixKind.TEMPERATURE: "fluid at",
    FixKind.LINE_TEMPERATURE: "line at",
    FixKind.START: "a rise in",
}
"""What the sizes of a kind measure, as words before a size."""

Group = tuple[Offer, ...]


@dataclass(frozen=True)
class Together:
    """Changes in the order in which they are made, and what the line then comes to."""

    offers: Group
    after: Judged
    just_enough: str = ""  # size of the last one that leaves no margin; "" where it cannot be varied
    ample: str = ""  # size of the last one from which the margin is not thin; "" likewise
    slow_enough: str = ""  # size of the last one from which the fluid is not too fast; "" likewise

    @property
    def only(self) -> str:
        """What the first last resort among them asks for first; "" where there is none."""
        return next((offer.only for offer in self.offers if offer.only), "")


def sets(offered: Sequence[Offer], line: Line) -> list[Together]:
    """The sets that are enough, the best first; the one that comes nearest where none is.

    Every pair of kinds is tried; triples where no pair is ample, or each is a last resort in the size that it
    needs; last resorts where nothing else is enough.
    """
    usual = _best_of_kinds(offer for offer in offered if not _always_last(offer))
    last = _best_of_kinds(offer for offer in offered if _always_last(offer))
    promising = [o for i, o in enumerate(usual) if i < PROMISING or o.candidate.kind in ALWAYS]
    solved = list(_solved(combinations(usual, 2), line))
    if not any(each.after.spare >= 0 for each in solved) or _all_last(_best(solved, line)):
        solved += _solved(combinations(promising, 3), line)
    if not any(each.after.sound for each in solved):
        solved += _solved(((*group, each) for each in last for group in combinations(usual, 1)), line)
    if not any(each.after.sound for each in solved):
        groups = ((*group, each) for each in last for group in combinations(promising, 2))
        solved += _solved(groups, line)
    return _best(solved, line) or sorted(solved, key=_rank)[:1]


def _best(solved: Iterable[Together], line: Line) -> list[Together]:
    """The sets that are enough, none larger than needed, the best first."""
    enough = sorted((each for each in solved if each.after.sound), key=_rank)[: 2 * MOST]
    needed = [_no_larger_than_needed(each, line) for each in enough]
    return sorted(needed, key=lambda each: (each.only, _harms(each, line), _rank(each)))[:MOST]


def _all_last(needed: Sequence[Together]) -> bool:
    """Whether each of the sets that are enough is a last resort."""
    return all(each.only for each in needed)


def _harms(each: Together, line: Line) -> bool:
    """Whether a set makes something worse; sets are looked for where singles do."""
    return any(worsened(line, each.after))


def _rank(each: Together) -> tuple[bool, str, bool, int, float]:
    enough = each.after.sound
    thin = enough and each.after.spare < 0
    return not enough, each.only, thin, len(each.offers) if enough else 0, -each.after.margin


def _always_last(offer: Offer) -> bool:
    """Whether a change is a last resort in every size."""
    return bool(offer.candidate.only(offer.candidate.now))


def _best_of_kinds(offered: Iterable[Offer]) -> list[Offer]:
    """The change that gains most of each kind, and of each screen; the best first."""
    best: dict[tuple[FixKind, str], Offer] = {}
    for offer in sorted(offered, key=lambda each: -each.after.margin):
        kind = offer.candidate.kind
        best.setdefault((kind, offer.candidate.part if kind is FixKind.SCREEN else ""), offer)
    return list(best.values())


def _solved(groups: Iterable[Group], line: Line) -> Iterator[Together]:
    """The groups whose changes can be made together and gain more than each of them alone."""
    for group in groups:
        ordered = tuple(sorted(group, key=lambda offer: offer.candidate.kind not in LAID_ANEW))
        try:
            layout = with_changes(line.start, ordered)
            after = line.after(layout)
        except (ValueError, KeyError):
            continue  # one change takes away what the other is about
        if file.check(layout) or harms_another(line, after):
            continue
        if all(after.margin > offer.after.margin + NOTHING for offer in group):
            yield Together(ordered, after)


def with_changes(layout: Layout, offers: Iterable[Offer]) -> Layout:
    """A drawing with changes made in turn. Raises ValueError or KeyError where one leaves no other room."""
    changed = layout
    for offer in offers:
        changed = offer.candidate.edit(changed, offer.size)
    return changed


def _no_larger_than_needed(each: Together, line: Line) -> Together:
    """The set with one of its changes in the size from which the margin is not thin, and made last.

    The temperature before all others, then what can be had in any size, then what comes in several.
    """
    varied = [offer for offer in each.offers if offer.candidate.enough_unit or len(offer.candidate.sizes) > 1]
    if not varied:
        return each
    last = min(varied, key=_varied_first)
    rest = tuple(offer for offer in each.offers if offer is not last)
    try:
        start = with_changes(line.start, rest)
        before = replace(
            line, start=start, now=line.after(start), zeros={}, solved={}, judged={}, candidates={}
        )
        return _in_size_needed(each, rest, last, before, line)
    except (ValueError, KeyError):
        return each  # they cannot be made in this order


def _varied_first(offer: Offer) -> tuple[bool, bool]:
    return offer.candidate.kind is not FixKind.TEMPERATURE, not offer.candidate.continuous


def _in_size_needed(each: Together, rest: Group, last: Offer, before: Line, line: Line) -> Together:
    """The set with its last change no larger than needed, or as it is where no smaller one is ample."""
    candidate = last.candidate
    for size in _smaller(last, before):
        layout = candidate.edit(before.start, size)
        after = line.after(layout)
        as_good = after.spare >= 0 or (candidate.continuous and after.margin >= each.after.margin - 2 * FLAT)
        if as_good and after.sound and not file.check(layout) and not harms_another(line, after):
            offers = (*rest, replace(last, size=size))
            return Together(offers, after, *_sizes(last, before))
    layout = candidate.edit(before.start, last.size)
    after = line.after(layout)
    if abs(after.margin - each.after.margin) > NOTHING or file.check(layout) or harms_another(line, after):
        return each  # made last, it does something else
    return Together((*rest, last), after, *_sizes(last, before))


def _smaller(offer: Offer, before: Line) -> Iterator[float]:
    """Sizes to try in turn instead of the one that is offered."""
    candidate = offer.candidate
    if candidate.continuous:
        ample = size_where(candidate, before, spare) if before.now.spare < 0 else None
        if ample is not None:
            yield rounded(candidate, ample)
            yield ample
        elif before.now.spare < 0 and (most_gained := size_of_all_gain(candidate, before)) is not None:
            yield rounded(candidate, most_gained)
    else:
        yield from candidate.sizes[: candidate.sizes.index(offer.size)]


def _sizes(offer: Offer, before: Line) -> Iterator[str]:
    """The sizes that leave no margin, an ample one, and no fluid too fast, with what is varied by them."""
    for measure in (margin, spare, slowness):
        text = size_text(offer.candidate, before, measure)
        yield f"{_measured(offer.candidate)} {text}" if text else ""


def _measured(candidate: Candidate) -> str:
    """What a size of a change measures: "flow", "port at"."""
    if candidate.enough_unit is Kind.FLOW:
        return "flow"
    return MEASURED.get(candidate.kind, str(candidate.kind))
