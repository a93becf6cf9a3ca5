"""How the coefficients of an element come about: K, and the coefficients of screens and devices.

A derivation that does not arrive at the coefficients the calculation uses is not shown; they then stand as
given, with their source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from solver.formulas import fittings as formulas
from solver.formulas import screens, symbols
from solver.formulas.flow import dynamic_viscosity, point_dynamic_viscosity, point_nu
from solver.formulas.formula import Symbol
from solver.formulas.steps import Maker, Step
from solver.formulas.worked import written
from solver.geometry import outline
from solver.layout.parts import REDUCER_KINDS, Fitting, Intake, Run, Tee
from solver.ledger.solve import Solution
from solver.network import coefficients
from solver.network.build import Row
from solver.network.rows import RowKind, read_with
from solver.network.screens import GALLON
from solver.properties.sizes import INCH
from solver.working.screen import curve_steps, screen_steps
from solver.working.tee import tee_steps

SAME = 1e-9
"""Figures this near, as a share of themselves, are one."""


@dataclass(frozen=True, slots=True)
class Element:
    """One row of a solved network as the fluid passes it."""

    solution: Solution
    row: Row
    flow: float  # [m³/s], negative where it runs against the row

    @property
    def k_inf(self) -> float:
        """Of the way the fluid goes."""
        back = self.row.k_inf_back
        return self.row.k_inf if self.flow >= 0 or back is None else back

    @property
    def k_re(self) -> float:
        """Of the way the fluid goes."""
        back = self.row.k_re_back
        return self.row.k_re if self.flow >= 0 or back is None else back

    @property
    def k_slow(self) -> float | None:
        """Of the way the fluid goes, in the place of k_inf in laminar flow; None where it is k_inf."""
        back = self.row.k_slow_back
        return self.row.k_slow if self.flow >= 0 or back is None else back

    @property
    def targets(self) -> tuple[tuple[Symbol, float], ...]:
        """What its coefficients are."""
        row = self.row
        return (
            (symbols.k_inf, self.k_inf),
            (symbols.k_re, self.k_re),
            (symbols.k_slow, self.k_slow or 0.0),
            (symbols.viscous, row.viscous),
            (symbols.inertial, row.inertial),
        )


def coefficient_steps(element: Element, make: Maker) -> list[Step]:
    """The coefficients of an element that are not zero, derived or as given."""
    steps = list(_derived(element, make))
    last = {step.result_symbol: step.value for step in steps}
    wanted = [(symbol, value) for symbol, value in element.targets if value]
    if all(math.isclose(last.get(symbol, math.nan), value, rel_tol=SAME) for symbol, value in wanted):
        return steps
    return [make.given(symbol, value, element.row.source) for symbol, value in wanted]


def _derived(element: Element, make: Maker) -> Iterator[Step]:
    row = element.row
    part = element.solution.layout.part(row.part)
    if row.kind == RowKind.BEND and isinstance(part, Run):
        yield from _bend(element, part, make)
    elif row.kind == RowKind.BORE_CHANGE and isinstance(part, Run):
        yield from _bore_change(element, part, make)
    elif row.kind == RowKind.CORNER and isinstance(part, Fitting):
        yield from _corner(element, part, make)
    elif row.kind == RowKind.TEE and isinstance(part, Tee):
        yield from tee_steps(element.solution, row, make)
    elif row.kind == RowKind.SCREEN and isinstance(part, Intake | Fitting) and part.screen is not None:
        yield from screen_steps(part.screen, outline.bore(part), make)
    elif isinstance(part, Intake | Fitting):
        yield from _fitting(part, element, make)


def _fitting(part: Intake | Fitting, element: Element, make: Maker) -> Iterator[Step]:
    if isinstance(part, Fitting) and part.curve is not None:
        yield from curve_steps(part.curve, outline.bore(part), make)
    elif isinstance(part, Fitting) and (part.opening is not None or part.kind == "flow coefficient"):
        yield from _flow_coefficient(part, make)
    elif part.kind in coefficients.DARBY_ROWS:
        yield from _darby(part.kind, outline.nominal(part), make)
    elif part.kind in coefficients.HOOPER_ROWS:
        k_re, k_h = coefficients.HOOPER_ROWS[part.kind]
        yield make.given(symbols.K_h, k_h, f"{coefficients.HOOPER}, {part.kind}")
        yield make.work(formulas.hooper, k_h, outline.bore(part) / INCH)
        yield make.given(symbols.k_re, k_re, f"{coefficients.HOOPER}, {part.kind}")
    elif part.kind.endswith("foot valve"):
        yield from _foot_valve(part, element.row, make)
    elif isinstance(part, Fitting) and part.kind in REDUCER_KINDS:
        yield from _reducer(part, element, make)
    elif part.kind == "flexible connector" and isinstance(part, Fitting):
        bores = 6.0 if part.length is None else part.length.si / outline.bore(part)
        yield make.work(formulas.connector, bores)
        yield make.work(formulas.connector_slow, bores)


def _reducer(part: Fitting, element: Element, make: Maker) -> Iterator[Step]:
    """A step of the bore the way round that it is fitted; of a cone its wall friction in slow flow."""
    small, large = sorted(outline.ends(part))
    if part.length is None:
        ways = [list(_step(small, large, widens, make)) for widens in (True, False)]
        yield from min(ways, key=lambda steps: abs(_last(steps, symbols.k_inf) - element.k_inf))
        return
    yield make.given(symbols.k_inf, element.k_inf, element.row.source)
    yield from _gradual(part, element, small, large, make)
    slow = make.work(formulas.cone_slow, part.length.si, large, small)
    if math.isclose(slow.value, element.k_re, rel_tol=SAME):
        yield slow
    else:
        yield make.given(symbols.k_re, element.k_re, element.row.source)


def _gradual(part: Fitting, element: Element, small: float, large: float, make: Maker) -> Iterator[Step]:
    """What a cone that widens takes in laminar flow."""
    if element.k_slow is None or element.k_slow == element.k_inf or part.length is None:
        return
    yield make.work(formulas.bore_ratio, small, large)
    angle = coefficients.cone_angle(small, large, part.length.si)
    yield make.given(
        symbols.opening_angle, angle, f"of its bores and length, {written(math.degrees(angle), 3)}°"
    )
    factor = make.work(formulas.gradual, angle)
    yield factor
    yield make.work(formulas.gradual_slow, factor.value, small / large)


def _last(steps: list[Step], symbol: Symbol) -> float:
    return next((step.value for step in reversed(steps) if step.result_symbol is symbol), math.nan)


def _darby(row: str, nominal: float, make: Maker, name: str = "") -> Iterator[Step]:
    """k_inf by Darby's formula, then k_re from his table."""
    k_re, k_i, k_d = coefficients.DARBY_ROWS[row]
    source = f"{coefficients.DARBY}, {row}"
    yield make.given(symbols.K_i, k_i, source)
    yield make.given(symbols.K_d, k_d, source)
    yield make.work(formulas.darby, k_i, k_d, nominal / INCH, name=name)
    yield make.given(symbols.k_re, k_re, source)


def _foot_valve(part: Intake | Fitting, row: Row, make: Maker) -> Iterator[Step]:
    bore = outline.bore(part)
    reynolds = make.work(formulas.crane_reynolds, bore)
    roughness = make.work(formulas.crane_roughness, bore)
    friction = make.work(formulas.crane_friction, reynolds.value, roughness.value, bore)
    yield from (reynolds, roughness, friction)
    poppet = part.kind.startswith("poppet")
    yield make.work(formulas.poppet_foot_valve if poppet else formulas.foot_valve, friction.value)
    yield make.given(symbols.k_re, row.k_re, row.source)


def known_drop_steps(element: Element, make: Maker) -> Iterator[Step]:
    """What a device known by one drop takes; its loss comes last. Nothing for any other element."""
    row, fluid = element.row, element.solution.fluid
    part = element.solution.layout.part(row.part)
    if not row.read_drop or not isinstance(part, Fitting):
        return
    read, density = read_with(part)
    source = "as typed" if part.viscosity is not None and part.density is not None else row.source
    yield make.given(screens.point_drop, row.read_drop, "as given")
    yield make.given(point_nu, read, source)
    yield make.given(screens.point_rho, density, source)
    mu = make.work(dynamic_viscosity, fluid.viscosity, fluid.density)
    mu_read = make.work(point_dynamic_viscosity, read, density)
    grown = make.work(screens.known_drop_fluid, mu.value, fluid.density, mu_read.value, density)
    yield from (mu, mu_read, grown)
    if math.isnan(row.read_flow):
        yield make.work(screens.known_drop_any, row.read_drop, grown.value)
        return
    share = make.work(screens.known_drop_flow, abs(element.flow), row.read_flow)
    yield share
    yield make.work(screens.known_drop, row.read_drop, grown.value, share.value)


def _flow_coefficient(part: Fitting, make: Maker) -> Iterator[Step]:
    held = part if part.opening is None else part.opening
    if held.kv is not None:
        metric = held.kv.si * 3600.0
        yield make.given(symbols.K_v, metric, "as given")
    elif held.cv is not None:
        step = make.work(screens.from_cv, held.cv.si * 60.0 / GALLON)
        yield step
        metric = step.value
    else:
        return
    bore = outline.bore(part) * 1000.0
    size = make.work(formulas.valve_size, metric, bore)
    yield size
    yield make.work(formulas.valve_viscous, metric, bore, size.value)
    yield make.work(screens.flow_coefficient, metric)


# Bends


def _bend(element: Element, run: Run, make: Maker) -> Iterator[Step]:
    pieces = outline.outline(element.solution.layout, run)
    angle = next((piece.angle for piece in pieces if piece.element == element.row.element), 0.0)
    yield make.given(symbols.theta, angle, f"as drawn, {written(math.degrees(angle), 4)}°")
    if run.bend_radius is None and f"{run.bend} 90" in coefficients.DARBY_ROWS:
        yield from _elbow(run.bend, angle, outline.nominal(run), make)
    else:
        yield from _smooth(element.row, outline.bend_radius(run), angle, make)


def _corner(element: Element, fitting: Fitting, make: Maker) -> Iterator[Step]:
    layout = element.solution.layout
    one, two = (run for run in layout.runs.values() if fitting.name in (run.start, run.end))
    angle = outline.corner_angle(layout, fitting, (one, two))
    yield make.given(symbols.theta, angle, f"out of line, {written(math.degrees(angle), 4)}°")
    yield from _elbow("mitre", angle, min(outline.nominal(part) for part in (fitting, one, two)), make)


def _smooth(row: Row, radius: float, angle: float, make: Maker) -> Iterator[Step]:
    bore = row.bore
    yield make.given(symbols.roughness, row.roughness, "of the run's wall")
    friction = make.work(formulas.bend_friction, coefficients.BEND_REYNOLDS, row.roughness, bore)
    yield friction
    yield make.given(symbols.radius, radius, "as drawn")
    yield make.work(formulas.smooth_bend, friction.value, angle, radius, bore)
    yield make.work(formulas.smooth_bend_slow, radius, bore, angle)


def _elbow(bend: str, angle: float, nominal: float, make: Maker) -> Iterator[Step]:
    degrees = math.degrees(angle)
    for row in (45, 90):
        if abs(degrees - row) < 1e-9 and f"{bend} {row}" in coefficients.DARBY_ROWS:
            yield from _darby(f"{bend} {row}", nominal, make)
            return
    full = list(_darby(f"{bend} 90", nominal, make, "coefficient of the row for 90°"))
    half = []
    if f"{bend} 45" in coefficients.DARBY_ROWS:
        half = list(_darby(f"{bend} 45", nominal, make, "coefficient of the row for 45°"))
    yield from (*half[:-1], *full[:-1])
    halves = [(half[i] if half else None, full[i]) for i in (-2, -1)]
    for symbol, (low, high) in zip((symbols.k_inf, symbols.k_re), halves, strict=True):
        low_value = low.value if low is not None else high.value / 2
        yield _between(symbol, low_value, high.value, angle, make)


def _between(symbol: Symbol, half: float, full: float, angle: float, make: Maker) -> Step:
    below, between, beyond = formulas.elbow(symbol)
    if angle <= math.pi / 4:
        return make.work(below, half, angle)
    if angle >= math.pi / 2:
        return make.work(beyond, full, angle)
    return make.work(between, half, full, angle)


# Changes of bore


def _bore_change(element: Element, run: Run, make: Maker) -> Iterator[Step]:
    row = element.row
    joint = element.solution.layout.joint(row.element.removeprefix("bore change at "))
    bores = [outline.bore(run), outline.bore(joint)]
    if not row.key.startswith(f"{run.name}>"):
        bores.reverse()
    if element.flow < 0:
        bores.reverse()
    yield from _step(min(bores), max(bores), bores[1] > bores[0], make)


def _step(small: float, large: float, widens: bool, make: Maker) -> Iterator[Step]:
    ratio = make.work(formulas.bore_ratio, small, large)
    yield ratio
    if widens:
        yield make.work(formulas.widening, ratio.value)
        yield make.work(formulas.widening_slow, ratio.value)
        return
    jet = make.work(formulas.contracted_jet, ratio.value)
    yield jet
    yield make.work(formulas.narrowing, ratio.value, jet.value)
    yield make.work(formulas.narrowing_slow, ratio.value)
