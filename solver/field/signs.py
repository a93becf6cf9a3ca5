"""What was seen and heard beside the machine: how it shifts the odds of causes, and what it cannot prove.

Common practice, no source, as is every figure here. Sound, looks and age together shift a cause by 3 to 1 at
most, and never reject one. What was tried beside the machine, such as the filler cap opened, says more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.field.causes import CauseKind
from solver.layout.logged import HOLDS, LoggedReading

SOME, MUCH, TRIED = 1.7, 3.0, 10.0
"""Factors of the odds: by a sign, by a strong one, by what was tried."""

ODDS = 3.0
"""By which all that was seen and heard may shift a cause, at most."""

LINE = (CauseKind.SCREEN, CauseKind.BORE, CauseKind.RESISTANCE, CauseKind.FLUID, CauseKind.HOSE)
"""Causes that take pressure in the line itself."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing that was seen or heard, and the causes that it makes likelier (above 1) or less likely."""

    words: str
    odds: tuple[tuple[CauseKind, float], ...]
    air: bool = False  # air would explain it
    trial: bool = False  # it was tried, not only seen or heard


def signs(logged: Sequence[LoggedReading], above_allowed: bool) -> tuple[Sign, ...]:
    """Every sign in the readings of one visit.

    above_allowed: whether any of them is above what is allowed, by which a noise points one way or the other.
    """
    noted = [sign for each in logged for sign in _of_one(each, above_allowed)]
    return tuple(dict.fromkeys(noted))


def odds_of(noted: Sequence[Sign]) -> dict[CauseKind, float]:
    """The odds of each cause by all signs together."""
    seen, tried = (_product([sign for sign in noted if sign.trial is trial]) for trial in (False, True))
    return {
        kind: min(max(seen.get(kind, 1.0), 1.0 / ODDS), ODDS) * tried.get(kind, 1.0)
        for kind in {**seen, **tried}
    }


def _product(noted: Sequence[Sign]) -> dict[CauseKind, float]:
    odds: dict[CauseKind, float] = {}
    for sign in noted:
        for kind, shift in sign.odds:
            odds[kind] = odds.get(kind, 1.0) * shift
    return odds


def _of_one(logged: LoggedReading, above_allowed: bool) -> Iterator[Sign]:
    yield from _sounds(logged, above_allowed)
    yield from _looks(logged)
    yield from _trials(logged)
    yield from _history(logged)


def _sounds(logged: LoggedReading, above_allowed: bool) -> Iterator[Sign]:
    if logged.sound == "steady" and above_allowed:
        yield Sign("a steady high note above what is allowed points to cavitation", _each(LINE, SOME))
    elif logged.sound == "steady":
        yield Sign("a steady high note within what is allowed proves nothing", ())
    elif logged.sound == "erratic" and not above_allowed:
        yield Sign("an erratic noise within what is allowed points to air", ((CauseKind.AIR, MUCH),), True)
    elif logged.sound == "erratic":
        yield Sign("an erratic noise above what is allowed may be cavitation or air", (), True)
    elif logged.sound == "normal":
        yield Sign("a normal sound speaks against air", ((CauseKind.AIR, 1 / MUCH),))
    if "only cold" in logged.sound_when:
        yield Sign("a noise only when cold points to a thick fluid", ((CauseKind.FLUID, SOME),))
    if "only fast" in logged.sound_when:
        yield Sign("a noise only at speed points to a resistance", ((CauseKind.RESISTANCE, SOME),))
    if "extending" in logged.sound_when:
        yield Sign("a noise on the extending stroke points to the breather", ((CauseKind.SURFACE, MUCH),))


def _looks(logged: LoggedReading) -> Iterator[Sign]:
    air = ((CauseKind.AIR, SOME),)
    if logged.foam:
        yield Sign("foam points to air, though a deep vacuum releases dissolved air too", air, True)
    if logged.milky:
        yield Sign("milky fluid holds air or water; a jar left standing tells which", (), True)
    if logged.jar == "stays cloudy":
        yield Sign("the sample stayed cloudy: it holds water, which thickens it", ((CauseKind.FLUID, SOME),))
    if logged.slow_cylinder:
        yield Sign("a slow cylinder goes with less flow", ((CauseKind.LESS_FLOW, SOME),))


def _trials(logged: LoggedReading) -> Iterator[Sign]:
    """What was tried beside the machine."""
    if logged.jar == "clears from below":
        yield _trial("the sample cleared from below: it held air", CauseKind.AIR, MUCH, True)
    if logged.jar == "clear":
        yield _trial("the sample was clear: it held no air", CauseKind.AIR, 1 / TRIED)
    if logged.fall_time == HOLDS:
        yield _trial("the vacuum held at rest: the line is tight there", CauseKind.AIR, 1 / MUCH)
    elif logged.fall_time is not None:
        yield _trial("the vacuum fell to nothing at rest: air comes in somewhere", CauseKind.AIR, MUCH, True)
    if logged.filler_cap == "changed":
        yield _trial("the reading changed with the filler cap open", CauseKind.SURFACE, TRIED)
    if logged.filler_cap == "no change":
        yield _trial("the reading did not change with the filler cap open", CauseKind.SURFACE, 1 / TRIED)


def _trial(words: str, kind: CauseKind, shift: float, air: bool = False) -> Sign:
    return Sign(words, ((kind, shift),), air, True)


def _history(logged: LoggedReading) -> Iterator[Sign]:
    if logged.age == "new":
        likelier = _each((CauseKind.AS_BUILT, CauseKind.FLUID), SOME)
        yield Sign("on a new system the line or the viscosity is suspected first", likelier)
    if logged.age == "long in service":
        likelier = _each((CauseKind.SCREEN, CauseKind.BORE, CauseKind.HOSE), SOME)
        yield Sign("on an old system a dirty strainer or a plugged line is suspected first", likelier)
    if "strainer cleaned" in logged.work:
        yield Sign("the strainer was cleaned just before", ((CauseKind.SCREEN, 1 / SOME),))
    if "fluid changed" in logged.work:
        yield Sign("the fluid was changed just before", ((CauseKind.FLUID, SOME),))


def _each(kinds: Sequence[CauseKind], shift: float) -> tuple[tuple[CauseKind, float], ...]:
    return tuple((kind, shift) for kind in kinds)
