"""Which of the changes that were solved to recommend, pump by pump, so that they can be made together; and
whether an alternative is to be built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, PumpInCase, PumpState, is_thin, judge, stops
from solver.fixes.fixes import Advice, Fix
from solver.fixes.overhead import Overhead
from solver.layout.cases import cases_of, only_changes_missing_parts
from solver.layout.differences import differences
from solver.layout.parts import FluidChoice, Layout, Level, Pump
from solver.ledger.sentences import limit_unknown
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees

AdviceByPump = Mapping[str, Advice]
"""What was solved for each pump."""

MOST_TRIED = 8
"""Changes that are judged for all pumps, where those of two pumps exclude one another."""

CONDITIONS = ("fluid: ", "site: ")
"""How a difference begins that is no other line, but something else asked of it; the fluid first."""

BUILT_OF = ("reservoirs", "intakes", "fittings", "tees", "runs")
"""The groups of parts that a line is built of, besides its pumps."""

LARGER = 1.001
"""Times the flow of a pump from which on it takes in more."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What to recommend for one pump that lacks margin."""

    fix: Fix | None  # None where nothing gains anything, or goes with what is recommended for another
    serves: str = ""  # the pump for which the change is made that does for this one as well
    then: PumpInCase | None = None  # where this one stands worst with that change
    excluded: bool = False  # whether all that would be enough excludes what another pump gets
    overhead: Overhead | None = None  # what it would take from above, where no change is enough


@dataclass(frozen=True, slots=True)
class JudgedDrawing:
    """The drawing as it stands or an alternative, judged, with the fixes that were solved for each pump."""

    name: str  # of the alternative; "" for the drawing itself
    judgement: Judgement
    advice: AdviceByPump
    base: Layout | None = None  # that the alternative is laid over; None for the drawing itself
    choices: Mapping[str, Choice] | None = None  # by pump; None where they are still to be made
    note: str = ""  # that the alternative has

    @property
    def called(self) -> str:
        """Its name in a sentence."""
        return f'"{self.name}"' if self.name else "the drawing as it stands"

    @property
    def chosen(self) -> Mapping[str, Choice]:
        """What to recommend for each pump that lacks margin."""
        if self.choices is not None:
            return self.choices
        return choices_of(self.judgement, self.advice, self.base)


def better(before: Judgement, after: Judgement) -> bool:
    """Whether the worst of the cases that both have is less bad, with no more cases that were not judged."""
    worst, then = before.worst(cases=after.cases), after.worst()
    if then is None or len(after.not_judged) > len(before.not_judged):
        return False
    if missing_cases(before, after) and worst is None:
        return False
    return worst is None or then.order > worst.order


def missing_cases(before: Judgement, after: Judgement) -> tuple[str, ...]:
    """The cases of a drawing that an alternative, or another drawing, has not.

    One that only changes parts or screens which are gone there is none of them: it would change nothing.
    """
    known = cases_of(before.layout)
    return tuple(
        name
        for name in before.cases
        if name not in after.cases
        and not (name in known and only_changes_missing_parts(after.layout, before.layout, known[name]))
    )


def other_conditions(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """What an alternative asks of the line that the drawing does not: another fluid, site, or more flow."""
    changed = differences(before.layout, after.layout, system)
    fluid = tuple(_of_fluid(before.layout.fluid, after.layout.fluid, system))
    others = (text for text in changed if text.startswith(CONDITIONS[len(fluid) > 0 :]))
    return (*fluid, *others, *_more_flow(before, after, system))


def _of_fluid(old: FluidChoice, new: FluidChoice, system: System) -> Iterator[str]:
    """How what is pumped differs, where that is its name or how warm it is."""
    if old.name != new.name:
        yield f"{new.name} in place of {old.name}"
    for text, was, now in (
        ("the fluid at", old.temperature, new.temperature),
        ("starts at", old.coldest_start, new.coldest_start),
    ):
        if now is not None and (was is None or was.si != now.si):
            other = "" if was is None else f" in place of {degrees(was.si, system)}"
            yield f"{text} {degrees(now.si, system)}{other}"


def _more_flow(before: Judgement, after: Judgement, system: System) -> Iterator[str]:
    for pump, flow in _flows(after).items():
        was = _flows(before).get(pump, flow)
        if flow > LARGER * was:
            now, old = (typeset(each, Kind.FLOW, system) for each in (flow, was))
            yield f"{now} into {pump} in place of {old}"


def _flows(judgement: Judgement) -> dict[str, float]:
    """The most that each pump takes in [m³/s], in any case."""
    flows: dict[str, float] = {}
    for place in judgement.pumps_in_cases:
        flows[place.pump] = max(place.ledger.flow, flows.get(place.pump, 0.0))
    return flows


def does_for(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """The other conditions for which an alternative that leaves less margin is enough; () where it is not."""
    lacking = len(after.not_judged) > len(before.not_judged) or missing_cases(before, after)
    if better(before, after) or lacking or after.worst() is None or not after.sound:
        return ()
    return other_conditions(before, after, system)


def for_other_conditions(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """For what to build an alternative that leaves less margin, though enough; () where it is not so, or
    there is nothing to build."""
    return does_for(before, after, system) if rebuilds(before.layout, after.layout) else ()


def rebuilds(before: Layout, after: Layout) -> bool:
    """Whether an alternative changes anything that is built: not only the fluid, the site, or how a pump is
    run."""
    if any(getattr(before, group) != getattr(after, group) for group in BUILT_OF):
        return True
    pumps = ({name: _as_built(pump) for name, pump in each.pumps.items()} for each in (before, after))
    return next(pumps) != next(pumps)


def _as_built(pump: Pump) -> Pump:
    return replace(pump, flow=None, speed=None, at_rest=False)


def advised_on(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> JudgedDrawing:
    """What changes are worked out for: the alternative where it is better, or for other conditions; else the
    drawing as it stands, as where a fault of it is put right and that is enough."""
    if after is None or is_mended(before):
        return before
    wanted = better(before.judgement, after.judgement)
    return after if wanted or for_other_conditions(before.judgement, after.judgement, system) else before


def to_build(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> JudgedDrawing:
    """What is recommended: what is advised on, unless what is enough would not be built on it."""
    chosen = advised_on(before, after, system)
    return before if chosen is after and is_replaced(chosen) else chosen


def is_mended(drawn: JudgedDrawing) -> bool:
    """Whether a drawing lacks margin by its faults alone: what is wrong put right as drawn is enough."""
    lacking = [pump for pump, place in worst_places(drawn.judgement) if lacks(place)]
    fixes = [choice.fix for pump in lacking if (choice := drawn.chosen.get(pump)) is not None]
    return bool(fixes) and all(fix is not None and fix.as_drawn and fix.cures for fix in fixes)


def is_replaced(chosen: JudgedDrawing) -> bool:
    """Whether an alternative is not enough, and what is enough would not be built on it."""
    over = [pump for pump, place in worst_places(chosen.judgement) if is_over(place)]
    fixes = [choice.fix for pump in over if (choice := chosen.chosen.get(pump)) and choice.fix is not None]
    return any(undoes(fix, chosen.judgement.layout, chosen.base) for fix in fixes)


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


def _preference(fix: Fix) -> tuple[bool, bool, bool, bool, int, float]:
    """Sorts the change to recommend first."""
    return not fix.cures, bool(fix.only), bool(fix.worsens), fix.spare < 0, len(fix.leaves), -fix.gain


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
        or _one_for_all(lacking, every, after, ample=False)
        or _one_by_one(lacking, every, after, strict=False)
    )
    return {
        pump: choice
        if choice.serves or pump not in advice
        else replace(choice, overhead=advice[pump].overhead)
        for pump, choice in chosen.items()
    }


def _ranked(judgement: Judgement, advice: Advice | None, base: Layout | None) -> list[Fix]:
    """Changes for a pump, those to recommend first: of what is enough first what has suffered put back as
    drawn, then what leaves an alternative whole."""
    layout = judgement.layout
    return sorted(
        _every(advice),
        key=lambda fix: (not fix.cures, not fix.as_drawn, undoes(fix, layout, base), *_preference(fix)),
    )


class _Judging:
    """The drawing with a change made, judged for all its pumps once it is asked for."""

    def __init__(self, judgement: Judgement, level: Level | None) -> None:
        solved = (case.solution for case in judgement.cases.values() if case.solution is not None)
        self._level = level if level is not None else next((each.level for each in solved), Level.MINIMUM)
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
        best = next((fix for fix in free if fix.cures or not fixes[0].cures), None)
        chosen[place.pump] = Choice(best, excluded=bool(fixes) and best is None)
        recommended += [best] if best is not None else []
    return chosen


def _one_for_all(
    lacking: Sequence[PumpInCase], every: Mapping[str, Sequence[Fix]], after: _Judging, *, ample: bool
) -> dict[str, Choice]:
    """One change that does for every pump; {} where none of those tried does.

    ample: it is no last resort, and leaves no margin thin.
    """
    curing = (fix for place in lacking for fix in every[place.pump] if fix.cures)
    fixes = (fix for fix in curing if not ample or (fix.spare >= 0 and not fix.only))
    for fix in sorted(fixes, key=_preference)[:MOST_TRIED]:
        states = {place.pump: after.does(fix, place) for place in lacking if place.pump != fix.pump}
        enough = (then is not None and not (ample and after.leaves_thin(then)) for then in states.values())
        if all(enough):
            shared = {pump: Choice(fix, fix.pump, then) for pump, then in states.items()}
            return {place.pump: shared.get(place.pump, Choice(fix)) for place in lacking}
    return {}


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


def _named(figures: Mapping[tuple[str, ...], Any]) -> set[str]:
    """The parts and tables that hold figures."""
    return {name for path in figures for name in path[:-1]}
