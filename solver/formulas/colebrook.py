"""The friction factor of turbulent flow: Colebrook's, and Churchill's, which reaches down to laminar."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from solver.formulas import symbols as s
from solver.formulas.formula import (
    Bound,
    Floats,
    Formula,
    Implicit,
    Symbol,
    largest,
    least,
    log,
    log10,
    sqrt,
)
from solver.quantities.units import Kind

LAMINAR_END = 2000.0
"""Reynolds number up to which flow is taken as laminar."""

TURBULENT_START = 4000.0
"""Reynolds number from which flow is taken as fully turbulent."""


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
    ratio = np.asanyarray(roughness, dtype=float) / D
    factor, _ = colebrook_steps(np.asanyarray(Re, dtype=float), ratio)
    return factor if factor.ndim else float(factor)


colebrook = Implicit(
    "turbulent friction factor",
    s.f_t,
    (s.Re, s.roughness, s.D),
    1 / sqrt(s.f_t),
    -2 * log10(s.roughness / (3.7 * s.D) + 2.51 / (s.Re * sqrt(s.f_t))),
    _colebrook,
    "Colebrook (1939), solved after Clamond (2009)",
    "Re from 4000, and ε/D up to 0.05",
    (
        Bound(s.Re, low=TURBULENT_START),
        Bound(s.relative_roughness, high=0.05, of=s.roughness / s.D),
    ),
)


colebrook_in_doubt = replace(
    colebrook,
    valid="Re from 4000; from 3000 as the unfavourable side, and from 2000 on the way there; ε/D up to 0.05",
    bounds=(Bound(s.Re, low=LAMINAR_END), *colebrook.bounds[1:]),
    caution="The flow is transitional: it may be laminar or turbulent, and the friction is uncertain.",
)


OF_CHURCHILL = 0.995
"""Share of Churchill's friction factor that is taken at least between laminar and turbulent flow, Re 2000 to
4000: his equation is 0.1 % above the laminar law at its end, so that there is no step."""

COLEBROOK_ALONE = 5000.0
"""Reynolds number from which Churchill's friction factor counts no more."""

CHURCHILL_FADES = 0.035
"""By how much his share falls until there; his equation is nowhere more than 3.2 % above Colebrook's, so that
there is no step."""

_rough = (7 / s.Re) ** 0.9 + 0.27 * s.roughness / s.D
churchill = Formula(
    "friction factor by Churchill",
    s.f_churchill,
    (s.Re, s.roughness, s.D),
    8 * ((8 / s.Re) ** 12 + 1 / ((2.457 * log(1 / _rough)) ** 16 + (37530 / s.Re) ** 16) ** 1.5) ** (1 / 12),
    "Churchill (1977), Chem. Eng. 7 November, 91",
    "all Re",
)


def churchill_steps(Re: Floats, relative_roughness: Floats) -> tuple[Floats, Floats]:
    """Churchill's friction factor, and its logarithmic slope d ln f/d ln Re, for arrays, Re from 2000.

    Source: as `churchill`, its powers by squaring; the slope follows by differentiating the equation itself.
    """
    smooth = np.exp(0.9 * (1.945910149055313 - np.log(Re)))  # (7/Re)^0.9
    rough = smooth + 0.27 * relative_roughness
    of_log = -np.log(rough)
    inverse = 1.0 / Re
    a, b, laminar = 2.457 * of_log, 37530.0 * inverse, 8.0 * inverse
    for _ in range(4):
        a, b = a * a, b * b
    laminar = laminar * laminar * laminar
    laminar = laminar * laminar
    laminar = laminar * laminar
    both = a + b
    fast = 1.0 / (both * np.sqrt(both))
    whole = laminar + fast
    rise = 0.9 * smooth / (rough * of_log) * a - b  # of a + b, over 16
    return 8.0 * whole ** (1.0 / 12.0), -(laminar + 2.0 * fast * rise / both) / whole


f_between = Symbol("f_m", Kind.NUMBER, "friction factor between the laminar and the turbulent law")
c_churchill = Symbol(
    "c_Ch", Kind.NUMBER, "share of Churchill's factor that is taken at least", printed="c_Ch"
)
x_churchill = Symbol("x_Ch", Kind.NUMBER, "how far Churchill's factor has given way", printed="x_Ch")
_GIVES_WAY = "whole where flow may be laminar or turbulent; from Re 4000 over to Colebrook's, ours: no source"
churchill_gone = Formula(
    "position between Churchill and Colebrook",
    x_churchill,
    (s.Re,),
    least(largest((s.Re - TURBULENT_START) / (COLEBROOK_ALONE - TURBULENT_START), 0), 1),
    _GIVES_WAY,
    "Re 2000 to 5000",
)
churchill_share = Formula(
    "share of Churchill's factor",
    c_churchill,
    (x_churchill,),
    OF_CHURCHILL - CHURCHILL_FADES * x_churchill**2 * (3 - 2 * x_churchill),
    _GIVES_WAY,
)
friction_between = Formula(
    "friction factor",
    s.f,
    (f_between, c_churchill, s.f_churchill),
    largest(f_between, c_churchill * s.f_churchill),
    "the larger of the two where flow may be laminar or turbulent: the unfavourable side",
)
friction_least = friction_between.with_symbols({f_between: s.f_t}, "friction factor")


def of_fitting(result: Symbol, reynolds: Symbol, wall: Symbol) -> Implicit:
    """Colebrook's equation for the friction factor from which a fitting's coefficient follows."""
    return Implicit(
        result.meaning,
        result,
        (reynolds, wall, s.D),
        1 / sqrt(result),
        -2 * log10(wall / (3.7 * s.D) + 2.51 / (reynolds * sqrt(result))),
        _colebrook,
        "Colebrook (1939), solved after Clamond (2009)",
    )
