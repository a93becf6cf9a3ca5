"""How the coefficients of a screen come about: from its mesh, or from the maker's points."""

from __future__ import annotations

import math
from collections.abc import Iterator

from solver.formulas import screens as formulas
from solver.formulas import symbols
from solver.formulas.flow import LAMINAR_END, point_dynamic_viscosity, point_reynolds, point_velocity
from solver.formulas.steps import Maker, Step
from solver.layout.parts import Curve, Pairs, Screen
from solver.network.build import Row
from solver.quantities.units import Quantity


def screen_steps(screen: Screen, bore: float, make: Maker) -> Iterator[Step]:
    """Of a strainer's or filter's element in an end fitting of that bore [m]."""
    if screen.drops:
        yield from _blocked(screen, _points(screen.drops, screen.viscosity, screen.density, bore, make), make)
    elif screen.mesh is not None and screen.wire is not None and screen.area is not None:
        yield from _mesh(screen.mesh.si, screen.wire.si, screen.area.si, screen.blocked, make)


def curve_steps(curve: Curve, bore: float, make: Maker) -> Iterator[Step]:
    """Of a device known by its maker's points."""
    clean = list(_points(curve.drops, curve.viscosity, curve.density, bore, make))
    yield from _blocked(Screen(), clean, make)


def _mesh(wires: float, wire: float, area: float, blocked: float, make: Maker) -> Iterator[Step]:
    yield make.given(symbols.wires, wires, "as drawn")
    yield make.given(symbols.wire, wire, "as drawn")
    opening = make.work(formulas.screen_opening, wires, wire)
    thickness = make.work(formulas.screen_thickness, wire)
    porosity = make.work(formulas.screen_porosity, wires, wire)
    surface = make.work(formulas.screen_surface, wires, wire)
    free = make.work(formulas.free_area, area, blocked)
    yield from (opening, thickness, porosity, surface, free)
    yield make.work(formulas.screen_viscous, surface.value, thickness.value, porosity.value, free.value)
    yield make.work(formulas.screen_inertial, thickness.value, porosity.value, opening.value, free.value)


def _points(
    drops: Pairs, viscosity: Quantity | None, density: Quantity | None, bore: float, make: Maker
) -> Iterator[Step]:
    if viscosity is None or density is None:
        return
    points = [(flow.si, drop.si) for flow, drop in drops]
    mu = make.work(point_dynamic_viscosity, viscosity.si, density.si)
    yield mu
    if len(points) == 1:
        yield from _one(points[0], mu.value, density.si, viscosity.si, bore, make)
        return
    for i, (flow, drop) in enumerate(points, 1):
        symbols_of_point = formulas.maker_point(i)
        yield make.given(symbols_of_point.flow, flow, "as drawn")
        yield make.given(symbols_of_point.drop, drop, "as drawn")
    yield from _least_squares(points, mu.value, density.si, make)


def _one(
    point: tuple[float, float], mu: float, density: float, viscosity: float, bore: float, make: Maker
) -> Iterator[Step]:
    flow, drop = point
    velocity = make.work(point_velocity, flow, bore)
    number = make.work(point_reynolds, velocity.value, bore, viscosity)
    yield from (velocity, number)
    if number.value < LAMINAR_END:
        yield make.work(formulas.one_point, drop, mu, flow)
    else:
        yield make.work(formulas.half_viscous, drop, mu, flow)
        yield make.work(formulas.half_inertial, drop, density, flow)


def _least_squares(
    points: list[tuple[float, float]], mu: float, density: float, make: Maker
) -> Iterator[Step]:
    known = {"μ_p": mu, "ρ_p": density}
    for i, (flow, drop) in enumerate(points, 1):
        known |= {f"Q_{i}": flow, f"Δp_{i}": drop}
    aa, ab, bb, ad, bd = (
        make.work(total, *(known[symbol.symbol] for symbol in total.symbols))
        for total in formulas.point_sums(len(points))
    )
    yield from (aa, ab, bb, ad, bd)
    five = [step.value for step in (aa, ab, bb, ad, bd)]
    viscous = make.work(formulas.points_viscous, *five)
    inertial = make.work(formulas.points_inertial, *five)
    if inertial.value < 0:
        yield make.work(formulas.points_only_viscous, aa.value, ad.value)
    elif viscous.value < 0:
        yield make.work(formulas.points_only_inertial, bb.value, bd.value)
    else:
        yield from (viscous, inertial)


def _blocked(screen: Screen, clean: Iterator[Step] | list[Step], make: Maker) -> Iterator[Step]:
    found = list(clean)
    yield from found
    for symbol, formula in (
        (formulas.clean_viscous, formulas.blocked_viscous),
        (formulas.clean_inertial, formulas.blocked_inertial),
    ):
        value = next((step.value for step in found if step.result_symbol is symbol), 0.0)
        if value:
            yield make.work(formula, value, screen.blocked)


def bypass_steps(
    screen: Screen, row: Row, flow: float, mu: float, alone: float, make: Maker
) -> Iterator[Step]:
    """What is left of an element's own loss [Pa] where its bypass is open.

    flow: [m³/s]; mu: dynamic viscosity [Pa·s]; alone: loss of the element itself [Pa].
    """
    yield make.given(symbols.cap, row.cap, "as drawn")
    if math.isnan(row.bypass_viscous):
        whole = make.work(formulas.bypass_assumed, row.cap, mu)
    else:
        drop, over, viscosity = screen.bypass_drop, screen.bypass_flow, screen.bypass_viscosity
        assert drop is not None
        assert over is not None
        assert viscosity is not None
        over_mu = viscosity.si * formulas.READ_DENSITY
        yield make.given(formulas.over_mu, over_mu, f"{viscosity.text} at 870 kg/m³")
        yield make.work(formulas.bypass_viscous, drop.si, row.cap, over_mu, over.si)
        whole = make.work(formulas.bypass_whole, row.bypass_viscous, mu, flow)
    yield whole
    yield make.work(formulas.past_bypass, alone, row.cap, whole.value)
