"""The newest reading at each place on the way to a pump, beside what was expected in its own state. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.field import places
from solver.field.compared import Comparison
from solver.field.gauges import Band
from solver.field.places import NoPlaceError, Place
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees


@dataclass(frozen=True, slots=True)
class ReadMark:
    """One reading with the pump running."""

    place: Place
    at: float  # developed length from the intake to its place [m]
    position: tuple[float, float]  # where it is drawn, (x, elevation) [m]
    read: Band  # vacuum at the tap [Pa]
    expected: Band  # [Pa]
    over: bool  # above what is allowed in its state
    when: str
    temperature: float  # of the fluid in its state [K]

    @property
    def vacuum(self) -> float:
        """The middle of what was read [Pa]."""
        return (self.read.low + self.read.high) / 2.0

    def short(self, system: System) -> str:
        """What was read and when, without the unit that stands on a scale."""
        return f"read {band_text(self.read, system).rpartition(' ')[0]}, {self.when[:10]}"

    def text(self, system: System) -> str:
        """What was read and when, what the drawing expects in that state, and how warm that was."""
        place = "the port" if not self.place.run else self.place.run
        stop = "Stop the pump: " if self.over else ""
        return (
            f"{stop}read {self.when[:10]} at {place}, {degrees(self.temperature, system)}: "
            f"{band_text(self.read, system)}, expected {band_text(self.expected, system)}"
        )


def band_text(band: Band, system: System) -> str:
    """A band of vacuum [Pa] with its unit."""
    low, high = typeset(band.low, Kind.VACUUM, system), typeset(band.high, Kind.VACUUM, system)
    return low if low == high else f"{low.partition(' ')[0]} to {high}"


def read_marks(comparisons: Sequence[Comparison], pump: str) -> tuple[ReadMark, ...]:
    """The marks of one pump, in walking order; none for a reading that cannot be compared, or at rest."""
    newest: dict[Place, ReadMark] = {}
    for each_mark in sorted(comparisons, key=lambda each: each.logged.when):
        for each in each_mark.compared:
            reading = each.reading
            if reading.resting or reading.place.pump != pump:
                continue
            solution = solve(reading.layout, reading.level)
            try:
                at = places.distance(solution, reading.place)
            except NoPlaceError:
                continue
            newest[reading.place] = ReadMark(
                reading.place,
                at,
                places.position(solution, reading.place),
                each.read,
                each.expected.band,
                each.above_allowed,
                each_mark.logged.when,
                solution.fluid.temperature,
            )
    return tuple(sorted(newest.values(), key=lambda mark: mark.at))
