"""Strainers, filters and devices as the two coefficients of a loss: viscous · μ · Q + inertial · ρ · Q².

A screen in oil runs far below the Reynolds numbers of the usual tables: the viscous part is most of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from solver.formulas import fittings, screens, symbols
from solver.formulas import flow as formulas
from solver.formulas.record import UNRECORDED, Calculator
from solver.layout.parts import Curve, Pairs, Screen
from solver.network.coefficients import FittingError
from solver.quantities.units import Quantity

GALLON = 231 * 0.0254**3
"""US gallon [m³]."""


class ScreenLoss(NamedTuple):
    """Coefficients of a screen: viscous [1/m³], inertial [1/m⁴], opening pressure of its bypass [Pa], a note,
    and the viscous coefficient of the bypass [1/m³], None where no point of it is given."""

    viscous: float
    inertial: float
    cap: float
    note: str
    bypass_viscous: float | None = None


def screen(element: Screen, bore: float | None = None, calc: Calculator = UNRECORDED) -> ScreenLoss:
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
        viscous, inertial, note = from_points(element.drops, element.viscosity, element.density, bore, calc)
        dirty = _behind_dirt(viscous, inertial, element.blocked, calc)
        return ScreenLoss(*dirty, cap, note, bypass_coefficient(element, calc))
    if element.mesh is None or element.wire is None or element.area is None:
        raise FittingError("a screen needs its mesh, wire and area, or the maker's drops")
    calc.given(symbols.whole_area, element.area.si, "as typed")
    calc.given(symbols.blocked, element.blocked, "as typed")
    area = calc.work(screens.free_area, element.area.si, element.blocked)
    viscous, inertial, note = wire_cloth(element.mesh.si, element.wire.si, area, calc)
    return ScreenLoss(viscous, inertial, cap, note, bypass_coefficient(element, calc))


def bypass_coefficient(element: Screen, calc: Calculator = UNRECORDED) -> float | None:
    """Viscous coefficient of an element's bypass [1/m³] by its maker's point; None where none is given.

    Raises FittingError for a drop with the bypass open that is not above its opening pressure.
    """
    drop, flow, viscosity = element.bypass_drop, element.bypass_flow, element.bypass_viscosity
    if element.bypass is None or drop is None or flow is None or viscosity is None:
        return None
    if not drop.si > element.bypass.si:
        raise FittingError("the drop with the bypass open has to be above the pressure that opens it")
    mu = formulas.dynamic_viscosity.scalar(viscosity.si, screens.READ_DENSITY)
    calc.given(screens.over_mu, mu, f"as typed, at {screens.READ_DENSITY:g} kg/m³")
    return calc.work(screens.bypass_viscous, drop.si, element.bypass.si, mu, flow.si)


def _behind_dirt(viscous: float, inertial: float, blocked: float, calc: Calculator) -> tuple[float, float]:
    """The coefficients of an element with that share of its area blocked, from those of a clean one."""
    return calc.work(screens.blocked_viscous, viscous, blocked), calc.work(
        screens.blocked_inertial, inertial, blocked
    )


def maker_curve(curve: Curve, bore: float, calc: Calculator = UNRECORDED) -> ScreenLoss:
    """A device known by its maker's points. Errors and source as `from_points`; `bore` as in `screen`."""
    viscous, inertial, note = from_points(curve.drops, curve.viscosity, curve.density, bore, calc)
    return ScreenLoss(*_behind_dirt(viscous, inertial, 0.0, calc), math.inf, note)


def wire_cloth(
    wires: float, wire: float, area: float, calc: Calculator = UNRECORDED
) -> tuple[float, float, str]:
    """Viscous [1/m³] and inertial [1/m⁴] coefficient of a plain square weave, and a note on its range.

    wires: wires per length [1/m]; wire: diameter [m]; area: open to the flow [m²].
    Raises FittingError for wires that overlap, or no area.
    Source: Armour and Cannon (1968), screen Reynolds number 0.1 to 1000 and linear below; porosity 0.35 to
    0.76, opening 5 to 550 μm.
    """
    if not (wires > 0 and wire > 0 and area > 0):
        raise FittingError("a wire cloth needs wires, a wire diameter and an area above nothing")
    calc.given(symbols.wires, wires, "as typed")
    calc.given(symbols.wire, wire, "as typed")
    opening = calc.work(screens.screen_opening, wires, wire)
    porosity = calc.work(screens.screen_porosity, wires, wire)
    if opening <= 0 or porosity <= 0:
        raise FittingError(f"wires of {wire * 1e3:.3g} mm at {wires * 0.0254:.4g} per inch leave no opening")
    thickness = calc.work(screens.screen_thickness, wire)
    surface = calc.work(screens.screen_surface, wires, wire)
    viscous = calc.work(screens.screen_viscous, surface, thickness, porosity, area)
    inertial = calc.work(screens.screen_inertial, thickness, porosity, opening, area)
    return viscous, inertial, _cloth_note(porosity, opening)


def _cloth_note(porosity: float, opening: float) -> str:
    notes = []
    if not 0.35 <= porosity <= 0.76:
        notes.append(f"porosity {porosity:.2f} is outside the 0.35 to 0.76 of the tests")
    if not 5e-6 <= opening <= 550e-6:
        notes.append(f"opening {opening * 1e6:.0f} μm is outside the 5 to 550 μm of the tests")
    return "; ".join(notes)


def from_points(
    drops: Pairs,
    viscosity: Quantity | None,
    density: Quantity | None,
    bore: float | None = None,
    calc: Calculator = UNRECORDED,
) -> tuple[float, float, str]:
    """Viscous [1/m³] and inertial [1/m⁴] coefficient of what a maker's points describe, and a note.

    drops: ((flow, drop), ...); viscosity, density: of the fluid they were measured in; bore: as in `screen`.
    Raises FittingError for points without their fluid, or that no device can have.
    Source: least squares, neither coefficient negative.
    """
    if viscosity is None or density is None:
        raise FittingError("a maker's drops need the viscosity and density they were measured with")
    mu = calc.work(formulas.point_dynamic_viscosity, viscosity.si, density.si)
    points = [(flow.si, drop.si) for flow, drop in drops]
    if not points or any(flow <= 0 or drop < 0 for flow, drop in points):
        raise FittingError("a maker's drops need flows above nothing, and drops not below it")
    if len(points) == 1:
        return _from_one_point(points[0], mu, viscosity.si, density.si, bore, calc)
    viscous, inertial = fit(points, mu, density.si, calc)
    return viscous, inertial, _misfit(points, viscous * mu, inertial * density.si)


MISFIT = 0.05
"""Share of a maker's point by which the curve may miss it before a note says so."""


def _misfit(points: Sequence[tuple[float, float]], linear: float, square: float) -> str:
    """What a reader should know where no curve of the two coefficients meets the points."""
    worst = max(abs(linear * q + square * q * q - drop) / drop for q, drop in points if drop > 0)
    return f"the maker's points are met within {worst:.0%}".replace("%", " %") if worst > MISFIT else ""


def _from_one_point(
    point: tuple[float, float],
    mu: float,
    viscosity: float,
    density: float,
    bore: float | None,
    calc: Calculator,
) -> tuple[float, float, str]:
    flow, drop = point
    reynolds = math.inf
    if bore is not None:
        velocity = calc.work(formulas.point_velocity, flow, bore)
        reynolds = calc.work(formulas.point_reynolds, velocity, bore, viscosity)
    if reynolds < formulas.LAMINAR_END:
        viscous = calc.work(screens.one_point, drop, mu, flow)
        return viscous, 0.0, "one point of the maker's, laminar in its end fitting: all viscous"
    note = "one point of the maker's: read half viscous, half as the square of the flow"
    viscous = calc.work(screens.half_viscous, drop, mu, flow)
    return viscous, calc.work(screens.half_inertial, drop, density, flow), note


def fit(
    points: Sequence[tuple[float, float]], mu: float, density: float, calc: Calculator = UNRECORDED
) -> tuple[float, float]:
    """Least squares of Δp = viscous · μ · Q + inertial · ρ · Q², neither below 0.

    points: (flow [m³/s], drop [Pa]); mu: dynamic viscosity [Pa·s]; density: [kg/m³].
    Returns: viscous [1/m³], inertial [1/m⁴].
    """
    known = {"μ_p": mu, "ρ_p": density}
    for i, (flow, drop) in enumerate(points, 1):
        at = screens.maker_point(i)
        known[at.flow.symbol] = calc.given(at.flow, flow, "as typed")
        known[at.drop.symbol] = calc.given(at.drop, drop, "as typed")
    aa, ab, bb, ad, bd = (
        calc.work(total, *(known[symbol.symbol] for symbol in total.symbols))
        for total in screens.point_sums(len(points))
    )
    if aa * bb - ab * ab <= 1e-12 * aa * bb:
        # One flow repeated: no way to tell the two apart.
        return calc.work(screens.points_half_viscous, ad, aa), calc.work(screens.points_half_inertial, bd, bb)
    if screens.points_inertial.scalar(aa, ab, bb, ad, bd) < 0:
        return calc.work(screens.points_only_viscous, aa, ad), 0.0
    if screens.points_viscous.scalar(aa, ab, bb, ad, bd) < 0:
        return 0.0, calc.work(screens.points_only_inertial, bb, bd)
    sums = (aa, ab, bb, ad, bd)
    return calc.work(screens.points_viscous, *sums), calc.work(screens.points_inertial, *sums)


def flow_coefficient(
    *, kv: float | None = None, cv: float | None = None, calc: Calculator = UNRECORDED
) -> float:
    """Inertial coefficient [1/m⁴] of a valve known by its flow coefficient.

    kv: flow at 1 bar [m³/s]; cv: flow at 1 psi, in gallons a minute turned into [m³/s]. Exactly one is given.
    Raises FittingError for none, or a value not above 0.
    Source: IEC 60534.
    """
    return calc.work(screens.flow_coefficient, _metric(kv, cv, calc))


def slow_flow_coefficient(
    bore: float, *, kv: float | None = None, cv: float | None = None, calc: Calculator = UNRECORDED
) -> float:
    """Viscous coefficient [1/m³] of a valve known by its flow coefficient, which speaks of turbulent flow.

    bore: of the valve [m]. Other parameters and errors as `flow_coefficient`.
    Source: IEC 60534-2-1, its factor for low Reynolds numbers in laminar flow, with the recovery factor and
    the style modifier of a common valve.
    """
    metric, size = _metric(kv, cv, UNRECORDED), bore * 1000.0
    calc.given(fittings.valve_bore, size, "as typed")
    return calc.work(fittings.valve_viscous, metric, size, calc.work(fittings.valve_size, metric, size))


def _metric(kv: float | None, cv: float | None, calc: Calculator) -> float:
    """Kv [m³/h]."""
    given = kv if kv is not None else cv
    if given is None or (kv is not None and cv is not None):
        raise FittingError("a flow coefficient is either Kv or Cv")
    if given <= 0:
        raise FittingError("a flow coefficient must be above 0")
    if kv is not None:
        return calc.given(symbols.K_v, given * 3600.0, "as given")
    return calc.work(screens.from_cv, calc.given(symbols.C_v, given * 60.0 / GALLON, "as given"))
