"""Readings of a gauge as somebody wrote them down beside the machine, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from solver.quantities.units import Kind, Quantity, System, typeset

Shown = tuple[Quantity, ...]
"""What a gauge showed: one figure of a steady hand, or the least and the most of one that swings."""

TUBES = ("full", "empty", "not known")
REFERENCES = ("site", "sea level")
"""Whether a gauge shows vacuum against the atmosphere around it, or against that at sea level."""

STROKES = ("full flow", "standby", "at rest")
MEASURED_AT = ("tank", "line")
CYLINDERS = ("in", "out")
SOUNDS = ("normal", "steady", "erratic")
"""A steady high note, or a noise that comes and goes."""

SOUND_WHEN = ("only cold", "only hot", "only fast", "extending")
JARS = ("clear", "clears from below", "stays cloudy")
"""A sample of fluid left standing: clear, air that rises out of it, or water that does not."""

AGES = ("new", "in service", "long in service")
WORK = (
    "strainer cleaned",
    "fluid changed",
    "fluid topped up",
    "breather changed",
    "line changed",
    "pump changed",
)
"""What was done between the reading before and this one; a valve that was opened and a joint that was
tightened are changes of the line."""

CAP = ("changed", "no change")
"""What the reading did when the filler cap was opened."""

WETTED = ("changed", "no change")
"""What the noise did when joints were wetted, one at a time, with the system's own fluid."""

IN_TANK = ("calm", "swirl over the intake", "foam at the return")
"""What the fluid's surface showed with the pump running."""

HOLDS = "holds"
"""Of a vacuum that does not fall after the pump has stopped."""


@dataclass(frozen=True, slots=True)
class LoggedGauge:
    """A gauge as it was fitted; what was not noted is None."""

    name: str = ""
    over_port: Quantity | None = None  # its height over the centre of the pump's port [m]
    tube: str = "not known"  # one of TUBES
    accuracy: float | None = None  # its class: largest error in percent of its range
    range: Quantity | None = None  # [Pa]
    zero: Quantity | None = None  # what it shows when vented [Pa of vacuum]
    reference: str = "site"  # one of REFERENCES


@dataclass(frozen=True, slots=True)
class LoggedReading:
    """One reading of one gauge; what was not noted is None or empty."""

    when: str  # "2026-03-04" or "2026-03-04 09:30"
    pump: str
    run: str = ""  # that the tap is on; "" where the gauge is at the pump's port
    distance: Quantity | None = None  # of the tap from the run's start as drawn [m]
    joint: str = ""  # the part at whose end of the run the tap is, in place of a distance
    line: str = ""  # an alternative's name, or the date that the line was built; "": the drawing itself
    vacuum: Shown = ()  # shown with the pump running [Pa]
    pressure: Shown = ()  # in its place: over the atmosphere, or absolute where its unit says so [Pa]
    rest_vacuum: Shown = ()  # shown with the pump stopped and the line full [Pa]
    rest_pressure: Shown = ()
    fall_time: Quantity | str | None = None  # in which the vacuum falls to nothing at rest [s], or HOLDS
    gauge: LoggedGauge = field(default_factory=LoggedGauge)
    case: str = ""  # whose figures hold, before those of `state`
    state: Mapping[str, Any] = field(default_factory=dict)  # the table of a case, as typed
    measured_at: str | None = None  # where the temperature was measured, one of MEASURED_AT
    running: Quantity | None = None  # since the start [s]
    strokes: Mapping[str, str] = field(default_factory=dict)  # pump -> one of STROKES
    cylinders: str | None = None  # one of CYLINDERS
    sound: str | None = None  # one of SOUNDS
    sound_when: tuple[str, ...] = ()  # of SOUND_WHEN
    foam: bool | None = None
    milky: bool | None = None
    jar: str | None = None  # one of JARS
    slow_cylinder: bool | None = None
    filler_cap: str | None = None  # one of CAP
    joints_wetted: str | None = None  # one of WETTED
    in_tank: tuple[str, ...] = ()  # of IN_TANK
    age: str | None = None  # of the machine, one of AGES
    work: tuple[str, ...] = ()  # of WORK
    note: str = ""
    unread: Mapping[str, Any] = field(default_factory=dict)  # keys that cannot be read, as typed
    # What is wrong with it: (key path in it, found, allowed).
    problems: tuple[tuple[tuple[str | int, ...], str, str], ...] = ()

    @property
    def dated(self) -> str:
        """When it was read, in words where no date can be read."""
        return self.when or "no date"

    @property
    def day(self) -> str:
        """The date without the time of day."""
        return self.when[:10]

    @property
    def has_time(self) -> bool:
        """Whether the time of day was noted."""
        return len(self.when) > len(self.day)

    @property
    def moment(self) -> datetime:
        """When it was read, by the clock there; the beginning of its day where no time was noted.

        Before all others where its date cannot be read.
        """
        if not self.when:
            return datetime.min
        return datetime.fromisoformat(self.when).replace(tzinfo=None)

    @property
    def place(self) -> str:
        """Where the gauge was, in words, its distance as it is typed."""
        return self._place(self.distance.text if self.distance else "0 m")

    def place_in(self, system: System) -> str:
        """Where the gauge was, in words and in the units asked for."""
        return self._place(typeset(self.distance.si if self.distance else 0.0, Kind.LENGTH, system))

    def _place(self, distance: str) -> str:
        if not self.run:
            return f"the port of {self.pump or 'no pump'}"
        return f"{self.run} at {self.joint}" if self.joint else f"{self.run}, {distance} from its start"

    def with_part_named(self, name: str, wanted: str) -> LoggedReading:
        """The reading with a part under another name."""

        def now(each: str) -> str:
            return wanted if each == name else each

        strokes = {now(pump): stroke for pump, stroke in self.strokes.items()}
        return replace(
            self,
            pump=now(self.pump),
            run=now(self.run),
            joint=now(self.joint),
            strokes=strokes,
            state=_with_key_named(self.state, name, wanted),
        )


_UNNAMED = ("site", "fluid", "note", "level")
"""Tables and keys of a state that hold no names of parts."""


def _with_key_named(state: Mapping[str, Any], name: str, wanted: str) -> Mapping[str, Any]:
    """A state whose figures for a part are under another name of it."""
    return {
        group: {wanted if key == name else key: value for key, value in table.items()}
        if isinstance(table, dict) and group not in _UNNAMED
        else table
        for group, table in state.items()
    }
