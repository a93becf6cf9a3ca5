"""What explains the readings of one visit, in words.

How likely each cause is, what speaks for and against it, and what to look at next.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, islice

from solver.field import aeration, earlier, explain, looks, next_step, put_in, signs, trend, trials
from solver.field.air import Air
from solver.field.air import air as air_of
from solver.field.causes import AIR, Cause, CauseKind, causes
from solver.field.caveats import caveats
from solver.field.compared import Comparison, compare
from solver.field.earlier import Before, Fitted
from solver.field.evidence import evidence
from solver.field.explain import Explained, Explanation
from solver.field.headline import headline, is_starved, stop_words
from solver.field.signs import Sign
from solver.field.states import Reading
from solver.field.stopping import newest
from solver.field.trend import Trend
from solver.field.trials import NextStep, Trial
from solver.field.visits import name_of, untimed_before, visit_name, visit_of, visits
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, typeset

MOST = 6
"""Causes that are shown as likely; the others fit less well than all of them."""

NEGLIGIBLE = 0.01
"""Share of all that explains the readings, below which a cause that fits is not shown among those."""

STEPS, OTHERWISE = 3, "Where that cannot be done"
"""Things to look at next that are named, the cheapest first; and what leads to those after it."""

NO_SIZE_TO_PUT_IN = "how large it is cannot be read from a gauge at such a vacuum"


class NothingToExplainError(ValueError):
    """No reading of a pump can be explained, and why."""


@dataclass(frozen=True)
class CauseWords:
    """One cause in words."""

    explanation: Explanation
    name: str
    word: str  # "far likelier", "likelier", "cannot be distinguished", "possible", "cannot"
    size: str  # with its band; "" where it has none
    evidence_for: tuple[str, ...]
    evidence_against: tuple[str, ...]
    neutral: tuple[str, ...]  # readings that it moves not at all, or hardly nearer
    not_put_in: str = ""  # why `put_in` can make no case or alternative of it; "" where it can

    @property
    def may_put_in(self) -> bool:
        """Whether `put_in` can make a case or an alternative of it."""
        return not self.not_put_in


@dataclass(frozen=True)
class Diagnosis:
    """What is to be said of the readings of one visit to one pump."""

    pump: str
    visit: str  # its date, or the first and the last
    comparisons: tuple[Comparison, ...]  # that were explained together
    not_used: tuple[Comparison, ...]  # of the same visit, which say why not
    explained: Explained
    signs: tuple[Sign, ...]
    headline: str
    beneath: tuple[str, ...]  # what belongs right under it
    causes: tuple[CauseWords, ...]  # the likeliest first
    steps: tuple[NextStep, ...]  # what to look at next, the cheapest first
    caveats: tuple[str, ...]
    has_earlier_stop: bool = False  # an earlier visit says stop and still counts

    @property
    def next(self) -> NextStep | None:
        """The cheapest thing to look at next; None where there is none."""
        return self.steps[0] if self.steps else None

    @property
    def stop(self) -> bool:
        """Whether any reading is past what is allowed here, or one of an earlier visit that still counts."""
        return self.has_earlier_stop or any(each.stop for each in self.comparisons)


def diagnose(layout: Layout, pump: str, line: str = "", numbers: Collection[int] | None = None) -> Diagnosis:
    """What explains readings of one pump's line.

    line: the alternative that `layout` is, "" for the drawing itself. numbers: the places in the file of
    readings that are explained together; None: those of the latest visit.
    Raises NothingToExplainError where none of them can be compared.
    """
    every = visits(layout, pump, line)
    latest = every[-1] if every else ()
    numbers = latest if numbers is None else numbers
    compared = compare(layout, line)
    mine = [each for each in compared if each.logged.pump == pump]
    chosen = [each for each in mine if each.number in numbers]
    used = tuple(each for each in chosen if each.compared)
    not_used = tuple(each for each in chosen if not each.compared)
    if not used:
        raise NothingToExplainError(_nothing_used(layout, pump, line, not_used, compared, numbers is latest))
    long = trend.long_trends(layout, pump, line) if set(numbers) & set(latest) else ()
    whole = visit_of(layout, chosen[0].number)
    one = {each.number for each in chosen} <= set(whole)
    visit = name_of(layout, whole[0]) if one else visit_name(each.logged for each in chosen)
    before = earlier.fitted(layout, mine, chosen)
    untimed = untimed_before(layout, chosen[0].number)
    now = set(numbers) & set(latest)
    held = bool(now and newest(layout, [pump], line, compared.__getitem__).earlier)
    diagnosis = _diagnosed(layout, pump, visit, used, not_used, long, untimed, before, held)
    first = diagnosis.causes[0]
    if not now or first.explanation.cause is not CauseKind.SCREEN:
        return diagnosis
    beside = _by_newest(trend.trends(layout, pump, line), first.explanation.part, first.size)
    return replace(diagnosis, beneath=(*diagnosis.beneath, *beside))


def _by_newest(several: Sequence[Trend], screen: str, size: str) -> Iterator[str]:
    """That what a whole visit says of a screen and what its newest reading alone does are two figures, and
    which of them counts; nothing where they are one.

    size: what the visit says, as "75 to 82 % blocked".
    """
    bands = [(*trend.newest_blocked(each), each.points[-1].bound_only) for each in several
             if each.screen == screen and each.points]  # fmt: skip
    low, high, bound_only = max(bands, key=lambda each: each[1], default=(0.0, 0.0, False))
    share = trend.share_words(low, high, bound_only)
    if bands and size and not size.startswith(share):
        yield (
            f"{size} is by all readings of the visit together; by the newest alone it is {share}: where the "
            f"line is judged as read, {screen} counts as {high * 100:.0f} % blocked, the worst of that."
        )


def _nothing_used(
    layout: Layout,
    pump: str,
    line: str,
    not_used: Sequence[Comparison],
    compared: Sequence[Comparison],
    is_latest: bool,
) -> str:
    """Why no reading of a visit can be explained, and that an earlier stop still counts where one does."""
    if not not_used:
        return f"there is no reading of {pump} on this line"
    reasons = dict.fromkeys(each.why_not or "no vacuum was noted" for each in not_used)
    days = visit_name(each.logged for each in not_used)
    visit = f"the latest visit ({days})" if is_latest else f"the visit of {days}"
    why = f"none of the readings of {visit} can be compared: {'; '.join(reasons)}"
    held = is_latest and newest(layout, [pump], line, compared.__getitem__).earlier
    return f"{why}. {stop_words(past=False, held=True)}".removesuffix(".") if held else why


def _diagnosed(
    layout: Layout,
    pump: str,
    visit: str,
    used: tuple[Comparison, ...],
    not_used: tuple[Comparison, ...],
    long: tuple[Trend, ...],
    untimed: str,
    fitted: tuple[Fitted, ...],
    held: bool,
) -> Diagnosis:
    system = System(layout.units)
    readings = [each.reading for comparison in used for each in comparison.compared]
    past = any(each.stop for each in used)
    stop = past or held
    logged = [each.logged for each in (*used, *not_used)]
    noted = signs.signs(logged, past)
    air = _air(readings) if any(sign.air for sign in noted) else None
    unseen = aeration.air_causes(air) if air is not None else ()
    noted += aeration.drawn_signs(air, system) if air is not None else ()
    due, grown = trend.due_screens(layout, long), trend.grown_screens(long)
    explained, before = earlier.reweighed(explain.explain(readings, signs.odds_of(noted), unseen), fitted)
    ledger = solve(readings[0].layout, readings[0].level).pumps[pump]
    listed = (*causes(readings[0].layout, ledger, readings), *unseen)
    shown = _shown(explained)
    words = tuple(_words(each, explained, readings, noted, layout, before, grown) for each in shown)
    if is_starved(readings):
        words = tuple(replace(each, size="", not_put_in=NO_SIZE_TO_PUT_IN) for each in words)
    done = trials.tried(logged)
    others = _others(explained, done)
    second = others[0] if others else None
    steps, split = _steps(explained, others, readings, listed, system, stop, done)
    first_line, beneath = headline(explained, words[0].size, readings, second, stop_words(past, held), due)
    clash = signs.contradiction(logged)
    more = (
        *((f"{clash}: neither counts.",) if clash else ()),
        *_not_shown(explained, shown),
        *caveats(explained, air, steps, (second, split), readings, done, stop, untimed),
    )
    return Diagnosis(
        pump, visit, used, not_used, explained, noted, first_line, beneath, words, steps, more, held
    )


def _steps(
    explained: Explained,
    others: Sequence[Explanation],
    readings: Sequence[Reading],
    listed: Sequence[Cause],
    system: System,
    stop: bool,
    done: Collection[Trial],
) -> tuple[tuple[NextStep, ...], Explanation | None]:
    """What to look at next, the cheapest first, and the cause that it splits from the likeliest one."""
    first, second = explained.explanations[0], others[0] if others else None
    alone = second is None and first.cause is not CauseKind.NOTHING  # the one listed cause that fits
    if explained.word == "none of these" or (alone and explained.word != "far likelier"):
        return tuple(islice(next_step.narrowing(readings, system, stop, done), STEPS)), None
    pressed, sure = next_step.is_pressed(readings[0]), explained.word == "far likelier"
    for split in others:
        observed: Iterable[NextStep] = ()  # of what is far likelier only a look is left, which confirms it
        if not sure:
            observed = next_step.next_steps(readings, first, split, listed, system, stop, done)
        sound = first.cause is CauseKind.NOTHING  # no machine is taken apart for that
        looked = () if sound else looks.looks(first, split, system, pressed, sure)
        steps = tuple(islice(chain(observed, looked), STEPS))
        if steps:
            return steps, split
    if alone and sure:  # nothing else fits: its own part is looked at all the same
        other = Explanation(CauseKind.UNLISTED, "")
        return tuple(islice(looks.looks(first, other, system, pressed, sure=True), STEPS)), None
    return (), others[-1] if others else None


def _shown(explained: Explained) -> list[Explanation]:
    likely = [each for each in explained.explanations if each.weight >= NEGLIGIBLE][:MOST]
    rest = [each for each in explained.explanations if each not in likely and each.second is None]
    return [*likely, *sorted(rest, key=lambda each: not each.fits)]


def _not_shown(explained: Explained, shown: Sequence[Explanation]) -> Iterator[str]:
    """What is left of all that explains the readings, so that the shares add up."""
    left = 1.0 - math.fsum(each.weight for each in shown)
    if left >= NEGLIGIBLE:
        share = typeset(left, Kind.SHARE, System.SI)
        yield f"Other pairs of causes, each less likely than those: {share} in all."


def _air(readings: Sequence[Reading]) -> Air:
    """Where air can come in, in the state of the first reading with the pump running."""
    running = next((each for each in readings if not each.resting), readings[0])
    return air_of(solve(running.layout, running.level), running.place.pump)


def _others(explained: Explained, done: Collection[Trial]) -> list[Explanation]:
    """The likeliest cause that is another than the first and could be looked for, then others that may be.

    While a jar has not shown whether there is air at all, one way of drawing it is held against what is none.
    """
    first = explained.explanations[0]
    no_air = first.cause in AIR and Trial.JAR not in done
    if first.cause is CauseKind.UNLISTED:
        return []
    others = list[Explanation]()
    names = {first.name} | ({first.second.name} if first.second else set())
    for each in explained.explanations[1:]:
        halves = {each.name.partition(", with ")[0]} | ({each.second.name} if each.second else set())
        passed = each.cause is CauseKind.UNLISTED or (no_air and each.cause in AIR)
        likely = not others or each.weight >= explain.POSSIBLE
        if not passed and each.fits and likely and not halves & names:
            others.append(each)
    return others


def _words(
    each: Explanation,
    explained: Explained,
    readings: Sequence[Reading],
    noted: Sequence[Sign],
    layout: Layout,
    before: Before,
    grown: Mapping[str, str],
) -> CauseWords:
    system = System(layout.units)
    word = explained.word if each is explained.explanations[0] else "possible" if each.fits else "cannot"
    read = evidence(each, explained, readings, system)
    evidence_for, against = list(read.speaks_for), list(read.speaks_against)
    for sign in noted if each.second is None else ():
        shifts = [shift for kind, shift in sign.odds if kind is each.cause]
        evidence_for += [sign.words] if any(shift >= 1.0 for shift in shifts) else []
        against += [sign.words] if any(shift < 1.0 for shift in shifts) else []
    evidence_for += [before.speaks_for[each.name]] if each.name in before.speaks_for else []
    against += [before.speaks_against[each.name]] if each.name in before.speaks_against else []
    against += _by_bypass(each, explained, layout)
    if each.cause is CauseKind.SCREEN and each.second is None and each.part in grown:
        against.append(grown[each.part])
    return CauseWords(
        each,
        each.name,
        word,
        _size(each, system),
        tuple(evidence_for),
        tuple(against),
        read.neutral,
        _not_put_in(each, layout),
    )


def _by_bypass(each: Explanation, explained: Explained, layout: Layout) -> Iterator[str]:
    """That a screen cannot explain the readings by its bypass as it is drawn alone, where that is so."""
    parts = {other.part for other in explained.explanations if other.cause is CauseKind.STUCK}
    if each.cause is not CauseKind.SCREEN or each.second is not None or each.fits or each.part not in parts:
        return
    screen = layout.screen(each.part)
    assert screen is not None
    assert screen.bypass is not None
    opens = typeset(screen.bypass.si, Kind.PRESSURE, System(layout.units))
    yield f"its bypass as drawn, which opens at {opens}, lets no more build up: see whether it does open"


def _size(each: Explanation, system: System) -> str:
    halves = [half for half in (each, each.second) if half is not None]
    return "; ".join(filter(None, (_size_of_one(half, system) for half in halves)))


def _size_of_one(each: Explanation, system: System) -> str:
    if not each.predicted or not put_in.size_text(each, each.size, system):
        return ""
    low, high = sorted((each.low, each.high))
    least = put_in.size_text(each, each.low, system)
    if each.bound_only:
        return f"{least} or more: a larger one would read the same"
    if each.at_end:
        more, larger = ("more", "larger") if each.high > each.low else ("less", "smaller")
        return f"{least}, or {more}; nothing {larger} was tried"
    return put_in.range_text(each, low, high, system)


def against_trend(diagnosis: Diagnosis, screen: str) -> str:
    """Why what a trend shows may be nothing of its screen: another cause is likelier; "" where none is."""
    first, *_ = diagnosis.explained.explanations
    halves = [half for half in (first, first.second) if half is not None]
    screens = (CauseKind.SCREEN, CauseKind.STUCK)
    if first.cause is CauseKind.NOTHING or any(half.cause in screens for half in halves):
        return ""
    share = sum(
        each.weight
        for each in diagnosis.explained.explanations
        if (each.cause, each.part, each.second) == (CauseKind.SCREEN, screen, None)
    )
    one, other = (typeset(each, Kind.SHARE, System.SI) for each in (first.weight, share))
    return (
        f"By the readings of {diagnosis.visit} {screen} is not the likeliest cause: {first.name} ({one}), a "
        f"blocked {screen} {other}. What is shown as blocked may be that, and the dates are then none of "
        f"{screen}."
    )


def _not_put_in(each: Explanation, layout: Layout) -> str:
    """Why a cause is not put into the drawing; "" where it can be."""
    if not each.fits:
        return "it does not give the readings"
    try:
        put_in.put_in(layout, each)
    except ValueError as error:
        return str(error)
    return ""
