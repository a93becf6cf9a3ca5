"""Readings of a gauge beside what the drawing expects, and what would explain them: words, and data in SI."""

from __future__ import annotations

import json
import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import chain
from typing import Any

from solver.field import card, cleaning, trend
from solver.field.compared import Comparison, compare
from solver.field.diagnosis import (
    OTHERWISE,
    CauseWords,
    Diagnosis,
    NothingToExplainError,
    against_trend,
    diagnose,
)
from solver.field.trend import Trend
from solver.field.visits import visit_names, visits
from solver.findings.judgement import Judgement
from solver.findings.outlook import own_headline
from solver.layout.parts import Layout
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, unit
from solver.quantities.wording import capitalised, error_text, printable, reached

WIDTH = 100

CAUTION = (
    "The pump maker's figures, local codes and a person licensed for the work come before all of this. "
    "Never feel for a leak, and never loosen a fitting on a running or pressurised machine; test a joint by "
    "wetting it with the system's own fluid, guards on, hands clear."
)

NONE = (
    "No reading is written in this drawing. The least of one, to be put at the end of its file; what else "
    "may be noted stands under Readings in layouts/README.md:"
)


def text(judgement: Judgement, line: str = "", pump: str | None = None) -> str:
    """Everything that the readings of a drawing say, for every pump or for one: what they come to first.

    line: the alternative that was judged, "" for the drawing itself.
    """
    layout = judgement.layout
    lines = [*_heading(judgement, line, pump), ""]
    if any(pump in (None, each.pump) for each in layout.readings):
        compared = compare(layout, line)
        names = [name for name in _pumps(layout) if pump in (None, name)]
        lines += [words for name in names for words in _of_pump(judgement, name, line, compared)]
        lines += _wrapped(CAUTION, "", "")
    else:
        lines += [*_wrapped(NONE, "", ""), "", *_least(layout, pump)]
    return printable("\n".join(lines), keep="\n") + "\n"


def _least(layout: Layout, pump: str | None) -> Iterator[str]:
    """A reading with what it must have and what it should, as it is typed, its figures left open."""
    system = System(layout.units)
    yield "  [[readings]]"
    yield f'  when = "{date.today().isoformat()} 09:30"'
    yield f"  pump = {json.dumps(pump or next(iter(layout.pumps), '?'), ensure_ascii=False)}"
    yield f'  vacuum = "? {unit(Kind.VACUUM, system)}"'
    yield f'  state.fluid.temperature = "? {unit(Kind.TEMPERATURE, system)}"'


def _heading(judgement: Judgement, line: str, pump: str | None) -> Iterator[str]:
    """What is drawn, and how its pumps stand by the drawing alone."""
    layout, system = judgement.layout, System(judgement.layout.units)
    yield from _wrapped(layout.title, "", "")
    if line:
        yield from _wrapped(f"Alternative: {line}", "", "")
    for name in layout.pumps:
        if pump in (None, name):
            yield from _wrapped(f"{name}, as drawn: {own_headline(judgement, name, system)}", "", "  ")


def _pumps(layout: Layout) -> list[str]:
    """The pumps that were read, also those that are in no part of the drawing."""
    return list(dict.fromkeys([*layout.pumps, *(each.pump for each in layout.readings)]))


def _of_pump(judgement: Judgement, pump: str, line: str, compared: tuple[Comparison, ...]) -> Iterator[str]:
    layout, system = judgement.layout, System(judgement.layout.units)
    mine = [each for each in compared if each.logged.pump == pump]
    if not mine:
        return
    diagnosis = _diagnosis(layout, pump, line)
    visit, others = list[Comparison](), mine
    if isinstance(diagnosis, Diagnosis):
        visit = [each for each in mine if each in (*diagnosis.comparisons, *diagnosis.not_used)]
        others = [each for each in mine if each not in visit]
        yield f"{pump}, readings of {diagnosis.visit}"
        for words in (diagnosis.headline, *diagnosis.beneath):
            yield from _wrapped(words, "  ", "  ")
    else:
        yield from _wrapped(f"{pump or 'No pump'}: not explained, {diagnosis}", "", "  ")
    yield ""
    yield from _read("What was read, and what the drawing expects", visit, system)
    if isinstance(diagnosis, Diagnosis):
        yield from _explained(diagnosis)
    if pump in layout.pumps:
        yield from _trends(layout, pump, line, diagnosis if isinstance(diagnosis, Diagnosis) else None)
        yield from _clean_at(judgement, pump, system)
    yield from _read("Other readings" if visit else "What was read", others, system)


def _read(heading: str, comparisons: Sequence[Comparison], system: System) -> Iterator[str]:
    """Readings with what the drawing expects, under a heading; nothing where there are none."""
    if not comparisons:
        return
    yield f"  {heading}"
    ordered = sorted(comparisons, key=lambda one: (one.logged.moment, one.number))
    own, alike = alike_once(ordered, system)
    for each, lines in zip(ordered, own, strict=True):
        yield from _wrapped(f"{each.logged.dated}, {each.logged.place}", "    ", "      ")
        for words in lines:
            yield from _wrapped(words, "      ", "      ")
    for which, shared in alike.items():
        yield from _wrapped(which, "    ", "      ")
        for words in shared:
            yield from _wrapped(words, "      ", "      ")
    yield ""


def alike_once(
    ordered: Sequence[Comparison], system: System
) -> tuple[list[tuple[str, ...]], dict[str, list[str]]]:
    """What is to be said of each reading alone, and of several alike once, by which they are."""
    words = [each.words(system) for each in ordered]
    count = Counter(chain.from_iterable(words))
    own = [tuple(text for text in lines if count[text] == 1) for lines in words]
    alike = dict[str, list[str]]()
    for text in (text for text, times in count.items() if times > 1):
        days = [each.logged.dated for each, lines in zip(ordered, words, strict=True) if text in lines]
        which = "All of these" if len(days) == len(ordered) else f"{', '.join(days)}, each"
        alike.setdefault(which, []).append(text)
    return own, alike


def _diagnosis(layout: Layout, pump: str, line: str) -> Diagnosis | str:
    """What explains the latest visit, or why nothing does."""
    try:
        return diagnose(layout, pump, line)
    except NothingToExplainError as error:
        return str(error)
    except (NetworkError, FluidError) as error:
        return error_text(error, System(layout.units))


def _explained(diagnosis: Diagnosis) -> Iterator[str]:
    yield f"  What would explain the readings of {diagnosis.visit}"
    likely = [each for each in diagnosis.causes if each.word != "cannot"]
    for each in likely:
        yield from _cause(each)
    yield ""
    for number, step in enumerate(diagnosis.steps):
        begin = OTHERWISE if number else "Next"
        yield from _wrapped(f"{begin}: {step.what}.", "    ", "      ")
        for shows in step.shows:
            yield from _wrapped(capitalised(f"{shows}."), "      ", "      ")
    for caveat in diagnosis.caveats:
        yield from _wrapped(caveat, "    ", "      ")
    rejected = [each for each in diagnosis.causes if each.word == "cannot"]
    yield from ("", "    Cannot explain them, in any size") if rejected else ()
    for each in rejected:
        why = "; ".join(each.evidence_against)
        yield from _wrapped(f"{each.name} ({why})", "      ", "        ")
    yield ""


def _cause(each: CauseWords) -> Iterator[str]:
    size = f", {each.size}" if each.size else ""
    share = f"{each.explanation.weight * 100:.0f} %"
    yield from _wrapped(f"{share:>5}  {each.name}{size}", "    ", "           ")
    for line in each.evidence_for:
        yield from _wrapped(f"for: {line}", "           ", "             ")
    for line in each.evidence_against:
        yield from _wrapped(f"against: {line}", "           ", "             ")
    for line in each.neutral:
        yield from _wrapped(f"says nothing of it: {line}", "           ", "             ")


def _trends(layout: Layout, pump: str, line: str, diagnosis: Diagnosis | None) -> Iterator[str]:
    for each in trend.trends(layout, pump, line):
        yield from _wrapped(
            f"{each.screen} over time, gauge {each.gauge or 'without a name'} at {each.place}", "  ", "    "
        )
        yield from (f"    {day}  {share}" for day, share in open_shares(each))
        yield from _wrapped(trend_words(each), "    ", "    ")
        if each.grown:
            yield from _wrapped(f"Against a blocked strainer: {each.grown}.", "    ", "    ")
        if diagnosis is not None and (against := against_trend(diagnosis, each.screen)):
            yield from _wrapped(against, "    ", "    ")
        yield ""


def open_shares(each: Trend) -> Iterator[tuple[str, str]]:
    """The day of every reading of a trend, and what share of the screen was open then, with its band."""
    for point in each.points:
        bound = "at most " if point.bound_only else ""
        band = f"({point.low * 100:.0f} to {point.high * 100:.0f} %)"
        yield point.when.date().isoformat(), f"{bound}{point.open_share * 100:.0f} % open {band}"


def trend_words(each: Trend) -> str:
    """Where a trend leads, in one sentence."""
    if each.earliest is None:
        return " ".join(f"{words}." for words in (f"No date: {each.why_none}", each.fallen) if words)
    until = f", on {each.latest.date().isoformat()} at the latest" if each.latest is not None else ""
    due = f"{each.due_share * 100:.0f} % open is reached" if each.due_share is not None else "cleaning is due"
    earliest = each.earliest.date().isoformat()
    last = each.points[-1].when
    due_now = each.latest is not None and each.latest <= last
    now = " It is due." if due_now else " It may be due already." if each.earliest <= last else ""
    over = f"{each.over_first} is then over on a low-pressure day"
    return f"{capitalised(due)} on {earliest} at the earliest{until}; {over}.{now}"


def _clean_at(judgement: Judgement, pump: str, system: System) -> Iterator[str]:
    """The reading of the gauge at which the strainer is to be cleaned, in every case."""
    if cleaning.screen_to_clean(judgement.layout, pump, judgement.cases.values()) == "":
        yield from (f"  {cleaning.NO_STRAINER}", "")
        return
    due = card.due_of(judgement, pump, system)
    before = (
        ""
        if due.blocked is None
        else f": {due.blocked * 100:.0f} % of {due.screen} is then blocked, and {due.over_first} is over "
        "on a low-pressure day"
    )
    yield from _wrapped(f"Clean the strainer when the gauge at the port shows this{before}", "  ", "    ")
    for row in _port_rows(judgement, pump, system):
        none = capitalised(row.instead or "no figure")
        figure = none if row.service is None else capitalised(reached(row.service, system))
        note = f": {row.note}" if row.note else ""
        yield from _wrapped(f"{figure}  {row.state}{note}", "    ", "      ")
    yield ""


def _wrapped(words: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)


def record(judgement: Judgement, line: str = "", pump: str | None = None) -> dict[str, Any]:
    """The readings of a drawing as a JSON object, SI; what is not known is None."""
    layout, system = judgement.layout, System(judgement.layout.units)
    compared = [each for each in compare(layout, line) if pump in (None, each.logged.pump)]
    names = [name for name in _pumps(layout) if pump in (None, name)]
    return {
        "readings": [_comparison_record(each, system) for each in compared],
        "pumps": {
            name: _pump_record(judgement, name, line)
            for name in names
            if any(each.logged.pump == name for each in compared)
        },
    }


def _comparison_record(each: Comparison, system: System) -> dict[str, Any]:
    return {
        "number": each.number,
        "when": each.logged.when,
        "pump": each.logged.pump,
        "place": each.logged.place,
        "line": each.logged.line,
        "gauge": each.logged.gauge.name,
        "stop": each.stop,
        "why_not": each.why_not,
        "not_noted": list(each.prepared.doubts),
        "vacuum": [
            {
                "at_rest": one.reading.resting,
                "read_low_Pa": one.read.low,
                "read_high_Pa": one.read.high,
                "expected_Pa": one.expected.vacuum,
                "expected_low_Pa": one.expected.band.low,
                "expected_high_Pa": one.expected.band.high,
                "allowed_Pa": one.expected.allowed,
                "above_allowed": one.above_allowed,
            }
            for one in each.compared
        ],
        "words": list(each.words(system)),
    }


def _pump_record(judgement: Judgement, pump: str, line: str) -> dict[str, Any]:
    layout = judgement.layout
    diagnosis = _diagnosis(layout, pump, line)
    trends = trend.trends(layout, pump, line) if pump in layout.pumps else ()
    named = zip(visit_names(layout, pump, line), visits(layout, pump, line), strict=True)
    over_time = {
        "visits": [{"name": name, "readings": list(numbers)} for name, numbers in named],
        "trends": [_trend_record(each) for each in trends],
        "clean_at": _clean_at_record(judgement, pump) if pump in layout.pumps else None,
    }
    if isinstance(diagnosis, str):
        return {"not_explained": diagnosis, **over_time}
    steps = [
        {"what": each.what, "shows": list(each.shows), "stopped": each.stopped} for each in diagnosis.steps
    ]
    return {
        "visit": diagnosis.visit,
        "explained": [each.number for each in diagnosis.comparisons],
        "stop": diagnosis.stop,
        "headline": diagnosis.headline,
        "beneath": list(diagnosis.beneath),
        "word": diagnosis.explained.word,
        "causes": [_cause_record(each) for each in diagnosis.causes],
        "next": steps[0] if steps else None,
        "or_else": steps[1:],
        "remarks": list(diagnosis.caveats),
        **over_time,
    }


def _clean_at_record(judgement: Judgement, pump: str) -> dict[str, Any] | None:
    """At which reading of the gauge at the port the strainer is to be cleaned; None without a strainer."""
    system = System(judgement.layout.units)
    if cleaning.screen_to_clean(judgement.layout, pump, judgement.cases.values()) == "":
        return None
    due = card.due_of(judgement, pump, system)
    return {
        "screen": due.screen,
        "blocked_due": due.blocked,
        "why_none": due.why_none,
        "at_port": [
            {
                "cases": list(row.cases),
                "state": row.state,
                "clean_Pa": row.clean,
                "breaks": row.breaks,
                "clean_at_Pa": row.service,
                "note": row.note,
            }
            for row in _port_rows(judgement, pump, system)
        ],
    }


def _port_rows(judgement: Judgement, pump: str, system: System) -> list[card.CardRow]:
    """What the gauge at the port should show, case by case, with the pump running."""
    rows = card.rows(judgement, pump, system)
    return [row for row in rows if not row.place.run and row.running]


def _cause_record(each: CauseWords) -> dict[str, Any]:
    explanation = each.explanation
    return {
        "cause": each.name,
        "word": each.word,
        "share": explanation.weight,
        "size": explanation.size if each.size else None,
        "size_low": explanation.low if each.size else None,
        "size_high": explanation.high if each.size and not explanation.bound_only else None,
        "size_text": each.size,
        "for": list(each.evidence_for),
        "against": list(each.evidence_against),
        "says_nothing": list(each.neutral),
    }


def _trend_record(each: Trend) -> dict[str, Any]:
    return {
        "screen": each.screen,
        "gauge": each.gauge,
        "place": each.place,
        "points": [
            {
                "reading": point.number,
                "when": point.when.isoformat(),
                "open_share": point.open_share,
                "low": None if point.bound_only else point.low,
                "high": point.high,
            }
            for point in each.points
        ],
        "due_share": each.due_share,
        "earliest": None if each.earliest is None else each.earliest.date().isoformat(),
        "latest": None if each.latest is None else each.latest.date().isoformat(),
        "words": trend_words(each),
    }
