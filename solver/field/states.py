"""From a reading as written down to what a gauge's tap had, with the drawing in the state of the machine.

What was not noted is not guessed away: it widens the band of what the drawing expects, and is listed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from solver.field import places
from solver.field.gauges import Band, Gauge, Tube, at_tap, fluid_column
from solver.field.places import NoPlaceError, Place
from solver.field.sign_read import misread
from solver.field.state_read import NotExplainedError, place_of, state_of
from solver.formulas.flow import GRAVITY, SEA_LEVEL
from solver.layout.cases import CaseError, cases_of
from solver.layout.kinds import PumpType
from solver.layout.known_gauges import with_known_gauge
from solver.layout.logged import HOLDS, LoggedReading, Shown
from solver.layout.parts import Layout, Level
from solver.layout.positions import dotted
from solver.layout.reading_checks import past_atmosphere
from solver.ledger import limit
from solver.ledger.solve import Solution, solve
from solver.network.build import NetworkError, pump_flow
from solver.properties.fluid import FluidError
from solver.quantities import spelling
from solver.quantities.units import Quantity
from solver.quantities.wording import error_text

IN_LINE, IN_TANK, JUST_STARTED, NOT_NOTED = 1.5, 2.5, 5.0, 8.0
"""Standard deviations of the temperature in the line [K]: measured there; in the tank; in the tank within
`SETTLED` of the start; not at all. Common practice, no source."""

SETTLED = 600.0
"""Time after the start until the line is as warm as the tank [s]; common practice, no source."""

WEATHER = 1000.0
"""Standard deviation of a barometer that nobody read [Pa]; common practice, no source."""

GAUGE_HEIGHT = 0.5
"""Standard deviation of a gauge's height over its tap where it was not noted [m]."""

NEARLY_SURE = 2.0
"""Standard deviations of that height past which a reading is asked for again."""

HEIGHT_NOT_NOTED = "neither the gauge's height nor an empty tube was noted"
TEMPERATURE_NOT_NOTED = "the fluid's temperature was not noted"
TUBE_NOT_NOTED = "what was in the gauge's tube was not noted"

SPEED, VARIABLE_FLOW = 0.05, 0.2
"""Standard deviations, as shares of the flow, of a pump whose speed was not noted, and of a piston pump whose
stroke was not noted. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that was not noted: in words, and the drawing with it off by a standard deviation."""

    words: str
    layout: Layout | None = None  # None where it moves the reading and not the drawing
    deviation: float = 0.0  # of the reading itself [Pa]
    of_gauge: bool = False  # by how its gauge is fitted: alike in all readings of it at one place


@dataclass(frozen=True)
class Reading:
    """What was read, with the drawing in the state that the machine was in."""

    layout: Layout
    level: Level
    place: Place
    band: Band  # vacuum at the tap [Pa]
    gauge: Gauge
    resting: bool = False  # the pumps stood still, the line full
    temperature: float = IN_LINE  # standard deviation of the fluid's temperature [K]
    flow_noted: bool = True  # the pump's speed or flow was looked at
    doubts: tuple[Doubt, ...] = ()
    held: bool = False  # at rest: what was read held from the moment the pump stopped
    shown: Band | None = None  # by the gauge itself [Pa of vacuum]; None where it shows absolute pressure
    at_sea_level: bool = False  # its gauge shows vacuum against the atmosphere there, not that of the site
    coldest: float | None = None  # the fluid at the coldest start of its drawing [K]; None: not drawn

    column: float = 0.0  # what the fluid in its gauge's tube adds, if there is any: nobody looked [Pa]

    @property
    def of_gauge(self) -> float:
        """Standard deviation by how its gauge is fitted, where that was not noted [Pa]; with its tube half
        full where it is known how high it stands."""
        return math.hypot(self.of_height, self.of_tube)

    @property
    def of_height(self) -> float:
        """Standard deviation by how high its gauge stands, where that was not noted [Pa]."""
        return math.hypot(*(doubt.deviation for doubt in self.doubts if doubt.of_gauge))

    @property
    def of_tube(self) -> float:
        """Standard deviation by what is in its gauge's tube, from nothing to full [Pa]."""
        return abs(self.column) / math.sqrt(12.0)

    @property
    def half_full(self) -> Band:
        """The vacuum at the tap with the gauge's tube half full where nobody looked [Pa]. What it may be off
        by is the same in all readings of that gauge there, and no part of it."""
        half = self.column / 2.0
        low, high = self.band.low + max(self.column, 0.0), self.band.high + min(self.column, 0.0)
        return Band(low - half, high - half)

    def shares_gauge(self, other: Reading) -> bool:
        """Whether another was made with the same gauge at the same place."""
        return (self.gauge.name, self.place) == (other.gauge.name, other.place)


@dataclass(frozen=True)
class Prepared:
    """A reading as written down, and what can be compared of it."""

    number: int  # among the readings of the file, from 0
    logged: LoggedReading
    readings: tuple[Reading, ...] = ()  # with the pump running, then at rest; what was read of the two
    why_not: str = ""  # why it cannot be compared; "" where it can
    passed_over: tuple[str, ...] = field(default=())  # figures for parts that the drawing has not
    of_gauge: tuple[str, ...] = ()  # where figures of its gauge come from that it does not give itself

    @property
    def doubts(self) -> tuple[str, ...]:
        """What was not noted and widens its band, in words."""
        return tuple(dict.fromkeys(doubt.words for each in self.readings for doubt in each.doubts))


def prepare(layout: Layout, line: str = "") -> tuple[Prepared, ...]:
    """Every reading of a drawing, in the order of the file.

    line: the alternative that `layout` is, "" for the drawing itself. A reading of another line, one without
    a place and one whose state does not hold say why they cannot be compared.
    """
    return tuple(prepared(layout, number, each, line) for number, each in enumerate(layout.readings))


def prepared(layout: Layout, number: int, logged: LoggedReading, line: str = "") -> Prepared:
    """One reading. Parameters as `prepare`; `number` is its place in the file, from 0."""
    system = layout.units
    if logged.problems:
        path, refused, allowed = logged.problems[0]
        key = f"{dotted(path)}: " if path else ""
        return Prepared(number, logged, why_not=f"it is not valid: {key}found {refused}; allowed: {allowed}")
    try:
        _check_line(layout, logged, line)
        state, absent = state_of(layout, number, logged)
        known, notes = with_known_gauge(layout.readings, logged)
        readings = tuple(_readings(layout, state, known))
        return Prepared(number, logged, readings, passed_over=absent, of_gauge=notes)
    except NoPlaceError as error:
        return Prepared(number, logged, why_not=f"it has no place: {error}")
    except NotExplainedError as error:
        return Prepared(number, logged, why_not=str(error))
    except CaseError as error:
        return Prepared(number, logged, why_not=f"its state is not valid: {error}")
    except (NetworkError, FluidError) as error:
        return Prepared(number, logged, why_not=f"its state cannot be solved: {error_text(error, system)}")


def _check_line(layout: Layout, logged: LoggedReading, line: str) -> None:
    """Refuse a reading that was not made on this line."""
    if logged.line != line and (line or logged.line != layout.built):
        name = logged.line or "the drawing itself"
        raise NotExplainedError(f"it was read on another line: {name}")
    if not line and not logged.line and layout.built and logged.when < layout.built:
        raise NotExplainedError(f"it was read before this line was built, on {layout.built}")


def _readings(drawn: Layout, state: Layout, logged: LoggedReading) -> Iterator[Reading]:
    """What was read with the pump running, and at rest."""
    if logged.pump not in state.pumps:
        raise NotExplainedError(f"it has no place: there is no pump {logged.pump}")
    for _, why in past_atmosphere(logged, state):
        raise NotExplainedError(why)
    noted = _noted(drawn, logged)
    running, level_doubts = _with_level(_running(state, logged.pump), noted)
    place = place_of(running, logged)
    solution = solve(running)
    places.vacuum(solution, place)  # refuses a run that is not on the way to the pump
    gauge, doubts = _gauge(solution, place, logged)
    temperature = _temperature(logged, noted)
    unsure = () if "temperature" in noted else (Doubt(TEMPERATURE_NOT_NOTED),)
    doubts = (*doubts, *level_doubts, *unsure)
    column = fluid_column(gauge, solution.pumps[logged.pump].density)
    column = column if gauge.tube is Tube.UNKNOWN else 0.0
    coldest = None if drawn.fluid.coldest_start is None else drawn.fluid.coldest_start.si
    if logged.vacuum or logged.pressure:
        if state.pumps[logged.pump].at_rest:
            raise NotExplainedError("the pump is at rest in its state: rest_vacuum is the key for that")
        shown, more = _vacuum(running, logged, logged.vacuum, logged.pressure, noted)
        band = at_tap(*shown, gauge, solution.pumps[logged.pump].density)
        _check_sign(solution, place, band, (gauge, doubts), _typed(logged, "vacuum", "pressure"))
        flows = tuple(_flow_doubts(running, logged, noted))
        every = (*doubts, *more, *flows)
        noted_flow = "flow" in noted
        read = Reading(
            running,
            Level.MINIMUM,
            place,
            band,
            gauge,
            temperature=temperature,
            flow_noted=noted_flow,
            doubts=every,
        )
        sea = logged.gauge.reference == "sea level" and not logged.pressure
        shown_by = _by_gauge(logged.vacuum, logged.pressure)
        yield replace(read, shown=shown_by, at_sea_level=sea, coldest=coldest, column=column)
    if logged.rest_vacuum or logged.rest_pressure:
        shown, more = _vacuum(running, logged, logged.rest_vacuum, logged.rest_pressure, noted)
        band = at_tap(*shown, gauge, solution.pumps[logged.pump].density)
        _check_sign(solution, place, band, (gauge, doubts), _typed(logged, "rest_vacuum", "rest_pressure"))
        every = (*doubts, *more)
        rest = Reading(
            running, Level.MINIMUM, place, band, gauge, resting=True, temperature=temperature, doubts=every
        )
        by_gauge = _by_gauge(logged.rest_vacuum, logged.rest_pressure)
        sea = logged.gauge.reference == "sea level" and not logged.rest_pressure
        yield replace(rest, held=logged.fall_time == HOLDS, shown=by_gauge, at_sea_level=sea, column=column)


def _typed(logged: LoggedReading, *keys: str) -> tuple[str, Shown]:
    """The key of a figure that was read, and the figure."""
    return next((key, getattr(logged, key)) for key in keys if getattr(logged, key))


def _check_sign(
    solution: Solution,
    place: Place,
    band: Band,
    fitted: tuple[Gauge, tuple[Doubt, ...]],
    typed: tuple[str, Shown],
) -> None:
    """Refuse a reading of more pressure than its tank can press with, however its gauge is fitted."""
    gauge, doubts = fitted
    unsure = gauge.error + NEARLY_SURE * math.hypot(*(each.deviation for each in doubts if each.of_gauge))
    if asked := misread(solution, place, band.high, unsure, *typed):
        raise NotExplainedError(asked)


def _by_gauge(vacuum: Shown, pressure: Shown) -> Band | None:
    """What a gauge showed, as a vacuum [Pa]; None of an absolute pressure."""
    if any(spelling.is_absolute(figure.text) for figure in pressure):
        return None
    figures = [*(figure.si for figure in vacuum), *(-figure.si for figure in pressure)]
    return Band(min(figures), max(figures))


def _running(state: Layout, pump: str) -> Layout:
    """The state with the pump running, at which a reading at rest is solved too."""
    drawn = state.pumps[pump]
    return (
        state
        if not drawn.at_rest
        else replace(state, pumps={**state.pumps, pump: replace(drawn, at_rest=False)})
    )


def _noted(layout: Layout, logged: LoggedReading) -> frozenset[str]:
    """What of the state was noted: temperature, level, barometer, flow, and each pump by its name."""
    tables = [logged.state]
    if logged.case in layout.cases or logged.case in cases_of(layout):
        tables.append(cases_of(layout)[logged.case].table)
    noted: set[str] = set()
    for table in tables:
        noted |= {"temperature"} if "temperature" in _dict(table.get("fluid")) else set()
        noted |= {"barometer"} if "barometer" in _dict(table.get("site")) else set()
        noted |= {"level"} if table.keys() & {"level", "levels"} else set()
        pumps = _dict(table.get("pumps"))
        noted |= {name for name, inner in pumps.items() if _dict(inner).keys() & {"speed", "flow", "at_rest"}}
        noted |= {"flow"} if _dict(pumps.get(logged.pump)).keys() & {"speed", "flow"} else set()
    noted |= set(logged.strokes) | ({"level"} if logged.cylinders else set())
    return frozenset(noted)


def _dict(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else {}


def _with_level(state: Layout, noted: frozenset[str]) -> tuple[Layout, tuple[Doubt, ...]]:
    """The state with its fluid halfway between the marks where no level was noted."""
    if "level" in noted or state.level is not None:
        return state, ()
    middle, off = {}, {}
    for name, tank in state.reservoirs.items():
        low, high = tank.minimum_level.si, tank.normal_level.si
        half = (low + high) / 2
        middle[name] = replace(tank, level=Quantity(f"{half!r} m", half))
        moved = half + (high - low) / 12**0.5
        off[name] = replace(tank, level=Quantity(f"{moved!r} m", moved))
    words = "the fluid's level was not noted: taken as halfway between the marks"
    return replace(state, reservoirs=middle), (Doubt(words, replace(state, reservoirs=off)),)


def _temperature(logged: LoggedReading, noted: frozenset[str]) -> float:
    """Standard deviation of the temperature in the line [K]."""
    if "temperature" not in noted:
        return NOT_NOTED
    if logged.measured_at == "line":
        return IN_LINE
    young = logged.running is not None and logged.running.si < SETTLED
    return JUST_STARTED if young else IN_TANK


def _gauge(solution: Solution, place: Place, logged: LoggedReading) -> tuple[Gauge, tuple[Doubt, ...]]:
    """The gauge as it was fitted, and what was not noted of it."""
    typed = logged.gauge
    tube, doubts = Tube(typed.tube), []
    over_tap = 0.0
    if typed.over_port is not None:
        port = solution.layout.pumps[logged.pump].at[1].si
        over_tap = port + typed.over_port.si - places.height(solution, place)
    elif tube is not Tube.EMPTY:
        weight = solution.pumps[logged.pump].density * GRAVITY * GAUGE_HEIGHT
        doubts.append(Doubt(HEIGHT_NOT_NOTED, None, weight, of_gauge=True))
    if tube is Tube.UNKNOWN and over_tap:
        doubts.append(Doubt(TUBE_NOT_NOTED))
    if typed.zero is None:
        doubts.append(Doubt("the gauge was not looked at when vented"))
    gauge = Gauge(
        typed.name,
        over_tap,
        tube,
        None if typed.accuracy is None else typed.accuracy / 100.0,
        None if typed.range is None else typed.range.si,
        None if typed.zero is None else typed.zero.si,
    )
    return gauge, tuple(doubts)


def _vacuum(
    state: Layout, logged: LoggedReading, vacuum: Shown, pressure: Shown, noted: frozenset[str]
) -> tuple[tuple[float, float], tuple[Doubt, ...]]:
    """What the gauge showed, as a vacuum at the site [Pa], from the least to the most."""
    site = replace(state.site, weather_allowance=None)
    atmosphere = limit.surface_pressure(site).atmosphere
    doubt: tuple[Doubt, ...] = ()
    figures = [figure.si for figure in vacuum]
    absolute = any(spelling.is_absolute(figure.text) for figure in pressure)
    if absolute:
        figures = [atmosphere - figure.si for figure in pressure]
    elif pressure:
        figures = [-figure.si for figure in pressure]
    elif logged.gauge.reference == "sea level":
        figures = [figure - (SEA_LEVEL - atmosphere) for figure in figures]
    if "barometer" not in noted and (absolute or logged.gauge.reference == "sea level"):
        doubt = (Doubt("the barometer was not read", None, WEATHER),)
    return (min(figures), max(figures)), doubt


def _flow_doubts(state: Layout, logged: LoggedReading, noted: frozenset[str]) -> Iterator[Doubt]:
    """What was not noted of the pumps."""
    own = state.pumps[logged.pump]
    if "flow" not in noted:
        unsure = own.type is PumpType.PISTON and logged.pump not in noted
        words = "the pump's stroke was not noted" if unsure else "the pump's speed was not noted"
        flow = pump_flow(own) * (1.0 + (VARIABLE_FLOW if unsure else SPEED))
        faster = replace(own, flow=Quantity(f"{flow!r} m^3/s", flow))
        yield Doubt(words, replace(state, pumps={**state.pumps, logged.pump: faster}))
    for name, pump in state.pumps.items():
        if name not in noted and name != logged.pump:
            other = replace(pump, at_rest=not pump.at_rest)
            words = f"whether {name} ran was not noted"
            yield Doubt(words, replace(state, pumps={**state.pumps, name: other}))
