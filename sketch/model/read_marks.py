"""The newest reading at each place on the way to a pump, beside what was expected in its own state,
whether a newest one says that a pump must stop, and how the drawing stands as read. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from solver.field import places
from solver.field.as_read import AsRead, as_read
from solver.field.compared import Comparison, compare_one
from solver.field.gauges import Band
from solver.field.places import NoPlaceError, Place
from solver.field.states import prepared
from solver.field.stopping import Above, Compare, farthest_above, newest
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, unit
from solver.quantities.wording import PRESSURE, degrees, with_side


@dataclass(frozen=True, slots=True)
class ReadMark:
    """One reading with the pump running."""

    place: Place
    at: float  # developed length from the intake to its place [m]
    position: tuple[float, float]  # where it is drawn, (x, elevation) [m]
    read: Band  # vacuum at the tap [Pa]
    expected: Band  # [Pa]
    over: bool  # past what is allowed in its state
    when: str
    temperature: float  # of the fluid in its state [K]
    number: int = -1  # of the reading in the file

    @property
    def vacuum(self) -> float:
        """The middle of what was read [Pa]."""
        return (self.read.low + self.read.high) / 2.0

    def short(self, system: System) -> str:
        """What was read and when, without the unit that stands on a scale."""
        figures = band_text(self.read, system).replace(f" {unit(Kind.VACUUM, system)}", "")
        return f"read {figures}, {self.when[:10]}"

    def text(self, system: System) -> str:
        """What was read and when, what the drawing expects in that state, and how warm that was."""
        place = "the port" if not self.place.run else self.place.run
        stop = "Stop the pump: " if self.over else ""
        return (
            f"{stop}read {self.when[:10]} at {place}, {degrees(self.temperature, system)}: "
            f"{band_text(self.read, system)}, expected {band_text(self.expected, system)}"
        )


def band_text(band: Band, system: System) -> str:
    """A band of vacuum [Pa] with its unit; one above the atmosphere is said to be a pressure."""
    low, high = (with_side(end, system) for end in (band.low, band.high))
    if low == high:
        return low
    over = [end.endswith(PRESSURE) for end in (low, high)]
    if over == [True, False]:
        return f"{low} to {high} vac."
    first, last = (high, low) if all(over) else (low, high)  # more pressure is less vacuum
    return f"{first.partition(' ')[0]} to {last}"


def pin_text(band: Band, when: str, newest_day: str, system: System) -> str:
    """What a gauge on the drawing says: what was read, and the day where a place has been read since."""
    older = "" if when[:10] == newest_day else f" on {when[:10]}"
    return f"read {band_text(band, system)}{older}"


class NewestReadings(NamedTuple):
    """What the newest readings of a drawing come to."""

    marks: Mapping[str, tuple[ReadMark, ...]]  # of every pump, in walking order
    stop: Above | None  # the reading that says stop now, the farthest past what is allowed there
    as_read: AsRead | None  # how it stands with its screens as read, where one is past what is allowed or due


def newest_readings(
    layout: Layout, line: str = "", level: Level = Level.MINIMUM, base: Layout | None = None
) -> NewestReadings:
    """What the newest readings come to.

    line: the alternative that `layout` is, "" for the drawing itself; base: that it is laid over; level: of
    its reservoirs, where a case names none. Of older readings only those are
    compared that may still say stop or are the newest at their place: this runs after every change.
    """

    @cache
    def compared(number: int) -> Comparison:
        return compare_one(layout, prepared(layout, number, layout.readings[number], line))

    latest = newest(layout, layout.pumps, line, compared)
    above = farthest_above(latest, layout.units)
    return NewestReadings(_marks(layout, compared), above, as_read(layout, line, level, base))


def _marks(layout: Layout, compared: Compare) -> Mapping[str, tuple[ReadMark, ...]]:
    """The marks of every pump; none for a reading that cannot be compared, or at rest."""
    by_place: dict[Place, ReadMark] = {}
    done: set[tuple[str, str]] = set()
    latest_first = sorted(
        enumerate(layout.readings), key=lambda each: (each[1].moment, each[0]), reverse=True
    )
    for number, logged in latest_first:
        where = (logged.pump, logged.place)
        if where in done or not (logged.vacuum or logged.pressure):
            continue
        mark = _mark(compared(number))
        if mark is not None:
            done.add(where)
            by_place.setdefault(mark.place, mark)
    by_pump: dict[str, list[ReadMark]] = {}
    for mark in sorted(by_place.values(), key=lambda each: each.at):
        by_pump.setdefault(mark.place.pump, []).append(mark)
    return {pump: tuple(marks) for pump, marks in by_pump.items()}


def _mark(comparison: Comparison) -> ReadMark | None:
    each = next((each for each in comparison.compared if not each.reading.resting), None)
    if each is None:
        return None
    reading = each.reading
    solution = solve(reading.layout, reading.level)
    try:
        at, position = places.distance(solution, reading.place), places.position(solution, reading.place)
    except NoPlaceError:
        return None
    return ReadMark(
        reading.place,
        at,
        position,
        each.read,
        each.expected.band,
        each.above_allowed,
        comparison.logged.when,
        solution.fluid.temperature,
        comparison.number,
    )
