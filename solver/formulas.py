"""Each formula of the calculation, once: the solver calls it, the working prints it.

All values are SI unless a symbol names its unit. Pressures are absolute unless named otherwise.
"""

from __future__ import annotations

import math

import numpy as np

from solver.expressions import (
    Constant,
    Floats,
    Formula,
    Implicit,
    Symbol,
    exp,
    largest,
    least,
    log,
    log10,
    sqrt,
)
from solver.units import Kind

GRAVITY = 9.80665
"""Standard gravity [m/s²]."""

SEA_LEVEL = 101325.0
"""Standard sea-level atmosphere [Pa]."""

LAMINAR_END = 2000.0
"""Reynolds number up to which flow is taken as laminar."""

TURBULENT_START = 4000.0
"""Reynolds number from which flow is taken as fully turbulent."""

g = Constant("g", None, "standard gravity", "m/s²", GRAVITY)
pi = Constant("π", None, "circle's circumference over its diameter", "", math.pi)
p_0 = Constant("p_0", Kind.PRESSURE, "standard sea-level atmosphere", "", SEA_LEVEL)

Q = Symbol("Q", Kind.FLOW, "flow")
D = Symbol("D", Kind.BORE, "bore")
L = Symbol("L", Kind.LENGTH, "developed length")
roughness = Symbol("ε", Kind.BORE, "roughness of the wall")
v = Symbol("v", Kind.VELOCITY, "mean velocity")
rho = Symbol("ρ", Kind.DENSITY, "density")
nu = Symbol("ν", Kind.VISCOSITY, "kinematic viscosity")
mu = Symbol("μ", None, "dynamic viscosity", "Pa·s")
Re = Symbol("Re", Kind.NUMBER, "Reynolds number")
q = Symbol("q", Kind.PRESSURE, "velocity pressure")
f = Symbol("f", Kind.NUMBER, "Darcy friction factor")
f_t = Symbol("f_t", Kind.NUMBER, "Darcy friction factor of turbulent flow")
w = Symbol("w", Kind.NUMBER, "share of turbulence, 0 laminar to 1 turbulent")
k = Symbol("k", Kind.NUMBER, "loss coefficient")
k_inf = Symbol("k_inf", Kind.NUMBER, "loss coefficient at high Reynolds number")
k_re = Symbol("k_re", Kind.NUMBER, "loss coefficient times Reynolds number in slow flow")
dp = Symbol("Δp", Kind.PRESSURE, "loss")
alpha = Symbol("α", Kind.NUMBER, "kinetic factor")

DEFINITION = "definition"

velocity = Formula("velocity", v, (Q, D), 4 * Q / (pi * D**2), DEFINITION)

reynolds = Formula("Reynolds number", Re, (v, D, nu), v * D / nu, DEFINITION)

velocity_pressure = Formula("velocity pressure", q, (rho, v), rho * v**2 / 2, DEFINITION)

dynamic_viscosity = Formula("dynamic viscosity", mu, (nu, rho), nu * rho, DEFINITION)

laminar_friction = Formula(
    "laminar friction factor", f, (Re,), 64 / Re, "Hagen and Poiseuille", "Re up to 2000"
)

x = Symbol("x", Kind.NUMBER, "how far through the transition")
_TRANSITIONAL = "between Re 2000 and 4000 the flow is transitional and the friction uncertain"
_OURS = "smooth blend of the laminar and the turbulent law, ours: no source"

transition = Formula(
    "position in the transition",
    x,
    (Re,),
    least(largest((Re - LAMINAR_END) / (TURBULENT_START - LAMINAR_END), 0), 1),
    _OURS,
    _TRANSITIONAL,
)
turbulence = Formula("share of turbulence", w, (x,), x**2 * (3 - 2 * x), _OURS, _TRANSITIONAL)

friction = Formula(
    "friction factor",
    f,
    (Re, w, f_t),
    exp((1 - w) * log(64 / Re) + w * log(f_t)),
    _OURS,
    _TRANSITIONAL,
)

kinetic_factor = Formula(
    "kinetic factor",
    alpha,
    (w,),
    2 - 0.95 * w,
    "2 for laminar pipe flow, exact; 1.05 for turbulent, from the power-law profile",
)


def colebrook_steps(Re: Floats, relative_roughness: Floats) -> tuple[Floats, Floats]:
    """Turbulent friction factor, and its logarithmic slope d ln f/d ln Re, for arrays.

    Solves Colebrook's equation to 1e-12 of its root by two iterations.
    Source: Clamond, D. (2009), Efficient resolution of the Colebrook equation, Ind. Eng. Chem. Res. 48,
    3665-3671. The slope follows by differentiating the equation itself.
    """
    x1 = relative_roughness * (Re * 0.123968186335417556)  # ε/D · Re · ln 10/18.574
    x2 = np.log(Re) - 0.779397488455682028  # ln(Re · ln 10/5.02)
    F = x2 - 0.2
    s = x1 + F
    E = (np.log(s) - 0.2) / (1.0 + s)
    F = F - (1.0 + s + 0.5 * E) * E * s / (1.0 + s + E * (1.0 + E / 3.0))
    s = x1 + F
    E = (np.log(s) + F - x2) / (1.0 + s)
    F = F - (1.0 + s + 0.5 * E) * E * s / (1.0 + s + E * (1.0 + E / 3.0))
    root = 1.151292546497022842 / F  # √f = ln 10/(2 F)
    return root * root, -2.0 / (x1 + F + 1.0)


def _colebrook(Re: float | Floats, roughness: float | Floats, D: float | Floats) -> float | Floats:
    ratio = np.asarray(roughness, dtype=float) / D
    factor, _ = colebrook_steps(np.asarray(Re, dtype=float), ratio)
    return factor if factor.ndim else float(factor)


colebrook = Implicit(
    "turbulent friction factor",
    f_t,
    (Re, roughness, D),
    1 / sqrt(f_t),
    -2 * log10(roughness / (3.7 * D) + 2.51 / (Re * sqrt(f_t))),
    _colebrook,
    "Colebrook (1939), solved after Clamond (2009)",
    "Re from 4000; ε/D up to 0.05",
)

fitting_coefficient = Formula(
    "loss coefficient",
    k,
    (k_inf, k_re, Re),
    k_inf + k_re / Re,
    "Hooper (1981), Darby (2001): the form of their 2-K and 3-K methods",
)

viscous = Symbol("c_v", None, "viscous coefficient", "1/m³")
inertial = Symbol("c_i", None, "inertial coefficient", "1/m⁴")
fixed = Symbol("Δp_0", Kind.PRESSURE, "loss that does not vary with flow")

element_loss = Formula(
    "loss of an element",
    dp,
    (f, L, D, k, q, viscous, mu, Q, inertial, rho, fixed),
    (f * L / D + k) * q + viscous * mu * Q + inertial * rho * Q**2 + fixed,
    "Darcy and Weisbach for the wall; loss coefficients for what disturbs the flow",
)

K_i = Symbol("K_i", Kind.NUMBER, "Darby's constant of the fitting")
K_d = Symbol("K_d", Kind.NUMBER, "Darby's constant of its size")
D_n = Symbol("D_n", None, "nominal size", "in")
darby = Formula(
    "loss coefficient at high Reynolds number",
    k_inf,
    (K_i, K_d, D_n),
    K_i * (1 + K_d / D_n**0.3),
    "Darby, R. (2001), Chem. Eng. April, 127; constants as of the 3-K method",
)

K_h = Symbol("K_h", Kind.NUMBER, "Hooper's constant of the fitting")
D_in = Symbol("D_in", None, "bore", "in")
hooper = Formula(
    "loss coefficient at high Reynolds number",
    k_inf,
    (K_h, D_in),
    K_h * (1 + 1 / D_in),
    "Hooper, W. B. (1981), Chem. Eng. 24 August, 96",
)

wires = Symbol("n_w", Kind.WIRES, "wires per length")
wire = Symbol("w_d", Kind.BORE, "wire diameter")
opening = Symbol("d", Kind.BORE, "opening between wires")
thickness = Symbol("B", Kind.BORE, "thickness of the cloth")
porosity = Symbol("φ", Kind.SHARE, "share of the cloth's volume that is open")
surface = Symbol("a", None, "wire surface per volume", "1/m")
area = Symbol("A", Kind.AREA, "open area of the element")

ARMOUR_CANNON = "Armour, J. C. and Cannon, J. N. (1968), AIChE Journal 14, 415-420: plain square weave"
_ARMOUR_RANGE = (
    "screen Reynolds number 0.1 to 1000 (linear below), porosity 0.35 to 0.76, opening 5 to 550 μm"
)

screen_opening = Formula("opening of a wire cloth", opening, (wires, wire), 1 / wires - wire, ARMOUR_CANNON)
screen_thickness = Formula("thickness of a wire cloth", thickness, (wire,), 2 * wire, ARMOUR_CANNON)
screen_porosity = Formula(
    "porosity of a wire cloth",
    porosity,
    (wires, wire),
    1 - pi * wires * wire / 4 * sqrt(1 + wires**2 * wire**2),
    ARMOUR_CANNON,
)
screen_surface = Formula(
    "specific surface of a wire cloth",
    surface,
    (wires, wire),
    pi * wires * sqrt(1 + wires**2 * wire**2),
    ARMOUR_CANNON,
)
screen_viscous = Formula(
    "viscous coefficient of a wire cloth",
    viscous,
    (surface, thickness, porosity, area),
    8.61 * surface**2 * thickness / (porosity**2 * area),
    ARMOUR_CANNON,
    _ARMOUR_RANGE,
)
screen_inertial = Formula(
    "inertial coefficient of a wire cloth",
    inertial,
    (thickness, porosity, opening, area),
    0.52 * thickness / (porosity**2 * opening * area**2),
    ARMOUR_CANNON,
    _ARMOUR_RANGE,
)

z = Symbol("z", Kind.ELEVATION, "elevation of the site")
radius = Constant("r", None, "radius of the Earth", "m", 6356766.0)
lapse = Constant("Γ", None, "lapse rate", "K/m", 0.0065)
T_0 = Constant("T_0", None, "sea-level temperature", "K", 288.15)
gas = Constant("R", None, "gas constant of 1976", "J/(kmol·K)", 8314.32)
air = Constant("M", None, "molar mass of air", "kg/kmol", 28.9644)
p_atm = Symbol("p_atm", Kind.PRESSURE, "atmospheric pressure at the site")

station_pressure = Formula(
    "station pressure",
    p_atm,
    (z,),
    p_0 * (1 - lapse * (radius * z / (radius + z)) / T_0) ** (g * air / (gas * lapse)),
    "U.S. Standard Atmosphere 1976, troposphere, geometric altitude",
    "-5 km to 11 km",
)

p_gauge = Symbol("p_gauge", Kind.VACUUM, "gauge pressure above the fluid")
p_weather = Symbol("p_weather", Kind.VACUUM, "allowance for a low-pressure day")
p_surface = Symbol("p_surface", Kind.PRESSURE, "pressure on the fluid's surface")
surface_pressure = Formula(
    "pressure on the fluid", p_surface, (p_atm, p_weather, p_gauge), p_atm - p_weather + p_gauge, DEFINITION
)

V = Symbol("V", Kind.VACUUM, "vacuum the pump's maker allows at sea level")
p_rated = Symbol("p_rated", Kind.PRESSURE, "pressure the pump's maker asks for at the port")
rated_pressure = Formula(
    "pressure the maker asks for",
    p_rated,
    (V,),
    p_0 - V,
    "a maker's vacuum limit is a sea-level figure: common practice, no source",
)

p_v = Symbol("p_v", Kind.PRESSURE, "vapour pressure")
rho_rated = Symbol("ρ_rated", Kind.DENSITY, "density the limit was given for")
n = Symbol("n", Kind.SPEED, "speed")
n_rated = Symbol("n_rated", Kind.SPEED, "speed the limit was given for")
p_floor = Symbol("p_floor", Kind.PRESSURE, "least pressure allowed at the port")
AFFINITY = (
    "affinity laws: what fills the pump is a dynamic pressure. An estimate; the maker's figure replaces it"
)

p_v_rated = Symbol("p_v_rated", Kind.PRESSURE, "vapour pressure of the fluid the limit was given for")
floor = Formula(
    "floor for this fluid and speed",
    p_floor,
    (p_v, p_rated, p_v_rated, rho, rho_rated, n, n_rated),
    p_v + (p_rated - p_v_rated) * largest(1, rho / rho_rated) * largest(1, (n / n_rated) ** 2),
    AFFINITY,
)

H = Symbol("H", Kind.HEAD, "net positive suction head the maker asks for")
npsh_required_symbol = Symbol("NPSH_r", Kind.HEAD, "net positive suction head required")
npsh_required = Formula(
    "NPSH required", npsh_required_symbol, (H, n, n_rated), H * largest(1, (n / n_rated) ** 2), AFFINITY
)

port_velocity_head = Formula(
    "velocity head at the port", dp, (alpha, rho, v), alpha * rho * v**2 / 2, "energy equation"
)
npsh_floor = Formula(
    "floor from NPSH",
    p_floor,
    (p_v, rho, npsh_required_symbol, alpha, v),
    p_v + rho * g * npsh_required_symbol - alpha * rho * v**2 / 2,
    "definition of NPSH, which counts the velocity head; a gauge does not",
)

p_port = Symbol("p_port", Kind.PRESSURE, "static pressure at the port")
npsh_a = Symbol("NPSH_a", Kind.HEAD, "net positive suction head available")
npsh_available = Formula(
    "NPSH available",
    npsh_a,
    (p_port, alpha, rho, v, p_v),
    (p_port + alpha * rho * v**2 / 2 - p_v) / (rho * g),
    "definition, at the centre of the port",
)

budget_symbol = Symbol("budget", Kind.VACUUM, "inlet budget")
budget = Formula("inlet budget", budget_symbol, (p_surface, p_floor), p_surface - p_floor, DEFINITION)
allowed = Symbol("V_allowed", Kind.VACUUM, "vacuum a gauge at the port may show")
allowed_vacuum = Formula("allowed vacuum", allowed, (p_atm, p_floor), p_atm - p_floor, DEFINITION)

lift = Symbol("lift", Kind.VACUUM, "static lift")
dz = Symbol("Δz", Kind.LENGTH, "rise above the fluid's level")
static_lift = Formula("static lift", lift, (rho, dz), rho * g * dz, "hydrostatics")
share_symbol = Symbol("share", Kind.SHARE, "share of the inlet budget")
share = Formula("share", share_symbol, (lift, dp, budget_symbol), (lift + dp) / budget_symbol, DEFINITION)

displacement = Symbol("V_g", Kind.DISPLACEMENT, "displacement")
pump_flow = Formula("pump flow", Q, (displacement, n), displacement * n, "slip returns inside the pump")

bunsen = Symbol("b", Kind.NUMBER, "Bunsen coefficient")
p = Symbol("p", Kind.PRESSURE, "local pressure")
free_share = Symbol("φ_air", Kind.SHARE, "free air, if all the excess comes out")
free_air = Formula(
    "largest share of free air",
    free_share,
    (bunsen, p_surface, p),
    bunsen * largest(p_surface - p, 0) / p,
    "Henry's law; an upper bound, as release takes time",
)

S = Symbol("S", Kind.LENGTH, "submergence")
submergence = Formula(
    "least submergence",
    S,
    (D, v),
    D * (1 + 2.3 * v / sqrt(g * D)),
    "ANSI/HI 9.8, for water; conservative for a small oil line",
)

C = Symbol("C", Kind.NUMBER, "constant of the pump's cylinders")
K = Symbol("K", Kind.NUMBER, "constant of the fluid's compressibility")
strokes = Symbol("N", None, "crank speed", "rpm")
h_a = Symbol("h_a", Kind.HEAD, "acceleration head")
acceleration_head = Formula(
    "acceleration head",
    h_a,
    (L, v, strokes, C, K),
    L * v * strokes * C / (K * g),
    "Hydraulic Institute, reciprocating pumps; actual length, not equivalent length",
)
