"""What keeps a reading from being compared: a place that its line has not, or a state that does not hold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from solver.formulas.flow import SEA_LEVEL
from solver.layout.cases import CaseError, allowed_names, cases_of, layout_in_case, read_case
from solver.layout.keys import PARTS
from solver.layout.known_gauges import with_known_gauge
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.layout.reading import Path, Trouble, describe, listed
from solver.properties.atmosphere import AtmosphereError, station_pressure
from solver.quantities import spelling
from solver.quantities.units import Kind, System, typeset


def troubles_of(base: Layout, alternatives: Mapping[str, Layout]) -> tuple[Trouble, ...]:
    """Every such trouble of the readings of a drawing, with its key path.

    Of a reading from a line that is drawn no more only the state is looked at.
    """
    if not base.readings:
        return ()
    known = {
        (group, name)
        for layout in (base, *alternatives.values())
        for group in PARTS
        for name in getattr(layout, group)
    }
    return tuple(
        trouble
        for number, reading in enumerate(base.readings)
        for trouble in _of_one(number, reading, base, alternatives, known)
    )


def _of_one(
    number: int,
    reading: LoggedReading,
    base: Layout,
    alternatives: Mapping[str, Layout],
    known: set[tuple[str, str]],
) -> Iterator[Trouble]:
    path = ("readings", number)
    if reading.problems:
        yield from (Trouble((*path, *inner), found, allowed) for inner, found, allowed in reading.problems)
        return
    earlier = not reading.line and base.built and reading.when < base.built
    drawn = base if reading.line in ("", base.built) else alternatives.get(reading.line)
    layout = None if earlier else drawn
    if layout is not None:
        for trouble in _of_place(reading, layout):
            yield trouble._replace(path=(*path, *trouble.path))
    named = {
        (group, name) for group, inner in reading.state.items() if isinstance(inner, dict) for name in inner
    }
    named |= {("reservoirs", name) for group, name in named if group == "levels"}
    case = read_case(reading.state, path, "state", known if layout is not None else known | named)
    yield from (Trouble(*each) for each in case.problems)
    if layout is None or case.problems:
        return
    try:
        of_case = cases_of(layout).get(reading.case)
        with_case = layout if of_case is None else layout_in_case(layout, reading.case, of_case)
    except CaseError:
        return  # what keeps the case itself from holding is said of the case
    try:
        state = layout_in_case(with_case, "state", case)
    except CaseError as error:
        yield Trouble((*path, "state", *error.path[2:]), error.found, error.allowed)
        return
    if not any(past_atmosphere(reading, state)):
        return
    described, _ = with_known_gauge(base.readings, reading)  # it may be one that shows against the sea level
    for key, refused in past_atmosphere(described, state):
        yield Trouble((*path, key), refused, "less vacuum than the atmosphere")


def state_troubles(
    reading: LoggedReading, base: Layout, alternatives: Mapping[str, Layout]
) -> tuple[Trouble, ...]:
    """What keeps the state of one reading from holding, with the key path in the reading."""
    troubles = troubles_of(replace(base, readings=(reading,)), alternatives)
    return tuple(each._replace(path=each.path[2:]) for each in troubles if each.path[2:3] == ("state",))


def past_atmosphere(reading: LoggedReading, state: Layout) -> Iterator[tuple[str, str]]:
    """Keys with more vacuum than the air at the site can press, and why that cannot have been read.

    state: the drawing in the state of the reading.
    """
    try:
        air = station_pressure(state.site)
    except AtmosphereError:
        return
    against = SEA_LEVEL if reading.gauge.reference == "sea level" else air
    for key in ("vacuum", "rest_vacuum", "pressure", "rest_pressure"):
        sign = 1.0 if key.endswith("vacuum") else -1.0
        limit = against if key.endswith("vacuum") else air
        for figure in getattr(reading, key):
            if spelling.is_absolute(figure.text) and figure.si < 0.0:
                yield key, f'"{figure.text}", below zero, which no absolute pressure is: leave "abs" out'
            elif not spelling.is_absolute(figure.text) and sign * figure.si > limit:
                atmosphere = typeset(limit, Kind.VACUUM, System(state.units))
                where = "here" if limit == air else "at sea level"
                by_sea = limit == air and key.endswith("vacuum") and figure.si < SEA_LEVEL
                reference = ', or note gauge.reference = "sea level" of a gauge that shows against that'
                yield (
                    key,
                    f'"{figure.text}", more than the atmosphere of {atmosphere} {where}: check the unit'
                    f"{reference if by_sea else ''}",
                )


def _of_place(reading: LoggedReading, layout: Layout) -> Iterator[Trouble]:
    """What is named and the line has not, with the key path inside the reading."""
    for path, pump in ((("pump",), reading.pump), *((("strokes", name), name) for name in reading.strokes)):
        if pump not in layout.pumps:
            yield _none_of(path, pump, "pumps", layout.pumps)
    if reading.case and reading.case not in cases_of(layout):
        yield _none_of(("case",), reading.case, "cases", cases_of(layout))
    run = layout.runs.get(reading.run)
    if reading.run and run is None:
        yield _none_of(("run",), reading.run, "runs", layout.runs)
    if run is not None and reading.joint and reading.joint not in (run.start, run.end):
        refused = f"{describe(reading.joint)}, on which {reading.run} does not end"
        yield Trouble(("joint",), refused, f"an end of {reading.run}: {listed((run.start, run.end))}")


def _none_of(path: Path, name: str, group: str, names: Iterable[str]) -> Trouble:
    return Trouble(path, f"{describe(name)}, which is none of the {group}", allowed_names(name, list(names)))
