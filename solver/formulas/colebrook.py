"""The friction factor of turbulent flow."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from solver.formulas import symbols as s
from solver.formulas.formula import Bound, Floats, Implicit, Symbol, log10, sqrt

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
