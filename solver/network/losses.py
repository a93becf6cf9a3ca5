"""Element table and flow -> drops: the one expression that a single layout, a network and a sweep share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from solver.formulas import flow as formulas
from solver.network import devices
from solver.network.coefficients import (
    FITTINGS,
    Bend,
    FittingError,
    K,
    bend_k,
    bore_change_k,
    connector_k,
    entrance_k,
    fitting_k,
    in_slow_flow,
    reducer_k,
    tee_k,
)
from solver.network.screens import (
    ScreenLoss,
    flow_coefficient,
    from_points,
    screen,
    slow_flow_coefficient,
    wire_cloth,
)
from solver.quantities import columns as figures

__all__ = [
    "FITTINGS",
    "Bend",
    "Drops",
    "FittingError",
    "K",
    "ScreenLoss",
    "bend_k",
    "bore_change_k",
    "connector_k",
    "drop",
    "entrance_k",
    "fitting_k",
    "flow_coefficient",
    "friction",
    "from_points",
    "in_slow_flow",
    "kinetic_factor",
    "reducer_k",
    "screen",
    "slow_flow_coefficient",
    "tee_k",
    "turbulence",
    "wire_cloth",
]

Floats = NDArray[np.float64]

LEAST_FLOW = 1e-15
"""Below it a loss is proportional to flow [m³/s]: keeps Re and every slope finite at rest."""

NOT_ASKED: Floats = np.array(np.nan)
LAMINAR_SLOPE: Floats = np.array(-1.0)

Ints = NDArray[np.intp]
Alike = tuple[Ints, Ints]
"""One row of each kind, and the kind of every row."""


@dataclass(frozen=True, slots=True)
class Drops:
    """What the flow does in each row; every array has the shape of the flow.

    `velocity` and `loss` have the sign of the flow, the others none. `slope` is d loss/d flow [Pa·s/m³]. At
    rest `friction_factor` and `k` are huge but finite; a row without length has friction factor nan.
    """

    velocity: Floats  # [m/s]
    reynolds: Floats
    friction_factor: Floats  # Darcy
    k: Floats  # k_inf + k_re/Re
    loss: Floats  # [Pa]
    slope: Floats  # [Pa·s/m³]; nan where not asked for
    velocity_head: Floats  # α ρ v²/2 [Pa]; nan where not asked for
    bypassed: NDArray[np.bool_]  # a bypass is open


def drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
    *,
    slopes: bool = True,
    heads: bool = False,
) -> Drops:
    """The loss of every row at its flow.

    columns: bore, length, roughness, k_inf, k_re, viscous, inertial, those of `devices` and, where they
    differ, k_slow (in the place of k_inf in laminar flow; nan: k_inf) and k_inf_back, k_re_back, k_slow_back
    (nan: the same both ways), each (rows,) or (rows, variants).
    flow: [m³/s], (rows,) or (rows, variants), negative from a row's end to its start.
    density [kg/m³], kinematic viscosity [m²/s]: numbers, or (variants,).
    slopes, heads: work out those too.
    Returns arrays of the shape of the flow; once anything has variants (rows, variants), or (rows, 1) where
    they do not matter.
    Source: Darcy-Weisbach with 64/Re, Colebrook (1939) and a smooth blend between Re 2000 and 4000; k as its
    row states. Continuous everywhere, in value and in slope, but for the slope where a bypass opens.
    """
    variants = _variants(columns, flow, density, viscosity)
    if not variants:
        return _drop(columns, flow, density, viscosity, None, slopes, heads)
    columns = {name: c[:, None] if c.ndim == 1 else c for name, c in columns.items()}
    flow = flow[:, None] if flow.ndim == 1 else flow
    density, viscosity = figures.as_array(density), figures.as_array(viscosity)
    alike = _alike((columns["bore"], columns["roughness"], flow))
    return _drop(columns, flow, density, viscosity, alike, slopes, heads)


def _variants(
    columns: Mapping[str, Floats], flow: Floats, density: float | Floats, viscosity: float | Floats
) -> int:
    """The number of variants; 0 for plain figures."""
    tables = [array.shape[1] for array in (flow, *columns.values()) if array.ndim == 2]
    return max([*tables, *(len(x) for x in (density, viscosity) if isinstance(x, np.ndarray))], default=0)


def _alike(tables: Sequence[Floats]) -> Alike | None:
    """The rows that hold the same figures in all of some tables (rows, variants), by kind.

    In a line of one bore every row is alike in its flow, and what hangs on that need be found only once.
    None where there is little to gain.
    """
    found: dict[tuple[float, ...], int] = {}
    rows = zip(*(t[:, 0].tolist() for t in tables), strict=True)
    kind = np.array([found.setdefault(row, len(found)) for row in rows])
    one = np.zeros(len(found), dtype=np.intp)
    one[kind] = np.arange(len(kind))
    if 2 * len(one) > len(kind):
        return None
    same = all(t.shape[1] == 1 or np.array_equal(t, t[one[kind]]) for t in tables)
    return (one, kind) if same else None


class _Motion(NamedTuple):
    """What hangs on a row's flow, bore and wall alone."""

    v: Floats
    Re: Floats
    q: Floats
    f: Floats
    m: Floats  # d ln f/d ln Re
    head: Floats  # α q


def _motion(
    bore: Floats, wall: Floats, Q: Floats, density: float | Floats, viscosity: float | Floats, heads: bool
) -> _Motion:
    v = formulas.velocity.array(Q, bore)
    Re = formulas.reynolds.array(v, bore, viscosity)
    q = formulas.velocity_pressure.array(density, v)
    head = formulas.velocity_head.array(kinetic_factor(Re), q) if heads else NOT_ASKED
    return _Motion(v, Re, q, *friction(Re, wall / bore), head)


def _moving(
    tables: tuple[Floats, Floats, Floats],
    density: float | Floats,
    viscosity: float | Floats,
    alike: Alike | None,
    heads: bool,
) -> _Motion:
    """The same for every row, found once for those that are alike."""
    if alike is None:
        return _motion(*tables, density, viscosity, heads)
    one, kind = alike
    bore, wall, Q = (table[one] for table in tables)
    found = _motion(bore, wall, Q, density, viscosity, heads)
    return _Motion(*(x[kind] if x.ndim else x for x in found))


def _drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
    alike: Alike | None,
    slopes: bool,
    heads: bool,
) -> Drops:
    bore, length = columns["bore"], columns["length"]
    Q = np.maximum(np.abs(flow), LEAST_FLOW)
    motion = _moving((bore, columns["roughness"], Q), density, viscosity, alike, heads)
    v, Re, q, f = motion.v, motion.Re, motion.q, motion.f
    mu = formulas.dynamic_viscosity.array(viscosity, density)
    k, k_slope = _coefficient(columns, flow, Re)
    viscous, inertial = columns["viscous"], columns["inertial"]
    known = devices.known_drop(columns, Q, density, mu)
    loss = formulas.element_loss.array(f, length, bore, k, q, viscous, mu, Q, inertial, density, known.loss)
    slope = NOT_ASKED
    if slopes:
        # d(f q)/dQ = (2 + m) f q/Q with m = d ln f/d ln Re; (2 k + dk/d ln Re) q/Q.
        slope = ((2.0 + motion.m) * f * length / bore + 2.0 * k + k_slope) * q / Q
        slope += viscous * mu + 2.0 * inertial * density * Q + known.slope
    loss, slope, bypassed = devices.past_bypass(columns, loss, slope, Q, mu)
    if flow.min(initial=LEAST_FLOW) < LEAST_FLOW:
        # At rest the loss is proportional to the flow.
        sign = np.maximum(np.minimum(flow * (1.0 / LEAST_FLOW), 1.0), -1.0)
        v, loss = v * sign, loss * sign
    return Drops(v, Re, np.where(length > 0, f, np.nan), k, loss, slope, motion.head, bypassed)


def _coefficient(columns: Mapping[str, Floats], flow: Floats, Re: Floats) -> tuple[Floats, Floats]:
    """K of each row and d K/d ln Re."""
    k_inf, k_re = (_of_way(columns, name, flow) for name in ("k_inf", "k_re"))
    k = formulas.fitting_coefficient.array(k_inf, k_re, Re)
    slope = -k_re / Re
    if "k_slow" not in columns:
        return k, slope
    k_slow = _of_way(columns, "k_slow", flow)
    other = ~np.isnan(k_slow)
    if not other.any():
        return k, slope
    x = formulas.transition.array(Re)
    between = formulas.widening_between.array(formulas.turbulence.array(x), k_slow, k_inf, k_re, Re)
    # dw/d ln Re = 6 x (1 − x) Re/2000
    rise = 6.0 * x * (1.0 - x) * Re * (1.0 / (formulas.TURBULENT_START - formulas.LAMINAR_END))
    return np.where(other, between, k), np.where(other, slope + rise * (k_inf - k_slow), slope)


def _of_way(columns: Mapping[str, Floats], name: str, flow: Floats) -> Floats:
    """A coefficient of the way the fluid really goes."""
    forward, back = columns[name], columns.get(f"{name}_back")
    if back is None or not (flow < 0).any():
        return forward
    return np.where((flow < 0) & ~np.isnan(back), back, forward)


def friction(reynolds: Floats, relative_roughness: Floats) -> tuple[Floats, Floats]:
    """Darcy friction factor, and its logarithmic slope d ln f/d ln Re.

    reynolds: above 0. relative_roughness: ε/D, broadcast with it.
    Source: 64/Re up to Re 2000; Colebrook (1939) to 1e-12 from Re 4000; between them a smooth blend of the
    logarithms, uncertain there.
    """
    top = reynolds.max(initial=0.0)
    if top <= formulas.LAMINAR_END:
        return formulas.laminar_friction.array(reynolds), LAMINAR_SLOPE
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
