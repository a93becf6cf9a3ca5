"""Density, viscosity, vapour pressure and dissolved air of the fluid, from the catalogue or as typed."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from itertools import pairwise
from types import MappingProxyType
from typing import Any, Protocol

from solver.formulas import fluid as formulas
from solver.formulas.formula import Formula
from solver.quantities import columns as figures
from solver.quantities.units import Kind, Quantity
from solver.quantities.wording import Quoted, QuotingError

Pairs = tuple[tuple[Quantity, Quantity], ...]
Points = tuple[tuple[float, float], ...]

ZERO = 273.15
"""0 °C [K]."""

CENTISTOKE = 1e-6
"""1 mm²/s [m²/s]."""

THINNEST, THICKEST = 0.21, 2e7
"""Viscosities that ASTM D341 holds for [mm²/s]."""

OIL_COLDEST, OIL_HOTTEST = ZERO - 50.0, ZERO + 150.0
"""Temperatures that API MPMS 11.1 holds for [K]."""

_DENSITY, _VAPOR = formulas.between(formulas.rho), formulas.between(formulas.p_v)


class FluidError(QuotingError):
    """A fluid, or a temperature, that the data do not hold."""

    part = "fluid"


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


@dataclass(frozen=True, slots=True)
class CatalogueFluid:
    """A family of fluids by its typical figures. Points are ((temperature [K], value), ...)."""

    name: str
    coldest: float  # the figures hold from here [K]
    hottest: float  # to here [K]
    density_15: float | None  # [kg/m³] at 15 °C, corrected as an oil; or
    density: Points  # [kg/m³]
    viscosity_40: float | None  # [mm²/s] with the index; or
    viscosity_index: float | None
    viscosity: Points  # [mm²/s]
    water_fraction: float  # vapour pressure over water's
    dissolved_air: float  # Bunsen coefficient
    sources: Mapping[str, str]


class Choice(Protocol):
    """A catalogue name, and the figures typed in its place, as the drawing gives them."""

    @property
    def name(self) -> str: ...
    @property
    def temperature(self) -> Quantity: ...
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


@dataclass(frozen=True, slots=True)
class Curve:
    """A property over temperature [K], and the temperatures it holds for."""

    at: Callable[[float], float]
    source: str
    coldest: float = 0.0
    hottest: float = math.inf


@cache
def catalogue() -> Mapping[str, CatalogueFluid]:
    """Every fluid of the catalogue by its name."""
    text = resources.files("solver.properties").joinpath("catalogue.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    families = data["families"]
    return MappingProxyType(
        {
            name: _catalogue_fluid(name, row, families.get(row.get("family"), {}))
            for name, row in data["fluids"].items()
        }
    )


def _catalogue_fluid(name: str, row: Mapping[str, Any], family: Mapping[str, Any]) -> CatalogueFluid:
    coldest, hottest = row["range"]
    return CatalogueFluid(
        name,
        coldest + ZERO,
        hottest + ZERO,
        row.get("density_15"),
        tuple((t + ZERO, value) for t, value in row.get("density", ())),
        row.get("viscosity_40"),
        row.get("viscosity_index"),
        tuple((t + ZERO, value) for t, value in row.get("viscosity", ())),
        row["water_fraction"],
        row["dissolved_air"],
        MappingProxyType({**family.get("sources", {}), **row.get("sources", {})}),
    )


def state(choice: Choice, temperature: float | None = None) -> FluidState:
    """The fluid of a drawing at one temperature.

    choice: its name and the figures typed in the catalogue's place; a name the catalogue does not have needs
    its density and viscosity typed. temperature: [K]; None: the choice's own.
    Raises FluidError for an unknown fluid, figures that do not go together, or a temperature outside them.
    Sources: of each figure, in the state itself.
    """
    T = choice.temperature.si if temperature is None else temperature
    if not T > 0:
        raise FluidError("{tried} is not above absolute zero", tried=_temperature(T))
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
    return FluidState(choice.name, T, sources=sources, **values)


def _value(fluid: str, name: str, curve: Curve, T: float) -> float:
    if curve.coldest <= T <= curve.hottest:
        return curve.at(T)
    raise FluidError(
        "{fluid}: {property} at {tried}; its figures hold from {coldest} to {hottest}",
        end="{fluid}: figures for its {property} hold from {coldest} to {hottest}",
        fluid=fluid,
        property=name.replace("_", " ").replace("vapor", "vapour"),
        tried=_temperature(T),
        coldest=_temperature(curve.coldest),
        hottest=_temperature(curve.hottest),
    )


def _temperature(T: float) -> Quoted:
    return figures.first(T), Kind.TEMPERATURE


@figures.remembered(256)
def _curves(
    name: str,
    density: Quantity | Pairs | None,
    viscosity: Quantity | Pairs | None,
    viscosity_index: float | None,
    vapor_pressure: Quantity | Pairs | None,
    dissolved_air: float | None,
) -> Mapping[str, Curve]:
    family = catalogue().get(name) or uncatalogued(name)
    return {
        "density": _density(family, density),
        "viscosity": _viscosity(family, viscosity, viscosity_index),
        "vapor_pressure": _vapor_pressure(family, vapor_pressure),
        "dissolved_air": _dissolved_air(family, dissolved_air),
    }


def uncatalogued(name: str) -> CatalogueFluid:
    nothing = dict.fromkeys(("vapor_pressure", "dissolved_air"), "none given: counted as 0")
    return CatalogueFluid(name, 0.0, math.inf, None, (), None, None, (), 0.0, 0.0, nothing)


def _untyped(family: CatalogueFluid) -> FluidError:
    take = f"type its density and viscosity, or take {'; '.join(catalogue())}"
    return FluidError(f"{family.name!r} is not in the catalogue: {take}")


def _density(family: CatalogueFluid, typed: Quantity | Pairs | None) -> Curve:
    figures = typed if isinstance(typed, tuple) else () if typed is None else ((typed, typed),)
    if any(value.si <= 0 for _, value in figures):
        raise FluidError("density: above 0 is allowed")
    if isinstance(typed, tuple):
        return _interpolated(_points(typed), _DENSITY.linear, "as typed")
    if family.density:
        whole = _interpolated(family.density, _DENSITY.linear, family.sources["density"])
        if typed is None:
            return whole
        scale = typed.si / whole.at(ZERO + 15.0)
        source = "as typed at 15 °C; over temperature as its family"
        return Curve(lambda T: scale * whole.at(T), source, whole.coldest, whole.hottest)
    if typed is not None:
        source = f"as typed at 15 °C; over temperature {formulas.MPMS}"
        return Curve(_oil_density(typed.si), source, OIL_COLDEST, OIL_HOTTEST)
    if family.density_15 is None:
        raise _untyped(family)
    source = f"{family.density_15:g} kg/m³ at 15 °C, {family.sources['density']}; {formulas.MPMS}"
    return Curve(_oil_density(family.density_15), source, family.coldest, family.hottest)


def _oil_density(at_15: float) -> Callable[[float], float]:
    expansion = formulas.oil_expansion.scalar(at_15)
    return lambda T: formulas.oil_density.scalar(at_15, expansion, T - ZERO - 15.0)


def _viscosity(family: CatalogueFluid, typed: Quantity | Pairs | None, index: float | None) -> Curve:
    if isinstance(typed, Quantity) or (typed is not None and len(typed) > 1):
        if index is not None:
            raise FluidError("a viscosity index goes with one viscosity at one temperature")
        return _typed_viscosity(typed)
    if typed is None and (index is None or family.viscosity):
        return _family_viscosity(family, index)
    known = family.viscosity_index if index is None else index
    if known is None:
        raise FluidError("one viscosity at one temperature needs a viscosity index, or a second one")
    if typed is not None:
        at, value = typed[0]
        line = index_line(at.si, value.si / CENTISTOKE, known)
        return Curve(line, f"as typed, index {known:g}; {formulas.D2270}, {formulas.D341}")
    return _graded(family, known)


def _family_viscosity(family: CatalogueFluid, index: float | None) -> Curve:
    if index is not None:
        raise FluidError(f"{family.name} has no viscosity index: type its viscosity over temperature")
    if family.viscosity:
        table = _interpolated(
            family.viscosity, formulas.between(formulas.nu).logarithmic, family.sources["viscosity"]
        )
        return Curve(lambda T: table.at(T) * CENTISTOKE, table.source, table.coldest, table.hottest)
    if family.viscosity_index is None:
        raise _untyped(family)
    return _graded(family, family.viscosity_index)


def _graded(family: CatalogueFluid, index: float) -> Curve:
    """The family's viscosity at 40 °C with an index."""
    if family.viscosity_40 is None:
        raise _untyped(family)
    line = index_line(ZERO + 40.0, family.viscosity_40, index)
    source = (
        f"{family.viscosity_40:g} mm²/s at 40 °C, index {index:g}, {family.sources['viscosity']}; "
        f"{formulas.D2270}, {formulas.D341}"
    )
    return Curve(line, source, family.coldest, family.hottest)


def _typed_viscosity(typed: Quantity | Pairs) -> Curve:
    if isinstance(typed, Quantity):
        if typed.si <= 0:
            raise FluidError(f"viscosity {typed.text!r}: above 0 is allowed")
        return Curve(lambda T: typed.si, "as typed, the same at every temperature")
    points = tuple((T, value / CENTISTOKE) for T, value in _points(typed))
    return Curve(walther_line(points), f"as typed; {formulas.D341} through its points")


def _vapor_pressure(family: CatalogueFluid, typed: Quantity | Pairs | None) -> Curve:
    if isinstance(typed, Quantity):
        if typed.si < 0:
            raise FluidError(f"vapour pressure {typed.text!r}: an absolute pressure, not below 0")
        return Curve(lambda T: typed.si, "as typed, the same at every temperature")
    if typed is not None:
        points = _points(typed)
        rising = all(value > 0 for _, value in points)
        return _interpolated(points, _VAPOR.logarithmic if rising else _VAPOR.linear, "as typed")
    fraction, source = family.water_fraction, family.sources["vapor_pressure"]
    if fraction == 0:
        return Curve(lambda T: 0.0, source, family.coldest, family.hottest)
    return Curve(
        lambda T: fraction * formulas.water_vapor_pressure(T),
        f"{source}; {formulas.IF97}",
        family.coldest,
        family.hottest,
    )


def _dissolved_air(family: CatalogueFluid, typed: float | None) -> Curve:
    if typed is not None:
        return Curve(lambda T: typed, "as typed")
    return Curve(lambda T: family.dissolved_air, family.sources["dissolved_air"])


def _points(typed: Pairs) -> Points:
    """Typed pairs in SI, in order of temperature.

    Raises FluidError for a temperature given twice or not above absolute zero, or a figure below 0.
    """
    points = tuple(sorted((at.si, value.si) for at, value in typed))
    if any(at <= 0 or value < 0 for at, value in points):
        raise FluidError("temperatures above absolute zero and figures not below 0 are allowed")
    for (low, _), (high, _) in pairwise(points):
        if low == high:
            raise FluidError("two figures at {twice}", twice=_temperature(low))
    return points


def _interpolated(points: Points, between: Formula, source: str) -> Curve:
    """One point holds at every temperature; several are interpolated and hold between their ends."""
    if len(points) == 1:
        return Curve(lambda T: points[0][1], source)

    nodes, values = zip(*points, strict=True)

    def at(T: float) -> float:
        i = figures.reached(nodes[1:-1], T)
        ends = (figures.pick(column, j) for column in (values, nodes) for j in (i, i + 1))
        return between.scalar(*ends, T)

    return Curve(at, source, points[0][0], points[-1][0])


def walther_line(points: Points) -> Callable[[float], float]:
    """Viscosity [m²/s] over temperature [K] through two or more points of ((T [K], ν [mm²/s]), ...).

    Straight in log log Z over log T between neighbours, and on beyond the ends.
    Raises FluidError for a viscosity that does not fall with temperature, or lies outside the standard; so
    does the function, where its line leaves the standard's range.
    Source: ASTM D341, with its terms below 2 mm²/s.
    """
    if any(not THINNEST <= value <= THICKEST for _, value in points):
        raise FluidError(f"ASTM D341 holds from {THINNEST:g} to {THICKEST:g} mm²/s")
    nodes = [(T, _height(value)) for T, value in points]
    if any(after[1] >= before[1] for before, after in pairwise(nodes)):
        raise FluidError("viscosity must fall as temperature rises")
    slopes = [formulas.line_slope.scalar(W_1, W_2, T_1, T_2) for (T_1, W_1), (T_2, W_2) in pairwise(nodes)]
    heights = [formulas.line_height.scalar(W, B, T) for (T, W), B in zip(nodes, slopes, strict=False)]
    ends = [T for T, _ in nodes[1:-1]]

    def at(T: float) -> float:
        i = figures.reached(ends, T)
        A, B = figures.pick(heights, i), figures.pick(slopes, i)
        value = formulas.viscosity_of(formulas.walther_line.scalar(A, B, T))
        if not THINNEST <= value <= THICKEST:
            raise FluidError(
                f"viscosity at {{tried}} is outside ASTM D341's range: {value:.3g} mm²/s",
                end="viscosity leaves ASTM D341's range",
                tried=_temperature(T),
            )
        return value * CENTISTOKE

    return at


def _height(viscosity: float) -> float:
    return formulas.viscosity_point(1).height.scalar(formulas.walther_number.scalar(viscosity))


@lru_cache(maxsize=256)
def index_line(T: float, viscosity: float, index: float) -> Callable[[float], float]:
    """Viscosity [m²/s] over temperature [K] of the oil of that viscosity index through one point.

    T: [K]; viscosity: there [mm²/s].
    Raises FluidError where no oil of that index has it.
    Source: ASTM D2270 for the second point, found by bisection; ASTM D341 between.
    """

    def line(at_100: float) -> Callable[[float], float]:
        return walther_line(((ZERO + 40.0, formulas.at_40(at_100, index)), (ZERO + 100.0, at_100)))

    low, high = 2.0, 500.0
    try:
        if not line(low)(T) <= viscosity * CENTISTOKE <= line(high)(T):
            raise FluidError("")
        while high / low > 1.0 + 1e-13:
            middle = math.sqrt(low * high)
            low, high = (middle, high) if line(middle)(T) < viscosity * CENTISTOKE else (low, middle)
    except FluidError:
        raise FluidError(
            f"no viscosity index {index:g} is defined for {viscosity:g} mm²/s at {{given}}: "
            "ASTM D2270 needs 2 mm²/s or more at 100 °C",
            given=_temperature(T),
        ) from None
    return line(high)
