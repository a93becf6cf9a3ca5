"""The formulas of fittings, bends, changes of bore, tees, screens and devices, each once."""

from __future__ import annotations

from solver import symbols as s
from solver.expressions import Bound, Constant, Formula, Node, Number, Symbol, largest, least, sin, sqrt
from solver.units import Kind

_HIGH = "loss coefficient at high Reynolds number"
_SLOW = "loss coefficient in slow flow"

# Tables

darby = Formula(
    _HIGH,
    s.k_inf,
    (s.K_i, s.K_d, s.D_n),
    s.K_i * (1 + s.K_d / s.D_n**0.3),
    "Darby, R. (2001), Chem. Eng. April, 127; constants as of the 3-K method",
    bare=True,
)
hooper = Formula(
    _HIGH,
    s.k_inf,
    (s.K_h, s.D_in),
    s.K_h * (1 + 1 / s.D_in),
    "Hooper, W. B. (1981), Chem. Eng. 24 August, 96",
    bare=True,
)

# An elbow or mitre at the angle of no row

_PROPORTION = "in proportion to Darby's rows for 45° and 90°, ours: no source"
_turn = s.theta / (s.pi / 2)

elbow_below = Formula(
    "elbow up to 45°", s.k, (s.K_45, s.theta), s.K_45 * 2 * _turn, _PROPORTION,
    "angles up to 45°", (Bound(s.theta, 0, 0.7853981633974484),),
)  # fmt: skip
elbow_between = Formula(
    "elbow between 45° and 90°",
    s.k,
    (s.K_45, s.K_90, s.theta),
    s.K_45 + (2 * _turn - 1) * (s.K_90 - s.K_45),
    _PROPORTION,
)
elbow_beyond = Formula("elbow from 90°", s.k, (s.K_90, s.theta), s.K_90 * _turn, _PROPORTION)

# Smooth bends

RENNELS = "Rennels and Hudson (2012), at Re 100 000"
_half = sin(s.theta / 2)

smooth_bend = Formula(
    _HIGH,
    s.k_inf,
    (s.f_b, s.theta, s.radius, s.D),
    s.f_b * s.theta * s.radius / s.D
    + (0.10 + 2.4 * s.f_b) * _half
    + 6.6 * s.f_b * (sqrt(_half) + _half) / (s.radius / s.D) ** (4 * s.theta / s.pi),
    RENNELS,
    "bend radius from half the bore, angles up to 180°",
    (
        Bound(Symbol("r_D", Kind.NUMBER, "bend radius over bore"), 0.5, of=s.radius / s.D),
        Bound(s.theta, 0, 3.1415926535897936),
    ),
)
smooth_bend_slow = Formula(
    _SLOW,
    s.k_re,
    (s.radius, s.D, s.theta),
    largest(800 / (s.pi / 2), 64 * s.radius / s.D) * s.theta,
    "800 for a right angle (Darby, Hooper); never less than the laminar friction of the arc",
)

# Changes of bore, referred to the smaller one

bore_ratio = Formula(
    "ratio of the bores", s.beta, (s.D_small, s.D_large), s.D_small / s.D_large, "definition"
)
widening = Formula(_HIGH, s.k_inf, (s.beta,), (1 - s.beta**2) ** 2, f"Borda and Carnot; {RENNELS}")
contracted_jet = Formula(
    "contraction of the jet",
    s.jet,
    (s.beta,),
    1 + 0.622 * (1 - 0.215 * s.beta**2 - 0.785 * s.beta**5),
    RENNELS,
)
narrowing = Formula(
    _HIGH,
    s.k_inf,
    (s.beta, s.jet),
    0.0696 * (1 - s.beta**5) * s.jet**2 + (s.jet - 1) ** 2,
    RENNELS,
)
narrowing_slow = Formula(
    _SLOW, s.k_re, (s.beta,), 160 * (1 - s.beta**4) / s.beta, "Hooper (1988), moved to the smaller bore"
)

cone_slow = Formula(
    _SLOW,
    s.k_re,
    (s.L, s.D_large, s.D_small),
    64 * s.L * (1 - (s.D_small / s.D_large) ** 3) / (3 * (s.D_large - s.D_small)),
    "wall friction of a cone: Hagen and Poiseuille, integrated along it; referred to the smaller bore",
)

# Crane's foot valve, and a connector by practice

CRANE = "Crane TP-410"
crane_reynolds = Formula(
    "Reynolds number of Crane's friction factor",
    s.Re,
    (s.D,),
    7.5e6 * s.D,
    f"{CRANE}, its friction factors as an equation (from the library fluids)",
    bare=True,
)
crane_roughness = Formula(
    "roughness of Crane's friction factor",
    s.roughness,
    (s.D,),
    3.4126825352925e-5 * s.D**-0.0112,
    f"{CRANE}, its friction factors as an equation (from the library fluids)",
    bare=True,
)
foot_valve = Formula(
    _HIGH, s.k_inf, (s.f_crane,), 75 * s.f_crane, f"{CRANE}, foot valve with hinged disc and strainer"
)
_PRACTICE = "common practice, no source: the maker's figure replaces it"
connector = Formula(
    _HIGH, s.k_inf, (), Number(3) * 6 * 0.02, f"three times the friction of six bores of pipe; {_PRACTICE}"
)
connector_slow = Formula(_SLOW, s.k_re, (), Number(6) * 64, f"that of six bores of pipe; {_PRACTICE}")

# Tees of one bore at right angles, referred to the whole flow

TEE = "Crane TP-410 (2009), tee at right angles, referred to the whole flow"
_FULL = "legs of one bore"
_SPLIT = (Bound(s.y, 0, 1),)

branch_share = Formula(
    "share of the branch", s.y, (s.Q_branch, s.Q_whole), s.Q_branch / s.Q_whole, "definition"
)


def _tee(name: str, expression: Node) -> Formula:
    return Formula(name, s.K_c, (s.y,), expression, TEE, _FULL, _SPLIT)


_joined = 1 + s.y**2 - 2 * (1 - s.y) ** 2
tee_branch_joins = (
    _tee("branch that joins, up to 40 %", 0.9 * (1 - s.y) * _joined),
    _tee("branch that joins, from 40 %", 0.55 * _joined),
)
tee_run_joins = _tee("run that is joined", 1.55 * s.y - s.y**2)
tee_branch_leaves = _tee("branch that leaves", (1 + 0.3 * s.y**2) * (1 + 0.3 * s.y**2))
tee_run_leaves = (
    _tee("run that is left, up to 50 %", 2 * (2 * s.y - 1) * s.y**2),
    _tee("run that is left, from 50 %", 0.3 * (2 * s.y - 1) * s.y**2),
)
tee_own = Formula(
    _HIGH, s.k_inf, (s.K_c, s.own_share), s.K_c / s.own_share**2, "the same loss by this leg's own velocity"
)

# Woven screens

ARMOUR_CANNON = "Armour, J. C. and Cannon, J. N. (1968), AIChE Journal 14, 415-420: plain square weave"
_MICRON = 1e-6
_CLOTH = "porosity 0.35 to 0.76, opening 5 to 550 μm"
_OPEN = Bound(s.porosity, 0.35, 0.76)

free_area = Formula(
    "open area of the element",
    s.area,
    (s.whole_area, s.blocked),
    s.whole_area * (1 - s.blocked),
    "definition",
)
screen_opening = Formula(
    "opening of the cloth",
    s.opening,
    (s.wires, s.wire),
    1 / s.wires - s.wire,
    ARMOUR_CANNON,
)
screen_thickness = Formula("thickness of the cloth", s.thickness, (s.wire,), 2 * s.wire, ARMOUR_CANNON)
_crimp = sqrt(1 + s.wires**2 * s.wire**2)
screen_porosity = Formula(
    "porosity of the cloth",
    s.porosity,
    (s.wires, s.wire),
    1 - s.pi * s.wires * s.wire / 4 * _crimp,
    ARMOUR_CANNON,
)
screen_surface = Formula(
    "specific surface of the cloth", s.surface, (s.wires, s.wire), s.pi * s.wires * _crimp, ARMOUR_CANNON
)
screen_viscous = Formula(
    "viscous coefficient",
    s.viscous,
    (s.surface, s.thickness, s.porosity, s.area),
    8.61 * s.surface**2 * s.thickness / (s.porosity**2 * s.area),
    ARMOUR_CANNON,
    _CLOTH,
    (_OPEN,),
)
screen_inertial = Formula(
    "inertial coefficient",
    s.inertial,
    (s.thickness, s.porosity, s.opening, s.area),
    0.52 * s.thickness / (s.porosity**2 * s.opening * s.area**2),
    ARMOUR_CANNON,
    _CLOTH,
    (_OPEN, Bound(s.opening, 5 * _MICRON, 550 * _MICRON)),
)
screen_reynolds = Formula(
    "Reynolds number of the screen",
    s.Re_s,
    (s.rho, s.Q, s.area, s.mu, s.surface, s.opening),
    s.rho * s.Q / (s.area * s.mu * s.surface**2 * s.opening),
    ARMOUR_CANNON,
    "screen Reynolds numbers up to 1000; linear below 0.1",
    (Bound(s.Re_s, high=1000.0, of=s.rho * s.Q / (s.area * s.mu * s.surface**2 * s.opening)),),
)

# The maker's points (Q, Δp), and what is known of a device

_POINTS = "least squares of Δp = c_v μ Q + c_i ρ Q² through the maker's points"
S_aa = Symbol("S_11", None, "sum of (μ Q)²", "Pa²·m⁶")
S_ab = Symbol("S_12", None, "sum of μ Q ρ Q²", "Pa²·m⁷")
S_bb = Symbol("S_22", None, "sum of (ρ Q²)²", "Pa²·m⁸")
S_ad = Symbol("S_1p", None, "sum of μ Q Δp", "Pa²·m³")
S_bd = Symbol("S_2p", None, "sum of ρ Q² Δp", "Pa²·m⁴")
clean_viscous = Symbol("c_v0", None, "viscous coefficient, clean", "1/m³")
clean_inertial = Symbol("c_i0", None, "inertial coefficient, clean", "1/m⁴")
_both = S_aa * S_bb - S_ab**2

points_viscous = Formula(
    "viscous coefficient, clean", clean_viscous, (S_aa, S_ab, S_bb, S_ad, S_bd),
    (S_ad * S_bb - S_bd * S_ab) / _both, _POINTS,
)  # fmt: skip
points_inertial = Formula(
    "inertial coefficient, clean", clean_inertial, (S_aa, S_ab, S_bb, S_ad, S_bd),
    (S_bd * S_aa - S_ad * S_ab) / _both, _POINTS,
)  # fmt: skip
points_only_viscous = Formula("viscous coefficient, clean", clean_viscous, (S_aa, S_ad), S_ad / S_aa, _POINTS)
points_only_inertial = Formula(
    "inertial coefficient, clean", clean_inertial, (S_bb, S_bd), S_bd / S_bb, _POINTS
)

point_drop = Symbol("Δp_p", Kind.PRESSURE, "drop at the maker's point")
point_flow = Symbol("Q_p", Kind.FLOW, "flow at the maker's point")
point_mu = Symbol("μ_p", None, "dynamic viscosity at the maker's points", "Pa·s")
point_rho = Symbol("ρ_p", Kind.DENSITY, "density at the maker's points")

_ONE = "one point of the maker's, in laminar flow: all of it viscous"
_HALF = "one point of the maker's: half viscous, half as the square of the flow, ours"
one_point = Formula(
    "viscous coefficient, clean",
    clean_viscous,
    (point_drop, point_mu, point_flow),
    point_drop / (point_mu * point_flow),
    _ONE,
)
half_viscous = Formula(
    "viscous coefficient, clean",
    clean_viscous,
    (point_drop, point_mu, point_flow),
    point_drop / (2 * point_mu * point_flow),
    _HALF,
)
half_inertial = Formula(
    "inertial coefficient, clean",
    clean_inertial,
    (point_drop, point_rho, point_flow),
    point_drop / (2 * point_rho * point_flow**2),
    _HALF,
)
blocked_viscous = Formula(
    "viscous coefficient",
    s.viscous,
    (clean_viscous, s.blocked),
    clean_viscous / (1 - s.blocked),
    "the flow goes through what is left open",
)
blocked_inertial = Formula(
    "inertial coefficient",
    s.inertial,
    (clean_inertial, s.blocked),
    clean_inertial / (1 - s.blocked) ** 2,
    "the flow goes through what is left open",
)
known_drop = Formula(
    "inertial coefficient",
    s.inertial,
    (point_drop, point_rho, point_flow),
    point_drop / (point_rho * point_flow**2),
    "as given; grows as the square of the flow",
)
flow_coefficient = Formula(
    "inertial coefficient", s.inertial, (s.K_v,), 8 / s.pi**2 * 1.6e9 / s.K_v**2, "IEC 60534", bare=True
)

# A valve's flow coefficient in slow flow

_IEC = "IEC 60534-2-1, its factor for low Reynolds numbers in laminar flow"
F_L = Constant("F_L", None, "pressure recovery factor of a common valve", "", 0.9)
F_d = Constant("F_d", None, "style modifier of a common valve", "", 0.46)
N_2 = Constant("N_2", None, "constant of IEC 60534, Kv with mm", "", 0.0016)
N_4 = Constant("N_4", None, "constant of IEC 60534, Kv with m³/h", "", 0.0707)
N_32 = Constant("N_32", None, "constant of IEC 60534, Kv with mm", "", 140.0)
valve_bore = Symbol("D_mm", None, "bore of the valve", "mm")
valve_constant = Symbol("n_v", Kind.NUMBER, "constant of the valve's size")
_trim = s.K_v / valve_bore**2

valve_size = Formula(
    "constant of the valve's size",
    valve_constant,
    (s.K_v, valve_bore),
    least(N_2 / least(_trim, 0.04) ** 2, 1 + N_32 * _trim ** (2 / 3)),
    _IEC,
    bare=True,
)
valve_viscous = Formula(
    "viscous coefficient",
    s.viscous,
    (s.K_v, valve_bore, valve_constant),
    360000
    * F_L**2.5
    / (
        N_4
        * 0.026**2
        * F_d
        * valve_constant
        * s.K_v**1.5
        * (F_L**2 * s.K_v**2 / (N_2 * valve_bore**4) + 1) ** 0.25
    ),
    _IEC,
    "laminar flow in the valve; from there to turbulent flow a quarter below to a third above the standard",
    bare=True,
)
