"""The symbols of the calculation, each once: what a quantity is called and in what it is counted.

All values are SI unless a symbol names its unit. Pressures are absolute unless named otherwise.
"""

from __future__ import annotations

import math

from solver.formulas.formula import Constant, Symbol
from solver.quantities.units import Kind

GRAVITY = 9.80665
"""Standard gravity [m/s²]."""

SEA_LEVEL = 101325.0
"""Standard sea-level atmosphere [Pa]."""

PER_FOOT = 1 / 0.3048

g = Constant("g", None, "standard gravity", "m/s²", value=GRAVITY, us=("ft/s²", PER_FOOT))
pi = Constant("π", None, "circle's circumference over its diameter", value=math.pi)
p_0 = Constant("p_0", Kind.PRESSURE, "standard sea-level atmosphere", value=SEA_LEVEL)

# The flow and what it does in an element

Q = Symbol("Q", Kind.FLOW, "flow")
D = Symbol("D", Kind.BORE, "bore")
L = Symbol("L", Kind.LENGTH, "developed length")
roughness = Symbol("ε", Kind.BORE, "roughness of the wall")
relative_roughness = Symbol("ε_D", Kind.NUMBER, "relative roughness", printed="ε/D")
v = Symbol("v", Kind.VELOCITY, "mean velocity")
rho = Symbol("ρ", Kind.DENSITY, "density")
nu = Symbol("ν", Kind.VISCOSITY, "kinematic viscosity")
mu = Symbol("μ", None, "dynamic viscosity", "Pa·s")
Re = Symbol("Re", Kind.NUMBER, "Reynolds number")
q = Symbol("q", Kind.PRESSURE, "velocity pressure")
f = Symbol("f", Kind.NUMBER, "Darcy friction factor")
f_churchill = Symbol("f_C", Kind.NUMBER, "Darcy friction factor by Churchill")
f_t = Symbol("f_t", Kind.NUMBER, "Darcy friction factor of turbulent flow")
x = Symbol("x", Kind.NUMBER, "how far through the transition")
w = Symbol("w", Kind.NUMBER, "share of turbulence, 0 laminar to 1 turbulent")
k = Symbol("k", Kind.NUMBER, "loss coefficient", printed="K")
k_inf = Symbol("k_inf", Kind.NUMBER, "loss coefficient at high Reynolds number", printed="K_∞")
k_re = Symbol("k_re", Kind.NUMBER, "loss coefficient times Reynolds number in slow flow", printed="K_1")
dp = Symbol("Δp", Kind.PRESSURE, "loss")
dp_element = Symbol("Δp_e", Kind.PRESSURE, "loss of the element itself")
alpha = Symbol("α", Kind.NUMBER, "kinetic factor")
viscous = Symbol("c_v", None, "viscous coefficient", "1/m³")
inertial = Symbol("c_i", None, "inertial coefficient", "1/m⁴")
fixed = Symbol("Δp_0", Kind.PRESSURE, "loss of a device known by one drop")
cap = Symbol("Δp_b", Kind.PRESSURE, "pressure at which the bypass opens")

# Fittings

K_i = Symbol("K_i", Kind.NUMBER, "Darby's constant of the fitting")
K_d = Symbol("K_d", Kind.NUMBER, "Darby's constant of its size")
D_n = Symbol("D_n", None, "nominal size", "in")
K_h = Symbol("K_h", Kind.NUMBER, "Hooper's constant of the fitting")
D_in = Symbol("D_in", None, "bore in inches", "in")
theta = Symbol("θ", None, "angle through which the line turns", "rad")
radius = Symbol("r", Kind.BORE, "radius of the bend's centre line")
f_cone = Symbol("f_c", Kind.NUMBER, "friction factor of the cone's wall at Re 100 000, smooth")
f_b = Symbol("f_b", Kind.NUMBER, "friction factor of the bend's wall at Re 100 000")
k_re_narrowing = Symbol(
    "k_re_n", Kind.NUMBER, "loss coefficient times Reynolds number in slow flow, by Hooper", printed="K_1,n"
)
k_re_wall = Symbol(
    "k_re_w", Kind.NUMBER, "loss coefficient times Reynolds number in slow flow, of the wall", printed="K_1,w"
)
beta = Symbol("β", Kind.NUMBER, "smaller bore over larger bore")
k_slow = Symbol("k_slow", Kind.NUMBER, "loss coefficient in laminar flow", printed="K_lam")
slow_end = Symbol("slow_end", Kind.NUMBER, "Reynolds number up to which it holds", printed="Re_lam")
cone = Symbol("c_θ", Kind.NUMBER, "factor of a cone")
opening_angle = Symbol("θ_c", None, "angle between the walls of the cone", "rad")
jet = Symbol("λ", Kind.NUMBER, "velocity of the jet over that in the smaller bore")
D_small = Symbol("D_s", Kind.BORE, "smaller bore")
D_large = Symbol("D_l", Kind.BORE, "larger bore")
Re_bend = Symbol("Re_b", Kind.NUMBER, "Reynolds number at which bends and cones are taken")
roughness_crane = Constant("ε_T", Kind.BORE, "roughness of clean commercial steel", value=4.572e-5)
f_crane = Symbol("f_T", Kind.NUMBER, "friction factor of Crane's fittings")
y = Symbol("y", Kind.NUMBER, "flow of the branch over the whole flow")
Q_leg = Symbol("Q_l", Kind.FLOW, "flow of this leg")
Q_whole = Symbol("Q_c", Kind.FLOW, "whole flow of the tee")
K_c = Symbol("K_c", Kind.NUMBER, "coefficient referred to the whole flow")
own_share = Symbol("s", Kind.NUMBER, "flow of this leg over the whole flow")

# Screens and devices

wires = Symbol("n_w", Kind.WIRES, "wires per length")
wire = Symbol("w_d", Kind.BORE, "wire diameter")
opening = Symbol("d", Kind.BORE, "opening between wires")
thickness = Symbol("B", Kind.BORE, "thickness of the cloth")
porosity = Symbol("φ", Kind.NUMBER, "share of the cloth's volume that is open")
surface = Symbol("a_w", None, "wire surface per volume", "1/m")
area = Symbol("A", Kind.AREA, "open area of the screen")
whole_area = Symbol("A_0", Kind.AREA, "whole area of the screen")
blocked = Symbol("b_s", Kind.NUMBER, "blocked share of the screen")
bypass_viscous = Symbol("c_b", None, "viscous coefficient of the bypass", "1/m³")
bypass_whole = Symbol(
    "B_b", Kind.PRESSURE, "what the bypass adds to its opening if the whole flow goes over it"
)
C_v = Symbol("C_v", None, "flow coefficient in US customary units", "gpm")
K_v = Symbol("K_v", None, "flow coefficient", "m³/h")

# The site and the maker's limit

z = Symbol("z", Kind.ELEVATION, "elevation of the site")
height = Symbol("h", Kind.ELEVATION, "geopotential elevation of the site")
earth = Constant("r_0", None, "radius of the Earth", "m", value=6356766.0, us=("ft", PER_FOOT))
lapse = Constant("Γ", None, "lapse rate", "K/m", value=0.0065, us=("K/ft", 0.3048))
T_0 = Constant("T_0", None, "sea-level temperature", "K", value=288.15)
air_exponent = Constant(
    "n_a", None, "exponent g M/(R Γ) of the standard's gravity, molar mass, gas constant and lapse rate",
    value=GRAVITY * 28.9644 / (8314.32 * 0.0065),
)  # fmt: skip
p_station = Symbol("p_st", Kind.PRESSURE, "station pressure at the site")
p_altimeter = Symbol("p_a", Kind.PRESSURE, "altimeter setting")
p_weather = Symbol("p_w", Kind.VACUUM, "allowance for a low-pressure day")
p_atm = Symbol("p_atm", Kind.PRESSURE, "atmosphere at the site, the weather allowance taken off")
p_gauge = Symbol("p_g", Kind.VACUUM, "gauge pressure above the fluid")
p_shut = Symbol("p_g0", Kind.VACUUM, "gauge pressure above the fluid at its normal level")
gas = Symbol("V_0", Kind.VOLUME, "gas above the fluid at its normal level")
fallen = Symbol("V_f", Kind.VOLUME, "fluid drawn out since")
p_surface = Symbol("p_s", Kind.PRESSURE, "pressure on the fluid's surface", printed="p_surface")

V = Symbol("V", Kind.VACUUM, "vacuum the pump's maker allows at sea level")
H = Symbol("H", Kind.HEAD, "net positive suction head the maker asks for")
H_1 = Symbol("H_1", Kind.HEAD, "net positive suction head the maker asks for at the flow below")
H_2 = Symbol("H_2", Kind.HEAD, "net positive suction head the maker asks for at the flow above")
Q_1 = Symbol("Q_H1", Kind.FLOW, "flow below, on the maker's curve", printed="Q_H,1")
Q_2 = Symbol("Q_H2", Kind.FLOW, "flow above, on the maker's curve", printed="Q_H,2")
p_rated = Symbol("p_rated", Kind.PRESSURE, "pressure the pump's maker asks for at the port")
p_v = Symbol("p_v", Kind.PRESSURE, "vapour pressure")
p_v_rated = Symbol(
    "p_v_rated", Kind.PRESSURE, "vapour pressure of the fluid the limit was given for", printed="p_v,rated"
)
rho_rated = Symbol("ρ_rated", Kind.DENSITY, "density the limit was given for")
rho_heavy = Constant("ρ_h", Kind.DENSITY, "of the heaviest petroleum hydraulic oils as they run", value=900.0)
rho_light = Constant("ρ_l", Kind.DENSITY, "of the lightest petroleum hydraulic oils as they run", value=850.0)
n = Symbol("n", Kind.SPEED, "speed")
n_rated = Symbol("n_rated", Kind.SPEED, "speed the limit was given for")
n_1 = Symbol("n_t1", Kind.SPEED, "speed below it in the maker's table", printed="n_t,1")
n_2 = Symbol("n_t2", Kind.SPEED, "speed above it in the maker's table", printed="n_t,2")
c_density = Symbol("c_ρ", Kind.NUMBER, "density correction")
c_speed = Symbol("c_n", Kind.NUMBER, "speed correction")
p_floor = Symbol("p_floor", Kind.PRESSURE, "least pressure allowed at the port")
npsh_r = Symbol("NPSH_r", Kind.HEAD, "net positive suction head required")
npsh_a = Symbol("NPSH_a", Kind.HEAD, "net positive suction head available")
budget = Symbol("budget", Kind.VACUUM, "inlet budget")
allowed = Symbol("V_a", Kind.VACUUM, "vacuum a gauge at the port may show", printed="V_allowed")

# The walk

level = Symbol("z_s", Kind.LENGTH, "elevation of the fluid's surface")
level_tank = Symbol("z_t", Kind.LENGTH, "elevation of the fluid's surface in the tank")
rho_tank = Symbol("ρ_tank", Kind.DENSITY, "density in the tank")
z_intake = Symbol("z_i", Kind.LENGTH, "elevation of the intake")
z_in = Symbol("z_in", Kind.LENGTH, "elevation of the start", printed="z_1")
z_out = Symbol("z_out", Kind.LENGTH, "elevation of the end", printed="z_2")
dz = Symbol("Δz", Kind.LENGTH, "rise above the fluid's level")
lift = Symbol("lift", Kind.VACUUM, "lift")
share = Symbol("share", Kind.SHARE, "share of the inlet budget")
dp_before = Symbol("Σ_1", Kind.PRESSURE, "losses on the way here", printed="ΣΔp_1")
dp_so_far = Symbol("Σ_2", Kind.PRESSURE, "losses to the end of the element", printed="ΣΔp_2")
dp_kinetic = Symbol("Δp_k", Kind.PRESSURE, "velocity head")
p = Symbol("p", Kind.PRESSURE, "static pressure")
p_port = Symbol("p_port", Kind.PRESSURE, "static pressure at the port")
all_lift = Symbol("Σ_lift", Kind.VACUUM, "lift of all entries", printed="Σlift")
all_loss = Symbol("Σ_Δp", Kind.VACUUM, "losses of all entries", printed="ΣΔp")
spent = Symbol("spent", Kind.VACUUM, "what all entries take")
margin = Symbol("margin", Kind.VACUUM, "margin")
vacuum = Symbol("V_g", Kind.VACUUM, "vacuum a gauge at the port shows", printed="V_port")
displacement = Symbol("V_p", Kind.DISPLACEMENT, "displacement")
filling = Symbol("η_v", Kind.NUMBER, "volumetric efficiency of the inlet")

# Air, submergence, acceleration

bunsen = Symbol("b", Kind.NUMBER, "Bunsen coefficient")
T_air = Symbol("T_a", None, "temperature of the air that comes out", "K")
T_bunsen = Constant("T_b", None, "temperature at which a Bunsen coefficient counts air", "K", value=273.15)
free_share = Symbol("φ_air", Kind.SHARE, "free air, if all the excess comes out")
submergence = Symbol("S", Kind.LENGTH, "submergence")
cylinders = Symbol("C", Kind.NUMBER, "constant of the pump's cylinders")
springiness = Symbol("K_f", Kind.NUMBER, "constant of the fluid's compressibility")
strokes = Symbol("N", None, "crank speed", "rpm")
rise_time = Symbol("t_r", Kind.TIME, "full flow over its steepest rise")
Q_rise = Symbol("Q_rise", None, "steepest rise of the flow", "m³/s²", printed="dQ/dt")
row_travel = Symbol("Λ", None, "length times velocity, of one row", "m²/s")
all_travel = Symbol("Σ_Λ", None, "length times velocity, of all rows on the way", "m²/s", printed="ΣΛ")
row_rise = Symbol("R", None, "length over area times rise, of one row", "m²/s²")
column_rise = Symbol("Σ_R", None, "the same of all rows on the way", "m²/s²", printed="ΣR")
celerity = Constant(
    "a", None, "speed of a pressure wave, stated", "m/s", value=1000.0, us=("ft/s", 1 / 0.3048)
)
acceleration = Symbol("h_a", Kind.HEAD, "acceleration head")
