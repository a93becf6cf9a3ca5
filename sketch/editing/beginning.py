"""Drawings to begin with, in round figures, and the note that they carry while any of those is left."""

from __future__ import annotations

from dataclasses import replace

from sketch.editing import building, stock
from solver.layout.kinds import IntakeKind
from solver.layout.parts import FluidChoice, Layout, Site
from solver.quantities import units
from solver.quantities.units import Kind, System

NOTES = (
    "Round figures to begin with: the pump's limit, its displacement and speed, the strainer's screen. "
    "Double-click a part and type its own on the part card."
)


def without_note(layout: Layout) -> Layout:
    """The layout without the note of a new drawing."""
    return replace(layout, notes="") if layout.notes == NOTES else layout


def drop_note(layout: Layout) -> Layout:
    """The layout without the note of a new drawing, once none of the figures that it names is left."""
    return without_note(layout) if layout.notes == NOTES and not _has_round_figures(layout) else layout


def _has_round_figures(layout: Layout) -> bool:
    """Whether one of the figures that a new drawing begins with, and its note names, still stands in it."""
    new, area = stock.pump(layout, "", 0.0, 0.0), stock.screen(layout).area
    screens = [part.screen for part in layout.intakes.values()]
    screens += [part.screen for part in layout.fittings.values()]
    return any(screen is not None and screen.area == area for screen in screens) or any(
        pump.limit_assumed or pump.displacement == new.displacement or pump.speed == new.speed
        for pump in layout.pumps.values()
    )


def empty(system: System) -> Layout:
    """A sheet with nothing on it: a site at sea level and an ordinary hydraulic oil."""
    return Layout(
        title="New drawing",
        site=Site(elevation=units.quantity("0 ft" if system is System.US else "0 m", Kind.ELEVATION)),
        fluid=FluidChoice("Mineral oil, ISO VG 46", units.quantity("45 degC", Kind.TEMPERATURE)),
        reservoirs={},
        intakes={},
        pumps={},
        runs={},
        units=system,
    )


def begin(system: System) -> Layout:
    """A pump on the lid of its tank, drawing through a strainer: the least that can be calculated."""
    foot = 0.3048 if system is System.US else 0.3
    layout = replace(empty(system), notes=NOTES)
    layout = building.add(layout, building.TANK, 2 * foot, 0.0).layout
    layout = building.add(layout, IntakeKind.STRAINER, foot, foot).layout
    layout = building.add(layout, building.PUMP, 3 * foot, 3 * foot).layout
    return building.add_line(layout, "strainer", "pump", ((foot, 3 * foot),)).layout
