"""What it costs to leave a line as it is, of its ledgers and findings."""

from __future__ import annotations

from collections.abc import Iterator

from solver.answers import ask
from solver.answers.answer import Status, shown_as
from solver.answers.temperatures import COLDEST_START, HOTTEST
from solver.field.as_read import AsRead
from solver.field.cleaning import cleaning_due
from solver.field.priming import priming
from solver.findings.checks import CHECKS
from solver.findings.criteria import in_case
from solver.findings.judgement import Judgement, PumpInCase, PumpState, stops
from solver.findings.kinds import FindingId, Severity
from solver.layout.cases import AS_DRAWN, only_case
from solver.layout.parts import Layout, Level
from solver.ledger.sentences import limit_unknown, out_of_reach, trouble
from solver.quantities.units import System
from solver.quantities.wording import capitalised, uncapitalised
from solver.report.choices import is_over, worst_places
from solver.report.clearing import MOST_CAUTIONS, in_short, uncleared

MOST_NAMED = 3
"""Cases that are named; of more it is said how many they are."""

HIGHEST_SITE = "highest site"


def if_left(judgement: Judgement, level: Level, system: System, which: str = "Left as it is") -> str:
    """What comes of a line that is not to run so, by how much stands in its verdict; "" of one that may run.

    level: where a case names none. which: of which line, as the beginning of the sentence.
    """
    unfit = [(pump, place) for pump, place in worst_places(judgement) if is_over(place) or _is_unfit(place)]
    if not unfit:
        return ""
    (_, place), *others = unfit
    needed = (_from_where(judgement.layout, place, level, system),) if is_over(place) else ()
    rest = (f"{name} must not run so either: {_how_far(judgement, each, system)}" for name, each in others)
    stands = f"{which}, {_stands(place, system, _where(judgement, place))}"
    return "; ".join(filter(None, (stands, _why(judgement, place), *needed, *rest))) + "."


def if_cautions_left(judgement: Judgement, after: Judgement | None = None) -> str:
    """What comes of the gravest cautions of a line that may run, each by its own finding; "" for none.

    after: the alternative beside it, which may end further things that it rests on; None for none.
    """
    every = uncleared(judgement)
    if not every or any(each.severity is Severity.STOP for each in every):
        return ""
    kinds = list({each.finding: each for each in reversed(every)}.values())[::-1]
    named = [f"{in_short([each])}, if left: {_first_clause(each.why)}" for each in kinds[:MOST_CAUTIONS]]
    more = len(kinds) - len(named)
    cautions = capitalised("; ".join([*named, *([f"{more} more under Findings"] if more else [])])) + "."
    return " ".join((cautions, *(() if after is None else _ended_besides(judgement, after))))


def _ended_besides(judgement: Judgement, after: Judgement) -> Iterator[str]:
    """What else of a line an alternative ends: that a foot valve alone holds it full, and that air comes out
    of its fluid; a sentence each."""
    valves, then = dict(_held_full(judgement)), dict(_held_full(after))
    for pump, valve in valves.items():
        if then.get(pump, valve) == "":
            yield f"Only {valve} holds the line full: if that leaks, {pump} starts dry."
    still = {each.finding for each in after.findings}
    for each in judgement.findings:
        if each.finding is FindingId.FREE_AIR and each.finding not in still:
            yield f"{capitalised(each.text.partition(' if ')[0])} may come out."


def _held_full(judgement: Judgement) -> Iterator[tuple[str, str]]:
    """The pumps whose line is full at a start, each with the part that alone holds it so; "" for none."""
    for pump, place in worst_places(judgement):
        solution = judgement.cases[place.case].solution
        primed = None if solution is None else priming(solution, pump, System(judgement.layout.units))
        if primed is not None and (primed.foot_valve or primed.flooded or primed.siphons):
            yield pump, "" if primed.flooded or primed.lift < 0.0 else primed.foot_valve


def if_left_as_read(read: AsRead, layout: Layout, system: System) -> str:
    """What comes of screens that are left as blocked as they were read; "" where it is within so."""
    place = read.far
    if place is None or place.ledger.sound:
        return ""
    due = cleaning_due(layout, place.pump)
    from_there = ""
    if due.blocked is not None:
        share = f"{due.blocked * 100:.0f} % of {due.screen} blocked"
        from_there = f"on a low-pressure day it begins at {share}"
    stands = f"Left uncleaned, {_stands(place, system, in_case(place.case))}"
    return "; ".join(filter(None, (stands, _as_clause(OVER_MEANS), from_there))) + "."


def _is_unfit(place: PumpInCase) -> bool:
    return place.pump_state is PumpState.UNFIT


def _stands(place: PumpInCase, system: System, where: str) -> str:
    """How a pump stands that is not to run, and where; by how much it is over stands in the verdict."""
    ledger = place.ledger
    if _is_unfit(place):
        return f"{place.pump} must not run {where}"
    if limit_unknown(ledger):
        whose = f"{place.pump}'s"
        return f"{out_of_reach(ledger, system, whose)}, {where}"
    return (
        f"in {place.pump} {trouble(ledger, system)}, {where}"
        if ledger.breaks
        else f"{place.pump} fails {where}"
    )


def _where(judgement: Judgement, worst: PumpInCase) -> str:
    """Where a pump stands worst, and in how many of its cases it must not run."""
    places = [place for place in judgement.pumps_in_cases if place.pump == worst.pump]
    failing = [place.case for place in places if is_over(place) or _is_unfit(place)]
    others = [in_case(case) for case in failing if case != worst.case]
    if not others:
        return in_case(worst.case)
    if len(failing) == len(places):
        return f"in every case{' that was judged' if judgement.not_judged else ''}"
    if len(others) > MOST_NAMED:
        return f"in {len(failing)} of {len(places)} cases"
    return " and ".join([in_case(worst.case), *others])


def _why(judgement: Judgement, place: PumpInCase) -> str:
    """What a pump does there, by the finding that stops it."""
    findings = judgement.findings_by_case.get(place.case, ())
    if _is_unfit(place):
        stop = next(each for each in findings if stops(place.ledger, each))
        return f"{stop.text.rstrip('.')}: {_as_clause(stop.why)}"
    own = (
        each.why for each in findings if each.finding is FindingId.OVER_THE_LIMIT and each.part == place.pump
    )
    return _as_clause(next(own, OVER_MEANS))


OVER_MEANS = next(each.why for each in CHECKS if each.finding is FindingId.OVER_THE_LIMIT)
"""What its finding says of a pump that is over its limit."""


def _how_far(judgement: Judgement, place: PumpInCase, system: System) -> str:
    """By what figure a pump must not run, and in which case."""
    findings = judgement.findings_by_case.get(place.case, ())
    stop = next((each for each in findings if stops(place.ledger, each)), None) if _is_unfit(place) else None
    if stop is not None:
        return f"{stop.text.rstrip('.')}, {in_case(place.case)}"
    if limit_unknown(place.ledger):
        return f"{out_of_reach(place.ledger, system)}, {in_case(place.case)}"
    return f"{trouble(place.ledger, system)} {in_case(place.case)}"


def _first_clause(sentences: str) -> str:
    """The first of several sentences, as a clause."""
    return _as_clause(sentences.partition(". ")[0])


def _as_clause(sentence: str) -> str:
    return uncapitalised(sentence).rstrip(".")


ALL_ELSE = "all else"
"""How the clause begins that says from where on a line fails."""


def _from_where(layout: Layout, worst: PumpInCase, level: Level, system: System) -> str:
    """From which temperature of the fluid it fails in that case, and from which height, each by itself."""
    alone = only_case(layout, worst.case)
    asked = {each: ask.ask(each, alone, worst.pump, level) for each in (COLDEST_START, HOTTEST, HIGHEST_SITE)}
    over = {name: each for name, each in asked.items() if each.status is Status.ALREADY_OVER}
    known = {name: shown_as(each.kind)(each.figure, system) for name, each in over.items() if each.figure}
    places = [
        f"with fluid {which} {known[name]}"
        for name, which in ((COLDEST_START, "below"), (HOTTEST, "above"))
        if name in known
    ]
    if {COLDEST_START, HOTTEST} <= over.keys() and not places:
        places = ["at any temperature of its fluid"]
    site = over.get(HIGHEST_SITE)
    if site is not None and site.value is not None and site.value >= 0.0:
        places.append(f"at a site above {known[HIGHEST_SITE]}")
    elif site is not None and not known.keys() & {COLDEST_START, HOTTEST}:
        places.append("at any site")
    rest = f"{ALL_ELSE} as drawn" if worst.case == AS_DRAWN else f"{ALL_ELSE} as {in_case(worst.case)}"
    return f"{rest}, it fails {' and '.join(places)}" if places else ""
