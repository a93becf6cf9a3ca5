"""The formulas of fluid properties, each once: the solver calls them, the working prints them.

The viscosity standards count kinematic viscosity in mm²/s; so do their formulas here.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

from solver.formulas.formula import Bound, Constant, Formula, Implicit, Symbol, exp, log, log10, sqrt
from solver.formulas.record import UNRECORDED, Calculator
from solver.quantities import columns
from solver.quantities.units import Kind

nu = Symbol("ν", None, "kinematic viscosity", "mm²/s")
T = Symbol("T", Kind.TEMPERATURE, "temperature")
Z = Symbol("Z", Kind.NUMBER, "Walther's number")
A = Symbol("A_ν", Kind.NUMBER, "height of the viscosity line")
B = Symbol("B_ν", Kind.NUMBER, "slope of the viscosity line")

D341 = "ASTM D341 (2020), after Walther"

walther_number = Formula(
    "Walther's number",
    Z,
    (nu,),
    nu + 0.7 + exp(-1.47 - 1.84 * nu - 0.51 * nu**2),
    D341,
    "0.21 mm²/s upwards; the exponential counts only below 2 mm²/s",
    fixed_units=True,
)

walther_line = Formula(
    "viscosity line",
    Z,
    (A, B, T),
    10 ** (10 ** (A - B * log10(T))),
    D341,
    "a fluid with one slope: not near its pour point, not a polymer-thickened oil far outside its points",
    fixed_units=True,
)

walther_viscosity = Formula(
    "viscosity from Walther's number",
    nu,
    (Z,),
    (Z - 0.7) - exp(-0.7487 - 3.295 * (Z - 0.7) + 0.6119 * (Z - 0.7) ** 2 - 0.3193 * (Z - 0.7) ** 3),
    D341 + ": the standard's own inverse, a fit good to 0.01 mm²/s",
)


def viscosity_of(number: float) -> float:
    """Kinematic viscosity [mm²/s] of a Walther number: the exact inverse of `walther_number`.

    The standard's inverse, then Newton to the last digit, so that a line passes through its own points.
    """
    viscosity: float = walther_viscosity.scalar(number) if number < 4.0 else number - 0.7
    for _ in range(20):
        bend = columns.exp(-1.47 - 1.84 * viscosity - 0.51 * viscosity * viscosity)
        step = (viscosity + 0.7 + bend - number) / (1.0 - (1.84 + 1.02 * viscosity) * bend)
        viscosity -= step
        if columns.every(abs(step) <= 1e-15 * abs(viscosity)):
            break
    return viscosity


viscosity_from = Implicit(
    "viscosity",
    nu,
    (Z,),
    walther_number.expression,
    Z,
    viscosity_of,
    D341,
    "0.21 to 20 million mm²/s",
    (Bound(nu, 0.21, 2e7),),
    fixed_units=True,
)


class ViscosityPointFormulas(NamedTuple):
    """One of the two points of a viscosity line: its symbols, and its height on the standard's paper."""

    T: Symbol
    nu: Symbol
    number: Formula
    height: Formula


@cache
def viscosity_point_formulas(i: int) -> ViscosityPointFormulas:
    """The first or second point of a viscosity line."""
    T_i = Symbol(f"T_{i}", Kind.TEMPERATURE, f"temperature of point {i}")
    nu_i = Symbol(f"ν_{i}", None, f"kinematic viscosity at point {i}", "mm²/s")
    Z_i = Symbol(f"Z_{i}", Kind.NUMBER, f"Walther's number at point {i}")
    W_i = Symbol(f"W_{i}", Kind.NUMBER, f"height of point {i}")
    number = nu_i + 0.7 + exp(-1.47 - 1.84 * nu_i - 0.51 * nu_i**2)
    return ViscosityPointFormulas(
        T_i,
        nu_i,
        Formula(f"Walther's number, point {i}", Z_i, (nu_i,), number, D341, fixed_units=True),
        Formula(f"height of point {i}", W_i, (Z_i,), log10(log10(Z_i)), D341),
    )


_first, _second = viscosity_point_formulas(1), viscosity_point_formulas(2)
_W_1, _W_2 = _first.height.result, _second.height.result
line_slope = Formula(
    "slope of the viscosity line",
    B,
    (_W_1, _W_2, _first.T, _second.T),
    (_W_1 - _W_2) / (log10(_second.T) - log10(_first.T)),
    D341,
    fixed_units=True,
)
line_height = Formula(
    "height of the viscosity line", A, (_W_1, B, _first.T), _W_1 + B * log10(_first.T), D341, fixed_units=True
)

U = Symbol("U", None, "kinematic viscosity at 40 °C", "mm²/s")
Y = Symbol("Y", None, "kinematic viscosity at 100 °C", "mm²/s")
L = Symbol("U_0", None, "viscosity at 40 °C of an oil of index 0 and the same Y, L in the standard", "mm²/s")
H = Symbol("U_100", None, "viscosity at 40 °C of an oil of index 100 and the same Y, H there", "mm²/s")
N = Symbol("N_VI", Kind.NUMBER, "exponent")
VI = Symbol("VI", Kind.NUMBER, "viscosity index")

D2270 = "ASTM D2270"

viscosity_index_low = Formula(
    "viscosity index", VI, (L, U, H), (L - U) / (L - H) * 100, D2270, "an index up to 100"
)
viscosity_index_exponent = Formula(
    "exponent of the index", N, (H, U, Y), (log10(H) - log10(U)) / log10(Y), D2270, fixed_units=True
)
viscosity_index_high = Formula(
    "viscosity index", VI, (N,), (10**N - 1) / 0.00715 + 100, D2270, "an index from 100 upwards"
)

# Y from, then a, b, c of L = a Y² + b Y + c and of H. ASTM D2270's own equations for its table, within 0.12 %
# of it (from memory; checked against the table over its whole range).
_REFERENCE_OILS = (
    (2.0, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077),
    (3.8, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183),
    (4.4, 2.5, -7.2143, 13.812, 0.82143, 1.5679, 0.119),
    (5.0, 0.101, 16.635, -45.469, 0.04985, 9.1613, -18.557),
    (6.4, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656),
    (7.0, 0.01191, 21.475, -72.870, 0.79762, -0.7321, 14.61),
    (7.7, 0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240),
    (9.0, 0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810),
    (12.0, 0.76720, 10.7972, -38.180, 0.20073, 8.4658, -22.490),
    (15.0, 0.97305, 5.3135, -2.200, 0.28889, 5.9741, -4.930),
    (18.0, 0.97256, 5.2500, -0.980, 0.24504, 7.4160, -16.730),
    (22.0, 0.91413, 7.4759, -21.820, 0.20323, 9.1267, -34.230),
    (28.0, 0.87031, 9.7157, -50.770, 0.18411, 10.1015, -46.750),
    (40.0, 0.84703, 12.6752, -133.310, 0.17029, 11.4866, -80.620),
    (55.0, 0.85921, 11.1009, -83.19, 0.17130, 11.3680, -76.940),
    (70.0, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947),
)


_a_1, _a_2, _a_3 = (
    Symbol(f"a_{i}", Kind.NUMBER, f"coefficient {i} of the standard's reference oil") for i in (1, 2, 3)
)
_reference = _a_1 * Y**2 + _a_2 * Y + _a_3
reference_low = Formula("oil of index 0", L, (_a_1, _a_2, _a_3, Y), _reference, D2270, fixed_units=True)
reference_high = Formula("oil of index 100", H, (_a_1, _a_2, _a_3, Y), _reference, D2270, fixed_units=True)


def reference_row(at_100: float) -> tuple[float, ...]:
    """Coefficients of the two reference oils of ASTM D2270, three each, for a viscosity at 100 °C [mm²/s]."""
    return next(row for row in reversed(_REFERENCE_OILS) if at_100 >= row[0])[1:]


def reference_oils(at_100: float, calc: Calculator = UNRECORDED) -> tuple[float, float]:
    """Viscosity at 40 °C [mm²/s] of the two reference oils of ASTM D2270: index 0, and index 100.

    at_100: viscosity at 100 °C [mm²/s], 2 or more.
    """
    row = reference_row(at_100)
    return calc.work(reference_low, *row[:3], at_100), calc.work(reference_high, *row[3:], at_100)


def viscosity_index(at_40: float, at_100: float, calc: Calculator = UNRECORDED) -> float:
    """Viscosity index, not rounded, from the viscosities at 40 °C and 100 °C [mm²/s].

    Source: ASTM D2270, procedure A up to 100 and B above. Range: 2 mm²/s at 100 °C or more.
    """
    low, high = reference_oils(at_100, calc)
    if at_40 >= high:
        return calc.work(viscosity_index_low, low, at_40, high)
    return calc.work(viscosity_index_high, calc.work(viscosity_index_exponent, high, at_40, at_100))


def at_40(at_100: float, index: float) -> float:
    """Viscosity at 40 °C [mm²/s] of the oil of that index and viscosity at 100 °C [mm²/s].

    Source: ASTM D2270, its two procedures turned round. Range: 2 mm²/s at 100 °C or more.
    """
    low, high = reference_oils(at_100)
    if index <= 100:
        return low - index / 100 * (low - high)
    exponent = math.log10((index - 100) * 0.00715 + 1)
    return high / math.pow(at_100, exponent)


rho = Symbol("ρ", Kind.DENSITY, "density")
rho_15 = Symbol("ρ_15", Kind.DENSITY, "density at 15 °C")
a_15 = Symbol("α_15", None, "thermal expansion at 15 °C", "1/K")
warmth = Symbol("ΔT", None, "temperature above 15 °C", "K")

MPMS = "API MPMS 11.1, lubricating oils (constant unverified)"

_OILS = "oils of 800 to 1164 kg/m³ at 15 °C"
_OIL = (Bound(rho_15, 800.0, 1164.0),)

oil_warmth = Formula("temperature above 15 °C", warmth, (T,), T - 288.15, "definition", fixed_units=True)
oil_expansion = Formula(
    "thermal expansion of oil", a_15, (rho_15,), 0.6278 / rho_15, MPMS, _OILS, _OIL, fixed_units=True
)
oil_density = Formula(
    "density of oil",
    rho,
    (rho_15, a_15, warmth),
    rho_15 * exp(-(a_15 * warmth * (1 + 0.8 * a_15 * warmth))),
    MPMS,
    _OILS,
    _OIL,
)

theta = Symbol("T_θ", None, "transformed temperature, ϑ in the formulation", "K")
s_a = Symbol("A_s", Kind.NUMBER, "first polynomial of the saturation line")
s_b = Symbol("B_s", Kind.NUMBER, "second polynomial of the saturation line")
s_c = Symbol("C_s", Kind.NUMBER, "third polynomial of the saturation line")
p_v = Symbol("p_v", Kind.PRESSURE, "vapour pressure")

IF97 = "IAPWS Industrial Formulation 1997, equation 30, saturation line"
_STEAM = (1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333,
          14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798)  # fmt: skip
_n1, _n2, _n3, _n4, _n5, _n6, _n7, _n8, _n9, _n10 = (
    Constant(f"n_{i}", None, "constant of the formulation", value=value) for i, value in enumerate(_STEAM, 1)
)

steam_theta = Formula("transformed temperature", theta, (T,), T + _n9 / (T - _n10), IF97, fixed_units=True)
steam_a = Formula("first polynomial", s_a, (theta,), theta**2 + _n1 * theta + _n2, IF97, fixed_units=True)
steam_b = Formula(
    "second polynomial", s_b, (theta,), _n3 * theta**2 + _n4 * theta + _n5, IF97, fixed_units=True
)
steam_c = Formula(
    "third polynomial", s_c, (theta,), _n6 * theta**2 + _n7 * theta + _n8, IF97, fixed_units=True
)
steam_pressure = Formula(
    "vapour pressure of water",
    p_v,
    (s_a, s_b, s_c),
    1e6 * (2 * s_c / (sqrt(s_b**2 - 4 * s_a * s_c) - s_b)) ** 4,
    IF97,
    "0 to 374 °C; continued below 0 °C for undercooled solutions",
    fixed_units=True,
)


def water_vapor_pressure(temperature: float, calc: Calculator = UNRECORDED) -> float:
    """Saturation pressure of water [Pa].

    temperature: [K], 273.15 to 647.096; the equation runs on smoothly below for undercooled solutions.
    Source: IAPWS Industrial Formulation 1997, equation 30.
    """
    t = calc.work(steam_theta, temperature)
    return calc.work(steam_pressure, *(calc.work(each, t) for each in (steam_a, steam_b, steam_c)))


# A share of water's vapour pressure

water_share = Symbol("x_w", Kind.NUMBER, "vapour pressure as a share of water's")
p_water = Symbol("p_vw", Kind.PRESSURE, "vapour pressure of water", printed="p_v,water")
shared_vapor_pressure = Formula(
    "vapour pressure",
    p_v,
    (water_share, p_water),
    water_share * p_water,
    "share of water's, typical of the family, unverified",
)

# Temperatures as typed

celsius = Symbol("t_C", None, "temperature", "°C")
fahrenheit = Symbol("t_F", None, "temperature", "°F")
from_celsius = Formula(
    "absolute temperature", T, (celsius,), celsius + 273.15, "definition", fixed_units=True
)
from_fahrenheit = Formula(
    "absolute temperature", T, (fahrenheit,), (fahrenheit + 459.67) / 1.8, "definition", fixed_units=True
)

# Figures over temperature


class Between(NamedTuple):
    """Formulas between two figures over temperature: linear, and as viscosities nearly are."""

    linear: Formula
    logarithmic: Formula


@cache
def between(result: Symbol) -> Between:
    """The formulas for one property; result: its symbol."""
    low = result.marked("a", f"{result.meaning} at the figure below")
    high = result.marked("b", f"{result.meaning} at the figure above")
    T_1, T_2 = _first.T, _second.T
    part = (1 / T - 1 / T_1) / (1 / T_2 - 1 / T_1)
    given = (low, high, T_1, T_2, T)
    return Between(
        Formula(
            result.meaning,
            result,
            given,
            low + (high - low) * (T - T_1) / (T_2 - T_1),
            "linear between the figures",
        ),
        Formula(
            result.meaning,
            result,
            given,
            low * exp(part * log(high / low)),
            "its logarithm linear in 1/T between the figures",
        ),
    )


rho_family = Symbol("ρ_f", Kind.DENSITY, "density of the family at this temperature")
rho_family_15 = Symbol("ρ_f15", Kind.DENSITY, "density of the family at 15 °C", printed="ρ_f,15")
rho_typed = Symbol("ρ_typed", Kind.DENSITY, "density as typed, at 15 °C")
scaled_density = Formula(
    "density",
    rho,
    (rho_typed, rho_family, rho_family_15),
    rho_typed * rho_family / rho_family_15,
    "as typed at 15 °C; over temperature as its family",
)
