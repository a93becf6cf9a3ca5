"""What can be tried beside the machine without another reading, and what it would show under two causes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from solver.field.causes import AIR, CauseKind
from solver.field.explain import Explanation
from solver.layout.logged import LoggedReading
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import gauge_reading

WETTING = "wet one joint at a time with the system's own fluid"
VENT = "With the pump stopped, vent the gauge: look at its zero, and at what is in its tube"


class Trial(StrEnum):
    """What may have been tried already."""

    CAP = "filler cap opened"
    JAR = "sample left standing"
    FALL = "fall of the vacuum timed"
    WET = "joints wetted"
    SURFACE = "fluid's surface looked at"


@dataclass(frozen=True)
class NextStep:
    """One thing to do beside the machine, and what it would show under the first two causes."""

    what: str  # what to do, in words
    shows: tuple[str, str]  # under the likeliest cause, and under the next
    stopped: bool  # it needs no running pump
    at_tap: bool = False  # it is a reading of a gauge at a tap of the line

    @property
    def words(self) -> tuple[str, ...]:
        """What to do, then what it would show under each."""
        return (self.what, *self.shows)


def tried(logged: Collection[LoggedReading]) -> frozenset[Trial]:
    """What was tried already, by what is noted of it."""
    noted = {
        Trial.CAP: any(each.filler_cap for each in logged),
        Trial.JAR: any(each.jar for each in logged),
        Trial.FALL: any(each.fall_time is not None for each in logged),
        Trial.WET: any(each.joints_wetted for each in logged),
        Trial.SURFACE: any(each.in_tank for each in logged),
    }
    return frozenset(trial for trial, done in noted.items() if done)


def vent_gauge(first: Explanation, second: Explanation, error: float, system: System) -> NextStep:
    """The gauge vented: its zero, and what is in its tube.

    error: the largest of its class [Pa]; so far off it may be and be sound.
    """
    allowed = typeset(error, Kind.VACUUM, system)

    def shows(each: Explanation) -> str:
        if each.cause is not CauseKind.OFFSET:
            return f"with {each.name}: zero within {allowed}, as its class allows, and nothing in its tube"
        if abs(each.size) <= error:
            return f"with {each.name}: fluid in its tube; its zero tells nothing within {allowed}, its class"
        read = gauge_reading(each.size, system)
        return f"with {each.name}: {read}, more than the {allowed} of its class, or fluid in its tube"

    return NextStep(VENT, (shows(first), shows(second)), stopped=True)


def open_filler_cap(first: Explanation, second: Explanation, system: System, stop: bool) -> NextStep:
    """The filler cap opened, after the pump has stopped where it must."""

    def shows(each: Explanation) -> str:
        plugged = each.cause is CauseKind.SURFACE
        if stop:
            return f"with {each.name}: {'air rushes in' if plugged else 'nothing rushes in'}"
        less = f"falls by {typeset(each.size, Kind.VACUUM, system)}" if plugged else "does not change"
        return f"with {each.name}: the reading {less}"

    how = "open the filler cap slowly, never on a pressurised tank"
    what = f"As soon as the pump has stopped, {how}, and listen" if stop else f"While the pump runs, {how}"
    return NextStep(what, (shows(first), shows(second)), stop)


Shows = Callable[[CauseKind], str]
"""What is seen under a kind of cause; "" where that cannot be said."""


@dataclass(frozen=True)
class _Look:
    """One trial by which ways of drawing air are told apart, from each other and from all else."""

    trial: Trial
    what: str
    stopped: bool
    shows: Shows


def _in_a_jar(kind: CauseKind) -> str:
    return "it clears from below" if kind in AIR else "it is clear, or stays cloudy"


def _falling(kind: CauseKind) -> str:
    return "it falls" if kind in (CauseKind.JOINT, CauseKind.SEAL) else "it holds"


def _wetted(kind: CauseKind) -> str:
    return "the noise changes at one of them" if kind is CauseKind.JOINT else "the noise does not change"


def _surface(kind: CauseKind) -> str:
    seen: Mapping[CauseKind, str] = {
        CauseKind.VORTEX: "it swirls over the intake",
        CauseKind.RETURN: "foam stands at the return",
    }
    return seen.get(kind, "it is calm")


_LOOKS = (
    _Look(Trial.JAR, "Leave a sample of the fluid standing in a jar", stopped=True, shows=_in_a_jar),
    _Look(
        Trial.FALL,
        "Stop the pump with the line full, and time how the vacuum falls at rest",
        stopped=True,
        shows=_falling,
    ),
    _Look(
        Trial.SURFACE,
        "Look at the fluid's surface through the filler opening with the pump running, never on a "
        "pressurised tank",
        stopped=False,
        shows=_surface,
    ),
    _Look(
        Trial.WET,
        f"With the pump running, {WETTING}, the lowest pressure first, guards on, hands clear, and listen",
        stopped=False,
        shows=_wetted,
    ),
)
"""The cheapest first."""


def of_air(
    first: Explanation, second: Explanation, stop: bool, done: Collection[Trial]
) -> Iterator[NextStep]:
    """Each trial that splits a way of drawing air from another cause, the cheapest first.

    stop: nothing is asked for that needs the pump running.
    """
    for look in _LOOKS:
        shows = (look.shows(first.cause), look.shows(second.cause))
        if look.trial not in done and shows[0] != shows[1] and (look.stopped or not stop):
            texts = [f"with {each.name}: {words}" for each, words in zip((first, second), shows, strict=True)]
            yield NextStep(look.what, (texts[0], texts[1]), look.stopped)
