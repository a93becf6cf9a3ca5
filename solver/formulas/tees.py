"""What a tee takes at least, and what becomes of its published coefficient in laminar flow."""

from __future__ import annotations

from solver.formulas import flow
from solver.formulas import symbols as s
from solver.formulas.formula import Formula, Symbol, largest, least
from solver.quantities.units import Kind

RUN, TURN = 20.0, 60.0
"""Crane's table: times his friction factor, for flow through the run and for flow that turns."""

_TABLE = "Crane TP-410, its table of fittings, standard tee, which knows no split: the published curves"
K_curve = Symbol("K_cp", Kind.NUMBER, "coefficient by the published curve", printed="K_c,p")
K_table = Symbol("K_cT", Kind.NUMBER, "coefficient by Crane's table", printed="K_c,T")
K_published = Symbol("K_ct", Kind.NUMBER, "coefficient of the tee in turbulent flow", printed="K_c,t")
run_at_least = Formula(
    "flow through the run of a tee",
    K_table,
    (s.f_crane, s.own_share),
    RUN * s.f_crane * s.own_share**2,
    f"{_TABLE} have nothing for all the flow past a dead leg",
)
turn_at_least = Formula(
    "flow that turns in a tee",
    K_table,
    (s.f_crane, s.own_share),
    TURN * s.f_crane * s.own_share**2,
    f"{_TABLE} have less for all the flow from a branch of a small bore",
)
tee_at_least = Formula(
    "coefficient of the tee", s.K_c, (K_curve, K_table), largest(K_curve, K_table), "the larger of the two"
)
tee_at_least_against = Formula(
    "coefficient of the tee",
    s.K_c,
    (K_curve, K_table),
    -largest(K_curve, K_table),
    "the larger of the two; for flow the other way along this leg, so that a loss is a gain",
)

_BACK = "no static pressure comes back in laminar flow, as where a line widens (Hooper 1988); for tees ours"
IDELCHIK = (
    "Idelchik, Handbook of Hydraulic Resistance (3rd edition), laminar flow in tees; unverified, equal to a "
    "public program's that quotes the pages"
)
K_back = Symbol("K_c0", Kind.NUMBER, "coefficient that gives nothing back", printed="K_c,0")
K_laminar = Symbol("K_cl", Kind.NUMBER, "coefficient of laminar flow, less Darby's term", printed="K_c,l")
K_least = Symbol("K_cm", Kind.NUMBER, "coefficient of laminar flow, at least", printed="K_c,m")
k_laminar = Symbol("k_l", Kind.NUMBER, "laminar over turbulent coefficient")
_OF_WHOLE = {
    s.Re: Symbol("Re_c", Kind.NUMBER, "Reynolds number of the whole flow"),
    s.x: Symbol("x_c", Kind.NUMBER, "position of the whole flow in the transition"),
    s.w: Symbol("w_c", Kind.NUMBER, "share of turbulence in the whole flow"),
}
whole_reynolds = Formula(
    "Reynolds number of the whole flow",
    _OF_WHOLE[s.Re],
    (s.Q_whole, s.D, s.nu),
    4 * s.Q_whole / (s.pi * s.D * s.nu),
    "definition",
)
whole_transition = flow.transition.with_symbols(_OF_WHOLE, "position of the whole flow in the transition")
whole_turbulence = flow.turbulence.with_symbols(_OF_WHOLE, "share of turbulence in the whole flow")
Re_whole = _OF_WHOLE[s.Re]
tee_nothing_back = Formula(
    "coefficient that gives nothing back", K_back, (s.own_share,), 2 * (1 - s.own_share**2), _BACK
)
laminar_factor = Formula(
    "factor of laminar flow",
    k_laminar,
    (s.own_share,),
    1 + least(0.9 + s.own_share, 1.8 - s.own_share / 2),
    IDELCHIK,
)
_VISCOUS = 150 / largest(Re_whole, 1000) - 800 * s.own_share / Re_whole
_AND_DARBY = (
    f"{IDELCHIK}; at lower Reynolds numbers Darby's 800/Re of the leg, which is charged besides and so taken "
    "off here, is the larger"
)
laminar_splits = Formula(
    "coefficient of laminar flow that splits",
    K_laminar,
    (k_laminar, Re_whole, s.own_share),
    k_laminar * (1 + s.own_share**2) + _VISCOUS,
    _AND_DARBY,
)
laminar_joins = Formula(
    "coefficient of laminar flow that joins",
    K_laminar,
    (K_published, Re_whole, s.own_share),
    2 * K_published + _VISCOUS,
    _AND_DARBY,
)
laminar_at_least = Formula(
    "coefficient of laminar flow, at least",
    K_least,
    (K_back, K_laminar),
    largest(K_back, K_laminar),
    "the larger of the two",
)
laminar_alone = Formula(
    "coefficient of laminar flow, at least", K_least, (K_laminar,), K_laminar, "of a branch that joins"
)
_w = _OF_WHOLE[s.w]
_slow = _w * K_published + (1 - _w) * largest(K_published, K_least)
_BLENDED = "the larger of the two in laminar flow, and the published one in turbulent, ours: no source"
tee_slow = Formula("coefficient of the tee", s.K_c, (_w, K_published, K_least), _slow, _BLENDED)
tee_slow_against = Formula(
    "coefficient of the tee",
    s.K_c,
    (_w, K_published, K_least),
    -_slow,
    f"{_BLENDED}; for flow the other way along this leg, so that a loss is a gain",
)
