"""The formulas of fittings, bends, changes of bore and tees, each once."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from solver.formulas import colebrook
from solver.formulas import symbols as s
from solver.formulas.formula import Bound, Constant, Formula, Node, Symbol, largest, least, log10, sin, sqrt
from solver.quantities.units import Kind

HIGH = "loss coefficient at high Reynolds number"
SLOW = "loss coefficient in slow flow"

# Tables

darby = Formula(
    HIGH,
    s.k_inf,
    (s.K_i, s.K_d, s.D_n),
    s.K_i * (1 + s.K_d / s.D_n**0.3),
    "Darby, R. (2001), Chem. Eng. April, 127; constants as of the 3-K method",
    fixed_units=True,
)
hooper = Formula(
    HIGH,
    s.k_inf,
    (s.K_h, s.D_in),
    s.K_h * (1 + 1 / s.D_in),
    "Hooper, W. B. (1981), Chem. Eng. 24 August, 96",
    fixed_units=True,
)


@cache
def darby_row(degrees: int | None) -> tuple[Formula, Symbol]:
    """Darby's formula for k_inf, and the symbol of k_re.

    degrees: of a row that a bend at another angle is proportioned by, where they have symbols of their own.
    """
    if degrees is None:
        return darby, s.k_re
    at = f"row for {degrees}°"
    own = {
        symbol: Symbol(
            f"{symbol.symbol}_{degrees}",
            symbol.kind,
            f"{symbol.meaning}, {at}",
            printed=f"{symbol.printed or symbol.symbol},{degrees}",
        )
        for symbol in (s.k_inf, s.k_re, s.K_i, s.K_d)
    }
    return darby.with_symbols(own, f"{HIGH}, {at}"), own[s.k_re]


# An elbow or mitre at the angle of no row

_PROPORTION = "in proportion to Darby's rows for 45° and 90°, ours: no source"


class Elbow(NamedTuple):
    """A coefficient by the angle: up to 45°, from there to 90°, and from 90°."""

    below: Formula
    between: Formula
    beyond: Formula


@cache
def elbow(result: Symbol) -> Elbow:
    """The formulas for k_inf or k_re of an elbow; result: its symbol."""
    turn = s.theta / (s.pi / 2)
    name = f"{result.meaning}, by its angle"
    half, full = (darby_row(at)[0].result if result is s.k_inf else darby_row(at)[1] for at in (45, 90))
    return Elbow(
        Formula(name, result, (half, s.theta), half * 2 * turn, _PROPORTION),
        Formula(name, result, (half, full, s.theta), half + (2 * turn - 1) * (full - half), _PROPORTION),
        Formula(name, result, (full, s.theta), full * turn, _PROPORTION),
    )


# Smooth bends

bend_friction = colebrook.of_fitting(s.f_b, s.Re_bend, s.roughness)
RENNELS = "Rennels and Hudson (2012), at Re 100 000"
_half = sin(s.theta / 2)

smooth_bend = Formula(
    HIGH,
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
    SLOW,
    s.k_re,
    (s.radius, s.D, s.theta),
    largest(800 / (s.pi / 2), 64 * s.radius / s.D) * s.theta,
    "800 for a right angle (Darby, Hooper); never less than the laminar friction of the arc",
)

# Crane's foot valve, and a connector by practice

CRANE = "Crane TP-410"
crane_friction = Formula(
    "friction factor of Crane's fittings",
    s.f_crane,
    (s.D,),
    0.25 / log10(s.roughness_crane / (3.7 * s.D)) ** 2,
    f"{CRANE} (2009), fully turbulent flow in clean commercial steel, of 0.0018 in",
)
_FOOT = f"{CRANE}, foot valve with its strainer"
foot_valve = Formula(HIGH, s.k_inf, (s.f_crane,), 75 * s.f_crane, f"{_FOOT}, hinged disc")
poppet_foot_valve = Formula(HIGH, s.k_inf, (s.f_crane,), 420 * s.f_crane, f"{_FOOT}, poppet disc")

_PRACTICE = "common practice, no source: the maker's figure replaces it"
bores_long = Symbol("n_D", Kind.NUMBER, "length over bore")
connector = Formula(
    HIGH, s.k_inf, (bores_long,), 3 * 0.02 * bores_long, f"three times the friction of pipe; {_PRACTICE}"
)
connector_slow = Formula(SLOW, s.k_re, (bores_long,), 64 * bores_long, f"that of pipe; {_PRACTICE}")

# Tees of one bore at right angles, referred to the whole flow

TEE = "Crane TP-410 (2009), tee at right angles, referred to the whole flow"
_FULL = "legs of one bore"
_SPLIT = (Bound(s.y, 0, 1),)


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
_met = 2 - 3 * s.y * (1 - s.y)
_ENDS = (
    "Idelchik, Handbook of Hydraulic Resistance, diagram 7-29, symmetrical tee, referred to the whole flow; "
    "unverified"
)
tee_ends_meet = tuple(
    Formula(f"ends of the run that meet, {part}", s.K_c, (s.y,), factor * _met, _ENDS, _FULL, _SPLIT)
    for part, factor in (("up to 40 %", 0.9 * (1 - s.y)), ("from 40 %", 0.55))
)
leg_share = Formula("share of this leg", s.own_share, (s.Q_leg, s.Q_whole), s.Q_leg / s.Q_whole, "definition")
branch_share = Formula("share of the branch", s.y, (s.own_share,), s.own_share, "the branch is this leg")
end_share = Formula(
    "share of this end", s.y, (s.own_share,), s.own_share, "each end of the run is a branch of the other two"
)
rest_share = Formula("share of the branch", s.y, (s.own_share,), 1 - s.own_share, "the rest of the flow")
y_1 = Symbol("y_1", Kind.NUMBER, "the hundredth below y")
y_2 = Symbol("y_2", Kind.NUMBER, "the hundredth above y")
K_1 = Symbol("K_c1", Kind.NUMBER, "coefficient at the hundredth below", printed="K_c,1")
K_2 = Symbol("K_c2", Kind.NUMBER, "coefficient at the hundredth above", printed="K_c,2")
tee_between = Formula(
    "coefficient of the tee",
    s.K_c,
    (K_1, K_2, y_1, y_2, s.y),
    K_1 + (K_2 - K_1) * (s.y - y_1) / (y_2 - y_1),
    "linear between hundredths, ours: the published curves have a step that a split could rest on",
)
tee_own = Formula(
    HIGH, s.k_inf, (s.K_c, s.own_share), s.K_c / s.own_share**2, "the same loss by this leg's own velocity"
)

# A tee of which the least leg joins and is about to turn

K_a = Symbol("K_ca", Kind.NUMBER, "coefficient as the least leg flows", printed="K_c,a")
K_b = Symbol("K_cb", Kind.NUMBER, "coefficient as if the least leg flowed the other way", printed="K_c,b")
slow_a = Symbol("k_re_a", Kind.NUMBER, "the same in slow flow, times Reynolds number", printed="K_1,a")
slow_b = Symbol("k_re_b", Kind.NUMBER, "the same the other way, times Reynolds number", printed="K_1,b")
least_share = Symbol("s_m", Kind.NUMBER, "flow of the least leg over the whole flow")
Q_least = Symbol("Q_m", Kind.FLOW, "flow of the least leg")
least_leg = Formula(
    "share of the least leg", least_share, (Q_least, s.Q_whole), Q_least / s.Q_whole, "definition"
)
tee_against = Formula(
    "coefficient of the tee",
    s.K_c,
    (K_1, K_2, y_1, y_2, s.y),
    -(K_1 + (K_2 - K_1) * (s.y - y_1) / (y_2 - y_1)),
    "as between hundredths; published for flow the other way along this leg, so that a loss is a gain",
)
turned = Symbol("x_t", Kind.NUMBER, "flow of the least leg over that below which it is about to turn")
weight = Symbol("w_t", Kind.NUMBER, "weight of the way that the least leg flows")
_TURNING = "ours, so that nothing jumps where a leg turns, by the figures there that take more: no source"
turned_share = Formula(
    "how near the least leg is to rest", turned, (least_share,), least(least_share / 0.03, 1), _TURNING
)
turning_weight = Formula(
    "weight of the way it flows", weight, (turned,), turned**2 * (3 - 2 * turned), _TURNING
)
turning_k = Formula(
    "coefficient of the tee", s.K_c, (weight, K_a, K_b), weight * K_a + (1 - weight) * K_b, _TURNING
)
turning_slow = Formula(
    SLOW, s.k_re, (weight, slow_a, slow_b), weight * slow_a + (1 - weight) * slow_b, _TURNING
)

# A valve's flow coefficient in slow flow

_IEC = "IEC 60534-2-1, its factor for low Reynolds numbers in laminar flow"
F_L = Constant("F_L", None, "pressure recovery factor of a common valve", value=0.9)
F_d = Constant("F_d", None, "style modifier of a common valve", value=0.46)
N_2 = Constant("N_2", None, "constant of IEC 60534, Kv with mm", value=0.0016)
N_4 = Constant("N_4", None, "constant of IEC 60534, Kv with m³/h", value=0.0707)
N_32 = Constant("N_32", None, "constant of IEC 60534, Kv with mm", value=140.0)
valve_bore = Symbol("D_mm", None, "bore of the valve", "mm")
valve_constant = Symbol("n_v", Kind.NUMBER, "constant of the valve's size")
_trim = s.K_v / valve_bore**2

valve_size = Formula(
    "constant of the valve's size",
    valve_constant,
    (s.K_v, valve_bore),
    least(N_2 / least(_trim, 0.04) ** 2, 1 + N_32 * _trim ** (2 / 3)),
    _IEC,
    fixed_units=True,
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
    fixed_units=True,
)
