"""What a gauge should show at each place of a machine, in every case and at rest: the figures of its card."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from solver.answers import inputs
from solver.answers.variations import first_screen
from solver.field import places
from solver.field.cleaning import CleaningDue, cleaning_due, low_pressure, on_low_day
from solver.field.gauges import CLASSES, TYPICAL_RANGE, Gauge, too_coarse
from solver.field.mounts import Mount, mount_of, tap
from solver.field.places import NoPlaceError, Place
from solver.field.priming import priming
from solver.findings.cold_line import with_line_cold
from solver.findings.judgement import Judgement
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import Layout, Level
from solver.ledger.cases import CaseSolution
from solver.ledger.solve import PumpLedger, Solution, solve
from solver.network.build import NetworkError
from solver.properties.atmosphere import LOW_PRESSURE_DAY
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, number, typeset
from solver.quantities.wording import degrees, error_text, is_over_atmosphere, reached

AT_REST = "at rest, line full"
BREAKS = "the column of fluid breaks there, so no gauge shows a figure"
OVER = "past the limit: do not run it like this"
OVER_CLEAN = "past the limit even with clean strainers: do not run it like this"
ON_LOW_DAY = "past the limit on a low-pressure day: do not run it then"
CLEAN_ON_LOW_DAY = "past the limit on a low-pressure day even with clean strainers: do not run it then"
OVER_NOTES, LOW_DAY_NOTES = (OVER, OVER_CLEAN), (ON_LOW_DAY, CLEAN_ON_LOW_DAY)
OTHER_DAY = "on any other day stop at {}, the {} taken off that the gauge may be off"
NO_OTHER_DAY = "on any other day this gauge is too coarse to show a safe stop"
FINER_TO_STOP = "more than lies between expected and limit, so it shows no safe stop"
FINER_TO_CLEAN = (
    "more than its reading changes until the strainer is due, so it does not show when to clean it"
)
HIDDEN = "a gauge here does not show how far the strainer is blocked"
NO_CLEANING = "no reading to clean at"
EACH_TIME_OFF, FINER_GAUGE, LINE_FIRST = "each time off", "finer gauge", "line first"
"""What stands in the place of a reading to clean at that would be the one to stop at."""
NO_ROOM = "no room between cleaning and stop, as this state is over first: "
NO_ROOM_WORK = {
    EACH_TIME_OFF: "clean the strainer each time the pump is off, once it shows more than expected",
    FINER_GAUGE: "the gauge may be off by as much as it rises until then; ",
    LINE_FIRST: "the gauge may be off by as much as it rises until then, and no class is fine enough: change "
    "the line first",
}
LEAST_RISE = 10.0
"""Vacuum by which a blocked strainer shows at a place, or it does not show there [Pa]."""
COLD = "line still"
DRAINS = "the line then drains, and the needle falls to zero"


@dataclass(frozen=True, slots=True)
class CardRow:
    """One place in one state. Vacuums as its gauge shows them [Pa], negative above the atmosphere.

    Where the gauge's height or its tube is not noted, those at the place itself.
    """

    place: Place
    cases: tuple[str, ...]  # that it holds in; none at rest
    words: str  # temperature, speed and level; or why there is no figure
    clean: tuple[float, float] | None  # from, to: with clean strainers; None: not solved, or it breaks
    limit: float | None  # allowed on a day as drawn, as in the ledger; None at a tap, and at rest
    low_day: float | None  # allowed on a low-pressure day
    stop: float | None  # that, less the gauge's largest error; None where a clean line shows more, or is over
    note: str = ""
    service: float | None = None  # to clean the strainer at: the first case is over at that blocked share
    breaks: bool = False  # the column of fluid: no gauge has a figure to show
    instead: str = ""  # of a reading to clean at, where that would be the one to stop at

    @property
    def running(self) -> bool:
        """Whether the pump runs in it and it was solved."""
        return bool(self.cases) and (self.breaks or self.clean is not None)

    @property
    def over(self) -> bool:
        """Whether it is past the limit as drawn, so that any reading says stop."""
        return self.note.removeprefix(f"{BREAKS}; ") in OVER_NOTES

    @property
    def over_on_low_day(self) -> bool:
        """Whether it is within the limit as drawn, and past it on a low-pressure day."""
        return self.note.removeprefix(f"{BREAKS}; ").startswith(LOW_DAY_NOTES)

    @property
    def line_cold(self) -> bool:
        """Whether it is of the first strokes of a start, with the line colder than its tank."""
        return self.words.startswith(COLD)

    @property
    def state(self) -> str:
        """The state of the machine in words."""
        names = ", ".join(name if name == AS_DRAWN else f'"{name}"' for name in self.cases)
        return f"{names}: {self.words}" if names else self.words


def rows(judgement: Judgement, pump: str, system: System) -> tuple[CardRow, ...]:
    """The rows of one pump: at its port and at each tap that was ever read, at rest and in every case.

    A case that cannot be solved has a row that says why, a fault has none. Raises KeyError for an unknown
    pump.
    """
    layout = judgement.layout
    layout.pumps[pump]
    places_read = (tap(layout, each) for each in layout.readings if each.pump == pump)
    taps = dict.fromkeys([Place(pump), *(each for each in places_read if each is not None)])
    due = due_of(judgement, pump, system)
    return tuple(row for place in taps for row in _of_place(judgement, mount_of(layout, place), due, system))


def row_of(judgement: Judgement, solution: Solution, pump: str, system: System) -> CardRow:
    """The row at the port of a pump in one solved state, without when to clean the strainer.

    Raises KeyError for a pump that does not run in it.
    """
    mount = mount_of(judgement.layout, Place(pump))
    screen = first_screen(judgement.layout, solution.pumps[pump])
    return _in_case(CaseSolution("", solution=solution), mount, CleaningDue(screen, None, ""), system)


def due_of(judgement: Judgement, pump: str, system: System) -> CleaningDue:
    """When the strainer is to be cleaned, or why that is not known."""
    try:
        return cleaning_due(judgement.layout, pump)
    except (NetworkError, FluidError) as error:
        return CleaningDue("", None, f"not judged: {error_text(error, system)}")


def _of_place(judgement: Judgement, mount: Mount, due: CleaningDue, system: System) -> Iterator[CardRow]:
    yield _at_rest(judgement.layout, mount, system)
    alike: dict[CardRow, list[str]] = {}
    for name, case in judgement.cases.items():
        if name in fault_cases(judgement):
            continue
        for row in (_in_case(case, mount, due, system), *_line_left_cold(case, mount, due, system)):
            alike.setdefault(replace(row, cases=()), []).append(name)
    yield from (replace(row, cases=tuple(names)) for row, names in alike.items())


def _line_left_cold(case: CaseSolution, mount: Mount, due: CleaningDue, system: System) -> Iterator[CardRow]:
    """The first strokes of a start: a case with its line still cold, its tank warmed; of the others none."""
    solution = case.solution
    cold = None if solution is None else with_line_cold(solution.layout)
    if solution is None or cold is None or mount.place.pump not in solution.pumps:
        return
    try:
        row = _in_case(replace(case, solution=solve(cold, solution.level)), mount, due, system)
    except (NetworkError, FluidError) as error:
        text = f"{COLD} cold: not judged: {error_text(error, system)}"
        yield CardRow(mount.place, (), text, None, None, None, None)
        return
    tank = degrees(solution.tank_fluid.temperature, system)
    solved = row.breaks or row.clean is not None
    yield replace(
        row, words=f"{COLD} at {row.words}, tank at {tank}" if solved else f"{COLD} cold: {row.words}"
    )


def fault_cases(judgement: Judgement) -> tuple[str, ...]:
    """The cases in which something is wrong: what a gauge shows in them is no reading to expect."""
    cases = cases_of(judgement.layout)
    return tuple(name for name in judgement.cases if name in cases and cases[name].is_fault)


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
        words = (
            f"{AT_REST}, {degrees(ends[0].fluid.temperature, system)}, {_levels(ends, place.pump, system)}"
        )
        shown = sorted(places.at_rest(solution, place) for solution in ends)
        drains = not _stays_full(ends[1], place.pump, system)
    except KeyError:
        text = f"not judged: {place.pump} does not run as drawn"
        return CardRow(place, (), AT_REST, None, None, None, None, text)
    except (NetworkError, FluidError, NoPlaceError) as error:
        return CardRow(place, (), AT_REST, None, None, None, None, f"not judged: {error_text(error, system)}")
    if any(_broken(vacuum, ends[1].pumps[place.pump]) for vacuum in shown):
        return CardRow(place, (), words, None, None, None, None, BREAKS, breaks=True)
    note = DRAINS if drains else ""
    row = CardRow(place, (), words, (shown[0], shown[1]), None, None, None, note)
    return _shifted(row, mount.shift(ends[1]))


def _levels(ends: Sequence[Solution], pump: str, system: System) -> str:
    """Between which levels of the fluid a gauge is read at rest, in words."""
    high, low = (typeset(each.pumps[pump].fluid_level, Kind.LENGTH, system) for each in ends)
    return f"fluid at {low}" if high == low else f"fluid at {high} (normal) to {low} (minimum)"


def _broken(vacuum: float, ledger: PumpLedger) -> bool:
    """Whether no fluid can have a vacuum [Pa] at rest."""
    return ledger.atmosphere - vacuum <= ledger.vapor_pressure


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
    if drawn.pumps[place.pump].breaks:
        row = replace(row, clean=None, stop=None, note=f"{BREAKS}; {over}", breaks=True)
    elif over or stop <= shown:
        room = stop + mount.gauge.error - shown
        row = replace(row, stop=None, note=over or _finer(mount.gauge, room, FINER_TO_STOP, system))
        if row.over_on_low_day:
            other = allowed - low_day + stop
            row = replace(row, note=f"{over}; {_on_other_day(other, shown, mount, drawn, system)}")
    elif dirty is None:
        row = replace(row, note=due.why_none and f"{NO_CLEANING}: {due.why_none}")
    else:
        row = _with_service(row, shown, dirty, mount.gauge, system)
    return _shifted(row, mount.shift(drawn))


def _on_other_day(stop: float, shown: float, mount: Mount, drawn: Solution, system: System) -> str:
    """Where to stop on a day as drawn, as its gauge shows it."""
    if stop <= shown:
        return NO_OTHER_DAY
    stop += mount.shift(drawn)
    at, off = reached(stop, system), typeset(mount.gauge.error, Kind.VACUUM, system)
    return OTHER_DAY.format(at if is_over_atmosphere(stop, system) else f"{at} of vacuum or more", off)


def gauge_error(every: Sequence[CardRow], layout: Layout, system: System) -> str:
    """What is taken off a limit for the gauge's error to stop at, without its unit; "" where no row has
    such a figure, or gauges differ."""
    places = dict.fromkeys(row.place for row in every if row.stop is not None)
    errors = {number(mount_of(layout, place).gauge.error, Kind.VACUUM, system) for place in places}
    return errors.pop() if len(errors) == 1 else ""


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
    if service > shown and number(service, Kind.VACUUM, system) == number(row.stop, Kind.VACUUM, system):
        return _without_room(row, row.stop, shown, gauge)
    if service > shown:
        return replace(row, service=service)
    room = min(dirty, row.stop + gauge.error) - shown
    return replace(row, note=_finer(gauge, room, FINER_TO_CLEAN, system))


def _without_room(row: CardRow, stop: float, shown: float, gauge: Gauge) -> CardRow:
    """A row whose reading to clean at would be the one to stop at: what to do instead.

    It does to clean each time the pump is off where the gauge shows that it rose, and one more such error
    before the reading to stop at.
    """
    limit = stop + gauge.error
    fine = _coarsest(gauge, (limit - shown) / 2.0)
    instead = EACH_TIME_OFF if stop - shown > gauge.error else LINE_FIRST if fine is None else FINER_GAUGE
    fit = f"fit one of class {fine:g}" if instead == FINER_GAUGE else ""
    return replace(row, instead=instead, note=f"{NO_ROOM}{NO_ROOM_WORK[instead]}{fit}")


def _coarsest(gauge: Gauge, room: float) -> float | None:
    """The coarsest class of a gauge that is off by less than this [Pa]; None where none is."""
    span = TYPICAL_RANGE if gauge.range is None else gauge.range
    return next((each for each in CLASSES if each / 100.0 * span < room), None)


def _finer(gauge: Gauge, room: float, why: str, system: System) -> str:
    """That a gauge is off by too much for the room that there is [Pa], and the coarsest that would do."""
    span = TYPICAL_RANGE if gauge.range is None else gauge.range
    up_to, error = (typeset(each, Kind.VACUUM, system) for each in (span, gauge.error))
    finer = _coarsest(gauge, room)
    fit = (
        f"no class with a range of {up_to} is fine enough"
        if finer is None
        else f"fit one that is {typeset(finer / 100.0 * span, Kind.VACUUM, system)} off at most "
        f"(class {finer:g}, range {up_to})"
    )
    return f"the gauge may be {error} off, {why}; {fit}"


def _not_running(case: CaseSolution, place: Place, system: System) -> CardRow:
    """A case that was not judged, or in which this pump stands still while others run."""
    resting = case.solution.resting.get(place.pump) if case.solution is not None else None
    if case.solution is None or resting is None or place.run:
        why = f"{place.pump} is at rest in it" if resting is not None else case.why(system)
        return CardRow(place, (), f"not judged: {why}", None, None, None, None)
    words, row = "at rest while others run", CardRow(place, (), "", None, None, None, None)
    if resting.inlet <= case.solution.fluid.vapor_pressure:
        return replace(row, words=words, note=BREAKS, breaks=True)
    return replace(row, words=words, clean=(resting.vacuum, resting.vacuum))


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


def coarse_gauges(shown: Iterable[CardRow], layout: Layout, system: System) -> tuple[str, ...]:
    """Which gauges at the ports are too coarse for the least that is allowed there, and which would do."""
    least = dict[str, float]()
    for row in shown:
        if row.limit is not None:
            least[row.place.pump] = min(least.get(row.place.pump, row.limit), row.limit)
    gauges = {pump: mount_of(layout, Place(pump)).gauge for pump in least}
    words = (too_coarse(gauges[pump], allowed, system) for pump, allowed in least.items())
    return tuple(dict.fromkeys(each for each in words if each))
