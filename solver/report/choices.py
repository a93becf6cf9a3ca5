"""Which of the changes that were solved to recommend, pump by pump, so that they can be made together; and
why another one that is enough as well is not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, PumpInCase, PumpState, is_thin, judge, stops
from solver.fixes.aims import Remedy
from solver.fixes.fixes import Advice, Fix
from solver.fixes.overhead import Overhead
from solver.fixes.remedies import named_first
from solver.layout import raw
from solver.layout.changes import partial
from solver.layout.drawing import layout_of
from solver.layout.keys import PARTS
from solver.layout.parts import Layout, Level
from solver.layout.reading import KeyPlace
from solver.ledger.sentences import limit_unknown, sentence_of_pump
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System

AdviceByPump = Mapping[str, Advice]
"""What was solved for each pump."""

MOST_TRIED = 8
"""Changes that are judged for all pumps, where those of two pumps exclude one another."""


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A change that would be enough for a pump as well, and what speaks for the one that is recommended."""

    fix: Fix
    but: str  # the end of a sentence: "it buys less"


@dataclass(frozen=True, slots=True)
class Choice:
    """What to recommend for one pump that lacks margin."""

    fix: Fix | None  # None where nothing gains anything, or goes with what is recommended for another
    serves: str = ""  # the pump for which the change is made that does for this one as well
    then: PumpInCase | None = None  # where this one stands worst with that change
    excluded: bool = False  # whether all that would be enough excludes what another pump gets
    overhead: Overhead | None = None  # what it would take from above, where no change is enough
    passed_over: PassedOver | None = None  # what is named first against its being over, and not recommended


def undoes(fix: Fix, layout: Layout, base: Layout | None) -> bool:
    """Whether a change takes out a part that an alternative, the layout, has added to its base or changed."""
    if base is None:
        return False
    for kept, old, new in (
        (fix.layout.runs, base.runs, layout.runs),
        (fix.layout.intakes, base.intakes, layout.intakes),
        (fix.layout.fittings, base.fittings, layout.fittings),
    ):
        if any(name not in kept and old.get(name) != part for name, part in new.items()):
            return True
    return False


def worst_places(judgement: Judgement) -> list[tuple[str, PumpInCase]]:
    """Each pump where it stands worst, the worst of them first."""
    worst: dict[str, PumpInCase] = {}
    for place in judgement.pumps_in_cases:
        worst.setdefault(place.pump, place)
    return list(worst.items())


def lacks(place: PumpInCase) -> bool:
    """Whether anything is lacking of a sound and ample margin."""
    return place.pump_state is not PumpState.WITHIN


def is_over(place: PumpInCase) -> bool:
    """Whether a pump is over, or its column breaks."""
    return place.pump_state in (PumpState.BREAKS, PumpState.OVER)


def stop_of(judgement: Judgement, place: PumpInCase) -> Finding | None:
    """What keeps a pump from running that is within its budget."""
    if place.pump_state is not PumpState.UNFIT:
        return None
    return next((each for each in judgement.findings_by_case[place.case] if stops(place.ledger, each)), None)


def best_fix(advice: Advice | None) -> Fix | None:
    """The change to recommend; None where nothing gains anything.

    What is enough goes first, then what is no last resort, what makes nothing worse, what is ample, what
    leaves least of all other findings, and what gains most.
    """
    return min(_every(advice), key=_preference, default=None)


def _every(advice: Advice | None) -> tuple[Fix, ...]:
    return () if advice is None else (*advice.fixes, *advice.together)


def _preference(fix: Fix) -> tuple[bool, bool, bool, bool, bool, int, float]:
    """Sorts the change to recommend first: none that brings a stop where another is enough."""
    return (
        not fix.is_enough,
        not fix.cures,
        bool(fix.only),
        bool(fix.worsens),
        fix.spare < 0,
        len(fix.leaves),
        -fix.gain,
    )


def choices_of(
    judgement: Judgement, advice: AdviceByPump, base: Layout | None, level: Level | None = None
) -> Mapping[str, Choice]:
    """What to recommend for each pump that lacks margin, the worst first.

    A change that does for further pumps is made once; two that put different things in one place, as two
    fluids in one tank, are never recommended together.
    Parameters: `base` that an alternative is laid over; `level` it was judged at, of its cases if not given.
    """
    lacking = [
        place
        for _, place in worst_places(judgement)
        if lacks(place) and stop_of(judgement, place) is None and not limit_unknown(place.ledger)
    ]
    every = {place.pump: _ranked(judgement, advice.get(place.pump), base) for place in lacking}
    after = _Judging(judgement, level)
    each_its_own = _one_by_one(lacking, every, after, strict=True)
    restored = any(choice.fix is not None and choice.fix.as_drawn for choice in each_its_own.values())
    thin = not restored and any(after.leaves_thin(choice.then) for choice in each_its_own.values())
    chosen = (
        (thin and _one_for_all(lacking, every, after, ample=True))
        or each_its_own
        or _without_last_resorts(lacking, every, after)
    )
    return {
        place.pump: choice
        if (choice := chosen[place.pump]).serves or place.pump not in advice
        else replace(
            choice,
            overhead=advice[place.pump].overhead,
            passed_over=_passed_over(choice, place, advice[place.pump], chosen, base, after),
        )
        for place in lacking
    }


def _without_last_resorts(
    lacking: Sequence[PumpInCase], every: Mapping[str, Sequence[Fix]], after: _Judging
) -> dict[str, Choice]:
    """One change that does for every pump; where it is a last resort, changes that are enough together."""
    shared = _one_for_all(lacking, every, after, ample=False)
    apart = _one_by_one(lacking, every, after, strict=False)
    if not shared:
        return apart
    last_resort = any(choice.fix is not None and choice.fix.only for choice in shared.values())
    fixes = [choice.fix for choice in apart.values() if not choice.serves]
    enough = [fix for fix in fixes if fix is not None and fix.is_enough and not fix.only]
    return apart if last_resort and len(enough) == len(fixes) and after.sound_with(enough) else shared


def _passed_over(
    choice: Choice,
    place: PumpInCase,
    advice: Advice,
    chosen: Mapping[str, Choice],
    base: Layout | None,
    after: _Judging,
) -> PassedOver | None:
    """The first change that what is found of a pump names and that is enough, if it is another one."""
    fix = choice.fix
    if fix is None or not fix.is_enough or not is_over(place):
        return None
    other = next((each for each in named_first(advice.fixes) if each.is_enough and each is not fix), None)
    if other is None or other.only:
        return None
    further = [each.fix for each in chosen.values() if each.fix is not None and each.fix is not fix]
    but = next(_against(other, fix, further, base, after), "")
    return PassedOver(other, but) if but else None


def _against(
    other: Fix, fix: Fix, further: Sequence[Fix], base: Layout | None, after: _Judging
) -> Iterator[str]:
    """What speaks against a change beside the one that is recommended, what weighs most first.

    further: what is recommended for other pumps.
    """
    if fix.as_drawn and not other.as_drawn:
        yield "it leaves what has suffered as it is"
    if undoes(other, after.layout, base) and not undoes(fix, after.layout, base):
        yield "it takes out what the alternative adds"
    if any(after.excludes(other, each) for each in further):
        yield f"it cannot be built together with what is recommended for {further[0].pump}"
    if other.worsens and not fix.worsens:
        yield f"then: {other.worsens[0]}"
    if other.spare < 0 <= fix.spare:
        yield "its margin would be thin"
    yield from after.left_over(other, fix)
    more = [text for text in other.leaves if text not in fix.leaves]
    if more and len(other.leaves) > len(fix.leaves):
        yield f"it leaves open: {more[0]}"
    if other.gain < fix.gain:
        yield "it buys less"


def _ranked(judgement: Judgement, advice: Advice | None, base: Layout | None) -> list[Fix]:
    """Changes for a pump, those to recommend first: of what is enough first what has suffered put back as
    drawn, then what leaves an alternative whole."""
    layout = judgement.layout
    return sorted(
        _every(advice),
        key=lambda fix: (not fix.is_enough, not fix.as_drawn, undoes(fix, layout, base), *_preference(fix)),
    )


def level_of(judgement: Judgement) -> Level:
    """The level that a drawing was judged at, where its cases name none."""
    solved = (case.solution for case in judgement.cases.values() if case.solution is not None)
    return next((each.level for each in solved), Level.MINIMUM)


class _Judging:
    """The drawing with a change made, judged for all its pumps once it is asked for."""

    def __init__(self, judgement: Judgement, level: Level | None) -> None:
        self._level = level if level is not None else level_of(judgement)
        self._before = judgement
        self._known: dict[int, tuple[Fix, Judgement | None]] = {}  # with the fix, which keeps its id

    def does(self, fix: Fix, place: PumpInCase) -> PumpInCase | None:
        """Where another pump stands worst with a change, if that does for it: one that is over is sound
        then, of one with a thin margin it is thin no more."""
        after = self._after(fix)
        then = None if after is None or len(after.not_judged) > len(self._before.not_judged) else (
            after.worst(place.pump)
        )  # fmt: skip
        if then is None:
            return None
        return then if not lacks(then) or (is_over(place) and not is_over(then)) else None

    @property
    def layout(self) -> Layout:
        """The drawing as it is judged."""
        return self._before.layout

    def left_over(self, other: Fix, fix: Fix) -> Iterator[str]:
        """Pumps that stay over with one change, and are not with another."""
        system, judged = System(self.layout.units), [self._after(each) for each in (other, fix)]
        if judged[0] is None or judged[1] is None:
            return
        for pump, place in worst_places(judged[0]):
            then = judged[1].worst(pump)
            if pump != fix.pump and is_over(place) and then is not None and not is_over(then):
                yield f"{sentence_of_pump(place.ledger, system)} then"

    def sound_with(self, fixes: Sequence[Fix]) -> bool:
        """Whether every pump is sound, in as many cases, with several changes made together."""
        layout = laid_together(self.layout, fixes)
        if layout is None:
            return False
        try:
            judgement = judge(layout, self._level)
        except (NetworkError, FluidError):
            return False
        whole = len(judgement.not_judged) <= len(self._before.not_judged)
        return whole and not any(map(is_over, judgement.pumps_in_cases))

    def leaves_thin(self, then: PumpInCase | None) -> bool:
        """Whether a pump that a change does for has a thin margin then."""
        return then is not None and is_thin(then.ledger, self._before.criteria)

    def excludes(self, first: Fix, second: Fix) -> bool:
        """Whether two changes cannot both be made: they put different things in one place."""
        return _contradict(*(fix.alternative(self._before.layout) for fix in (first, second)))

    def _after(self, fix: Fix) -> Judgement | None:
        if id(fix) not in self._known:
            try:
                self._known[id(fix)] = fix, judge(fix.layout, self._level)
            except (NetworkError, FluidError):
                self._known[id(fix)] = fix, None
        return self._known[id(fix)][1]


def _one_by_one(
    lacking: Sequence[PumpInCase], every: Mapping[str, Sequence[Fix]], after: _Judging, *, strict: bool
) -> dict[str, Choice]:
    """The best change of each pump for which no other one does.

    Where that excludes one of a pump that stands worse: {} if it is looked for strictly, else the next best
    that does not.
    """
    chosen: dict[str, Choice] = {}
    recommended: list[Fix] = []
    for place in lacking:
        served = ((fix, then) for fix in recommended if (then := after.does(fix, place)) is not None)
        if (shared := next(served, None)) is not None:
            chosen[place.pump] = Choice(shared[0], shared[0].pump, shared[1])
            continue
        fixes = every[place.pump]
        free = [fix for fix in fixes if not any(after.excludes(fix, each) for each in recommended)]
        if strict and fixes[:1] != free[:1]:
            return {}
        best = next((fix for fix in free if fix.is_enough or not fixes[0].is_enough), None)
        chosen[place.pump] = Choice(best, excluded=bool(fixes) and best is None)
        recommended += [best] if best is not None else []
    return chosen


def _one_for_all(
    lacking: Sequence[PumpInCase], every: Mapping[str, Sequence[Fix]], after: _Judging, *, ample: bool
) -> dict[str, Choice]:
    """One change that does for every pump; {} where none of those tried does.

    ample: it is no last resort, and leaves no margin thin.
    """
    curing = (fix for place in lacking for fix in every[place.pump] if fix.is_enough)
    fixes = (fix for fix in curing if not ample or (fix.spare >= 0 and not fix.only))
    for fix in sorted(fixes, key=_preference)[:MOST_TRIED]:
        states = {place.pump: after.does(fix, place) for place in lacking if place.pump != fix.pump}
        enough = (then is not None and not (ample and after.leaves_thin(then)) for then in states.values())
        if all(enough):
            shared = {pump: Choice(fix, fix.pump, then) for pump, then in states.items()}
            return {place.pump: shared.get(place.pump, Choice(fix)) for place in lacking}
    return {}


def laid_together(layout: Layout, changes: Sequence[Fix | Remedy]) -> Layout | None:
    """A drawing with several changes made; None where they exclude one another or make no drawing."""
    together: Mapping[str, Any] = raw.to_raw(layout)
    partials = [partial({}, layout, each.layout, each.text) for each in changes]
    if any(_contradict(first, second) for first, second in combinations(partials, 2)):
        return None
    for each in partials:
        together = raw.lay_over(together, each)
    return layout_of(together, KeyPlace((), []), ())


def _contradict(first: Mapping[str, Any], second: Mapping[str, Any]) -> bool:
    """Whether two partial drawings give one thing different values, or one takes out what the other has."""
    old, new = dict(_figures(first, ())), dict(_figures(second, ()))
    if any(new.get(path, value) != value for path, value in old.items()):
        return True
    gone, further = (set(each.get("without", ())) for each in (first, second))
    return bool(gone & _named(new) or further & _named(old))


def _figures(table: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every figure of a partial drawing, by the keys that lead to it."""
    for key, value in table.items():
        if not path and key in ("note", "without"):
            continue
        if isinstance(value, Mapping):
            yield from _figures(value, (*path, key))
        else:
            yield (*path, key), value


def makes(layout: Layout, fix: Fix, drawn: Layout) -> bool:
    """Whether an alternative makes a change to the drawing, among others that it makes."""
    change, built = fix.alternative(drawn), raw.to_full_raw(layout)
    known, gone = dict(_figures(built, ())), set(change.get("without", ()))
    parts, left = ({name for group in PARTS for name in each.get(group, ())} for each in (
        raw.to_full_raw(drawn), built,
    ))  # fmt: skip
    kept = all(path in known and raw.same(value, known[path]) for path, value in _figures(change, ()))
    return kept and gone <= parts - left


def _named(figures: Mapping[tuple[str, ...], Any]) -> set[str]:
    """The parts and tables that hold figures."""
    return {name for path in figures for name in path[:-1]}
