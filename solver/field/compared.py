"""Every reading of a drawing beside what the drawing expects at its place and in its state, in words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from solver.field import states, weighing
from solver.field.expected import NINE_IN_TEN, Expected, expected_of, is_above
from solver.field.gauges import Band
from solver.field.sign_read import STOP_UNTIL_CLEAR
from solver.field.states import HEIGHT_NOT_NOTED, TEMPERATURE_NOT_NOTED, TUBE_NOT_NOTED, Prepared, Reading
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import (
    allowed_there,
    capitalised,
    error_text,
    gauge_reading,
    is_over_atmosphere,
    with_side,
)

STOP = "Stop the pump"
"""The first word wherever a reading is past what is allowed here."""


NEARLY_ALL = 70e3
"""Width of a band from which a reading can hardly say anything [Pa]; ours."""


@dataclass(frozen=True, slots=True)
class OverRest:
    """How far a reading with the pump running is above that at rest, whatever the gauge's height and tube."""

    read: Band  # [Pa]
    expected: Band  # nine in ten of a sound machine that is as drawn [Pa]
    drawn: float  # [Pa]
    deviation: float  # standard deviation of what is not known [Pa]
    most: float = math.inf  # that there can be: to where the fluid boils, from what stands there at rest [Pa]

    @property
    def band(self) -> Band:
        """What is expected, none of it above what there can be."""
        return Band(min(self.expected.low, self.most), min(self.expected.high, self.most))


@dataclass(frozen=True)
class ComparedReading:
    """One vacuum that was read, the band of what the drawing expects there, and what is allowed there."""

    reading: Reading
    expected: Expected
    over_rest: OverRest | None = None  # of a gauge of which height and tube were not noted

    @property
    def above_allowed(self) -> bool:
        """Whether it may be past what is allowed; of a band the upper end counts."""
        return is_above(self.reading, self.expected)

    @property
    def near_allowed(self) -> bool:
        """Whether it may be past what is allowed by the gauge's error, or its height if nobody noted it."""
        allowed, unsure = self.expected.allowed, self.reading.gauge.error + self.reading.of_height
        return allowed is not None and self.read.high + unsure > allowed

    @property
    def read(self) -> Band:
        """What the tap had [Pa of vacuum], the gauge's tube and zero taken off."""
        return self.reading.band

    @property
    def inside(self) -> bool:
        """Whether it may be read on a machine that is as drawn."""
        read, band = self.read, self.expected.unbound
        if self.over_rest is not None:
            read, band = self.over_rest.read, self.over_rest.expected
        return read.low <= band.high and read.high >= band.low

    @property
    def undecided(self) -> bool:
        """Whether it fits the drawing only by what was not noted of its gauge's height and tube."""
        if self.over_rest is not None:
            return False
        band, noted = self.expected.unbound, {doubt.words for doubt in self.reading.doubts}
        whole = band.low <= self.read.low and self.read.high <= band.high
        return self.inside and (HEIGHT_NOT_NOTED in noted or (TUBE_NOT_NOTED in noted and not whole))

    def words(self, system: System) -> str:
        """One line: what was read, what the drawing expects, what is allowed."""
        when = " at rest" if self.reading.resting else ""
        line = f"read{when} {self._read(system)}; the drawing expects {self._expects(system)}"
        if self.above_allowed and self.expected.allowed is not None:
            stop = f"{STOP}: {line}, and {allowed_there(self.expected.allowed, system)} is allowed there"
            return stop if self.over_rest is None else f"{stop}. {self._running_over_rest(system)}"
        near = ""
        if self.near_allowed and self.expected.allowed is not None:
            allowed = allowed_there(self.expected.allowed, system)
            height = " and its height, which was not noted," if self.reading.of_height else ""
            near = f"; by the gauge's error{height} it may be past what is allowed there, {allowed}"
        return f"{line}: {self._against(system)}{near}"

    def _expects(self, system: System) -> str:
        """The band of what is expected; where it spans nearly all a gauge may show, what has to be noted."""
        wide, noted = self.expected.unbound, {doubt.words for doubt in self.reading.doubts}
        if TEMPERATURE_NOT_NOTED in noted and wide.high - wide.low > NEARLY_ALL:
            return "nearly any figure, as the fluid's temperature was not noted: note it first"
        most = ", the most that any gauge can show here" if self.expected.is_bound else ""
        return f"{_band(self.expected.band, system)}{most}"

    def _read(self, system: System) -> str:
        """What the gauge showed, and what that is at its tap where it is something else."""
        tap, shown = _band(self.read, system), self.reading.shown
        by_gauge = tap if shown is None else _band(shown, system)
        reference = " against sea level" if self.reading.at_sea_level else ""
        return tap if by_gauge == tap else f"{by_gauge}{reference}, which is {tap} at the tap"

    def difference(self, system: System) -> str:
        """How far from what the drawing expects it is, and which way: a vacuum above it, or less pressure."""
        band = self.expected.unbound
        above = self.read.low > band.high
        read, end = (self.read.low, band.high) if above else (self.read.high, band.low)
        figure, none = (typeset(each, Kind.VACUUM, system) for each in (abs(read - end), 0.0))
        if is_over_atmosphere(read, system):  # what was read is a pressure: more vacuum is less of it
            more = "less pressure than" if above else "more pressure than"
        elif is_over_atmosphere(end, system):
            more = "more vacuum than"
        else:
            more = "above" if above else "below"
        return f"{'barely' if figure == none else figure} {more}"

    def _running_over_rest(self, system: System) -> str:
        """What the reading at rest leaves of it, whatever the gauge's height and the fluid in its tube."""
        rest = self.over_rest
        assert rest is not None
        read, least, most = (with_side(each, system) for each in (
            (rest.read.low + rest.read.high) / 2.0, rest.band.low, rest.band.high
        ))  # fmt: skip
        fits = "within" if self.inside else "above" if rest.read.low > rest.expected.high else "below"
        bound = ", the most that there can be," if rest.expected.high > rest.most else ""
        return (
            f"Running less at rest, which the gauge's height and tube do not change, it read {read}: {fits} "
            f"the {least} to {most}{bound} that the drawing expects"
        )

    def _against(self, system: System) -> str:
        if self.over_rest is not None:
            return self._running_over_rest(system)
        if self.undecided:
            noted = {doubt.words for doubt in self.reading.doubts}
            missing = [words for words in (HEIGHT_NOT_NOTED, TUBE_NOT_NOTED) if words in noted]
            return f"whether it fits cannot be told, as {' and '.join(missing)}"
        return "within that" if self.inside else f"{self.difference(system)} that"


@dataclass(frozen=True)
class Comparison:
    """One reading of the file, with what could be compared of it."""

    prepared: Prepared
    compared: tuple[ComparedReading, ...]  # with the pump running, then at rest; what was read of the two
    why_not: str  # why it could not be compared; "" where it could

    @property
    def logged(self) -> LoggedReading:
        """The reading as it was written down."""
        return self.prepared.logged

    @property
    def asks(self) -> bool:
        """Whether it cannot be what it is typed as, and the pump is to stop until that is clear."""
        return STOP_UNTIL_CLEAR in self.why_not

    @property
    def number(self) -> int:
        """Its place in the file, from 0."""
        return self.prepared.number

    @property
    def stop(self) -> bool:
        """Whether any of it is past what is allowed here."""
        return any(each.above_allowed for each in self.compared)

    def words(self, system: System) -> tuple[str, ...]:
        """What is to be said of it, a sentence a line; the first word is stop where it is above."""
        if self.why_not:
            return (f"Not compared: {self.why_not}.", *_ahead(self.logged.when, self.stop))
        lines = [f"{each.words(system)}." for each in sorted(self.compared, key=_quiet)]
        if not lines:
            lines = ["No vacuum was noted."]
        lines += self.prepared.of_gauge
        if self.prepared.doubts:
            lines.append(f"Its band is wider because {'; '.join(self.prepared.doubts)}.")
        if self.prepared.passed_over:
            lines.append(f"Ignored, as the drawing has no such part: {', '.join(self.prepared.passed_over)}.")
        return tuple(capitalised(line) for line in (*lines, *_ahead(self.logged.when, self.stop)))


def compare(layout: Layout, line: str = "") -> tuple[Comparison, ...]:
    """Every reading of a drawing beside what it expects, in the order of the file.

    line: the alternative that `layout` is, "" for the drawing itself.
    """
    return tuple(compare_one(layout, each) for each in states.prepare(layout, line))


def compare_one(layout: Layout, prepared: Prepared) -> Comparison:
    """One reading beside what the drawing expects."""
    try:
        expected = expected_of(prepared.readings) if prepared.readings else ()
    except (NetworkError, FluidError) as error:
        why = f"its state cannot be solved: {error_text(error, layout.units)}"
        return Comparison(prepared, (), why)
    compared = tuple(ComparedReading(*pair) for pair in zip(prepared.readings, expected, strict=True))
    if len(compared) == 2 and (deviation := compared[0].expected.over_rest) is not None:
        compared = (replace(compared[0], over_rest=_over_rest(*compared, deviation)), compared[1])
    return Comparison(prepared, compared, prepared.why_not)


def _over_rest(running: ComparedReading, rest: ComparedReading, deviation: float) -> OverRest:
    drawn, half = running.expected.vacuum - rest.expected.vacuum, NINE_IN_TEN * deviation
    read = weighing.over_rest(running.reading, rest.reading)
    most = running.expected.most - rest.expected.vacuum
    return OverRest(read, Band(drawn - half, drawn + half), drawn, deviation, most)


def _ahead(when: str, stop: bool) -> Iterator[str]:
    """That a reading is dated after today, if it is, and what it cannot show then. stop: it says stop."""
    if is_ahead(when):
        today = date.today().isoformat()
        yield (
            f"It is dated {when[:10]}, and today is {today}: check the date. "
            f"Until then it ends no earlier stop{', and nothing ends its own' if stop else ''}."
        )


def is_ahead(when: str) -> bool:
    """Whether a reading is dated after today."""
    return when[:10] > date.today().isoformat()


def _quiet(compared: ComparedReading) -> bool:
    return not compared.above_allowed


def _band(band: Band, system: System) -> str:
    low, high = (_vacuum(end, system) for end in (band.low, band.high))
    if low == high:
        return low
    if system is System.SI and is_over_atmosphere(band.high, system):  # both are, and say so once
        low = typeset(-band.low, Kind.VACUUM, system)
    elif is_over_atmosphere(band.low, system):
        high = gauge_reading(band.high, system)
    return f"{low} to {high}"


def _vacuum(vacuum: float, system: System) -> str:
    """A vacuum; pressure over the atmosphere in words, as no gauge shows a negative one."""
    over = is_over_atmosphere(vacuum, system)
    return gauge_reading(vacuum, system) if over else typeset(abs(vacuum), Kind.VACUUM, system)
