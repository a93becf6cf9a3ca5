"""What a gauge should show at each place of a machine, in every case and at rest: the figures of its card."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from solver.answers import inputs
from solver.field import places
from solver.field.cleaning import CleaningDue, cleaning_due, low_pressure, on_low_day
from solver.field.gauges import CLASSES, TYPICAL_RANGE, Gauge, Tube, too_coarse
from solver.field.places import NoPlaceError, Place
from solver.field.priming import priming
from solver.field.states import NotExplainedError, place_of
from solver.findings.judgement import Judgement
from solver.layout.cases import AS_DRAWN
from solver.layout.known_gauges import with_known_gauge
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout, Level
from solver.ledger.cases import CaseSolution
from solver.ledger.solve import Solution, solve
from solver.network.build import NetworkError
from solver.properties.atmosphere import LOW_PRESSURE_DAY
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees, error_text

AT_REST = "at rest, line full"
OVER = "over the limit: do not run it like this"
OVER_CLEAN = "over the limit even with clean strainers: do not run it like this"
ON_LOW_DAY = "over the limit on a low-pressure day: do not run it then"
CLEAN_ON_LOW_DAY = "over the limit on a low-pressure day even with clean strainers: do not run it then"
OVER_NOTES = (OVER, OVER_CLEAN, ON_LOW_DAY, CLEAN_ON_LOW_DAY)
FINER_TO_STOP = "the gauge's error hides when to stop"
FINER_TO_CLEAN = "the gauge's error hides when to clean the strainer"
HIDDEN = "a gauge here does not show how far the strainer is blocked"
LEAST_RISE = 10.0
"""Vacuum by which a blocked strainer shows at a place, or it does not show there [Pa]."""
DRAINS = "nothing keeps the line full: the needle falls to zero as it drains"


@dataclass(frozen=True, slots=True)
class CardRow:
    """One place in one state. Vacuums as its gauge shows them [Pa], negative above the atmosphere.

    Where the gauge's height or its tube is not noted, those at the place itself.
    """

    place: Place
    cases: tuple[str, ...]  # that it holds in; none at rest
    words: str  # temperature, speed and level; or why there is no figure
    clean: tuple[float, float] | None  # from, to: with clean strainers; None where it was not solved
    limit: float | None  # allowed on a day as drawn, as in the ledger; None at a tap, and at rest
    low_day: float | None  # allowed on a low-pressure day
    stop: float | None  # that, less the gauge's largest error; None where a clean line shows more, or is over
    note: str = ""
    service: float | None = None  # to clean the strainer at: the first case is over at that blocked share

    @property
    def over(self) -> bool:
        """Whether it is over the limit as drawn or on a low-pressure day, so that any reading says stop."""
        return self.note in OVER_NOTES

    @property
    def state(self) -> str:
        """The state of the machine in words."""
        names = ", ".join(name if name == AS_DRAWN else f'"{name}"' for name in self.cases)
        return f"{names}: {self.words}" if names else self.words


def rows(judgement: Judgement, pump: str, system: System) -> tuple[CardRow, ...]:
    """The rows of one pump: at its port and at each tap that was ever read, at rest and in every case.

    A case that cannot be solved has a row that says why. Raises KeyError for an unknown pump.
    """
    layout = judgement.layout
    layout.pumps[pump]
    places_read = (_tap(layout, each) for each in layout.readings if each.pump == pump)
    taps = dict.fromkeys([Place(pump), *(each for each in places_read if each is not None)])
    due = due_of(judgement, pump, system)
    return tuple(row for place in taps for row in _of_place(judgement, mount_of(layout, place), due, system))


def due_of(judgement: Judgement, pump: str, system: System) -> CleaningDue:
    """When the strainer is to be cleaned, or why that is not known."""
    try:
        return cleaning_due(judgement.layout, pump)
    except (NetworkError, FluidError) as error:
        return CleaningDue("", None, f"not judged: {error_text(error, system)}")


def _tap(layout: Layout, logged: LoggedReading) -> Place | None:
    try:
        return place_of(layout, logged)
    except NotExplainedError:
        return None


@dataclass(frozen=True, slots=True)
class Mount:
    """How a gauge is fitted at a place, as its last reading notes it."""

    place: Place
    gauge: Gauge  # a plain one of class 1.6 where neither class nor range is noted
    over_port: float | None = None  # its height over the pump's port [m]; None: not noted
    full: bool | None = None  # whether its tube is full of fluid; None: not noted

    @property
    def known(self) -> bool:
        """Whether what it shows can be worked out."""
        return self.full is False or (self.full is True and self.over_port is not None)

    def shift(self, solution: Solution) -> float:
        """What it shows more than there is at its place [Pa]; 0 where that is not known."""
        if not self.full or self.over_port is None:
            return 0.0
        port = solution.layout.pumps[self.place.pump].at[1].si
        rise = port + self.over_port - places.height(solution, self.place)
        return correction(solution, self.place.pump, rise)


def mount_of(layout: Layout, place: Place) -> Mount:
    """How the gauge at a place is fitted: that of the last reading there, with what is noted of it anywhere.

    What other gauges were, at that place or at another, is not taken over.
    """
    read = [each for each in layout.readings if each.pump == place.pump and _tap(layout, each) == place]
    read.sort(key=lambda each: each.moment)
    name = next((each.gauge.name for each in reversed(read) if each.gauge.name), "")
    mount = Mount(place, Gauge(name))
    for logged in read:
        typed = with_known_gauge(layout.readings, logged)[0].gauge
        if typed.name not in ("", name):
            continue
        if typed.accuracy is not None or typed.range is not None:
            share = None if typed.accuracy is None else typed.accuracy / 100.0
            span = None if typed.range is None else typed.range.si
            mount = replace(mount, gauge=Gauge(name, accuracy=share, range=span))
        if typed.over_port is not None:
            mount = replace(mount, over_port=typed.over_port.si)
        if typed.tube in (str(Tube.FULL), str(Tube.EMPTY)):
            mount = replace(mount, full=typed.tube == Tube.FULL)
    return mount


def _of_place(judgement: Judgement, mount: Mount, due: CleaningDue, system: System) -> Iterator[CardRow]:
    yield _at_rest(judgement.layout, mount, system)
    alike: dict[CardRow, list[str]] = {}
    for name, case in judgement.cases.items():
        row = _in_case(case, mount, due, system)
        alike.setdefault(replace(row, cases=()), []).append(name)
    yield from (replace(row, cases=tuple(names)) for row, names in alike.items())


def _shifted(row: CardRow, by: float) -> CardRow:
    """A row with what the gauge shows more [Pa]."""

    def up(value: float | None) -> float | None:
        return None if value is None else value + by

    clean = None if row.clean is None else (row.clean[0] + by, row.clean[1] + by)
    limit, low_day, stop, service = (up(each) for each in (row.limit, row.low_day, row.stop, row.service))
    return replace(row, clean=clean, limit=limit, low_day=low_day, stop=stop, service=service)


def _at_rest(layout: Layout, mount: Mount, system: System) -> CardRow:
    """Between the levels that the fluid may stand at."""
    place = mount.place
    try:
        ends = [solve(layout, level) for level in (Level.NORMAL, Level.MINIMUM)]
        shown = sorted(places.at_rest(solution, place) for solution in ends)
        drains = not _stays_full(ends[1], place.pump, system)
    except KeyError:
        text = f"not judged: {place.pump} does not run as drawn"
        return CardRow(place, (), AT_REST, None, None, None, None, text)
    except (NetworkError, FluidError, NoPlaceError) as error:
        return CardRow(place, (), AT_REST, None, None, None, None, f"not judged: {error_text(error, system)}")
    note = DRAINS if drains else ""
    row = CardRow(place, (), AT_REST, (shown[0], shown[1]), None, None, None, note)
    return _shifted(row, mount.shift(ends[1]))


def _stays_full(solution: Solution, pump: str, system: System) -> bool:
    plan = priming(solution, pump, system)
    return plan.flooded or bool(plan.foot_valve)


def _in_case(case: CaseSolution, mount: Mount, due: CleaningDue, system: System) -> CardRow:
    solution, place = case.solution, mount.place
    if solution is None or place.pump not in solution.pumps:
        return _not_running(case, place, system)
    state = state_words(solution, place.pump, system)
    try:
        drawn, low = solve(_clean(solution.layout), solution.level), _low_day(solution)
        shown = places.vacuum(drawn, place)
        dirty = None if due.blocked is None else places.vacuum(_blocked(solution, due), place)
    except (NetworkError, FluidError, NoPlaceError) as error:
        text = f"not judged: {error_text(error, system)}"
        return CardRow(place, (), state, None, None, None, None, text)
    allowed, low_day = drawn.pumps[place.pump].allowed_vacuum, low.pumps[place.pump].allowed_vacuum
    # Whatever blocks before a tap moves the tap and the port alike, so the port's room is the tap's.
    stop = low_day - mount.gauge.error + shown - drawn.pumps[place.pump].vacuum
    row = CardRow(place, (), state, (shown, shown), allowed, low_day, stop)
    row = replace(row, limit=None, low_day=None) if place.run else row
    over = _over(drawn.pumps[place.pump].sound, low.pumps[place.pump].sound, bool(due.screen))
    if over or stop <= shown:
        room = stop + mount.gauge.error - shown
        row = replace(row, stop=None, note=over or f"{FINER_TO_STOP}: {_finer(mount.gauge, room, system)}")
    elif dirty is None:
        row = replace(row, note=due.why_none)
    else:
        row = _with_service(row, shown, dirty, mount.gauge, system)
    return _shifted(row, mount.shift(drawn))


def _over(drawn: bool, low: bool, strainer: bool) -> str:
    """What is said of a pump by whether it is sound as drawn and on a low-pressure day; "" where it is."""
    if not drawn:
        return OVER_CLEAN if strainer else OVER
    return "" if low else CLEAN_ON_LOW_DAY if strainer else ON_LOW_DAY


def _with_service(row: CardRow, shown: float, dirty: float, gauge: Gauge, system: System) -> CardRow:
    """A row with when to clean: at what the gauge shows there, its error taken off, and never above stop."""
    assert row.stop is not None  # or nothing is cleaned for
    if dirty - shown < LEAST_RISE:
        return replace(row, note=HIDDEN)
    service = min(dirty - gauge.error, row.stop)
    if service > shown:
        return replace(row, service=service)
    room = min(dirty, row.stop + gauge.error) - shown
    return replace(row, note=f"{FINER_TO_CLEAN}: {_finer(gauge, room, system)}")


def _finer(gauge: Gauge, room: float, system: System) -> str:
    """The coarsest gauge of its range whose error is less than the room that there is [Pa]."""
    span = TYPICAL_RANGE if gauge.range is None else gauge.range
    up_to = typeset(span, Kind.VACUUM, system)
    finer = next((each for each in CLASSES if each / 100.0 * span < room), None)
    if finer is None:
        return f"no class of {up_to} is fine enough"
    return f"take class {finer:g} of {up_to}"


def _not_running(case: CaseSolution, place: Place, system: System) -> CardRow:
    """A case that was not judged, or in which this pump stands still while others run."""
    resting = case.solution.resting.get(place.pump) if case.solution is not None else None
    if resting is None or place.run:
        why = f"{place.pump} is at rest in it" if resting is not None else case.why(system)
        return CardRow(place, (), f"not judged: {why}", None, None, None, None)
    return CardRow(place, (), "at rest while others run", (resting.vacuum, resting.vacuum), None, None, None)


def _low_day(solution: Solution) -> Solution:
    """The state of a solution with clean screens on a low-pressure day."""
    return solve(_clean(on_low_day(solution.layout)), solution.level)


def _blocked(solution: Solution, due: CleaningDue) -> Solution:
    """The state of a solution with its strainer blocked so far that cleaning is due."""
    assert due.blocked is not None  # who asks has looked
    return solve(inputs.blocked(solution.layout, (due.screen,), due.blocked, solution.level), solution.level)


def state_words(solution: Solution, pump: str, system: System) -> str:
    """Temperature, speed or flow, and level of a solved state, in a few words."""
    ledger = solution.pumps[pump]
    turning = (
        typeset(ledger.flow, Kind.FLOW, system)
        if ledger.speed is None
        else typeset(ledger.speed, Kind.SPEED, system)
    )
    level = typeset(ledger.fluid_level, Kind.LENGTH, system)
    return f"{degrees(solution.fluid.temperature, system)}, {turning}, fluid at {level}"


def _clean(layout: Layout) -> Layout:
    """A layout with clean screens."""
    return replace(
        layout,
        intakes={name: _with_clean_screen(part) for name, part in layout.intakes.items()},
        fittings={name: _with_clean_screen(part) for name, part in layout.fittings.items()},
    )


def low_day_words(layout: Layout, system: System) -> str:
    """Where the figures for a low-pressure day are from, and what of it the drawing allows for."""
    site, own = layout.site, layout.site.weather_allowance
    takes = typeset(low_pressure(site), Kind.VACUUM, system)
    day = "the barometer as typed" if site.barometer is not None else "a standard day"
    if own is not None and own.si >= LOW_PRESSURE_DAY:
        return f"{takes} less air than {day}, which is what the drawing itself allows for"
    drawn = (
        f"allows for {typeset(own.si, Kind.VACUUM, system)} of it"
        if own is not None
        else "allows for none of it"
    )
    return f"{takes} less air than {day} (common practice, no source); the drawing itself {drawn}"


def _with_clean_screen(part: Any) -> Any:
    return part if part.screen is None else replace(part, screen=replace(part.screen, blocked=0.0))


def correction(solution: Solution, pump: str, rise: float) -> float:
    """What a gauge shows more for standing so much over its tap with its tube full [Pa]; `rise` in [m]."""
    return solution.pumps[pump].density * 9.80665 * rise


OF_CLEANING = ('From expected up to "clean at"', '"Clean at" reached')
WHAT_TO_DO: Mapping[str, str] = {
    "At rest, off by more than the gauge's error": (
        "vent the gauge and look at its zero and what is in its tube; look at the fluid level"
    ),
    "About as expected": "nothing; write the reading down with temperature and speed",
    'From expected up to "clean at"': "the line costs more than it did: write it down, and read again soon",
    "Above expected by more than the gauge's error, below stop, no figure to clean at": (
        "look at strainer, valves and hoses at the next stop, then read again"
    ),
    '"Clean at" reached': "clean the strainer at the next stop, then read again",
    "Stop reached, or above": (
        "stop the pump now; do not run it to look further: strainer, valve, hose, fluid too cold or too thick"
    ),
    "Swings, with a noise that comes and goes": "air is drawn in: fluid level and return, joints below the "
    "atmosphere, shaft seal",
    "Clearly below expected": "less flow than drawn, thinner fluid, or a gauge that shows too little",
}
"""What to do at which reading; common practice, no source."""

WHAT_TO_DO_WITHOUT_CLEANING: Mapping[str, str] = {
    reading.removesuffix(", no figure to clean at"): work
    for reading, work in WHAT_TO_DO.items()
    if reading not in OF_CLEANING
}
"""What to do where no state has a reading to clean a strainer at."""

AT_ANY_READING = "Stop at any reading"
DO_NOT_RUN = (
    "do not run the pump in that state, at whatever reading: stop it now, and have the line mended first"
)


def what_to_do(shown: Iterable[CardRow]) -> dict[str, str]:
    """What to do at which reading; nothing of running on where every state with the pump running is over."""
    running = [
        row for row in shown if row.cases and row.clean is not None and (row.stop is not None or row.note)
    ]
    for_all = {**WHAT_TO_DO} if cleaned(running) else {**WHAT_TO_DO_WITHOUT_CLEANING}
    if not any(row.over for row in running):
        return for_all
    at_once = {AT_ANY_READING: DO_NOT_RUN}
    if not all(row.over for row in running):
        return {**for_all, **at_once}
    kept = ("At rest, off by more than the gauge's error", "Clearly below expected")
    return {**at_once, **{reading: WHAT_TO_DO[reading] for reading in kept}}


def cleaned(shown: Iterable[CardRow]) -> bool:
    """Whether any state has a reading at which to clean a strainer."""
    return any(row.service is not None for row in shown)


def coarse_gauges(shown: Iterable[CardRow], layout: Layout, system: System) -> tuple[str, ...]:
    """Which gauges at the ports are too coarse for the least that is allowed there, and which would do."""
    least = dict[str, float]()
    for row in shown:
        if row.limit is not None:
            least[row.place.pump] = min(least.get(row.place.pump, row.limit), row.limit)
    gauges = {pump: mount_of(layout, Place(pump)).gauge for pump in least}
    words = (too_coarse(gauges[pump], allowed, system) for pump, allowed in least.items())
    return tuple(dict.fromkeys(each for each in words if each))
