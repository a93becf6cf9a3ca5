"""What to do about a drawing, in sentences made from changes that were solved; and in which order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, PumpInCase, PumpState, stops
from solver.findings.kinds import FindingId, Severity
from solver.findings.outlook import outlook
from solver.fixes.fixes import Advice, Fix
from solver.layout.cases import AS_DRAWN, cases_of, only_changes_missing_parts
from solver.layout.parts import Layout
from solver.ledger.sentences import limit_unknown, sentence_of_pump
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import allowance, capitalised, gauge_reading
from solver.report.other_pumps import OtherPump, other_pumps

AdviceByPump = Mapping[str, Advice]
"""What was solved for each pump."""


@dataclass(frozen=True, slots=True)
class JudgedDrawing:
    """The drawing as it stands or an alternative, judged, with the fixes that were solved for each pump."""

    name: str  # of the alternative; "" for the drawing itself
    judgement: Judgement
    advice: AdviceByPump
    base: Layout | None = None  # that the alternative is laid over; None for the drawing itself

    @property
    def called(self) -> str:
        """Its name in a sentence."""
        return f'"{self.name}"' if self.name else "the drawing as it stands"


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


def recommendation(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> Iterator[str]:
    """What to build, what it comes to where it stands worst, and what else is needed, a sentence each.

    Parameters: `before`, the drawing as it stands; `after`, the best of its alternatives, if there is any.
    """
    chosen, named = before, None
    if after is not None and better(before.judgement, after.judgement):
        chosen, named = after, after.judgement.worst()
        state = _state(after.judgement, system)
        if _is_replaced(after):
            yield f"{after.called} is better than the drawing as it is, but not enough: {state}"
        else:
            short = "" if after.judgement.sound else ", which is not enough by itself"
            yield f"Build {after.called}{short}: {state}"
    elif after is not None:
        yield "No alternative shown here is better in its worst case than the drawing as it is."
    if chosen is after and after is not None:
        yield from (f"It counts on {each.needs}." for each in _bought(after, system))
    if after is not None and (missing := missing_cases(before.judgement, after.judgement)):
        names = " and ".join(f'"{name}"' for name in missing)
        yield f"{after.called} has no case {names}: how it stands there is not known. Judge it there first."
    yield from _needed(chosen, system, named)
    if chosen.judgement.not_judged:
        names = ", ".join(f'"{case.name}"' for case in chosen.judgement.not_judged)
        yield f"Decide nothing on the cases that were not judged: {names}."


def _state(judgement: Judgement, system: System) -> str:
    """What it comes to where it stands worst, as the end of a sentence, with the pump by name.

    Where the headline says more than how the pump is, it stands above, and is not repeated.
    """
    worst, headline = judgement.worst(), outlook(judgement, system).headline
    if worst is None:
        return f"{_lower(headline)}."
    text = _lower(headline.removeprefix(f"{worst.pump}: "))
    if text.startswith(AFTER_IS) or SHORT_OF in text.partition(":")[0]:
        return f"{worst.pump} is then {text}."
    return f"{_in_case(sentence_of_pump(worst.ledger, system), worst.case)} then."


AFTER_IS, SHORT_OF = ("within", "over by"), "short of"
"""How a headline begins that says how a pump is, and what such a one holds in its first part."""


def _bought(chosen: JudgedDrawing, system: System) -> tuple[OtherPump, ...]:
    """The pumps of an alternative that are other ones than the drawing's, or need a word of their maker."""
    if chosen.base is None:
        return ()
    return other_pumps(chosen.base, chosen.judgement.layout, system)


def _needed(chosen: JudgedDrawing, system: System, named: PumpInCase | None) -> Iterator[str]:
    """What is lacking of a sound and ample margin, pump by pump, the worst first.

    named: the place that a sentence before these speaks of.
    """
    worst = [(pump, place) for pump, place in _worst_places(chosen.judgement) if _lacks(place)]
    for pump, place in worst:
        fix = _best_for(chosen, pump)
        how = _in_case(sentence_of_pump(place.ledger, system), place.case)
        stop = _stop(chosen.judgement, place)
        if stop is not None:
            yield _sentences(f"{pump} is within, but: {stop.text}.", stop.advice)
        elif limit_unknown(place.ledger):
            yield f"For {pump} nothing can be recommended before its maker has stated a limit."
        elif fix is None:
            yield f"{how}, and none of the changes that were tried gains anything for it."
        else:
            text = _fix(fix, place, system, _aim(chosen, fix, place))
            yield text if place == named else f"{how}. {text}"
    if not worst and chosen.judgement.worst() is not None:
        yield _enough(chosen.judgement, system)


def _enough(judgement: Judgement, system: System) -> str:
    """What is left where every margin is as wide as the criteria ask, and what that does not cover."""
    worst = min(judgement.pumps_in_cases, key=lambda place: place.ledger.margin)
    least = worst.ledger.margin
    left = f"{typeset(least, Kind.VACUUM, system)} is left in the worst case"
    low = _low_day(judgement, worst.case)
    if low > least:
        takes = typeset(low, Kind.VACUUM, system)
        left += (
            f": less than a low-pressure day takes ({takes}, none is allowed for); uncertainty comes on top"
        )
    if any(finding.severity != Severity.NOTE for finding in judgement.findings):
        return f"{left}. Clear the other findings."
    return f"{left}." if low > least else "The checks made ask for nothing more."


def _low_day(judgement: Judgement, case: str) -> float:
    """What a low-pressure day takes that a case makes no allowance for [Pa]; 0 where it makes one."""
    findings = judgement.findings_by_case[case]
    lacking = (f for f in findings if f.finding is FindingId.NO_WEATHER_ALLOWANCE)
    return max((finding.threshold or 0.0 for finding in lacking), default=0.0)


def _stop(judgement: Judgement, place: PumpInCase) -> Finding | None:
    """What keeps a pump from running that is within its budget."""
    if place.pump_state is not PumpState.UNFIT:
        return None
    return next((each for each in judgement.findings_by_case[place.case] if stops(place.ledger, each)), None)


def _sentences(*texts: str) -> str:
    return " ".join(text for text in texts if text)


def _lacks(place: PumpInCase) -> bool:
    return place.pump_state is not PumpState.WITHIN


def _worst_places(judgement: Judgement) -> list[tuple[str, PumpInCase]]:
    """Each pump where it stands worst, the worst of them first."""
    worst: dict[str, PumpInCase] = {}
    for place in judgement.pumps_in_cases:
        worst.setdefault(place.pump, place)
    return list(worst.items())


def best_fix(advice: Advice | None) -> Fix | None:
    """The change to recommend; None where nothing gains anything.

    What is enough goes first, then what is no last resort, what makes nothing worse, what is ample, what
    leaves least of all other findings, and what gains most.
    """
    if advice is None:
        return None
    every = (*advice.fixes, *advice.together)
    return min(every, key=_preference, default=None)


def _best_for(chosen: JudgedDrawing, pump: str) -> Fix | None:
    """The change to recommend for a pump; of what is enough, first what leaves an alternative whole."""
    advice = chosen.advice.get(pump)
    if advice is None:
        return None
    every = (*advice.fixes, *advice.together)
    return min(every, key=lambda fix: (not fix.cures, _undoes(fix, chosen), *_preference(fix)), default=None)


def _undoes(fix: Fix, chosen: JudgedDrawing) -> bool:
    """Whether a change takes out a part that an alternative has added or changed."""
    if chosen.base is None:
        return False
    for kept, old, new in (
        (fix.layout.runs, chosen.base.runs, chosen.judgement.layout.runs),
        (fix.layout.intakes, chosen.base.intakes, chosen.judgement.layout.intakes),
        (fix.layout.fittings, chosen.base.fittings, chosen.judgement.layout.fittings),
    ):
        if any(name not in kept and old.get(name) != part for name, part in new.items()):
            return True
    return False


def _is_replaced(chosen: JudgedDrawing) -> bool:
    """Whether an alternative is not enough, and what is enough would not be built on it."""
    places = [(pump, place) for pump, place in _worst_places(chosen.judgement) if _is_over(place)]
    fixes = [fix for pump, _ in places if (fix := _best_for(chosen, pump)) is not None]
    return any(_undoes(fix, chosen) for fix in fixes)


def to_build(before: JudgedDrawing, after: JudgedDrawing | None) -> JudgedDrawing:
    """What is recommended: the alternative where it is better and built on, else the drawing as it stands."""
    if after is None or not better(before.judgement, after.judgement) or _is_replaced(after):
        return before
    return after


def _is_over(place: PumpInCase) -> bool:
    return place.pump_state in (PumpState.BREAKS, PumpState.OVER)


def _aim(chosen: JudgedDrawing, fix: Fix, place: PumpInCase) -> str:
    """What a change is for, where that is not to be within, and whether it goes with an alternative."""
    instead = f"in place of {chosen.called}" if _undoes(fix, chosen) else ""
    if place.pump_state is PumpState.THIN:
        return f"for more margin{f', {instead}' if instead else ''}, "
    return f"{instead}, " if instead else ""


def _preference(fix: Fix) -> tuple[bool, bool, bool, bool, int, float]:
    """Sorts the change to recommend first."""
    return not fix.cures, bool(fix.only), bool(fix.worsens), fix.spare < 0, len(fix.leaves), -fix.gain


def _fix(fix: Fix, place: PumpInCase, system: System, aim: str) -> str:
    moved = _in_case("", fix.case) if fix.case != place.case else ""
    text = f"{capitalised(f'{aim}{fix.text}')}: {fix.buys(system)}{f', counted{moved}' if moved else ''}."
    if fix.only:
        text += f" {fix.only}."
    if fix.worsens:
        text += f" It makes worse: {'; '.join(fix.worsens)}."
    if fix.leaves:
        text += f" It leaves open: {'; '.join(fix.leaves)}."
    if not fix.cures:
        text += " No change that was tried is enough; this is the one to begin with."
    elif fix.just_enough:
        text += f" Just enough: {fix.just_enough}."
    return text


def order_of_work(
    chosen: JudgedDrawing,
    changes: Sequence[str],
    system: System,
    measures: Sequence[str] = (),
    priming_plan: str = "",
) -> Iterator[str]:
    """What to do first, second and so on, an order each.

    Parameters: `chosen`, what is to be built; `changes`, how it differs from the drawing, in words;
    `measures`, what of that is not built but kept up, an order each; `priming_plan`, the heading under which
    the reader has the priming plan, "" where it is not at hand.
    """
    judgement = chosen.judgement
    places = _worst_places(judgement)
    asked = [text for pump, place in places for text in _not_stated(judgement, pump, place, system)]
    if asked:
        whose = "maker" if len(asked) == 1 else "makers"
        yield f"Ask the {whose} for the least inlet pressure with this fluid of {', and of '.join(asked)}."
    for case in judgement.not_judged:
        yield f'Give what the case "{case.name}" lacks: {case.why(system)}.'
    if chosen.name and not _is_replaced(chosen):
        yield from (each.order for each in _bought(chosen, system))
        parts = f" ({len(changes)} changes)" if len(changes) > 1 else ""
        yield f"Build {chosen.called}{parts}."
        if measures:
            yield f"Provide and keep up: {'; '.join(measures)}."
    yield from _changes(chosen, places)
    if chosen.name or any(_lacks(place) for _, place in places):
        plan = f', as the priming plan says (under "{priming_plan}")' if priming_plan else ""
        yield f"Fill line and pump before the first start{plan}."
    if places and not any(_is_over(place) or _stop(judgement, place) for _, place in places):
        readings = "; ".join(_reading(pump, place, system) for pump, place in places)
        above = any(place.ledger.vacuum < 0 for _, place in places)
        gauge = "a gauge that shows pressure and vacuum" if above else "a vacuum gauge"
        yield f"Read {gauge} at the port. Expected: {readings}."
    elif places:
        yield "Read a vacuum gauge at each port, with warm and with cold fluid."


def _changes(chosen: JudgedDrawing, places: Sequence[tuple[str, PumpInCase]]) -> Iterator[str]:
    """What else is to be done for each pump; no wider margin is ordered where an alternative has one."""
    for pump, place in places:
        stop = _stop(chosen.judgement, place)
        fix = _best_for(chosen, pump) if _lacks(place) else None
        enough = bool(chosen.name) and place.pump_state is PumpState.THIN
        if stop is not None:
            yield f"Clear what keeps {pump} from running: {stop.text}."
        elif fix is not None and not enough and not limit_unknown(place.ledger):
            yield f"{capitalised(f'{_aim(chosen, fix, place)}{fix.text}')}; it needs: {fix.cost}."


def _not_stated(judgement: Judgement, pump: str, place: PumpInCase, system: System) -> Iterator[str]:
    """A pump whose limit its maker has not stated, with the speed it is for and what stands in its place."""
    assumed = judgement.layout.pumps[pump].limit_assumed
    if assumed or place.ledger.limit_estimated or limit_unknown(place.ledger):
        speed = place.ledger.speed
        at = "" if speed is None else f" at {typeset(speed, Kind.SPEED, system)}"
        yield f"{pump}{at} ({'assumed' if assumed else 'estimated'} here)"


def _reading(pump: str, place: PumpInCase, system: System) -> str:
    ledger = place.ledger
    breaks = ledger.inlet <= ledger.vapor_pressure
    figure = "no figure, as the column breaks" if breaks else gauge_reading(ledger.vacuum, system)
    shown = _in_case(f"{pump} {figure}", place.case)
    return f"{shown}, where {allowance(ledger.allowed_vacuum, system)}"


def _in_case(text: str, case: str) -> str:
    return text if case == AS_DRAWN else f'{text} in "{case}"'


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
