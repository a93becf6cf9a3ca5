"""What the what-if strip turns: where each figure stands in the drawing, how far it goes, how it is set."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sketch.editing import edits
from sketch.editing.edits import Value
from solver.layout.parts import Fitting, Intake, Layout, Level
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, Quantity, System


@dataclass(frozen=True, slots=True)
class Subject:
    """The parts of the drawing that the strip turns; "" for one there is none of."""

    pump: str
    reservoir: str
    level: Level  # the level that can be turned, the minimum or the normal one
    screen: str
    start: str = ""  # the temperature of the cold start, while everything is reckoned at it


@dataclass(frozen=True, slots=True)
class Knob:
    """One figure of the strip. `value`, `span` and `set` may be called where `reason` is ""."""

    name: str
    kind: Kind
    step: Mapping[System, float]  # of the slider, in the unit shown
    reason: Callable[[Layout, Subject], str]  # why it cannot be turned; "" when it can
    value: Callable[[Layout, Subject], Quantity]
    span: Callable[[Layout, Subject], tuple[float, float]]  # of the slider [SI]
    set: Callable[[Layout, Subject, Value], Layout]  # raises EditError
    label: Callable[[Subject], str]  # what the undo menu calls it


def subject(layout: Layout, ledger: PumpLedger | None, pump: str, level: Level) -> Subject:
    """The parts on the way to the pump that is shown; without a ledger the first of each sort."""
    reservoir = ledger.reservoir if ledger else next(iter(layout.reservoirs), "")
    on_the_way = [entry.part for entry in ledger.entries] if ledger else [*layout.intakes, *layout.fittings]
    screens = [name for name in on_the_way if screen_of(layout, name) is not None]
    # What cylinders draw down starts from the normal level.
    turned = Level.MINIMUM if level == Level.MINIMUM else Level.NORMAL
    return Subject(pump, reservoir, turned, screens[0] if screens else "")


def screen_of(layout: Layout, name: str) -> float | None:
    """The blocked share of that part's screen; None where the part has no screen or is none."""
    part = layout.intakes.get(name) or layout.fittings.get(name)
    return part.screen.blocked if isinstance(part, Intake | Fitting) and part.screen else None


def _no_pump(layout: Layout, which: Subject) -> str:
    return "" if which.pump in layout.pumps else "no pump in this drawing"


def _rim_and_floor(layout: Layout) -> tuple[float, float]:
    heights = [y.si for tank in layout.reservoirs.values() for _, y in tank.outline]
    return (min(heights), max(heights)) if heights else (0.0, 1.0)


def _port_span(layout: Layout, which: Subject) -> tuple[float, float]:
    floor, rim = _rim_and_floor(layout)
    y = layout.pumps[which.pump].at[1].si
    return min(floor - 0.5, y - 0.5), max(rim + 1.5, y + 1.0)


def _temperature_span(layout: Layout, which: Subject) -> tuple[float, float]:
    now = layout.fluid.temperature.si
    return min(268.15, now), max(353.15, now)


def _no_level(layout: Layout, which: Subject) -> str:
    return "" if which.reservoir in layout.reservoirs else "no reservoir in this drawing"


def _level(layout: Layout, which: Subject) -> Quantity:
    tank = layout.reservoirs[which.reservoir]
    return tank.minimum_level if which.level == Level.MINIMUM else tank.normal_level


def _no_speed(layout: Layout, which: Subject) -> str:
    if which.pump not in layout.pumps:
        return "no pump in this drawing"
    pump = layout.pumps[which.pump]
    return "this pump is given by its flow" if pump.flow is not None or pump.speed is None else ""


def _speed(layout: Layout, which: Subject) -> Quantity:
    speed = layout.pumps[which.pump].speed
    assert speed is not None
    return speed


def _speed_span(layout: Layout, which: Subject) -> tuple[float, float]:
    now = _speed(layout, which).si
    return min(5.0, now), max(50.0, now * 1.25)


def _no_elevation(layout: Layout, which: Subject) -> str:
    return "the site is given by its barometer" if layout.site.elevation is None else ""


def _elevation(layout: Layout, which: Subject) -> Quantity:
    assert layout.site.elevation is not None
    return layout.site.elevation


def _elevation_span(layout: Layout, which: Subject) -> tuple[float, float]:
    now = _elevation(layout, which).si
    return min(0.0, now), max(4000.0, now)


def _no_screen(layout: Layout, which: Subject) -> str:
    there = bool(which.screen) and screen_of(layout, which.screen) is not None
    return "" if there else "no strainer in this line"


def _blocked(layout: Layout, which: Subject) -> Quantity:
    share = screen_of(layout, which.screen)
    assert share is not None
    return Quantity(f"{share * 100:g} %", share)


KNOBS: tuple[Knob, ...] = (
    Knob(
        "Port height",
        Kind.LENGTH,
        {System.US: 0.05, System.SI: 0.01},
        _no_pump,
        lambda layout, which: layout.pumps[which.pump].at[1],
        _port_span,
        lambda layout, which, y: edits.set_port_height(layout, which.pump, y),
        lambda which: f"Port height of {which.pump}",
    ),
    Knob(
        "Fluid temperature",
        Kind.TEMPERATURE,
        {System.US: 1.0, System.SI: 0.5},
        lambda layout, which: f"reckoned at the {which.start} start" if which.start else "",
        lambda layout, which: layout.fluid.temperature,
        _temperature_span,
        lambda layout, which, kelvin: edits.set_temperature(layout, kelvin),
        lambda which: "Fluid temperature",
    ),
    Knob(
        "Fluid level",
        Kind.LENGTH,
        {System.US: 0.02, System.SI: 0.005},
        _no_level,
        _level,
        lambda layout, which: edits.level_range(layout.reservoirs[which.reservoir], which.level),
        lambda layout, which, y: edits.set_level(layout, which.reservoir, which.level, y),
        lambda which: f"{which.level.capitalize()} level of {which.reservoir}",
    ),
    Knob(
        "Pump speed",
        Kind.SPEED,
        {System.US: 10.0, System.SI: 10.0},
        _no_speed,
        _speed,
        _speed_span,
        lambda layout, which, speed: edits.set_speed(layout, which.pump, speed),
        lambda which: f"Speed of {which.pump}",
    ),
    Knob(
        "Site elevation",
        Kind.ELEVATION,
        {System.US: 50.0, System.SI: 10.0},
        _no_elevation,
        _elevation,
        _elevation_span,
        lambda layout, which, z: edits.set_site_elevation(layout, z),
        lambda which: "Site elevation",
    ),
    Knob(
        "Strainer blocked",
        Kind.SHARE,
        {System.US: 1.0, System.SI: 1.0},
        _no_screen,
        _blocked,
        lambda layout, which: (0.0, 0.95),
        lambda layout, which, share: edits.set_blocked(layout, which.screen, share),
        lambda which: f"Blocked share of {which.screen}",
    ),
)
