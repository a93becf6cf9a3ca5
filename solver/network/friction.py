"""The friction of a wall at every Reynolds number."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solver.formulas import flow as formulas
from solver.formulas.record import UNRECORDED, Calculator

Floats = NDArray[np.float64]

LAMINAR_SLOPE: Floats = np.array(-1.0)


def friction(
    reynolds: Floats, roughness: Floats, bore: Floats | float = 1.0, calc: Calculator = UNRECORDED
) -> tuple[Floats, Floats]:
    """Darcy friction factor, and its logarithmic slope d ln f/d ln Re.

    reynolds: above 0. roughness, bore: [m], broadcast with it; the roughness alone is the relative one, ε/D.
    Source: 64/Re up to Re 2000; Colebrook (1939) to 1e-12 from Re 3000, where flow may be turbulent, which is
    the unfavourable side to Re 4000; between them a smooth blend of the logarithms. Nowhere between laminar
    and turbulent flow more than 0.5 % below Churchill (1977), whose share falls away from Re 4000 to 5000.
    """
    if reynolds.max(initial=0.0) <= formulas.LAMINAR_END:
        return calc.array(formulas.laminar_friction, reynolds), LAMINAR_SLOPE
    fast, ratio = np.maximum(reynolds, formulas.LAMINAR_END), roughness / bore
    turbulent, slope = formulas.colebrook_steps(fast, ratio)
    if reynolds.min() >= formulas.COLEBROOK_ALONE:
        calc.keep(formulas.colebrook, (fast, roughness, bore), turbulent)
        return turbulent, slope
    own = turbulent
    if reynolds.min() < formulas.TURBULENT_FRICTION:
        own, slope = _blended(reynolds, turbulent, slope)
    churchill, its_slope = formulas.churchill_steps(fast, ratio)
    gone = formulas.churchill_gone.array(reynolds)
    share = formulas.churchill_share.array(gone)
    least = share * churchill
    more = (least > own) & (reynolds > formulas.LAMINAR_END)
    f: Floats = np.where(more, least, own)
    if calc.records:
        _record(calc, (reynolds, roughness, bore), turbulent, own, bool(more.any()))
    return f, np.where(more, its_slope + _fading(reynolds, gone, share), slope)


def _fading(reynolds: Floats, gone: Floats, share: Floats) -> Floats:
    """The logarithmic slope of Churchill's share, by how far it has given way."""
    width = formulas.COLEBROOK_ALONE - formulas.TURBULENT_START
    # dc/d ln Re = −0.035 · 6 x (1 − x) Re/1000
    return gone * (1.0 - gone) * reynolds / share * (-6.0 * formulas.CHURCHILL_FADES / width)


def _blended(reynolds: Floats, turbulent: Floats, slope: Floats) -> tuple[Floats, Floats]:
    """The friction between the laminar and the turbulent law, and its slope; `slope`: of the turbulent."""
    x = formulas.friction_transition.array(reynolds)
    w = formulas.friction_turbulence.array(x)
    blended = formulas.friction.array(reynolds, w, turbulent)
    # dw/d ln Re = 6 x (1 − x) Re/1000, and ln(f_t Re/64) is the whole step between the two laws.
    rise = 6.0 * x * (1.0 - x) * reynolds * (1.0 / (formulas.TURBULENT_FRICTION - formulas.LAMINAR_END))
    m = w * (slope + 1.0) - 1.0 + rise * np.log(turbulent * reynolds * (1.0 / 64.0))
    return blended, m


def _record(
    calc: Calculator,
    wall: tuple[Floats, Floats, Floats | float],
    turbulent: Floats,
    own: Floats,
    by_churchill: bool,
) -> None:
    """Keep the steps. wall: Re, roughness, bore; own: before Churchill's is looked at."""
    reynolds = wall[0]
    fast = np.maximum(reynolds, formulas.LAMINAR_END), *wall[1:]
    in_doubt = reynolds.min() < formulas.TURBULENT_START
    calc.keep(formulas.colebrook_in_doubt if in_doubt else formulas.colebrook, fast, turbulent)
    blends = reynolds.min() < formulas.TURBULENT_FRICTION
    if blends:
        w = calc.array(formulas.friction_turbulence, calc.array(formulas.friction_transition, reynolds))
        symbol = formulas.f_between if by_churchill else None
        calc.keep(formulas.friction, (reynolds, w, turbulent), own, symbol=symbol)
    if by_churchill:
        share = calc.array(formulas.churchill_share, calc.array(formulas.churchill_gone, reynolds))
        last = formulas.friction_between if blends else formulas.friction_least
        calc.array(last, own, share, calc.array(formulas.churchill, *fast))
