"""How sure a margin is, in words and as plain data: draws of what is not known, case by case."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from solver.answers.uncertainty import (
    FROM_START_TO_START,
    UncertainRange,
    Uncertainty,
    Unsure,
    uncertainty,
)
from solver.findings.criteria import case_in_words
from solver.findings.judgement import Judgement
from solver.findings.outlook import worst_left_cold
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level
from solver.quantities.units import Kind, System, fixed, to_display, unit, with_places
from solver.quantities.wording import capitalised, ledger_pressure, printable

if TYPE_CHECKING:
    from solver.field.as_read import AsRead

WIDTH = 100

SPREAD = (0.05, 0.95)
"""Between them lie 90 of 100 trials."""
MATTERS = 0.1
"""Rank correlation below which an input is not named as one that matters."""
INDEPENDENT = (
    "Every figure is picked by itself, evenly over its range. Where two of them go together, as cold fluid "
    "and a high barometer may, the true chance is another."
)


def every_case(
    layout: Layout, pump: str, level: Level = Level.MINIMUM, draws: int | None = None, seed: int = 1
) -> dict[str, Uncertainty | str]:
    """The draws for a pump in every case in which it runs, or why a case is not judged.

    Parameters as `answers.uncertainty.uncertainty`. Raises KeyError for a pump that is not in the drawing.
    """
    results: dict[str, Uncertainty | str] = {}
    for name, case in cases_of(layout).items():
        try:
            drawing = layout_in_case(layout, name, case)
        except CaseError as error:
            results[name] = str(error)
            continue
        if not drawing.pumps[pump].at_rest:
            results[name] = uncertainty(drawing, pump, drawing.level or level, draws=draws, seed=seed)
    return results


def sentence(results: Mapping[str, Uncertainty | str]) -> str:
    """The case that is over most often, in one sentence; first of all a case that is not judged."""
    unread = [name for name, each in results.items() if isinstance(each, str)]
    if unread:
        return f'"{unread[0]}" is not judged, and so its chance is not known'
    drawn = {name: each for name, each in results.items() if isinstance(each, Uncertainty)}
    if not drawn:
        return "no case is judged"
    worst = max(drawn, key=lambda name: _badness(drawn[name]))
    return f'"{worst}": {drawn[worst].sentence}'


def _badness(drawn: Uncertainty) -> tuple[float, float]:
    """How often it is over, then how little is left; none that could be solved is the worst."""
    middle = drawn.quantiles(0.5)
    return drawn.over, math.inf if middle is None else -middle[0]


def lines(results: Mapping[str, Uncertainty | str], system: System) -> Iterator[str]:
    """What the draws come to, sentence by sentence."""
    yield f"How sure is it? {capitalised(sentence(results))}."
    ranges: tuple[UncertainRange, ...] = ()
    for name, each in results.items():
        if isinstance(each, str):
            yield f"{name}: not judged ({each})."
            continue
        ranges = ranges or each.ranges
        yield f"{name}: {each.sentence}; {_margin_range(each, system)}; {_strongest(each)}."
    for heading, kept in (
        ("Differs from start to start", [each for each in ranges if each.what in FROM_START_TO_START]),
        ("The same at every start, and not known", [r for r in ranges if r.what not in FROM_START_TO_START]),
    ):
        yield f"{heading}: {'; '.join(_range(each, system) for each in kept)}."
    yield INDEPENDENT


def _margin_range(drawn: Uncertainty, system: System) -> str:
    ends = drawn.quantiles(*SPREAD)
    lost = f"; {100 * drawn.not_judged:.0f} of 100 could not be solved" if drawn.not_judged > 0 else ""
    if ends is None:
        return f"no trial could be solved{lost}"
    low, high = (ledger_pressure(end, system) for end in ends)
    return f"a margin of {low} to {high} in 90 of 100{lost}"


def _strongest(drawn: Uncertainty) -> str:
    names = [str(what) for what, rank in drawn.importance.items() if abs(rank) >= MATTERS][:3]
    return f"what matters most is {', then '.join(names)}" if names else "nothing in it matters much"


def _range(each: UncertainRange, system: System) -> str:
    return f"{each.what}, {_ends(each, system)} ({each.reason})"


def _ends(each: UncertainRange, system: System) -> str:
    """Between what it is picked."""
    if each.factor:
        return f"times {each.low:g} to {each.high:g}"
    if each.kind is Kind.SHARE:
        ends = f"{100 * each.low:.0f} to {100 * each.high:.0f} % more"
    elif each.kind is Kind.TEMPERATURE:
        step = to_display(1.0, each.kind, system) - to_display(0.0, each.kind, system)
        low, high = (with_places(end * step, 0) for end in (each.low, each.high))
        ends = f"{low} to {high} {unit(each.kind, system)}"
    else:
        ends = f"{fixed(each.low, each.kind, system)} to {fixed(each.high, each.kind, system)} "
        ends += unit(each.kind, system)
    return ends


@dataclass(frozen=True, slots=True)
class DecidingTrials:
    """The trials of the pump and the case that decide of a drawing; by which name that stands on a page."""

    pump: str
    case: str
    trials: Uncertainty
    not_judged: tuple[str, ...]  # cases of which nobody knows
    left_cold: str = ""  # how it stands while its line is still cold, which no trial has; "" where it is not


def deciding_trials(judgement: Judgement, pump: str | None, level: Level) -> DecidingTrials | None:
    """The trials of the case in which a pump, or the worst of all, stands worst; None where none was judged.

    pump: None of all. level: where a case names none. The same drawing has the same trials.
    """
    worst = judgement.worst(pump)
    if worst is None:
        return None
    layout = judgement.layout
    drawing = layout_in_case(layout, worst.case, cases_of(layout)[worst.case])
    trials = uncertainty(drawing, worst.pump, drawing.level or level)
    missing = tuple(case.name for case in judgement.not_judged)
    return DecidingTrials(worst.pump, worst.case, trials, missing, worst_left_cold(judgement, worst.pump))


def how_often_over(every: Mapping[str, DecidingTrials]) -> str:
    """In how many trials the budget is overspent in each of some drawings, by what to say behind it: "as it
    stands"; with what could not be solved or judged."""
    whose = [f"{each.pump}, {case_in_words(each.case)}" for each in every.values()]
    alike = len(set(whose)) == 1
    parts: list[str] = []
    for named, (standing, each) in zip(whose, every.items(), strict=True):
        over = each.trials.trials_over
        many = over.removesuffix(OF_TRIALS) if any(OF_TRIALS in text for text in parts) else over
        words = (f"in {many}", standing, "" if alike else f"({named})", _unknown(each))
        parts.append(" ".join(filter(None, words)))
    never = all(each.trials.over == 0.0 and not _unknown(each) for each in every.values())
    if alike and never and len(parts) > 1:
        return f"{whose[0]}: over its budget in no trial, with either line: the margin does not decide"
    begins = f"{whose[0]}: over its budget" if alike else "Over budget"
    return f"{begins} {', '.join(parts)}"


OF_TRIALS = " of 100 trials"
"""How many trials there are, which is said once."""


def _unknown(drawn: DecidingTrials) -> str:
    """What of some trials could not be solved, what none of them has, and of which cases nobody knows, in
    brackets."""
    lost = 100 * drawn.trials.not_judged
    unsolved = f"{max(lost, 1):.0f} of 100 could not be solved and count as over" if lost else ""
    names = ", ".join(case_in_words(name) for name in drawn.not_judged)
    unjudged = f"not known of {names}, which could not be judged" if names else ""
    text = "; ".join(filter(None, (drawn.left_cold, unsolved, unjudged)))
    return f"({text})" if text else ""


def varied(several: Collection[DecidingTrials], system: System, *, figures: bool = True) -> str:
    """How many trials these are, and what is varied in them; `figures`: with how far."""
    ranges = dict.fromkeys(each for drawn in several for each in drawn.trials.ranges)
    listed = ", ".join(f"{r.what} {_ends(r, system)}" if figures else str(r.what) for r in ranges)
    count = max(drawn.trials.margin.size for drawn in several)
    number = f"{count:,}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    return f"{number} trials each, varied evenly and each by itself: {listed}"


def text(layout: Layout, wanted: str | None, level: Level, as_read: AsRead | None = None) -> str:
    """The draws of every pump, or of the one that is wanted, in at most 100 columns.

    as_read: the drawing with its screens as read, where one is past what is allowed or due.
    """
    system, blocks = layout.units, []
    for pump in [wanted] if wanted is not None else layout.pumps:
        sentences = [*_not_as_read(as_read), *lines(every_case(layout, pump, level), system)]
        wrapped = (textwrap.fill(each, WIDTH, subsequent_indent="  ") for each in sentences)
        blocks.append("\n".join([f"{pump}:", *wrapped]))
    return printable("\n\n".join(blocks), keep="\n") + "\n"


def _not_as_read(as_read: AsRead | None) -> Iterator[str]:
    """The blocked share that the trials are of, and how the drawing stands as read."""
    if as_read is not None:
        yield f"{as_read.verdict}; these trials are with {as_read.drawn}."


def record(layout: Layout, wanted: str | None, level: Level) -> dict[str, Any]:
    """The draws as plain data, by pump and case."""
    return {
        pump: {name: _record(each) for name, each in every_case(layout, pump, level).items()}
        for pump in ([wanted] if wanted is not None else layout.pumps)
    }


def _record(each: Uncertainty | str) -> dict[str, Any]:
    if isinstance(each, str):
        return {"judged": False, "why": each}
    margins = each.quantiles(SPREAD[0], 0.5, SPREAD[1])
    low, middle, high = margins or (None, None, None)
    return {
        "judged": margins is not None,
        "draws": int(each.margin.size),
        "seed": each.seed,
        "over_share": each.over,
        "not_judged_share": each.not_judged,
        "margin_5_Pa": low,
        "margin_50_Pa": middle,
        "margin_95_Pa": high,
        "importance": {str(what): rank for what, rank in each.importance.items()},
        "start_to_start": [str(what) for what in Unsure if what in FROM_START_TO_START],
    }
