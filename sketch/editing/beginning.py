"""Drawings to begin with, in round figures, and the note that they carry while any of those is left."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from sketch.editing import building, stock
from solver.layout.kinds import FittingKind, IntakeKind
from solver.layout.parts import FluidChoice, Layout, Site
from solver.quantities import units
from solver.quantities.units import Kind, System

TITLE = "New drawing"
NOTES = (
    "Round figures to begin with: the pump's limit, its displacement and speed, the strainer's screen. "
    "Double-click a part and type its own on the part card."
)


NOTES_WITHOUT_SCREEN = NOTES.replace(", the strainer's screen", "")

XY = tuple[float, float]


def without_note(layout: Layout) -> Layout:
    """The layout without the note of a new drawing."""
    return replace(layout, notes="") if layout.notes in (NOTES, NOTES_WITHOUT_SCREEN) else layout


def drop_note(layout: Layout) -> Layout:
    """The layout without the note of a new drawing, once none of the figures that it names is left."""
    return (
        without_note(layout)
        if layout.notes in (NOTES, NOTES_WITHOUT_SCREEN) and not _has_round_figures(layout)
        else layout
    )


def _has_round_figures(layout: Layout) -> bool:
    """Whether one of the figures that a new drawing begins with, and its note names, still stands in it."""
    new, area = stock.pump(layout, "", 0.0, 0.0), stock.screen(layout).area
    screens = [part.screen for part in layout.intakes.values()]
    screens += [part.screen for part in layout.fittings.values()]
    return any(screen is not None and screen.area == area for screen in screens) or any(
        pump.limit_assumed or pump.displacement == new.displacement or pump.speed == new.speed
        for pump in layout.pumps.values()
    )


def assumed_figures(layout: Layout) -> str:
    """What nobody has stated yet of the parts of a drawing, and how it is typed; "" where all is stated."""
    limits = [f"the limit of {name}" for name, pump in layout.pumps.items() if pump.limit_assumed]
    screened = {name: part.screen for name, part in layout.intakes.items()}
    screened |= {name: part.screen for name, part in layout.fittings.items()}
    screens = [f"the screen of {name}" for name, screen in screened.items() if screen and screen.assumed]
    if not limits + screens:
        return ""
    return (
        f"Assumed so far: {', '.join(limits + screens)}. Double-click a part, or select it and press Return, "
        "and type its own figures on the part card."
    )


def empty(system: System) -> Layout:
    """A sheet with nothing on it: a site at sea level and an ordinary hydraulic oil."""
    return Layout(
        title=TITLE,
        site=Site(elevation=units.quantity("0 ft" if system is System.US else "0 m", Kind.ELEVATION)),
        fluid=FluidChoice(
            "Mineral oil, ISO VG 46",
            units.quantity("113 degF" if system is System.US else "45 degC", Kind.TEMPERATURE),
        ),
        reservoirs={},
        intakes={},
        pumps={},
        runs={},
        units=system,
    )


def begin(system: System) -> Layout:
    """A pump on the lid of its tank, drawing through a strainer: the least that can be calculated."""
    foot = _foot(system)
    layout = replace(empty(system), notes=NOTES)
    layout = building.add(layout, building.TANK, 2 * foot, 0.0).layout
    layout = building.add(layout, IntakeKind.STRAINER, foot, foot).layout
    layout = building.add(layout, building.PUMP, 3 * foot, 3 * foot).layout
    return building.add_line(layout, "strainer", "pump", ((foot, 3 * foot),)).layout


def pump_beside_tank(system: System) -> Layout:
    """A pump on the floor beside its tank, fed through a nozzle in the wall and a valve that shuts it off."""
    foot = _foot(system)
    layout = building.add(_with_note(system), building.TANK, 2 * foot, 0.0).layout
    return _led_out(layout, (4 * foot, foot / 2), (5 * foot, foot / 2), (7 * foot, foot / 2), ())


def pump_under_tank(system: System) -> Layout:
    """A pump under its tank, fed through a nozzle in the wall of it and a valve that shuts it off."""
    foot = _foot(system)
    layout = building.add(_with_note(system), building.TANK, 2 * foot, 3 * foot).layout
    corner = (6 * foot, 3.5 * foot), (6 * foot, foot)
    return _led_out(layout, (4 * foot, 3.5 * foot), (5 * foot, 3.5 * foot), (4 * foot, foot), corner)


def header(system: System) -> Layout:
    """Two pumps on one header beside an overhead tank."""
    foot = _foot(system)
    layout = building.add(_with_note(system), building.TANK, 2 * foot, 2 * foot).layout
    layout = _led_out(layout, (4 * foot, 2.5 * foot), (5 * foot, 2.5 * foot), (9 * foot, 2.5 * foot), ())
    run = building.lines_on(layout, "pump")[0].name
    layout = building.insert(layout, building.TEE, run, 6.5 * foot, 2.5 * foot).layout
    layout = building.add(layout, building.PUMP, 8 * foot, foot / 2).layout
    return building.add_line(layout, "tee", "pump 2", ((6.5 * foot, foot / 2),)).layout


def _foot(system: System) -> float:
    return 0.3048 if system is System.US else 0.3


def _with_note(system: System) -> Layout:
    return replace(empty(system), notes=NOTES_WITHOUT_SCREEN)


def _led_out(layout: Layout, nozzle: XY, valve: XY, pump: XY, via: tuple[XY, ...]) -> Layout:
    """The layout with a nozzle, a valve and a pump in line, over corners behind the valve [m]."""
    layout = building.add(layout, IntakeKind.WALL_NOZZLE, *nozzle).layout
    layout = building.add(layout, building.PUMP, *pump).layout
    layout = building.add_line(layout, "wall nozzle", "pump", via).layout
    return building.insert(layout, FittingKind.BALL_VALVE, "line", *valve).layout


def next_step(layout: Layout) -> str:
    """What to draw next, until there is a tank, an intake, a pump and a line; "" then."""
    if not layout.reservoirs:
        return "To begin, click Tank on the shelf (F5 shows and hides it), then where its floor is to be."
    if not layout.intakes:
        return "Next an intake: click Strainer or Wall nozzle on the shelf, then a place in the tank."
    if not layout.pumps:
        return "Next the pump: click it on the shelf, then where its port is to be."
    if not layout.runs:
        intake, pump = next(iter(layout.intakes)), next(iter(layout.pumps))
        return f"Next the line: click Line on the shelf, then {intake}, each corner, and {pump}."
    return ""


def where_lines_begin(layout: Layout) -> str:
    """Why no line begins where there is no part, and how one begins in a tank."""
    why = "a line begins at a part or on another line"
    if not layout.reservoirs:
        return why
    if not layout.intakes:
        return f"{why}; in a tank at an intake: put a strainer or a wall nozzle into it first"
    return f"{why}; in a tank at its intake, such as {next(iter(layout.intakes))}"


class Starter(NamedTuple):
    """A drawing to begin with: its name, what it shows, and how it is made in a unit system."""

    name: str
    story: str
    make: Callable[[System], Layout]


STARTERS = (
    Starter("Empty drawing", "Nothing on it; the shelf has the parts", empty),
    Starter("Pump above its tank", "On the lid, drawing through a strainer: lift is paid for", begin),
    Starter("Pump beside its tank", "On the floor, fed through a nozzle in the wall", pump_beside_tank),
    Starter("Pump under its tank", "Fluid stands over its port", pump_under_tank),
    Starter("Two pumps on a header", "Both pay for the line that they share", header),
)
