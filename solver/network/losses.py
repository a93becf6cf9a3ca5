"""Element table and flow -> drops: the one expression that a single layout, a network and a sweep share."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from solver.formulas import bores, symbols
from solver.formulas import flow as formulas
from solver.formulas.record import UNRECORDED, Calculator, Recorder
from solver.network import devices
from solver.network.friction import friction
from solver.quantities import columns as figures

Floats = NDArray[np.float64]

LEAST_FLOW = 1e-15
"""Below it a loss is proportional to flow [m³/s]: keeps Re and every slope finite at rest."""

SAMPLES = 8
"""Variants, at least, by which rows are taken for alike before all of them are compared."""

NOT_ASKED: Floats = np.array(np.nan)

Once = Callable[[Hashable, Callable[[], Any]], Any]
"""What gives again what was worked out for a key, as `Joins.once`."""

Ints = NDArray[np.intp]
Alike = tuple[Ints, Ints]
"""One row of each kind, and the kind of every row."""


@dataclass(frozen=True, slots=True)
class Drops:
    """What the flow does in each row; every array has the shape of the flow.

    `velocity` and `loss` have the sign of the flow, the others none. `slope` is d loss/d flow [Pa·s/m³]. At
    rest `friction_factor` and `k` are huge but finite.
    """

    velocity: Floats  # [m/s]
    reynolds: Floats
    wall_friction: Floats  # Darcy friction factor of a wall, in rows without length of any
    length: Floats  # [m]
    k: Floats  # k_inf + k_re/Re
    loss: Floats  # [Pa]
    slope: Floats  # [Pa·s/m³]; nan where not asked for
    velocity_head: Floats  # α ρ v²/2 [Pa]; nan where not asked for
    bypassed: NDArray[np.bool_]  # a bypass is open

    @property
    def friction_factor(self) -> Floats:
        """Darcy friction factor; nan in a row without length."""
        return np.where(self.length > 0, self.wall_friction, np.nan)


def drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
    *,
    slopes: bool = True,
    heads: bool = False,
    once: Once | None = None,
) -> Drops:
    """The loss of every row at its flow.

    columns: bore, length, roughness, k_inf, k_re, viscous, inertial, those of `devices` and, where they
    differ, k_slow (in the place of k_inf in laminar flow; nan: k_inf) with slow_end (Reynolds number up to
    which it holds; 0: 2000), those of k and this with _back (nan: the same both ways), denser and thicker
    (than the fluid given, as factors), each (rows,) or (rows, variants).
    flow: [m³/s], (rows,) or (rows, variants), negative from a row's end to its start.
    density [kg/m³], kinematic viscosity [m²/s]: numbers, or (variants,).
    slopes, heads: work out those too. once: where the motion in rows of these bores may be known already.
    Returns arrays of the shape of the flow; once anything has variants (rows, variants), or (rows, 1) where
    they do not matter.
    Source: Darcy-Weisbach with the factor of `friction`; k as its row states. Continuous everywhere, in
    value and in slope, but for the slope where a bypass opens, where a narrowing leaves laminar flow and
    its loss rises again, and where another law of friction is the larger.
    """
    variants = _variants(columns, flow, density, viscosity)
    if not variants:
        return _drop(columns, flow, density, viscosity, None, slopes, heads, once=once)
    columns = {name: c[:, None] if c.ndim == 1 else c for name, c in columns.items()}
    flow = flow[:, None] if flow.ndim == 1 else flow
    density, viscosity = figures.as_array(density), figures.as_array(viscosity)
    alike = None
    if "denser" not in columns:
        columns["roughness"] = _walls(columns["length"], columns["roughness"])
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
    places: dict[bytes, int] = {}
    samples = np.concatenate([t[:, :: max(t.shape[1] // SAMPLES, 1)] for t in tables], axis=1)
    kind = np.array([places.setdefault(row.tobytes(), len(places)) for row in samples])
    one = np.zeros(len(places), dtype=np.intp)
    one[kind] = np.arange(len(kind))
    if 2 * len(one) > len(kind):
        return None
    same = all(t.shape[1] == 1 or t.strides[0] == 0 or np.array_equal(t, t[one[kind]]) for t in tables)
    return (one, kind) if same else None


def _walls(length: Floats, roughness: Floats) -> Floats:
    """Roughness of every row, where those with a length are all alike; on the others it has no bearing."""
    long = length.any(axis=1)
    first = int(long.argmax())
    if not (roughness[long] == roughness[first]).all():
        return roughness
    return np.broadcast_to(roughness[first], roughness.shape)


def _of_kind(values: Floats, alike: Alike | None) -> Floats:
    """Figures of one row of each kind for all rows."""
    if alike is None or not values.ndim:
        return values
    kind = alike[1]
    return np.broadcast_to(values, (len(kind), values.shape[1])) if len(values) == 1 else values[kind]


class _Motion(NamedTuple):
    """What hangs on a row's flow, bore and wall alone."""

    v: Floats
    Re: Floats
    q: Floats
    f: Floats
    m: Floats  # d ln f/d ln Re
    head: Floats  # α q


def _motion(
    bore: Floats,
    wall: Floats,
    Q: Floats,
    density: float | Floats,
    viscosity: float | Floats,
    heads: bool,
    calc: Calculator = UNRECORDED,
    walls: Calculator = UNRECORDED,
) -> _Motion:
    """walls: the calculator of the friction factor."""
    v = calc.array(formulas.velocity, Q, bore)
    Re = calc.array(formulas.reynolds, v, bore, viscosity)
    q = calc.array(formulas.velocity_pressure, density, v)
    head = velocity_head(Re, q, calc) if heads else NOT_ASKED
    return _Motion(v, Re, q, *friction(Re, wall, bore, walls), head)


def _moving(
    tables: tuple[Floats, Floats, Floats],
    density: float | Floats,
    viscosity: float | Floats,
    alike: Alike | None,
    heads: bool,
    calc: Calculator,
    length: Floats,
    once: Once | None,
) -> _Motion:
    """The motion in every row, computed once for those that are alike."""
    if alike is None:
        if once is not None and not calc.records and isinstance(density, float):
            key = ("motion", *[table.tobytes() for table in tables], density, viscosity, heads)
            known: _Motion = once(key, lambda: _motion(*tables, density, viscosity, heads))
            return known
        return _motion(*tables, density, viscosity, heads, calc, calc.only(length.any))
    bore, wall, Q = (table[alike[0]] for table in tables)
    motion = _motion(bore, wall, Q, density, viscosity, heads)
    return _Motion(*(_of_kind(x, alike) for x in motion))


def _drop(
    columns: Mapping[str, Floats],
    flow: Floats,
    density: float | Floats,
    viscosity: float | Floats,
    alike: Alike | None,
    slopes: bool,
    heads: bool,
    calc: Calculator = UNRECORDED,
    once: Once | None = None,
) -> Drops:
    bore, length = columns["bore"], columns["length"]
    if "denser" in columns:  # than the fluid of the line, in some rows: see `line_fluid`
        density, viscosity = density * columns["denser"], viscosity * columns["thicker"]
    own_flow = flow if alike is None else flow[alike[0]]
    Q = _of_kind(np.maximum(np.abs(own_flow), LEAST_FLOW), alike)
    tables = bore, columns["roughness"], Q
    motion = _moving(tables, density, viscosity, alike, heads, calc, length, once)
    v, Re, q, f = motion.v, motion.Re, motion.q, motion.f
    viscous, inertial = columns["viscous"], columns["inertial"]
    k, k_slope = _coefficient(columns, flow, own_flow, Re, slopes, calc)
    thick = calc.only(lambda: viscous.any() or columns["read_drop"].any())
    mu = thick.array(formulas.dynamic_viscosity, viscosity, density)
    known = devices.known_drop(columns, Q, density, mu, calc)
    terms = (f, length, bore, k, q, viscous, mu, Q, inertial, density, known.loss)
    loss = _element_loss(terms)
    slope = NOT_ASKED
    if slopes:
        # d(f q)/dQ = (2 + m) f q/Q with m = d ln f/d ln Re; (2 k + dk/d ln Re) q/Q.
        slope = ((2.0 + motion.m) * f * length / bore + 2.0 * k + k_slope) * q / Q
        slope += viscous * mu + 2.0 * inertial * density * Q + known.slope
    if calc.records:
        _record_loss(calc, terms, loss, bool((loss > columns["cap"]).any()))
    loss, slope, bypassed = devices.past_bypass(columns, loss, slope, Q, mu, calc)
    if own_flow.min(initial=LEAST_FLOW) < LEAST_FLOW:
        # At rest the loss is proportional to the flow.
        sign = np.maximum(np.minimum(flow * (1.0 / LEAST_FLOW), 1.0), -1.0)
        v, loss = v * sign, loss * sign
    return Drops(v, Re, f, length, k, loss, slope, motion.head, bypassed)


def _element_loss(terms: tuple[Floats | float, ...]) -> Floats:
    """The loss of every row; of many variants, in a row that is no device, without what a device adds."""
    *wall, viscous, _, _, inertial, _, known = terms
    if not isinstance(viscous, np.ndarray) or not isinstance(inertial, np.ndarray) or viscous.ndim == 1:
        return formulas.element_loss.array(*terms)
    loss = formulas.element_loss.array(*wall, 0.0, 0.0, 0.0, 0.0, 0.0, known)
    rows = np.flatnonzero(viscous.any(axis=1) | inertial.any(axis=1))
    if rows.size:
        of_rows = [x[rows] if isinstance(x, np.ndarray) and x.ndim == 2 else x for x in terms]
        device_loss = formulas.element_loss.array(*of_rows)
        if device_loss.shape[1] > loss.shape[1]:
            loss = np.repeat(loss, device_loss.shape[1], axis=1)
        loss[rows] = device_loss
    return loss


def _record_loss(calc: Calculator, terms: tuple[Floats | float, ...], loss: Floats, bypassed: bool) -> None:
    if bypassed:
        own = symbols.dp_element
        calc.keep(formulas.element_loss, terms, loss, name="loss of the element itself", symbol=own)
    else:
        calc.keep(formulas.element_loss, terms, loss)


def _coefficient(
    columns: Mapping[str, Floats], flow: Floats, own_flow: Floats, Re: Floats, slopes: bool, calc: Calculator
) -> tuple[Floats, Floats]:
    """K of each row and, where it is asked for, d K/d ln Re. own_flow: of one row of each kind."""
    back = bool((own_flow < 0).any())
    k_inf, k_re = (_of_way(columns, name, flow, back) for name in ("k_inf", "k_re"))
    k_slow = _of_way(columns, "k_slow", flow, back) if "k_slow" in columns else k_inf
    own = calc.only(lambda: (k_inf.any() or k_re.any()) and not _differs(k_slow, k_inf))
    k = own.array(formulas.fitting_coefficient, k_inf, k_re, Re)
    slope = -k_re / Re if slopes else NOT_ASKED
    other = ~np.isnan(k_slow)
    if k_slow is k_inf or not other.any():
        return k, slope
    rows = np.flatnonzero(other if other.ndim == 1 else other.any(axis=1))
    shape = k.shape if k.shape == other.shape else np.broadcast_shapes(k.shape, other.shape)
    end = _of_way(columns, "slow_end", flow, back) if "slow_end" in columns else np.zeros(1)
    k_slow, k_inf, k_re, Re, other, end = (
        _widened(x, shape)[rows] for x in (k_slow, k_inf, k_re, Re, other, end)
    )
    narrows = end > 0.0
    one = calc.only(lambda: _differs(k_slow, k_inf) and not narrows.any())
    two = calc.only(lambda: _differs(k_slow, k_inf) and narrows.any())
    wider = one.array(bores.widening_between, turbulence(Re, one), k_slow, k_inf, k_re, Re)
    between = np.where(narrows, two.array(bores.narrowing_between, k_inf, k_slow, end, Re, k_re), wider)
    own_k = np.array(_widened(k, shape))
    own_k[rows] = np.where(other, between, own_k[rows])
    if not slopes:
        return own_k, NOT_ASKED
    x = formulas.transition.array(Re)
    # dw/d ln Re = 6 x (1 − x) Re/2000
    rise = 6.0 * x * (1.0 - x) * Re * (1.0 / (formulas.TURBULENT_START - formulas.LAMINAR_END))
    held = k_slow * (end / Re) ** 2
    turned = np.where(narrows, -2.0 * held * ((end < Re) & (held > k_inf)), rise * (k_inf - k_slow))
    own_slope = np.array(_widened(slope, shape))
    own_slope[rows] = np.where(other, own_slope[rows] + turned, own_slope[rows])
    return own_k, own_slope


def _widened(values: Floats, shape: tuple[int, ...]) -> Floats:
    """Figures in a larger shape; themselves where they have it, which takes no time."""
    return values if values.shape == shape else np.broadcast_to(values, shape)


def _differs(k_slow: Floats, k_inf: Floats) -> bool:
    """Whether laminar flow has a coefficient of its own anywhere."""
    return bool((~np.isnan(k_slow) & (k_slow != k_inf)).any())


def _of_way(columns: Mapping[str, Floats], name: str, flow: Floats, any_back: bool) -> Floats:
    """A coefficient of the way the fluid really goes. any_back: whether it goes against any row."""
    forward, back = columns[name], columns.get(f"{name}_back")
    if back is None or not any_back:
        return forward
    return np.where((flow < 0) & ~np.isnan(back), back, forward)


@overload
def turbulence(reynolds: float, calc: Calculator = UNRECORDED) -> float: ...
@overload
def turbulence(reynolds: Floats, calc: Calculator = UNRECORDED) -> Floats: ...
def turbulence(reynolds: float | Floats, calc: Calculator = UNRECORDED) -> float | Floats:
    """Share of turbulence: 0 up to Re 2000, 1 from 4000, the weight of the blend between."""
    if calc.records:
        return _recorded_turbulence(float(np.asarray(reynolds).reshape(-1)[0]), calc)
    if isinstance(reynolds, np.ndarray):
        if reynolds.max(initial=0.0) <= formulas.LAMINAR_END:
            return np.zeros(reynolds.shape)
        if reynolds.min(initial=math.inf) >= formulas.TURBULENT_START:
            return np.ones(reynolds.shape)
        return formulas.turbulence.array(formulas.transition.array(reynolds))
    return formulas.turbulence.scalar(formulas.transition.scalar(reynolds))


def _recorded_turbulence(reynolds: float, calc: Calculator) -> float:
    if reynolds <= formulas.LAMINAR_END:
        return calc.given(symbols.w, turbulence(reynolds), "laminar: Re up to 2000")
    if reynolds >= formulas.TURBULENT_START:
        return calc.given(symbols.w, turbulence(reynolds), "turbulent: Re 4000 or more")
    return calc.work(formulas.turbulence, calc.work(formulas.transition, reynolds))


@overload
def kinetic_factor(reynolds: float, calc: Calculator = UNRECORDED) -> float: ...
@overload
def kinetic_factor(reynolds: Floats, calc: Calculator = UNRECORDED) -> Floats: ...
def kinetic_factor(reynolds: float | Floats, calc: Calculator = UNRECORDED) -> float | Floats:
    """Kinetic energy of the real velocity profile over that of the mean velocity.

    Source: 2 for laminar pipe flow, exact, which already holds the developed profile; 1.05 for turbulent,
    from the power law; between Re 2000 and 4000 blended.
    """
    w = turbulence(reynolds, calc)
    if isinstance(w, np.ndarray):
        return calc.array(formulas.kinetic_factor, w)
    return calc.work(formulas.kinetic_factor, w)


@overload
def velocity_head(reynolds: float, q: float, calc: Calculator = UNRECORDED) -> float: ...
@overload
def velocity_head(reynolds: Floats, q: Floats, calc: Calculator = UNRECORDED) -> Floats: ...
def velocity_head(
    reynolds: float | Floats, q: float | Floats, calc: Calculator = UNRECORDED
) -> float | Floats:
    """α ρ v²/2 [Pa] at a Reynolds number and a velocity pressure q = ρ v²/2 [Pa]."""
    alpha: Any = kinetic_factor(reynolds, calc)
    if isinstance(q, np.ndarray):
        return calc.array(formulas.velocity_head, alpha, q)
    return calc.work(formulas.velocity_head, alpha, q)


def explain(
    columns: Mapping[str, Floats],
    row: int,
    flow: Floats,
    density: float,
    viscosity: float,
    recorder: Recorder,
) -> None:
    """Compute the loss of one row once more and record its steps. Other parameters as `drop`."""
    one = slice(row, row + 1)
    alone = {name: column[one] for name, column in columns.items()}
    _drop(alone, flow[one], density, viscosity, None, slopes=False, heads=False, calc=recorder)
