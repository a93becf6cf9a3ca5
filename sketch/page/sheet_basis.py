"""What the result on a sheet is based on, in words: limits of makers, and whose are none; sources."""

from __future__ import annotations

from collections.abc import Iterator

from sketch.page.sheet_frame import Panel, case_name
from solver.findings.criteria import TRADE
from solver.ledger.sentences import limit_unknown
from solver.quantities.units import System
from solver.quantities.wording import ledger_pressure
from solver.report.budget_words import limit_in_words, weather_in_words
from solver.report.moments import low_day


def limit_words(panel: Panel, system: System) -> Iterator[str]:
    """Every pump's limit, then which limits are no figures of their makers."""
    yield from limit_in_words(panel.judgement, system)
    yield from _unstated(panel)


def maker_words(panel: Panel, system: System, *, asked: bool) -> Iterator[str]:
    """Every pump's limit in one sentence; then which are no figures of their makers, unless those are asked
    for in the order of work."""
    limits = list(limit_in_words(panel.judgement, system, typed=False))
    whose = limits[0].partition(" of ")[0] if limits else ""
    yield "; ".join([*limits[:1], *(each.removeprefix(f"{whose} ") for each in limits[1:])])
    yield from () if asked else _unstated(panel)


def _unstated(panel: Panel) -> Iterator[str]:
    """Whose limits are no figures of their makers."""
    places: dict[str, list[str]] = {
        "the limit is assumed; no maker has stated it": [],
        "the limit is not known": [],
        "the limit is an estimate from the maker's figure for another fluid or speed": [],
    }  # fmt: skip
    assumed, not_known, estimated = places.values()
    for place in panel.judgement.pumps_in_cases:
        if panel.judgement.layout.pumps[place.pump].limit_assumed:
            assumed.append(place.pump)
        elif limit_unknown(place.ledger):
            not_known.append(f"{place.pump} ({case_name(place.case)})")
        elif place.ledger.limit_estimated:
            estimated.append(place.pump)
    for text, pumps in places.items():
        if pumps:
            yield f"{', '.join(dict.fromkeys(pumps))}: {text}"


def source_words(source: str) -> str:
    """A source as a client reads it, who may never have met the mark of a fact of the trade."""
    return source.replace(TRADE, "common practice, without a published source")


def weather_words(panel: Panel, system: System) -> Iterator[str]:
    """What is taken off for a low-pressure day; where that is nothing, what such a day takes too."""
    for words in weather_in_words(panel.judgement, panel.pump, system):
        takes, day = low_day(panel.judgement, panel.place.case), "a low-pressure day"
        words = words.replace(" off the pressure of the air", " off")
        yield words.replace(day, f"{day} (about {ledger_pressure(takes, system)})", 1) if takes else words
