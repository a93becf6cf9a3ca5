"""What was noted of a gauge at one reading, for the others of it that only give its name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from solver.layout.logged import LoggedGauge, LoggedReading

_WORDS = {
    "over_port": "height",
    "tube": "tube",
    "accuracy": "class",
    "range": "range",
    "reference": "reference",
}
_WHERE_FITTED = ("over_port", "tube")
"""What holds at one place alone: at another tap a gauge has another height and tube."""

_NOT_NOTED = LoggedGauge()


def with_known_gauge(
    readings: Sequence[LoggedReading], logged: LoggedReading
) -> tuple[LoggedReading, tuple[str, ...]]:
    """A reading with what others have of its gauge, by its name, and where each figure comes from.

    The reading's own figures come first, then those of the latest reading up to it, then of the first after
    it. Height and tube are only those at the same place; a zero holds for one reading.
    """
    own = logged.gauge
    if not own.name:
        return logged, ()
    earlier = [each for each in readings if each.when <= logged.when]
    later = [each for each in readings if each.when > logged.when]
    nearest = [*sorted(earlier, key=_when, reverse=True), *sorted(later, key=_when)]
    same = [each for each in nearest if each.gauge.name == own.name and each is not logged]
    missing = [name for name in _WORDS if getattr(own, name) == getattr(_NOT_NOTED, name)]
    sources = {name: source for name in missing if (source := _source(name, same, logged)) is not None}
    figures: Mapping[str, Any] = {name: getattr(each.gauge, name) for name, each in sources.items()}
    return replace(logged, gauge=replace(own, **figures)), tuple(_notes(own.name, sources))


def _when(reading: LoggedReading) -> str:
    return reading.when


def _source(name: str, same: Iterable[LoggedReading], logged: LoggedReading) -> LoggedReading | None:
    """The first reading that has a figure of the gauge for the place of another."""
    place = (logged.pump, logged.line, logged.place)
    for each in same:
        fits = name not in _WHERE_FITTED or (each.pump, each.line, each.place) == place
        if fits and getattr(each.gauge, name) != getattr(_NOT_NOTED, name):
            return each
    return None


def _notes(gauge: str, sources: Mapping[str, LoggedReading]) -> Iterable[str]:
    """One sentence for each reading that figures come from."""
    days = dict.fromkeys(each.day for each in sources.values())
    for day in days:
        names = [_WORDS[name] for name, each in sources.items() if each.day == day]
        listed = ", ".join(names[:-1]) + " and " + names[-1] if len(names) > 1 else names[0]
        yield f"The {listed} of gauge {gauge}: as noted at the reading of {day}."
