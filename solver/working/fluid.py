"""How the properties of the fluid come about, step by step.

Where no derivation here arrives at the figure the calculation uses, the figure stands as given, with its
source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

from solver.formulas import fluid as fluid_formulas
from solver.formulas import symbols
from solver.formulas.formula import Symbol
from solver.formulas.steps import Maker, Step
from solver.layout.parts import FluidChoice, Pairs
from solver.properties import fluid
from solver.properties.fluid import CENTISTOKE, ZERO, CatalogueFluid, FluidState
from solver.quantities.units import Quantity, System

SAME = 1e-9
"""Figures this near, as a share of themselves, are one."""

AT_40, AT_100 = ZERO + 40.0, ZERO + 100.0


def fluid_steps(choice: FluidChoice, state: FluidState, make: Maker) -> list[Step]:
    """Temperature, density, viscosity, vapour pressure and dissolved air."""
    family = fluid.catalogue().get(choice.name) or fluid.uncatalogued(choice.name)
    return [
        *_temperature(state, make),
        *_derived(symbols.rho, state.density, "density", _density, choice, family, state, make),
        *_viscosity_steps(choice, family, state, make),
        *_derived(
            symbols.p_v, state.vapor_pressure, "vapor_pressure", _vapor_pressure, choice, family, state, make
        ),
        make.given(symbols.bunsen, state.dissolved_air, state.sources.get("dissolved_air", "")),
    ]


Derivation = Callable[[FluidChoice, CatalogueFluid, float, Maker], Iterator[Step]]


def _derived(
    symbol: Symbol,
    value: float,
    name: str,
    derive: Derivation,
    choice: FluidChoice,
    family: CatalogueFluid,
    state: FluidState,
    make: Maker,
) -> list[Step]:
    steps = list(derive(choice, family, state.temperature, make))
    if steps and math.isclose(steps[-1].value, value, rel_tol=SAME):
        return steps
    return [make.given(symbol, value, state.sources.get(name, ""))]


def _temperature(state: FluidState, make: Maker) -> Iterator[Step]:
    celsius = state.temperature - ZERO
    if make.system is System.US:
        yield make.given(fluid_formulas.fahrenheit, celsius * 1.8 + 32.0, "as drawn")
        yield make.work(fluid_formulas.from_fahrenheit, celsius * 1.8 + 32.0)
    else:
        yield make.given(fluid_formulas.celsius, celsius, "as drawn")
        yield make.work(fluid_formulas.from_celsius, celsius)


def _density(choice: FluidChoice, family: CatalogueFluid, T: float, make: Maker) -> Iterator[Step]:
    typed = choice.density
    if isinstance(typed, tuple):
        yield from _between(typed, T, symbols.rho, make)
    elif family.density:
        table = tuple((Quantity("", at), Quantity("", value)) for at, value in family.density)
        if typed is None:
            yield from _between(table, T, symbols.rho, make, family.sources["density"])
        else:
            yield from _scaled_density(table, typed.si, T, make)
    elif typed is not None:
        yield from _oil(typed.si, "as typed", T, make)
    elif family.density_15 is not None:
        yield from _oil(family.density_15, family.sources["density"], T, make)


def _oil(at_15: float, source: str, T: float, make: Maker) -> Iterator[Step]:
    yield make.given(fluid_formulas.rho_15, at_15, source)
    warmth = make.work(fluid_formulas.oil_warmth, T)
    expansion = make.work(fluid_formulas.oil_expansion, at_15)
    yield from (warmth, expansion)
    yield make.work(fluid_formulas.oil_density, at_15, expansion.value, warmth.value)


def _scaled_density(table: Pairs, typed: float, T: float, make: Maker) -> Iterator[Step]:
    here = list(_between(table, T, fluid_formulas.rho_family, make))
    there = list(_between(table, ZERO + 15.0, fluid_formulas.rho_family_15, make))
    if here and there:
        yield from (*here, *there)
        yield make.given(fluid_formulas.rho_typed, typed, "as typed, at 15 °C")
        yield make.work(fluid_formulas.scaled_density, typed, here[-1].value, there[-1].value)


def _between(
    pairs: Pairs, T: float, symbol: Symbol, make: Maker, source: str = "as typed", logarithmic: bool = False
) -> Iterator[Step]:
    """A figure between two of a table over temperature."""
    points = sorted((at.si, value.si) for at, value in pairs)
    if len(points) == 1:
        yield make.given(symbol, points[0][1], source)
        return
    for (T_1, low), (T_2, high) in pairwise(points):
        if T in (T_1, T_2):
            yield make.given(symbol, low if T == T_1 else high, source)
            return
        if T < T_2:
            formulas = fluid_formulas.between(symbol)
            formula = formulas.logarithmic if logarithmic else formulas.linear
            yield make.given(formula.symbols[0], low, source)
            yield make.given(formula.symbols[1], high, source)
            yield make.work(formula, low, high, T_1, T_2, T)
            return


# Viscosity


def _viscosity_steps(
    choice: FluidChoice, family: CatalogueFluid, state: FluidState, make: Maker
) -> list[Step]:
    steps = list(_viscosity(choice, family, state.temperature, make))
    in_table_units = bool(steps) and steps[-1].result_symbol.kind is None
    scale = CENTISTOKE if in_table_units else 1.0
    if steps and math.isclose(steps[-1].value * scale, state.viscosity, rel_tol=SAME):
        return steps
    return [make.given(symbols.nu, state.viscosity, state.sources.get("viscosity", ""))]


def _viscosity(choice: FluidChoice, family: CatalogueFluid, T: float, make: Maker) -> Iterator[Step]:
    typed = choice.viscosity
    if isinstance(typed, Quantity):
        yield make.given(symbols.nu, typed.si, "as typed, the same at every temperature")
    elif typed is not None and len(typed) > 1:
        yield from _line(sorted((at.si, value.si / CENTISTOKE) for at, value in typed), T, make)
    elif typed is None and family.viscosity:
        table = tuple((Quantity("", at), Quantity("", value)) for at, value in family.viscosity)
        yield from _between(table, T, fluid_formulas.nu, make, family.sources["viscosity"], logarithmic=True)
    else:
        index = family.viscosity_index if choice.viscosity_index is None else choice.viscosity_index
        at = (
            [(AT_40, family.viscosity_40)]
            if typed is None
            else [(typed[0][0].si, typed[0][1].si / CENTISTOKE)]
        )
        if index is not None and at[0][1] is not None:
            source = family.sources.get("viscosity", "") if typed is None else "as typed"
            yield from _indexed(at[0][0], at[0][1], index, source, T, make)


def _indexed(
    given_at: float, viscosity: float, index: float, source: str, T: float, make: Maker
) -> Iterator[Step]:
    """One viscosity and an index: the index fixes a second point, at 100 °C."""
    line = fluid.index_line(given_at, viscosity, index)
    at_40, at_100 = line(AT_40) / CENTISTOKE, line(AT_100) / CENTISTOKE
    known = given_at == AT_40
    yield make.given(fluid_formulas.VI, index, source)
    found = "found so that the index and the given viscosity come out below"
    yield make.given(fluid_formulas.U, at_40, source if known else found)
    yield make.given(fluid_formulas.Y, at_100, "found so that the index comes out below" if known else found)
    row = fluid_formulas.reference_row(at_100)
    low = make.work(fluid_formulas.reference_low, *row[:3], at_100)
    high = make.work(fluid_formulas.reference_high, *row[3:], at_100)
    yield from (low, high)
    if at_40 >= high.value:
        yield make.work(fluid_formulas.viscosity_index_low, low.value, at_40, high.value)
    else:
        exponent = make.work(fluid_formulas.viscosity_index_exponent, high.value, at_40, at_100)
        yield exponent
        yield make.work(fluid_formulas.viscosity_index_high, exponent.value)
    yield from _line([(AT_40, at_40), (AT_100, at_100)], T, make)


def _line(points: list[tuple[float, float]], T: float, make: Maker) -> Iterator[Step]:
    """The straight line of the standard through the two points nearest."""
    pairs = list(pairwise(points))
    ends = next((pair for pair in pairs if pair[1][0] >= T), pairs[-1])
    heights = []
    for i, (at, viscosity) in enumerate(ends, 1):
        point = fluid_formulas.viscosity_point(i)
        number = make.work(point.number, viscosity)
        height = make.work(point.height, number.value)
        yield make.given(point.T, at, "")
        yield make.given(point.nu, viscosity, "")
        yield from (number, height)
        heights.append(height.value)
    slope = make.work(fluid_formulas.line_slope, *heights, ends[0][0], ends[1][0])
    top = make.work(fluid_formulas.line_height, heights[0], slope.value, ends[0][0])
    number = make.work(fluid_formulas.walther_line, top.value, slope.value, T)
    yield from (slope, top, number)
    yield make.work(fluid_formulas.viscosity_from, number.value)


# Vapour pressure


def _vapor_pressure(choice: FluidChoice, family: CatalogueFluid, T: float, make: Maker) -> Iterator[Step]:
    typed = choice.vapor_pressure
    if isinstance(typed, Quantity):
        yield make.given(symbols.p_v, typed.si, "as typed, the same at every temperature")
    elif typed is not None:
        rising = all(value.si > 0 for _, value in typed)
        yield from _between(typed, T, symbols.p_v, make, logarithmic=rising)
    elif family.water_fraction:
        yield from _of_water(family, T, make)


def _of_water(family: CatalogueFluid, T: float, make: Maker) -> Iterator[Step]:
    theta = make.work(fluid_formulas.steam_theta, T)
    a, b, c = (
        make.work(formula, theta.value)
        for formula in (fluid_formulas.steam_a, fluid_formulas.steam_b, fluid_formulas.steam_c)
    )
    yield from (theta, a, b, c)
    water = make.work(fluid_formulas.steam_pressure, a.value, b.value, c.value)
    yield water
    if family.water_fraction != 1.0:
        yield make.given(fluid_formulas.water_share, family.water_fraction, family.sources["vapor_pressure"])
        yield make.work(fluid_formulas.shared_vapor_pressure, family.water_fraction, water.value)
