"""Element table and flow -> drops: the one expression that a single layout, a network and a sweep share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import overload

import numpy as np
from numpy.typing import NDArray

from solver import formulas
from solver.fittings import (
    FITTINGS,
    Bend,
    FittingError,
    K,
    bend_k,
    bore_change_k,
    entrance_k,
    fitting_k,
    tee_k,
)
from solver.screens import ScreenLoss, flow_coefficient, known_drop, screen, wire_cloth

__all__ = [
    "FITTINGS",
    "Bend",
    "Drops",
    "FittingError",
    "K",
    "ScreenLoss",
    "bend_k",
    "bore_change_k",
    "drop",
    "entrance_k",
    "fitting_k",
    "flow_coefficient",
    "friction",
    "kinetic_factor",
    "known_drop",
    "screen",
    "tee_k",
    "turbulence",
    "wire_cloth",
]

Floats = NDArray[np.float64]

LEAST_FLOW = 1e-15
"""Below it a loss is proportional to flow [m³/s]: keeps Re and every slope finite at rest."""

FULL_FIXED = 1e-3
"""Velocity from which a fixed loss is charged in full [m/s]; in proportion below, so that it has no step."""


BLOCK = 2**16
"""Of a table of rows and variants so many cells are worked on at once: what stays in a processor's cache."""


@dataclass(frozen=True, slots=True)
class Drops:
    """What the flow does in each row; every array has the shape of the flow.

    `velocity` and `loss` have the sign of the flow, the others none. `slope` is d loss/d flow [Pa·s/m³], 0
    where a bypass is open. At rest `friction_factor` and `k` are huge but finite; a row without length has
    friction factor nan.
    """

    velocity: Floats  # [m/s]
    reynolds: Floats
    friction_factor: Floats  # Darcy
    k: Floats  # k_inf + k_re/Re
    loss: Floats  # [Pa]
    slope: Floats  # [Pa·s/m³]
    bypassed: NDArray[np.bool_]  # the loss is held at the bypass's opening pressure


def drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
) -> Drops:
    """The loss of every row at its flow.

    columns: bore, length, roughness, k_inf, k_re, viscous, inertial, fixed, cap and, where it differs,
    k_inf_back (nan: the same both ways), each (rows,) or (rows, variants).
    flow: [m³/s], (rows,) or (rows, variants), negative from a row's end to its start.
    density [kg/m³], kinematic viscosity [m²/s]: numbers, or (variants,).
    Returns arrays of the shape of the flow, or (rows, variants) once anything has variants.
    Source: Darcy-Weisbach with 64/Re, Colebrook (1939) and a smooth blend between Re 2000 and 4000; k as its
    row states. Continuous everywhere, in value and in slope, but for the slope where a bypass opens.
    """
    variants = _variants(columns, flow, density, viscosity)
    if variants:
        columns = {name: c[:, None] if c.ndim == 1 else c for name, c in columns.items()}
        flow = flow[:, None] if flow.ndim == 1 else flow
    count = max(BLOCK // max(variants, 1), 1)
    if not variants or count >= len(flow):
        return _drop(columns, flow, density, viscosity)
    blocks = [slice(begin, begin + count) for begin in range(0, len(flow), count)]
    return _stitched(
        [_drop({name: c[b] for name, c in columns.items()}, flow[b], density, viscosity) for b in blocks]
    )


def _variants(
    columns: Mapping[str, Floats], flow: Floats, density: float | Floats, viscosity: float | Floats
) -> int:
    """The number of variants; 0 for plain figures."""
    tables = [array.shape[1] for array in (flow, *columns.values()) if array.ndim == 2]
    return max([*tables, *(len(x) for x in (density, viscosity) if isinstance(x, np.ndarray))], default=0)


def _stitched(parts: list[Drops]) -> Drops:
    return Drops(*(np.concatenate([getattr(part, f.name) for part in parts]) for f in fields(Drops)))


def _drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
) -> Drops:
    bore, length, k_re = columns["bore"], columns["length"], columns["k_re"]
    Q = np.maximum(np.abs(flow), LEAST_FLOW)
    v = formulas.velocity.array(Q, bore)
    Re = formulas.reynolds.array(v, bore, viscosity)
    q = formulas.velocity_pressure.array(density, v)
    mu = formulas.dynamic_viscosity.array(viscosity, density)
    f, m = friction(Re, columns["roughness"] / bore)
    k = formulas.fitting_coefficient.array(_k_inf(columns, flow), k_re, Re)
    viscous, inertial = columns["viscous"], columns["inertial"]
    started = np.minimum(v * (1.0 / FULL_FIXED), 1.0)
    fixed = columns["fixed"] * started
    loss = formulas.element_loss.array(f, length, bore, k, q, viscous, mu, Q, inertial, density, fixed)
    # d(f q)/dQ = (2 + m) f q/Q with m = d ln f/d ln Re; the same with k, whose k_re/Re goes with the flow.
    slope = ((2.0 + m) * f * length / bore + 2.0 * k - k_re / Re) * q / Q
    slope += viscous * mu + 2.0 * inertial * density * Q
    if columns["fixed"].any():
        slope += np.where(started < 1.0, fixed / Q, 0.0)
    return _signed(columns, flow, Q, v, Re, f, k, loss, slope)


def _k_inf(columns: Mapping[str, Floats], flow: Floats) -> Floats:
    """k_inf of the way the fluid really goes."""
    forward, back = columns["k_inf"], columns.get("k_inf_back")
    if back is None or not (flow < 0).any():
        return forward
    return np.where((flow < 0) & ~np.isnan(back), back, forward)


def _signed(
    columns: Mapping[str, Floats],
    flow: Floats,
    Q: Floats,
    v: Floats,
    Re: Floats,
    f: Floats,
    k: Floats,
    loss: Floats,
    slope: Floats,
) -> Drops:
    """The bypass's cap, and the sign of the flow; at rest the loss is proportional to it."""
    cap = columns["cap"]
    bypassed = loss > cap
    if bypassed.any():
        loss = np.minimum(loss, cap)
        slope = np.where(bypassed, 0.0, slope)
    sign = flow / Q
    f = np.where(columns["length"] > 0, f, np.nan)
    return Drops(v * sign, Re, f, k, loss * sign, slope, bypassed)


def friction(reynolds: Floats, relative_roughness: Floats) -> tuple[Floats, Floats | float]:
    """Darcy friction factor, and its logarithmic slope d ln f/d ln Re.

    reynolds: above 0. relative_roughness: ε/D, broadcast with it.
    Source: 64/Re up to Re 2000; Colebrook (1939) to 1e-12 from Re 4000; between them a smooth blend of the
    logarithms, uncertain there.
    """
    top = reynolds.max(initial=0.0)
    if top <= formulas.LAMINAR_END:
        return formulas.laminar_friction.array(reynolds), -1.0
    turbulent, slope = formulas.colebrook_steps(
        np.maximum(reynolds, formulas.LAMINAR_END), relative_roughness
    )
    if reynolds.min() >= formulas.TURBULENT_START:
        return turbulent, slope
    x = formulas.transition.array(reynolds)
    w = formulas.turbulence.array(x)
    blended = formulas.friction.array(reynolds, w, turbulent)
    # dw/d ln Re = 6 x (1 − x) Re/2000, and ln(f_t Re/64) is the whole step between the two laws.
    rise = 6.0 * x * (1.0 - x) * reynolds * (1.0 / (formulas.TURBULENT_START - formulas.LAMINAR_END))
    m = w * (slope + 1.0) - 1.0 + rise * np.log(turbulent * reynolds * (1.0 / 64.0))
    return blended, m


@overload
def turbulence(reynolds: float) -> float: ...
@overload
def turbulence(reynolds: Floats) -> Floats: ...
def turbulence(reynolds: float | Floats) -> float | Floats:
    """Share of turbulence: 0 up to Re 2000, 1 from 4000, the weight of the blend between."""
    return formulas.turbulence(formulas.transition(reynolds))


@overload
def kinetic_factor(reynolds: float) -> float: ...
@overload
def kinetic_factor(reynolds: Floats) -> Floats: ...
def kinetic_factor(reynolds: float | Floats) -> float | Floats:
    """Kinetic energy of the real velocity profile over that of the mean velocity.

    Source: 2 for laminar pipe flow, exact, which already holds the developed profile; 1.05 for turbulent,
    from the power law; blended as the friction is.
    """
    return formulas.kinetic_factor(turbulence(reynolds))
