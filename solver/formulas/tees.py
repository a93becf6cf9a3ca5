"""What becomes of a tee's published coefficient where the flow that splits there is laminar."""

from __future__ import annotations

from solver.formulas import flow
from solver.formulas import symbols as s
from solver.formulas.formula import Formula, Symbol, largest
from solver.quantities.units import Kind

_BACK = "no static pressure comes back in laminar flow, as where a line widens (Hooper 1988); for tees ours"
K_published = Symbol("K_ct", Kind.NUMBER, "coefficient of the tee in turbulent flow", printed="K_c,t")
K_least = Symbol("K_c0", Kind.NUMBER, "coefficient that gives nothing back", printed="K_c,0")
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
tee_nothing_back = Formula(
    "coefficient that gives nothing back", K_least, (s.own_share,), 2 * (1 - s.own_share**2), _BACK
)
_w = _OF_WHOLE[s.w]
_slow = _w * K_published + (1 - _w) * largest(K_published, K_least)
tee_slow = Formula("coefficient of the tee", s.K_c, (_w, K_published, K_least), _slow, _BACK)
tee_slow_against = Formula(
    "coefficient of the tee",
    s.K_c,
    (_w, K_published, K_least),
    -_slow,
    f"{_BACK}; for flow the other way along this leg, so that a loss is a gain",
)
