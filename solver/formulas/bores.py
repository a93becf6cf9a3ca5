"""Changes of bore and the cones of reducers, referred to the smaller bore."""

from __future__ import annotations

from solver.formulas import colebrook
from solver.formulas import symbols as s
from solver.formulas.fittings import HIGH, RENNELS, SLOW
from solver.formulas.formula import (
    Bound,
    Constant,
    Formula,
    Node,
    Symbol,
    atan,
    largest,
    least,
    sin,
    sqrt,
    tan,
)
from solver.quantities.units import Kind

bore_ratio = Formula(
    "ratio of the bores", s.beta, (s.D_small, s.D_large), s.D_small / s.D_large, "definition"
)
widening = Formula(HIGH, s.k_inf, (s.beta,), (1 - s.beta**2) ** 2, f"Borda and Carnot; {RENNELS}")
_NOTHING_BACK = "no static pressure comes back in laminar flow: Hooper (1988), the unfavourable side"
widening_slow = Formula(
    "loss coefficient in laminar flow",
    s.k_slow,
    (s.beta,),
    2 * (1 - s.beta**4),
    f"{_NOTHING_BACK}; a momentum balance gives 2 − 8/3 β² + 2/3 β⁴",
    "of the smaller bore, Re up to 2000",
)
gradual = Formula(
    "factor of a gradual widening",
    s.cone,
    (s.opening_angle,),
    least(2.6 * sin(s.opening_angle / 2), 1),
    "Hooper (1988): cones up to 45°, and from there a step",
)
gradual_slow = Formula(
    "loss coefficient in laminar flow",
    s.k_slow,
    (s.cone, s.beta),
    s.cone * 2 * (1 - s.beta**4),
    _NOTHING_BACK,
    "of the smaller bore, Re up to 2000",
)
widening_between = Formula(
    "loss coefficient",
    s.k,
    (s.w, s.k_slow, s.k_inf, s.k_re, s.Re),
    (1 - s.w) * s.k_slow + s.w * s.k_inf + s.k_re / s.Re,
    "from the laminar coefficient at Re 2000 to the turbulent one at 4000, ours: no source",
)
narrowing_between = Formula(
    "loss coefficient",
    s.k,
    (s.k_inf, s.k_slow, s.slow_end, s.Re, s.k_re),
    largest(s.k_inf, s.k_slow * least(s.slow_end / s.Re, 1) ** 2) + s.k_re / s.Re,
    "the laminar coefficient as far as Hooper (1988) has it; from there the turbulent one, and never less "
    "loss than slower flow has",
)
narrowing_slow_end = Formula(
    "Reynolds number up to which the laminar coefficient holds",
    s.slow_end,
    (s.beta,),
    2500 / s.beta,
    "Hooper (1988): 2500 in the larger bore",
    "of the smaller bore",
)
contracted_jet = Formula(
    "contraction of the jet",
    s.jet,
    (s.beta,),
    1 + 0.622 * (1 - 0.215 * s.beta**2 - 0.785 * s.beta**5),
    RENNELS,
)
narrowing = Formula(
    HIGH,
    s.k_inf,
    (s.beta, s.jet),
    0.0696 * (1 - s.beta**5) * s.jet**2 + (s.jet - 1) ** 2,
    RENNELS,
)
k_rennels = Symbol("k_R", Kind.NUMBER, "loss coefficient by Rennels", printed="K_R")
f_narrowing = Constant(
    "f_s", None, "friction factor of a smooth bore at Re 2500, from there its largest", value=0.0461
)
_FAST = (0.6 + 0.48 * f_narrowing) * (1 - s.beta**2)
_LARGER = (
    "the larger of Rennels's and Hooper's (1988), (0.6 + 0.48 f)(1/β² − 1)/β² of the larger bore, where both "
    "hold: the unfavourable side"
)
narrowing_larger = Formula(HIGH, s.k_inf, (k_rennels, s.beta), largest(k_rennels, _FAST), _LARGER)
cone_narrowing_larger = Formula(
    HIGH, s.k_inf, (k_rennels, s.cone, s.beta), largest(k_rennels, s.cone * _FAST), _LARGER
)
narrowing_slow = Formula(
    SLOW, s.k_re, (s.beta,), 160 * (1 - s.beta**4) / s.beta, "Hooper (1988), moved to the smaller bore"
)

_JET = "Hooper (1988), (1.2 + 160/Re)(1/β⁴ − 1) of the larger bore, and never less than in turbulent flow"
_LAMINAR_NARROWING = 1.2 * (1 - s.beta**4)
narrowing_laminar = Formula(
    "loss coefficient in laminar flow",
    s.k_slow,
    (s.k_inf, s.beta),
    largest(s.k_inf, _LAMINAR_NARROWING),
    _JET,
    "of the smaller bore, Re in the larger up to 2500",
)
cone_narrowing_laminar = Formula(
    "loss coefficient in laminar flow",
    s.k_slow,
    (s.k_inf, s.cone, s.beta),
    largest(s.k_inf, s.cone * _LAMINAR_NARROWING),
    _JET,
    "of the smaller bore, Re in the larger up to 2500",
)

gradual_narrowing = Formula(
    "factor of a gradual narrowing",
    s.cone,
    (s.opening_angle,),
    1.6 * sin(s.opening_angle / 2),
    "Hooper (1988): cones up to 45°",
)
steep_narrowing = Formula(
    "factor of a steep narrowing",
    s.cone,
    (s.opening_angle,),
    sqrt(sin(s.opening_angle / 2)),
    "Hooper (1988): cones from 45° to a step",
)
cone_narrowing_slow = Formula(
    SLOW,
    s.k_re,
    (s.cone, s.beta),
    s.cone * 160 * (1 - s.beta**4) / s.beta,
    "Hooper (1988), moved to the smaller bore",
)
cone_larger = Formula(
    SLOW,
    s.k_re,
    (s.k_re_narrowing, s.k_re_wall),
    largest(s.k_re_narrowing, s.k_re_wall),
    "the larger of the two",
)
cone_slow = Formula(
    SLOW,
    s.k_re,
    (s.L, s.D_large, s.D_small),
    64 * s.L * (1 - (s.D_small / s.D_large) ** 3) / (3 * (s.D_large - s.D_small)),
    "wall friction of a cone: Hagen and Poiseuille, integrated along it; referred to the smaller bore",
)

even_slow = Formula(
    SLOW,
    s.k_re,
    (s.L, s.D),
    64 * s.L / s.D,
    "wall friction of a reducer whose ends are alike: Hagen and Poiseuille, as a cone's that hardly narrows",
)

# The cone of a reducer at high Reynolds number

cone_angle = Formula(
    "angle between the walls of the cone",
    s.opening_angle,
    (s.D_large, s.D_small, s.L),
    2 * atan((s.D_large - s.D_small) / (2 * s.L)),
    "definition",
)
cone_friction = colebrook.of_fitting(s.f_cone, s.Re_bend, s.roughness)
SLENDER, WIDE = s.pi.value / 9, s.pi.value / 3
"""Angles between the walls, 20° and 60°, at which a widening cone has another formula [rad]."""

_half = sin(s.opening_angle / 2)
_wall = s.f_cone * (1 - s.beta**4) / (8 * _half)
_lost = (1 - s.beta**2) ** 2
_narrow = 3.28 * largest(0.0625 - s.beta**4, 0)


def _widening_cone(
    expression: Node, symbols: tuple[Symbol, ...], valid: str, low: float, high: float
) -> Formula:
    bounds = (Bound(s.opening_angle, low, high),)
    return Formula(HIGH, s.k_inf, symbols, expression, RENNELS, valid, bounds)


slender_widening = _widening_cone(
    8.30 * tan(s.opening_angle / 2) ** 1.75 * _lost + _wall,
    (s.opening_angle, s.beta, s.f_cone),
    "a cone of up to 20° between its walls",
    0.0,
    SLENDER,
)
medium_widening = _widening_cone(
    (
        1.366 * sqrt(sin(2 * (s.opening_angle - s.pi / 12)))
        - 0.170
        - _narrow * sqrt((s.opening_angle - s.pi / 9) / (2 * s.pi / 9))
    )
    * _lost
    + _wall,
    (s.opening_angle, s.beta, s.f_cone),
    "a cone of 20° to 60° between its walls",
    SLENDER,
    WIDE,
)
wide_widening = _widening_cone(
    (1.205 - _narrow - least(12.8 * s.beta**6, 0.2) * sqrt((s.opening_angle - s.pi / 3) / (2 * s.pi / 3)))
    * _lost,
    (s.opening_angle, s.beta),
    "a cone of 60° or more between its walls",
    WIDE,
    s.pi.value,
)
cone_jet = Formula(
    "contraction of the jet",
    s.jet,
    (s.opening_angle, s.beta),
    1 + 0.622 * (s.opening_angle / s.pi) ** 0.8 * (1 - 0.215 * s.beta**2 - 0.785 * s.beta**5),
    RENNELS,
)
narrowing_cone = Formula(
    HIGH,
    s.k_inf,
    (s.opening_angle, s.beta, s.jet, s.f_cone),
    0.0696 * _half * (1 - s.beta**5) * s.jet**2 + (s.jet - 1) ** 2 + _wall,
    RENNELS,
)
even = Formula(
    HIGH,
    s.k_inf,
    (s.f_cone, s.L, s.D),
    s.f_cone * s.L / s.D,
    "wall friction of a reducer whose ends are alike: as a cone's that hardly narrows (Rennels)",
)
