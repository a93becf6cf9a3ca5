"""What new parts begin with: round figures in the drawing's unit system, to be changed on the part card."""

from __future__ import annotations

from solver.layout.kinds import LimitForm, PumpType
from solver.layout.parts import Layout, Limit, Point, Pump, Reservoir, Screen
from solver.quantities import units
from solver.quantities.units import Kind, Quantity, System

SIZES = {System.US: "NPS 2 schedule 40", System.SI: "tube 60 x 4 mm"}
"""What a part begins with until another size is chosen: of one bore within a hundredth."""

INCH = 0.0254  # [m]
WHOLE = 1e-6  # from a whole inch [m]

GRID = {System.US: 0.0254, System.SI: 0.01}
"""One grid step [m]: an inch, or ten millimetres."""


def length(layout: Layout, si: float) -> Quantity:
    """A length [m] as it would be typed: in metres, or in feet, with inches where they are whole."""
    if layout.units is not System.US:
        return units.quantity_in(si, Kind.LENGTH, "m")
    inches = round(si / INCH)
    if inches % 12 == 0 or abs(si - inches * INCH) > WHOLE:
        return units.quantity_in(si, Kind.LENGTH, "ft")
    return units.quantity_in(si, Kind.LENGTH, "ft in" if abs(inches) > 12 else "in")


def size(layout: Layout) -> str:
    """The size that goes with the drawing's unit system."""
    return SIZES[layout.units]


def point(layout: Layout, x: float, y: float) -> Point:
    """A point [m] as it would be typed."""
    return length(layout, x), length(layout, y)


def figure(layout: Layout, us: str, si: str, kind: Kind) -> Quantity:
    """The one of two texts that goes with the drawing's unit system."""
    return units.quantity(us if layout.units is System.US else si, kind)


def screen(layout: Layout) -> Screen:
    """An ordinary suction strainer's, 100 mesh, marked as assumed; without a bypass, which would spare it."""
    return Screen(
        mesh=units.quantity("100 per inch", Kind.WIRES),
        wire=figure(layout, "0.0045 in", "0.11 mm", Kind.LENGTH),
        area=figure(layout, "100 in^2", "650 cm^2", Kind.AREA),
        assumed=True,
    )


def tank(layout: Layout, name: str, x: float, y: float) -> Reservoir:
    """A low tank, the middle of its floor at (x, y) [m]."""
    foot = 0.3048 if layout.units is System.US else 0.3
    corners = (
        (x - 2 * foot, y),
        (x + 2 * foot, y),
        (x + 2 * foot, y + 2.5 * foot),
        (x - 2 * foot, y + 2.5 * foot),
    )
    return Reservoir(
        name,
        tuple(point(layout, *corner) for corner in corners),
        length(layout, 2 * foot),
        length(layout, y + 2 * foot),
        length(layout, y + 1.5 * foot),
    )


def pump(layout: Layout, name: str, x: float, y: float) -> Pump:
    """A small vane pump with its port at (x, y) [m]; its limit is a cautious one, marked as assumed."""
    return Pump(
        name,
        point(layout, x, y),
        PumpType.VANE,
        Limit(LimitForm.VACUUM, ((None, figure(layout, "5 inHg", "17 kPa", Kind.VACUUM)),)),
        size(layout),
        limit_assumed=True,
        displacement=figure(layout, "3 in^3/rev", "50 cm^3/rev", Kind.DISPLACEMENT),
        speed=figure(layout, "1200 rpm", "1500 rpm", Kind.SPEED),
    )
