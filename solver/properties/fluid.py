"""Density, viscosity, vapour pressure and dissolved air of the fluid, from the catalogue or as typed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Protocol

from solver.formulas import fluid as formulas
from solver.formulas import symbols
from solver.formulas.formula import Symbol
from solver.formulas.record import UNRECORDED, Calculator
from solver.properties.families import ZERO, Family, Points, catalogue, uncatalogued
from solver.properties.viscosity import CENTISTOKE, at_temperature, index_line, walther_line
from solver.properties.viscosity import FluidError as FluidError
from solver.quantities import columns as figures
from solver.quantities.units import Quantity

Pairs = tuple[tuple[Quantity, Quantity], ...]

BEYOND_POINTS = 20.0
"""How far past its typed points a viscosity is carried [K]. Common practice, no source: wax and additives
bend the straight line of ASTM D341."""

OIL_COLDEST, OIL_HOTTEST = ZERO - 50.0, ZERO + 150.0
"""Temperatures that API MPMS 11.1 holds for [K]."""


@dataclass(frozen=True, slots=True)
class PropertyCurve:
    """A property over temperature [K], and the temperatures it holds for."""

    at: Callable[[float, Calculator], float]
    source: str
    coldest: float = 0.0
    hottest: float = math.inf


@dataclass(frozen=True, slots=True)
class FluidState:
    """The fluid at one temperature."""

    name: str
    temperature: float  # [K]
    density: float  # [kg/m³]
    viscosity: float  # kinematic [m²/s]
    vapor_pressure: float  # absolute [Pa]
    dissolved_air: float  # Bunsen coefficient
    sources: Mapping[str, str]  # of density, viscosity, vapor_pressure, dissolved_air
    curves: Mapping[str, PropertyCurve] = field(
        default_factory=dict, compare=False, repr=False
    )  # of the same four
    unknown: tuple[str, ...] = ()  # of vapor_pressure and dissolved_air, what nobody has typed or published

    @property
    def known_vapor_pressure(self) -> float | None:
        """Its vapour pressure, absolute [Pa]; None where it counts as 0 since nobody has typed it."""
        return None if "vapor_pressure" in self.unknown else self.vapor_pressure

    def explain(self, calc: Calculator) -> None:
        """Compute density, viscosity, vapour pressure and dissolved air once more, with a recorder."""
        for name, symbol in _SYMBOLS.items():
            if name in self.curves:
                self.curves[name].at(self.temperature, calc)
            else:
                calc.given(symbol, getattr(self, name), self.sources.get(name, ""))


_SYMBOLS = {
    "density": symbols.rho,
    "viscosity": symbols.nu,
    "vapor_pressure": symbols.p_v,
    "dissolved_air": symbols.bunsen,
}


class TypedFluid(Protocol):
    """A catalogue name, and the figures typed in its place, as the drawing gives them."""

    @property
    def name(self) -> str: ...
    @property
    def temperature(self) -> Quantity: ...
    @property
    def line_temperature(self) -> Quantity | None: ...
    @property
    def line_density(self) -> Quantity | None: ...
    @property
    def line_viscosity(self) -> Quantity | None: ...
    @property
    def density(self) -> Quantity | Pairs | None: ...
    @property
    def viscosity(self) -> Quantity | Pairs | None: ...
    @property
    def viscosity_index(self) -> float | None: ...
    @property
    def vapor_pressure(self) -> Quantity | Pairs | None: ...
    @property
    def dissolved_air(self) -> float | None: ...
    @property
    def pour_point(self) -> Quantity | None: ...


@figures.remembered(256)
def state(choice: TypedFluid, temperature: float | None = None) -> FluidState:
    """The fluid of a drawing at one temperature.

    choice: its name and the figures typed in the catalogue's place; a name the catalogue does not have needs
    its density and viscosity typed. temperature: [K]; None: the choice's own.
    Raises FluidError for an unknown fluid, figures that do not go together, or a temperature outside them.
    Sources: of each figure, in the state itself.
    """
    T = choice.temperature.si if temperature is None else temperature
    if not T > 0:
        raise FluidError("{tried} is not above absolute zero", tried=at_temperature(T))
    if choice.pour_point is not None and choice.pour_point.si > T:
        raise FluidError(
            "{fluid}: {tried} is below its pour point, {pours}",
            fluid=choice.name,
            tried=at_temperature(T),
            pours=at_temperature(choice.pour_point.si),
        )
    curves = _curves(
        choice.name,
        choice.density,
        choice.viscosity,
        choice.viscosity_index,
        choice.vapor_pressure,
        choice.dissolved_air,
    )
    values = {name: _value(choice.name, name, curve, T) for name, curve in curves.items()}
    sources = {name: curve.source for name, curve in curves.items()}
    unknown = tuple(
        name
        for name in ("vapor_pressure", "dissolved_air")
        if choice.name not in catalogue() and getattr(choice, name) is None
    )
    return FluidState(choice.name, T, sources=sources, curves=curves, unknown=unknown, **values)


def held_range(choice: TypedFluid) -> tuple[float, float]:
    """The coldest and the hottest for which all figures of a fluid hold [K], the coldest not below its pour
    point; (0, inf) of one that has none at its own temperature.
    """
    try:
        curves = state(choice).curves.values()
    except FluidError:
        return 0.0, math.inf
    pours = 0.0 if choice.pour_point is None else choice.pour_point.si
    return max(pours, *(each.coldest for each in curves)), min(each.hottest for each in curves)


def line_state(choice: TypedFluid, tank: FluidState) -> FluidState:
    """The fluid that stands in the line; `tank` itself where it is as warm as that. Errors as `state`.

    tank: of `state`, at the choice's own temperature.
    """
    warm = choice.line_temperature
    if warm is None or not figures.some(warm.si != tank.temperature):
        return tank
    line, density, viscosity = state(choice, warm.si), choice.line_density, choice.line_viscosity
    if density is None and viscosity is None:
        return line
    return replace(
        line,
        density=line.density if density is None else density.si,
        viscosity=line.viscosity if viscosity is None else viscosity.si,
    )


def _value(fluid: str, name: str, curve: PropertyCurve, T: float) -> float:
    if curve.coldest <= T <= curve.hottest:
        return curve.at(T, UNRECORDED)
    raise FluidError(
        "{fluid}: {property} at {tried}; its figures hold from {coldest} to {hottest}",
        end="{fluid}: figures for its {property} hold from {coldest} to {hottest}",
        fluid=fluid,
        property=name.replace("_", " ").replace("vapor", "vapour"),
        tried=at_temperature(T),
        coldest=at_temperature(curve.coldest),
        hottest=at_temperature(curve.hottest),
    )


@figures.remembered(256)
def _curves(
    name: str,
    density: Quantity | Pairs | None,
    viscosity: Quantity | Pairs | None,
    viscosity_index: float | None,
    vapor_pressure: Quantity | Pairs | None,
    dissolved_air: float | None,
) -> Mapping[str, PropertyCurve]:
    family = catalogue().get(name) or uncatalogued(name)
    return {
        "density": _density(family, density),
        "viscosity": _viscosity(family, viscosity, viscosity_index),
        "vapor_pressure": _vapor_pressure(family, vapor_pressure),
        "dissolved_air": _dissolved_air(family, dissolved_air),
    }


def _untyped(family: Family) -> FluidError:
    take = f"type its density and viscosity, or take {'; '.join(catalogue())}"
    return FluidError(f"{family.name!r} is not in the catalogue: {take}")


def _density(family: Family, typed: Quantity | Pairs | None) -> PropertyCurve:
    figures = typed if isinstance(typed, tuple) else () if typed is None else ((typed, typed),)
    if any(value.si <= 0 for _, value in figures):
        raise FluidError("density: above 0 is allowed")
    if isinstance(typed, tuple):
        return _interpolated(_points(typed), symbols.rho, "as typed")
    if typed is not None and family.is_water:
        return _constant(symbols.rho, typed.si, "as typed, held: for water it is that at its own temperature")
    if family.density:
        return _family_density(family, typed)
    if typed is not None and family.density_15 is None:
        return _constant(symbols.rho, typed.si, "as typed, held: not known to be a petroleum oil")
    if typed is not None:
        source = f"as typed at 15 °C; over temperature {formulas.MPMS}"
        return PropertyCurve(_oil_density(typed.si, "as typed"), source, OIL_COLDEST, OIL_HOTTEST)
    if family.density_15 is None:
        raise _untyped(family)
    source = f"{family.density_15:g} kg/m³ at 15 °C, {family.sources['density']}; {formulas.MPMS}"
    law = _oil_density(family.density_15, family.sources["density"])
    return PropertyCurve(law, source, family.coldest, family.hottest)


def _family_density(family: Family, typed: Quantity | None) -> PropertyCurve:
    """The family's table, or a density typed at 15 °C that goes over temperature as the table does."""
    source = family.sources["density"]
    if typed is None:
        return _interpolated(family.density, symbols.rho, source)
    now = _interpolated(family.density, formulas.rho_family, source)
    at_15 = _interpolated(family.density, formulas.rho_family_15, source)

    def at(T: float, calc: Calculator = UNRECORDED) -> float:
        now_density, base_density = now.at(T, calc), at_15.at(ZERO + 15.0, calc)
        value = calc.given(formulas.rho_typed, typed.si, "as typed, at 15 °C")
        return calc.work(formulas.scaled_density, value, now_density, base_density)

    return PropertyCurve(at, "as typed at 15 °C; over temperature as its family", now.coldest, now.hottest)


def _oil_density(at_15: float, source: str) -> Callable[[float, Calculator], float]:
    def at(T: float, calc: Calculator = UNRECORDED) -> float:
        known = calc.given(formulas.rho_15, at_15, source)
        warmth = calc.work(formulas.oil_warmth, T)
        expansion = calc.work(formulas.oil_expansion, known)
        return calc.work(formulas.oil_density, known, expansion, warmth)

    return at


def _viscosity(family: Family, typed: Quantity | Pairs | None, index: float | None) -> PropertyCurve:
    if isinstance(typed, Quantity) or (typed is not None and len(typed) > 1):
        if index is not None:
            raise FluidError("a viscosity index goes with one viscosity at one temperature")
        return _typed_viscosity(family, typed)
    if typed is None and (index is None or family.viscosity):
        return _family_viscosity(family, index)
    known = family.viscosity_index if index is None else index
    if known is None:
        raise FluidError("one viscosity at one temperature needs a viscosity index, or a second one")
    if typed is not None:
        at, value = typed[0]
        line = index_line(at.si, value.si / CENTISTOKE, known, "as typed")
        ends = _reach(family, (at.si, *INDEXED))
        return PropertyCurve(line, f"as typed, index {known:g}; {formulas.D2270}, {formulas.D341}", *ends)
    return _graded(family, known)


def _family_viscosity(family: Family, index: float | None) -> PropertyCurve:
    if index is not None:
        raise FluidError(f"{family.name} has no viscosity index: type its viscosity over temperature")
    if family.viscosity:
        table = _interpolated(family.viscosity, formulas.nu, family.sources["viscosity"], logarithmic=True)
        return PropertyCurve(
            lambda T, calc: table.at(T, calc) * CENTISTOKE, table.source, table.coldest, table.hottest
        )
    if family.viscosity_index is None:
        raise _untyped(family)
    return _graded(family, family.viscosity_index)


def _graded(family: Family, index: float) -> PropertyCurve:
    """The family's viscosity at 40 °C with an index."""
    if family.viscosity_40 is None:
        raise _untyped(family)
    line = index_line(ZERO + 40.0, family.viscosity_40, index, family.sources["viscosity"])
    source = (
        f"{family.viscosity_40:g} mm²/s at 40 °C, index {index:g}, {family.sources['viscosity']}; "
        f"{formulas.D2270}, {formulas.D341}"
    )
    return PropertyCurve(line, source, family.coldest, family.hottest)


def _typed_viscosity(family: Family, typed: Quantity | Pairs) -> PropertyCurve:
    if isinstance(typed, Quantity):
        if typed.si <= 0:
            raise FluidError(f"viscosity {typed.text!r}: above 0 is allowed")
        return _constant(symbols.nu, typed.si, "as typed, the same at every temperature")
    points = tuple((T, value / CENTISTOKE) for T, value in _points(typed))
    ends = _reach(family, (T for T, _ in points))
    return PropertyCurve(walther_line(points), f"as typed; {formulas.D341} through its points", *ends)


INDEXED = (ZERO + 40.0, ZERO + 100.0)
"""Temperatures between which a viscosity index speaks [K] (ASTM D2270)."""


def _reach(family: Family, temperatures: Iterable[float]) -> tuple[float, float]:
    """The coldest and the hottest [K] to which typed points are carried: the family's range at least."""
    known = tuple(temperatures)
    coldest, hottest = min(known) - BEYOND_POINTS, max(known) + BEYOND_POINTS
    if family.name not in catalogue():
        return coldest, hottest
    return min(coldest, family.coldest), max(hottest, family.hottest)


def _vapor_pressure(family: Family, typed: Quantity | Pairs | None) -> PropertyCurve:
    if isinstance(typed, Quantity):
        if typed.si < 0:
            raise FluidError(f"vapour pressure {typed.text!r}: an absolute pressure, not below 0")
        return _constant(symbols.p_v, typed.si, "as typed, the same at every temperature")
    if typed is not None:
        points = _points(typed)
        return _interpolated(
            points, symbols.p_v, "as typed", logarithmic=all(value > 0 for _, value in points)
        )
    fraction, source = family.water_fraction, family.sources["vapor_pressure"]
    if fraction == 0:
        return _constant(symbols.p_v, 0.0, source, family)

    def at(T: float, calc: Calculator = UNRECORDED) -> float:
        water = formulas.water_vapor_pressure(T, calc)
        if fraction == 1.0:
            return water
        share = calc.given(formulas.water_share, fraction, source)
        return calc.work(formulas.shared_vapor_pressure, share, water)

    return PropertyCurve(at, f"{source}; {formulas.IF97}", family.coldest, family.hottest)


def _dissolved_air(family: Family, typed: float | None) -> PropertyCurve:
    if typed is not None:
        return _constant(symbols.bunsen, typed, "as typed")
    return _interpolated(family.dissolved_air, symbols.bunsen, family.sources["dissolved_air"])


def _constant(symbol: Symbol, value: float, source: str, family: Family | None = None) -> PropertyCurve:
    """A figure that holds at every temperature, or over the range of a family."""
    held = () if family is None else (family.coldest, family.hottest)
    return PropertyCurve(lambda _, calc: calc.given(symbol, value, source), source, *held)


def _points(typed: Pairs) -> Points:
    """Typed pairs in SI, in order of temperature.

    Raises FluidError for a temperature given twice or not above absolute zero, or a figure below 0.
    """
    points = tuple(sorted((at.si, value.si) for at, value in typed))
    if any(at <= 0 or value < 0 for at, value in points):
        raise FluidError("temperatures above absolute zero and figures not below 0 are allowed")
    for (low, _), (high, _) in pairwise(points):
        if low == high:
            raise FluidError("two figures at {twice}", twice=at_temperature(low))
    return points


def _interpolated(points: Points, symbol: Symbol, source: str, *, logarithmic: bool = False) -> PropertyCurve:
    """One point holds at every temperature; several are interpolated and hold between their ends."""
    if len(points) == 1:
        return _constant(symbol, points[0][1], source)
    laws = formulas.between(symbol)
    law = laws.logarithmic if logarithmic else laws.linear
    below, above = law.symbols[:2]
    nodes, values = zip(*points, strict=True)

    def at(T: float, calc: Calculator = UNRECORDED) -> float:
        i = figures.bisect(nodes[1:-1], T)
        low, high, T_1, T_2 = (figures.pick(column, j) for column in (values, nodes) for j in (i, i + 1))
        low, high = calc.given(below, low, source), calc.given(above, high, source)
        return calc.work(law, low, high, T_1, T_2, T)

    return PropertyCurve(at, source, points[0][0], points[-1][0])
