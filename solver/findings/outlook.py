"""What a drawing comes to: the worst of all its cases and pumps in one headline, and what else stands
against it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from solver.findings.criteria import Finding
from solver.findings.judgement import START_NOT_COUNTED, Judgement, PumpInCase, PumpState, stops
from solver.findings.kinds import OVER_BUDGET, FindingId, Grade, Severity
from solver.findings.missing import lacking
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import SHORT_CASE, Layout
from solver.ledger.sentences import NO_LIFT, limit_unknown, out_of_reach, trouble, verdict
from solver.ledger.solve import PumpLedger
from solver.quantities.units import System
from solver.quantities.wording import ASK_THE_MAKER, capitalised, uncapitalised

_SHORTLY: Mapping[FindingId, str] = {
    FindingId.NEAR_VAPOR_PRESSURE: "the fluid boils on the way",
    FindingId.START_VISCOSITY: "the fluid is too thick for the pump",
    FindingId.SUCTION_VELOCITY: "the fluid runs too fast",
    FindingId.INTAKE_UNCOVERED: "the intake is not covered",
    FindingId.INTAKE_DRAWN_DRY: "the cylinders leave the intake bare",
    FindingId.BAFFLE_SHUTS: "the baffle lets nothing pass",
}
"""Findings that may stop a pump which is within its budget, as a headline says them."""

MOST_NAMED = 2
"""Findings that the detail tells in full."""

NO_COLDEST_START = "coldest start not judged"

_WORDS: Mapping[PumpState, str] = {
    PumpState.BREAKS: "The column breaks",
    PumpState.OVER: "Over the limit",
    PumpState.UNFIT: "Within, but not fit to run",
    PumpState.THIN: "Within, thin margin",
    PumpState.WITHIN: "Within the limit",
}

_MOMENTS: Mapping[FindingId, str] = {
    FindingId.LINE_LEFT_COLD: "Line too cold to start",
    FindingId.LINE_FILLED: "Not fit with line filled",
}
"""What keeps a pump from running only for a moment, or from then on."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a drawing comes to in all its cases."""

    severity: Grade
    word: str  # what it comes to, in a word or three
    headline: str  # one sentence with the numbers
    detail: str  # what else stands against it; empty when nothing does
    beneath: str = ""  # what belongs right under the headline

    @property
    def sentence(self) -> str:
        """The headline with what belongs under it."""
        return ". ".join(filter(None, (self.headline, self.beneath)))


def outlook(judgement: Judgement, system: System, shown: str = AS_DRAWN) -> Outlook:
    """What a drawing comes to, in the units of a system.

    shown: the case whose figures stand with it.

    The headline is that of the worst of all cases and pumps, and names it; a case that was not judged stands
    beside it. The severity is never better than the worst finding, nor good where something was not judged.
    """
    worst = judgement.worst()
    severity = _severity(judgement)
    if worst is None:
        return Outlook(severity, "Not judged", capitalised(not_judged(judgement)), "")
    place = _named(_of_place(judgement, worst, system), worst.case, shown)
    headline = _with_rest(place, judgement, worst)
    return Outlook(severity, _word(judgement, worst, severity), headline, _detail(judgement, worst, system))


def own_headline(judgement: Judgement, pump: str, system: System, shown: str = AS_DRAWN) -> str:
    """The headline of one pump in all cases, whatever the others do.

    shown: the case whose figures stand with it.
    """
    worst = judgement.worst(pump)
    if worst is None:
        return capitalised(not_judged(judgement)) if judgement.not_judged else "At rest in every case"
    place = _named(_in_case(case_headline(judgement, worst, system), worst.case), worst.case, shown)
    return _with_rest(place, judgement, worst)


def _of_place(judgement: Judgement, place: PumpInCase, system: System) -> str:
    text = _in_case(case_headline(judgement, place, system), place.case)
    pumps = {each.pump for each in judgement.pumps_in_cases}
    return text if len(pumps) < 2 else of_pump(place.pump, text)


def of_pump(pump: str, headline: str) -> str:
    """The headline of a pump with its name before it: "main is within: 1.45 of 3.34", "main: over by 1.0"."""
    sign = " is" if headline.startswith(WITHIN) else ":"
    return f"{pump}{sign} {uncapitalised(headline)}"


def headline_as_drawn(headline: str, besides: str = "") -> str:
    """A headline of a drawing, as it stands behind what was read: "As drawn: over by 1.8 inHg".

    besides: what is drawn so, as "as every picture shows it".
    """
    return f"{', '.join(filter(None, ('As drawn', besides)))}: {uncapitalised(headline)}"


WITHIN = "Within: "
"""How a headline begins that has a colon of its own."""


def _is_doubted(judgement: Judgement, place: PumpInCase) -> bool:
    """Whether the limit of a pump is lower than any that makers state."""
    doubted = judgement.by_case_and_kind.get((place.case, FindingId.LIMIT_DOUBTFUL), ())
    return any(each.part == place.pump for each in doubted)


def _has_assumed_screen(layout: Layout, ledger: PumpLedger) -> bool:
    """Whether a pump draws through a screen whose figures nobody has stated."""
    entries = (*ledger.entries, *ledger.parallel_entries)
    parts = (layout.intakes.get(each.part) or layout.fittings.get(each.part) for each in entries)
    screens = (part.screen for part in parts if part is not None)
    return any(screen is not None and screen.assumed for screen in screens)


def case_headline(judgement: Judgement, place: PumpInCase, system: System) -> str:
    """How a pump stands in one case, with what is estimated or left out."""
    ledger = place.ledger
    if limit_unknown(ledger):
        return f"{capitalised(out_of_reach(ledger, system))}: {ASK_THE_MAKER}"
    named = "; ".join(reservations(judgement, place))
    sentence = verdict(ledger, system)
    stop = _stop_of(judgement, place)
    if stop is not None and stop.finding in OF_THE_LINE:
        until = "after that" if stop.finding is FindingId.LINE_LEFT_COLD else "until then"
        sentence = f"{capitalised(_moment(stop))}; {until} {uncapitalised(sentence)}"
    elif stop is not None:
        sentence = f"Within, but {_shortly(stop)}"
    return sentence + (f" ({named})" if named else "")


def unfit_reason(judgement: Judgement, place: PumpInCase) -> str:
    """Why a pump that is within its budget is not fit to run in a case, in short; "" for any other."""
    stop = _stop_of(judgement, place)
    return "" if stop is None else _shortly(stop)


def _stop_of(judgement: Judgement, place: PumpInCase) -> Finding | None:
    """What keeps a pump from running that is within its budget in a case; None where it runs."""
    if place.pump_state != PumpState.UNFIT:
        return None
    return next(each for each in judgement.findings_by_case[place.case] if stops(place.ledger, each))


def reservations(judgement: Judgement, place: PumpInCase) -> tuple[str, ...]:
    """What is estimated or left out of how a pump stands in a case that was judged, each in short."""
    ledger, solution = place.ledger, judgement.cases[place.case].solution
    assert solution is not None
    reserved = (
        ("limit assumed", solution.layout.pumps[place.pump].limit_assumed),
        (str(FindingId.LIMIT_DOUBTFUL), _is_doubted(judgement, place)),
        ("screen assumed", _has_assumed_screen(solution.layout, ledger)),
        ("limit estimated", ledger.limit_estimated and not ledger.breaks),
        ("losses incomplete", bool(lacking(solution, place.pump))),
        ("not judged for boiling", "vapor_pressure" in solution.fluid.unknown),
    )
    return tuple(reservation for reservation, holds in reserved if holds)


def _in_case(sentence: str, case: str) -> str:
    return sentence if case == AS_DRAWN else _with_place(sentence, f' in "{case}"')


def _with_place(sentence: str, where: str) -> str:
    """The sentence with the case that it holds in: at its end, or before what it takes where that is long."""
    if not sentence.startswith(NO_LIFT):
        return f"{sentence}{where}"
    head, colon, rest = sentence.partition(":")
    return f"{head}{where}{colon}{rest}"


def _named(sentence: str, case: str, shown: str) -> str:
    """Name the case as drawn too, which goes without saying only beside figures of that case."""
    return _with_place(sentence, ", in the case as drawn") if case == AS_DRAWN != shown else sentence


def _with_rest(sentence: str, judgement: Judgement, worst: PumpInCase) -> str:
    """The sentence with what was not judged; a cold start where it could be worse than the sentence is.

    So could any start that was not counted.
    """
    cold = judgement.lacks_coldest_start and worst.ledger.sound
    start = NO_COLDEST_START if cold else _warm_start(judgement)
    rest = not_judged(judgement), start, _not_counted(judgement, worst)
    line = _line_at_another_temperature(judgement, worst)
    return "; ".join(filter(None, (sentence, _unbuildable(judgement), line, *rest)))


def _unbuildable(judgement: Judgement) -> str:
    """Where a line lies over itself, as the end of a sentence, for no figure of such a line can be had."""
    names = ", ".join(judgement.parts_with(FindingId.DOUBLES_BACK))
    return f"cannot be built as drawn, the line doubles back at {names}" if names else ""


def _warm_start(judgement: Judgement) -> str:
    """Where a fluid is colder than at what is called the coldest start, as the end of a sentence; or ""."""
    colder = judgement.colder_than_start
    if colder is None:
        return ""
    where = "as drawn" if colder == AS_DRAWN else f'in "{colder}"'
    return f'"{SHORT_CASE}" is not the coldest, the fluid is colder {where}'


def _not_counted(judgement: Judgement, worst: PumpInCase) -> str:
    names = judgement.starts_not_counted
    if names == (worst.case,):  # which the sentence names
        return "" if worst.case.endswith(START_NOT_COUNTED) else START_NOT_COUNTED
    cases = [f'"{name.removesuffix(f", {START_NOT_COUNTED}")}"' for name in names]
    return f"{START_NOT_COUNTED} in {', '.join(cases)}" if cases else ""


def _line_at_another_temperature(judgement: Judgement, worst: PumpInCase) -> str:
    """How a pump that is within stands while its line is still cold, or once it holds what is in the tank, as
    the end of a sentence; "" where it is well within then too, or over anyway."""
    every = at_another_temperature(judgement) if worst.ledger.sound else ()
    own = [each for each in every if each.part == worst.pump]
    if not own:
        return ""
    gravest = min(own, key=_worst_first)
    return "" if gravest is _stop_of(judgement, worst) else _moment(gravest)


OF_THE_LINE = FindingId.LINE_LEFT_COLD, FindingId.LINE_FILLED
"""Findings of a moment in which a line is not as warm as its tank."""


def _moment(finding: Finding) -> str:
    """How a pump stands at that moment, without what else is found there."""
    return finding.text.removeprefix(f"{finding.part}: ").partition("; ")[0]


def at_another_temperature(judgement: Judgement) -> tuple[Finding, ...]:
    """The pumps that are not well within, in any case, while their line is not as warm as its tank."""
    return _found(judgement, *OF_THE_LINE)


def fails_for_a_moment(judgement: Judgement) -> bool:
    """Whether a pump is over, or not fit to run, while its line is not as warm as its tank."""
    return bool(worst_moment(judgement))


def worst_moment(judgement: Judgement) -> str:
    """How the pump stands that is worst off while its line is not as warm as its tank, in a few words; ""
    where every one may run so."""
    stops_then = [each for each in at_another_temperature(judgement) if each.severity is Severity.STOP]
    return _moment(min(stops_then, key=lambda each: each.value or 0.0)) if stops_then else ""


def over_for_a_moment(judgement: Judgement, pump: str | None = None) -> bool:
    """Whether a pump, or any, is over in some case while its line is not as warm as its tank."""
    every = (each for each in at_another_temperature(judgement) if pump in (None, each.part))
    return any(each.value is not None and each.value < 0.0 for each in every)


def left_cold(judgement: Judgement) -> tuple[Finding, ...]:
    """The pumps that are not well within while their line is still cold, in any case."""
    return _found(judgement, FindingId.LINE_LEFT_COLD)


def worst_left_cold(judgement: Judgement, pump: str) -> str:
    """How a pump stands at its worst while its line is still cold, in a few words; "" where it is well
    within then."""
    own = [each for each in left_cold(judgement) if each.part == pump]
    return _moment(min(own, key=_worst_first)) if own else ""


def _worst_first(finding: Finding) -> float:
    """The margin that a finding is of; one that could not be calculated comes before all."""
    return -math.inf if finding.value is None else finding.value


def _found(judgement: Judgement, *kinds: FindingId) -> tuple[Finding, ...]:
    known, cases = judgement.by_case_and_kind, judgement.findings_by_case
    return tuple(each for case in cases for kind in kinds for each in known.get((case, kind), ()))


def not_judged(judgement: Judgement) -> str:
    """Which cases were not judged, as the end of a sentence; empty where all were."""
    names = ", ".join(f'"{case.name}"' for case in judgement.not_judged)
    return f"not judged: {names}" if names else ""


def unsound_pumps(judgement: Judgement, system: System) -> Iterator[tuple[str, str]]:
    """Every pump that is not sound in some case, with what is wrong with it where it stands worst."""
    for pump in dict.fromkeys(place.pump for place in judgement.pumps_in_cases):
        place = judgement.worst(pump)
        if place is not None and not place.ledger.sound:
            yield pump, _in_case(_of_other(pump, place.ledger, system), place.case)


def _of_other(name: str, ledger: PumpLedger, system: System) -> str:
    if limit_unknown(ledger):
        return out_of_reach(ledger, system, f"{name}'s")
    text = trouble(ledger, system)
    return f"in {name} {text}" if ledger.breaks else f"{name} is {text}"


def _severity(judgement: Judgement) -> Grade:
    severities = judgement.severities
    if Severity.STOP in severities or not judgement.sound:
        return Grade.STOP
    unsure_start = judgement.lacks_coldest_start or judgement.colder_than_start is not None
    lacking_start = unsure_start or bool(judgement.starts_not_counted)
    if Severity.CAUTION in severities or judgement.not_judged or lacking_start:
        return Grade.CAUTION  # what was not judged is never in the colour of what was found good
    return Grade.GOOD


def _word(judgement: Judgement, worst: PumpInCase, severity: Grade) -> str:
    if limit_unknown(worst.ledger):
        return "Limit not known"
    if worst.pump_state == PumpState.OVER and worst.ledger.budget <= 0:
        return "No budget"
    if worst.pump_state == PumpState.WITHIN and severity != Grade.GOOD:
        if judgement.not_judged:
            return "Not judged in every case"
        if severity == Grade.CAUTION and Severity.CAUTION not in judgement.severities:
            if judgement.colder_than_start is not None:
                return "Within, coldest start in doubt"
            cold = judgement.lacks_coldest_start
            return "Within, cold start not judged" if cold else f"Within, {START_NOT_COUNTED}"
        return "Within, with cautions" if severity == Grade.CAUTION else _WORDS[PumpState.UNFIT]
    stop = _stop_of(judgement, worst)
    return _WORDS[worst.pump_state] if stop is None else _MOMENTS.get(stop.finding, _WORDS[PumpState.UNFIT])


def _shortly(finding: Finding) -> str:
    if finding.finding in OF_THE_LINE:
        return _moment(finding)
    return _SHORTLY.get(finding.finding, finding.text)


def _texts_behind(judgement: Judgement, grade: Grade) -> tuple[str, ...]:
    """The texts of the findings that make it so grave."""
    severity = next((each for each in Severity if each.value == grade.value), None)
    return judgement.texts_of(severity, OVER_BUDGET) if severity is not None else ()


def _detail(judgement: Judgement, worst: PumpInCase, system: System) -> str:
    """What the headline leaves out, the worst first."""
    others = [text for name, text in unsound_pumps(judgement, system) if name != worst.pump]
    every = [*others, *_texts_behind(judgement, _severity(judgement))]
    rest = len(every) - MOST_NAMED
    more = [f"{rest} more under Findings"] if rest > 0 else []
    return "; ".join([*every[:MOST_NAMED], *more])
