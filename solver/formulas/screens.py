"""The formulas of screens, and of devices by the maker's points or by a flow coefficient, each once."""

from __future__ import annotations

from functools import cache, reduce
from operator import add
from typing import NamedTuple

from solver.formulas import symbols as s
from solver.formulas.formula import Bound, Formula, Node, Symbol, largest, sqrt
from solver.quantities.units import Kind

# Woven screens

ARMOUR_CANNON = "Armour, J. C. and Cannon, J. N. (1968), AIChE Journal 14, 415-420: plain square weave"
_MICRON = 1e-6
_CLOTH = "porosity 0.35 to 0.76, opening 5 to 550 μm"
_OPEN = Bound(s.porosity, 0.35, 0.76)

free_area = Formula(
    "open area of the screen",
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

# The maker's points (Q, Δp), and what is known of a device

_POINTS = "least squares of Δp = c_v μ Q + c_i ρ Q² through the maker's points"
point_drop = Symbol("Δp_p", Kind.PRESSURE, "drop at the maker's point")
point_flow = Symbol("Q_p", Kind.FLOW, "flow at the maker's point")
point_mu = Symbol("μ_p", None, "dynamic viscosity at the maker's points", "Pa·s")
point_rho = Symbol("ρ_p", Kind.DENSITY, "density at the maker's points")
S_aa = Symbol("S_11", None, "sum of (μ Q)²", "Pa²·m⁶")
S_ab = Symbol("S_12", None, "sum of μ Q ρ Q²", "Pa²·m⁷")
S_bb = Symbol("S_22", None, "sum of (ρ Q²)²", "Pa²·m⁸")
S_ad = Symbol("S_1p", None, "sum of μ Q Δp", "Pa²·m³")
S_bd = Symbol("S_2p", None, "sum of ρ Q² Δp", "Pa²·m⁴")
clean_viscous = Symbol("c_v0", None, "viscous coefficient, clean", "1/m³")
clean_inertial = Symbol("c_i0", None, "inertial coefficient, clean", "1/m⁴")


class Point(NamedTuple):
    """Flow and drop of one of the maker's points."""

    flow: Symbol
    drop: Symbol


@cache
def maker_point(i: int) -> Point:
    """The point of that number, from 1."""
    return Point(
        Symbol(f"Q_{i}", Kind.FLOW, f"flow at the maker's point {i}"),
        Symbol(f"Δp_{i}", Kind.PRESSURE, f"drop at the maker's point {i}"),
    )


@cache
def point_sums(count: int) -> tuple[Formula, ...]:
    """The sums of least squares over so many points, of (mu, rho, flows, drops)."""
    points = [maker_point(i) for i in range(1, count + 1)]
    linear = [point_mu * point.flow for point in points]
    square = [point_rho * point.flow**2 for point in points]
    drops: list[Node] = [point.drop for point in points]
    pairs = ((linear, linear), (linear, square), (square, square), (linear, drops), (square, drops))
    return tuple(
        _total(result, [a * b for a, b in zip(left, right, strict=True)], points)
        for result, (left, right) in zip((S_aa, S_ab, S_bb, S_ad, S_bd), pairs, strict=True)
    )


def _total(result: Symbol, terms: list[Node], points: list[Point]) -> Formula:
    total = reduce(add, terms)
    used = {leaf.symbol for leaf in total.leaves()}
    known = (point_mu, point_rho, *(p.flow for p in points), *(p.drop for p in points))
    kept = tuple(symbol for symbol in known if symbol.symbol in used)
    return Formula(result.meaning, result, kept, total, _POINTS)


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


_REPEATED = "the maker's points lie at one flow: half viscous, half as the square of the flow, ours"
points_half_viscous = Formula(
    "viscous coefficient, clean", clean_viscous, (S_ad, S_aa), S_ad / (2 * S_aa), _REPEATED
)
points_half_inertial = Formula(
    "inertial coefficient, clean", clean_inertial, (S_bd, S_bb), S_bd / (2 * S_bb), _REPEATED
)

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
# A device known by one drop

READ_VISCOSITY = 30e-6
READ_DENSITY = 870.0
"""Of the fluid with which a known drop is taken to be read, where none is stated [m²/s, kg/m³]. Common
practice, no source."""

head_lost = Symbol("h_p", Kind.HEAD, "head lost at the maker's point, of the fluid that flows")
head_drop = Formula(
    "drop of a head that is lost, in a fluid of 1 kg/m³",
    point_drop,
    (head_lost, point_rho),
    point_rho * s.g * head_lost,
    "hydrostatics: a head is the same in any fluid, so that its drop goes with the density of what flows",
)

_UNFAVOURABLE = "the unfavourable of viscous and inertial, as one drop does not tell them apart: no source"
by_fluid = Symbol("c_μ", Kind.NUMBER, "how much more a device takes of this fluid")
by_flow = Symbol("c_Q", Kind.NUMBER, "how much more a device takes at this flow")
known_drop_fluid = Formula(
    "how much more the device takes of this fluid",
    by_fluid,
    (s.mu, s.rho, point_mu, point_rho),
    largest(largest(s.mu / point_mu, s.rho / point_rho), 1),
    f"{_UNFAVOURABLE}; never less than as read",
)
known_drop_flow = Formula(
    "how much more the device takes at this flow",
    by_flow,
    (s.Q, point_flow),
    largest(s.Q / point_flow, (s.Q / point_flow) ** 2),
    _UNFAVOURABLE,
)
known_drop = Formula(
    "loss of the device",
    s.fixed,
    (point_drop, by_fluid, by_flow),
    point_drop * by_fluid * by_flow,
    "the drop as given",
)
known_drop_any = Formula(
    "loss of the device",
    s.fixed,
    (point_drop, by_fluid),
    point_drop * by_fluid,
    "the drop as given, the same at any flow",
)

# A bypass, once open: the element and it are parallel resistances

over_drop = Symbol("Δp_o", Kind.PRESSURE, "drop with the bypass open, by its maker")
over_flow = Symbol("Q_o", Kind.FLOW, "flow at which that drop was read")
over_mu = Symbol("μ_o", None, "dynamic viscosity at which that drop was read", "Pa·s")
bypass_viscous = Formula(
    "viscous coefficient of the bypass",
    s.bypass_viscous,
    (over_drop, s.cap, over_mu, over_flow),
    (over_drop - s.cap) / (over_mu * over_flow),
    "the maker's point, the whole flow over the bypass; in proportion to viscosity, ours: no source",
)
bypass_whole = Formula(
    "what the bypass adds if the whole flow goes over it",
    s.bypass_whole,
    (s.bypass_viscous, s.mu, s.Q),
    s.bypass_viscous * s.mu * s.Q,
    "the bypass by its maker's point",
)
bypass_assumed = Formula(
    "what the bypass adds if the whole flow goes over it",
    s.bypass_whole,
    (s.cap, s.mu),
    s.cap / 2 * s.mu / (READ_VISCOSITY * READ_DENSITY),
    "no point of the bypass is given: half as much again as its opening at 30 mm²/s, no source",
    fixed_units=True,
)
past_bypass = Formula(
    "loss with the bypass open",
    s.dp,
    (s.dp_element, s.cap, s.bypass_whole),
    s.cap + s.bypass_whole / (s.dp_element + s.bypass_whole) * (s.dp_element - s.cap),
    "element and open bypass in parallel, each in proportion to its flow",
)
from_cv = Formula(
    "flow coefficient",
    s.K_v,
    (s.C_v,),
    0.8649776554423017 * s.C_v,
    "definition of Cv in gallons a minute at 1 psi, and of Kv in m³/h at 1 bar",
    fixed_units=True,
)
flow_coefficient = Formula(
    "inertial coefficient",
    s.inertial,
    (s.K_v,),
    8 / s.pi**2 * 1.6e9 / s.K_v**2,
    "IEC 60534",
    fixed_units=True,
)
