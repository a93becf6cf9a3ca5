"""What the result on a sheet is based on, in words: limits of makers, and whose are none; sources."""

from __future__ import annotations

from collections.abc import Iterator

from sketch.page.sheet_frame import Panel, case_name
from solver.findings.criteria import TRADE
from solver.ledger.sentences import limit_unknown
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import ledger_pressure
from solver.report.budget_words import floor_in_words, limit_in_words
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
    yield from floor_in_words(panel.ledger, system)
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
    """What is taken off for a low-pressure day in the case shown, and what such a day takes where that is
    nothing; no words where the air was read."""
    for off in (-line.value for line in panel.ledger.surface_lines if line.name == "weather"):
        takes = low_day(panel.judgement, panel.place.case)
        about = f" (about {ledger_pressure(takes, system)})" if takes else ""
        figure = typeset(off, Kind.VACUUM, system) if off else "nothing"
        yield f"{figure} is taken off for a low-pressure day{about}"
