"""The coefficients of tees, which hang on how the flow splits there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from solver.fittings import LEAST_SHARE, tee_k
from solver.network import Floats, Network

Ints = NDArray[np.intp]

STEPS = 100
"""The share of the branch is taken in steps of 1/100 and interpolated between: the published curves have
a step, and a split that lies on it would never come to rest."""


@dataclass(frozen=True, slots=True)
class TeeTable:
    """All tees of a network, one line each, three legs across."""

    rows: Ints  # -1 where a leg has no row
    inward: Floats  # +1 where the row points into the tee, -1 where out of it
    branch: NDArray[np.bool_]

    @property
    def present(self) -> NDArray[np.bool_]:
        """Which legs have a row."""
        return self.rows >= 0


def table(network: Network) -> TeeTable:
    """The tees of a network."""
    legs = [leg for tee in network.tees.values() for leg in tee]
    rows = np.array([-1 if leg.row is None else leg.row for leg in legs], dtype=np.intp)
    inward = np.array([1.0 if leg.inward else -1.0 for leg in legs])
    branch = np.array([leg.element == "branch" for leg in legs], dtype=np.bool_)
    return TeeTable(rows.reshape(-1, 3), inward.reshape(-1, 3), branch.reshape(-1, 3))


def coefficients(tees: TeeTable, flows: Floats) -> tuple[Floats, Floats]:
    """k_inf and k_re of every leg at a split, each (tees, 3), referred to the leg's own flow.

    flows: of each row of the network [m³/s].
    The leg that carries the whole flow has none. Where the least of three legs nearly rests, the figures
    for flow either way along it are blended, so that nothing jumps when it turns.
    """
    into = np.where(tees.present, flows[tees.rows], 0.0) * tees.inward
    into = np.where(tees.present, into, -into.sum(axis=1, keepdims=True))
    size = np.abs(into)
    least, other, whole = np.argsort(size, axis=1).T
    k_inf, k_re = _with_whole(tees, into, size, whole)
    lines = np.arange(len(whole))
    share = size[lines, least] / np.maximum(size[lines, whole], 1e-300)
    turning = (share < LEAST_SHARE) & tees.present.all(axis=1)
    if turning.any():
        other_inf, other_re = _with_whole(tees, into, size, np.where(turning, other, whole))
        weight = np.where(turning, 0.5 + 0.5 * share / LEAST_SHARE, 1.0)[:, None]
        k_inf = weight * k_inf + (1 - weight) * other_inf
        k_re = weight * k_re + (1 - weight) * other_re
    return k_inf, k_re


def _with_whole(tees: TeeTable, into: Floats, size: Floats, whole: Ints) -> tuple[Floats, Floats]:
    """Coefficients where the leg `whole` of each tee carries all of its flow."""
    lines = np.arange(len(whole))
    diverging = (into[lines, whole] > 0)[:, None]
    share = np.minimum(size / np.maximum(size[lines, whole], 1e-300)[:, None], 1.0)
    turns = tees.branch | tees.branch[lines, whole][:, None]
    at = np.where(turns, share, 1.0 - share) * STEPS
    low = np.minimum(at.astype(np.intp), STEPS - 1)
    kind, way = turns.astype(np.intp), diverging.astype(np.intp)
    below, above = _curves()[kind, way, low], _curves()[kind, way, low + 1]
    k_inf = (below + (at - low) * (above - below)) / np.maximum(share, LEAST_SHARE) ** 2
    k_re = np.where(turns, _laminar("branch"), _laminar("run"))
    k_inf[lines, whole] = 0.0
    k_re[lines, whole] = 0.0
    return k_inf, k_re


@cache
def _curves() -> Floats:
    """Referred to the combined flow, over the share of the branch: [run, branch][joins, splits][share]."""
    curves = np.empty((2, 2, STEPS + 1))
    for i, leg in enumerate(("run", "branch")):
        for diverging in (False, True):
            for step in range(STEPS + 1):
                share = step / STEPS
                own = max(share if leg == "branch" else 1.0 - share, LEAST_SHARE)
                k = tee_k(leg, diverging=diverging, branch_share=share, d_run=1.0, d_branch=1.0)
                curves[i, int(diverging), step] = k.k_inf * own**2
    return curves


@cache
def _laminar(leg: str) -> float:
    return tee_k(leg, diverging=True, branch_share=0.5, d_run=1.0, d_branch=1.0).k_re


@cache
def _source() -> str:
    return tee_k("run", diverging=True, branch_share=0.5, d_run=1.0, d_branch=1.0).source


def with_split(network: Network, flows: Floats) -> Network:
    """The network with the coefficients its tees have at these flows [m³/s]."""
    if not network.tees:
        return network
    tees = table(network)
    k_inf, k_re = coefficients(tees, flows)
    rows = list(network.rows)
    present = tees.present
    for number, inf, re in zip(tees.rows[present], k_inf[present], k_re[present], strict=True):
        rows[number] = replace(rows[number], k_inf=float(inf), k_re=float(re), source=_source())
    held = dict(network.columns)
    put(held, tees, k_inf, k_re)
    return replace(network, rows=tuple(rows), columns=held)


def put(held: dict[str, Floats], tees: TeeTable, k_inf: Floats, k_re: Floats) -> None:
    """Put the coefficients of tees into a network's columns; the arrays are new, the old ones untouched."""
    present = tees.present
    at = tees.rows[present]
    for name, values in (("k_inf", k_inf), ("k_re", k_re), ("k_inf_back", k_inf)):
        held[name] = held[name].copy()
        held[name][at] = values[present]
