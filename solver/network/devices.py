"""What a device known by one drop takes at any flow and fluid, and what an open bypass leaves of a screen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from solver.formulas import screens as formulas
from solver.formulas import symbols
from solver.formulas.record import UNRECORDED, Calculator

Floats = NDArray[np.float64]

REST = 1e-9
"""Flow below which the fluid rests [m³/s]: a drop that is the same at any flow is none at no flow."""


class Loss(NamedTuple):
    """A loss [Pa] and its slope over the flow [Pa·s/m³], of every row."""

    loss: Floats
    slope: Floats


NOTHING = Loss(np.zeros(1), np.zeros(1))


def known_drop(
    columns: Mapping[str, Floats],
    Q: Floats,
    density: float | Floats,
    mu: float | Floats,
    calc: Calculator = UNRECORDED,
) -> Loss:
    """What devices take that are known by one drop; nothing in other rows.

    columns: read_drop [Pa], read_flow [m³/s] (nan: the same drop at any flow), read_mu [Pa·s] and
    read_density [kg/m³]. Q: size of the flow [m³/s]; density, dynamic viscosity: of the fluid that flows.
    """
    drop = columns["read_drop"]
    if not drop.any():
        return NOTHING
    flow = columns["read_flow"]
    at_any = np.isnan(flow)
    fluid = calc.array(formulas.known_drop_fluid, mu, density, columns["read_mu"], columns["read_density"])
    started = np.minimum(Q * (1.0 / REST), 1.0)
    at_one = calc.only(lambda: not at_any.any())
    share = np.where(at_any, started, at_one.array(formulas.known_drop_flow, Q, np.where(at_any, 1.0, flow)))
    power = np.where(at_any, started < 1.0, np.where(flow < Q, 2.0, 1.0))
    loss = at_one.array(formulas.known_drop, drop, fluid, share)
    calc.only(at_any.any).keep(formulas.known_drop_any, (drop, fluid), loss)
    return Loss(loss, power * loss / Q)


class WithBypass(NamedTuple):
    """What rows take with their bypasses, its slope, and where a bypass is open."""

    loss: Floats
    slope: Floats
    open: NDArray[np.bool_]


def past_bypass(
    columns: Mapping[str, Floats],
    alone: Floats,
    slope: Floats,
    Q: Floats,
    mu: float | Floats,
    calc: Calculator = UNRECORDED,
) -> WithBypass:
    """What is left of an element's own loss where its bypass is open.

    columns: cap, the opening pressure [Pa], and bypass_viscous [1/m³], nan where no point of the bypass is
    known. alone, slope: of the elements themselves.
    """
    cap = columns["cap"]
    if cap.ndim == 1:
        opens = bool((alone > cap).any())
    else:  # of many variants only the few rows that have a bypass
        limited = np.flatnonzero(np.isfinite(cap).any(axis=1))
        opens = bool(limited.size) and bool((alone[limited] > cap[limited]).any())
    if not opens:
        return WithBypass(alone, slope, np.zeros(alone.shape, dtype=np.bool_))
    open_bypass = alone > cap
    viscous = columns["bypass_viscous"]
    known = ~np.isnan(viscous)
    opening, own = np.where(open_bypass, cap, 0.0), np.where(open_bypass, alone, 1.0)
    if calc.records:
        calc.given(symbols.cap, float(opening[0]), "as typed")
    by_point = calc.only(known.any).array(formulas.bypass_whole, viscous, mu, Q)
    assumed = calc.only(lambda: not known.any()).array(formulas.bypass_assumed, opening, mu)
    whole = np.where(known, by_point, assumed)
    left = calc.array(formulas.past_bypass, own, opening, whole)
    both = own + whole
    rise = np.where(known, whole / Q, 0.0)
    steep = (whole * (whole + opening) * slope + (own - opening) * own * rise) / both**2
    return WithBypass(np.where(open_bypass, left, alone), np.where(open_bypass, steep, slope), open_bypass)
