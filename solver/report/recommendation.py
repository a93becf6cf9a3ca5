"""What to do about a drawing, in sentences made from changes that were solved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.findings.outlook import OF_THE_LINE, fails_for_a_moment, outlook
from solver.fixes.candidate import FixKind
from solver.fixes.fixes import Fix
from solver.fixes.together import MEASURED
from solver.layout.cases import AS_DRAWN
from solver.ledger.sentences import limit_unknown, sentence_of_pump
from solver.quantities.units import System
from solver.quantities.wording import capitalised, ledger_pressure, uncapitalised
from solver.report.as_built import built_with
from solver.report.case_words import unlike_cases
from solver.report.choices import Choice, lacks, stop_of, undoes, worst_places
from solver.report.choosing import (
    JudgedDrawing,
    advised_on,
    better,
    does_for,
    for_other_conditions,
    is_enough_cleaned,
    is_mended,
    is_replaced,
    missing_cases,
    of_choice,
    only_conditions,
    other_conditions,
    purpose,
    without_cases,
    without_pumps,
)
from solver.report.clearing import cleared, in_short, to_clear, uncleared
from solver.report.doubts import compared_as_asked
from solver.report.instead import in_its_place
from solver.report.moments import LOW_DAY, low_day, over_on_low_day
from solver.report.other_pumps import OtherPump, other_pumps
from solver.report.permission import as_permitted
from solver.report.ways import ways_to_clear


def recommendation(
    before: JudgedDrawing,
    after: JudgedDrawing | None,
    system: System,
    *,
    noted: bool = True,
    best: JudgedDrawing | None = None,
    stated: bool = True,
    ways: bool = True,
    of_file: bool = False,
    others: Sequence[JudgedDrawing] = (),
) -> Iterator[str]:
    """What to build, what it comes to where it stands worst, and what else is needed, a sentence each.

    Parameters: `before`, the drawing as it stands; `after`, the best of its alternatives or the one asked
    for, if any; `noted`, whether the note of one that is better is quoted; of any other it says what it is
    for; `best`, the alternative that stands best, where another was asked for; `stated`, whether how one
    that is built or chosen then stands is said here too; `ways`, whether what is left to be cleared is, with
    what clears it; `of_file`, whether `after` is another file, beside which no alternative is judged;
    `others`, the further alternatives.
    """
    chosen, named = before, None
    beside: Sequence[str] = ()
    if after is not None and is_mended(before):
        yield f"Put right what is wrong before {after.called} or anything else is built."
    elif after is not None:
        wanted = for_other_conditions(before.judgement, after.judgement, system)
        if advised_on(before, after, system) is after:
            chosen, named = after, after.judgement.worst()
            beside = tuple(in_its_place(before, after, system))
        if best is not None:
            yield compared_as_asked(after, best, before.judgement.layout, system)
        texts = _alternative(
            before, after, wanted, system, noted=noted, asked=best is not None, stated=stated, of_file=of_file
        )
        if (together := "" if ways or chosen is not after else built_with(after, system)) and not stated:
            texts = (together if text == f"{after.order}." else text for text in texts)
        yield from as_permitted(texts, before, after, others, system) if chosen is after else texts
        yield from without_pumps(before, after)
        yield from without_cases(before, after)
        yield from _in_other_cases(before, after, system)
        yield from _unlike(before, after, system)
    if named is not None and lacks(named) and over_on_low_day(chosen.judgement, named):
        yield f"Then {named.pump} is {LOW_DAY}."
    besides = after is not None and chosen is before
    yield from _needed(chosen, system, named, besides=besides, left=ways)
    yield from ways_to_clear(chosen, to_clear(chosen)) if ways else ()
    yield from beside
    if chosen.judgement.not_judged:
        names = (f'"{case.name}"' for case in chosen.judgement.not_judged)
        yield f"Decide nothing on the cases that were not judged: {', '.join(names)}."


def _alternative(
    before: JudgedDrawing,
    after: JudgedDrawing,
    wanted: Sequence[str],
    system: System,
    *,
    noted: bool,
    asked: bool,
    stated: bool,
    of_file: bool,
) -> Iterator[str]:
    """What an alternative does for the margin, and whether to build it.

    Parameters: `wanted`, what it does that the drawing does not, where that is why it is built; `noted` and
    `stated` and `of_file` as in `recommendation`; `asked`, whether it is not the best, but was asked for.
    """
    state = state_then(after.judgement, system)
    if not wanted and is_enough_cleaned(before) and better(before.judgement, after.judgement):
        yield from of_choice(before, after, state if stated else "", system)
        note = purpose(after) if noted else ""
        yield from filter(None, (cleared(before.judgement, after.judgement), note))
    elif better(before.judgement, after.judgement):
        if is_replaced(after):
            yield f"{after.called} is better than the drawing as it is, but not enough: {state}"
        else:
            enough = after.judgement.sound and not fails_for_a_moment(after.judgement)
            short = "" if enough else ", which is not enough by itself"
            build = f"{after.called} is better than the drawing as it is" if asked else after.order
            yield f"{build}{short}: {state}" if stated else f"{build}{short}."
            note = purpose(after) if noted else ""
            yield from filter(None, (cleared(before.judgement, after.judgement), note))
    elif wanted:
        if not any(lacks(place) for place in before.judgement.pumps_in_cases):
            yield "For the margin alone nothing has to be built."
        order = f"For other conditions ({'; '.join(wanted)}) {uncapitalised(after.order)}"
        yield f"{order}: {state}" if stated else f"{order}."
        line = _unchanged(after, system)
        yield from filter(None, (line or _less(before, after, system), purpose(after)))
    elif does := does_for(before.judgement, after.judgement, system):
        more = f"other conditions too ({'; '.join(does)})"
        yield f"The line as drawn does for {more}, as {after.called}: {state}"
        yield from filter(None, (_less(before, after, system), purpose(after)))
    elif only_conditions(before.judgement.layout, after.judgement.layout):
        others = other_conditions(before.judgement, after.judgement, system)
        under = (
            f"the line as drawn under other conditions ({'; '.join(others)})"
            if others
            else "the line as drawn"
        )
        yield f"{after.called} builds nothing new, it is {under}: {state}"
        yield from filter(None, (_less(before, after, system), purpose(after)))
    else:
        yield _no_more_margin(before, after, system, asked=asked, of_file=of_file)
        others = other_conditions(before.judgement, after.judgement, system)
        whose = f"{after.called} is for other conditions ({'; '.join(others)}): " if others else ""
        yield f"{whose}{state if whose else capitalised(state)}"
        yield from filter(None, (_less(before, after, system), purpose(after)))
    if wanted or better(before.judgement, after.judgement):
        yield from (f"It counts on {each.needs}." for each in bought(after, system))


def _no_more_margin(
    before: JudgedDrawing, after: JudgedDrawing, system: System, *, asked: bool, of_file: bool
) -> str:
    """That an alternative is not built for its margin: of no other one either, unless it was asked for."""
    if of_file and _less(before, after, system):
        return f"The drawing as it stands is better than {after.called}."
    which = f"{capitalised(after.called)} is not" if asked or of_file else "No alternative is"
    return f"{which} sure to leave more margin in its worst case by what it builds."


def _less(before: JudgedDrawing, after: JudgedDrawing, system: System) -> str:
    """How much less margin an alternative leaves where it stands worst, a sentence; "" where not less."""
    now, then = before.judgement.worst(cases=after.judgement.cases), after.judgement.worst()
    if now is None or then is None or then.ledger.margin >= now.ledger.margin:
        return ""
    left, was = (ledger_pressure(each.ledger.margin, system) for each in (then, now))
    return f"Its least margin is {left}, that of the drawing as it stands {was}."


def _in_other_cases(before: JudgedDrawing, after: JudgedDrawing, system: System) -> Iterator[str]:
    """That the drawing is not judged in cases that an alternative has besides; and how both stand in those of
    both, where the alternative stands worst in another."""
    besides, worst = missing_cases(after.judgement, before.judgement), after.judgement.worst()
    if not besides:
        return
    names = " and ".join(f'"{name}"' for name in besides)
    yield f"{capitalised(before.called)} has no case {names}: how it stands there is not known."
    both = [name for name in after.judgement.cases if name in before.judgement.cases]
    now, then = (each.judgement.worst(cases=both) for each in (before, after))
    if now is None or then is None or worst is None or worst.case not in besides:
        return
    left, was = (ledger_pressure(each.ledger.margin, system) for each in (then, now))
    of_both = f"that of {before.called} {was}"
    yield f"In the cases that both have the least margin of {after.called} is {left}, {of_both}."


def _unlike(before: JudgedDrawing, after: JudgedDrawing, system: System) -> Iterator[str]:
    """That conditions differ in cases of one name, where that is so."""
    if unlike := unlike_cases(before.judgement.layout, after.judgement.layout, system):
        cases = "; ".join(
            f'in "{name}" {after.called} has {now}, {before.called} {was}' for name, was, now in unlike
        )
        yield f"Conditions differ, so that it is not the line alone that is compared: {cases}."


def _unchanged(after: JudgedDrawing, system: System) -> str:
    """How the line as drawn stands under the conditions that an alternative is for; "" if unknown."""
    worst = None if after.unchanged is None else after.unchanged.worst()
    if worst is None or after.unchanged is None:
        return ""
    would = "would do too" if after.unchanged.sound else "would not do"
    stands = in_case(sentence_of_pump(worst.ledger, system), worst.case)
    return f"Under them the line as drawn {would}: {stands}."


def state_then(judgement: Judgement, system: System) -> str:
    """What it comes to where it stands worst, as the end of a sentence, with the pump by name.

    Where the headline says more than how the pump is, it stands above, and is not repeated.
    """
    worst, headline = judgement.worst(), outlook(judgement, system).headline
    if worst is None:
        return f"{uncapitalised(headline)}."
    text = uncapitalised(headline.removeprefix(f"{worst.pump}: ").removeprefix(f"{worst.pump} is "))
    if text.startswith(AFTER_IS) or SHORT_OF in text.partition(":")[0]:
        return f"{worst.pump} is then {text}."
    return f"{in_case(sentence_of_pump(worst.ledger, system), worst.case)} then."


AFTER_IS, SHORT_OF = ("within", "over by"), "short of"
"""How a headline begins that says how a pump is, and what such a one holds in its first part."""


def bought(chosen: JudgedDrawing, system: System) -> tuple[OtherPump, ...]:
    """The pumps of an alternative that are other ones than the drawing's, or need a word of their maker."""
    if chosen.base is None:
        return ()
    return other_pumps(chosen.base, chosen.judgement.layout, system)


def _needed(
    chosen: JudgedDrawing, system: System, named: PumpInCase | None, *, besides: bool, left: bool
) -> Iterator[str]:
    """What is lacking of a sound and ample margin, pump by pump, the worst first.

    Parameters: `named`, the place that a sentence before these speaks of; `besides`, whether another drawing
    is spoken of besides; `left`, whether findings that are left are named.
    """
    worst = [(pump, place) for pump, place in worst_places(chosen.judgement) if lacks(place)]
    for pump, place in worst:
        choice = chosen.chosen.get(pump, Choice(None))
        how = in_case(sentence_of_pump(place.ledger, system), place.case)
        stop = stop_of(chosen.judgement, place)
        if stop is not None:
            clears = cleared_for(chosen, stop)
            advice = f"What is recommended for {clears} clears that." if clears else stop.advice
            how = f"{stop.text}." if stop.finding in OF_THE_LINE else f"{pump} is within, but: {stop.text}."
            yield " ".join(
                filter(None, ("" if stop.finding in OF_THE_LINE and place == named else how, advice))
            )
        elif limit_unknown(place.ledger):
            yield f"For {pump} nothing can be recommended before its maker has stated a limit."
        else:
            yield _recommended(chosen, choice, place, system, "" if place == named else how)
    if not worst and chosen.judgement.worst() is not None:
        yield _enough(chosen, system, in_figures=named is not None, besides=besides, named=left)


def _recommended(chosen: JudgedDrawing, choice: Choice, place: PumpInCase, system: System, how: str) -> str:
    """The change for one pump, what it buys, and what would do where that is not enough.

    how: the pump stands, as the beginning of a sentence; "" where that has been said.
    """
    fix, needed = choice.fix, choice.overhead
    above = f" What would be enough: {needed.would_do(system)}." if needed is not None else ""
    stands = f"{how}. " if how else ""
    if choice.excluded:
        return f"{stands}What is enough for {place.pump} cannot be built together with that change.{above}"
    if fix is None:
        none = "none of the changes that were tried gains anything for it."
        return f"{how}, and {none}{above}" if how else f"{capitalised(none)}{above}"
    if needed is not None and not fix.cures:
        return f"{stands}{NONE_ENOUGH}.{above} {_short_of(fix, system)}"
    if choice.then is not None:
        then = in_case(sentence_of_pump(choice.then.ledger, system), choice.then.case)
        more = {
            PumpState.THIN: " That is a thin margin.",
            PumpState.UNFIT: " What else keeps it from running is still to be cleared.",
        }.get(choice.then.pump_state, "")
        return f"{stands}What is recommended for {choice.serves} does for {place.pump} too: {then}.{more}"
    advice = _fix(chosen, fix, place, system, aim(chosen, fix, place))
    return f"{stands}{advice}{_passed_over(choice, system)}{above}"


NONE_ENOUGH = "No change that was tried is enough"


def _short_of(fix: Fix, system: System) -> str:
    """How far the best of what was tried goes, where none is enough."""
    asked = f", {uncapitalised(fix.only)}" if fix.only else ""
    return f"Of what was tried, to {fix.text} {fix.buys(system)}{asked}.{_but_then(fix)}"


def _but_then(fix: Fix) -> str:
    return f" But then: {'; '.join(fix.worsens)}." if fix.worsens else ""


def _passed_over(choice: Choice, system: System) -> str:
    """What is named first against the same and would be enough too, and what speaks against it; or ""."""
    if (other := choice.passed_over) is None:
        return ""
    return f" To {other.fix.text} would be enough too ({other.fix.buys(system)}), but {other.but}."


def cleared_for(chosen: JudgedDrawing, stop: Finding) -> str:
    """The pump for which a change is recommended that ends a stop as well; "" where none does."""
    place = stop.finding, stop.part
    fixes = (each.fix for each in chosen.chosen.values() if each.fix is not None and not each.serves)
    return next((fix.pump for fix in fixes if place in fix.ends), "")


def _enough(chosen: JudgedDrawing, system: System, *, in_figures: bool, besides: bool, named: bool) -> str:
    """What is left where every margin is as wide as the criteria ask, and what that does not cover.

    Parameters: `in_figures`, whether the figures that the margin follows from are given already; `besides`
    as in `_needed`; `named`, whether findings that are left are.
    """
    judgement = chosen.judgement
    worst = min(judgement.pumps_in_cases, key=lambda place: place.ledger.margin)
    least = worst.ledger.margin
    left = f"{ledger_pressure(least, system)} is left in the worst case"
    low = low_day(judgement, worst.case)
    if low > least:
        takes = ledger_pressure(low, system)
        left += (
            f": less than a low-pressure day takes ({takes}, none is allowed for); uncertainty comes on top"
        )
    if open_still := uncleared(judgement):
        said = "" if in_figures and low <= least else f"{left}. "
        return f"{said}Still to be cleared: {in_short(open_still)}." if named else said.rstrip()
    if low > least:
        return f"{left}."
    return NOTHING_ELSE_AS_DRAWN if besides else NOTHING_ELSE


NOTHING_ELSE = "No check found anything else to put right."

NOTHING_ELSE_AS_DRAWN = "No check found anything else to put right in the drawing as it stands."
"""Where another drawing is spoken of besides, of which that may not hold."""


def aim(chosen: JudgedDrawing, fix: Fix, place: PumpInCase) -> str:
    """What a change is for, where that is not to be within, and whether it goes with an alternative."""
    instead = f"in place of {chosen.called}" if undoes(fix, chosen.judgement.layout, chosen.base) else ""
    if place.pump_state is PumpState.THIN:
        return f"for more margin{f', {instead}' if instead else ''}, "
    return f"{instead}, " if instead else ""


def _fix(chosen: JudgedDrawing, fix: Fix, place: PumpInCase, system: System, aim: str) -> str:
    moved = in_case("", fix.case) if fix.case != place.case else ""
    text = f"{capitalised(f'{aim}{fix.text}')}: {fix.buys(system)}{f', counted{moved}' if moved else ''}."
    if fix.only:
        text += f" {fix.only}."
    text += _but_then(fix)
    if left := tuple(_left_open(fix, chosen)):
        text += f" It leaves open: {'; '.join(left)}."
    if not fix.is_enough:
        text += f" {NONE_ENOUGH}; this is the one to begin with."
    elif fix.just_enough and not _is_its_size(fix, fix.just_enough):
        text += f" Just enough: {fix.just_enough}."
    return text


def _is_its_size(fix: Fix, size: str) -> bool:
    """Whether a size, alone or behind what it measures, is the one that a change has."""
    return any(
        fix.text.endswith(size.removeprefix(f"{each} ")) for each in ("", *MEASURED.values(), *FixKind)
    )


def _left_open(fix: Fix, chosen: JudgedDrawing) -> Iterator[str]:
    """What a change leaves that is found, but for what another one that is recommended ends."""
    own = (each.fix for each in chosen.chosen.values() if not each.serves)
    others = [each for each in own if each is not None and each is not fix]
    for text in fix.leaves:
        place = text.partition(": ")[0]
        if all(any(each.startswith(place) for each in other.leaves) for other in others):
            yield text


def in_case(text: str, case: str) -> str:
    return text if case == AS_DRAWN else f'{text} in "{case}"'
