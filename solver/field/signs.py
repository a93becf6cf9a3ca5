"""What was seen and heard beside the machine: how it shifts the odds of causes, and what it cannot prove.

Common practice, no source, as is every figure here. Sound, looks and age together shift a cause by 3 to 1 at
most, and never reject one. What was tried beside the machine, such as the filler cap opened, says more.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.field.causes import AIR, CauseKind
from solver.layout.logged import HOLDS, LoggedReading
from solver.quantities.units import Kind, quantity

SOME, MUCH, TRIED = 1.7, 3.0, 10.0
"""Factors of the odds: by a sign, by a strong one, by what was tried."""

ODDS = 3.0
"""By which all that was seen and heard may shift a cause, at most."""

SCREENS = (CauseKind.SCREEN, CauseKind.STUCK)
LINE = (*SCREENS, CauseKind.BORE, CauseKind.RESISTANCE, CauseKind.FLUID, CauseKind.HOSE)
"""Causes that take pressure in the line itself."""

TIGHT, BREATHER = (CauseKind.JOINT, CauseKind.SEAL), (CauseKind.SURFACE,)
"""Causes by which a line does not hold its vacuum at rest; and what the filler cap stands for."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing that was seen or heard, and the causes that it makes likelier (above 1) or less likely."""

    words: str
    odds: tuple[tuple[CauseKind, float], ...]  # 1: it goes with a cause, and shifts nothing
    air: bool = False  # air would explain it
    trial: bool = False  # it was tried, not only seen or heard


def signs(logged: Sequence[LoggedReading], above_allowed: bool) -> tuple[Sign, ...]:
    """Every sign in the readings of one visit.

    above_allowed: whether any of them is past what is allowed, by which a noise points one way or the other.
    """
    if contradiction(logged):
        logged = [_without_noise(each) for each in logged]
    noted = [sign for each in logged for sign in _of_one(each, above_allowed)]
    return tuple(dict.fromkeys(noted))


APART = 5.0
"""Temperatures that are farther apart are one colder than the other [K]; common practice, no source."""


def contradiction(logged: Sequence[LoggedReading]) -> str:
    """How notes of one visit contradict each other, a noise at one warmth alone and heard at another; ""."""
    for one in logged:
        for other in logged:
            warmer = _warmth(other) - _warmth(one)  # nan where it was not noted
            for when, apart in (("only cold", warmer), ("only hot", -warmer)):
                if when in one.sound_when and apart > APART and other.sound in ("steady", "erratic"):
                    return (
                        f"The notes of a noise contradict each other, {when} on {one.when}, and heard on "
                        f"{other.when} with the fluid {'warmer' if when == 'only cold' else 'colder'}"
                    )
    return ""


def _warmth(logged: LoggedReading) -> float:
    """The fluid's temperature as it was noted [K]; nan where it was not."""
    typed = logged.state.get("fluid")
    text = typed.get("temperature") if isinstance(typed, Mapping) else None
    try:
        return quantity(text, Kind.TEMPERATURE).si if isinstance(text, str) else math.nan
    except ValueError:
        return math.nan


def _without_noise(logged: LoggedReading) -> LoggedReading:
    heard = logged.sound in ("steady", "erratic")
    return replace(logged, sound=None if heard else logged.sound, sound_when=())


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
        yield Sign(
            "a steady high note at a reading past what is allowed points to cavitation", _each(LINE, SOME)
        )
    elif logged.sound == "steady":
        yield Sign("a steady high note at a reading within what is allowed proves nothing", ())
    elif logged.sound == "erratic" and not above_allowed:
        yield Sign(
            "an erratic noise at a reading within what is allowed points to air", _each(AIR, MUCH), air=True
        )
    elif logged.sound == "erratic":
        yield Sign(
            "an erratic noise at a reading past what is allowed may be cavitation or air", (), air=True
        )
    elif logged.sound == "normal":
        yield Sign("a normal sound speaks against air", _each(AIR, 1 / MUCH))
    for when in logged.sound_when:
        yield Sign(*_WHEN[when])


_WHEN: Mapping[str, tuple[str, tuple[tuple[CauseKind, float], ...]]] = {
    "only cold": (
        "a noise only when cold points to a thick fluid, or to a joint, where the vacuum is then deeper",
        ((CauseKind.FLUID, SOME), (CauseKind.JOINT, SOME)),
    ),
    "only hot": (
        "a noise only when hot points to a hose that softens; a joint is often better warm",
        ((CauseKind.HOSE, SOME), (CauseKind.JOINT, 1 / SOME)),
    ),
    "only fast": (
        "a noise only at speed points to a resistance, and goes with air drawn in as well",
        ((CauseKind.RESISTANCE, SOME), *((kind, 1.0) for kind in AIR)),
    ),
    "extending": (
        "a noise on the extending stroke, as the level falls, points to the breather, or to air at the "
        "intake or the return",
        ((CauseKind.SURFACE, MUCH), (CauseKind.VORTEX, MUCH), (CauseKind.RETURN, SOME)),
    ),
}
"""What it means that a noise comes at one time only."""


def _looks(logged: LoggedReading) -> Iterator[Sign]:
    air = _each(AIR, SOME)
    if logged.foam:
        yield Sign("foam points to air, though a deep vacuum releases dissolved air too", air, air=True)
    if len(logged.vacuum) == 2 or len(logged.pressure) == 2:
        yield Sign("the gauge swung, as it does with air at a joint", ((CauseKind.JOINT, SOME),))
    if logged.milky:
        yield Sign("milky fluid holds air or water; a jar left standing tells which", (), air=True)
    if logged.jar == "stays cloudy":
        yield Sign("the sample stayed cloudy: it holds water, which thickens it", ((CauseKind.FLUID, SOME),))
    if logged.slow_cylinder:
        yield Sign("a slow cylinder goes with less flow", ((CauseKind.LESS_FLOW, SOME),))


def _trials(logged: LoggedReading) -> Iterator[Sign]:
    """What was tried beside the machine."""
    if logged.jar == "clears from below":
        yield _trial("the sample cleared from below: it held air", AIR, MUCH, air=True)
    if logged.jar == "clear":
        yield _trial("the sample was clear: it held no air", AIR, 1 / TRIED)
    if logged.fall_time == HOLDS:
        yield _trial("the vacuum held at rest: the line is tight there", TIGHT, 1 / MUCH)
    elif logged.fall_time is not None:
        yield _trial("the vacuum fell to nothing at rest: air comes into the line", TIGHT, MUCH, air=True)
    if logged.filler_cap == "changed":
        yield _trial("the reading changed with the filler cap open", BREATHER, TRIED)
    if logged.filler_cap == "no change":
        yield _trial("the reading did not change with the filler cap open", BREATHER, 1 / TRIED)
    if logged.joints_wetted == "changed":
        yield _trial("the noise changed when a joint was wetted", (CauseKind.JOINT,), TRIED, air=True)
    if logged.joints_wetted == "no change":
        yield _trial("the noise did not change with the joints wetted", (CauseKind.JOINT,), 1 / TRIED)
    yield from _in_tank(logged)


def _in_tank(logged: LoggedReading) -> Iterator[Sign]:
    """What the fluid's surface showed."""
    if "swirl over the intake" in logged.in_tank:
        yield _trial("the fluid swirled over the intake", (CauseKind.VORTEX,), TRIED, air=True)
    if "foam at the return" in logged.in_tank:
        yield _trial("foam stood at the return", (CauseKind.RETURN,), TRIED, air=True)
    if "calm" in logged.in_tank:
        yield _trial("the fluid's surface was calm", (CauseKind.VORTEX, CauseKind.RETURN), 1 / TRIED)


def _trial(words: str, kinds: Sequence[CauseKind], shift: float, air: bool = False) -> Sign:
    return Sign(words, _each(kinds, shift), air, trial=True)


def _history(logged: LoggedReading) -> Iterator[Sign]:
    if logged.age == "new":
        likelier = _each((CauseKind.AS_BUILT, CauseKind.FLUID), SOME)
        yield Sign("on a new system the line or the viscosity is suspected first", likelier)
    if logged.age == "long in service":
        likelier = _each((*SCREENS, CauseKind.BORE, CauseKind.HOSE), SOME)
        yield Sign("on an old system a dirty strainer or a plugged line is suspected first", likelier)
        yield Sign("a shaft seal wears with the years", ((CauseKind.SEAL, SOME),))
    if "line changed" in logged.work:
        yield Sign("joints of the line were opened just before", ((CauseKind.JOINT, SOME),))
    if "pump changed" in logged.work:
        yield Sign("joints at the pump were opened just before", ((CauseKind.JOINT, SOME),))
    if "strainer cleaned" in logged.work:
        yield Sign("the strainer was cleaned just before", _each(SCREENS, 1 / SOME))
    if "breather changed" in logged.work:
        yield Sign("the breather was changed just before", ((CauseKind.SURFACE, 1 / SOME),))
    if "fluid topped up" in logged.work:
        yield Sign("the fluid was topped up just before", ((CauseKind.LEVEL, 1 / SOME),))
    if "fluid changed" in logged.work:
        yield Sign("the fluid was changed just before", ((CauseKind.FLUID, SOME),))


def _each(kinds: Sequence[CauseKind], shift: float) -> tuple[tuple[CauseKind, float], ...]:
    return tuple((kind, shift) for kind in kinds)
