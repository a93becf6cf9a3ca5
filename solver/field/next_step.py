"""The next observations that would split two causes, the cheapest first: what each shows under both."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

import shapely

from solver.answers import inputs
from solver.answers.variations import line_parts
from solver.field import places, prediction, trials
from solver.field.causes import AIR, Cause, CauseKind, changed
from solver.field.explain import Explanation
from solver.field.places import Place
from solver.field.states import Reading
from solver.field.trials import NextStep, Trial
from solver.layout.shapes import polygon
from solver.ledger.solve import Solution, solve
from solver.network.build import build, pump_flow
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import gauge_reading

SLOWER = 0.6
"""Share of the flow at which a reading at a lower speed is asked for."""

COLDER = 15.0
"""Kelvin by which a second temperature is lower."""

CLEAR, FAINT = 3.0, 1.5
"""Standard deviations of a gauge that two causes must lie apart to be split by a reading; and where nothing
splits them so, to be asked for at all."""


AT_REST = "Stop the pump with the line full, and read the gauge at rest"

COLD = (
    "Read it again with the fluid at {degrees}, within 24 hours, and note the time: such readings are "
    "explained together"
)


@dataclass(frozen=True)
class _Option:
    what: str
    reading: Reading  # the state and place of it
    stopped: bool
    slower: bool = False  # it needs the pump, at a lower speed


def next_steps(
    readings: Sequence[Reading],
    first: Explanation,
    second: Explanation,
    listed: Sequence[Cause],
    system: System,
    stop: bool,
    done: Collection[Trial] = (),
) -> Iterator[NextStep]:
    """Each observation that tells two causes apart, the cheapest first; none where none does.

    Parameters: `readings` that were explained; `listed`, the causes that were weighed; `stop`, whether one of
    the readings is past what is allowed: then nothing is asked for that needs the pump at full speed;
    `done`, what was tried already. No reading is asked for that either cause would put past what is allowed.
    """
    if is_pressed(readings[0]):
        done = {*done, Trial.CAP, Trial.SURFACE}
    named = {first.cause, second.cause}
    not_vented = [reading.gauge for reading in readings if reading.gauge.zero is None]
    if CauseKind.OFFSET in named and not_vented:
        off = next(each.part for each in (first, second) if each.cause is CauseKind.OFFSET)
        error = max((gauge.error for gauge in not_vented if gauge.name == off), default=not_vented[0].error)
        yield trials.vent_gauge(first, second, error, system)
    if named & set(AIR):
        yield from trials.of_air(first, second, stop, done)
        return
    if CauseKind.SURFACE in named and Trial.CAP not in done and (stop or _cap_shows(readings, first, second)):
        yield trials.open_filler_cap(first, second, system, stop)
    options = [each for each in _options(readings) if each.stopped or each.slower or not stop]
    if CauseKind.SURFACE in named:  # at rest a plugged breather may hold its vacuum, or have let it go
        options = [each for each in options if not each.reading.resting]
    options = [each for each in options if _is_allowed(each, (first, second), listed)]
    yield from _clearest([_read(option, first, second, listed, system) for option in options])


def _cap_shows(readings: Sequence[Reading], first: Explanation, second: Explanation) -> bool:
    """Whether the gauge would show a plugged breather as the filler cap is opened, past its own error."""
    halves = [half for each in (first, second) for half in (each, each.second) if half is not None]
    breather_drop = max((half.size for half in halves if half.cause is CauseKind.SURFACE), default=0.0)
    return breather_drop > readings[-1].gauge.error


def _clearest(steps: Sequence[tuple[float, NextStep]]) -> Iterator[NextStep]:
    """Readings that tell two causes apart clearly, one of all taps; else the best of them."""
    clear = [step for apart, step in steps if apart > CLEAR]
    taps = [step for step in clear if step.at_tap]
    yield from (step for step in clear if not step.at_tap or step is taps[0])
    apart, best = max(steps, key=lambda each: each[0], default=(0.0, None))
    if not clear and best is not None and apart > FAINT:
        yield best


def _is_allowed(option: _Option, either: Sequence[Explanation], listed: Sequence[Cause]) -> bool:
    """Whether the port stays within what is allowed while that is read, whichever cause it is."""
    if option.stopped:
        return True
    port = replace(option.reading, place=Place(option.reading.place.pump))
    try:
        allowed = solve(port.layout, port.level).pumps[port.place.pump].allowed_vacuum
    except ValueError:
        return False
    shown = [_shown(each, port, listed) for each in either]
    return all(vacuum is not None and vacuum <= allowed for vacuum in shown)


def is_pressed(reading: Reading) -> bool:
    """Whether the tank may be under pressure: its filler is not opened then."""
    ledger = solve(reading.layout, reading.level).pumps[reading.place.pump]
    tank = reading.layout.reservoirs[ledger.reservoir]
    return tank.sealed or (tank.pressure is not None and tank.pressure.si > 0.0)


def narrowing(
    readings: Sequence[Reading], system: System, stop: bool, done: Collection[Trial] = ()
) -> Iterator[NextStep]:
    """What would narrow what is wrong where no listed cause explains the readings, the cheapest first.

    stop: nothing is asked for that needs the pump running. done: what was tried.
    """
    not_vented = [reading.gauge.error for reading in readings if reading.gauge.zero is None]
    if not_vented:
        allowed = typeset(min(not_vented), Kind.VACUUM, system)
        right = f"it shows zero within {allowed}, as its class allows, and nothing is in its tube"
        shows = (f"{right}: the gauge is right", "anything else: read again")
        yield NextStep(trials.VENT, shows, stopped=True)
    if all(reading.resting for reading in readings):
        yield from _of_rest(readings[-1], done)
        return
    last = next(each for each in reversed(readings) if not each.resting)
    if not any(reading.resting for reading in readings):
        yield _against_drawing(
            _Option(AT_REST, replace(last, resting=True), stopped=True),
            "what is wrong takes pressure only while the fluid moves, so it is in the line",
            "what is wrong is the level, the gauge or the pressure in the tank",
            system,
        )
    tap = None if stop else _halfway(readings, last)
    if tap is not None:
        yield _against_drawing(
            tap, "what is wrong lies after that tap", "what is wrong lies before it", system
        )
    yield NextStep(
        "With the pump stopped and locked off, compare the line with the drawing: bores, lengths, valves, "
        "what lies in the strainer",
        ("all of it is as drawn: read once more, with another gauge", "something is not: draw it as it is"),
        stopped=True,
    )


def _of_rest(reading: Reading, done: Collection[Trial]) -> Iterator[NextStep]:
    """What to look at where nothing was read but at rest: nothing flows then, and the line takes nothing."""
    tank = solve(reading.layout, reading.level).pumps[reading.place.pump].reservoir
    yield NextStep(
        f"Read the level in {tank} at a dipstick or a glass",
        ("it stands where it was noted: the gauge, or the pressure in the tank", "it does not: type it so"),
        stopped=True,
    )
    if not is_pressed(reading) and Trial.CAP not in done:
        yield NextStep(
            "Open the filler cap slowly, never on a pressurised tank, and read again",
            (
                "the reading changes: a plugged breather, whose tank has held its vacuum",
                "it does not: the level, or the gauge",
            ),
            stopped=True,
        )
    yield NextStep(
        "Read it once more, with another gauge",
        ("it shows the same: the level, or the pressure in the tank", "it does not: the first gauge"),
        stopped=True,
    )


def _against_drawing(option: _Option, alike: str, otherwise: str, system: System) -> NextStep:
    """A reading with what the drawing expects there, and what it would mean if it shows that or not."""
    vacuum = prediction.at(build(option.reading.layout), option.reading)
    expected = gauge_reading(vacuum, system)
    what = option.what.format(**_in_words(option, system))
    return NextStep(what, (f"{expected}, as drawn: {alike}", f"anything else: {otherwise}"), option.stopped)


def _halfway(readings: Sequence[Reading], last: Reading) -> _Option | None:
    """The tap that nobody read with most nearly half of the vacuum before it; None where none is left."""
    read = {reading.place for reading in readings if not reading.resting}
    taps = [option for option in _taps(readings, last) if option.reading.place not in read]
    network = build(last.layout)
    whole = prediction.at(network, replace(last, place=Place(last.place.pump)))
    return min(taps, key=lambda tap: abs(prediction.at(network, tap.reading) - whole / 2.0), default=None)


def _read(
    option: _Option, first: Explanation, second: Explanation, listed: Sequence[Cause], system: System
) -> tuple[float, NextStep]:
    """A reading as a step, and how far apart the two causes are in it [standard deviations of its gauge]."""
    shown = [_shown(each, option.reading, listed) for each in (first, second)]
    texts = [
        f"with {each.name}: "
        f"{'the machine would not run so' if vacuum is None else gauge_reading(vacuum, system)}"
        for each, vacuum in zip((first, second), shown, strict=True)
    ]
    what, place = option.what.format(**_in_words(option, system)), option.reading.place
    step = NextStep(what, (texts[0], texts[1]), option.stopped, bool(place.run))
    one, other = shown
    if one is None or other is None:
        return 0.0, step
    deviation = option.reading.gauge.error / math.sqrt(3.0) + option.reading.gauge.scatter
    return abs(one - other) / deviation, step


def _in_words(option: _Option, system: System) -> dict[str, str]:
    warmth = option.reading.layout.fluid.temperature.si
    return {
        "degrees": typeset(warmth, Kind.TEMPERATURE, system),
        "along": typeset(option.reading.place.distance, Kind.LENGTH, system),
    }


def _options(readings: Sequence[Reading]) -> Iterator[_Option]:
    """What could be read next, the cheapest first."""
    last = next((each for each in reversed(readings) if not each.resting), readings[-1])
    if not any(reading.resting for reading in readings):
        yield _Option(AT_REST, replace(last, resting=True), stopped=True)
    yield _Option("Read it again at six tenths of the speed", _slower(last), stopped=False, slower=True)
    colder = last.layout.fluid.temperature.si - COLDER
    cold = inputs.temperature(last.layout, ("",), colder, last.level)
    if not last.layout.fluid.has_one_viscosity:
        yield _Option(COLD, replace(last, layout=cold), stopped=False)
    yield from _taps(readings, last)


def _slower(reading: Reading) -> Reading:
    pump = reading.layout.pumps[reading.place.pump]
    flow = pump_flow(pump) * SLOWER
    slow = replace(pump, flow=Quantity(f"{flow!r} m^3/s", flow))
    pumps = {**reading.layout.pumps, reading.place.pump: slow}
    return replace(reading, layout=replace(reading.layout, pumps=pumps))


def _taps(readings: Sequence[Reading], last: Reading) -> Iterator[_Option]:
    """A tap at either end of each run on the way, and at the port, where none was read; none in the tank."""
    pump = last.place.pump
    solution = solve(last.layout, last.level)
    ledger = solution.pumps[pump]
    if all(reading.place.run for reading in readings):
        yield _Option("Read a gauge at the pump's port too", replace(last, place=Place(pump)), stopped=False)
    for run in (name for name in line_parts(ledger) if name in last.layout.runs):
        long = places.length(last.layout, run)
        for end, along in (("start", 0.0), ("end", long)):
            what = f"Read a second gauge at a tap on {run}, at its {end}"
            place = Place(pump, run, along)
            if not _in_fluid(solution, place):
                yield _Option(what, replace(last, place=place), stopped=False)


def _in_fluid(solution: Solution, place: Place) -> bool:
    """Whether a place lies in the tank, where no gauge can be fitted."""
    ledger = solution.pumps[place.pump]
    x, z = places.position(solution, place)
    tank = solution.layout.reservoirs[ledger.reservoir].outline
    return z <= ledger.fluid_level and bool(shapely.contains_xy(polygon(tank), x, z))


def _shown(explanation: Explanation, reading: Reading, listed: Sequence[Cause]) -> float | None:
    """What a tap would have with a cause in its likeliest size [Pa of vacuum]; None where it does not run."""
    halves = [half for half in (explanation, explanation.second) if half is not None]
    both = [
        (cause, half.size)
        for half in halves
        for cause in listed
        if (cause.kind, cause.part) == (half.cause, half.part)
    ]
    if len(both) < len(halves):
        return None
    more = sum(cause.offset(size, reading) for cause, size in both)
    try:
        return float(prediction.at(changed(build(reading.layout), both), reading) + more)
    except ValueError:
        return None
