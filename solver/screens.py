"""Strainers, filters and devices as the two coefficients of a loss: viscous · μ · Q + inertial · ρ · Q².

A screen in oil runs far below the Reynolds numbers of the usual tables: the viscous part is most of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from fluids import fittings as library

from solver import formulas
from solver.fittings import FittingError
from solver.layout import Screen

GALLON = 231 * 0.0254**3
"""US gallon [m³]."""


class ScreenLoss(NamedTuple):
    """Coefficients of a screen: viscous [1/m³], inertial [1/m⁴], bypass opening pressure [Pa], and a note."""

    viscous: float
    inertial: float
    cap: float
    note: str


def screen(element: Screen, bore: float | None = None) -> ScreenLoss:
    """A strainer's or filter's element, from its mesh or from its maker's points.

    bore: of its end fitting [m]; it decides how one single point is read, and without it the point is read
    half and half.
    Raises FittingError for an element that gives neither, or gives a cloth that cannot be woven.
    Sources: Armour and Cannon (1968) for a mesh; least squares with neither coefficient negative for points.
    """
    free = 1.0 - element.blocked
    if not 0.0 < free <= 1.0:
        raise FittingError(
            f"a screen blocked to {element.blocked:g} lets nothing through: below 1 is allowed"
        )
    cap = element.bypass.si if element.bypass is not None else math.inf
    if element.drops:
        viscous, inertial, note = _from_points(element, bore)
        return ScreenLoss(viscous / free, inertial / free**2, cap, note)
    if element.mesh is None or element.wire is None or element.area is None:
        raise FittingError("a screen needs its mesh, wire and area, or the maker's drops")
    viscous, inertial, note = wire_cloth(element.mesh.si, element.wire.si, element.area.si * free)
    return ScreenLoss(viscous, inertial, cap, note)


def wire_cloth(wires: float, wire: float, area: float) -> tuple[float, float, str]:
    """Viscous [1/m³] and inertial [1/m⁴] coefficient of a plain square weave, and a note on its range.

    wires: wires per length [1/m]; wire: diameter [m]; area: open to the flow [m²].
    Raises FittingError for wires that overlap, or no area.
    Source: Armour and Cannon (1968), screen Reynolds number 0.1 to 1000 and linear below; porosity 0.35 to
    0.76, opening 5 to 550 μm.
    """
    if not (wires > 0 and wire > 0 and area > 0):
        raise FittingError("a wire cloth needs wires, a wire diameter and an area above nothing")
    opening = formulas.screen_opening.scalar(wires, wire)
    porosity = formulas.screen_porosity.scalar(wires, wire)
    if opening <= 0 or porosity <= 0:
        raise FittingError(f"wires of {wire * 1e3:.3g} mm at {wires * 0.0254:.4g} per inch leave no opening")
    thickness = formulas.screen_thickness.scalar(wire)
    surface = formulas.screen_surface.scalar(wires, wire)
    viscous = formulas.screen_viscous.scalar(surface, thickness, porosity, area)
    inertial = formulas.screen_inertial.scalar(thickness, porosity, opening, area)
    return viscous, inertial, _cloth_note(porosity, opening)


def _cloth_note(porosity: float, opening: float) -> str:
    notes = []
    if not 0.35 <= porosity <= 0.76:
        notes.append(f"porosity {porosity:.2f} is outside the 0.35 to 0.76 of the tests")
    if not 5e-6 <= opening <= 550e-6:
        notes.append(f"opening {opening * 1e6:.0f} μm is outside the 5 to 550 μm of the tests")
    return "; ".join(notes)


def _from_points(element: Screen, bore: float | None) -> tuple[float, float, str]:
    if element.viscosity is None or element.density is None:
        raise FittingError("a maker's drops need the viscosity and density they were measured with")
    density = element.density.si
    mu = formulas.dynamic_viscosity.scalar(element.viscosity.si, density)
    points = [(flow.si, drop.si) for flow, drop in element.drops]
    if any(flow <= 0 or drop < 0 for flow, drop in points):
        raise FittingError("a maker's drops need flows above nothing, and drops not below it")
    if len(points) == 1:
        return _from_one_point(points[0], mu, density, bore)
    viscous, inertial = fit(points, mu, density)
    return viscous, inertial, ""


def _from_one_point(
    point: tuple[float, float], mu: float, density: float, bore: float | None
) -> tuple[float, float, str]:
    flow, drop = point
    reynolds = math.inf
    if bore is not None:
        velocity = formulas.velocity.scalar(flow, bore)
        reynolds = formulas.reynolds.scalar(velocity, bore, mu / density)
    if reynolds < formulas.LAMINAR_END:
        return drop / (mu * flow), 0.0, "one point of the maker's, laminar in its end fitting: all viscous"
    half = 0.5 * drop
    note = "one point of the maker's: read half viscous, half as the square of the flow"
    return half / (mu * flow), half / (density * flow**2), note


def fit(points: Sequence[tuple[float, float]], mu: float, density: float) -> tuple[float, float]:
    """Least squares of Δp = viscous · μ · Q + inertial · ρ · Q², neither below 0.

    points: (flow [m³/s], drop [Pa]); mu: dynamic viscosity [Pa·s]; density: [kg/m³].
    Returns: viscous [1/m³], inertial [1/m⁴].
    """
    scale = max(flow for flow, _ in points)
    rows = [(flow / scale, (flow / scale) ** 2, drop) for flow, drop in points]
    aa, ab, bb = (sum(r[i] * r[j] for r in rows) for i, j in ((0, 0), (0, 1), (1, 1)))
    ad, bd = (sum(r[i] * r[2] for r in rows) for i in (0, 1))
    both = aa * bb - ab * ab
    if both > 1e-12 * aa * bb:
        linear, square = (ad * bb - bd * ab) / both, (bd * aa - ad * ab) / both
    else:
        linear = square = -1.0  # one flow repeated: no way to tell the two apart
    if linear < 0 and square < 0:
        linear = square = 0.5 * ad / aa
    elif square < 0:
        linear, square = ad / aa, 0.0
    elif linear < 0:
        linear, square = 0.0, bd / bb
    return linear / (mu * scale), square / (density * scale**2)


def flow_coefficient(*, kv: float | None = None, cv: float | None = None) -> float:
    """Inertial coefficient [1/m⁴] of a valve known by its flow coefficient.

    kv: flow at 1 bar [m³/s]; cv: flow at 1 psi, in gallons a minute turned into [m³/s]. Exactly one is given.
    Raises FittingError for none, or a value not above 0.
    Source: IEC 60534, as `fluids.fittings` converts it.
    """
    given = kv if kv is not None else cv
    if given is None or (kv is not None and cv is not None):
        raise FittingError("a flow coefficient is either Kv or Cv")
    if given <= 0:
        raise FittingError("a flow coefficient must be above 0")
    metric = given * 3600.0 if kv is not None else library.Cv_to_Kv(given * 60.0 / GALLON)
    return float(library.Kv_to_K(metric, 1.0)) * 8.0 / math.pi**2


def known_drop(drop: float, flow: float | None, density: float) -> tuple[float, float]:
    """Inertial [1/m⁴] and fixed [Pa] part of a device known by one drop.

    drop: [Pa]; flow: it was read at [m³/s], None when it is the same at any flow; density: it was read
    with [kg/m³].
    Raises FittingError for a flow not above 0.
    """
    if flow is None:
        return 0.0, drop
    if flow <= 0:
        raise FittingError("a known drop needs a flow above 0, or none")
    return drop / (density * flow**2), 0.0
